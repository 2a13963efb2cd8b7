//! Sweeps kept for as long as what they depend on stays.

use super::spec::{Over, Spec};
use crate::session::Session;
use std::sync::Arc;
use wheelpath_geometry::{
    AxleSolver, CarPose, End, Side, SweepPoint, Travelling, WheelAt, over_steer, over_travel, spaced,
};

/// Poses along a curve.
const COUNT: usize = 81;

/// What a sweep depends on.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Key {
    end: End,
    over: Over,
    revision: u64,
    /// What is held: steering, or the wheels' travels.
    held: [f64; 2],
    range: [f64; 2],
}

/// One pose of a sweep with its place along it, metres or radians.
#[derive(Clone, Debug)]
pub(super) struct Along {
    pub along: f64,
    pub point: SweepPoint,
}

pub(super) type Sweep = Arc<Vec<Along>>;

/// A sweep and what it is of.
#[derive(Clone, Debug)]
struct Kept {
    key: Key,
    original: bool,
    axle: AxleSolver,
    sweep: Sweep,
}

/// Sweeps of the car and of its original. All readings of a pose come with it, so curves over the
/// same motion share one.
#[derive(Clone, Debug, Default)]
pub struct Sweeps {
    kept: Vec<Kept>,
    computed: usize,
}

impl Sweeps {
    /// How many sweeps were computed since the beginning.
    #[must_use]
    pub fn computed(&self) -> usize {
        self.computed
    }

    /// The sweep of the car, or of the original, that a curve shows.
    pub(super) fn of(&mut self, session: &Session, spec: &Spec, original: bool) -> Sweep {
        let held = session.held_pose();
        let key = Key {
            end: spec.end,
            over: spec.over,
            revision: if original { session.baseline_revision() } else { session.revision() },
            held: held_part(spec, held),
            range: range(session, spec),
        };
        // Of each motion only the latest is wanted again.
        let is_motion =
            |kept: &Kept| kept.key.end == key.end && kept.key.over == key.over && kept.original == original;
        let old = self.kept.iter().position(is_motion);
        if let Some(kept) = old.and_then(|old| self.kept.get(old)).filter(|kept| kept.key == key) {
            return Arc::clone(&kept.sweep);
        }
        let solver = if original { session.baseline_solver() } else { session.solver() };
        let axle = solver.axle(spec.end);
        let old = old.map(|old| self.kept.swap_remove(old));
        // What was changed may be the other axle.
        let same = old
            .filter(|old| Key { revision: key.revision, ..old.key } == key && old.axle.says_the_same(axle));
        let kept = match same {
            Some(old) => Kept { key, ..old },
            None => {
                self.computed += 1;
                let sweep = Arc::new(computed(axle, spec, &key));
                Kept { key, original, axle: axle.clone(), sweep }
            }
        };
        let sweep = Arc::clone(&kept.sweep);
        self.kept.push(kept);
        sweep
    }
}

/// What stays while a curve is run along: steering, or the axle's wheels.
fn held_part(spec: &Spec, held: &CarPose) -> [f64; 2] {
    let of = |side| held.travel_of(WheelAt { end: spec.end, side });
    match spec.over {
        Over::Travel(Travelling::One(side)) => [held.steer, of(side.other())],
        Over::Travel(_) => [held.steer, 0.0],
        Over::Steer => [of(Side::Left), of(Side::Right)],
    }
}

/// From where to where a curve runs, metres or radians.
pub(super) fn range(session: &Session, spec: &Spec) -> [f64; 2] {
    match spec.over {
        Over::Travel(_) => session.reach().travel(spec.end),
        Over::Steer => session.reach().steer,
    }
}

fn computed(axle: &AxleSolver, spec: &Spec, key: &Key) -> Vec<Along> {
    let [from, to] = key.range;
    let along = spaced(from, to, COUNT);
    // From the middle outward both ways: a stop at one end costs nothing at the other.
    let middle = along.iter().position(|&at| at >= 0.0).unwrap_or(0);
    let (below, above) = along.split_at(middle);
    let poses = |along: &[f64]| match spec.over {
        Over::Travel(travelling) => over_travel(travelling, along, key.held[0]),
        Over::Steer => over_steer(key.held, along),
    };
    let below: Vec<f64> = below.iter().rev().copied().collect();
    let run = |along: &[f64]| -> Vec<Along> {
        let points = axle.sweep(&poses(along));
        along.iter().zip(points).map(|(&along, point)| Along { along, point }).collect()
    };
    let mut all = run(&below);
    all.reverse();
    all.extend(run(above));
    all
}
