//! The middle lines of parts: what the pointer hits.

use nalgebra::Point3;

use crate::view::segment::nearest_on;
use crate::view::{PartKind, size};

/// A part's middle lines with their thickness, coarse but enough to be hit.
pub(crate) fn bones(kind: &PartKind) -> Vec<(Point3<f64>, Point3<f64>, f64)> {
    match kind {
        PartKind::Rod { a, b, radius } | PartKind::Tube { a, b, radius } => {
            vec![(*a, *b, *radius)]
        }
        PartKind::Wishbone { inner_front, inner_rear, outer, radius } => {
            vec![(*inner_front, *outer, *radius), (*inner_rear, *outer, *radius)]
        }
        PartKind::TrailingArm { pivots, wheel_centre, .. } => {
            pivots.iter().map(|pivot| (*wheel_centre, *pivot, 0.03)).collect()
        }
        PartKind::HArm { inner, outer, radius } => {
            inner.iter().zip(outer).map(|(a, b)| (*a, *b, *radius)).collect()
        }
        PartKind::Strut { top, bottom, .. } => vec![(*bottom, *top, 1.5 * size::STRUT)],
        PartKind::Beam { ends: [left, right], joints, .. } => {
            let middle = *right + (*left - *right) * 0.5;
            let mut all = vec![(*left, *right, size::AXLE), (middle, middle, 0.12)];
            all.extend(joints.iter().map(|joint| (nearest_on([*right, *left], *joint), *joint, 0.02)));
            all
        }
        PartKind::Bracket { foot, joint } => vec![(*foot, *joint, 0.011)],
        PartKind::TorqueArm { root, end } => vec![(*root, *end, 0.03)],
        PartKind::SteeringArm { pivot, ball, .. } => vec![(*pivot, *ball, 0.018)],
        PartKind::CentreLink { balls: [a, b], .. } => vec![(*a, *b, size::CENTRE_LINK)],
        PartKind::Spring { body_end, moving_end } => vec![(*body_end, *moving_end, 1.9 * size::DAMPER)],
        PartKind::Upright { wheel_centre, joints, .. } => {
            joints.iter().map(|j| (*wheel_centre, *j, 0.025)).collect()
        }
        PartKind::Rocker { pivot, points, .. } => points.iter().map(|p| (*pivot, *p, 0.016)).collect(),
        PartKind::Damper { body_eye, moving_eye, .. } => {
            vec![(*body_eye, *moving_eye, size::DAMPER)]
        }
        PartKind::BarArm { pivot, end } => vec![(*pivot, *end, 0.012)],
        PartKind::Rack { housing_left, housing_right, rack_left, rack_right } => {
            vec![(*housing_left, *housing_right, size::RACK), (*rack_left, *rack_right, 0.5 * size::RACK)]
        }
        PartKind::Mount { at, .. } => vec![(*at, *at, 0.02)],
        PartKind::Frame { corners } => corners.windows(2).map(|pair| (pair[0], pair[1], 0.01)).collect(),
    }
}
