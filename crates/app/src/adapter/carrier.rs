//! From where a point is pulled to in the pose shown, to where that is in the design pose.

use super::parts::Posed;
use crate::session::Session;
use nalgebra::{Matrix3, Vector3};
use wheelpath_geometry::{Carrier, Corner, LinkageKind, Pickup, WheelAt};

/// A point that is being pulled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pulled {
    /// Whose.
    pub wheel: WheelAt,
    /// Which point.
    pub pickup: Pickup,
    /// Where it stood in the pose when the pull began, metres.
    posed: Vector3<f64>,
    /// Where it stood in the design pose.
    design: Vector3<f64>,
    /// Turns a shift in the pose into one in the design pose.
    design_from_pose: Matrix3<f64>,
}

impl Pulled {
    /// Takes hold of a point of the car shown; `None` where the corner has no such point.
    #[must_use]
    pub fn begin(session: &Session, wheel: WheelAt, pickup: Pickup) -> Option<Self> {
        let posed = Posed::of(session.solver(), session.shown(), wheel);
        let corner = session.solver_car().corner(wheel);
        let turned = carrier_points(corner, pickup).and_then(|[a, b, c]| {
            let design = |p| corner.pickups.get(p);
            let before = axes(design(a)?, design(b)?, design(c)?)?;
            let now = axes(posed.vector(a)?, posed.vector(b)?, posed.vector(c)?)?;
            Some(before * now.transpose())
        });
        Some(Pulled {
            wheel,
            pickup,
            posed: posed.vector(pickup)?,
            design: corner.pickups.get(pickup)?,
            design_from_pose: turned.unwrap_or_else(Matrix3::identity),
        })
    }

    /// Where the point stood in the design pose when the pull began, metres.
    #[must_use]
    pub fn design_before(&self) -> Vector3<f64> {
        self.design
    }

    /// Where the point goes in the design pose, metres, when it is pulled to a place in the pose.
    #[must_use]
    pub fn design_place(&self, to: Vector3<f64>) -> Vector3<f64> {
        self.design + self.design_from_pose * (to - self.posed)
    }
}

/// Three points of the part that carries a point; `None` where the body carries it.
fn carrier_points(corner: &Corner, pickup: Pickup) -> Option<[Pickup; 3]> {
    use Pickup as P;
    let steered = corner.pickups.get(P::TieRodOuter).is_some();
    let toe = if steered { P::TieRodOuter } else { P::ToeLinkOuter };
    let upright = match corner.linkage {
        LinkageKind::DoubleWishbone => [P::LowerBallJoint, P::UpperBallJoint, toe],
        LinkageKind::Strut => [P::LowerBallJoint, P::StrutBottom, toe],
        LinkageKind::FiveLink => [P::UpperFrontLinkOuter, P::LowerFrontLinkOuter, P::LowerRearLinkOuter],
        LinkageKind::HArm => [P::HArmOuterFront, P::HArmOuterRear, P::UpperLinkOuter],
        // Two points of the hinge stay; the eye that moves with the arm tells its turn.
        LinkageKind::TrailingArm => [P::ArmPivotOutboard, P::ArmPivotInboard, P::DamperRocker],
        LinkageKind::BeamAxle => [P::LowerLinkOuter, P::UpperLinkOuter, P::DamperRocker],
    };
    Some(match corner.carrier(pickup)? {
        Carrier::UpperWishbone => [P::UpperWishboneFront, P::UpperWishboneRear, P::UpperBallJoint],
        Carrier::LowerWishbone => [P::LowerWishboneFront, P::LowerWishboneRear, P::LowerBallJoint],
        Carrier::HArm => [P::HArmInnerFront, P::HArmInnerRear, P::HArmOuterFront],
        Carrier::Upright => upright,
        Carrier::Rocker => [P::RockerPivot, P::RockerAxis, P::DamperRocker],
        Carrier::BarArm => [P::BarPivot, P::BarAxis, P::DropLinkBar],
        Carrier::Body | Carrier::Steering | Carrier::WattLever => return None,
    })
}

/// Right-handed unit axes through three points that are not in line.
fn axes(a: Vector3<f64>, b: Vector3<f64>, c: Vector3<f64>) -> Option<Matrix3<f64>> {
    let x = (b - a).try_normalize(1e-9)?;
    let z = x.cross(&(c - a)).try_normalize(1e-9)?;
    Some(Matrix3::from_columns(&[x, z.cross(&x), z]))
}
