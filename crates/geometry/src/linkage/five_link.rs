//! Four links and a tie rod or toe link, each a rod of its own.

use crate::car::hardpoint::{Hardpoint, Link};

/// The points beside those of the tie rod.
pub(super) const POINTS: [Hardpoint; 8] = [
    Hardpoint::UpperFrontLinkInner,
    Hardpoint::UpperFrontLinkOuter,
    Hardpoint::UpperRearLinkInner,
    Hardpoint::UpperRearLinkOuter,
    Hardpoint::LowerFrontLinkInner,
    Hardpoint::LowerFrontLinkOuter,
    Hardpoint::LowerRearLinkInner,
    Hardpoint::LowerRearLinkOuter,
];

/// The four links.
pub(super) const LINKS: [Link; 4] =
    [Link::UpperFrontLink, Link::UpperRearLink, Link::LowerFrontLink, Link::LowerRearLink];
