//! What contour map is wanted.

use wheelpath_geometry::{Axis, INCH, LengthUnit, Reading, reading};

/// Half widths that can be chosen, metres.
pub(in crate::panels) fn halves(lengths: LengthUnit) -> [f64; 4] {
    match lengths {
        LengthUnit::Millimetre => [0.005, 0.01, 0.02, 0.04],
        LengthUnit::Inch => [0.25, 0.5, 1.0, 1.5].map(|inches| inches * INCH),
    }
}

/// What map is wanted.
#[derive(Clone, Debug)]
pub struct MapChoice {
    /// Whether one is shown.
    pub open: bool,
    /// Of which reading; `None` is toe.
    pub reading: Option<&'static Reading>,
    /// The axis the plane is square to; `None` is the plate, where it is known, and else across.
    pub square_to: Option<Axis>,
    /// Half its width, metres.
    pub half: f64,
    /// Whether it is drawn large.
    pub grown: bool,
}

impl MapChoice {
    /// None yet, of a car that is counted in these lengths.
    #[must_use]
    pub fn new(lengths: LengthUnit) -> Self {
        MapChoice { open: false, reading: None, square_to: None, half: halves(lengths)[1], grown: false }
    }
}

impl MapChoice {
    /// The reading mapped.
    pub(in crate::panels) fn reading(&self) -> Option<&'static Reading> {
        self.reading.or_else(|| reading("toe"))
    }
}
