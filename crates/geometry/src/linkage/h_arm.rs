//! A lower arm hinged to the body and to the upright, and an upper link.
//!
//! The arm needs no unknowns: its front outer joint shows how far it has turned. Two rods lead that
//! joint round the inner hinge, and the rear outer joint stays on the arm's outer hinge line.

use super::{on_upright, rods, upright};
use crate::car::hardpoint::{Hardpoint, Link};
use crate::linkage::design::Design;
use crate::mechanism::hinged::Arm;
use crate::mechanism::{Anchor, Constraint, FixedLength, Frame, Mechanism, Slider, Swinging, WrongFreedoms};
use crate::number::real::{Real, length, unit};

/// The points.
pub(super) const POINTS: [Hardpoint; 6] = [
    Hardpoint::HArmInnerFront,
    Hardpoint::HArmInnerRear,
    Hardpoint::HArmOuterFront,
    Hardpoint::HArmOuterRear,
    Hardpoint::UpperLinkInner,
    Hardpoint::UpperLinkOuter,
];

/// The link beside the arm.
pub(super) const LINKS: [Link; 1] = [Link::UpperLink];

pub(super) fn mechanism<T: Real>(design: &Design<T>) -> Result<Mechanism<T, 1, 6>, WrongFreedoms> {
    let [inner_front, inner_rear] = [POINTS[0], POINTS[1]].map(|hardpoint| design.point(hardpoint));
    let made = |hardpoint| design.made(hardpoint);
    let made_inner = [made(Hardpoint::HArmInnerFront), made(Hardpoint::HArmInnerRear)];
    let [made_front, made_rear] = [made(Hardpoint::HArmOuterFront), made(Hardpoint::HArmOuterRear)];
    let joint = on_upright(design, Hardpoint::HArmOuterFront);
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
            point: Anchor { frame: Frame::Body(0), at: on_upright(design, Hardpoint::HArmOuterRear) },
            line: Anchor { frame: Frame::Swing, at: on_arm },
            along: unit(&(arm.local(&made_rear) - on_arm)),
        }),
    ));
    Ok(upright(design, constraints)?.with_swinging(Swinging::ByJoint { arm, joint }))
}
