//! Will it fit: how near the parts of an axle come to one another, how far its joints turn, and what is
//! left to its stops and dead points, over travel and steer.

mod annulus;
mod capsule;
#[cfg(test)]
mod distance_tests;
mod layout;
mod name;
mod range;
mod refine;
mod result;
mod worst;

pub use annulus::Annulus;
pub use capsule::{Capsule, Gap};
pub use name::{PartName, Solid};
pub use range::Range;
pub use result::{Clearance, Clearances, JointAngle, Softest, StopMargin, StopOf};

use crate::side_by_side::on_each;
use layout::Layout;
use std::sync::atomic::{AtomicUsize, Ordering};
use wheelpath_geometry::{Car, CarSolver, End, Pairs, Side, WheelPosition};
use worst::Worst;

/// So many of the nearest pairs are searched for a worse pose between the nodes.
const REFINED: usize = 10;
/// Distances that differ by less are the same, metres.
const ALIKE: f64 = 1e-9;

/// The smallest distances of an axle's parts, the greatest angles of its joints, and what is left to its
/// stops and dead points, over a range of poses; up to `threads` threads share the rows of the grid, and
/// the result does not depend on how many.
///
/// `solver` is of this car. The ten nearest pairs are searched for a worse pose about the grid's worst
/// node, each input on its own and by halves; all others are those of the grid.
#[must_use]
pub fn clearances(car: &Car, solver: &CarSolver, end: End, range: &Range, threads: usize) -> Clearances {
    found(Layout::of(car.axle(end), end), solver, range, threads, REFINED)
}

/// The same of these pairs alone, of which as many as said are searched for a worse pose, the nearest.
pub(crate) fn clearances_between(
    car: &Car,
    solver: &CarSolver,
    end: End,
    range: &Range,
    (pairs, refined): (Pairs, usize),
) -> Clearances {
    found(Layout::of(car.axle(end), end).only(pairs), solver, range, 1, refined)
}

/// The same of joints and stops, without any distances.
pub(crate) fn joints_and_stops(car: &Car, solver: &CarSolver, end: End, range: &Range) -> Clearances {
    found(Layout::of(car.axle(end), end).without_pairs(), solver, range, 1, 0)
}

fn found(
    layout: Layout<'_>,
    solver: &CarSolver,
    range: &Range,
    threads: usize,
    most_refined: usize,
) -> Clearances {
    let (axle, end) = (layout.axle, layout.end);
    let solver = solver.axle(end);
    let rows = range.rows(axle);
    let starts: Vec<usize> = rows
        .iter()
        .scan(0, |first, row| {
            let here = *first;
            *first += row.len();
            Some(here)
        })
        .collect();
    let next = AtomicUsize::new(0);
    let take = || {
        let mut worst = Worst::new(&layout);
        loop {
            let place = next.fetch_add(1, Ordering::Relaxed);
            let (Some(row), Some(&first)) = (rows.get(place), starts.get(place)) else { return worst };
            worst.row(&layout, solver, first, row);
        }
    };
    let found = on_each(threads, take);
    let worst = found.into_iter().reduce(Worst::merged).unwrap_or_else(|| Worst::new(&layout));
    let mut pairs: Vec<(usize, Clearance)> = worst
        .pairs
        .iter()
        .enumerate()
        .filter_map(|(pair, found)| {
            let (gap, node) = found.as_ref()?;
            let of = layout.names(pair);
            let (distance, at, pose) = (gap.distance, gap.at, node.pose);
            Some((pair, Clearance { of, distance, at, pose, refined: false }))
        })
        .collect();
    let by_distance = |a: &(usize, Clearance), b: &(usize, Clearance)| {
        a.1.distance.total_cmp(&b.1.distance).then(a.0.cmp(&b.0))
    };
    pairs.sort_by(by_distance);
    // Of a pair and its mirror image both or neither.
    let far = match most_refined.checked_sub(1) {
        Some(last) => pairs.get(last).map_or(f64::INFINITY, |(_, last)| last.distance + ALIKE),
        None => f64::NEG_INFINITY,
    };
    for (pair, found) in pairs.iter_mut().filter(|(_, found)| found.distance <= far) {
        let start = (Gap { distance: found.distance, at: found.at }, found.pose);
        let (gap, pose) = refine::refined(&layout, solver, range, *pair, start);
        *found = Clearance { distance: gap.distance, at: gap.at, pose, refined: true, ..*found };
    }
    pairs.sort_by(by_distance);
    let bare = |side: &Side| {
        let wheel = &axle.corner(*side).wheel;
        wheel.rim_width.is_none() && wheel.rim_inner_radius.is_none()
    };
    Clearances {
        end,
        pairs: pairs.into_iter().map(|(_, found)| found).collect(),
        joints: worst.joints(),
        stops: worst.stops_left(),
        near_dead_points: worst.near_dead_points(),
        poses: rows.iter().map(Vec::len).sum(),
        beyond_stops: worst.beyond_stops,
        unreachable: worst.unreachable(),
        assumed_radii: layout.assumed(),
        assumed_rims: Side::BOTH.into_iter().filter(bare).map(|side| WheelPosition { end, side }).collect(),
        joined: layout.joined,
    }
}
