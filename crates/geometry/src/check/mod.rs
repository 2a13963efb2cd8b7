//! What is wrong or doubtful about a car before it is solved, each with its place and its remedy.

mod corner;

use crate::car::{Axle, Car, Steering};
use crate::pickup::{Link, Pickup};
use crate::side::{End, Side, WheelAt};
use corner::{BEYOND_A_CAR, CornerCheck, NO_SIZE};

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
    Pickup(Pickup),
    /// A link.
    Link(Link),
    /// The wheel: `centre`, `spin_axis`, `tyre_radius`, `tyre_width` or `rim_radius`.
    Wheel(&'static str),
    /// The damper's stops.
    Damper,
    /// The static alignment.
    Alignment,
    /// The axle's rack: `axis`, `travel_per_turn`, `stop_left` or `stop_right`.
    Rack(&'static str),
    /// A number of the whole car: `wheelbase`, `centre_of_gravity_height`, `brake_share_front`.
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
}

/// Looks a whole car over: faults first.
#[must_use]
pub fn check(car: &Car) -> Vec<Finding> {
    let mut found = Vec::new();
    whole_car(car, &mut found);
    for end in End::BOTH {
        rack(car.axle(end), end, &mut found);
        for side in Side::BOTH {
            found.append(&mut CornerCheck::of(car.axle(end), WheelAt { end, side }));
        }
    }
    found.sort_by_key(|finding| finding.severity == Severity::Warning);
    found
}

fn of_car(found: &mut Vec<Finding>, severity: Severity, what: &'static str, message: String, hint: &str) {
    found.push(Finding {
        severity,
        end: None,
        side: None,
        subject: Subject::Car(what),
        message,
        hint: hint.to_owned(),
    });
}

fn whole_car(car: &Car, found: &mut Vec<Finding>) {
    use Severity::{Fault, Warning};
    let base = car.wheelbase;
    if !base.is_finite() || base <= 0.0 {
        of_car(
            found,
            Fault,
            "wheelbase",
            format!("the wheelbase is {base}, which is no length"),
            "give it as a positive number",
        );
        return;
    }
    if !(0.499_99..=6.000_01).contains(&base) {
        let message = format!("the wheelbase comes to {:.1} mm", base * 1e3);
        of_car(found, Fault, "wheelbase", message, "the file's units are probably not the ones it declares");
    }
    let apart = car.front.left.wheel.centre.x - car.rear.left.wheel.centre.x;
    if (apart - base).abs() > 1e-3 {
        let message = format!(
            "the wheelbase is {:.1} mm, but the left wheel centres stand {:.1} mm apart",
            base * 1e3,
            apart * 1e3
        );
        of_car(
            found,
            Warning,
            "wheelbase",
            message,
            "turning circle and anti-dive use the wheelbase as given; make the two agree",
        );
    }
    if let Some(height) = car.centre_of_gravity_height
        && !(NO_SIZE..=BEYOND_A_CAR).contains(&height)
    {
        let message = format!("the centre-of-gravity height is {:.1} mm", height * 1e3);
        of_car(
            found,
            Fault,
            "centre_of_gravity_height",
            message,
            "give a height above the ground, or leave it out",
        );
    }
    if let Some(share) = car.brake_share_front
        && !(0.0..=1.0).contains(&share)
    {
        let message = format!("the front's brake share is {share}");
        of_car(found, Fault, "brake_share_front", message, "give a share from 0 to 1");
    }
}

fn rack(axle: &Axle, end: End, found: &mut Vec<Finding>) {
    let Steering::Rack(rack) = axle.steering else { return };
    let mut add = |severity, what, message: String, hint: &str| {
        found.push(Finding {
            severity,
            end: Some(end),
            side: None,
            subject: Subject::Rack(what),
            message,
            hint: hint.to_owned(),
        });
    };
    let length = rack.axis.norm();
    if !length.is_finite() || (length - 1.0).abs() > 1e-6 {
        add(
            Severity::Fault,
            "axis",
            "the rack's axis has no direction".into(),
            "give a direction other than zero, such as (0, 1, 0)",
        );
    } else if rack.axis.y < 0.5 {
        add(
            Severity::Warning,
            "axis",
            "the rack's axis does not point to the left".into(),
            "positive rack travel is meant to go toward the left: turn the axis round or look again",
        );
    }
    if !(NO_SIZE..=BEYOND_A_CAR).contains(&rack.travel_per_turn.abs()) {
        add(
            Severity::Fault,
            "travel_per_turn",
            "the rack does not move when the steering wheel turns".into(),
            "give the rack travel for one turn of the steering wheel",
        );
    }
    for (what, stop) in [("stop_left", rack.stop_left), ("stop_right", rack.stop_right)] {
        if !(0.0..=BEYOND_A_CAR).contains(&stop) {
            let message = format!("the rack's {} is at {:.1} mm", what.replace('_', " "), stop * 1e3);
            add(
                Severity::Fault,
                what,
                message,
                "give the travel from centre to the stop as a positive number",
            );
        }
    }
    if end == End::Rear {
        add(
            Severity::Warning,
            "axis",
            "the rear rack is held in its centre".into(),
            "steer moves the front rack alone",
        );
    }
}
