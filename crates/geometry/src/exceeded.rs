//! Stops of rack and dampers that a pose goes beyond: the links close, the parts would not let them.

use crate::car::Car;
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

/// All stops that the pose goes beyond, rack first.
#[must_use]
pub fn exceeded(car: &Car, solved: &SolvedCar) -> Vec<Exceeded> {
    // Less than this is rounding, not a stop run into.
    let past = |beyond: f64| beyond > 1e-9;
    let mut found = Vec::new();
    if let Some(rack) = car.axle(End::Front).steering.rack() {
        for (side, stop) in [(Side::Left, rack.stop_left), (Side::Right, rack.stop_right)] {
            let beyond = side.sign() * solved.pose.rack - stop;
            if past(beyond) {
                found.push(Exceeded::Rack { side, stop, beyond });
            }
        }
    }
    for wheel in WheelAt::ALL {
        let (Some(stops), Some(damper)) = (car.corner(wheel).damper, solved.corner(wheel).motion.damper)
        else {
            continue;
        };
        let (short, long) = (stops.shortest - damper.value, damper.value - stops.longest);
        if past(short) {
            found.push(Exceeded::DamperShort { wheel, stop: stops.shortest, beyond: short });
        }
        if past(long) {
            found.push(Exceeded::DamperLong { wheel, stop: stops.longest, beyond: long });
        }
    }
    found
}
