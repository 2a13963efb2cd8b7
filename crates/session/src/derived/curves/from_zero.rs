//! Curves counted from their value at zero travel, where the sides are too far apart to be read.

use super::curve::{Branch, Trace, Whose};

/// Whether the two sides of a car are further apart than either of them changes.
pub(super) fn far_apart(traces: &[Trace], of: Whose) -> bool {
    let own = traces.iter().filter(|trace| trace.whose == of);
    let ranges: Vec<[f64; 2]> = own
        .filter(|trace| matches!(trace.branch, Branch::Wheel(_)) && !trace.pieces.is_empty())
        .map(|trace| {
            let values = trace.pieces.iter().flatten().map(|place| place[1]);
            values.fold([f64::INFINITY, f64::NEG_INFINITY], |[a, b], v| [a.min(v), b.max(v)])
        })
        .collect();
    let [[low, high], [other_low, other_high]] = ranges.as_slice() else { return false };
    let between = (low - other_high).max(other_low - high);
    between > (high - low).max(other_high - other_low)
}

/// Takes from every trace, and from the markers, the value at zero travel; gives those of the car as
/// it stands. Does nothing where the car cannot take zero travel.
pub(super) fn from_zero(traces: &mut [Trace], markers: &mut Vec<(Branch, [f64; 2])>) -> Vec<(Branch, f64)> {
    let mut zero = Vec::new();
    if traces.iter().any(|trace| trace.whose == Whose::Now && at_zero(&trace.pieces).is_none()) {
        return zero;
    }
    for trace in traces {
        match at_zero(&trace.pieces) {
            Some(at) => {
                trace.pieces.iter_mut().flatten().for_each(|place| place[1] -= at);
                if trace.whose == Whose::Now {
                    zero.push((trace.branch, at));
                }
            }
            // Nothing to count from: nothing to be drawn.
            None => trace.pieces.clear(),
        }
    }
    markers.retain_mut(|(branch, place)| {
        let at = zero.iter().find(|(of, _)| of == branch).map(|(_, at)| *at);
        place[1] -= at.unwrap_or(0.0);
        at.is_some()
    });
    zero
}

fn at_zero(pieces: &[Vec<[f64; 2]>]) -> Option<f64> {
    pieces.iter().flat_map(|piece| piece.windows(2)).find_map(|pair| {
        let [[x, y], [to_x, to_y]] = pair else { return None };
        let share = -x / (to_x - x);
        (0.0..=1.0).contains(&share).then(|| y + (to_y - y) * share)
    })
}
