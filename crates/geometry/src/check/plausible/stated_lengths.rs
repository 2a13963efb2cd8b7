//! Lengths that a file gives its links beside their points, where the wheel then points or leans as on no car.

use super::super::usual;
use super::Measured;
use crate::car::Car;
use crate::car::hardpoint::Link;
use crate::car::position::WheelPosition;
use crate::change::assembly::Assembly;
use crate::check::{Finding, Found, Severity, Subject};

/// A length that is nearer to the distance of its points than this is as drawn, metres.
const AS_DRAWN: f64 = 1e-4;

/// Names the length that differs most from its points, at each wheel whose solved toe or camber is unusual.
pub(super) fn check(car: &Car, all: &[Measured], found: &mut Found) {
    for at in WheelPosition::ALL {
        let is_turned = |one: &&Measured| {
            (one.end, one.side) == (Some(at.end), Some(at.side))
                && [usual::SOLVED_TOE.what, usual::SOLVED_CAMBER.what].contains(&one.usual.what)
        };
        let worst = all.iter().filter(is_turned).max_by(|one, other| one.out().total_cmp(&other.out()));
        let Some(worst) = worst.filter(|worst| worst.out() > 0.0) else { continue };
        let assembly = Assembly::from(at);
        let longer = |&(link, length): &(Link, f64)| Some((link, length - assembly.between_ends(car, link)?));
        let off = assembly.lengths(car).iter().filter_map(longer);
        let off = off.max_by(|one, other| one.1.abs().total_cmp(&other.1.abs()));
        let Some((link, by)) = off.filter(|(_, by)| by.abs() > AS_DRAWN) else { continue };
        let way = if by > 0.0 { "longer" } else { "shorter" };
        let message = format!(
            "{} is {} {way} than its points are apart: {}",
            link.key(),
            found.lengths.say(by.abs(), 1),
            worst.usual.said(worst.value, worst.tyre_radius, "", found.lengths)
        );
        found.push(Finding {
            severity: Severity::Warning,
            end: Some(at.end),
            side: Some(at.side),
            subject: Subject::Link(link),
            message,
            hint: "correct the length, or leave it out to take it from the points".to_owned(),
            out: worst.out(),
            likeliest: Some(Subject::Link(link)),
        });
    }
}
