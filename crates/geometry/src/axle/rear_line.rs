//! The rear wheels' line, on which a slow turn has its centre.

use crate::number::real::Real;
use nalgebra::Vector3;

/// The line on which a slow turn has its centre: the mean axis of the rear wheels, in plan.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RearLine<T: Real = f64> {
    /// The middle between the rear wheels' contacts, metres.
    pub middle: Vector3<T>,
    /// Mean of the rear wheels' spin axes, both pointing to the left; not of length one.
    pub along: Vector3<T>,
}
