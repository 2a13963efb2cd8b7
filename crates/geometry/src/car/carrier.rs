//! The bodies of a corner that points are fixed to.

/// The part of a corner that carries a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Component {
    /// The body.
    Body,
    /// The rack, or the centre link of a steering box.
    Steering,
    /// The upper wishbone.
    UpperWishbone,
    /// The lower wishbone.
    LowerWishbone,
    /// The H-arm.
    HArm,
    /// The upright; a trailing arm, a beam axle or a knuckle, where that carries the wheel.
    Upright,
    /// An axle whose wheels stand on knuckles of their own.
    Axle,
    /// The rocker.
    Rocker,
    /// The arm of the anti-roll bar.
    BarArm,
    /// The lever of a Watt's linkage.
    WattLever,
}

impl Component {
    /// The name in words.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Component::UpperWishbone => "upper wishbone",
            Component::LowerWishbone => "lower wishbone",
            Component::Upright => "upright",
            Component::Axle => "axle",
            Component::Rocker => "rocker",
            Component::Body => "body",
            Component::Steering => "rack or centre link",
            Component::HArm => "H-arm",
            Component::BarArm => "anti-roll bar arm",
            Component::WattLever => "Watt lever",
        }
    }
}
