//! What a wishbone, an arm or a rocker carries: near that part; and joints' studs.

use super::{Place, between, off_line, share_along};
use crate::car::Component;
use crate::car::hardpoint::{Hardpoint, Hardpoint as P, Link};
use crate::check::usual;
use nalgebra::Vector3;

/// Distance of a point from a triangle's plane inside it, from its edges outside.
fn off_triangle(point: &Vector3<f64>, corners: [Vector3<f64>; 3]) -> f64 {
    let [a, b, c] = corners;
    let edge = |from: &Vector3<f64>, to: &Vector3<f64>| {
        let along = share_along(point, from, to).clamp(0.0, 1.0);
        (point - (from + (to - from) * along)).norm()
    };
    let nearest_edge = edge(&a, &b).min(edge(&b, &c)).min(edge(&c, &a));
    let normal = (b - a).cross(&(c - a));
    let is_inside = [(a, b), (b, c), (c, a)]
        .iter()
        .all(|(from, to)| (to - from).cross(&(point - from)).dot(&normal) >= 0.0);
    if is_inside { (point - a).dot(&normal).abs() / normal.norm() } else { nearest_edge }
}

impl Place<'_> {
    pub(super) fn carried(&mut self) {
        for hardpoint in
            [P::PushrodOuter, P::DamperRocker, P::SpringMoving, P::DropLinkOuter, P::ThirdSpringEnd]
        {
            let arm: [P; 3] = match self.axle.carrier_at(self.side, hardpoint) {
                Some(Component::UpperWishbone) => {
                    [P::UpperWishboneFront, P::UpperWishboneRear, P::UpperBallJoint]
                }
                Some(Component::LowerWishbone) => {
                    [P::LowerWishboneFront, P::LowerWishboneRear, P::LowerBallJoint]
                }
                Some(Component::HArm) => [P::HArmInnerFront, P::HArmInnerRear, P::HArmOuterFront],
                _ => continue,
            };
            let (Some(point), [Some(f), Some(r), Some(b)]) = (self.at(hardpoint), arm.map(|p| self.at(p)))
            else {
                continue;
            };
            let hinge = f - r;
            let foot = r + hinge * share_along(&b, &r, &f);
            let mut off = off_triangle(&point, [f, r, b]);
            // An H-arm has a fourth corner.
            if let Some(fourth) = self.at(P::HArmOuterRear).filter(|_| arm.contains(&P::HArmOuterFront)) {
                off = off.min(off_triangle(&point, [r, b, fourth]));
            }
            self.of_points(usual::OFF_ARM, off, &[hardpoint]);
            let along = if hardpoint == P::PushrodOuter { usual::PUSHROD_ALONG } else { usual::ALONG_ARM };
            self.of_points(along, share_along(&point, &foot, &b), &[hardpoint]);
        }
        self.rocker();
        self.bar();
        self.studs();
    }

    fn rocker(&mut self) {
        let (Some(pivot), Some(axis)) = (self.at(P::RockerPivot), self.at(P::RockerAxis)) else { return };
        let line = (axis - pivot).normalize();
        let mut radii = Vec::new();
        let rods = [
            (P::PushrodInner, P::PushrodOuter, Some(Component::Rocker)),
            (P::DamperRocker, P::DamperBody, self.axle.carrier_at(self.side, P::DamperRocker)),
            (P::DropLinkOuter, P::DropLinkBar, self.axle.carrier_at(self.side, P::DropLinkOuter)),
        ];
        for (tip, far, on) in rods {
            if on != Some(Component::Rocker) {
                continue;
            }
            let (Some(t), Some(f)) = (self.at(tip), self.at(far)) else { continue };
            let arm = t - pivot;
            let along = arm.dot(&line);
            let out = arm - line * along;
            let rod = f - t;
            let points = [tip, far, P::RockerPivot, P::RockerAxis];
            self.of_points(usual::ROCKER_ARM, out.norm(), &points);
            self.of_points(usual::ROCKER_ASIDE, along, &points);
            let off_plane = rod.dot(&line).abs().atan2(rod.cross(&line).norm());
            self.of_points(usual::ROCKER_PLANE, off_plane, &points);
            let flat = rod - line * rod.dot(&line);
            self.of_points(usual::ROCKER_LEVER, between(&out, &flat), &points);
            radii.push((out.norm(), tip));
        }
        if let [first, second, ..] = radii.as_slice() {
            self.of_points(
                usual::ROCKER_ARMS_ALIKE,
                first.0 / second.0,
                &[first.1, second.1, P::RockerPivot],
            );
        }
        if let (Some(a), Some(b)) = (self.at(P::PushrodInner), self.at(P::PushrodOuter)) {
            self.of_points(usual::PUSHROD_LENGTH, (a - b).norm(), &[P::PushrodInner, P::PushrodOuter]);
            let rod = b - a;
            self.of_points(
                usual::PUSHROD_SKEW,
                rod.x.atan2(rod.y.hypot(rod.z)),
                &[P::PushrodOuter, P::PushrodInner],
            );
        }
    }

    fn bar(&mut self) {
        if let (Some(a), Some(b)) = (self.at(P::DropLinkBar), self.at(P::DropLinkOuter)) {
            let points = [P::DropLinkBar, P::DropLinkOuter];
            self.of_points(usual::DROP_LINK, (a - b).norm(), &points);
            if self.axle.carrier_at(self.side, P::DropLinkOuter) != Some(Component::Rocker) {
                self.of_points(usual::DROP_LINK_UPRIGHT, between(&(a - b), &Vector3::z()), &points);
            }
        }
        let (Some(pivot), Some(axis), Some(tip)) =
            (self.at(P::BarPivot), self.at(P::BarAxis), self.at(P::DropLinkBar))
        else {
            return;
        };
        let line = (axis - pivot).normalize();
        let points = [P::BarPivot, P::DropLinkBar, P::BarAxis];
        let arm = tip - pivot;
        self.of_points(usual::BAR_ARM, off_line(&tip, &pivot, &axis), &points);
        self.of_points(usual::BAR_ARM_ASIDE, arm.dot(&line).abs() / arm.norm(), &points);
        self.of_points(usual::BAR_PIVOT_OUT, self.pivot_out(&pivot), &[P::BarPivot]);
        if let Some(outer) = self.at(P::DropLinkOuter) {
            let out = arm - line * arm.dot(&line);
            let rod = outer - tip;
            self.of_points(usual::BAR_LEVER, between(&out, &(rod - line * rod.dot(&line))), &points);
            self.of_points(
                usual::DROP_LINK_ASIDE,
                rod.dot(&line).abs().atan2(rod.cross(&line).norm()),
                &[P::DropLinkOuter, P::DropLinkBar],
            );
        }
    }

    /// How far out the bar's pivot stands, as a share of the half track.
    fn pivot_out(&self, pivot: &Vector3<f64>) -> f64 {
        let half = self.side.sign() * self.corner.wheel.centre.y;
        (pivot.y + half) / half
    }

    /// Studs stand square to the links on them; joints swing as far as joints do.
    fn studs(&mut self) {
        for &(joint, axis) in &self.corner.joint_axes {
            for &link in Link::ALL {
                let (inner, outer) = link.ends();
                let (Some(a), Some(b)) =
                    (self.corner.hardpoints.get(inner), self.corner.hardpoints.get(outer))
                else {
                    continue;
                };
                if joint == inner || joint == outer {
                    let points: [Hardpoint; 1] = [joint];
                    self.of_points(usual::STUD, between(&(b - a), &axis), &points);
                }
            }
        }
        for &(joint, limit) in &self.corner.joint_limits {
            self.of_points(usual::JOINT_SWING, limit, &[joint]);
        }
    }
}
