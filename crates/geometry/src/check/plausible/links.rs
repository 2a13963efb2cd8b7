//! Wishbones and links: how long, how slanted, beside their likes.

use super::{Measured, Place, share_along};
use crate::car::Axle;
use crate::car::hardpoint::{Hardpoint, Hardpoint as P, Link};
use crate::car::position::{End, Side};
use crate::check::Subject;
use crate::check::usual::{self, Usual};
use crate::linkage;
use crate::linkage::spec::HubOn;
use nalgebra::Vector3;

/// A wishbone's or H-arm's hinge: front, rear, and a point that it carries outboard.
const ARMS: [[Hardpoint; 3]; 3] = [
    [P::UpperWishboneFront, P::UpperWishboneRear, P::UpperBallJoint],
    [P::LowerWishboneFront, P::LowerWishboneRear, P::LowerBallJoint],
    [P::HArmInnerFront, P::HArmInnerRear, P::HArmOuterFront],
];

impl Place<'_> {
    pub(super) fn links(&mut self) {
        for [front, rear, ball] in ARMS {
            let (Some(f), Some(r), Some(b)) = (self.at(front), self.at(rear), self.at(ball)) else {
                continue;
            };
            let hinge = f - r;
            let along = share_along(&b, &r, &f);
            let foot = r + hinge * along;
            let points = [front, rear];
            self.of_points(usual::HINGE_PLAN, hinge.y.atan2(hinge.x), &points);
            self.of_points(usual::HINGE_SLOPE, hinge.z.atan2(hinge.x), &points);
            self.of_points(usual::HINGE_BASE, hinge.norm() / (b - foot).norm(), &points);
            if ball != P::HArmOuterFront {
                self.of_points(usual::BALL_BETWEEN, along, &[front, rear, ball]);
            }
            let arm = b - foot;
            self.of_points(usual::ARM_SPAN, arm.norm(), &[ball, front, rear]);
            self.of_points(usual::ARM_SLOPE, arm.z.atan2(arm.y), &[ball, front, rear]);
        }
        let own = |arm: [Hardpoint; 3]| {
            let [front, rear, ball] = arm;
            let (f, r, b) = (self.at(front)?, self.at(rear)?, self.at(ball)?);
            Some(super::off_line(&b, &f, &r))
        };
        if let (Some(upper), Some(lower)) = (own(ARMS[0]), own(ARMS[1])) {
            self.of_points(usual::UPPER_OVER_LOWER, upper / lower, &[P::UpperBallJoint, P::LowerBallJoint]);
        }
        let base = |arm: [Hardpoint; 3]| Some((self.at(arm[0])? - self.at(arm[1])?).norm());
        if let (Some(upper), Some(lower)) = (base(ARMS[0]), base(ARMS[1])) {
            let points = [ARMS[0][0], ARMS[0][1], ARMS[1][0], ARMS[1][1]];
            self.of_points(usual::HINGE_BASES_ALIKE, upper / lower, &points);
        }
        if let (Some(f), Some(r)) = (self.at(P::HArmOuterFront), self.at(P::HArmOuterRear)) {
            let hinge = f - r;
            let points = [P::HArmOuterFront, P::HArmOuterRear];
            self.of_points(usual::HINGE_PLAN, hinge.y.atan2(hinge.x), &points);
            self.of_points(usual::HINGE_SLOPE, hinge.z.atan2(hinge.x), &points);
            self.of_points(usual::OUTER_HINGE, hinge.norm(), &points);
        }
        if let (Some(outer), Some(inner)) = (self.at(P::ArmPivotOutboard), self.at(P::ArmPivotInboard)) {
            let hinge = outer - inner;
            let points = [P::ArmPivotOutboard, P::ArmPivotInboard];
            self.of_points(usual::ARM_SWEEP, hinge.x.atan2(hinge.y), &points);
            self.of_points(usual::ARM_HINGE_SLOPE, hinge.z.atan2(hinge.y), &points);
            self.of_points(usual::ARM_HINGE, hinge.norm(), &points);
            self.of_points(usual::ARM_AHEAD, outer.x, &points);
            self.of_points(usual::ARM_HEIGHT, outer.z - self.size, &points);
            self.of_points(usual::ARM_PIVOT_IN, outer.y, &points);
        }
        self.single_links();
        self.rod_beside_arms();
    }

    /// Links across the car that are rods of their own.
    fn single_links(&mut self) {
        if self.corner.linkage.spec().hub_on != HubOn::Upright {
            return;
        }
        let rods = linkage::links(self.corner.linkage, self.axle.steering.steers());
        let is_rod = |link: &Link| {
            !matches!(
                link,
                Link::UpperFrontLeg | Link::UpperRearLeg | Link::LowerFrontLeg | Link::LowerRearLeg
            )
        };
        for link in rods.into_iter().filter(is_rod) {
            let (inner, outer) = link.ends();
            let (Some(a), Some(b)) = (self.at(inner), self.at(outer)) else { continue };
            let rod = b - a;
            let plan =
                if matches!(link, Link::TieRod | Link::ToeLink) { usual::ROD_PLAN } else { usual::LINK_PLAN };
            self.of_points(plan, rod.x.atan2(rod.y), &[inner, outer]);
            self.of_points(usual::LINK_SLOPE, rod.z.atan2(rod.y), &[inner, outer]);
            self.of_points(usual::LINK_LENGTH, rod.norm(), &[inner, outer]);
        }
    }

    /// A tie rod or toe link beside the arms or links it works with: its inner end near the line through
    /// theirs, at its own height.
    fn rod_beside_arms(&mut self) {
        let mean = |a: P, b: P| Some((self.at(a)? + self.at(b)?) * 0.5);
        let pair = |one: P, other: P| self.at(one).or_else(|| self.at(other));
        let Some(rod) = pair(P::TieRodInner, P::ToeLinkInner) else { return };
        let point = if self.at(P::TieRodInner).is_some() { P::TieRodInner } else { P::ToeLinkInner };
        let lower = mean(P::LowerWishboneFront, P::LowerWishboneRear)
            .or_else(|| mean(P::LowerFrontLinkInner, P::LowerRearLinkInner));
        let upper = mean(P::UpperWishboneFront, P::UpperWishboneRear)
            .or_else(|| mean(P::UpperFrontLinkInner, P::UpperRearLinkInner));
        let Some(lower) = lower else { return };
        let expected = upper.map_or(lower.y, |upper| {
            lower.y + (upper.y - lower.y) * ((rod.z - lower.z) / (upper.z - lower.z)).clamp(0.0, 1.0)
        });
        self.of_points(usual::ROD_INNER_BESIDE, rod.y - expected, &[point]);
    }
}

