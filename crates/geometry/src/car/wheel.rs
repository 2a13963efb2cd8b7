//! A wheel as it is built.

use crate::car::position::Side;
use nalgebra::Vector3;

/// A wheel in the design pose.
#[derive(Clone, Debug, PartialEq)]
pub struct Wheel {
    /// Wheel centre, metres.
    pub centre: Vector3<f64>,
    /// Unit spin axis pointing outboard.
    pub spin_axis: Vector3<f64>,
    /// Radius of the tyre, metres.
    pub tyre_radius: f64,
    /// Width of the tyre, metres (pictures, the outer edge in a slow turn, distances to other parts).
    pub tyre_width: f64,
    /// Radius of the tread's round cross-section, metres: the contact goes round it with camber.
    /// Zero is a disc, which touches in the wheel's middle plane whatever its camber.
    pub tyre_shoulder_radius: f64,
    /// Radius of the rim, metres (pictures, distances to other parts): there the tyre begins.
    pub rim_radius: f64,
    /// Width of the rim's barrel about the wheel's middle plane, metres; `None`: as wide as the tyre.
    pub rim_width: Option<f64>,
    /// Clear radius inside the rim's barrel, metres; `None`: the rim's radius.
    pub rim_inner_radius: Option<f64>,
}

/// The unit spin axis, pointing outboard, of a wheel with this camber and toe (radians; + = top
/// outboard, + = toe-in).
#[must_use]
pub fn spin_axis_from_angles(side: Side, camber: f64, toe: f64) -> Vector3<f64> {
    let steer = -side.sign() * toe;
    let left = Vector3::new(-steer.sin() * camber.cos(), steer.cos() * camber.cos(), 0.0) * side.sign();
    Vector3::new(left.x, left.y, -camber.sin())
}
