//! What people get wrong, and what they are told: the side, the car, the link, the unit.

use crate::support::{Noting, Said, wheelpath, wheelpath_with};
use std::path::{Path, PathBuf};

const HAZEL: &str = include_str!("../../../../demo-cars/hazel.ron");
const ALDER: &str = include_str!("../../../../demo-cars/alder.ron");

/// A file of this name and text.
fn put(folder: &Path, name: &str, text: &str) -> PathBuf {
    let file = folder.join(name);
    std::fs::write(&file, text).unwrap();
    file
}

/// The text with one passage in place of another, which stands there once.
fn with(text: &str, old: &str, new: &str) -> String {
    assert_eq!(text.matches(old).count(), 1, "{old}");
    text.replace(old, new)
}

/// What `check` says of a car of this text.
fn check(text: &str) -> Said {
    let folder = tempfile::tempdir().unwrap();
    let file = put(folder.path(), "car.ron", text);
    wheelpath_with(&["check", file.to_str().unwrap()], &Noting::default())
}

/// The messages that are no sequel of another.
fn first_lines(said: &Said) -> Vec<&str> {
    let is_first = |line: &&str| line.starts_with("warning: ") || line.starts_with("error: ");
    said.err.lines().filter(is_first).collect()
}

#[test]
fn a_wrong_number_at_the_right_is_not_said_of_the_left() {
    let wrong = [
        ("tie_rod_inner: (-202.0, -296.0, 226.5)", "tie_rod_inner: (-202.0, 296.0, 226.5)"),
        ("upper_ball_joint: (-18.0, -676.0, 510.0)", "upper_ball_joint: (-18.0, -676.0, 410.0)"),
        ("upper_ball_joint: (-18.0, -676.0, 510.0)", "upper_ball_joint: (-118.0, -676.0, 510.0)"),
        ("lower_wishbone_front: (152.0, -336.0, 190.0)", "lower_wishbone_front: (15.2, -336.0, 190.0)"),
        ("lower_wishbone_front: (152.0, -336.0, 190.0)", "lower_wishbone_front: (152.0, -336.0, 290.0)"),
        ("upper_wishbone_rear: (-130.0, -434.0, 462.0)", "upper_wishbone_rear: (130.0, -434.0, 462.0)"),
        ("upper_wishbone_rear: (-130.0, -434.0, 462.0)", "upper_wishbone_rear: (-130.0, -334.0, 462.0)"),
        ("lower_link_inner: (-2096.0, -492.0, 252.0)", "lower_link_inner: (-2096.0, -492.0, 352.0)"),
        ("lower_link_outer: (-2616.0, -546.0, 240.0)", "lower_link_outer: (-2616.0, -446.0, 240.0)"),
        ("damper_body: (-2716.0, -480.0, 652.0)", "damper_body: (-2716.0, -380.0, 652.0)"),
        ("damper_body: (-2716.0, -480.0, 652.0)", "damper_body: (-2616.0, -480.0, 652.0)"),
    ];
    for (right, blunder) in wrong {
        let text = with(HAZEL, right, blunder);
        let line = text.lines().position(|line| line.contains(blunder)).unwrap() + 1;
        let said = check(&text);
        assert!(!said.err.is_empty(), "{blunder}: nothing is said");
        for line in said.err.lines().filter(|line| !line.starts_with("hint")) {
            let of_left = line.contains("front left: ") || line.contains("rear left: ");
            let told = !of_left
                || line.contains("front left or front right")
                || line.contains("rear left or rear right");
            assert!(told, "{blunder}: {line}");
        }
        // The place is that of the side named.
        let first = first_lines(&said)[0];
        if first.contains("front right: ") && !first.contains(" or front right: ") {
            let end = first.split("car.ron:").nth(1).and_then(|rest| rest.split(':').next()).unwrap();
            let at: usize = end.parse().unwrap();
            assert!(at > 105, "{blunder} (line {line}): {first}");
        }
    }
}

#[test]
fn where_one_side_alone_is_out_of_its_own_ranges_it_is_named() {
    let text = with(HAZEL, "tie_rod_inner: (-202.0, -296.0, 226.5)", "tie_rod_inner: (-202.0, 296.0, 226.5)");
    let said = check(&text);
    let line =
        text.lines().position(|line| line.contains("tie_rod_inner: (-202.0, 296.0, 226.5)")).unwrap() + 1;
    let first = first_lines(&said)[0];
    assert!(first.contains(&format!("car.ron:{line}:")) && first.contains(": front right: "), "{}", said.err);
    // And at the left, the left.
    let text = with(HAZEL, "tie_rod_inner: (-202.0, 290.0, 225.5)", "tie_rod_inner: (-202.0, -290.0, 225.5)");
    let said = check(&text);
    assert!(first_lines(&said)[0].contains(": front left: "), "{}", said.err);
    assert!(!said.err.contains("right: "), "{}", said.err);
}

