//! How static toe and camber come about.

/// What sets the static toe.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ToeBy {
    /// The points as they stand.
    Points,
    /// The length of the tie rod (toe link) is adjusted until toe is this (radians, + = in).
    TieRodLength(f64),
}

/// What sets the static camber.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum CamberBy {
    /// The points as they stand.
    Points,
    /// The linkage's camber adjuster is moved until camber to the body is this (radians, + = top
    /// outboard): shims between upright and upper ball joint along the wheel's spin axis, the strut's
    /// top mount across the car, or the length of an upper link. See
    /// [`LinkageKind::camber_adjuster`](crate::LinkageKind::camber_adjuster).
    Adjuster(f64),
}

/// How toe and camber at zero travel and straight ahead come about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Alignment {
    /// Toe.
    pub toe: ToeBy,
    /// Camber.
    pub camber: CamberBy,
}

impl Alignment {
    /// Both follow from the points.
    pub const FROM_POINTS: Alignment = Alignment { toe: ToeBy::Points, camber: CamberBy::Points };
}
