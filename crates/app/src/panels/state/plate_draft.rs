//! A plate being described, and the steps that a pull snaps to.

use nalgebra::Vector3;
use wheelpath_geometry::{Assembly, Hardpoint, INCH, LengthUnit};

/// Steps a pull snaps to, metres; zero is none.
#[must_use]
pub fn snaps(lengths: LengthUnit) -> [f64; 4] {
    match lengths {
        LengthUnit::Millimetre => [0.0, 1e-4, 1e-3, 5e-3],
        LengthUnit::Inch => [0.0, 0.005, 0.05, 0.25].map(|inches| inches * INCH),
    }
}

/// A plate being described, before it is set.
#[derive(Clone, Debug, Default)]
pub struct PlateDraft {
    pub(in crate::panels) normal: Vector3<f64>,
    pub(in crate::panels) through: [Option<(Assembly, Hardpoint)>; 3],
    /// Whether a plate is being described at present.
    pub(in crate::panels) open: bool,
}
