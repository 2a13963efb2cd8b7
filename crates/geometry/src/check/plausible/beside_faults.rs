//! What can be held against what is usual while something else of the car is at fault.

use super::super::usual;
use super::{Measured, measured, say};
use crate::car::Car;
use crate::car::hardpoint::Hardpoint;
use crate::car::position::End;
use crate::check::{Finding, Found, Severity, Subject};

/// Measures that hang on more points of their corner than they name.
const OF_MORE_POINTS: [&str; 4] =
    [usual::OFF_ARM.what, usual::ALONG_ARM.what, usual::PUSHROD_ALONG.what, usual::ROD_INNER_BESIDE.what];

/// Measures of one wheel beside those of the other axle.
const OF_ALL_WHEELS: [&str; 2] = [usual::OFF_ZERO.what, usual::ONE_OFF_GROUND.what];

/// Looks a car with faults over for what is unusual and does not hang on what is at fault.
pub(crate) fn check(car: &Car, found: &mut Found) {
    let faults: Vec<Finding> =
        found.all.iter().filter(|finding| finding.severity == Severity::Fault).cloned().collect();
    // A wrong wheelbase is wrong units as a rule: every size is out then.
    if faults.iter().any(|fault| fault.subject == Subject::Car("wheelbase")) {
        return;
    }
    // Nothing moves by what is at fault; loads and heights of the whole car go into the readings of both axles.
    let moves = End::BOTH.map(|end| faults.iter().all(|fault| fault.end.is_some_and(|at| at != end)));
    let mut all = measured(car, moves);
    all.retain(|one| !faults.iter().any(|fault| hangs_on(one, fault)));
    say(&all, found);
}

fn hangs_on(one: &Measured, fault: &Finding) -> bool {
    // Which side it is of is not asked: a measure at the left may be of both.
    let is_here = one.end.is_none() || fault.end.is_none() || one.end == fault.end;
    let points: Vec<Hardpoint> = match fault.subject {
        // A wheel is what its corner is measured from, and what the car stands on.
        Subject::Wheel(_) => return is_here || OF_ALL_WHEELS.contains(&one.usual.what),
        Subject::Hardpoint(hardpoint) => vec![hardpoint],
        Subject::Link(link) => <[Hardpoint; 2]>::from(link.ends()).to_vec(),
        other => return is_here && one.subject == other,
    };
    let names_one = one.points.iter().any(|point| points.contains(point));
    let of_more = OF_MORE_POINTS.contains(&one.usual.what);
    one.end.is_some() && is_here && (names_one || of_more)
}