/// Links of a beam axle.
pub(super) fn beam(axle: &Axle, end: End, all: &mut Vec<Measured>) {
    if !axle.is_beam() {
        return;
    }
    let [left, right] = [&axle.left.wheel, &axle.right.wheel];
    let centre = (left.centre + right.centre) * 0.5;
    let half = 0.5 * (left.centre.y - right.centre.y);
    let size = 0.5 * (left.tyre_radius + right.tyre_radius);
    let mut add = |usual: Usual, value: f64, side: Option<Side>, points: &[Hardpoint]| {
        let Some(first) = points.first() else { return };
        all.push(Measured {
            usual,
            value,
            tyre_radius: size,
            end: Some(end),
            side,
            subject: Subject::Hardpoint(*first),
            points: points.to_vec(),
        });
    };
    let ends = |hardpoints: &crate::car::Hardpoints, link: Link| {
        let (inner, outer) = link.ends();
        Some((hardpoints.get(inner)?, hardpoints.get(outer)?, [inner, outer]))
    };
    for side in Side::BOTH {
        for link in [Link::LowerLink, Link::UpperLink] {
            let Some((a, b, points)) = ends(&axle.corner(side).hardpoints, link) else { continue };
            let rod = a - b;
            let sign = side.sign();
            add(usual::TRAILING_LENGTH, rod.norm(), Some(side), &points);
            add(usual::TRAILING_SLOPE, rod.z.atan2(rod.x.abs()), Some(side), &points);
            let plan =
                if link == Link::LowerLink { usual::TRAILING_PLAN } else { usual::UPPER_TRAILING_PLAN };
            add(plan, (sign * rod.y).atan2(rod.x.abs()), Some(side), &points);
            add(usual::ON_AXLE_AHEAD, b.x - centre.x, Some(side), &points[1..]);
            let up = if link == Link::LowerLink { usual::LOWER_LINK_UP } else { usual::UPPER_LINK_UP };
            add(up, b.z - centre.z, Some(side), &points[1..]);
            let inside = if link == Link::LowerLink { usual::LOWER_LINK_OUT } else { usual::UPPER_LINK_OUT };
            add(inside, sign * b.y / half, Some(side), &points[1..]);
        }
    }
    let own = &axle.hardpoints;
    let length =
        |ends: Option<(Vector3<f64>, Vector3<f64>, [Hardpoint; 2])>| ends.map(|(a, b, _)| (a - b).norm());
    for side in Side::BOTH {
        let corner = &axle.corner(side).hardpoints;
        let (lower, upper) = (ends(corner, Link::LowerLink), ends(corner, Link::UpperLink));
        let (top, upper) = (if upper.is_some() { upper } else { ends(own, Link::TopLink) }, upper);
        let (Some(l), Some(u)) = (length(lower), length(top)) else { continue };
        let (inner, outer) = if upper.is_some() { Link::UpperLink.ends() } else { Link::TopLink.ends() };
        let below = Link::LowerLink.ends();
        add(usual::UPPER_LINK_OVER_LOWER, u / l, Some(side), &[below.0, below.1, inner, outer]);
    }
    if let Some((a, b, points)) = ends(own, Link::TopLink) {
        let rod = a - b;
        add(usual::TRAILING_LENGTH, rod.norm(), None, &points);
        add(usual::TOP_SLOPE, rod.z.atan2(rod.x.abs()), None, &points);
        add(usual::TRAILING_PLAN, rod.y.atan2(rod.x.abs()), None, &points);
        add(usual::ON_AXLE_AHEAD, b.x - centre.x, None, &points[1..]);
        add(usual::ON_AXLE_ABOVE, b.z - centre.z, None, &points[1..]);
        add(usual::ON_CENTRE, b.y / half, None, &points[1..]);
    }
    if let Some((a, b, points)) = ends(own, Link::PanhardRod) {
        let rod = b - a;
        add(usual::PANHARD_LENGTH, rod.y.abs() / half, None, &points);
        add(usual::PANHARD_SLOPE, rod.z.atan2(rod.y.abs()), None, &points);
        add(usual::PANHARD_SKEW, rod.x.atan2(rod.y.abs()), None, &points);
        add(usual::PANHARD_MIDDLE, 0.5 * (a.y + b.y) / half, None, &points);
        add(usual::PANHARD_AHEAD, b.x - centre.x, None, &points[1..]);
        add(usual::ON_AXLE_UP, b.z - centre.z, None, &points[1..]);
    }
    if let Some((a, b, points)) = ends(own, Link::TorqueArmLink) {
        let rod = a - b;
        let upright = rod.x.hypot(rod.y).atan2(rod.z.abs());
        add(usual::DROP_UPRIGHT, upright, None, &points);
        add(usual::DROP_LENGTH, rod.norm(), None, &points);
        add(usual::TORQUE_ARM, b.x - centre.x, None, &points);
        add(usual::ON_CENTRE, b.y / half, None, &points[1..]);
        add(usual::ON_AXLE_UP, b.z - centre.z, None, &points[1..]);
    }
    watt(axle, (centre, half), &mut add);
}

