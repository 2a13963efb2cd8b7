//! Two wishbones and a tie rod or toe link: five rods hold the upright.

use crate::car::hardpoint::{Hardpoint, Link};

/// The points beside those of the tie rod.
pub(super) const POINTS: [Hardpoint; 6] = [
    Hardpoint::UpperWishboneFront,
    Hardpoint::UpperWishboneRear,
    Hardpoint::UpperBallJoint,
    Hardpoint::LowerWishboneFront,
    Hardpoint::LowerWishboneRear,
    Hardpoint::LowerBallJoint,
];

/// The legs of the wishbones.
pub(super) const LINKS: [Link; 4] =
    [Link::UpperFrontLeg, Link::UpperRearLeg, Link::LowerFrontLeg, Link::LowerRearLeg];
