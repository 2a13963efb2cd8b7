//! How far each wheel and each axle can go, for programs.

use crate::check::reach::{Limit, Reach};
use crate::console::field::{Among, LeftOut, Words};
use crate::console::quantity::{Degree, Length};
use crate::console::record::record;
use wheelpath_geometry::SteerInput;

record! {
    /// How far the links of a wheel reach.
    pub(crate) struct WheelReachRecord {
        /// The corner it is about; null for the whole car.
        wheel: &'static str,
        /// On a beam axle: the travel at which the other wheel is held; else null.
        other_wheel: Option<Length>,
        travel: Among<TravelLinksRecord>,
        rack: LeftOut<Among<RackLinksRecord>>,
        pitman: LeftOut<Among<PitmanLinksRecord>>,
    }
}

record! {
    /// How far an axle goes.
    pub(crate) struct AxleReachRecord {
        /// front or rear.
        axle: &'static str,
        travel: Among<TravelStopsRecord>,
        rack: LeftOut<Among<RackStopsRecord>>,
        pitman: LeftOut<Among<PitmanStopsRecord>>,
    }
}

/// Declares where a motion ends both ways, and what ends it.
macro_rules! both_ways {
    ($(#[doc = $about:literal])* $name:ident: $kind:ty,
     $(#[doc = $first_words:literal])* $first:ident, $(#[doc = $second_words:literal])* $second:ident,
     $(#[doc = $by_words:literal])* $first_by:ident, $second_by:ident) => {
        record! {
            $(#[doc = $about])*
            pub(crate) struct $name {
                $(#[doc = $first_words])*
                $first: Option<$kind>,
                $(#[doc = $by_words])*
                $first_by: Option<Words>,
                $(#[doc = $second_words])*
                $second: Option<$kind>,
                $(#[doc = $by_words])*
                $second_by: Option<Words>,
            }
        }

        impl $name {
            fn of([first, second]: [&Option<Limit>; 2], kind: fn(f64) -> $kind) -> Among<Self> {
                let at = |limit: &Option<Limit>| limit.as_ref().map(|limit| kind(limit.at));
                let by = |limit: &Option<Limit>| limit.as_ref().map(|limit| Words(limit.by.clone()));
                Among($name { $first: at(first), $first_by: by(first), $second: at(second), $second_by: by(second) })
            }
        }
    };
}

both_ways! {
    /// Travel of a wheel, and the links that end it.
    TravelLinksRecord: Length,
    /// Least travel at which the links close; null where none was met.
    droop,
    /// Greatest travel at which the links close; null where none was met.
    bump,
    /// The links that are the reason.
    droop_links, bump_links
}

both_ways! {
    /// Travel of a rack, and the links that end it.
    RackLinksRecord: Length,
    /// Rack travel to the right at which they still close; null where none was met.
    rack_right,
    /// Rack travel to the left at which they still close; null where none was met.
    rack_left,
    /// The links that are the reason.
    rack_right_links, rack_left_links
}

both_ways! {
    /// Turn of a pitman arm, and the links that end it.
    PitmanLinksRecord: Degree,
    /// The same for a pitman arm, its negative way.
    pitman_negative,
    /// The same for a pitman arm, its positive way.
    pitman_positive,
    /// The links that are the reason.
    pitman_negative_links, pitman_positive_links
}

both_ways! {
    /// Travel of an axle, and what ends it.
    TravelStopsRecord: Length,
    /// Least travel at which the links close; null where none was met.
    droop,
    /// Greatest travel at which the links close; null where none was met.
    bump,
    /// What ends it: links, a stop, or a joint.
    droop_ended_by, bump_ended_by
}

both_ways! {
    /// Travel of a rack, and what ends it.
    RackStopsRecord: Length,
    /// Rack travel to the right at which they still close; null where none was met.
    rack_right,
    /// Rack travel to the left at which they still close; null where none was met.
    rack_left,
    /// What ends it: links, a stop, or a joint.
    rack_right_ended_by, rack_left_ended_by
}

both_ways! {
    /// Turn of a pitman arm, and what ends it.
    PitmanStopsRecord: Degree,
    /// The same for a pitman arm, its negative way.
    pitman_negative,
    /// The same for a pitman arm, its positive way.
    pitman_positive,
    /// What ends it: links, a stop, or a joint.
    pitman_negative_ended_by, pitman_positive_ended_by
}

impl Reach {
    /// Of one wheel.
    pub fn wheel_record(&self) -> WheelReachRecord {
        let [droop, bump, negative, positive] = self.limits.each_ref();
        let steer = [negative, positive];
        let (rack, pitman) = match self.input {
            SteerInput::RackTravel => (Some(RackLinksRecord::of(steer, Length)), None),
            SteerInput::PitmanAngle => (None, Some(PitmanLinksRecord::of(steer, Degree))),
        };
        WheelReachRecord {
            wheel: self.key,
            other_wheel: self.on_beam.then_some(Length(0.0)),
            travel: TravelLinksRecord::of([droop, bump], Length),
            rack: LeftOut(rack),
            pitman: LeftOut(pitman),
        }
    }

    /// Of an axle.
    pub fn axle_record(&self) -> AxleReachRecord {
        let [droop, bump, negative, positive] = self.limits.each_ref();
        let steer = [negative, positive];
        let (rack, pitman) = match self.input {
            SteerInput::RackTravel => (Some(RackStopsRecord::of(steer, Length)), None),
            SteerInput::PitmanAngle => (None, Some(PitmanStopsRecord::of(steer, Degree))),
        };
        AxleReachRecord {
            axle: self.key,
            travel: TravelStopsRecord::of([droop, bump], Length),
            rack: LeftOut(rack),
            pitman: LeftOut(pitman),
        }
    }
}
