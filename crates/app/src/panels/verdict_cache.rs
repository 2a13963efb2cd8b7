//! Verdicts on the limits, kept until the car is another.

use crate::session::Session;
use std::sync::Arc;
use wheelpath_studies::{Verdict, verdicts};

/// Verdicts of the car as it stands and of the one it is compared with.
#[derive(Clone, Debug, Default)]
pub struct VerdictCache {
    now: Option<(u64, Arc<Vec<Verdict>>)>,
    before: Option<(u64, Arc<Vec<Verdict>>)>,
}

impl VerdictCache {
    /// Of the car as it stands.
    pub fn now(&mut self, session: &Session) -> Arc<Vec<Verdict>> {
        let key = session.revision();
        if let Some((_, found)) = self.now.as_ref().filter(|(of, _)| *of == key) {
            return Arc::clone(found);
        }
        let limits = &session.beside().limits;
        let found = Arc::new(verdicts(session.solver_car(), session.solver(), limits));
        self.now = Some((key, Arc::clone(&found)));
        found
    }

    /// Of the car it is compared with.
    pub fn before(&mut self, session: &Session) -> Arc<Vec<Verdict>> {
        let key = session.baseline_revision();
        if let Some((_, found)) = self.before.as_ref().filter(|(of, _)| *of == key) {
            return Arc::clone(found);
        }
        let limits = &session.beside().limits;
        let found = Arc::new(verdicts(session.baseline(), session.baseline_solver(), limits));
        self.before = Some((key, Arc::clone(&found)));
        found
    }
}
