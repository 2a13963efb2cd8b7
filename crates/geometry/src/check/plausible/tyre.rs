//! Nothing stands in a tyre, and what stands on both sides of the car fits together.

use super::{Measured, springs::of_part};
use crate::car::Axle;
use crate::car::hardpoint::{Hardpoint, Hardpoint as P};
use crate::car::position::{End, Side};
use crate::car::springing::{BarKind, Spring};
use crate::car::wheel::Wheel;
use crate::check::Subject;
use crate::check::usual::{self, Usual};
use nalgebra::Vector3;

/// How deep a point stands in the tyre, metres; negative outside.
fn depth(point: &Vector3<f64>, wheel: &Wheel) -> f64 {
    let from = point - wheel.centre;
    let along = from.dot(&wheel.spin_axis);
    let radial = (from - wheel.spin_axis * along).norm();
    let aside = 0.5 * wheel.tyre_width - along.abs();
    aside.min(radial - wheel.rim_radius).min(wheel.tyre_radius - radial)
}

pub(super) fn measure(axle: &Axle, end: End, all: &mut Vec<Measured>) {
    let mut add =
        |usual: Usual, value: f64, side: Option<Side>, subject: Subject, size: f64, points: &[Hardpoint]| {
            let (end, points) = (Some(end), points.to_vec());
            all.push(Measured { usual, value, tyre_radius: size, end, side, subject, points });
        };
    for piece in axle.pieces() {
        let at = |end: crate::car::part::PieceEnd| axle.hardpoints_of(end.side).get(end.hardpoint);
        let [a, b] = piece.ends;
        let (Some(from), Some(to)) = (at(a), at(b)) else { continue };
        for side in Side::BOTH {
            let wheel = &axle.corner(side).wheel;
            let deepest = (0..=32)
                .map(|i| depth(&(from + (to - from) * (f64::from(i) / 32.0)), wheel))
                .fold(f64::NEG_INFINITY, f64::max)
                // Far outside is as good as outside.
                .max(-0.1 * wheel.tyre_radius);
            let points =
                if a.hardpoint == b.hardpoint { vec![a.hardpoint] } else { vec![b.hardpoint, a.hardpoint] };
            let subject = Subject::Hardpoint(b.hardpoint);
            add(usual::IN_TYRE, deepest, piece.side.or(Some(side)), subject, wheel.tyre_radius, &points);
        }
    }
    let rate = |side: Side| match axle.corner(side).spring? {
        Spring::OnDamper { rate } | Spring::Separate { rate, .. } | Spring::TorsionBar { rate } => Some(rate),
    };
    if let (Some(left), Some(right)) = (rate(Side::Left), rate(Side::Right)) {
        add(usual::SPRINGS_ALIKE, left / right, Some(Side::Left), Subject::Spring, 0.3, &[]);
    }
    for &(part, radius) in &axle.radii {
        add(of_part(part), radius, None, Subject::Radius(part), 0.3, &[]);
    }
    let size = axle.left.wheel.tyre_radius;
    let get = |side: Side, hardpoint| axle.corner(side).hardpoints.get(hardpoint);
    if axle.bar_kind() == Some(BarKind::U) {
        let line = |side| Some((get(side, P::BarPivot)?, get(side, P::BarAxis)?));
        if let (Some((lp, la)), Some((rp, ra))) = (line(Side::Left), line(Side::Right)) {
            let points = [P::BarAxis, P::BarPivot];
            let subject = Subject::Axle("anti_roll_bar");
            add(usual::BAR_KINK, super::between(&(la - lp), &(rp - lp)), None, subject, size, &points);
            add(usual::BAR_KINK, super::between(&(ra - rp), &(rp - lp)), None, subject, size, &points);
            add(usual::BAR_SQUARE, super::between(&(lp - rp), &Vector3::y()), None, subject, size, &points);
        }
    }
    if let (Some(left), Some(right)) =
        (get(Side::Left, P::ThirdSpringEnd), get(Side::Right, P::ThirdSpringEnd))
    {
        let points = [P::ThirdSpringEnd];
        add(usual::THIRD_SPRING, (left - right).norm(), None, Subject::Axle("third_spring"), size, &points);
        let flat = super::between(&(left - right), &Vector3::y());
        add(usual::THIRD_SPRING_FLAT, flat, None, Subject::Axle("third_spring"), size, &points);
    }
    if let Some(rate) = axle.third_spring.and_then(|third| third.rate) {
        add(usual::THIRD_RATE, rate, None, Subject::Axle("third_spring"), size, &[]);
    }
    if let Some(rate) = axle.anti_roll_bar.and_then(|bar| bar.rate) {
        add(usual::BAR_RATE, rate, None, Subject::Axle("anti_roll_bar"), size, &[]);
    }
    let own = |hardpoint| axle.hardpoints.get(hardpoint);
    if let (Some(pivot), Some(axis), Some(head)) = (own(P::TBarPivot), own(P::TBarAxis), own(P::TBarHead)) {
        let mut point = |usual: Usual, value: f64, points: &[Hardpoint]| {
            if let Some(first) = points.first() {
                add(usual, value, None, Subject::Hardpoint(*first), size, points);
            }
        };
        let stem = head - pivot;
        point(usual::T_AXIS, super::between(&(axis - pivot), &Vector3::y()), &[P::TBarAxis, P::TBarPivot]);
        point(usual::T_STEM, stem.norm(), &[P::TBarHead, P::TBarPivot]);
        point(usual::T_STEM_ALONG, super::between(&stem, &Vector3::x()), &[P::TBarHead, P::TBarPivot]);
        point(usual::T_CENTRED, pivot.y, &[P::TBarPivot]);
        point(usual::T_CENTRED, head.y, &[P::TBarHead]);
        for side in Side::BOTH {
            if let Some(bar) = get(side, P::DropLinkBar) {
                let cross = bar - head;
                point(
                    usual::T_CROSSBAR,
                    super::between(&cross, &Vector3::y()),
                    &[P::DropLinkBar, P::TBarHead],
                );
                point(usual::T_HALF, cross.norm(), &[P::DropLinkBar, P::TBarHead]);
            }
        }
    }
}
