//! What is wrong or doubtful about a car before it is solved, each with its place and its remedy.

mod axle;
mod carried;
mod corner;
mod levers;
mod plausible;
mod radii;
mod sides;
mod solves;
mod steering;
mod usual;
mod weight;

pub use plausible::{Measured, measures};
pub use usual::{Count, Usual};

use crate::axle::axle_solver::AxleSolver;
use crate::car::Car;
use crate::car::hardpoint::{Hardpoint, Link};
use crate::car::part::Part;
use crate::car::position::{End, Side, WheelPosition};
use crate::car::springing::BarKind;
use crate::number::unit::{LengthUnit, Unit};
use corner::CornerCheck;
use std::ops::RangeInclusive;

/// How bad a finding is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Severity {
    /// The car cannot be solved, or the result would mean nothing.
    Fault,
    /// It can be solved, but look again.
    Warning,
}

/// What a finding is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Subject {
    /// A point.
    Hardpoint(Hardpoint),
    /// A link.
    Link(Link),
    /// The wheel: `centre`, `spin_axis`, `tyre_radius`, `tyre_width`, `rim_radius`, `rim_width` or
    /// `rim_inner_radius`.
    Wheel(&'static str),
    /// The radius of a part.
    Radius(Part),
    /// The damper's stops.
    Damper,
    /// The spring.
    Spring,
    /// The static alignment.
    Alignment,
    /// The axle's steering: `axis`, `travel_per_turn`, `stop_left`, `pitman_axis` and so on; empty for
    /// all of it.
    Steering(&'static str),
    /// Something of the axle as a whole: `linkage`, `watt_lever_on`, `anti_roll_bar`, `third_spring`,
    /// `column`.
    Axle(&'static str),
    /// A number of the whole car: `wheelbase`, `centre_of_gravity_height`, `brake_share_front`, `mass_kg`,
    /// `weight_share_front`, `weight_share_left`, `cross_weight`, `wheel_loads`.
    Car(&'static str),
}

/// Something found in a car.
#[derive(Clone, Debug, PartialEq)]
pub struct Finding {
    /// How bad.
    pub severity: Severity,
    /// At which end, if at one.
    pub end: Option<End>,
    /// At which side, if at one.
    pub side: Option<Side>,
    /// About what.
    pub subject: Subject,
    /// What is the matter, and by how much.
    pub message: String,
    /// What to do.
    pub hint: String,
    /// How far out of the usual it is, in widths of the usual range; zero where no range is meant.
    pub out: f64,
    /// What most of all that is unusual there hangs on, of what this measure is made of: a point, or the tyre's radius;
    /// `None` where no range is meant, or the measure is of none of these.
    pub likeliest: Option<Subject>,
}

// Verdicts do not hang on rounding: none is at nothing, and none at a round number of a file, or a car that
// loads could, written in other units, load no more.

/// Points nearer than this are the same point, metres.
const SAME: f64 = 0.999e-4;
/// A steering arm shorter than this cannot steer, metres.
const SHORTEST_ARM: f64 = 4.999e-3;
/// Less than this is no size, metres, and no angle, radians.
const NO_SIZE: f64 = 0.999e-6;
/// No car reaches so far, metres.
const BEYOND_A_CAR: f64 = 50.001;
/// Rates of springs and bars, newtons per metre or newton metres per radian.
const RATES: RangeInclusive<f64> = 1e-6..=1e12;

/// Whether it is a length a part of a car can have, metres.
fn is_size(length: f64) -> bool {
    (NO_SIZE..=BEYOND_A_CAR).contains(&length)
}

/// What is found so far, and in which unit lengths are said.
struct Found {
    all: Vec<Finding>,
    lengths: LengthUnit,
}

impl Found {
    fn push(&mut self, finding: Finding) {
        self.all.push(finding);
    }

    fn has_fault_since(&self, before: usize) -> bool {
        self.all.iter().skip(before).any(|finding| finding.severity == Severity::Fault)
    }
}

/// Looks a whole car over: faults first, then what is unusual, as far as it does not hang on a fault. Lengths are said
/// in millimetres.
#[must_use]
pub fn check(car: &Car) -> Vec<Finding> {
    check_in(car, LengthUnit::Millimetre)
}

/// The same with lengths said in the unit of the car's own file.
#[must_use]
pub fn check_in(car: &Car, lengths: LengthUnit) -> Vec<Finding> {
    let mut found = Found { all: Vec::new(), lengths };
    whole_car(car, &mut found);
    for end in End::BOTH {
        let axle = car.axle(end);
        steering::check(axle, end, &mut found);
        let before = found.all.len();
        for side in Side::BOTH {
            found.all.append(&mut CornerCheck::of(axle, WheelPosition { end, side }, lengths));
        }
        let sound = !found.has_fault_since(before);
        axle::check(axle, end, sound, &mut found);
        radii::check(axle, end, &mut found);
        let sound = !found.has_fault_since(before);
        if sound && axle.bar_kind() == Some(BarKind::T) {
            t_bar_holds(car, end, &mut found);
        }
    }
    if found.all.iter().all(|finding| finding.severity == Severity::Warning) {
        plausible::check(car, &mut found);
    } else {
        plausible::check_beside_faults(car, &mut found);
    }
    let rank = |one: &Finding, other: &Finding| {
        let is_warning = |finding: &Finding| finding.severity == Severity::Warning;
        is_warning(one).cmp(&is_warning(other)).then(other.out.total_cmp(&one.out))
    };
    found.all.sort_by(rank);
    found.all
}

/// Whether the drop links of a T-bar reach it in the design pose.
fn t_bar_holds(car: &Car, end: End, found: &mut Found) {
    let Err(stop) = AxleSolver::new(car, end) else { return };
    if stop.links.contains(&Link::DropLink.label()) {
        found.push(Finding {
            severity: Severity::Fault,
            end: Some(end),
            side: None,
            subject: Subject::Axle("anti_roll_bar"),
            message: "the drop links do not reach the T-bar in the design pose".into(),
            hint: "correct the drop links' lengths, or leave them out to take them from the points".into(),
            out: 0.0,
            likeliest: None,
        });
    }
}

fn of_car(found: &mut Found, severity: Severity, what: &'static str, message: String, hint: &str) {
    found.push(Finding {
        severity,
        end: None,
        side: None,
        subject: Subject::Car(what),
        message,
        hint: hint.to_owned(),
        out: 0.0,
        likeliest: None,
    });
}

fn whole_car(car: &Car, found: &mut Found) {
    use Severity::{Fault, Warning};
    let base = car.wheelbase;
    if !base.is_finite() || base <= 0.0 {
        of_car(
            found,
            Fault,
            "wheelbase",
            format!(
                "the wheelbase is {} {}, which is no length",
                base * Unit::Length.data_factor(found.lengths),
                Unit::Length.symbol(found.lengths)
            ),
            "give it as a positive number",
        );
        return;
    }
    if !(0.499_99..=6.000_01).contains(&base) {
        let message = format!("the wheelbase comes to {}", found.lengths.say(base, 1));
        of_car(found, Fault, "wheelbase", message, "the file's units are probably not the ones it declares");
    }
    let mean = |end| {
        let axle = car.axle(end);
        0.5 * (axle.left.wheel.centre.x + axle.right.wheel.centre.x)
    };
    let apart = mean(End::Front) - mean(End::Rear);
    if (apart - base).abs() > 1e-3 {
        let message = format!(
            "the wheelbase is {}, but the axles' wheel centres stand {} apart, mean of both sides",
            found.lengths.say(base, 1),
            found.lengths.say(apart, 1)
        );
        of_car(
            found,
            Warning,
            "wheelbase",
            message,
            "anti-dive and load transfer use the wheelbase as given, turning circles where the wheels stand; make the two agree",
        );
    }
    if let Some(height) = car.centre_of_gravity_height
        && !is_size(height)
    {
        let message = format!("the centre-of-gravity height is {}", found.lengths.say(height, 1));
        of_car(
            found,
            Fault,
            "centre_of_gravity_height",
            message,
            "give a height above the ground, or leave it out",
        );
    }
    if let Some(mass) = car.mass
        && !(1e-3..=1e6).contains(&mass)
    {
        of_car(
            found,
            Fault,
            "mass_kg",
            format!("the mass is {mass} kg"),
            "give a positive mass, or leave it out",
        );
    }
    if let Some(share) = car.weight_share_front
        && !(0.0..=1.0).contains(&share)
    {
        let message = format!("the front's share of the weight is {share}");
        of_car(found, Fault, "weight_share_front", message, "give a share from 0 to 1");
    }
    weight::check(car, found);
    if let Some(share) = car.brake_share_front
        && !(0.0..=1.0).contains(&share)
    {
        let message = format!("the front's brake share is {share}");
        of_car(found, Fault, "brake_share_front", message, "give a share from 0 to 1");
    }
}
