//! What an engineer wants a reading to stay within, and over which poses.

use crate::readings::{Reading, Scope};
use crate::road::{Cornering, Gradients};
use crate::side::{End, Side, WheelAt};
use crate::sweep::Travelling;
use crate::unit::Unit;

/// A limit that a car is to keep.
#[derive(Clone, Debug, PartialEq)]
pub struct Limit {
    /// Its name.
    pub name: String,
    /// Where it comes from, and what for.
    pub about: Option<String>,
    /// What is limited.
    pub of: Limited,
    /// Not less than this: SI units, radians.
    pub least: Option<f64>,
    /// Not more than this: SI units, radians.
    pub most: Option<f64>,
}

/// What is limited.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Limited {
    /// A reading over some poses.
    Reading {
        /// Which.
        reading: &'static Reading,
        /// At which end.
        end: End,
        /// On which side; `None` for both wheels, and for a reading of the axle.
        side: Option<Side>,
        /// Its value, or how far it goes from its value in the design pose.
        taken: Taken,
        /// Where.
        over: Over,
    },
    /// Steer angle of the inner front wheel at full lock, the smaller one of both turns.
    Lock,
}

/// What of a reading counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Taken {
    /// Its value.
    Value,
    /// Its value less that in the design pose, straight ahead.
    Change,
}

/// Over which poses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Over {
    /// The design pose alone.
    Design,
    /// Wheel travel, metres, straight ahead.
    Travel {
        /// First.
        from: f64,
        /// Last.
        to: f64,
        /// Which wheels travel.
        wheels: Travelling,
    },
    /// The steering from stop to stop, wheels at zero travel.
    Steer,
    /// The middle of a bend, readings to the road.
    Bend(Bend),
}

/// A steady bend.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bend {
    /// The accelerations.
    pub at: Cornering,
    /// The steering input, metres or radians.
    pub steer: f64,
    /// How the body leans; `None` for an estimate from springs and masses.
    pub gradients: Option<Gradients>,
}

impl Limit {
    /// The unit of its bounds.
    #[must_use]
    pub fn unit(&self) -> Unit {
        match self.of {
            Limited::Reading { reading, .. } => reading.unit,
            Limited::Lock => Unit::Degree,
        }
    }

    /// How far a value is within both bounds; less than nothing beyond one.
    #[must_use]
    pub fn reserve(&self, value: f64) -> f64 {
        let above = self.least.map_or(f64::INFINITY, |least| value - least);
        let below = self.most.map_or(f64::INFINITY, |most| most - value);
        above.min(below)
    }
}

impl Limited {
    /// Whose values count: wheels, or an axle as a whole.
    #[must_use]
    pub fn wheels(&self) -> Vec<WheelAt> {
        match *self {
            Limited::Reading { reading, end, side, .. } if reading.scope == Scope::Wheel => {
                let sides = side.map_or(Side::BOTH.to_vec(), |side| vec![side]);
                sides.into_iter().map(|side| WheelAt { end, side }).collect()
            }
            Limited::Reading { .. } | Limited::Lock => Vec::new(),
        }
    }
}
