//! What carries a wheel: wishbones, links, strut, trailing arm, H-arm, upright.

use super::body::into_body;
use super::{Parts, Posed};
use crate::stage::view::{PartKind, size};
use nalgebra::Point3;
use wheelpath_geometry::{Carrier, Corner, Link, LinkageKind, Pickup, Spring, WheelAt};

const WISHBONES: [([Pickup; 3], Carrier); 2] = [
    ([Pickup::UpperWishboneFront, Pickup::UpperWishboneRear, Pickup::UpperBallJoint], Carrier::UpperWishbone),
    ([Pickup::LowerWishboneFront, Pickup::LowerWishboneRear, Pickup::LowerBallJoint], Carrier::LowerWishbone),
];
/// Points that a bracket on an arm may carry.
const HELD: [Pickup; 5] = [
    Pickup::PushrodOuter,
    Pickup::DamperRocker,
    Pickup::SpringMoving,
    Pickup::DropLinkOuter,
    Pickup::ThirdSpringEnd,
];
const LINKS: [Link; 8] = [
    Link::TieRod,
    Link::ToeLink,
    Link::UpperFrontLink,
    Link::UpperRearLink,
    Link::LowerFrontLink,
    Link::LowerRearLink,
    Link::UpperLink,
    Link::LowerLink,
];
const H_ARM: [Pickup; 4] =
    [Pickup::HArmInnerFront, Pickup::HArmInnerRear, Pickup::HArmOuterFront, Pickup::HArmOuterRear];
const PIVOTS: [Pickup; 2] = [Pickup::ArmPivotOutboard, Pickup::ArmPivotInboard];

impl Parts<'_, '_> {
    pub(super) fn linkage(&mut self, at: WheelAt, posed: &Posed) {
        let corner = self.car.corner(at);
        for ([front, rear, outer], part) in WISHBONES {
            let (Some(a), Some(b), Some(c)) = (posed.get(front), posed.get(rear), posed.get(outer)) else {
                continue;
            };
            let kind = PartKind::Wishbone { inner_front: a, inner_rear: b, outer: c, radius: size::ARM };
            self.push(kind, posed.owner, &[front, rear, outer]);
            self.mounted(at, posed, &[front, rear]);
            self.brackets(at, posed, part, &[[a, c], [b, c]]);
        }
        for link in LINKS {
            let (inner, outer) = link.ends();
            let radius = if corner.linkage == LinkageKind::BeamAxle { size::AXLE_LINK } else { size::ROD };
            self.rod(posed, [inner, outer], radius);
            if corner.carrier(inner) == Some(Carrier::Body) {
                self.mounted(at, posed, &[inner]);
            }
        }
        if let [Some(a), Some(b), Some(c), Some(d)] = H_ARM.map(|pickup| posed.get(pickup)) {
            let kind = PartKind::HArm { inner: [a, b], outer: [c, d], radius: size::ARM };
            self.push(kind, posed.owner, &H_ARM);
            self.mounted(at, posed, &H_ARM[..2]);
            let middle = [nalgebra::center(&a, &c), nalgebra::center(&b, &d)];
            self.brackets(at, posed, Carrier::HArm, &[[a, c], [b, d], middle]);
        }
        if let [Some(outboard), Some(inboard)] = PIVOTS.map(|pickup| posed.get(pickup))
            && let Some((wheel_centre, spin_axis)) =
                self.view.wheels.last().map(|wheel| (wheel.centre, wheel.spin_axis))
        {
            let kind = PartKind::TrailingArm { pivots: [outboard, inboard], wheel_centre, spin_axis };
            self.push(kind, posed.owner, &PIVOTS);
            self.mounted(at, posed, &PIVOTS);
            let legs = [[outboard, wheel_centre], [inboard, wheel_centre]];
            self.brackets(at, posed, Carrier::Upright, &legs);
        }
        let brackets = self.strut(corner, posed);
        self.upright(corner, posed, &brackets);
    }

