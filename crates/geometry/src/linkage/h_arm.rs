//! A lower arm hinged to the body and to the upright, and an upper link.
//!
//! The arm needs no unknowns: its front outer joint shows how far it has turned. Two rods lead that
//! joint round the inner hinge, and the rear outer joint stays on the arm's outer hinge line.

use super::spec::{AxisBy, CamberAdjuster, CamberMoves, Carrier, HubOn, LinkageSpec};
use super::{on_upright, rods, upright};
use crate::car::hardpoint::{Hardpoint as P, Link};
use crate::car::{Component, LinkageKind};
use crate::linkage::design::Design;
use crate::mechanism::hinged::Arm;
use crate::mechanism::{Anchor, Constraint, FixedLength, Frame, Mechanism, Slider, Swinging, WrongFreedoms};
use crate::number::real::{Real, length, unit};

pub(super) const SPEC: LinkageSpec = LinkageSpec {
    kind: LinkageKind::HArm,
    word: "HArm",
    label: "H-arm and upper link",
    with_article: "the H-arm with its upper link",
    required: &[
        (P::HArmInnerFront, Component::Body),
        (P::HArmInnerRear, Component::Body),
        (P::HArmOuterFront, Component::Upright),
        (P::HArmOuterRear, Component::Upright),
        (P::UpperLinkInner, Component::Body),
        (P::UpperLinkOuter, Component::Upright),
    ],
    optional: &[],
    axle_required: &[],
    axle_optional: &[],
    in_a_new_file: &[],
    links: &[Link::UpperLink],
    has_toe_link: false,
    has_track_rod: false,
    has_strut: false,
    hub_on: HubOn::Upright,
    beam: None,
    axis: AxisBy::None,
    camber: Some(CamberAdjuster {
        word: "UpperLinkLength",
        label: "upper link length",
        moves: CamberMoves::Length(Link::UpperLink),
    }),
    carriers: &[H_ARM, Carrier { word: "Upright", part: Component::Upright }],
    usual_carrier: H_ARM,
    suspects: &[
        P::UpperLinkInner,
        P::UpperLinkOuter,
        P::HArmInnerFront,
        P::HArmInnerRear,
        P::HArmOuterFront,
        P::HArmOuterRear,
    ],
    frame: &[[P::HArmInnerFront, P::UpperLinkInner], [P::HArmInnerFront, P::HArmInnerRear]],
};

const H_ARM: Carrier = Carrier { word: "HArm", part: Component::HArm };

pub(super) fn mechanism<T: Real>(design: &Design<T>) -> Result<Mechanism<T, 1, 6>, WrongFreedoms> {
    let [inner_front, inner_rear] =
        [P::HArmInnerFront, P::HArmInnerRear].map(|hardpoint| design.point(hardpoint));
    let made = |hardpoint| design.made(hardpoint);
    let made_inner = [made(P::HArmInnerFront), made(P::HArmInnerRear)];
    let [made_front, made_rear] = [made(P::HArmOuterFront), made(P::HArmOuterRear)];
    let joint = on_upright(design, P::HArmOuterFront);
    let arm = Arm::made([inner_front, inner_rear], [made_inner[0], made_inner[1], made_front], made_front);
    let mut constraints = rods(design);
    for (inner, made_inner) in [inner_front, inner_rear].into_iter().zip(made_inner) {
        let leg = FixedLength::new(
            Anchor { frame: Frame::Car, at: inner },
            Anchor { frame: Frame::Body(0), at: joint },
            length(&(made_front - made_inner)),
        );
        constraints.push(("H-arm", Constraint::FixedLength(leg)));
    }
    let on_arm = arm.local(&made_front);
    constraints.push((
        "H-arm's outer hinge",
        Constraint::Slider(Slider {
            point: Anchor { frame: Frame::Body(0), at: on_upright(design, P::HArmOuterRear) },
            line: Anchor { frame: Frame::Swing, at: on_arm },
            along: unit(&(arm.local(&made_rear) - on_arm)),
        }),
    ));
    Ok(upright(design, constraints)?.with_swinging(Swinging::ByJoint { arm, joint }))
}
