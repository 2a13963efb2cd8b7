//! Points of each linkage that are missing, not used or in another's place.

use crate::{BOX_AND_H_ARM, FIVE_LINKS_AND_ARM, STRUT_AND_AXLE, assert_refused, changed};

/// The text with one piece replaced is refused, for this one reason.
#[track_caller]
fn check(text: &str, (from, to): (&str, &str), at: &str, message: &str, hint: &str) {
    assert_refused(&changed(text, &[(from, to)]), &[(at, message, hint)]);
}

#[test]
fn points_in_anothers_place() {
    check(
        STRUT_AND_AXLE,
        (
            "damper_body: (-2764.0, 470.0, 630.0),",
            "panhard_rod_body: (1, 2, 3), damper_body: (-2764.0, 470.0, 630.0),",
        ),
        "panhard_rod_body",
        "panhard_rod_body is the axle's as a whole, and does not belong in the rear left pickups",
        "move it to the rear axle's own `pickups`, beside its linkage",
    );
    check(
        STRUT_AND_AXLE,
        ("watt_pivot: (-2816.0", "upper_link_inner: (1, 2, 3), watt_pivot: (-2816.0"),
        "upper_link_inner",
        "upper_link_inner is a corner's, and does not belong in the rear axle pickups",
        "move it to the `pickups` of the rear left or rear right corner",
    );
    check(
        STRUT_AND_AXLE,
        ("(top_link: 361.7)", "(top_link: 361.7, lower_link: 520.0)"),
        "lower_link: 520",
        "lower_link is a corner's, and does not belong in the rear axle lengths",
        "move it to the `lengths` of the rear left or rear right corner",
    );
    check(
        FIVE_LINKS_AND_ARM,
        ("(upper_front_link: 228.6)", "(upper_front_link: 228.6, panhard_rod: 900)"),
        "panhard_rod",
        "panhard_rod is the axle's as a whole, and does not belong in the front left lengths",
        "move it to the front axle's own `lengths`, beside its linkage",
    );
}

#[test]
fn missing_points() {
    let missing = |text: &str, key: &str, place: &str, message: &str, hint: &str| {
        let line = text.lines().find(|line| line.trim_start().starts_with(&format!("{key}:")));
        let line = format!("{}\n", line.unwrap_or_else(|| panic!("no {key}")));
        let text = changed(text, &[(&line, "")]);
        assert_refused(&text, &[(place, message, hint)]);
    };
    missing(
        STRUT_AND_AXLE,
        "strut_top",
        "(\n                strut_bottom",
        "front left strut, top mount is missing: the strut with its lower wishbone needs it",
        "add `strut_top: (x, y, z)` to pickups",
    );
    missing(
        STRUT_AND_AXLE,
        "watt_rod_left",
        "(\n            top_link_inner",
        "rear axle Watt left rod, far end is missing: the Watt linkage needs it",
        "add `watt_rod_left: (x, y, z)` to the axle's own pickups",
    );
    missing(
        STRUT_AND_AXLE,
        "lower_link_outer",
        "(\n                lower_link_inner",
        "rear left lower link, outer end is missing: the link's other end, `lower_link_inner`, is given",
        "add `lower_link_outer: (x, y, z)` to pickups",
    );
    missing(
        BOX_AND_H_ARM,
        "tie_rod_outer",
        "(\n                upper_wishbone_front",
        "front left tie rod, outer end is missing: the axle is steered by a steering box",
        "add `tie_rod_outer: (x, y, z)` to pickups",
    );
    missing(
        BOX_AND_H_ARM,
        "third_spring_end",
        "(\n                upper_wishbone_front",
        "front left third spring, end is missing: the third spring needs it",
        "add `third_spring_end: (x, y, z)` to pickups",
    );
    missing(
        BOX_AND_H_ARM,
        "drop_link_bar",
        "(\n                upper_wishbone_front",
        "front left drop link, bar end is missing: the corner has a drop link to a T-bar",
        "add `drop_link_bar: (x, y, z)` to pickups",
    );
    missing(
        BOX_AND_H_ARM,
        "spring_moving",
        "(\n                h_arm_inner_front",
        "rear left spring, moving eye is missing: the separate spring needs it",
        "add `spring_moving: (x, y, z)` to pickups",
    );
    // The axle has no block of its own yet.
    assert_refused(
        &changed(
            FIVE_LINKS_AND_ARM,
            &[
                (
                    "drive: Sprung,\n        left: (\n            wheel: (\n                centre: (-2600",
                    "drive: Sprung,\n        anti_roll_bar: T,\n        left: (\n            wheel: (\n                centre: (-2600",
                ),
                (
                    "                bar_pivot: (-2330.0, 470.0, 366.0),\n                bar_axis: (-2330.0, 0.0, 366.0),\n",
                    "",
                ),
            ],
        ),
        &[
            (
                "(\n        linkage: TrailingArm",
                "rear axle T-bar pivot is missing: the T-bar needs it",
                "add `t_bar_pivot: (x, y, z)` to the axle's own pickups",
            ),
            (
                "(\n        linkage: TrailingArm",
                "rear axle T-bar swing axis, second point is missing: the T-bar needs it",
                "add `t_bar_axis: Point(x, y, z)` to the axle's own pickups",
            ),
            (
                "(\n        linkage: TrailingArm",
                "rear axle T-bar head is missing: the T-bar needs it",
                "add `t_bar_head: (x, y, z)` to the axle's own pickups",
            ),
        ],
    );
}

