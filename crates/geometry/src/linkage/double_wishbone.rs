//! Two wishbones and a tie rod or toe link: five rods hold the upright.

use crate::design::Design;
use crate::mechanism::{Anchor, Constraint, FixedLength, Frame, Height, Mechanism, Pose, WrongFreedoms};
use crate::pickup::{Link, Pickup};
use crate::real::Real;
use nalgebra::Vector3;

/// The points this linkage must have.
pub(crate) fn required(steered: bool) -> [Pickup; 8] {
    use Pickup as P;
    let (inner, outer) =
        if steered { (P::TieRodInner, P::TieRodOuter) } else { (P::ToeLinkInner, P::ToeLinkOuter) };
    [
        P::UpperWishboneFront,
        P::UpperWishboneRear,
        P::UpperBallJoint,
        P::LowerWishboneFront,
        P::LowerWishboneRear,
        P::LowerBallJoint,
        inner,
        outer,
    ]
}

/// The links that hold the upright, in the order of the equations.
pub(crate) fn links(steered: bool) -> [Link; 5] {
    let toe = if steered { Link::TieRod } else { Link::ToeLink };
    [Link::UpperFrontLeg, Link::UpperRearLeg, Link::LowerFrontLeg, Link::LowerRearLeg, toe]
}

/// The upper ball joint's place on the upright, with its shims.
pub(crate) fn upper_ball_on_upright<T: Real>(design: &Design<T>) -> Vector3<T> {
    design.point(Pickup::UpperBallJoint) - design.centre - design.spin_axis * design.shim
}

/// The mechanism: the upright's origin is the wheel centre.
pub(crate) fn mechanism<T: Real>(design: &Design<T>) -> Result<Mechanism<T, 1, 6>, WrongFreedoms> {
    let mut constraints = Vec::with_capacity(5);
    for link in links(design.steered) {
        let (inner, outer) = link.ends();
        let frame = if link == Link::TieRod { Frame::Rack } else { Frame::Car };
        let on_upright = if outer == Pickup::UpperBallJoint {
            upper_ball_on_upright(design)
        } else {
            design.point(outer) - design.centre
        };
        constraints.push((
            link.label(),
            Constraint::FixedLength(FixedLength::new(
                Anchor { frame, at: design.point(inner) },
                Anchor { frame: Frame::Body(0), at: on_upright },
                design.length(link),
            )),
        ));
    }
    let height =
        Height { point: Anchor { frame: Frame::Body(0), at: Vector3::zeros() }, design: design.centre.z };
    Mechanism::new([Pose::design(design.centre)], constraints, vec![height], design.rack_axis)
}
