//! An arm hinged to the body that carries the wheel itself: trailing where the hinge lies across the
//! car, semi-trailing where it does not.

use super::upright;
use crate::car::hardpoint::Hardpoint;
use crate::linkage::design::Design;
use crate::mechanism::{Anchor, BallJoint, Constraint, Frame, Hinge, Mechanism, WrongFreedoms};
use crate::number::real::{Real, unit};

/// The hinge line. The arm has it where its pivots were when it was made, the body where they are; along it the
/// outboard pivot says where the arm sits.
pub(super) const POINTS: [Hardpoint; 2] = [Hardpoint::ArmPivotOutboard, Hardpoint::ArmPivotInboard];

pub(super) fn mechanism<T: Real>(design: &Design<T>) -> Result<Mechanism<T, 1, 6>, WrongFreedoms> {
    let [outboard, inboard] = POINTS.map(|hardpoint| design.point(hardpoint));
    let [made_outboard, made_inboard] = POINTS.map(|hardpoint| design.made(hardpoint));
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