#[test]
fn where_it_cannot_be_told_both_sides_are_named() {
    // Far from its mirror image, and out of no range of its own.
    let moved = |z: u32| {
        let new = format!("drop_link_bar: (84.0, -488.0, {z}.0)");
        check(&with(HAZEL, "drop_link_bar: (84.0, -488.0, 322.0)", &new))
    };
    let said = (360..480).step_by(10).map(moved).find(|said| said.err.contains("mirror image")).unwrap();
    let twin = said.err.lines().find(|line| line.contains("mirror image")).unwrap();
    assert!(twin.contains("front left or front right: ") || twin.contains("front right: "), "{twin}");
}

#[test]
fn a_row_of_a_table_is_named_by_its_own_corner() {
    let folder = tempfile::tempdir().unwrap();
    let car = put(folder.path(), "myalder.ron", ALDER);
    let table = put(
        folder.path(),
        "wrs.csv",
        "corner,name,x_mm,y_mm,z_mm\nfront_right,tie_rod_inner,88.0,-240.0,209.0\n",
    );
    let said = wheelpath(&format!("import {} {}", car.display(), table.display()));
    assert!(said.err.contains("wrs.csv:2:1: front right: "), "{}", said.err);
    assert!(!said.err.contains("front left: "), "{}", said.err);
}

/// A folder with Alder and a proposal for it, and what `compare` says of the two.
fn compare(proposal: &str) -> Said {
    let folder = tempfile::tempdir().unwrap();
    let (car, file) = (put(folder.path(), "car.ron", ALDER), put(folder.path(), "one.ron", proposal));
    wheelpath(&format!("compare {} {}", car.display(), file.display()))
}

fn proposal(of: &str, change: &str) -> String {
    format!(
        "(format: \"wheelpath proposal\", version: 1, name: \"One\", car: \"{of}\", units: Millimetre, \
         axes: (x: Forward, y: Left, z: Up), changes: [{change}])"
    )
}

const ROD_DOWN: &str =
    "Move(point: tie_rod_inner, of: front_both, was: (88.0, 240.0, 169.0), now: (88.0, 240.0, 168.0))";

#[test]
fn a_proposal_for_another_car_is_warned_of() {
    let said = compare(&proposal("Hazel", ROD_DOWN));
    assert_eq!(said.code, 0, "{said:?}");
    let warning = first_lines(&said)[0];
    for words in ["one.ron", "for the car Hazel", "made to Alder"] {
        assert!(warning.contains(words), "{warning}");
    }
    assert!(said.err.contains("hint: name a proposal of Alder"), "{}", said.err);
    assert!(!compare(&proposal("alder", ROD_DOWN)).err.contains("for the car"));
    // So does every command that takes one.
    let folder = tempfile::tempdir().unwrap();
    let file = put(folder.path(), "one.ron", &proposal("Hazel", ROD_DOWN));
    for command in [
        "readings alder",
        "sweep alder",
        "limits alder",
        "clearances alder",
        "sensitivity alder --reading toe",
    ] {
        let said = wheelpath(&format!("{command} --proposal {}", file.display()));
        assert!(said.err.contains("for the car Hazel"), "{command}: {said:?}");
    }
}

#[test]
fn a_length_that_cannot_be_says_how_it_is_off_and_where() {
    let length = |now: &str| format!("Length(link: tie_rod, of: front_left, was: FromPoints, now: {now})");
    for (now, off) in [("900.0", "is too long by"), ("100.0", "is too short by")] {
        let said = compare(&proposal("Alder", &length(now)));
        assert_eq!(said.code, 1, "{said:?}");
        assert!(said.err.contains("front left: ") && said.err.contains(off), "{}", said.err);
        assert!(said.err.contains("correct `now` in the proposal"), "{}", said.err);
        assert!(!said.err.contains("leave it out"), "{}", said.err);
    }
    let said =
        compare(&proposal("Alder", "Length(link: upper_link, of: front_left, was: 300.0, now: 301.0)"));
    assert!(said.err.contains("tie_rod") && !said.err.contains("toe_link"), "{}", said.err);
}

#[test]
fn the_units_are_asked_after_where_a_number_is_25_times_another() {
    let moved = "Move(point: tie_rod_inner, of: front_both, was: (3.4646, 9.4488, 6.6535), now: (3.4646, 9.4488, 6.6))";
    let said = compare(&proposal("Alder", moved));
    assert!(said.err.contains("; are the units right?"), "{said:?}");
    let near =
        "Move(point: tie_rod_inner, of: front_both, was: (88.0, 240.0, 170.0), now: (88.0, 240.0, 168.0))";
    let said = compare(&proposal("Alder", near));
    assert!(said.err.contains("as the proposal says") && !said.err.contains("units"), "{said:?}");
}

