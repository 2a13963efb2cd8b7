//! King pins, steering arms, drag link and track rod of a beam axle.

use super::{Measured, Place, off_line};
use crate::car::hardpoint::{Hardpoint, Hardpoint as P, Link};
use crate::car::position::{End, Side};
use crate::car::steering::Steering;
use crate::car::{Axle, Hardpoints};
use crate::check::Subject;
use crate::check::usual::{self, Usual};
use nalgebra::Vector3;
use std::f64::consts::FRAC_PI_2;

impl Place<'_> {
    /// The king pin beside its wheel.
    pub(super) fn king_pin(&mut self) {
        let (Some(upper), Some(lower)) = (self.at(P::KingPinUpper), self.at(P::KingPinLower)) else { return };
        let points = [P::KingPinUpper, P::KingPinLower];
        self.of_points(usual::KING_PIN, (upper - lower).norm(), &points);
        for (at, up, point) in [
            (upper, usual::KING_PIN_TOP_UP, P::KingPinUpper),
            (lower, usual::KING_PIN_FOOT_UP, P::KingPinLower),
        ] {
            self.of_points(up, at.z - self.size, &[point]);
            self.of_points(usual::JOINT_OUT, at.y, &[point]);
            self.of_points(usual::KING_PIN_AHEAD, at.x, &[point]);
        }
    }
}

fn link(own: &Hardpoints, link: Link) -> Option<(Vector3<f64>, Vector3<f64>, [Hardpoint; 2])> {
    let (inner, outer) = link.ends();
    Some((own.get(inner)?, own.get(outer)?, [outer, inner]))
}

/// What steers an axle with king pins.
pub(super) fn steering(axle: &Axle, end: End, all: &mut Vec<Measured>) {
    if !axle.left.linkage.spec().has_track_rod {
        return;
    }
    let size = 0.5 * (axle.left.wheel.tyre_radius + axle.right.wheel.tyre_radius);
    let mut add = |usual: Usual, value: f64, points: &[Hardpoint]| {
        let Some(first) = points.first() else { return };
        all.push(Measured {
            usual,
            value,
            tyre_radius: size,
            end: Some(end),
            side: None,
            subject: Subject::Hardpoint(*first),
            points: points.to_vec(),
        });
    };
    let own = &axle.hardpoints;
    for (side, ends) in [
        (Side::Left, [P::TrackRodLeft, P::DragLinkLeft]),
        (Side::Right, [P::TrackRodRight, P::DragLinkRight]),
    ] {
        let pin = |hardpoint| axle.corner(side).hardpoints.get(hardpoint);
        let (Some(lower), Some(upper)) = (pin(P::KingPinLower), pin(P::KingPinUpper)) else { continue };
        for hardpoint in ends {
            let Some(at) = own.get(hardpoint) else { continue };
            add(usual::STEERING_ARM, off_line(&at, &lower, &upper), &[hardpoint]);
            let share = (at.z - lower.z) / (upper.z - lower.z);
            let arm = at - (lower + (upper - lower) * share);
            let out = side.sign() * arm.y;
            let (usual, value) = if hardpoint == ends[0] {
                (usual::TRACK_ROD_BESIDE, out * arm.x.signum())
            } else {
                (usual::ROD_BESIDE_AXIS, out)
            };
            add(usual, value, &[hardpoint]);
            add(usual::ARM_UP, at.z - axle.corner(side).wheel.centre.z, &[hardpoint]);
        }
    }
    if let Some((left, right, points)) = link(own, Link::TrackRod) {
        let rod = left - right;
        add(usual::TRACK_ROD_SLOPE, rod.z.atan2(rod.y.abs()), &points);
        add(usual::TRACK_ROD_SKEW, rod.x.atan2(rod.y.abs()), &points);
        let mirrored = Vector3::new(right.x, -right.y, right.z);
        add(usual::TWIN, (left - mirrored).norm(), &[points[1], points[0]]);
    }
    let drag = link(own, Link::DragLinkToLeft).or_else(|| link(own, Link::DragLinkToRight));
    let Some((inner, outer, points)) = drag else { return };
    let rod = outer - inner;
    add(usual::DRAG_LINK_LENGTH, rod.norm(), &points);
    add(usual::DRAG_LINK_SLOPE, rod.z.atan2(rod.x.hypot(rod.y)), &points);
    // Across the car or along it.
    let plan = rod.x.abs().atan2(rod.y.abs());
    add(usual::DRAG_LINK_PLAN, plan.min(FRAC_PI_2 - plan), &points);
    if let Steering::Box(own) = &axle.steering {
        let centre_link = own.idler.ball - own.pitman.ball;
        let share = (inner - own.pitman.ball).dot(&centre_link) / centre_link.norm_squared();
        let off = inner - (own.pitman.ball + centre_link * share);
        add(usual::DRAG_LINK_OFF, off.norm(), &points[1..]);
        let from_ball = [own.pitman.ball, own.idler.ball].map(|ball| (inner - ball).norm());
        add(usual::DRAG_LINK_FROM_BALL, from_ball[0].min(from_ball[1]), &points[1..]);
    }
}
