//! The bodies of a corner that points are fixed to.

/// The part of a corner that carries a point.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Carrier {
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
    /// The upright; a trailing arm or a beam axle, where that carries the wheel.
    Upright,
    /// The rocker.
    Rocker,
    /// The arm of the anti-roll bar.
    BarArm,
    /// The lever of a Watt's linkage.
    WattLever,
}

impl Carrier {
    /// The name in words.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Carrier::UpperWishbone => "upper wishbone",
            Carrier::LowerWishbone => "lower wishbone",
            Carrier::Upright => "upright",
            Carrier::Rocker => "rocker",
            Carrier::Body => "body",
            Carrier::Steering => "rack or centre link",
            Carrier::HArm => "H-arm",
            Carrier::BarArm => "anti-roll bar arm",
            Carrier::WattLever => "Watt lever",
        }
    }
}
