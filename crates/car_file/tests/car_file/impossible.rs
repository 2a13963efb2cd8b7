//! A car whose every word is in its place but that cannot be, or hardly: each case says which point or
//! link, by how much, where in the file, and what to do.

use crate::{assert_problems, assert_refused, with};
use wheelpath_car_file::parse;

const NO_LENGTH: (&str, &str) = ("            lengths: (tie_rod: 452.9),\n", "");

/// The changed car does not load, for this one reason.
#[track_caller]
fn refused(changes: &[(&str, &str)], at: &str, message: &str, hint: &str) {
    assert_refused(&with(changes), &[(at, message, hint)]);
}

/// The changed car loads, with this one warning.
#[track_caller]
fn warned(changes: &[(&str, &str)], at: &str, message: &str, hint: &str) {
    let text = with(changes);
    match parse(&text, "car.ron") {
        Ok(loaded) => assert_problems(&text, &crate::doubts(&loaded.warnings), &[(at, message, hint)]),
        Err(error) => panic!("{error}"),
    }
}

#[test]
fn a_link_without_length() {
    refused(
        &[("tie_rod_outer: (98.0, 692.0, 195.0)", "tie_rod_outer: (88.0, 240.0, 169.0)"), NO_LENGTH],
        "tie_rod_outer",
        "front left: tie rod: its ends stand 0.000 mm apart: no length",
        "look at `tie_rod_inner` and `tie_rod_outer`",
    );
}

#[test]
fn a_wishbone_whose_inner_points_coincide() {
    refused(
        &[("upper_wishbone_rear: (-155.0, 285.0, 320.5)", "upper_wishbone_rear: (115.0, 280.0, 327.5)")],
        "upper_wishbone_front: (115.0",
        "front left: the upper wishbone's two inner points coincide: it has no hinge line",
        "look at `upper_wishbone_front` and `upper_wishbone_rear`",
    );
}

#[test]
fn coincident_ball_joints() {
    refused(
        &[("upper_ball_joint: (-15.0, 655.5, 385.0)", "upper_ball_joint: (7.5, 684.5, 150.0)")],
        "upper_ball_joint: (7.5",
        "front left: the ball joints coincide: there is no steering axis",
        "look at `upper_ball_joint` and `lower_ball_joint`",
    );
}

#[test]
fn a_wheel_on_the_wrong_side() {
    refused(
        &[("centre: (0.0, 713.0, 270.0)", "centre: (0.0, -713.0, 270.0)")],
        "centre: (0.0",
        "front left: the left wheel's centre stands 713.0 mm on the other side of the car",
        "left is y > 0: look at the sign, or at the file's axes",
    );
}

#[test]
fn a_point_on_the_wrong_side() {
    refused(
        &[("tie_rod_outer: (98.0, 692.0, 195.0)", "tie_rod_outer: (98.0, -692.0, 195.0)"), NO_LENGTH],
        "tie_rod_outer",
        "front left: tie rod, outer end: y = −692.0 mm stands on the other side of the car's centre plane",
        "look at the sign of y",
    );
}

#[test]
fn a_tie_rod_that_cannot_reach() {
    refused(
        &[("tie_rod: 452.9", "tie_rod: 252.9")],
        "tie_rod: 252.9",
        "front left: the links cannot be put together in the design pose: tie rod is too short by 100.61 mm",
        "correct the length, or leave it out to take it from the points",
    );
}

#[test]
fn a_dead_point() {
    // The pushrod's line runs through the rocker's pivot.
    refused(
        &[("pushrod_inner: (0.0, 250.0, 525.0)", "pushrod_inner: (-67.3, 289.5, 489.1)")],
        "pushrod_outer: (2.0",
        "front left: the linkage is at a dead point in its design pose; in line: pushrod",
        "the design pose is a dead point: move one of these links out of line",
    );
}

#[test]
fn alignment_out_of_reach() {
    refused(
        &[("camber_deg: -1.8", "camber_deg: -38")],
        "alignment: (toe: TieRodLength",
        "rear right: the asked toe or camber is out of reach of toe link or tie rod length; upper ball joint \
         shim",
        "ask for an angle nearer to what the points give",
    );
}

#[test]
fn wrong_units_are_told_once() {
    let text = with(&[("units: Millimetre", "units: Inch")]);
    let error = parse(&text, "car.ron").unwrap_err();
    let Some(first) = error.problems().first() else { panic!("{error}") };
    assert_eq!(first.to_string(), "car.ron:9:5: the wheelbase comes to 2650.000 in");
    assert_eq!(first.hint(), "the file's units are probably not the ones it declares");
    assert_eq!(error.problems().len(), 1, "{error}");
}

#[test]
fn doubts_are_warnings() {
    warned(
        &[("wheelbase: 2650.0", "wheelbase: 2660.0")],
        "wheelbase",
        "the wheelbase is 2660.0 mm, but the axles' wheel centres stand 2650.0 mm apart, mean of both sides",
        "anti-dive and load transfer use the wheelbase as given, turning circles where the wheels stand; make the two agree",
    );
    warned(
        &[("longest: 265", "longest: 205")],
        "damper: (",
        "front left: the damper is 230.0 mm long in the design pose, outside its stops of 195.0 to 205.0 mm",
        "look at its eyes and its stops",
    );
}
