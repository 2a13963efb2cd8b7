//! Tables and charts for people.

use crate::support::{fine, json};

#[track_caller]
fn check(words: &str, expected: &str) {
    let out = fine(words);
    assert_eq!(out.trim_end(), expected.trim_matches('\n').trim_end(), "\n{out}");
}

#[test]
fn a_sweep_is_a_narrow_table() {
    check(
        "sweep alder --count 3",
        "
Alder, front axle

                         Camber to  Camber to  Half-track  Half-track  Roll-centre
travel     Toe      Toe   the road   the road      change      change       height
    mm  left °  right °     left °    right °     left mm    right mm           mm
 −30.0    0.00     0.00      −1.69      −1.69        −1.9        −1.9         66.3
   0.0   −0.10    −0.10      −2.50      −2.50         0.0         0.0         24.0
  30.0   −0.21    −0.21      −3.40      −3.40         0.1         0.1        −18.0
",
    );
}

#[test]
fn a_steer_sweep_has_rack_and_steering_wheel() {
    check(
        "sweep alder --over steer --rack-mm 0:40 --count 3 --readings inner_steer,outer_steer,ackermann_percent",
        "
Alder, front axle

      steering  Inner wheel  Outer wheel  Ackermann,
rack     wheel        angle        angle  inner base
  mm         °            °            °           %
 0.0       0.0         0.10        −0.10           —
20.0      87.8        12.48        11.93        42.5
40.0     175.6        25.83        24.17        34.8
",
    );
}

#[test]
fn toe_can_be_a_length_over_a_diameter() {
    let out = fine("readings alder --toe-over-mm 600");
    let row = out.lines().find(|line| line.contains("Toe over 600.0 mm")).unwrap();
    // 600 mm · sin(−0.1°) = −1.05 mm
    assert_eq!(row.split_whitespace().collect::<Vec<_>>()[7..], ["−1.05", "−1.05", "−2.09", "mm"]);
    assert!(out.lines().any(|line| line.trim_start().starts_with("Toe  ")), "the angle stands beside it");
}

#[test]
fn people_never_get_a_hyphen_for_a_minus_sign() {
    for words in [
        "readings alder --rack-mm -20",
        "sweep alder",
        "sweep alder --over steer",
        "points alder",
        "sensitivity alder --reading bump_steer",
        "sweep alder --format chart",
        "check hazel",
        "stand rowan --rear-mm -5 --roll-deg -1.5",
        "bend rowan --lateral-g -0.5",
        "turn hazel",
    ] {
        let out = fine(words);
        let digits_after_hyphen = out.as_bytes().windows(2).any(|w| w[0] == b'-' && w[1].is_ascii_digit());
        assert!(!digits_after_hyphen && out.contains('−'), "{words}:\n{out}");
    }
}

/// Fifteen readings an axle, toe in degrees and as a length, and where the others are.
#[test]
fn the_readings_asked_for_first_fit_on_a_screen() {
    let out = fine("readings alder");
    let front = out.split("Front axle").nth(1).unwrap().split("Rear axle").next().unwrap();
    assert_eq!(front.lines().filter(|line| line.starts_with("  ")).count() - 1, 16, "{out}");
    assert!(out.contains("--all"), "{out}");
    let all = fine("readings alder --all");
    assert!(all.lines().count() > 2 * out.lines().count(), "{all}");
}

#[test]
fn what_a_car_does_not_have_is_not_spoken_of() {
    for words in ["readings alder", "readings sorrel", "readings alder --all --rack-mm 20"] {
        let out = fine(words);
        assert!(!out.contains('—'), "{words}:\n{out}");
    }
    // Straight ahead a car that steers has no turn centre, and the table says why.
    for words in ["readings alder --all", "readings sorrel --all"] {
        let out = fine(words);
        let rows: Vec<&str> = out.lines().filter(|line| line.contains("—  ")).collect();
        assert!(rows.iter().all(|row| row.trim_start().starts_with("Turn")), "{words}:\n{out}");
        assert!(out.contains("Turn centre, Y") && out.contains("steer is too small"), "{words}:\n{out}");
    }
    // The front wheels lift nothing of this car's front in acceleration, so there is no such row; data has the key.
    assert!(!fine("readings alder --all").split("Rear axle").next().unwrap().contains("Anti-squat"));
    let data = json("readings alder --format json");
    assert!(data["axles"]["front"]["anti_squat_percent"].is_null(), "{}", data["axles"]["front"]);
}

#[test]
fn a_chart_has_one_curve_a_wheel() {
    let out = fine("sweep alder --wheels left --format chart --readings camber_to_body,roll_centre_height");
    assert!(out.contains("L left   R right"), "{out}");
    assert!(out.contains("Camber to the body, front axle, over travel of the left wheel"), "{out}");
    assert!(out.contains("Roll-centre height, front axle"), "{out}");
    // The right wheel stays: its curve is a level line of its own glyph.
    assert!(out.lines().any(|line| line.matches('R').count() > 50), "{out}");
}

#[test]
fn a_sweep_of_one_reading_can_be_a_figure() {
    let out = fine("sweep alder --format svg --readings toe --count 5");
    assert!(out.starts_with("<svg") && out.trim_end().ends_with("</svg>"), "{out}");
    assert!(out.contains("Toe, front axle, over travel of both wheels"), "{out}");
    // Two curves of five points each.
    let longest = out.lines().filter(|line| line.starts_with("<polyline") && line.matches(',').count() == 5);
    assert_eq!(longest.count(), 2, "{out}");
}
