//! Why a pose of a list is not reached, and the stops that it goes beyond, for programs.

use crate::console::field::{LeftOut, Words};
use crate::console::quantity::{Degree, Length};
use crate::console::record::record;
use wheelpath_geometry::{Exceeded, LengthUnit, SteerInput, Stop, StopKind, WheelPosition};

/// The word of a kind of limit in data.
fn word_of(kind: StopKind) -> &'static str {
    match kind {
        StopKind::DeadPoint => "dead_point",
        StopKind::OutOfReach => "out_of_reach",
        StopKind::CannotAssemble => "cannot_assemble",
        StopKind::CannotAlign => "cannot_align",
        StopKind::NotFinite => "not_finite",
        StopKind::NoMechanism => "no_mechanism",
    }
}

record! {
    /// What stands at the end of a row.
    pub(crate) struct StopRecord {
        /// Why the pose cannot be reached: dead_point, out_of_reach; null where it is reached.
        stop: Option<&'static str>,
        /// The wheel whose linkage stops.
        stop_wheel: Option<&'static str>,
        /// Travel of the last pose on the way that closes.
        stop_travel: Option<Length>,
        /// Rack travel of the last pose on the way that closes.
        stop_rack: LeftOut<Option<Length>>,
        /// The pitman arm's turn of that pose, where there is one.
        stop_pitman: LeftOut<Option<Degree>>,
        /// The links that are the reason.
        stop_links: Option<Words>,
        /// Stops of steering, damper or joint that the pose goes beyond, in words.
        exceeds: Words,
    }
}

impl StopRecord {
    /// `input` is what steers the axle.
    pub fn of(stop: Option<&Stop>, exceeded: &[Exceeded], input: SteerInput, lengths: LengthUnit) -> Self {
        let steer = stop.map(|stop| stop.steer);
        let (stop_rack, stop_pitman) = match input {
            SteerInput::RackTravel => (Some(steer.map(Length)), None),
            SteerInput::PitmanAngle => (None, Some(steer.map(Degree))),
        };
        StopRecord {
            stop: stop.map(|stop| word_of(stop.kind)),
            stop_wheel: stop.and_then(|stop| stop.wheel).map(WheelPosition::key),
            stop_travel: stop.map(|stop| Length(stop.travel)),
            stop_rack: LeftOut(stop_rack),
            stop_pitman: LeftOut(stop_pitman),
            stop_links: stop.map(|stop| Words::of(&stop.links)),
            exceeds: Words(exceeded.iter().map(|one| one.in_words(lengths)).collect()),
        }
    }
}
