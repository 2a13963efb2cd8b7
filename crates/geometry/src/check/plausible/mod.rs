//! Measures of a car against what is usual: distances, angles, ratios of its points, and its readings. A
//! wrong number that the links still close with shows here.

mod beside_faults;
mod carried;
mod compared_sides;
mod knuckles;
mod links;
mod motion;
mod springs;
mod stance;
mod stated_lengths;
mod steered;
mod twins;
mod tyre;
mod upright;

use super::usual::{Count, Usual};
use super::{Finding, Found, Severity, Subject};
use crate::axle::axle_solver::AxleSolver;
use crate::car::hardpoint::Hardpoint;
use crate::car::position::{End, Side};
use crate::car::{Axle, Car, Corner};
use crate::number::unit::LengthUnit;
use nalgebra::Vector3;

/// A measure of a car, beside what is usual for it.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// What is measured, and what is usual.
    pub usual: Usual,
    /// The value, in SI.
    pub value: f64,
    /// Radius of the tyre that sizes are compared with, metres.
    pub tyre_radius: f64,
    /// At which end, if at one.
    pub end: Option<End>,
    /// At which side, if at one.
    pub side: Option<Side>,
    /// What it is about.
    pub subject: Subject,
    /// The points it is made of, the likeliest to be wrong first.
    pub points: Vec<Hardpoint>,
}

impl Measured {
    /// How far out of the usual range it is, in widths of the range; zero within it.
    #[must_use]
    pub fn out(&self) -> f64 {
        self.usual.out(self.value, self.tyre_radius)
    }

    /// What is said of it: `votes` tells how many of all that is unusual hangs on a point here.
    fn warning(&self, votes: impl Fn(Hardpoint) -> usize, by_tyre: ByTyre, lengths: LengthUnit) -> Finding {
        // Of equals the first, which is the one that the measure says most about.
        let most = self.points.iter().map(|&point| votes(point)).max().unwrap_or_default();
        let likeliest = self.points.iter().copied().find(|&point| votes(point) == most);
        let subject = match (self.subject, likeliest) {
            (Subject::Hardpoint(_), Some(point)) => Subject::Hardpoint(point),
            (subject, _) => subject,
        };
        let name = match (self.points.first(), self.subject) {
            (_, Subject::Hardpoint(point)) | (Some(&point), _) => format!("the {}", point.label()),
            _ => "it".to_owned(),
        };
        Finding {
            severity: Severity::Warning,
            end: self.end,
            side: self.side,
            subject,
            message: self.usual.said(self.value, self.tyre_radius, &name, lengths),
            hint: self.hint(likeliest, most) + &self.hint_of_tyre(by_tyre.all),
            out: self.out(),
            likeliest: if self.usual.count == Count::TyreRadii && by_tyre.own > most.max(2) {
                Some(Subject::Wheel("tyre_radius"))
            } else {
                likeliest.map(Subject::Hardpoint)
            },
        }
    }

    /// The key of what it is about, where that is no point.
    fn key(&self) -> Option<&'static str> {
        match self.subject {
            Subject::Wheel(key) | Subject::Steering(key) | Subject::Axle(key) | Subject::Car(key) => {
                Some(key).filter(|key| !key.is_empty())
            }
            _ => None,
        }
    }

    /// Where several sizes are odd beside the tyre's, it may be the tyre that is wrong.
    fn hint_of_tyre(&self, by_tyre: usize) -> String {
        if self.usual.count != Count::TyreRadii || by_tyre < 3 {
            return String::new();
        }
        format!("; or at `tyre_radius`, which {by_tyre} of these warnings are measured by")
    }

    fn hint(&self, likeliest: Option<Hardpoint>, votes: usize) -> String {
        let Some(first) = likeliest else {
            let what = self.key().map_or_else(|| "this number".to_owned(), |key| format!("`{key}`"));
            return format!("look at {what}: its sign, its unit, its decimal point");
        };
        let why = if votes > 1 && self.points.len() > 1 {
            format!(" ({votes} of these warnings hang on it)")
        } else {
            String::new()
        };
        let others: Vec<String> = self
            .points
            .iter()
            .filter(|&&point| point != first)
            .map(|point| format!("`{}`", point.key()))
            .collect();
        let others = match others.split_last() {
            None => String::new(),
            Some((only, [])) => format!(", then at {only}"),
            Some((last, rest)) => format!(", then at {} and {last}", rest.join(", ")),
        };
        let own = self.key().map_or_else(String::new, |key| format!("`{key}`, then at "));
        let first = first.key();
        format!(
            "look at {own}`{first}`{why}{others}: a sign, a unit, a decimal point, two coordinates swapped"
        )
    }
}

/// How much of all that is unusual at an end is measured by a tyre's radius.
#[derive(Clone, Copy)]
struct ByTyre {
    all: usize,
    /// On one side.
    own: usize,
}

/// Looks a car without faults over for what is unusual.
pub(super) fn check(car: &Car, found: &mut Found) {
    let all = measures(car);
    say(&all, found);
    stated_lengths::check(car, &all, found);
}