#[test]
fn an_axle_whose_tyres_lean_in_is_not_said_to_lean_out() {
    for (degrees, way) in [("-25.0", "lean in"), ("25.0", "lean out")] {
        let text = with(HAZEL, "camber_deg: 3.5", &format!("camber_deg: {degrees}"));
        let said = check(&with(&text, "camber_deg: -4.0", &format!("camber_deg: {degrees}")));
        assert!(said.err.contains(&format!("both tyres would {way}")), "{}", said.err);
    }
}

#[test]
fn a_travel_given_twice_is_refused() {
    let said = wheelpath("readings alder --travel-mm front=3,front=4");
    assert_eq!(said.code, 2);
    assert!(said.err.contains("front is given twice"), "{}", said.err);
    assert_eq!(wheelpath("readings alder --travel-mm front=3,FL=4").code, 0);
}

#[test]
fn an_empty_file_and_limits_that_are_not_there_are_said_so() {
    for text in ["", " \n\t\n", "\u{feff}"] {
        let said = check(text);
        assert!(said.err.contains("the file is empty") && said.err.contains("wheelpath new"), "{said:?}");
    }
    let said = wheelpath("limits alder --limits nofile.ron");
    assert_eq!(said.code, 2);
    assert!(said.err.contains("hint: give the path of a file of limits"), "{}", said.err);
}

#[test]
fn a_length_that_is_not_its_points_distance_is_named_before_what_follows_from_it() {
    // Its points are 452.86 mm apart: the square root of 10² + 452² + 26².
    let springing = "springing: Rocker(";
    let said = check(&ALDER.replacen(springing, &format!("lengths: (tie_rod: 462.9), {springing}"), 1));
    let first = first_lines(&said)[0];
    assert!(first.contains("tie_rod is 10.0 mm longer than its points are apart"), "{}", said.err);
    assert!(first.contains("toe that the links give in the design pose is −6."), "{}", said.err);
}

#[test]
fn a_table_of_other_units_is_asked_after_first() {
    let folder = tempfile::tempdir().unwrap();
    for (from, to, question) in
        [("inch", "mm", "are these inches?"), ("mm", "inch", "are these millimetres, read as inches?")]
    {
        let text = wheelpath(&format!("points alder --format csv --units {from}")).out;
        let [old, new] = [from, to].map(|unit| if unit == "mm" { "_mm" } else { "_in" });
        let (headings, rows) = text.split_once('\n').unwrap();
        let table = put(folder.path(), "points.csv", &format!("{}\n{rows}", headings.replace(old, new)));
        for more in ["", "--as-proposal New --output new.ron"] {
            let said = wheelpath(&format!("import alder {} {more}", table.display()));
            assert!(first_lines(&said)[0].contains(question), "{from} as {to}: {said:?}");
        }
    }
}

/// A number in the words of another steering or spring than the axle has is refused, and what the axle has is named.
#[test]
fn a_stop_or_rate_of_another_kind_is_refused() {
    let folder = tempfile::tempdir().unwrap();
    let check = |car: &str, change: &str, parts: &[&str]| {
        let text = format!(
            "(format: \"wheelpath proposal\", version: 1, name: \"Odd\", car: \"{car}\", units: Millimetre, \
             axes: (x: Forward, y: Left, z: Up), changes: [Set({change})])"
        );
        let file = put(folder.path(), "odd.ron", &text);
        let said = wheelpath(&format!("readings {} --proposal {}", car.to_lowercase(), file.display()));
        assert_eq!(said.code, 1, "{change}: {said:?}");
        let words = said.err.split_whitespace().collect::<Vec<_>>().join(" ");
        for part in parts {
            assert!(words.contains(part), "{change}: no {part:?} in {}", said.err);
        }
    };
    check(
        "Hazel",
        "number: stop_left, of: front, was: 27.0, now: 30.0",
        &["has no steering stop", "stop_left_deg"],
    );
    check(
        "Alder",
        "number: stop_left_deg, of: front, was: 40.0, now: 30.0",
        &["has a rack", "stop_left and stop_right"],
    );
    check(
        "Alder",
        "number: ratio, of: front, was: 14.0, now: 15.0",
        &["has no steering box ratio", "travel_per_turn"],
    );
    check("Alder", "number: travel_per_turn, of: rear, was: 80.0, now: 90.0", &["does not steer"]);
    check(
        "Hazel",
        "number: spring_rate_nm_per_deg, of: front_left, was: 100.0, now: 90.0",
        &["has no torsion bar rate", "spring_rate_n_per_mm"],
    );
}

#[test]
fn the_keys_of_a_car_file_can_be_asked_for() {
    let said = wheelpath("schema --car-file");
    assert_eq!(said.code, 0, "{said:?}");
    for key in ["travel_per_turn", "king_pin_upper", "wheelbase", "spin_axis"] {
        assert!(said.out.contains(key), "{key}: {}", said.out);
    }
    assert!(said.out.lines().all(|line| line.chars().count() <= 100), "{}", said.out);
}
