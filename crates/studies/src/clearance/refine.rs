//! The worst pose between the nodes of the grid.

use super::capsule::Gap;
use super::layout::Layout;
use super::range::Range;
use super::worst::is_beyond_stops;
use wheelpath_geometry::{AxlePose, AxleSolver, SolvedAxle};

/// The search ends at steps of this share of the grid's.
const FINEST: f64 = 1e-5;

/// Looks about the grid's worst node for a pose at which a pair is nearer still: half a step of the grid to
/// either side in travel left, travel right and steer, to the best of these if it is nearer, else with half
/// the step. It stays within the range and within the stops. A local search: what it finds is a valley,
/// the one that the worst node lies in.
pub(super) fn refined(
    layout: &Layout<'_>,
    solver: &AxleSolver,
    range: &Range,
    pair: usize,
    start: (Gap, AxlePose),
) -> (Gap, AxlePose) {
    let bounds = range.bounds(layout.axle);
    let (mut best, mut pose) = start;
    let Ok(mut here) = solver.solve(pose.travel, pose.steer) else { return start };
    let mut share = 0.5;
    while share > FINEST {
        let next = bounds.iter().enumerate().flat_map(|(place, bound)| {
            [-1.0, 1.0].map(|way| moved(&pose, place, way * share * bound[2], *bound))
        });
        let mut nearer: Option<(Gap, AxlePose, SolvedAxle)> = None;
        for next in next.flatten() {
            let Ok(solved) = solver.follow(&here, next.travel, next.steer) else { continue };
            if is_beyond_stops(layout, &solved) {
                continue;
            }
            let gap = layout.gap(&layout.solids(solver, &solved), pair);
            let least = nearer.as_ref().map_or(best.distance, |(gap, ..)| gap.distance);
            if gap.distance < least {
                nearer = Some((gap, next, solved));
            }
        }
        match nearer {
            Some((gap, next, solved)) => (best, pose, here) = (gap, next, solved),
            None => share *= 0.5,
        }
    }
    (best, pose)
}

/// The pose with one input moved, at most to its bound; `None` where it does not move.
fn moved(pose: &AxlePose, place: usize, by: f64, [least, most, _]: [f64; 3]) -> Option<AxlePose> {
    let mut next = *pose;
    let input = match place {
        0 => &mut next.travel[0],
        1 => &mut next.travel[1],
        _ => &mut next.steer,
    };
    let before = *input;
    *input = (before + by).clamp(least, most);
    ((*input - before).abs() > 0.0).then_some(next)
}