    /// A block on the body for each of these points.
    pub(super) fn mounted(&mut self, at: WheelAt, posed: &Posed, pickups: &[Pickup]) {
        for &pickup in pickups {
            if let Some(place) = posed.get(pickup) {
                self.mount(place, into_body(self.car, at.into(), pickup));
            }
        }
    }

    /// A bracket for each point that an arm carries off its legs, from the nearest place on them.
    fn brackets(&mut self, at: WheelAt, posed: &Posed, on: Carrier, legs: &[[Point3<f64>; 2]]) {
        let third = self.car.axle(at.end).third_spring.map(|spring| spring.on);
        for pickup in HELD {
            let carrier =
                if pickup == Pickup::ThirdSpringEnd { third } else { self.car.corner(at).carrier(pickup) };
            let Some(joint) = posed.get(pickup).filter(|_| carrier == Some(on)) else { continue };
            let feet = legs.iter().map(|[from, to]| nearest_on(*from, *to, joint));
            let Some(foot) = feet.min_by(|a, b| (a - joint).norm().total_cmp(&(b - joint).norm())) else {
                continue;
            };
            let kind = PartKind::Bracket { foot, joint };
            self.push(kind, posed.owner, &[pickup]);
        }
    }

    /// Adds the strut, and gives the points of the upright that stand on its tube.
    fn strut(&mut self, corner: &Corner, posed: &Posed) -> Vec<Pickup> {
        use Pickup as P;
        let (Some(top), Some(bottom)) = (posed.vector(P::StrutTop), posed.vector(P::StrutBottom)) else {
            return Vec::new();
        };
        // What the upright carries above the strut's lower point stands on the tube.
        let above = |pickup: &Pickup| {
            let on = corner.carrier(*pickup) == Some(Carrier::Upright);
            on && posed.vector(*pickup).is_some_and(|at| (at - bottom).dot(&(top - bottom)) > 0.0)
        };
        let held: Vec<P> =
            [P::DropLinkOuter, P::SpringMoving, P::DamperRocker].into_iter().filter(above).collect();
        let place = |pickup| corner.pickups.get(pickup);
        let design = place(P::StrutTop).zip(place(P::StrutBottom)).map_or(0.4, |(a, b)| (a - b).norm());
        // Long enough to leave the rod in the tube at full droop.
        let tube_length = corner.damper.map_or(0.6 * design, |stops| 0.82 * stops.shortest);
        let spring = matches!(corner.spring, None | Some(Spring::OnDamper { .. }));
        let brackets = posed.all(&held);
        let (top, bottom) = (Point3::from(top), Point3::from(bottom));
        let kind = PartKind::Strut { top, bottom, tube_length, spring, brackets };
        self.push(kind, posed.owner, &[P::StrutTop, P::StrutBottom]);
        held
    }

    /// The upright with a limb to every point it carries; a trailing arm or a beam axle, which carries
    /// them itself, has only the hub here.
    fn upright(&mut self, corner: &Corner, posed: &Posed, elsewhere: &[Pickup]) {
        let carried = |pickup: &&Pickup| {
            !matches!(corner.linkage, LinkageKind::BeamAxle | LinkageKind::TrailingArm)
                && corner.carrier(**pickup) == Some(Carrier::Upright)
                && !elsewhere.contains(pickup)
        };
        let joints = Pickup::ALL.iter().filter(carried).filter_map(|&pickup| posed.get(pickup)).collect();
        if let Some(wheel) = self.view.wheels.last() {
            self.push_plain(PartKind::Upright {
                wheel_centre: wheel.centre,
                spin_axis: wheel.spin_axis,
                joints,
            });
        }
    }
}

/// The place on a leg that is nearest to a point.
fn nearest_on(from: Point3<f64>, to: Point3<f64>, point: Point3<f64>) -> Point3<f64> {
    let along = to - from;
    from + along * ((point - from).dot(&along) / along.norm_squared().max(1e-12)).clamp(0.0, 1.0)
}
