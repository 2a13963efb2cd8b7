//! Two wishbones and a tie rod or toe link: five rods hold the upright.

use crate::car::hardpoint::{Link, Pickup};

/// The points beside those of the tie rod.
pub(super) const POINTS: [Pickup; 6] = [
    Pickup::UpperWishboneFront,
    Pickup::UpperWishboneRear,
    Pickup::UpperBallJoint,
    Pickup::LowerWishboneFront,
    Pickup::LowerWishboneRear,
    Pickup::LowerBallJoint,
];

/// The legs of the wishbones.
pub(super) const LINKS: [Link; 4] =
    [Link::UpperFrontLeg, Link::UpperRearLeg, Link::LowerFrontLeg, Link::LowerRearLeg];
