//! The outcome of a limit in one mark and one word.

use wheelpath_studies::Outcome;

/// The mark and the word of an outcome.
pub(in crate::panels) fn word(outcome: &Outcome) -> (&'static str, &'static str) {
    match outcome {
        Outcome::Pass => ("✔", "pass"),
        Outcome::Fail => ("✖", "fail"),
        Outcome::Open(_) => ("?", "open"),
    }
}