pub(super) use beside_faults::check as check_beside_faults;

/// Says what of these measures is unusual.
fn say(all: &[Measured], found: &mut Found) {
    let unusual: Vec<&Measured> = all.iter().filter(|one| one.out() > 0.0).collect();
    for one in &unusual {
        let here = |other: &&&Measured| {
            other.end == one.end && (other.side == one.side || other.side.is_none() || one.side.is_none())
        };
        let votes = |point: Hardpoint| {
            unusual.iter().filter(here).filter(|other| other.points.contains(&point)).count()
        };
        let by_tyre =
            || unusual.iter().filter(|other| other.end == one.end && other.usual.count == Count::TyreRadii);
        let own = by_tyre().filter(|other| other.side == one.side).count();
        let by_tyre = ByTyre { all: by_tyre().count(), own };
        found.push(one.warning(votes, by_tyre, found.lengths));
    }
}

/// Everything that [`check`](super::check()) measures of a car without faults and holds against what is
/// usual; of a car that cannot be solved, what can be measured all the same.
#[must_use]
pub fn measures(car: &Car) -> Vec<Measured> {
    measured(car, [true; 2])
}

/// The same; `moves` says of which axles, front and rear, the linkages are moved to take readings.
fn measured(car: &Car, moves: [bool; 2]) -> Vec<Measured> {
    let mut all = Vec::new();
    stance::measure(car, &mut all);
    for (end, moves) in End::BOTH.into_iter().zip(moves) {
        let axle = car.axle(end);
        for side in Side::BOTH {
            let mut place = Place::of(axle, end, side, &mut all);
            place.upright();
            place.king_pin();
            place.links();
            place.carried();
            place.springs();
        }
        tyre::measure(axle, end, &mut all);
        twins::measure(axle, end, &mut all);
        knuckles::steering(axle, end, &mut all);
        links::beam(axle, end, &mut all);
        steered::measure(axle, end, &mut all);
        if moves && let Ok(solver) = AxleSolver::new(car, end) {
            motion::measure(car, &solver, end, &mut all);
        }
    }
    motion::beside(&mut all);
    compared_sides::name_side(car, &mut all);
    // A measure of points that are not there, or of a pose that is not reached, says nothing.
    all.retain(|one| one.value.is_finite());
    all
}

/// One corner, its points counted from the ground under the wheel centre: x forward, y outboard, z up.
struct Place<'a> {
    axle: &'a Axle,
    corner: &'a Corner,
    end: End,
    side: Side,
    /// The tyre's radius.
    size: f64,
    all: &'a mut Vec<Measured>,
}

impl<'a> Place<'a> {
    fn of(axle: &'a Axle, end: End, side: Side, all: &'a mut Vec<Measured>) -> Self {
        let corner = axle.corner(side);
        Place { axle, corner, end, side, size: corner.wheel.tyre_radius, all }
    }

    /// The point, if the corner has it.
    fn at(&self, hardpoint: Hardpoint) -> Option<Vector3<f64>> {
        let at = self.corner.hardpoints.get(hardpoint)? - self.corner.wheel.centre;
        Some(Vector3::new(at.x, at.y * self.side.sign(), at.z + self.size))
    }

    fn usual(&mut self, usual: Usual, value: f64, subject: Subject, points: &[Hardpoint]) {
        self.all.push(Measured {
            usual,
            value,
            tyre_radius: self.size,
            end: Some(self.end),
            side: Some(self.side),
            subject,
            points: points.to_vec(),
        });
    }

    /// A measure of points, the first of which is the one to look at.
    fn of_points(&mut self, usual: Usual, value: f64, points: &[Hardpoint]) {
        if let Some(first) = points.first() {
            self.usual(usual, value, Subject::Hardpoint(*first), points);
        }
    }
}

/// The first point of the axis that a point is only the second of: where along that axis it stands says nothing.
fn axis_from(hardpoint: Hardpoint) -> Option<Hardpoint> {
    match hardpoint {
        Hardpoint::RockerAxis => Some(Hardpoint::RockerPivot),
        Hardpoint::BarAxis => Some(Hardpoint::BarPivot),
        _ => None,
    }
}

/// The angle between two directions as lines, 0 to a right angle, radians.
fn between(a: &Vector3<f64>, b: &Vector3<f64>) -> f64 {
    a.cross(b).norm().atan2(a.dot(b).abs())
}

/// Distance of a point from the line through two others.
fn off_line(point: &Vector3<f64>, a: &Vector3<f64>, b: &Vector3<f64>) -> f64 {
    (point - a).cross(&(b - a)).norm() / (b - a).norm()
}

/// Where along the line from one point to another a third stands, 0 to 1 between them.
fn share_along(point: &Vector3<f64>, a: &Vector3<f64>, b: &Vector3<f64>) -> f64 {
    (point - a).dot(&(b - a)) / (b - a).norm_squared()
}
