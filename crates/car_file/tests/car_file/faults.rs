//! Each kind of bad input has its own message, at its own place, with something to do about it.

use crate::{CAR, assert_refused as check};

/// The small car with one piece of text replaced.
fn with(from: &str, to: &str) -> String {
    crate::with(&[(from, to)])
}

#[test]
fn the_car_of_these_tests_is_good() {
    wheelpath_car_file::parse(CAR, "car.ron").unwrap();
}

#[test]
fn not_well_formed() {
    check(
        &with("tie_rod_inner: (88.0, 240.0, 169.0),", "tie_rod_inner: (88.0, 240.0 169.0),"),
        &[(
            "169.0),",
            "in front left pickups tie rod inner, this is not well-formed: expected comma",
            "look here and just before for a missing comma, bracket, colon or quotation mark",
        )],
    );
    check(
        &with("name: \"Hazel\"", "name \"Hazel\""),
        &[(
            "\"Hazel\"",
            "this is not well-formed: expected colon",
            "look here and just before for a missing comma, bracket, colon or quotation mark",
        )],
    );
    check(
        &with("bar_axis: (20.0, 0.0, 475.0),", "bar_axis: [20.0, 0.0, 475.0],"),
        &[(
            "[20.0",
            "front left anti-roll bar axis, second point must be three numbers (x, y, z), not a list with 3 values",
            "write three numbers (x, y, z)",
        )],
    );
    check(
        &with("bar_axis: (20.0, 0.0, 475.0),", "bar_axis: {1: 2},"),
        &[(
            "{1: 2}",
            "a car file is not written this way",
            "use only (key: value, ...) blocks, (a, b, c) rows, [a, b] lists, words, numbers and quoted text",
        )],
    );
}

#[test]
fn format_and_version() {
    check(
        &with("\"wheelpath car\"", "\"song\""),
        &[(
            "\"song\"",
            "this is not a car file: its format is \"song\"",
            "a car file has `format: \"wheelpath car\"`",
        )],
    );
    check(
        &with("version: 1", "version: 2, wheels: 6"),
        &[(
            "2, wheels",
            "the file has version 2; this program reads version 1",
            "write `version: 1` if the file follows it, or open the file with the program that wrote it",
        )],
    );
    check(
        &with("    version: 1,\n", ""),
        &[(
            "(\n    format",
            "the file lacks version",
            "add `version: ...`; a demo car shows how it is written",
        )],
    );
    check(
        "[1, 2]",
        &[(
            "[1",
            "a car file must be a block (format: ..., version: ..., ...), not a list with 2 values",
            "write a block (format: ..., version: ..., ...)",
        )],
    );
    check(
        "(1, 2)",
        &[(
            "(1",
            "a car file must be a block (format: ..., version: ..., ...), not a bracket with 2 values",
            "write a block (format: ..., version: ..., ...)",
        )],
    );
}

#[test]
fn units_and_axes() {
    check(
        &with("units: Millimetre", "units: Milimeter"),
        &[("Milimeter", "units cannot be Milimeter; did you mean Millimetre?", "write Millimetre or Inch")],
    );
    check(
        &with("units: Millimetre", "units: Furlong"),
        &[("Furlong", "units cannot be Furlong", "write Millimetre or Inch")],
    );
    check(
        &with("z: Up", "z: Upward"),
        &[("Upward", "axis z cannot be Upward", "write Forward, Rearward, Left, Right, Up or Down")],
    );
    check(
        &with("y: Left", "y: Right"),
        &[(
            "(x: Forward",
            "the axes are left-handed",
            "turn one axis round; if the source really is left-handed, turn the sign of one coordinate of every \
             point too",
        )],
    );
    check(
        &with("y: Left", "y: Rearward"),
        &[(
            "(x: Forward",
            "axes x and y run along the same line",
            "let one axis run Forward or Rearward, one Left or Right, one Up or Down",
        )],
    );
}

#[test]
fn keys() {
    check(
        &with(
            "rim_radius: 165.0,\n            ),\n            pickups: (\n                upper_wishbone_front: (115.0",
            "rim_raduis: 165.0,\n            ),\n            pickups: (\n                upper_wishbone_front: (115.0",
        ),
        &[(
            "rim_raduis",
            "rim_raduis has no meaning in the front left wheel; did you mean rim_radius?",
            "known here: centre, spin_axis, tyre_radius, tyre_width, tyre_shoulder_radius, rim_radius, rim_width or \
             rim_inner_radius",
        )],
    );
    check(
        &with("wheelbase: 2650.0", "wheelbase: 2650.0, colour: \"red\""),
        &[(
            "colour",
            "colour has no meaning in the car",
            "known here: format, version, name, about, units, axes, design_pose, left_over, wheelbase, \
             centre_of_gravity_height, brake_share_front, mass_kg, weight_share_front, \
             weight_share_left, cross_weight, wheel_loads_kg, wheel_loads_n, front or rear",
        )],
    );
    check(
        &with("    wheelbase: 2650.0,\n", ""),
        &[(
            "(\n    format",
            "the car lacks wheelbase",
            "add `wheelbase: ...`; a demo car shows how it is written",
        )],
    );
    check(
        &with("wheelbase: 2650.0,", "wheelbase: 2650.0, wheelbase: 2651.0,"),
        &[(
            "wheelbase: 2651",
            "wheelbase is given twice in the car",
            "keep one `wheelbase` and delete the other",
        )],
    );
}

