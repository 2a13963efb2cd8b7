//! Which linkage carries a wheel. What each is, the catalogue of linkages says.

/// Which linkage carries the wheel: see [`spec`](LinkageKind::spec).
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
    /// An axle whose wheels stand on knuckles that turn about king pins, steered by a drag link and a track rod.
    SteeredBeamAxle,
}

impl LinkageKind {
    /// Every kind of linkage.
    pub const ALL: [LinkageKind; 7] = [
        LinkageKind::DoubleWishbone,
        LinkageKind::Strut,
        LinkageKind::FiveLink,
        LinkageKind::TrailingArm,
        LinkageKind::HArm,
        LinkageKind::BeamAxle,
        LinkageKind::SteeredBeamAxle,
    ];
}
