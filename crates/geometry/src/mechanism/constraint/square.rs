//! Directions square to a given one.

use crate::number::real::{Real, unit, values};
use nalgebra::Vector3;

/// Two unit directions square to `axis` and to each other.
pub(super) fn square_to<T: Real>(axis: &Vector3<T>) -> [Vector3<T>; 2] {
    let plain = values(axis).map(f64::abs);
    let mut helper = Vector3::zeros();
    helper[plain.imin()] = T::one();
    let first = unit(&axis.cross(&helper));
    [first, unit(&axis.cross(&first))]
}
