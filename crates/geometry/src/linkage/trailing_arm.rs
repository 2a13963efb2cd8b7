//! An arm hinged to the body that carries the wheel itself: trailing where the hinge lies across the
//! car, semi-trailing where it does not.

use super::{on_upright, upright};
use crate::design::Design;
use crate::mechanism::{Anchor, BallJoint, Constraint, Frame, Hinge, Mechanism, WrongFreedoms};
use crate::pickup::Pickup;
use crate::real::{Real, unit};

/// The hinge line.
pub(super) const POINTS: [Pickup; 2] = [Pickup::ArmPivotOutboard, Pickup::ArmPivotInboard];

pub(super) fn mechanism<T: Real>(design: &Design<T>) -> Result<Mechanism<T, 1, 6>, WrongFreedoms> {
    let [outboard, inboard] = POINTS.map(|pickup| design.point(pickup));
    let axis = unit(&(outboard - inboard));
    let hinge = Hinge {
        joint: BallJoint {
            point: Anchor { frame: Frame::Body(0), at: on_upright(design, Pickup::ArmPivotOutboard) },
            seat: Anchor { frame: Frame::Car, at: outboard },
        },
        axis_of_point: axis,
        axis_of_seat: axis,
    };
    upright(design, vec![("trailing arm", Constraint::Hinge(hinge))])
}
