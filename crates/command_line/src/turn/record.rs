//! A slow turn for programs.

use crate::before_after::{BeforeAfter, CarNames, Paired};
use crate::console::field::{Among, ByWheel, Under, Words};
use crate::console::quantity::{Degree, Length, Metre};
use crate::console::record::{Output, record};
use crate::console::steer::SteerRecord;
use crate::turn::{Asked, Turns};
use wheelpath_geometry::{Car, CentreBy, End, HeldBy, Turn, TurningWheel, WheelPosition};

record! {
    /// The turns of a car, or of two.
    pub(crate) struct TurnOutput {
        names: Among<CarNames>,
        cars: BeforeAfter<TurnsRecord>,
    }
}

impl Output for TurnOutput {
    const NAME: &'static str = "turn";
    type Row = Paired<TurnRow>;
}

record! {
    /// The turns of a car.
    pub(crate) struct TurnsRecord {
        /// What is doubtful: stops of steering, damper or joint that the pose exceeds and dead points it is near, in words.
        warnings: Words,
        /// The turn asked for, or both full locks.
        turns: Vec<TurnRecord>,
    }
}

record! {
    /// One turn.
    pub(crate) struct TurnRecord {
        start: Among<StartRecord>,
        circles: Among<CirclesRecord>,
        /// Mean of both front wheels.
        rise_mean: Length,
        /// Left less right.
        rise_difference: Length,
        /// Readings of each wheel: front_left, front_right, rear_left, rear_right.
        wheels: Under<ByWheel<TurningWheelRecord>>,
    }
}

record! {
    /// A wheel of a turn, the turn's own numbers beside it.
    pub(crate) struct TurnRow {
        start: Among<StartRecord>,
        /// CSV: the wheel or axle of the row.
        place: &'static str,
        wheel: Among<TurningWheelRecord>,
        circles: Among<CirclesRecord>,
    }
}

record! {
    /// What was asked for, and to which side the car turns.
    pub(crate) struct StartRecord {
        /// input, or full_lock.
        at: &'static str,
        steer: Among<SteerRecord>,
        /// left or right; null where there is no turn centre.
        toward: Option<&'static str>,
    }
}

record! {
    /// The turn centre and the circles about it.
    pub(crate) struct CirclesRecord {
        /// The turn centre on the road, ahead of the foot of the body's origin.
        centre_x: Option<Metre>,
        /// The turn centre on the road, to the left of it.
        centre_y: Option<Metre>,
        /// On which line the centre is, at the mean curvature of what the front wheels ask for: rear_axle_line
        /// (square to the car), or rear_wheels_line (the mean axis of rear wheels that steer too).
        centre_by: Option<&'static str>,
        /// Why there is no turn centre; null where there is one.
        no_centre: Option<String>,
        /// Turn centre to the middle between the rear contacts.
        centre_radius: Option<Metre>,
        /// Diameter of the circle of the outermost front contact.
        kerb_circle: Option<Metre>,
        /// Diameter of the circle of the tyres' furthest point; the body's overhang comes on top.
        wall_circle_of_tyres: Option<Metre>,
    }
}

record! {
    /// A wheel in a slow turn.
    pub(crate) struct TurningWheelRecord {
        steer_to_road: Degree,
        /// From the path of the contact to the wheel's heading, + the wheel points to the left of where it goes.
        scrub: Option<Degree>,
        /// Turn centre to the wheel's contact.
        radius: Option<Metre>,
        /// Turn centre to the tyre's furthest point, a cylinder.
        tyre_reach: Option<Metre>,
        /// Rise of the body over the front wheel against straight ahead, + lifted; null at the rear.
        rise: Length,
        /// What was held for it: damper (its length) or wheel_centre.
        rise_holding: Option<&'static str>,
    }
}

impl TurnsRecord {
    pub fn of(car: &Car, turns: &Turns) -> Self {
        TurnsRecord {
            warnings: Words(turns.warnings.clone()),
            turns: turns.asked.iter().map(|asked| asked.record(car)).collect(),
        }
    }
}

impl Asked {
    fn start(&self, car: &Car) -> Among<StartRecord> {
        Among(StartRecord {
            at: if self.lock { "full_lock" } else { "input" },
            steer: Among(SteerRecord::of(car, End::Front, self.steer)),
            toward: self.turn.as_ref().ok().map(|turn| turn.toward.name()),
        })
    }

    fn circles(&self) -> Among<CirclesRecord> {
        let turn = self.turn.as_ref();
        let of = |value: fn(&Turn) -> f64| turn.ok().map(|turn| Metre(value(turn)));
        let word = |by: CentreBy| match by {
            CentreBy::RearAxleLine => "rear_axle_line",
            CentreBy::RearWheelsLine => "rear_wheels_line",
        };
        Among(CirclesRecord {
            centre_x: of(|turn| turn.centre.x),
            centre_y: of(|turn| turn.centre.y),
            centre_by: turn.ok().map(|turn| word(turn.by)),
            no_centre: turn.err().map(|none| none.reason().to_string()),
            centre_radius: of(|turn| turn.radius),
            kerb_circle: of(|turn| turn.kerb_circle),
            wall_circle_of_tyres: of(|turn| turn.wall_circle_of_tyres),
        })
    }

    fn wheel_record(&self, at: WheelPosition) -> TurningWheelRecord {
        let of = |value: fn(&TurningWheel) -> f64| self.wheel(at).map(value);
        let word = |held: HeldBy| match held {
            HeldBy::Damper => "damper",
            HeldBy::WheelCentre => "wheel_centre",
        };
        TurningWheelRecord {
            steer_to_road: Degree(self.steer_of(at)),
            scrub: of(|wheel| wheel.scrub).map(Degree),
            radius: of(|wheel| wheel.radius).map(Metre),
            tyre_reach: of(|wheel| wheel.reach).map(Metre),
            rise: Length(self.rise_of(at)),
            rise_holding: self.held_of(at).map(word),
        }
    }

    fn record(&self, car: &Car) -> TurnRecord {
        TurnRecord {
            start: self.start(car),
            circles: self.circles(),
            rise_mean: Length(self.rise.mean()),
            rise_difference: Length(self.rise.difference()),
            wheels: Under(ByWheel(WheelPosition::ALL.map(|at| self.wheel_record(at)))),
        }
    }

    /// A row a wheel, the turn's own numbers in each.
    pub(super) fn rows(&self, car: &Car) -> [TurnRow; 4] {
        WheelPosition::ALL.map(|at| TurnRow {
            start: self.start(car),
            place: at.key(),
            wheel: Among(self.wheel_record(at)),
            circles: self.circles(),
        })
    }
}
