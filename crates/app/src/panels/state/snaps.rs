//! The steps that a pull snaps to.

use wheelpath_geometry::{INCH, LengthUnit};

/// Steps a pull snaps to, metres; zero is none.
#[must_use]
pub fn snaps(lengths: LengthUnit) -> [f64; 4] {
    match lengths {
        LengthUnit::Millimetre => [0.0, 1e-4, 1e-3, 5e-3],
        LengthUnit::Inch => [0.0, 0.005, 0.05, 0.25].map(|inches| inches * INCH),
    }
}
