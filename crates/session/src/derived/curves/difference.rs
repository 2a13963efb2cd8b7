//! Curves of what changed: the car as it stands less the one that it is compared with.

use super::curve::{Branch, Trace, Whose};
use super::spec::{Shown, Spec};
use crate::session::{Session, Values};
use wheelpath_geometry::{CarPose, Reading, Side};

/// Whether a curve can be differenced: its two lines run over the same.
pub(super) fn can_be(spec: &Spec) -> bool {
    matches!(spec.shown, Shown::Reading(_))
}

/// Leaves one line a branch: now less before, where both are.
pub(super) fn differenced(traces: Vec<Trace>) -> Vec<Trace> {
    let (before, now): (Vec<Trace>, Vec<Trace>) =
        traces.into_iter().partition(|trace| trace.whose == Whose::Original);
    let less = |trace: Trace| {
        let was = before.iter().find(|one| one.branch == trace.branch);
        // Rising, as sweeps are.
        let mut was = was.into_iter().flat_map(|one| one.pieces.iter().flatten()).peekable();
        let mut pieces = vec![Vec::new()];
        for piece in trace.pieces {
            for [x, y] in piece {
                while was.next_if(|at| at[0] < x).is_some() {}
                match was.peek() {
                    Some(at) if at[0].to_bits() == x.to_bits() => {
                        if let Some(piece) = pieces.last_mut() {
                            piece.push([x, y - at[1]]);
                        }
                    }
                    _ => pieces.push(Vec::new()),
                }
            }
            pieces.push(Vec::new());
        }
        pieces.retain(|piece: &Vec<[f64; 2]>| !piece.is_empty());
        Trace { pieces, ..trace }
    };
    now.into_iter().map(less).collect()
}

/// What of a reading was there before in the pose shown, in display units, a branch.
pub(super) fn before(session: &Session, spec: &Spec, branch: Branch) -> Option<f64> {
    let Shown::Reading(reading) = spec.shown else { return None };
    reading.unit.charted(of(session.baseline_values()?, spec, branch, reading)?, session.units())
}

/// All readings of the car that is compared with in a pose, if it can take it.
pub(super) fn before_in(session: &Session, pose: &CarPose) -> Option<Values> {
    session.baseline_solver().solve(pose).ok().map(|solved| Values::of(&solved))
}

pub(super) fn of(values: &Values, spec: &Spec, branch: Branch, reading: &'static Reading) -> Option<f64> {
    let side = if branch.is_right() { Side::Right } else { Side::Left };
    values.get(spec.end, side, reading)
}
