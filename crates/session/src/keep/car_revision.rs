//! Which solved car something was derived from.

use std::sync::atomic::{AtomicU64, Ordering};

/// Names given so far.
static GIVEN: AtomicU64 = AtomicU64::new(0);

/// The name of one solved car. No two have the same, whatever session they belong to: what was derived from a
/// revision never has to be compared with another car.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct CarRevision(u64);

impl CarRevision {
    /// A name that nothing has yet.
    #[must_use]
    pub fn fresh() -> Self {
        CarRevision(GIVEN.fetch_add(1, Ordering::Relaxed))
    }
}
