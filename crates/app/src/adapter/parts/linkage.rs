//! What carries a wheel: wishbones, links, strut, trailing arm, H-arm, upright.

use super::body::into_body;
use super::{Parts, Posed};

use nalgebra::Point3;
use wheelpath_geometry::{Assembly, Component, Corner, Hardpoint, HubOn, Link, Side, Spring, WheelPosition};
use wheelpath_stage::view::segment::nearest_on;
use wheelpath_stage::view::{PartKind, size};

const WISHBONES: [([Hardpoint; 3], Component); 2] = [
    (
        [Hardpoint::UpperWishboneFront, Hardpoint::UpperWishboneRear, Hardpoint::UpperBallJoint],
        Component::UpperWishbone,
    ),
    (
        [Hardpoint::LowerWishboneFront, Hardpoint::LowerWishboneRear, Hardpoint::LowerBallJoint],
        Component::LowerWishbone,
    ),
];
/// Points that a bracket on an arm may carry.
const HELD: [Hardpoint; 5] = [
    Hardpoint::PushrodOuter,
    Hardpoint::DamperRocker,
    Hardpoint::SpringMoving,
    Hardpoint::DropLinkOuter,
    Hardpoint::ThirdSpringEnd,
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
const H_ARM: [Hardpoint; 4] = [
    Hardpoint::HArmInnerFront,
    Hardpoint::HArmInnerRear,
    Hardpoint::HArmOuterFront,
    Hardpoint::HArmOuterRear,
];
const KING_PIN: [Hardpoint; 2] = [Hardpoint::KingPinLower, Hardpoint::KingPinUpper];
const PIVOTS: [Hardpoint; 2] = [Hardpoint::ArmPivotOutboard, Hardpoint::ArmPivotInboard];

impl Parts<'_, '_> {
    pub(super) fn linkage(&mut self, at: WheelPosition, posed: &Posed) {
        let corner = self.car.corner(at);
        for ([front, rear, outer], part) in WISHBONES {
            let (Some(a), Some(b), Some(c)) = (posed.get(front), posed.get(rear), posed.get(outer)) else {
                continue;
            };
            let kind = PartKind::Wishbone { inner_front: a, inner_rear: b, outer: c, radius: size::ARM };
            self.push(kind, posed.assembly, &[front, rear, outer]);
            self.mounted(at, posed, &[front, rear]);
            self.brackets(at, posed, part, &[[a, c], [b, c]]);
        }
        for link in LINKS {
            let (inner, outer) = link.ends();
            let radius = if corner.linkage.spec().is_beam() { size::AXLE_LINK } else { size::ROD };
            self.rod(posed, [inner, outer], radius);
            if corner.carrier(inner) == Some(Component::Body) {
                self.mounted(at, posed, &[inner]);
            }
        }
        if let [Some(a), Some(b), Some(c), Some(d)] = H_ARM.map(|hardpoint| posed.get(hardpoint)) {
            let kind = PartKind::HArm { inner: [a, b], outer: [c, d], radius: size::ARM };
            self.push(kind, posed.assembly, &H_ARM);
            self.mounted(at, posed, &H_ARM[..2]);
            let middle = [nalgebra::center(&a, &c), nalgebra::center(&b, &d)];
            self.brackets(at, posed, Component::HArm, &[[a, c], [b, d], middle]);
        }
        if let [Some(outboard), Some(inboard)] = PIVOTS.map(|hardpoint| posed.get(hardpoint))
            && let Some((wheel_centre, spin_axis)) =
                self.view.wheels.last().map(|wheel| (wheel.centre, wheel.spin_axis))
        {
            let kind = PartKind::TrailingArm { pivots: [outboard, inboard], wheel_centre, spin_axis };
            self.push(kind, posed.assembly, &PIVOTS);
            self.mounted(at, posed, &PIVOTS);
            let legs = [[outboard, wheel_centre], [inboard, wheel_centre]];
            self.brackets(at, posed, Component::Upright, &legs);
        }
        if let [Some(a), Some(b)] = KING_PIN.map(|hardpoint| posed.get(hardpoint))
            && corner.linkage.spec().hub_on == HubOn::Knuckle
        {
            self.push(PartKind::Tube { a, b, radius: size::BAR }, posed.assembly, &KING_PIN);
        }
        let brackets = self.strut(corner, posed);
        self.upright(corner, posed, &brackets);
    }

    /// A block on the body for each of these points.
    pub(super) fn mounted(&mut self, at: WheelPosition, posed: &Posed, hardpoints: &[Hardpoint]) {
        for &hardpoint in hardpoints {
            if let Some(place) = posed.get(hardpoint) {
                self.mount(place, into_body(self.car, at.into(), hardpoint));
            }
        }
    }

    /// A bracket for each point that an arm carries off its legs, from the nearest place on them.
    fn brackets(&mut self, at: WheelPosition, posed: &Posed, on: Component, legs: &[[Point3<f64>; 2]]) {
        let third = self.car.axle(at.end).third_spring.map(|spring| spring.on);
        for hardpoint in HELD {
            let carrier = if hardpoint == Hardpoint::ThirdSpringEnd {
                third
            } else {
                self.car.corner(at).carrier(hardpoint)
            };
            let Some(joint) = posed.get(hardpoint).filter(|_| carrier == Some(on)) else { continue };
            let feet = legs.iter().map(|[from, to]| nearest_on([*from, *to], joint));
            let Some(foot) = feet.min_by(|a, b| (a - joint).norm().total_cmp(&(b - joint).norm())) else {
                continue;
            };
            let kind = PartKind::Bracket { foot, joint };
            self.push(kind, posed.assembly, &[hardpoint]);
        }
    }

    /// Adds the strut, and gives the points of the upright that stand on its tube.
    fn strut(&mut self, corner: &Corner, posed: &Posed) -> Vec<Hardpoint> {
        use Hardpoint as P;
        let (Some(top), Some(bottom)) = (posed.vector(P::StrutTop), posed.vector(P::StrutBottom)) else {
            return Vec::new();
        };
        // What the upright carries above the strut's lower point stands on the tube.
        let above = |hardpoint: &Hardpoint| {
            let on = corner.carrier(*hardpoint) == Some(Component::Upright);
            on && posed.vector(*hardpoint).is_some_and(|at| (at - bottom).dot(&(top - bottom)) > 0.0)
        };
        let held: Vec<P> =
            [P::DropLinkOuter, P::SpringMoving, P::DamperRocker].into_iter().filter(above).collect();
        let place = |hardpoint| corner.hardpoints.get(hardpoint);
        let design = place(P::StrutTop).zip(place(P::StrutBottom)).map_or(0.4, |(a, b)| (a - b).norm());
        // Long enough to leave the rod in the tube at full droop.
        let tube_length = corner.damper.map_or(0.6 * design, |stops| 0.82 * stops.shortest);
        let spring = matches!(corner.spring, None | Some(Spring::OnDamper { .. }));
        let brackets = posed.all(&held);
        let (top, bottom) = (Point3::from(top), Point3::from(bottom));
        let kind = PartKind::Strut { top, bottom, tube_length, spring, brackets };
        self.push(kind, posed.assembly, &[P::StrutTop, P::StrutBottom]);
        held
    }

    /// The king pin, and the ends of drag link and track rod on the knuckle that turns about it.
    fn on_knuckle(&self, posed: &Posed) -> Vec<Point3<f64>> {
        use Hardpoint as P;
        let mut joints = posed.all(&KING_PIN);
        let Some(at) = posed.assembly.wheel() else { return joints };
        let own = Posed::of(self.solver, self.solved, Assembly::Axle(at.end));
        joints.extend(own.all(match at.side {
            Side::Left => &[P::TrackRodLeft, P::DragLinkLeft],
            Side::Right => &[P::TrackRodRight, P::DragLinkRight],
        }));
        joints
    }

    /// The upright with a limb to every point it carries; a trailing arm or a beam axle, which carries
    /// them itself, has only the hub here.
    fn upright(&mut self, corner: &Corner, posed: &Posed, elsewhere: &[Hardpoint]) {
        let carried = |hardpoint: &&Hardpoint| {
            corner.linkage.spec().hub_on == HubOn::Upright
                && corner.carrier(**hardpoint) == Some(Component::Upright)
                && !elsewhere.contains(hardpoint)
        };
        let mut joints: Vec<Point3<f64>> =
            Hardpoint::ALL.iter().filter(carried).filter_map(|&hardpoint| posed.get(hardpoint)).collect();
        if corner.linkage.spec().hub_on == HubOn::Knuckle {
            joints = self.on_knuckle(posed);
        }
        if let Some(wheel) = self.view.wheels.last() {
            self.push_plain(PartKind::Upright {
                wheel_centre: wheel.centre,
                spin_axis: wheel.spin_axis,
                joints,
            });
        }
    }
}
