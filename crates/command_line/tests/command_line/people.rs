//! Tables and charts for people.

use crate::support::{fine, json, wheelpath};

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

                                            Ackermann,
      steering  Inner wheel  Outer wheel  inside wheel
rack     wheel        angle        angle  as reference
  mm         °            °            °             %
 0.0       0.0         0.10        −0.10             —
20.0      87.8        12.48        11.93          42.5
40.0     175.6        25.83        24.17          34.8

— the wheels are too near straight ahead: 0/0; or they steer about an axis within 5° of horizontal:
  Ackermann, inside wheel as reference
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
        "attitude rowan --rear-mm -5 --roll-deg -1.5",
        "cornering rowan --lateral-g -0.5",
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

/// At a little steer the wheels differ by their toe, not by Ackermann: no percentage of that, and why.
#[test]
fn ackermann_near_straight_ahead_is_none_and_says_why() {
    for rack in [1, 2, -2] {
        let words = format!("readings alder --rack-mm {rack}");
        let out = fine(&words);
        let row = out.lines().find(|line| line.contains("Ackermann, inside wheel as reference")).unwrap();
        assert!(row.contains('—') && !row.contains(char::is_numeric), "{row}");
        assert!(out.contains("— so near straight ahead the wheels differ by their toe"), "{out}");
        // Data has the number.
        let data = json(&format!("{words} --format json"));
        assert!(data["axles"]["front"]["ackermann_inner_percent"].is_f64());
        assert!(data["axles"]["front"]["ackermann_error_deg"].is_f64());
    }
    let out = fine("readings alder --rack-mm 15");
    let row = out.lines().find(|line| line.contains("Ackermann, inside wheel as reference")).unwrap();
    assert!(!row.contains('—'), "{row}");
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

/// What is said beside the results, and every help, is no wider than a table; no word is lost.
#[test]
fn messages_and_help_are_broken_at_the_margin() {
    let wide = |text: &str| -> Vec<String> {
        let is_wide = |line: &&str| line.chars().count() > 100 && line.trim().contains(' ');
        text.lines().filter(is_wide).map(str::to_owned).collect()
    };
    let folder = tempfile::tempdir().unwrap();
    let car = folder.path().join("my car.ron");
    std::fs::write(&car, crate::support::alder_with("169.0", "269.0")).unwrap();
    for words in [
        vec!["check", car.to_str().unwrap()],
        vec!["readings", car.to_str().unwrap()],
        vec![
            "readings",
            "no such car, and a name so long that its message cannot stand on one line of a terminal",
        ],
        vec!["limits", "alder", "--proposal", "nothing"],
        vec!["sweep", "alder", "--readings", "ackermann", "--nonsense"],
    ] {
        let said = crate::support::wheelpath_with(&words, &crate::support::Noting::default());
        assert!(!said.err.is_empty(), "{words:?}");
        // A path is one word, its blanks or not.
        let own = said.err_as_written.replace(car.to_str().unwrap(), "CAR");
        assert_eq!(
            wide(&own.replace(
                "no such car, and a name so long that its message cannot stand on one line of a terminal",
                "CAR"
            )),
            Vec::<String>::new(),
            "{words:?}"
        );
        assert!(
            words[0] != "check" || said.err_as_written.contains(car.to_str().unwrap()),
            "the path is whole"
        );
    }
    let help = fine("help");
    let commands =
        help.lines().skip_while(|line| *line != "Commands:").skip(1).take_while(|line| !line.is_empty());
    let mut seen = 0;
    for command in
        commands.filter(|line| !line.starts_with("   ")).filter_map(|line| line.split_whitespace().next())
    {
        if command == "help" {
            continue;
        }
        for how in ["-h", "--help"] {
            assert_eq!(wide(&fine(&format!("{command} {how}"))), Vec::<String>::new(), "{command} {how}");
        }
        seen += 1;
    }
    assert!(seen > 10 && wide(&help).is_empty(), "{seen} commands");
}

/// A car with something wrong is said to have it in two lines by every command but `check`, which says it all.
#[test]
fn commands_say_the_first_warning_and_how_to_see_the_rest() {
    let folder = tempfile::tempdir().unwrap();
    let car = folder.path().join("wrong.ron");
    // The rack 100 mm too high.
    std::fs::write(
        &car,
        crate::support::alder_with(
            "tie_rod_inner: (88.0, 240.0, 169.0)",
            "tie_rod_inner: (88.0, 240.0, 269.0)",
        ),
    )
    .unwrap();
    let car = car.display();
    let all = wheelpath(&format!("check {car} --format json"));
    let record: serde_json::Value = serde_json::from_str(&all.out).unwrap();
    let warnings = record["warnings"].as_array().unwrap();
    assert!(warnings.len() >= 2, "{}", all.out);
    // One point is wrong, and most of what is said hangs on it.
    assert_eq!(warnings[0]["cause"], 1);
    let of_first = warnings.iter().filter(|one| one["cause"] == 1).count();
    assert!(2 * of_first > warnings.len(), "{of_first} of {}", warnings.len());
    assert!(warnings[0]["hint"].as_str().unwrap().contains("look at `tie_rod_inner`"), "{}", warnings[0]);
    let told = wheelpath(&format!("check {car}"));
    assert_eq!(
        told.err.matches("may follow from it: ").count() + told.err.matches("warning: ").count(),
        warnings.len()
    );
    for command in ["readings", "points", "turn", "sweep"] {
        let said = wheelpath(&format!("{command} {car}"));
        let of_car: Vec<&str> = said.err.lines().take(2).collect();
        assert!(
            of_car[0].starts_with("warning: ") && of_car[0].contains("that may follow from it"),
            "{}",
            said.err
        );
        assert!(of_car[1].starts_with("hint: look at `tie_rod_inner`"), "{}", said.err);
        let see = format!("`wheelpath check {car}` shows all {} warnings", warnings.len());
        assert!(of_car[1].ends_with(&see), "{}", said.err);
        assert!(!said.err.lines().skip(2).any(|line| line.contains("usual")), "{}", said.err);
    }
}

/// A fault keeps nothing else from being said.
#[test]
fn what_is_unusual_is_said_beside_a_fault() {
    let folder = tempfile::tempdir().unwrap();
    let car = folder.path().join("wrong.ron");
    let text = crate::support::alder_with(
        "tie_rod_inner: (88.0, 240.0, 169.0)",
        "tie_rod_inner: (-288.0, 240.0, 169.0)",
    );
    // And the rear axle's upper ball joint is on the lower one.
    let rear = text.find("    rear: (").unwrap();
    let (front, rear) = text.split_at(rear);
    let joint = rear.find("lower_ball_joint: (").unwrap();
    let end = joint + rear[joint..].find(')').unwrap();
    let lower = &rear[joint + "lower_ball_joint: ".len()..=end];
    let upper = rear.find("upper_ball_joint: (").unwrap();
    let upper_end = upper + rear[upper..].find(')').unwrap();
    let spoilt = format!("{front}{}upper_ball_joint: {lower}{}", &rear[..upper], &rear[upper_end + 1..]);
    std::fs::write(&car, spoilt).unwrap();
    let said = wheelpath(&format!("check {}", car.display()));
    assert_eq!(said.code, 1, "{said:?}");
    assert!(said.err.contains("error: ") && said.err.contains("warning: "), "{}", said.err);
    assert!(said.err.contains("tie_rod_inner"), "{}", said.err);
    // Nothing is said of what hangs on the joint that is at fault.
    assert!(
        !said.err.lines().any(|line| line.contains("usual") && line.contains("upper ball joint")),
        "{}",
        said.err
    );
}
