//! Stops of rack and dampers that a pose goes beyond: the links close, the parts would not let them.

use crate::axle::car_solver::SolvedCar;
use crate::car::hardpoint::Hardpoint;
use crate::car::position::{End, Side, WheelPosition};
use crate::car::steering::SteerInput;
use crate::car::{Axle, Car};
use crate::number::unit::LengthUnit;
use std::fmt;

/// A stop that a pose goes beyond.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Exceeded {
    /// The rack or pitman arm is past its stop.
    Steering {
        /// What the steering input counts.
        input: SteerInput,
        /// Toward which side; for a pitman arm, in which sense the steering wheel turns.
        side: Side,
        /// Travel (metres) or turn (radians) to that stop, positive.
        stop: f64,
        /// How far beyond it, metres or radians.
        beyond: f64,
    },
    /// The damper is shorter than its shortest.
    DamperShort {
        /// Whose it is.
        wheel: WheelPosition,
        /// The shortest length, metres.
        stop: f64,
        /// How far beyond it, metres.
        beyond: f64,
    },
    /// The damper is longer than its longest.
    DamperLong {
        /// Whose it is.
        wheel: WheelPosition,
        /// The longest length, metres.
        stop: f64,
        /// How far beyond it, metres.
        beyond: f64,
    },
    /// A joint swings further than it can.
    Joint {
        /// Whose it is.
        wheel: WheelPosition,
        /// The joint.
        joint: Hardpoint,
        /// The furthest swing, radians.
        limit: f64,
        /// How far beyond it, radians.
        beyond: f64,
    },
}

impl Exceeded {
    /// The part that has come to its end, in words.
    #[must_use]
    pub fn part(&self) -> String {
        match self {
            Exceeded::Steering { input: SteerInput::RackTravel, .. } => "the rack's stop".into(),
            Exceeded::Steering { .. } => "the pitman arm's stop".into(),
            Exceeded::DamperShort { wheel, .. } => format!("{wheel} damper, fully compressed"),
            Exceeded::DamperLong { wheel, .. } => format!("{wheel} damper, fully extended"),
            Exceeded::Joint { wheel, joint, .. } => format!("{wheel} joint: {joint}"),
        }
    }

    /// How far beyond the stop, metres; radians for a pitman arm.
    #[must_use]
    pub fn beyond(&self) -> f64 {
        match self {
            Exceeded::Steering { beyond, .. }
            | Exceeded::DamperShort { beyond, .. }
            | Exceeded::DamperLong { beyond, .. }
            | Exceeded::Joint { beyond, .. } => *beyond,
        }
    }

    /// Whether both are about the same stop.
    #[must_use]
    pub fn is_same_stop(&self, other: &Exceeded) -> bool {
        use Exceeded::{DamperLong, DamperShort, Steering};
        match (self, other) {
            (Steering { side: a, .. }, Steering { side: b, .. }) => a == b,
            (DamperShort { wheel: a, .. }, DamperShort { wheel: b, .. })
            | (DamperLong { wheel: a, .. }, DamperLong { wheel: b, .. }) => a == b,
            (Exceeded::Joint { wheel: a, joint: p, .. }, Exceeded::Joint { wheel: b, joint: q, .. }) => {
                a == b && p == q
            }
            _ => false,
        }
    }
}

impl Exceeded {
    /// The same in words, with lengths in this unit; `Display` has millimetres.
    #[must_use]
    pub fn in_words(&self, lengths: LengthUnit) -> String {
        let say = |metres: &f64| lengths.say(*metres, 2);
        match self {
            Exceeded::Steering { input: SteerInput::PitmanAngle, side, stop, beyond } => format!(
                "the pitman arm stands {:.2}° beyond its stop {:.2}° to the {side}",
                beyond.to_degrees(),
                stop.to_degrees()
            ),
            Exceeded::Steering { side, stop, beyond, .. } => {
                format!("the rack stands {} beyond its stop {} to the {side}", say(beyond), say(stop))
            }
            Exceeded::Joint { wheel, joint, limit, beyond } => format!(
                "{wheel}: the joint at {joint} swings {:.2}° beyond its limit of {:.2}°",
                beyond.to_degrees(),
                limit.to_degrees()
            ),
            Exceeded::DamperShort { wheel, stop, beyond } => format!(
                "{wheel}: the damper is {} shorter than fully compressed ({})",
                say(beyond),
                say(stop)
            ),
            Exceeded::DamperLong { wheel, stop, beyond } => {
                format!("{wheel}: the damper is {} longer than fully extended ({})", say(beyond), say(stop))
            }
        }
    }
}

impl fmt::Display for Exceeded {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.in_words(LengthUnit::Millimetre))
    }
}

/// All stops that the pose goes beyond, front axle first, rack before dampers.
#[must_use]
pub fn exceeded(car: &Car, solved: &SolvedCar) -> Vec<Exceeded> {
    let on = |end: End| {
        let motion = &solved.axle(end).motion;
        let dampers = [motion.left.damper, motion.right.damper].map(|damper| damper.map(|d| d.value));
        // Rear steering stays centred.
        let steer = if end == End::Front { solved.pose.steer } else { 0.0 };
        exceeded_on(car.axle(end), end, steer, dampers)
    };
    End::BOTH.into_iter().flat_map(on).collect()
}

/// The stops of one axle that a steering input and the lengths of its dampers (left, right; metres) go
/// beyond.
#[must_use]
pub fn exceeded_on(axle: &Axle, end: End, steer: f64, dampers: [Option<f64>; 2]) -> Vec<Exceeded> {
    // Less than this is rounding, not a stop run into.
    let past = |beyond: f64| beyond > 1e-9;
    let mut found = Vec::new();
    if axle.steering.steers() {
        let [negative, positive] = axle.steering.stops();
        let left_is_positive = axle.steering.shaft_at(1.0) >= 0.0 || axle.steering.rack().is_some();
        for (sign, stop) in [(1.0, positive), (-1.0, -negative)] {
            let beyond = sign * steer - stop;
            if past(beyond) {
                let side = if (sign > 0.0) == left_is_positive { Side::Left } else { Side::Right };
                found.push(Exceeded::Steering { input: axle.steering.input(), side, stop, beyond });
            }
        }
    }
    for (side, length) in Side::BOTH.into_iter().zip(dampers) {
        let wheel = WheelPosition { end, side };
        let (Some(stops), Some(length)) = (axle.corner(side).damper, length) else { continue };
        let (short, long) = (stops.shortest - length, length - stops.longest);
        if past(short) {
            found.push(Exceeded::DamperShort { wheel, stop: stops.shortest, beyond: short });
        }
        if past(long) {
            found.push(Exceeded::DamperLong { wheel, stop: stops.longest, beyond: long });
        }
    }
    found
}
