//! An arm hinged to the body that carries the wheel itself: trailing where the hinge lies across the
//! car, semi-trailing where it does not.

use super::spec::{AxisBy, Carrier, HubOn, LinkageSpec};
use super::upright;
use crate::car::hardpoint::Hardpoint as P;
use crate::car::{Component, LinkageKind};
use crate::linkage::design::Design;
use crate::mechanism::{Anchor, BallJoint, Constraint, Frame, Hinge, Mechanism, WrongFreedoms};
use crate::number::real::{Real, unit};

pub(super) const SPEC: LinkageSpec = LinkageSpec {
    kind: LinkageKind::TrailingArm,
    word: "TrailingArm",
    label: "trailing arm",
    with_article: "the trailing arm",
    required: &[(P::ArmPivotOutboard, Component::Body), (P::ArmPivotInboard, Component::Body)],
    optional: &[],
    axle_required: &[],
    axle_optional: &[],
    in_a_new_file: &[],
    links: &[],
    has_toe_link: false,
    has_track_rod: false,
    has_strut: false,
    hub_on: HubOn::Arm,
    beam: None,
    axis: AxisBy::None,
    camber: None,
    // The arm carries the wheel: it is what an upright is elsewhere.
    carriers: &[ARM, Carrier { word: "Upright", part: Component::Upright }],
    usual_carrier: ARM,
    suspects: &HINGE,
    frame: &[HINGE],
};

const ARM: Carrier = Carrier { word: "Arm", part: Component::Upright };

/// The hinge line. The arm has it where its pivots were when it was made, the body where they are; along it the
/// outboard pivot says where the arm sits.
const HINGE: [P; 2] = [P::ArmPivotOutboard, P::ArmPivotInboard];

pub(super) fn mechanism<T: Real>(design: &Design<T>) -> Result<Mechanism<T, 1, 6>, WrongFreedoms> {
    let [outboard, inboard] = HINGE.map(|hardpoint| design.point(hardpoint));
    let [made_outboard, made_inboard] = HINGE.map(|hardpoint| design.made(hardpoint));
    let hinge = Hinge {
        joint: BallJoint {
            point: Anchor { frame: Frame::Body(0), at: made_outboard - design.centre },
            seat: Anchor { frame: Frame::Car, at: outboard },
        },
        axis_of_point: unit(&(made_outboard - made_inboard)),
        axis_of_seat: unit(&(outboard - inboard)),
    };
    upright(design, vec![("trailing arm", Constraint::Hinge(hinge))])
}
