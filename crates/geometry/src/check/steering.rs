//! What is wrong or doubtful about an axle's steering.

use super::{BEYOND_A_CAR, Finding, Found, SHORTEST_ARM, Severity, Subject, is_size};
use crate::car::Axle;
use crate::car::position::End;
use crate::car::steering::{Column, Rack, Steering, SteeringBox};

/// Looks over the steering of an axle.
pub(super) fn check(axle: &Axle, end: End, found: &mut Found) {
    column(&axle.column, end, found);
    match &axle.steering {
        Steering::Fixed => return,
        Steering::Rack(own) => rack(own, end, found),
        Steering::Box(own) => steering_box(own, end, found),
    }
    if axle.is_beam() && !axle.left.linkage.spec().can_steer() {
        found.push(finding(
            Severity::Fault,
            end,
            "",
            "a beam axle without king pins cannot be steered".into(),
            "write `steering: Fixed`, or `linkage: SteeredBeamAxle`",
        ));
    } else if end == End::Rear {
        found.push(finding(
            Severity::Warning,
            end,
            "axis",
            format!(
                "the rear {} is held in its centre",
                if axle.steering.rack().is_some() { "rack" } else { "pitman arm" }
            ),
            "steer moves the front steering alone",
        ));
    }
}

fn finding(severity: Severity, end: End, what: &'static str, message: String, hint: &str) -> Finding {
    let subject = Subject::Steering(what);
    Finding {
        severity,
        end: Some(end),
        side: None,
        subject,
        message,
        hint: hint.to_owned(),
        out: 0.0,
        likeliest: None,
    }
}

fn rack(rack: &Rack, end: End, found: &mut Found) {
    let lengths = found.lengths;
    let mut add = |severity, what, message: String, hint: &str| {
        found.push(finding(severity, end, what, message, hint));
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
    if !is_size(rack.travel_per_turn.abs()) {
        add(
            Severity::Fault,
            "travel_per_turn",
            "the rack does not move when the steering wheel turns".into(),
            "give the rack travel for one turn of the steering wheel",
        );
    }
    for (what, stop) in [("stop_left", rack.stop_left), ("stop_right", rack.stop_right)] {
        if !(0.0..=BEYOND_A_CAR).contains(&stop) {
            let message = format!("the rack's {} is at {}", what.replace('_', " "), lengths.say(stop, 1));
            add(
                Severity::Fault,
                what,
                message,
                "give the travel from centre to the stop as a positive number",
            );
        }
    }
}

fn steering_box(own: &SteeringBox, end: End, found: &mut Found) {
    let lengths = found.lengths;
    let mut fault = |what, message: String, hint: &str| {
        found.push(finding(Severity::Fault, end, what, message, hint));
    };
    let keys = [["pitman_pivot", "pitman_axis", "pitman_ball"], ["idler_pivot", "idler_axis", "idler_ball"]];
    for ([pivot, axis, ball], arm) in keys.into_iter().zip([&own.pitman, &own.idler]) {
        let points = [(pivot, arm.pivot), (axis, arm.axis), (ball, arm.ball)];
        if let Some((key, _)) =
            points.iter().find(|(_, v)| !v.iter().all(|x| x.is_finite() && x.abs() < BEYOND_A_CAR))
        {
            fault(key, format!("{}: no place on a car", key.replace('_', " ")), "write three plain numbers");
            return;
        }
        if (arm.axis.norm() - 1.0).abs() > 1e-6 {
            let message = format!("the {} has no direction", axis.replace('_', " "));
            fault(axis, message, "give a direction other than zero, such as (0, 0, 1)");
        } else if arm.axis.z <= 0.0 {
            let message = format!("the {} does not point upward", axis.replace('_', " "));
            fault(axis, message, "turn the axis round: + is right-handed about the upward axis");
        }
        let length = (arm.ball - arm.pivot).cross(&arm.axis).norm();
        if length < SHORTEST_ARM {
            let message = format!("the arm's ball joint stands {} off its own axis", lengths.say(length, 2));
            fault(ball, message, "look at the pivot and the ball joint");
        }
    }
    let link = own.idler.ball - own.pitman.ball;
    let off = own.pitman.axis.cross(&link).norm();
    if off < SHORTEST_ARM {
        fault(
            "idler_ball",
            "the centre link stands along the pitman arm's axis".into(),
            "look at both ball joints",
        );
    }
    let reach = own.idler.axis.cross(&(own.idler.ball - own.idler.pivot)).dot(&link).abs();
    let size = (own.idler.ball - own.idler.pivot).norm() * link.norm();
    if size > 0.0 && reach / size < 0.02 {
        let message = "the idler arm and the centre link are in line in the design pose: a dead point".into();
        fault("idler_pivot", message, "move the idler arm's pivot out of the link's line");
    }
    if !(1e-3..=1e6).contains(&own.ratio.abs()) {
        fault(
            "ratio",
            "the steering box's ratio is no ratio".into(),
            "give turns of the steering wheel for one of the arm",
        );
    }
    for (what, stop) in [("stop_left_deg", own.stop_left), ("stop_right_deg", own.stop_right)] {
        if !(0.0..=3.0).contains(&stop) {
            let message = format!(
                "the pitman arm's {} is at {:.1}°",
                what.trim_end_matches("_deg").replace('_', " "),
                stop.to_degrees()
            );
            fault(what, message, "give the turn from centre to the stop as a positive angle");
        }
    }
}

fn column(column: &Column, end: End, found: &mut Found) {
    for joint in column.joints.iter().flatten() {
        let finite = joint.bend.is_finite() && joint.phase.is_finite();
        if !finite || joint.bend.abs() > 1.3 {
            let message = format!("a column joint is bent by {:.1}°", joint.bend.to_degrees());
            let mut one = finding(Severity::Fault, end, "", message, "a Cardan joint turns up to about 45°");
            one.subject = Subject::Axle("column");
            found.push(one);
        }
    }
}
