//! Words and keys of each linkage that are wrong, missing or another's.

use crate::{BOX_AND_H_ARM, FIVE_LINKS_AND_ARM, STRUT_AND_AXLE, assert_problems, assert_refused, changed};
use wheelpath_car_file::parse;

/// The text with one piece replaced is refused, for this one reason.
#[track_caller]
fn check(text: &str, (from, to): (&str, &str), at: &str, message: &str, hint: &str) {
    assert_refused(&changed(text, &[(from, to)]), &[(at, message, hint)]);
}

#[test]
fn a_part_that_the_linkage_has_not() {
    check(
        STRUT_AND_AXLE,
        ("drop_link_on: Upright", "drop_link_on: UpperWishbone"),
        "UpperWishbone",
        "the front left drop link cannot be carried by the upper wishbone: the linkage is Strut, which has none",
        "name LowerWishbone, Upright or Rocker instead",
    );
    check(
        STRUT_AND_AXLE,
        ("Direct(on: Axle)", "Direct(on: Arm)"),
        "Arm)",
        "the rear left damper's moving eye cannot be carried by the trailing arm: the linkage is BeamAxle, which \
         has none",
        "name Axle, Upright or Rocker instead",
    );
    check(
        BOX_AND_H_ARM,
        ("Separate(on: HArm", "Separate(on: Axle"),
        "Axle, rate",
        "the rear left spring's moving eye cannot be carried by the axle: the linkage is HArm, which has none",
        "name HArm, Upright or Rocker instead",
    );
    check(
        BOX_AND_H_ARM,
        ("third_spring: (on: Rocker", "third_spring: (on: HArm"),
        "HArm, rate_n_per_mm: 60",
        "the front third spring's ends cannot be carried by the H-arm: the linkage is DoubleWishbone, which has \
         none",
        "name UpperWishbone, LowerWishbone, Upright or Rocker instead",
    );
    check(
        FIVE_LINKS_AND_ARM,
        ("drop_link_on: Arm", "drop_link_on: Rocker"),
        "Rocker",
        "the rear left drop link cannot be carried by the rocker: the springing is not by rocker",
        "name Arm or Upright instead",
    );
}

#[test]
fn words_of_another_linkage() {
    check(
        STRUT_AND_AXLE,
        ("TopMount(camber", "UpperShim(camber"),
        "UpperShim",
        "the front alignment's camber cannot be UpperShim: that is a word of DoubleWishbone, and the linkage is Strut",
        "write FromPoints or TopMount(camber_deg: ...)",
    );
    check(
        FIVE_LINKS_AND_ARM,
        ("UpperLinkLength(camber", "TopMount(camber"),
        "TopMount",
        "the front alignment's camber cannot be TopMount: that is a word of Strut, and the linkage is FiveLink",
        "write FromPoints or UpperLinkLength(camber_deg: ...)",
    );
    let own = "drop_link_on: Arm,\n            alignment: (toe: FromPoints, camber: UpperLinkLength(camber_deg: 1)),";
    check(
        FIVE_LINKS_AND_ARM,
        ("drop_link_on: Arm,", own),
        "UpperLinkLength(camber_deg: 1)",
        "the rear left alignment's camber cannot be UpperLinkLength: that is a word of FiveLink and HArm, and the \
         linkage is TrailingArm",
        "write FromPoints: nothing adjusts the camber of the trailing arm",
    );
    check(
        BOX_AND_H_ARM,
        ("(toe: FromPoints", "(toe: TieRodLength(toe_deg: 0.1)"),
        "TieRodLength",
        "the rear alignment's toe cannot be TieRodLength: the linkage is HArm, which has no tie rod or toe link",
        "write FromPoints, and move the points until the toe is right",
    );
    check(
        FIVE_LINKS_AND_ARM,
        ("springing: Direct(on: Upright)", "springing: Strut"),
        "Strut,\n        ),\n        right",
        "the front left springing cannot be Strut: the linkage is FiveLink, which has no strut",
        "write `springing: Direct(on: PART)` or Rocker(pushrod_on: PART)",
    );
    check(
        STRUT_AND_AXLE,
        ("camber: TopMount", "camber: TopMunt"),
        "TopMunt",
        "the front alignment's camber cannot be TopMunt; did you mean TopMount?",
        "write FromPoints or TopMount",
    );
}

