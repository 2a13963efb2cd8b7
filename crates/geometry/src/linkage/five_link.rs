//! Four links and a tie rod or toe link, each a rod of its own.

use super::spec::{AxisBy, CamberAdjuster, CamberMoves, Carrier, HubOn, LinkageSpec};
use crate::car::Component::{Body, Upright};
use crate::car::LinkageKind;
use crate::car::hardpoint::{Hardpoint as P, Link};

pub(super) const SPEC: LinkageSpec = LinkageSpec {
    kind: LinkageKind::FiveLink,
    word: "FiveLink",
    label: "five links",
    with_article: "the five-link suspension",
    required: &[
        (P::UpperFrontLinkInner, Body),
        (P::UpperFrontLinkOuter, Upright),
        (P::UpperRearLinkInner, Body),
        (P::UpperRearLinkOuter, Upright),
        (P::LowerFrontLinkInner, Body),
        (P::LowerFrontLinkOuter, Upright),
        (P::LowerRearLinkInner, Body),
        (P::LowerRearLinkOuter, Upright),
    ],
    optional: &[],
    axle_required: &[],
    axle_optional: &[],
    in_a_new_file: &[],
    links: &[Link::UpperFrontLink, Link::UpperRearLink, Link::LowerFrontLink, Link::LowerRearLink],
    has_toe_link: true,
    has_track_rod: false,
    has_strut: false,
    hub_on: HubOn::Upright,
    beam: None,
    axis: AxisBy::Screw,
    camber: Some(CamberAdjuster {
        word: "UpperLinkLength",
        label: "upper front link length",
        moves: CamberMoves::Length(Link::UpperFrontLink),
    }),
    carriers: &[UPRIGHT],
    usual_carrier: UPRIGHT,
    suspects: &[
        P::UpperFrontLinkOuter,
        P::UpperRearLinkOuter,
        P::LowerFrontLinkOuter,
        P::LowerRearLinkOuter,
        P::UpperFrontLinkInner,
        P::UpperRearLinkInner,
        P::LowerFrontLinkInner,
        P::LowerRearLinkInner,
    ],
    frame: &[
        [P::LowerFrontLinkInner, P::UpperFrontLinkInner],
        [P::LowerRearLinkInner, P::UpperRearLinkInner],
    ],
};

const UPRIGHT: Carrier = Carrier { word: "Upright", part: Upright };
