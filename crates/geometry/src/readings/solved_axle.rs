//! Readings of an axle solved at a pose.

use super::{AxleValues, WheelValues, axle_values, wheel_values};
use crate::axle::axle_solver::SolvedAxle;
use crate::car::position::Side;

impl SolvedAxle {
    /// All readings of one wheel.
    #[must_use]
    pub fn wheel_values(&self, side: Side) -> WheelValues {
        wheel_values(self.motion.corner(side), self.motion.wheel(side))
    }

    /// All readings of the axle.
    #[must_use]
    pub fn axle_values(&self) -> AxleValues {
        axle_values(&self.motion)
    }
}