#[test]
fn words_that_are_none() {
    check(
        STRUT_AND_AXLE,
        ("linkage: BeamAxle", "linkage: BeamAxel"),
        "BeamAxel",
        "the rear linkage cannot be BeamAxel; did you mean BeamAxle?",
        "write DoubleWishbone, Strut, FiveLink, TrailingArm, HArm, BeamAxle or SteeredBeamAxle",
    );
    check(
        STRUT_AND_AXLE,
        ("watt_lever_on: Axle", "watt_lever_on: Upright"),
        "Upright, // its",
        "the rear Watt lever cannot be Upright",
        "write Body or Axle",
    );
    check(
        BOX_AND_H_ARM,
        ("anti_roll_bar: T,", "anti_roll_bar: Torsion,"),
        "Torsion, // not",
        "the front anti-roll bar cannot be Torsion",
        "write U or T",
    );
    check(
        BOX_AND_H_ARM,
        ("TorsionBar(rate", "TorsionBarr(rate"),
        "TorsionBarr",
        "the front left spring cannot be TorsionBarr; did you mean TorsionBar?",
        "write OnDamper, Separate or TorsionBar",
    );
    check(
        BOX_AND_H_ARM,
        ("TorsionBar(rate_nm_per_deg: 22.0)", "TorsionBar(rate_nm_per_deg: 0)"),
        "0), // along",
        "the rate of the front left spring is 0; it must be more than 0",
        "write a number that is more than 0",
    );
    check(
        BOX_AND_H_ARM,
        ("Separate(on: HArm, rate_n_per_mm: 42.0)", "Separate(on: HArm)"),
        "Separate",
        "the rear left spring lacks rate_n_per_mm",
        "add `rate_n_per_mm: ...`; a demo car shows how it is written",
    );
    check(
        STRUT_AND_AXLE,
        ("mass_kg: 1480.0", "mass_kg: -1480.0"),
        "-1480.0",
        "the mass is -1480; it must be more than 0",
        "write a number that is more than 0",
    );
    check(
        STRUT_AND_AXLE,
        ("weight_share_front: 0.53", "weight_share_front: 53"),
        "53,",
        "the front share of the weight is 53; it must be from 0 to 1",
        "write a number that is from 0 to 1",
    );
    check(
        STRUT_AND_AXLE,
        ("tyre_shoulder_radius: 80.0", "tyre_shoulder_radius: -80.0"),
        "-80.0",
        "the front left tyre shoulder radius is -80; it must be 0 or more",
        "write a number that is 0 or more",
    );
}

#[test]
fn steering_box_and_column() {
    let box_and = |change, at, message: &str, hint: &str| check(BOX_AND_H_ARM, change, at, message, hint);
    box_and(
        ("            idler_axis: (0.0, -0.3, 4.0),\n", ""),
        "Box(",
        "the front steering box lacks idler_axis",
        "add `idler_axis: ...`; a demo car shows how it is written",
    );
    box_and(
        ("pitman_axis: (0.0, 0.3, 4.0)", "pitman_axis: (0.0, 0.0, 0.0)"),
        "(0.0, 0.0, 0.0)",
        "the front pitman arm's axis has no direction: its length is zero",
        "give a direction of any length but zero",
    );
    box_and(
        ("idler_axis: (0.0, -0.3, 4.0)", "idler_axis: (0.0, 0.3, -4.0)"),
        "(0.0, 0.3, -4.0)",
        "the front idler arm's axis points the wrong way: the arm's turn is counted about the upward direction of its \
         shaft",
        "change the sign of all three numbers, and of `ratio` if the arm then turns the wrong way",
    );
    box_and(
        ("ratio: -14.0", "ratio: 0.0"),
        "0.0, /* reversed",
        "the front steering box's ratio is 0; it must be anything but 0",
        "write a number that is anything but 0",
    );
    box_and(
        ("stop_left_deg: 30.0", "stop_left_deg: -30.0"),
        "-30.0,\n            stop_right",
        "the front pitman arm's stop left is -30; it must be from 0 to 170 degrees",
        "write a number that is from 0 to 170 degrees",
    );
    let list = "[(bend_deg: 20.0, phase_deg: 45.0)]";
    let column = |to, at, message: &str, hint: &str| check(FIVE_LINKS_AND_ARM, (list, to), at, message, hint);
    let shape = "write a list of one or two joints, [(bend_deg: ..., phase_deg: ...)]";
    let what = "the front column's joints must be a list of one or two joints, [(bend_deg: ..., phase_deg: ...)], not";
    column("[]", "[]", &format!("{what} a list with 0 values"), shape);
    column("[1, 2, 3]", "[1, 2, 3]", &format!("{what} a list with 3 values"), shape);
    column("(bend_deg: 2)", "(bend_deg: 2)", &format!("{what} a block of keys and values"), shape);
    column(
        "[(bend_deg: 20.0)]",
        "(bend_deg: 20.0)",
        "a joint of the front column lacks phase_deg",
        "add `phase_deg: ...`; a demo car shows how it is written",
    );
    column(
        "[(bend_deg: 95.0, phase_deg: 0)]",
        "95.0",
        "the bend of a joint of the front column is 95; it must be from -70 to 70 degrees",
        "write a number that is from -70 to 70 degrees",
    );
}

