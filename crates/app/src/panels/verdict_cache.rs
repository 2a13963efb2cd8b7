//! Verdicts on the limits, kept until the car or the limit is another.

use crate::session::Session;
use std::sync::Arc;
use wheelpath_geometry::{Car, CarSolver, Limit};
use wheelpath_studies::{Verdict, verdict};

/// Verdicts of the car as it stands and of the one it is compared with.
#[derive(Clone, Debug, Default)]
pub struct VerdictCache {
    now: Option<Kept>,
    before: Option<Kept>,
}

#[derive(Clone, Debug)]
struct Kept {
    /// Which car.
    revision: u64,
    limits: Vec<Limit>,
    verdicts: Arc<Vec<Verdict>>,
}

impl VerdictCache {
    /// Of the car as it stands.
    pub fn now(&mut self, session: &Session) -> Arc<Vec<Verdict>> {
        let car = (session.solver_car(), session.solver());
        kept(&mut self.now, session.revision(), session.limits(), car)
    }

    /// Of the car it is compared with.
    pub fn before(&mut self, session: &Session) -> Arc<Vec<Verdict>> {
        let car = (session.baseline(), session.baseline_solver());
        kept(&mut self.before, session.baseline_revision(), session.limits(), car)
    }
}

/// What is kept, or else found anew: where only some limits are others, only those.
fn kept(
    slot: &mut Option<Kept>,
    revision: u64,
    limits: &[Limit],
    (car, solver): (&Car, &CarSolver),
) -> Arc<Vec<Verdict>> {
    let old = slot.as_ref().filter(|old| old.revision == revision);
    if let Some(old) = old.filter(|old| old.limits == limits) {
        return Arc::clone(&old.verdicts);
    }
    let known = |limit: &Limit| {
        let old = old?;
        let place = old.limits.iter().position(|one| one == limit)?;
        old.verdicts.get(place).cloned()
    };
    let find = |limit: &Limit| known(limit).unwrap_or_else(|| verdict(car, solver, limit));
    let verdicts = Arc::new(limits.iter().map(find).collect::<Vec<_>>());
    *slot = Some(Kept { revision, limits: limits.to_vec(), verdicts: Arc::clone(&verdicts) });
    verdicts
}