#[test]
fn points_that_are_not_used() {
    let unused = |text: &str, before: &str, key: &str, message: &str, hint: &str| {
        check(
            text,
            (before, &format!("{key}: (1, 2, 3), {before}")),
            &format!("{key}: (1, 2, 3)"),
            message,
            hint,
        );
    };
    unused(
        STRUT_AND_AXLE,
        "lower_ball_joint: (8.0",
        "upper_ball_joint",
        "front left upper ball joint is not used: the strut with its lower wishbone has no such point",
        "delete the point, or give the axle the linkage that has it: DoubleWishbone",
    );
    unused(
        STRUT_AND_AXLE,
        "lower_ball_joint: (8.0",
        "damper_body",
        "front left damper, body eye is not used: the strut itself is the damper",
        "delete the point",
    );
    unused(
        STRUT_AND_AXLE,
        "watt_pivot: (-2816.0",
        "t_bar_head",
        "rear axle T-bar head is not used: the axle has no T-bar",
        "give the axle `anti_roll_bar: T`, or delete the point",
    );
    unused(
        BOX_AND_H_ARM,
        "t_bar_head: (-24.0",
        "panhard_rod_axle",
        "front axle Panhard rod, axle end is not used: the double wishbone has no such point",
        "delete the point, or give the axle the linkage that has it: BeamAxle or SteeredBeamAxle",
    );
    unused(
        BOX_AND_H_ARM,
        "lower_ball_joint: (8.0",
        "bar_axis",
        "front left anti-roll bar axis, second point is not used: the axle's bar is a T",
        "delete the point, or give the axle `anti_roll_bar: U`",
    );
    unused(
        BOX_AND_H_ARM,
        "damper_body: (-2575.0",
        "toe_link_inner",
        "rear left toe link, inner end is not used: the H-arm with its upper link has no such point",
        "delete the point, or give the axle the linkage that has it: DoubleWishbone, Strut or FiveLink",
    );
    unused(
        BOX_AND_H_ARM,
        "damper_body: (-2575.0",
        "third_spring_end",
        "rear left third spring, end is not used: the axle has no third spring",
        "add `third_spring: (on: PART)` to the axle, or delete the point",
    );
    unused(
        FIVE_LINKS_AND_ARM,
        "damper_body: (-10.0",
        "spring_body",
        "front left spring, body eye is not used: the corner has no separate spring",
        "add `spring: Separate(on: PART, rate_n_per_mm: ...)`, or delete the point",
    );
    unused(
        FIVE_LINKS_AND_ARM,
        "damper_body: (-10.0",
        "toe_link_outer",
        "front left toe link, outer end is not used: the axle is steered by a rack",
        "call it tie_rod_inner or tie_rod_outer, or give the axle `steering: Fixed`",
    );
    let no_watt =
        changed(STRUT_AND_AXLE, &[("        watt_lever_on: Axle, // its pivot goes with the axle\n", "")]);
    let error = wheelpath_car_file::parse(&no_watt, "car.ron").unwrap_err().to_string();
    let lines: Vec<_> = error.lines().collect();
    assert_eq!(lines.len(), 12, "{error}");
    assert!(
        lines[0].ends_with("rear axle Watt lever pivot is not used: no `watt_lever_on` is given"),
        "{error}"
    );
    assert_eq!(lines[1], "hint: add `watt_lever_on: Body` or Axle, or delete the point");
}