#[test]
fn joints_that_swing_too_little_or_are_none() {
    let limits = "(upper_link_outer: 22.5)";
    check(
        BOX_AND_H_ARM,
        (limits, "(upper_link_outer: 0)"),
        "0), // as",
        "the swing of the rear left upper link, outer end is 0; it must be more than 0 and at most 180 degrees",
        "write a number that is more than 0 and at most 180 degrees",
    );
    check(
        BOX_AND_H_ARM,
        (limits, "(h_arm_inner_rear: 20)"),
        "h_arm_inner_rear: 20",
        "h_arm_inner_rear has no meaning in the rear left joint limits",
        "known here: upper_link_inner or upper_link_outer",
    );
}

#[test]
fn radii_and_bolts_that_are_none() {
    let (radii, axes) = ("(h_arm: 19.0, damper: 31.5)", "(2.0, 0.0, 0.0)");
    let check = |from, to, at, message: &str, hint: &str| check(BOX_AND_H_ARM, (from, to), at, message, hint);
    check(
        radii,
        "(h_arm: -19.0)",
        "-19.0",
        "the radius of the rear left H-arm is -19; it must be more than 0",
        "write a number that is more than 0",
    );
    check(
        radii,
        "(panhard_rod: 19.0)",
        "panhard_rod: 19.0",
        "panhard_rod is the axle's as a whole, and does not belong in the rear left radii",
        "move it to the rear axle's own `radii`, beside its linkage",
    );
    check(
        radii,
        "(h_arms: 19.0)",
        "h_arms: 19.0",
        "h_arms has no meaning in the rear left radii; did you mean h_arm?",
        "known here: upper_wishbone, lower_wishbone, h_arm, upper_front_link, upper_rear_link, \
         lower_front_link, lower_rear_link, upper_link, lower_link, tie_rod, toe_link, strut, pushrod, damper, \
         spring, drop_link or bar_arm",
    );
    check(
        axes,
        "(0.0, 0.0, 0.0)",
        "(0.0, 0.0, 0.0)",
        "the bolt of the rear left upper link, outer end has no direction: its length is zero",
        "give a direction of any length but zero",
    );
    check(
        "joint_axes: (upper_link_outer",
        "joint_axes: (h_arm_inner_rear",
        "h_arm_inner_rear: (2",
        "h_arm_inner_rear has no meaning in the rear left joint axes",
        "known here: upper_link_inner or upper_link_outer",
    );
    check(
        "rim_inner_radius: 187.0",
        "rim_inner_radius: 207.0",
        "rim_inner_radius",
        "rear left: the rim is 200.0 mm in radius, and its inside 207.0 mm",
        "the inner radius is that of the clear space inside the barrel",
    );
    check(
        "rim_width: 216.0",
        "rim_width: 0",
        "0, // flange",
        "the rear left rim width is 0; it must be more than 0",
        "write a number that is more than 0",
    );
}

#[test]
fn a_radius_of_a_part_that_is_not_there_is_doubtful() {
    let text = changed(BOX_AND_H_ARM, &[("(h_arm: 19.0,", "(h_arm: 19.0, tie_rod: 9.0,")]);
    let loaded = parse(&text, "car.ron").unwrap();
    let at = "tie_rod: 9.0";
    let said = "rear left: tie rod: a radius is given, but there is no such part";
    assert_problems(&text, &crate::doubts(&loaded.warnings), &[(at, said, "remove it, or add the part")]);
}

/// What only the whole car can tell stands where it is about.
#[test]
fn faults_of_the_model() {
    check(
        STRUT_AND_AXLE,
        ("watt_axis: (-2866.0, 0.0, 306.0)", "watt_axis: (-2816.0, 0.0, 306.0)"),
        "watt_pivot",
        "rear: the Watt lever's two axis points coincide: it has no axis",
        "look at `watt_pivot`",
    );
    check(
        STRUT_AND_AXLE,
        ("(top_link: 361.7)", "(top_link: 161.7)"),
        "top_link: 161.7",
        "rear: the links cannot be put together in the design pose: top link is too short by 2.52 mm",
        "look at the points and lengths of these links",
    );
    check(
        STRUT_AND_AXLE,
        (
            "damper_rocker: (-2770.0",
            "upper_link_inner: (-2300, 400, 430), upper_link_outer: (-2660, 420, 450), damper_rocker: (-2770.0",
        ),
        "linkage: BeamAxle",
        "rear: the axle is held by 6 links where 4 do: 2 too many, it binds",
        "four trailing links want no Panhard rod unless two of them are splayed in its place; take one away",
    );
    check(
        BOX_AND_H_ARM,
        ("pitman_ball: (84.0, 260.0, 178.0)", "pitman_ball: (-60.0, 262.0, 178.0)"),
        "pitman_ball",
        "front: the arm's ball joint stands 1.65 mm off its own axis",
        "look at the pivot and the ball joint",
    );
    check(
        FIVE_LINKS_AND_ARM,
        ("drop_link_on: Arm,", "drop_link_on: Arm, spring: TorsionBar(rate_nm_per_deg: 22.0),"),
        "spring: TorsionBar",
        "rear left: the torsion bar is to be along a rocker's axis, but this corner has no rocker",
        "give the corner `springing: Rocker(...)`, or another spring",
    );
}
