//! Whether parts stay clear of one another and joints within what they can do.

use super::{Outcome, Place, Verdict, Worst, car_pose};
use crate::clearance::{Clearance, Clearances, Range, Solid, clearances_between, joints_and_stops};
use wheelpath_geometry::{Car, CarSolver, End, LengthUnit, Pairs, Requirement, Stop, Unit};

/// Travels of the grid, from the first to the last.
pub const FIT_TRAVELS: usize = 11;
/// Steering inputs of the grid, from stop to stop.
pub const FIT_STEERS: usize = 11;
/// So many of the nearest pairs are searched for a worse pose between the nodes.
const SEARCHED: usize = 4;

/// The poses over which distances and joints are looked at.
fn range(car: &Car, end: End, travel: [f64; 2]) -> Range {
    Range::of(car.axle(end), travel, FIT_TRAVELS, FIT_STEERS)
}

/// What was met on the way, of all axles that count.
#[derive(Default)]
struct Met {
    worst: Option<Worst>,
    stop: Option<Stop>,
    /// What is guessed or missing, and so keeps a limit from being called kept.
    doubts: Vec<String>,
}

impl Met {
    fn look(&mut self, found: Worst) {
        if self.worst.is_none_or(|worst| found.margin < worst.margin) {
            self.worst = Some(found);
        }
    }

    fn stopped(&mut self, found: &Clearances) {
        self.stop = self.stop.take().or_else(|| found.unreachable.first().cloned());
    }

    /// `broken` is the worst value of which nothing is guessed, where that is beyond the bound.
    fn verdict(self, broken: Option<Worst>, nothing: impl FnOnce() -> String) -> Verdict {
        let open = |why| (Outcome::Open(why), self.worst);
        let (outcome, worst) = match (&self.worst, &self.stop) {
            _ if broken.is_some() => (Outcome::Fail, broken),
            (_, Some(stop)) => open(format!("not every pose is reached: {stop}")),
            (None, None) => open(nothing()),
            (Some(_), None) if !self.doubts.is_empty() => open(self.doubts.join("; ")),
            (Some(_), None) => (Outcome::Pass, self.worst),
        };
        Verdict { outcome, worst, stop: self.stop }
    }
}

/// The smallest distance between parts. A part whose radius is not given has the one that the study of
/// clearances takes; such a pair shows the worst value, but decides nothing.
pub(super) fn distance(
    car: &Car,
    solver: &CarSolver,
    limit: &Requirement,
    pairs: Pairs,
    travel: [f64; 2],
) -> Verdict {
    let mut met = Met::default();
    let mut certain = Met::default();
    for end in limit.of.ends() {
        let range = range(car, end, travel);
        let found = clearances_between(car, solver, end, &range, (pairs, SEARCHED));
        met.stopped(&found);
        for one in &found.pairs {
            let worst = Worst {
                value: one.distance,
                margin: limit.margin(one.distance),
                pose: car_pose(end, &one.pose),
                wheel: None,
                place: Some(Place::Parts(one.of)),
            };
            met.look(worst);
            let guessed = guessed(&found, one);
            if guessed.is_empty() {
                certain.look(worst);
            }
            for doubt in guessed {
                if !met.doubts.contains(&doubt) {
                    met.doubts.push(doubt);
                }
            }
        }
    }
    let broken = certain.worst.filter(|worst| worst.margin < 0.0);
    met.verdict(broken, || format!("there is no pair to look at: {pairs}"))
}

/// The radii of a pair that the car does not give, in words.
fn guessed(found: &Clearances, one: &Clearance) -> Vec<String> {
    let radius = |name: &crate::clearance::PartName| {
        let Solid::Piece { part, .. } = name.what else { return None };
        let is = |&&(side, of, _): &&(_, _, _)| (side, of) == (name.side, part);
        let (.., radius) = found.assumed_radii.iter().find(is)?;
        let radius = Unit::Length.write(*radius, LengthUnit::Millimetre);
        Some(format!("the radius of the {} {part} is not given, {radius} is a guess", name.end))
    };
    one.of.iter().filter_map(radius).collect()
}

/// The least that joints have left to their limits; joints without one have no say.
pub(super) fn joints(car: &Car, solver: &CarSolver, limit: &Requirement, travel: [f64; 2]) -> Verdict {
    let mut met = Met::default();
    for end in limit.of.ends() {
        let found = joints_and_stops(car, solver, end, &range(car, end, travel));
        met.stopped(&found);
        for one in &found.joints {
            let Some(value) = one.margin() else { continue };
            met.look(Worst {
                value,
                margin: limit.margin(value),
                pose: car_pose(end, &one.pose),
                wheel: Some(one.wheel),
                place: Some(Place::Joint(one.wheel, one.joint)),
            });
        }
    }
    let broken = met.worst.filter(|worst| worst.margin < 0.0);
    met.verdict(broken, || "no joint has a limit: give some in `joint_limits_deg`".into())
}
