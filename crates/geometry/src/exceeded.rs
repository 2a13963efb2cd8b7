//! Stops of rack and dampers that a pose goes beyond: the links close, the parts would not let them.

use crate::car::{Axle, Car};
use crate::car_solver::SolvedCar;
use crate::side::{End, Side, WheelAt};
use std::fmt;

/// A stop that a pose goes beyond.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Exceeded {
    /// The rack is past its stop.
    Rack {
        /// Toward which side.
        side: Side,
        /// Travel to that stop, metres, positive.
        stop: f64,
        /// How far beyond it, metres.
        beyond: f64,
    },
    /// The damper is shorter than its shortest.
    DamperShort {
        /// Whose.
        wheel: WheelAt,
        /// The shortest length, metres.
        stop: f64,
        /// How far beyond it, metres.
        beyond: f64,
    },
    /// The damper is longer than its longest.
    DamperLong {
        /// Whose.
        wheel: WheelAt,
        /// The longest length, metres.
        stop: f64,
        /// How far beyond it, metres.
        beyond: f64,
    },
}

impl Exceeded {
    /// How far beyond the stop, metres.
    #[must_use]
    pub fn beyond(&self) -> f64 {
        match self {
            Exceeded::Rack { beyond, .. }
            | Exceeded::DamperShort { beyond, .. }
            | Exceeded::DamperLong { beyond, .. } => *beyond,
        }
    }

    /// Whether both are about the same stop.
    #[must_use]
    pub fn is_same_stop(&self, other: &Exceeded) -> bool {
        use Exceeded::{DamperLong, DamperShort, Rack};
        match (self, other) {
            (Rack { side: a, .. }, Rack { side: b, .. }) => a == b,
            (DamperShort { wheel: a, .. }, DamperShort { wheel: b, .. })
            | (DamperLong { wheel: a, .. }, DamperLong { wheel: b, .. }) => a == b,
            _ => false,
        }
    }
}

impl fmt::Display for Exceeded {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mm = |metres: &f64| metres * 1e3;
        match self {
            Exceeded::Rack { side, stop, beyond } => write!(
                f,
                "the rack stands {:.2} mm beyond its stop {:.2} mm to the {side}",
                mm(beyond),
                mm(stop)
            ),
            Exceeded::DamperShort { wheel, stop, beyond } => write!(
                f,
                "{wheel}: the damper is {:.2} mm shorter than fully compressed ({:.2} mm)",
                mm(beyond),
                mm(stop)
            ),
            Exceeded::DamperLong { wheel, stop, beyond } => write!(
                f,
                "{wheel}: the damper is {:.2} mm longer than fully extended ({:.2} mm)",
                mm(beyond),
                mm(stop)
            ),
        }
    }
}

/// All stops that the pose goes beyond, front axle first, rack before dampers.
#[must_use]
pub fn exceeded(car: &Car, solved: &SolvedCar) -> Vec<Exceeded> {
    let on = |end: End| {
        let motion = &solved.axle(end).motion;
        let dampers = [motion.left.damper, motion.right.damper].map(|damper| damper.map(|d| d.value));
        // A rear rack stays centred.
        let rack = if end == End::Front { solved.pose.rack } else { 0.0 };
        exceeded_on(car.axle(end), end, rack, dampers)
    };
    End::BOTH.into_iter().flat_map(on).collect()
}

/// The stops of one axle that a rack travel and the lengths of its dampers (left, right; metres) go
/// beyond.
#[must_use]
pub fn exceeded_on(axle: &Axle, end: End, rack: f64, dampers: [Option<f64>; 2]) -> Vec<Exceeded> {
    // Less than this is rounding, not a stop run into.
    let past = |beyond: f64| beyond > 1e-9;
    let mut found = Vec::new();
    if let Some(own) = axle.steering.rack() {
        for (side, stop) in [(Side::Left, own.stop_left), (Side::Right, own.stop_right)] {
            let beyond = side.sign() * rack - stop;
            if past(beyond) {
                found.push(Exceeded::Rack { side, stop, beyond });
            }
        }
    }
    for (side, length) in Side::BOTH.into_iter().zip(dampers) {
        let wheel = WheelAt { end, side };
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
