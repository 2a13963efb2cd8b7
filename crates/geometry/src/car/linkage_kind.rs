//! Which linkage carries a wheel.

/// Which linkage carries the wheel.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LinkageKind {
    /// Two wishbones, and a tie rod (steered) or toe link.
    DoubleWishbone,
    /// A strut fixed to the upright that slides through its top mount, a lower wishbone, and a tie
    /// rod or toe link.
    Strut,
    /// Five rods, each on its own: four links and a tie rod or toe link.
    FiveLink,
    /// An arm hinged to the body that carries the wheel itself: trailing or semi-trailing.
    TrailingArm,
    /// A lower arm hinged both to the body and to the upright, and an upper link.
    HArm,
    /// An axle that carries both wheels.
    BeamAxle,
}

impl LinkageKind {
    /// Every kind of linkage.
    pub const ALL: [LinkageKind; 6] = [
        LinkageKind::DoubleWishbone,
        LinkageKind::Strut,
        LinkageKind::FiveLink,
        LinkageKind::TrailingArm,
        LinkageKind::HArm,
        LinkageKind::BeamAxle,
    ];

    /// The name in words.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            LinkageKind::DoubleWishbone => "double wishbone",
            LinkageKind::Strut => "strut",
            LinkageKind::FiveLink => "five links",
            LinkageKind::TrailingArm => "trailing arm",
            LinkageKind::HArm => "H-arm and upper link",
            LinkageKind::BeamAxle => "beam axle",
        }
    }

    /// Whether a tie rod or toe link holds the wheel's toe.
    #[must_use]
    pub fn has_toe_link(self) -> bool {
        matches!(self, LinkageKind::DoubleWishbone | LinkageKind::Strut | LinkageKind::FiveLink)
    }

    /// What adjusts static camber, in words; `None` where nothing does.
    #[must_use]
    pub fn camber_adjuster(self) -> Option<&'static str> {
        match self {
            LinkageKind::DoubleWishbone => Some("upper ball joint shim"),
            LinkageKind::Strut => Some("strut top mount"),
            LinkageKind::FiveLink => Some("upper front link length"),
            LinkageKind::HArm => Some("upper link length"),
            LinkageKind::TrailingArm | LinkageKind::BeamAxle => None,
        }
    }
}
