//! What an axle is asked to do: travel of both wheels and the steering input.

use crate::car::position::Side;

/// Travel of the left and right wheel, metres, and the steering input.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxlePose {
    /// Left and right wheel travel.
    pub travel: [f64; 2],
    /// Steering input: rack travel, metres, or turn of the pitman arm, radians.
    pub steer: f64,
}

/// Which wheels of an axle travel in a sweep.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Travelling {
    /// Both alike.
    Both,
    /// One, the other stays.
    One(Side),
    /// The left by the travel, the right by minus the travel.
    Opposite,
}

impl Travelling {
    /// Left and right travel for one value.
    #[must_use]
    pub fn travels(self, travel: f64) -> [f64; 2] {
        match self {
            Travelling::Both => [travel, travel],
            Travelling::One(Side::Left) => [travel, 0.0],
            Travelling::One(Side::Right) => [0.0, travel],
            Travelling::Opposite => [travel, -travel],
        }
    }
}