#[test]
fn values() {
    check(
        &with("wheelbase: 2650.0", "wheelbase: \"2650\""),
        &[("\"2650\"", "the wheelbase must be a number, not text in quotes", "write a number")],
    );
    check(
        &with("wheelbase: 2650.0", "wheelbase: -2650.0"),
        &[(
            "-2650.0,\n    centre",
            "the wheelbase is -2650; it must be more than 0",
            "write a number that is more than 0",
        )],
    );
    check(
        &with("brake_share_front: 0.58", "brake_share_front: 58"),
        &[(
            "58,",
            "the front share of the braking is 58; it must be from 0 to 1",
            "write a number that is from 0 to 1",
        )],
    );
    check(
        &with("(88.0, 240.0, 169.0)", "(88.0, inf, NaN)"),
        &[
            (
                "inf",
                "front left tie rod, inner end, y is inf: not a finite number",
                "write the measured number",
            ),
            (
                "NaN",
                "front left tie rod, inner end, z is NaN: not a finite number",
                "write the measured number",
            ),
        ],
    );
    check(
        &with("(88.0, 240.0, 169.0)", "(88.0, 240.0)"),
        &[(
            "(88.0",
            "front left tie rod, inner end must be three numbers (x, y, z), not a bracket with 2 values",
            "write three numbers (x, y, z)",
        )],
    );
    check(
        &with("drive: Sprung", "drive: Spring"),
        &[(
            "Spring",
            "the rear drive cannot be Spring; did you mean Sprung?",
            "write None, Sprung or Unsprung",
        )],
    );
    check(
        &with("camber_deg: -2.5", "camber_deg: -92.5"),
        &[(
            "-92.5",
            "the front left wheel's camber is -92.5; it must be between -45 and 45 degrees",
            "write a number that is between -45 and 45 degrees",
        )],
    );
    check(
        &with("(shortest: 195.0, longest: 265.0)", "(shortest: 265.0, longest: 195.0)"),
        &[(
            "(shortest",
            "front left damper: shortest is 265, not less than longest, 195",
            "`shortest` is eye to eye fully compressed, `longest` fully extended",
        )],
    );
}

#[test]
fn directions() {
    check(
        &with("axis: (0.0, 1.0, 0.0)", "axis: (0.0, 0.0, 0.0)"),
        &[(
            "(0.0, 0.0, 0.0)",
            "the front rack's axis has no direction: its length is zero",
            "give a direction of any length but zero",
        )],
    );
    check(
        &with("axis: (0.0, 1.0, 0.0)", "axis: (0.0, -1.0, 0.0)"),
        &[(
            "(0.0, -1.0, 0.0)",
            "the front rack's axis points the wrong way: positive rack travel is toward the left of the car",
            "change the sign of all three numbers",
        )],
    );
    check(
        &with("Point((-2650.0, -806.5, 283.0))", "Point((-2650.0, -706.5, 280.0))"),
        &[(
            "Point((-2650",
            "the rear right spin axis has no direction: its second point is the wheel centre",
            "give a direction of any length but zero",
        )],
    );
    check(
        &with("Point((-2650.0, -806.5, 283.0))", "Point((-2650.0, -606.5, 280.0))"),
        &[(
            "Point((-2650",
            "the rear right spin axis points the wrong way: the second point is to be outboard of the wheel centre",
            "put the point on the other side of the wheel centre",
        )],
    );
    // The centre stands at (-2650, -706.5, 280): 100 mm outboard and 102 mm forward is 45.6° of toe.
    check(
        &with("Point((-2650.0, -806.5, 283.0))", "Point((-2548.0, -806.5, 280.0))"),
        &[(
            "Point((-2548",
            "the rear right wheel's toe, by the second point on its spin axis, is 45.56726640985791; it must be between -45 and 45 degrees",
            "write a number that is between -45 and 45 degrees",
        )],
    );
}

#[test]
fn several_faults_are_told_together_in_the_order_of_the_file() {
    let text = with("drive: Sprung", "drive: 3").replace("version: 1,", "version: 1, tyres: 4,");
    let text = text.replace("tie_rod_outer: (98.0, 692.0, 195.0)", "tie_rod_outer: (98.0, 692.0, -inf)");
    let error = wheelpath_car_file::parse(&text, "car.ron").unwrap_err();
    let lines: Vec<_> = error.to_string().lines().map(str::to_owned).collect();
    assert_eq!(lines.len(), 6, "{lines:#?}");
    assert!(lines[0].starts_with("car.ron:4:17: tyres has no meaning in the car"), "{lines:#?}");
    assert!(
        lines[2].ends_with("front left tie rod, outer end, z is -inf: not a finite number"),
        "{lines:#?}"
    );
    assert!(lines[4].ends_with("the rear drive cannot be the number 3"), "{lines:#?}");
}

#[test]
fn unreadable_files() {
    let folder = tempfile::tempdir().unwrap();
    let error = wheelpath_car_file::load(&folder.path().join("none.ron")).unwrap_err();
    assert!(error.to_string().starts_with("cannot read "), "{error}");
    let path = folder.path().join("bytes.ron");
    std::fs::write(&path, b"(\n  name: \"H\xff\")").unwrap();
    let error = wheelpath_car_file::load(&path).unwrap_err();
    assert!(error.to_string().contains("bytes.ron:2:11: the file is not UTF-8 text"), "{error}");
}
