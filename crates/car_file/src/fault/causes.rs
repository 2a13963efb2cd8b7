//! What may have one cause: a wrong point is seen in every measure that it goes into.

use crate::fault::problem::{Fault, Problem};
use wheelpath_geometry::{End, Severity, Subject};

/// What a warning about an unusual measure points to first; `None` of any other problem, which stands for itself.
fn cause(problem: &Problem) -> Option<(Option<End>, Subject)> {
    match &problem.fault {
        Fault::Model(finding) if finding.severity == Severity::Warning && finding.out > 0.0 => {
            Some((finding.end, finding.likeliest.unwrap_or(finding.subject)))
        }
        _ => None,
    }
}

/// The problems with those of one cause behind one another, the cause of most first; of causes of as many the
/// order stays.
pub(crate) fn by_cause(problems: Vec<Problem>) -> Vec<Problem> {
    let mut groups: Vec<Vec<Problem>> = Vec::new();
    for problem in problems {
        let own = cause(&problem);
        let known = groups.iter_mut().find(|group| own.is_some() && group.first().and_then(cause) == own);
        match known {
            Some(group) => group.push(problem),
            None => groups.push(vec![problem]),
        }
    }
    // Faults before all, what is no measure of a car after all, as they came.
    let rank = |group: &Vec<Problem>| match group.first() {
        Some(first) if !first.is_warning() => (0, 0),
        // A length that the file gives beside the points is told from them to the tenth of a millimetre.
        Some(first) if matches!(cause(first), Some((_, Subject::Link(_)))) => (1, 0),
        Some(first) if cause(first).is_some() => (1, usize::MAX - group.len()),
        _ => (2, 0),
    };
    // What stands at the cause itself is said first of what hangs on it.
    for group in &mut groups {
        group.sort_by_key(|problem| match &problem.fault {
            Fault::Model(finding) => finding.likeliest.is_some_and(|likeliest| likeliest != finding.subject),
            _ => false,
        });
    }
    groups.sort_by_key(rank);
    groups.into_iter().flatten().collect()
}

/// The same problems cause by cause: each slice has what is to be looked at first, then what may follow from it.
#[must_use]
pub fn causes(problems: &[Problem]) -> Vec<&[Problem]> {
    problems.chunk_by(|one, other| cause(one).is_some() && cause(one) == cause(other)).collect()
}
