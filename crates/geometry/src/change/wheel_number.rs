//! Where the numbers of a wheel are kept, and what they say.

use crate::car::parameter::WheelNumber;
use crate::car::position::Side;
use crate::car::wheel::spin_axis_from_angles;
use crate::car::{CamberBy, Corner, ToeBy};
use nalgebra::Vector3;

/// Static camber and toe of a wheel, radians, as its unit spin axis (outboard) has them.
#[must_use]
pub fn static_angles(spin_axis: &Vector3<f64>, side: Side) -> (f64, f64) {
    let a = spin_axis * side.sign();
    (-spin_axis.z.clamp(-1.0, 1.0).asin(), -side.sign() * (-a.x).atan2(a.y))
}

impl WheelNumber {
    /// The number of a corner's wheel, metres or radians: an angle as adjusted, where an adjuster sets it.
    #[must_use]
    pub fn of(self, corner: &Corner, side: Side) -> f64 {
        let (camber, toe) = static_angles(&corner.wheel.spin_axis, side);
        match self {
            WheelNumber::Camber => match corner.alignment.camber {
                CamberBy::Adjuster(wanted) => wanted,
                CamberBy::Points => camber,
            },
            WheelNumber::Toe => match corner.alignment.toe {
                ToeBy::TieRodLength(wanted) => wanted,
                ToeBy::Points => toe,
            },
            WheelNumber::TyreRadius => corner.wheel.tyre_radius,
            WheelNumber::TyreWidth => corner.wheel.tyre_width,
            WheelNumber::TyreShoulderRadius => corner.wheel.tyre_shoulder_radius,
            WheelNumber::RimRadius => corner.wheel.rim_radius,
        }
    }

    /// Sets it, metres or radians.
    pub fn set(self, corner: &mut Corner, side: Side, to: f64) {
        let (camber, toe) = static_angles(&corner.wheel.spin_axis, side);
        match self {
            WheelNumber::Camber => match &mut corner.alignment.camber {
                CamberBy::Adjuster(wanted) => *wanted = to,
                CamberBy::Points => corner.wheel.spin_axis = spin_axis_from_angles(side, to, toe),
            },
            WheelNumber::Toe => match &mut corner.alignment.toe {
                ToeBy::TieRodLength(wanted) => *wanted = to,
                ToeBy::Points => corner.wheel.spin_axis = spin_axis_from_angles(side, camber, to),
            },
            WheelNumber::TyreRadius => corner.wheel.tyre_radius = to,
            WheelNumber::TyreWidth => corner.wheel.tyre_width = to,
            WheelNumber::TyreShoulderRadius => corner.wheel.tyre_shoulder_radius = to,
            WheelNumber::RimRadius => corner.wheel.rim_radius = to,
        }
    }
}
