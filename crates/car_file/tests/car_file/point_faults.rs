//! Points, links and sides that a corner must have, or must not.

use crate::{CAR, assert_refused as check};

/// The small car with one piece of text replaced.
fn with(from: &str, to: &str) -> String {
    crate::with(&[(from, to)])
}

#[test]
fn points_and_links() {
    check(
        &with("                tie_rod_inner: (88.0, 240.0, 169.0), // 2.5 too high\n", ""),
        &[
            (
                "(\n                upper_wishbone_front: (115.0",
                "front left tie rod, inner end is missing: the axle is steered by a rack",
                "add `tie_rod_inner: (x, y, z)` to pickups",
            ),
            (
                "tie_rod: 452.9",
                "front left has no tie rod to have a length",
                "delete the length, or add the points of the link",
            ),
        ],
    );
    let hardpoints = "known here: upper_wishbone_front, upper_wishbone_rear, upper_ball_joint, \
                   lower_wishbone_front, lower_wishbone_rear, lower_ball_joint, tie_rod_inner, tie_rod_outer, \
                   pushrod_outer, pushrod_inner, rocker_pivot, rocker_axis, \
                   damper_rocker, damper_body, drop_link_outer, drop_link_bar, bar_pivot or bar_axis";
    check(
        &with("bar_axis: (20.0", "bar_axsi: (20.0"),
        &[(
            "bar_axsi",
            "bar_axsi has no meaning in the front left pickups; did you mean bar_axis?",
            hardpoints,
        )],
    );
    check(
        &with("bar_axis: (20.0, 0.0, 475.0),", "bar_axis: (20.0, 0.0, 475.0), steering_wheel: (0, 0, 0),"),
        &[("steering_wheel", "steering_wheel has no meaning in the front left pickups", hardpoints)],
    );
    check(
        &with("bar_axis: (20.0, 0.0, 475.0),", "bar_axis: (20.0, 0.0, 475.0), toe_link_inner: (0, 0, 0),"),
        &[(
            "toe_link_inner: (0,",
            "front left toe link, inner end is not used: the axle is steered by a rack",
            "call it tie_rod_inner or tie_rod_outer, or give the axle `steering: Fixed`",
        )],
    );
    check(
        &with(
            "            drop_link_on: Rocker,\n        ),\n        right: Mirrored",
            "            drop_link_on: Upright,\n        ),\n        right: Mirrored,\n        left: Mirrored",
        ),
        &[(
            "left: Mirrored,\n        alignment",
            "left is given twice in the front axle",
            "keep one `left` and delete the other",
        )],
    );
    check(
        &with(
            "springing: Direct(on: LowerWishbone)",
            "springing: Direct(on: LowerWishbone), drop_link_on: Rocker",
        ),
        &[
            (
                "(\n                upper_wishbone_front: (-2460.0",
                "rear right drop link, outer end is missing: the corner has a drop link to an anti-roll bar",
                "add `drop_link_outer: (x, y, z)` to pickups",
            ),
            (
                "(\n                upper_wishbone_front: (-2460.0",
                "rear right drop link, bar end is missing: the corner has a drop link to an anti-roll bar",
                "add `drop_link_bar: (x, y, z)` to pickups",
            ),
            (
                "(\n                upper_wishbone_front: (-2460.0",
                "rear right anti-roll bar pivot is missing: the corner has a drop link to an anti-roll bar",
                "add `bar_pivot: (x, y, z)` to pickups",
            ),
            (
                "(\n                upper_wishbone_front: (-2460.0",
                "rear right anti-roll bar axis, second point is missing: the corner has a drop link to an \
                 anti-roll bar",
                "add `bar_axis: Point(x, y, z)` to pickups",
            ),
            (
                "Rocker,\n            alignment",
                "the rear right drop link cannot be carried by the rocker: the springing is not by rocker",
                "name UpperWishbone, LowerWishbone or Upright instead",
            ),
        ],
    );
    check(
        &with("springing: Direct(on: LowerWishbone)", "springing: Direct(on: Rocker)"),
        &[(
            "Rocker),\n            alignment",
            "the rear right damper's moving eye cannot be carried by the rocker: a damper on a rocker is \
             `springing: Rocker(pushrod_on: ...)`",
            "name UpperWishbone, LowerWishbone or Upright instead",
        )],
    );
    check(
        &with("lengths: (tie_rod: 452.9)", "lengths: (tie_rod: 0)"),
        &[(
            "0),\n            springing",
            "the length of the front left tie rod is 0; it must be more than 0",
            "write a number that is more than 0",
        )],
    );
}

#[test]
fn sides() {
    let rear_right = CAR.find("right: (\n            wheel").unwrap();
    let text = format!("{}right: Mirrored, ), )\n", CAR.get(..rear_right).unwrap());
    check(
        &text,
        &[(
            "Mirrored, ), )",
            "rear left and right are both Mirrored: neither is written out",
            "write the block of one side out in place of Mirrored",
        )],
    );
    check(
        &with("right: Mirrored", "right: Mirorred"),
        &[(
            "Mirorred",
            "the front right corner cannot be Mirorred; did you mean Mirrored?",
            "write Mirrored",
        )],
    );
}
