//! Sweeps kept for as long as what they depend on stays.

use super::curve::{Curve, Drawn};
use super::spec::{Over, Spec};
use crate::keep::{CarRevision, Kept};
use crate::session::Session;
use std::sync::Arc;
use wheelpath_geometry::{
    AxleSolver, CarPose, End, Side, SweepPoint, Travelling, WheelPosition, over_steer, over_travel, spaced,
};
use wheelpath_studies::side_by_side::{pieces, threads};

/// Poses along a curve.
const COUNT: usize = 81;

/// What a sweep depends on.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Key {
    end: End,
    over: Over,
    /// Whether it is of the car that is compared with.
    of_baseline: bool,
    revision: CarRevision,
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

/// All that a curve depends on.
#[derive(Clone, Debug)]
pub(super) struct MadeOf {
    pub spec: Spec,
    pub drawn: Drawn,
    /// Of the car and of the one that it is compared with.
    pub revisions: [CarRevision; 2],
    pub shown: CarPose,
    pub sweep: Sweep,
    pub before: Option<Sweep>,
}

impl PartialEq for MadeOf {
    fn eq(&self, other: &Self) -> bool {
        let before = match (&self.before, &other.before) {
            (Some(one), Some(other)) => Arc::ptr_eq(one, other),
            (one, other) => one.is_none() && other.is_none(),
        };
        self.is_of(other)
            && self.revisions == other.revisions
            && self.shown == other.shown
            && Arc::ptr_eq(&self.sweep, &other.sweep)
            && before
    }
}

impl MadeOf {
    /// Whether it is the same curve, of whatever car.
    fn is_of(&self, other: &Self) -> bool {
        self.spec == other.spec && self.drawn == other.drawn
    }
}

/// What a sweep is of, with the solver that it was made by.
#[derive(Clone, Debug)]
struct SweepOf {
    key: Key,
    axle: AxleSolver,
}

/// Sweeps of the car and of its original. All readings of a pose come with it, so curves over the
/// same motion share one.
#[derive(Clone, Debug, Default)]
pub struct Sweeps {
    sweeps: Kept<SweepOf, Vec<Along>>,
    curves: Kept<MadeOf, Curve>,
    computed: usize,
}

impl Sweeps {
    /// How many sweeps were computed since the beginning.
    #[must_use]
    pub fn computed(&self) -> usize {
        self.computed
    }

    /// The curve made of these, from the last time or made now.
    pub(super) fn curve(&mut self, of: MadeOf, make: impl FnOnce() -> Curve) -> Arc<Curve> {
        let (spec, drawn) = (of.spec, of.drawn);
        self.curves.of(of, |old| old.spec == spec && old.drawn == drawn, |_| make())
    }

    /// Computes what these curves lack, side by side. What is not prepared is computed when asked for.
    pub fn prepare(&mut self, session: &Session, specs: &[Spec]) {
        let cars: &[bool] = if session.differs() { &[false, true] } else { &[false] };
        let mut lacking: Vec<Key> = Vec::new();
        for (spec, &of_baseline) in specs.iter().flat_map(|spec| cars.iter().map(move |car| (spec, car))) {
            let key = key_of(session, spec, of_baseline);
            if self.known(session, &key).is_none() && !lacking.contains(&key) {
                lacking.push(key);
            }
        }
        // Each motion in two halves, so that even one of them has work for two.
        let jobs: Vec<(Key, Way)> = lacking.iter().flat_map(|&key| Way::BOTH.map(|way| (key, way))).collect();
        if jobs.is_empty() {
            return;
        }
        let make = |job: usize| jobs.get(job).map(|(key, way)| half(axle_of(session, key), key, *way));
        let mut halves = pieces(jobs.len(), threads(jobs.len()), make).into_iter().flatten();
        for key in lacking {
            if let (Some(below), Some(above)) = (halves.next(), halves.next()) {
                self.keep(session, key, joined(below, above));
            }
        }
    }

    /// The sweep that a curve shows, of the car or of the one that it is compared with.
    pub(super) fn of(&mut self, session: &Session, spec: &Spec, of_baseline: bool) -> Sweep {
        let key = key_of(session, spec, of_baseline);
        if let Some(sweep) = self.known(session, &key) {
            return sweep;
        }
        self.keep(session, key, computed(axle_of(session, &key), &key))
    }

    /// The sweep from the last time, if it still is the one asked for.
    fn known(&mut self, session: &Session, key: &Key) -> Option<Sweep> {
        let same = |kept: &SweepOf| {
            kept.key == *key
                // What was changed may be the other axle: then it is the same under another revision.
                || (Key { revision: key.revision, ..kept.key } == *key
                    && kept.axle.says_the_same(axle_of(session, key)))
        };
        let (of, sweep) = self.sweeps.known(same)?;
        of.key = *key;
        Some(Arc::clone(sweep))
    }

    /// Keeps a sweep; of each motion only the latest is wanted again.
    fn keep(&mut self, session: &Session, key: Key, sweep: Vec<Along>) -> Sweep {
        self.computed += 1;
        let of = SweepOf { key, axle: axle_of(session, &key).clone() };
        self.sweeps.keep(of, |kept| kept.key.is_motion(&key), sweep)
    }
}

impl Key {
    fn is_motion(&self, other: &Key) -> bool {
        self.end == other.end && self.over == other.over && self.of_baseline == other.of_baseline
    }
}

fn key_of(session: &Session, spec: &Spec, of_baseline: bool) -> Key {
    Key {
        end: spec.end,
        over: spec.over,
        of_baseline,
        revision: if of_baseline { session.baseline_revision() } else { session.revision() },
        held: held_part(spec, session.held_pose()),
        range: range(session, spec),
    }
}

fn axle_of<'a>(session: &'a Session, key: &Key) -> &'a AxleSolver {
    let solver = if key.of_baseline { session.baseline_solver() } else { session.solver() };
    solver.axle(key.end)
}

/// What stays while a curve is run along: steering, or the axle's wheels.
fn held_part(spec: &Spec, held: &CarPose) -> [f64; 2] {
    let of = |side| held.travel_of(WheelPosition { end: spec.end, side });
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

/// Which way from the middle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Way {
    Below,
    Above,
}

impl Way {
    const BOTH: [Way; 2] = [Way::Below, Way::Above];
}

fn computed(axle: &AxleSolver, key: &Key) -> Vec<Along> {
    let [below, above] = Way::BOTH.map(|way| half(axle, key, way));
    joined(below, above)
}

fn joined(mut below: Vec<Along>, above: Vec<Along>) -> Vec<Along> {
    below.reverse();
    below.extend(above);
    below
}

/// From the middle outward: a stop at one end costs nothing at the other.
fn half(axle: &AxleSolver, key: &Key, way: Way) -> Vec<Along> {
    let [from, to] = key.range;
    let along = spaced(from, to, COUNT);
    let middle = along.iter().position(|&at| at >= 0.0).unwrap_or(0);
    let (below, above) = along.split_at(middle);
    let along: Vec<f64> = match way {
        Way::Below => below.iter().rev().copied().collect(),
        Way::Above => above.to_vec(),
    };
    let poses = match key.over {
        Over::Travel(travelling) => over_travel(travelling, &along, key.held[0]),
        Over::Steer => over_steer(key.held, &along),
    };
    let points = axle.sweep(&poses);
    along.iter().zip(points).map(|(&along, point)| Along { along, point }).collect()
}
