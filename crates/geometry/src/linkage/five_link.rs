//! Four links and a tie rod or toe link, each a rod of its own.

use crate::car::hardpoint::{Link, Pickup};

/// The points beside those of the tie rod.
pub(super) const POINTS: [Pickup; 8] = [
    Pickup::UpperFrontLinkInner,
    Pickup::UpperFrontLinkOuter,
    Pickup::UpperRearLinkInner,
    Pickup::UpperRearLinkOuter,
    Pickup::LowerFrontLinkInner,
    Pickup::LowerFrontLinkOuter,
    Pickup::LowerRearLinkInner,
    Pickup::LowerRearLinkOuter,
];

/// The four links.
pub(super) const LINKS: [Link; 4] =
    [Link::UpperFrontLink, Link::UpperRearLink, Link::LowerFrontLink, Link::LowerRearLink];
