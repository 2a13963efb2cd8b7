//! Verdicts on the limits, kept until the car or the limit is another. Those on readings are found at once,
//! those on distances and joints beside the window.

use std::sync::Arc;
use std::sync::atomic::Ordering;
use wheelpath_geometry::{Car, CarSolver, Limited, Requirement};
use wheelpath_session::Session;
use wheelpath_session::background_job::BackgroundJob;
use wheelpath_studies::{Outcome, Verdict, verdict};

/// Why a verdict is open that is not there yet.
const ON_ITS_WAY: &str = "is being computed";

/// A verdict, and whether it is the last one of another car or limit, until the new one is there.
#[derive(Clone, Debug)]
pub struct Judged {
    /// The verdict.
    pub verdict: Verdict,
    /// Whether the new one is still being found.
    pub is_old: bool,
}

/// Verdicts of the car as it stands and of the one it is compared with.
#[derive(Clone, Debug, Default)]
pub struct VerdictCache {
    now: Verdicts,
    before: Verdicts,
}

/// Verdicts on one car.
#[derive(Clone, Debug, Default)]
struct Verdicts {
    of_readings: Option<Kept>,
    of_fit: BackgroundJob<Asked, Found>,
    is_waiting: bool,
}

#[derive(Clone, Debug)]
struct Kept {
    /// Which car.
    revision: u64,
    limits: Vec<Requirement>,
    verdicts: Vec<Verdict>,
}

/// Distances and joints asked about.
#[derive(Clone, Debug)]
struct Asked {
    car: Car,
    solver: CarSolver,
    revision: u64,
    limits: Vec<Requirement>,
}

impl PartialEq for Asked {
    fn eq(&self, other: &Self) -> bool {
        self.revision == other.revision && self.limits == other.limits && self.car == other.car
    }
}

/// What was found of them, and of which car.
#[derive(Clone, Debug)]
struct Found {
    revision: u64,
    verdicts: Vec<(Requirement, Verdict)>,
}

impl VerdictCache {
    /// Of the car as it stands; `wake` is called where a verdict has come that was on its way.
    pub fn now(&mut self, session: &Session, wake: impl Fn() + Send + 'static) -> Vec<Judged> {
        let car = (session.solver_car(), session.solver());
        self.now.of(session.revision(), session.limits(), car, wake)
    }

    /// Whether a verdict asked for last is still on its way.
    #[must_use]
    pub fn is_waiting(&self) -> bool {
        self.now.is_waiting || self.before.is_waiting
    }

    /// Of the car it is compared with.
    pub fn before(&mut self, session: &Session, wake: impl Fn() + Send + 'static) -> Vec<Judged> {
        let car = (session.baseline(), session.baseline_solver());
        self.before.of(session.baseline_revision(), session.limits(), car, wake)
    }
}

fn is_fit(limit: &Requirement) -> bool {
    matches!(limit.of, Limited::Distance { .. } | Limited::JointMargin { .. })
}

impl Verdicts {
    fn of(
        &mut self,
        revision: u64,
        limits: &[Requirement],
        car: (&Car, &CarSolver),
        wake: impl Fn() + Send + 'static,
    ) -> Vec<Judged> {
        let (fit, readings): (Vec<Requirement>, Vec<Requirement>) = limits.iter().cloned().partition(is_fit);
        let found = self.found(revision, fit, car, wake);
        let mut of_readings = self.kept(revision, readings, car).iter();
        let judged = |limit: &Requirement| {
            if is_fit(limit) {
                return on_fit(limit, revision, found.as_deref());
            }
            let verdict = of_readings.next().cloned().unwrap_or_else(on_its_way);
            Judged { verdict, is_old: false }
        };
        let all: Vec<Judged> = limits.iter().map(judged).collect();
        self.is_waiting = all.iter().any(|judged| judged.is_old);
        all
    }

    /// What is kept, or else found anew: where only some limits are others, only those.
    fn kept(
        &mut self,
        revision: u64,
        limits: Vec<Requirement>,
        (car, solver): (&Car, &CarSolver),
    ) -> &[Verdict] {
        let old = self.of_readings.take().filter(|old| old.revision == revision);
        let kept = match old {
            Some(old) if old.limits == limits => old,
            old => {
                let known = |limit: &Requirement| {
                    let old = old.as_ref()?;
                    let place = old.limits.iter().position(|one| one == limit)?;
                    old.verdicts.get(place).cloned()
                };
                let find = |limit: &Requirement| known(limit).unwrap_or_else(|| verdict(car, solver, limit));
                let verdicts = limits.iter().map(find).collect();
                Kept { revision, limits, verdicts }
            }
        };
        &self.of_readings.insert(kept).verdicts
    }

    /// What was found of distances and joints so far.
    fn found(
        &mut self,
        revision: u64,
        limits: Vec<Requirement>,
        (car, solver): (&Car, &CarSolver),
        wake: impl Fn() + Send + 'static,
    ) -> Option<Arc<Found>> {
        if limits.is_empty() {
            return None;
        }
        let same = |asked: &Asked| asked.revision == revision && asked.limits == limits && asked.car == *car;
        if let Some(found) = self.of_fit.again(same) {
            return found;
        }
        let asked = Asked { car: car.clone(), solver: solver.clone(), revision, limits };
        self.of_fit.of(
            asked,
            |_| true,
            wake,
            |asked, enough, hand_over| {
                let mut verdicts = Vec::new();
                for limit in &asked.limits {
                    if enough.load(Ordering::Relaxed) {
                        return;
                    }
                    verdicts.push((limit.clone(), verdict(&asked.car, &asked.solver, limit)));
                    hand_over(Found { revision: asked.revision, verdicts: verdicts.clone() });
                }
            },
        )
    }
}

fn on_its_way() -> Verdict {
    Verdict { outcome: Outcome::Open(ON_ITS_WAY.to_owned()), worst: None, stop: None }
}

fn on_fit(limit: &Requirement, revision: u64, found: Option<&Found>) -> Judged {
    let all = found.map_or(&[][..], |found| &found.verdicts);
    let same = all.iter().find(|(one, _)| one == limit);
    let alike = same.or_else(|| all.iter().find(|(one, _)| one.of == limit.of));
    let is_old = same.is_none() || found.is_none_or(|found| found.revision != revision);
    Judged { verdict: alike.map_or_else(on_its_way, |(_, verdict)| verdict.clone()), is_old }
}

/// The mark and the word of an outcome.
pub(in crate::panels) fn word(outcome: &Outcome) -> (&'static str, &'static str) {
    match outcome {
        Outcome::Pass => ("✔", "pass"),
        Outcome::Fail => ("✖", "fail"),
        Outcome::Open(_) => ("?", "open"),
    }
}
