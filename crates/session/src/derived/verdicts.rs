//! Verdicts on the limits, kept until the car or the limit is another. Those on readings are found at once,
//! those on distances and joints beside the window.

use crate::keep::{BackgroundJob, CarRevision, Kept};
use crate::session::Session;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use wheelpath_geometry::{Car, CarSolver, Limited, Requirement};
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
pub struct Verdicts {
    now: OfOneCar,
    before: OfOneCar,
}

/// Verdicts on one car.
#[derive(Clone, Debug, Default)]
struct OfOneCar {
    of_readings: Kept<(CarRevision, Requirement), Verdict>,
    of_fit: BackgroundJob<Asked, Found>,
    is_waiting: bool,
}

/// Limits on distances and joints asked about, and of which car.
#[derive(Clone, Debug, PartialEq)]
struct Asked {
    revision: CarRevision,
    limits: Vec<Requirement>,
}

/// What was found of them, and of which car.
#[derive(Clone, Debug)]
struct Found {
    revision: CarRevision,
    verdicts: Vec<(Requirement, Verdict)>,
}

impl Verdicts {
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

impl OfOneCar {
    fn of(
        &mut self,
        revision: CarRevision,
        limits: &[Requirement],
        (car, solver): (&Car, &CarSolver),
        wake: impl Fn() + Send + 'static,
    ) -> Vec<Judged> {
        let found = self.found(revision, limits, (car, solver), wake);
        // Where only some limits are others, only those are found anew.
        self.of_readings.retain(|(of, limit)| *of == revision && limits.contains(limit));
        let mut judged = |limit: &Requirement| {
            if is_fit(limit) {
                return on_fit(limit, revision, found.as_deref());
            }
            let asked = (revision, limit.clone());
            let verdict = self.of_readings.of(asked, |_| false, |(_, limit)| verdict(car, solver, limit));
            Judged { verdict: verdict.as_ref().clone(), is_old: false }
        };
        let all: Vec<Judged> = limits.iter().map(&mut judged).collect();
        self.is_waiting = all.iter().any(|judged| judged.is_old);
        all
    }

    /// What was found of distances and joints so far.
    fn found(
        &mut self,
        revision: CarRevision,
        limits: &[Requirement],
        (car, solver): (&Car, &CarSolver),
        wake: impl Fn() + Send + 'static,
    ) -> Option<Arc<Found>> {
        let limits: Vec<Requirement> = limits.iter().filter(|limit| is_fit(limit)).cloned().collect();
        if limits.is_empty() {
            return None;
        }
        self.of_fit.of(
            Asked { revision, limits },
            |_| true,
            wake,
            || {
                let (car, solver) = (car.clone(), solver.clone());
                move |asked: &Arc<Asked>, enough: &AtomicBool, hand_over: &dyn Fn(Found)| {
                    let mut verdicts = Vec::new();
                    for limit in &asked.limits {
                        if enough.load(Ordering::Relaxed) {
                            return;
                        }
                        verdicts.push((limit.clone(), verdict(&car, &solver, limit)));
                        hand_over(Found { revision: asked.revision, verdicts: verdicts.clone() });
                    }
                }
            },
        )
    }
}

fn on_its_way() -> Verdict {
    Verdict { outcome: Outcome::Open(ON_ITS_WAY.to_owned()), worst: None, stop: None }
}

fn on_fit(limit: &Requirement, revision: CarRevision, found: Option<&Found>) -> Judged {
    let all = found.map_or(&[][..], |found| &found.verdicts);
    let same = all.iter().find(|(one, _)| one == limit);
    let alike = same.or_else(|| all.iter().find(|(one, _)| one.of == limit.of));
    let is_old = same.is_none() || found.is_none_or(|found| found.revision != revision);
    Judged { verdict: alike.map_or_else(on_its_way, |(_, verdict)| verdict.clone()), is_old }
}
