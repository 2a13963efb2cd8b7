//! Points of the two sides that are mirror images of one another, but for one.

use super::{Measured, axis_from, between};
use crate::car::hardpoint::Hardpoint;
use crate::car::position::{End, Side};
use crate::car::{Axle, Corner};
use crate::check::Subject;
use crate::check::usual::{self, Usual};
use nalgebra::Vector3;

/// Sides that differ by more than this in their median point are two linkages of their own, metres: no point of
/// theirs has a twin.
const UNLIKE: f64 = 0.03;
/// A point is no further from its twin than this many times what the axle's points are in the median.
const TIMES: f64 = 4.0;
/// Fewer points than these say nothing about the others.
const FEWEST: usize = 4;

pub(super) fn measure(axle: &Axle, end: End, all: &mut Vec<Measured>) {
    let [left, right] = [&axle.left, &axle.right];
    let apart = |hardpoint: Hardpoint| {
        let (l, r) = (left.hardpoints.get(hardpoint)?, right.hardpoints.get(hardpoint)?);
        Some((hardpoint, (l.x - r.x).hypot(l.y + r.y).hypot(l.z - r.z)))
    };
    let pairs: Vec<(Hardpoint, f64)> = left
        .hardpoints
        .iter()
        .filter(|&(hardpoint, _)| axis_from(hardpoint).is_none())
        .filter_map(|(hardpoint, _)| apart(hardpoint))
        .collect();
    let mut distances: Vec<f64> = pairs.iter().map(|&(_, distance)| distance).collect();
    distances.sort_by(f64::total_cmp);
    let median = distances.get(distances.len() / 2).copied().unwrap_or_default();
    if pairs.len() < FEWEST || median > UNLIKE {
        return;
    }
    let usual = Usual { high: usual::TWIN.high.max(TIMES * median), ..usual::TWIN };
    let mut add = |usual: Usual, value: f64, points: Vec<Hardpoint>| {
        let Some(&first) = points.first() else { return };
        let tyre_radius = left.wheel.tyre_radius;
        let (end, side, subject) = (Some(end), Some(Side::Left), Subject::Hardpoint(first));
        all.push(Measured { usual, value, tyre_radius, end, side, subject, points });
    };
    for (hardpoint, value) in pairs {
        add(usual, value, vec![hardpoint]);
    }
    for (second, _) in left.hardpoints.iter() {
        let Some(first) = axis_from(second) else { continue };
        let line = |corner: &Corner| Some(corner.hardpoints.get(second)? - corner.hardpoints.get(first)?);
        let (Some(l), Some(r)) = (line(left), line(right)) else { continue };
        let mirrored = Vector3::new(r.x, -r.y, r.z);
        add(usual::TWIN_AXIS, between(&l, &mirrored), vec![second, first]);
    }
}
