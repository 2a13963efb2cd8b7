//! Two wishbones and a tie rod or toe link: five rods hold the upright.

use super::spec::{AxisBy, CamberAdjuster, CamberMoves, Carrier, HubOn, LinkageSpec};
use crate::car::Component::{Body, LowerWishbone, UpperWishbone, Upright};
use crate::car::LinkageKind;
use crate::car::hardpoint::{Hardpoint as P, Link};

pub(super) const SPEC: LinkageSpec = LinkageSpec {
    kind: LinkageKind::DoubleWishbone,
    word: "DoubleWishbone",
    label: "double wishbone",
    with_article: "the double wishbone",
    required: &[
        (P::UpperWishboneFront, Body),
        (P::UpperWishboneRear, Body),
        (P::UpperBallJoint, Upright),
        (P::LowerWishboneFront, Body),
        (P::LowerWishboneRear, Body),
        (P::LowerBallJoint, Upright),
    ],
    optional: &[],
    axle_required: &[],
    axle_optional: &[],
    in_a_new_file: &[],
    links: &[Link::UpperFrontLeg, Link::UpperRearLeg, Link::LowerFrontLeg, Link::LowerRearLeg],
    has_toe_link: true,
    has_track_rod: false,
    has_strut: false,
    hub_on: HubOn::Upright,
    beam: None,
    axis: AxisBy::Joints { lower: P::LowerBallJoint, upper: P::UpperBallJoint },
    camber: Some(CamberAdjuster {
        word: "UpperShim",
        label: "upper ball joint shim",
        moves: CamberMoves::JointOnUpright(P::UpperBallJoint),
    }),
    carriers: &[
        Carrier { word: "UpperWishbone", part: UpperWishbone },
        LOWER_WISHBONE,
        Carrier { word: "Upright", part: Upright },
    ],
    usual_carrier: LOWER_WISHBONE,
    suspects: &[
        P::UpperBallJoint,
        P::LowerBallJoint,
        P::UpperWishboneFront,
        P::UpperWishboneRear,
        P::LowerWishboneFront,
        P::LowerWishboneRear,
    ],
    frame: &[[P::LowerWishboneFront, P::UpperWishboneFront], [P::LowerWishboneRear, P::UpperWishboneRear]],
};

/// The lower wishbone, which usually carries the springing.
pub(super) const LOWER_WISHBONE: Carrier = Carrier { word: "LowerWishbone", part: LowerWishbone };