fn watt(
    axle: &Axle,
    (centre, half): (Vector3<f64>, f64),
    add: &mut impl FnMut(Usual, f64, Option<Side>, &[Hardpoint]),
) {
    let get = |hardpoint| axle.hardpoints.get(hardpoint);
    let (Some(pivot), Some(axis)) = (get(P::WattPivot), get(P::WattAxis)) else { return };
    let line = axis - pivot;
    add(usual::WATT_AXIS, super::between(&line, &Vector3::x()), None, &[P::WattPivot, P::WattAxis]);
    add(usual::ON_CENTRE, pivot.y / half, None, &[P::WattPivot]);
    add(usual::PANHARD_AHEAD, pivot.x - centre.x, None, &[P::WattPivot]);
    add(usual::ON_AXLE_UP, pivot.z - centre.z, None, &[P::WattPivot]);
    let lever = |end: P| Some(get(end)? - pivot);
    if let (Some(left), Some(right)) = (lever(P::WattLeverLeft), lever(P::WattLeverRight)) {
        let both = [P::WattLeverLeft, P::WattLeverRight];
        let reach = |arm: Vector3<f64>| (arm - line * (arm.dot(&line) / line.norm_squared())).norm();
        add(usual::WATT_LEVER, reach(left), None, &both[..1]);
        add(usual::WATT_LEVER, reach(right), None, &both[1..]);
        add(usual::WATT_ARMS_ALIKE, reach(left) / reach(right), None, &both);
        add(usual::WATT_STRAIGHT, super::between(&left, &(left - right)), None, &both);
        add(usual::WATT_UPRIGHT, super::between(&(left - right), &Vector3::z()), None, &both);
    }
    for (end, rod) in [(P::WattLeverLeft, P::WattRodLeft), (P::WattLeverRight, P::WattRodRight)] {
        if let (Some(a), Some(b)) = (get(end), get(rod)) {
            let rod_line = b - a;
            add(usual::PANHARD_SLOPE, rod_line.z.atan2(rod_line.y.abs()), None, &[rod, end]);
            add(usual::PANHARD_SKEW, rod_line.x.atan2(rod_line.y.abs()), None, &[rod, end]);
            // Its end on the body or axle is on its own side.
            let own = if rod == P::WattRodLeft { 1.0 } else { -1.0 };
            add(usual::WATT_ROD, own * rod_line.y / half, None, &[rod, end]);
            add(usual::WATT_ALONG, a.x - pivot.x, None, &[end]);
        }
    }
}
