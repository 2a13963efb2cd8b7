//! 0 fine, 1 a fault of the car or a pose out of reach, 2 wrong use; errors with a hint.

use crate::support::{Noting, alder_with, wheelpath, wheelpath_with};
use serde_json::Value;
use std::io::{Error, ErrorKind, Write};
use wheelpath_command_line::run;

/// The words end with this code, and the complaint holds all of these.
fn check(words: &str, code: u8, complaint: &[&str]) {
    let said = wheelpath(words);
    assert_eq!(said.code, code, "{words}: {said:?}");
    for part in complaint {
        assert!(said.err.contains(part), "{words}: no {part:?} in {}", said.err);
    }
    if code == 2 {
        assert!(said.out.is_empty(), "{words}: {}", said.out);
    }
    if code != 0 {
        assert!(said.err.lines().any(|line| line.starts_with("error: ")), "{words}: {}", said.err);
    }
}

#[test]
fn wrong_use_is_2() {
    check("readings", 2, &["CAR"]);
    check("fly", 2, &["fly"]);
    check("readings nowhere.ron", 2, &["nowhere.ron", "hint: give the path of a car file"]);
    check("check nowhere.ron", 2, &["nowhere.ron", "hint: "]);
    check("readings alder --rack-mm 1 --steering-wheel-deg 2", 2, &["--steering-wheel-deg"]);
    check("readings alder --travel-mm middle=3", 2, &["no wheel middle", "front_left"]);
    check("readings alder --travel-mm NaN", 2, &["not a finite number"]);
    check("readings alder --rack-mm inf", 2, &["not a finite number"]);
    check("readings alder --toe-over-mm 600 --format json", 2, &["toe_deg", "hint: "]);
    check("readings alder --toe-over-mm 0", 2, &["positive"]);
    check("sweep alder --over steer --axle rear", 2, &["the rear axle of Alder cannot be steered", "hint: "]);
    check(
        "sweep alder --axle rear --rack-mm 5",
        2,
        &["neither rack nor steering box", "hint: leave --rack-mm out"],
    );
    check("sweep alder --format svg --readings toe,camber_to_body", 2, &["one reading, not 2", "hint: "]);
    check("sweep alder --over grid --format chart", 2, &["chart", "hint: "]);
    check("sweep alder --readings toe,tooe", 2, &["no reading tooe; did you mean toe?"]);
    check("sweep alder --over steer --wheels left", 2, &["--wheels has no part", "hint: "]);
    check("sweep alder --travel-mm 3", 2, &["--travel-mm has no part"]);
    check("sweep alder --over grid --rack-mm 3", 2, &["--rack-mm has no part"]);
    check("sweep alder --rack-count 3", 2, &["--rack-count has no part"]);
    check(
        "sweep alder --over grid --count 1000 --rack-count 4000000000",
        2,
        &["4000000000000 poses", "hint: "],
    );
    check("sweep alder --count 0", 2, &["--count"]);
    check("sweep alder --format chart --toe-over-mm -1", 2, &["positive"]);
    check("sensitivity alder", 2, &["--reading"]);
    check(
        "sensitivity alder --reading anti_squat",
        2,
        &["Anti-squat has no value on the front axle", "hint: needs a rear axle"],
    );
    check(
        "sensitivity alder --reading toe --axle rear --pickup tie_rod_inner",
        2,
        &["no tie rod, inner end", "hint: "],
    );
    check("clearances", 2, &["CAR"]);
    check("clearances nowhere.ron", 2, &["nowhere.ron", "hint: "]);
    check("clearances alder --axle middle", 2, &["middle", "front, rear, both"]);
    check("clearances alder --from-mm ten", 2, &["ten is not a number"]);
    check("clearances alder --to-mm inf", 2, &["not a finite number"]);
    check("clearances alder --count 0", 2, &["--count"]);
    check("clearances alder --steer-count 0", 2, &["--steer-count"]);
    check("clearances alder --count 1000", 2, &["1000000 poses", "hint: ask for fewer"]);
    check("clearances alder --count 4000000000", 2, &["poses are more than"]);
    check("clearances alder --format svg", 2, &["svg"]);
    check("picture alder", 2, &["--output"]);
    check("picture alder -o x.png --size 10x10", 2, &["1280x720"]);
    check("picture alder -o x.png --overlays wings", 2, &["no reading wings"]);
    check("import alder nowhere.csv", 2, &["nowhere.csv", "hint: "]);
    check("import alder x.csv --axes x=left,y=left,z=up", 2, &["same line"]);
    check("import alder x.csv --axes x=forward,y=right,z=up", 2, &["left-handed"]);
    check("import alder x.csv --axes x=forward", 2, &["x, y and z"]);
}

#[test]
fn a_pose_out_of_reach_is_1_and_says_where_and_why() {
    check(
        "readings alder --travel-mm 200",
        1,
        &["front left: pushrod cannot reach further than 114.51 mm", "hint: "],
    );
    check("readings alder --rack-mm 120", 1, &["locks at", "tie rod", "hint: "]);
    check("points alder --travel-mm -250", 1, &["error: "]);
}

#[test]
fn a_sweep_past_a_limit_gives_what_it_can_and_is_1() {
    let said = wheelpath("sweep alder --to-mm 200 --from-mm 0 --count 5 --readings toe --format json");
    assert_eq!(said.code, 1, "{said:?}");
    assert!(said.err.contains("of 5 poses cannot be reached"), "{}", said.err);
    let out: Value = serde_json::from_str(&said.out).unwrap();
    let rows = out["rows"].as_array().unwrap();
    assert!(rows[2]["stop"].is_null() && rows[2]["left_toe_deg"].is_number());
    assert_eq!(rows[4]["stop"], "out_of_reach");
    assert_eq!(rows[4]["stop_wheel"], "front_left");
    assert_eq!(rows[4]["stop_links"], serde_json::json!(["pushrod"]));
    assert!(rows[4]["left_toe_deg"].is_null());
    let travel = rows[4]["stop_travel_mm"].as_f64().unwrap();
    assert!((114.0..115.0).contains(&travel), "{travel}");
}

#[test]
fn stops_run_into_are_warnings_and_0() {
    check(
        "readings alder --travel-mm 60 --rack-mm 50",
        0,
        &[
            "warning: the rack stands 10.00 mm beyond its stop 40.00 mm to the left",
            "shorter than fully compressed",
            "hint: ",
        ],
    );
    check("readings alder --rack-mm 40", 0, &[]);
    assert_eq!(wheelpath("readings alder --rack-mm 40").err, "");
    check(
        "sweep alder --over steer --rack-mm 0:50 --count 11",
        0,
        &["10.00 mm beyond its stop", "in 2 of 11 poses"],
    );
    let said = wheelpath("readings alder --rack-mm -41 --format json");
    let out: Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(out["warnings"].as_array().unwrap().len(), 1, "{out}");
}

#[test]
fn a_joint_that_swings_too_far_is_a_warning() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("car.ron");
    // Without its stud the joint swings with the steering, and the limit counts that.
    let swings = alder_with("tie_rod_outer: (0.0, 0.0, 1.0),\n", "");
    std::fs::write(&file, swings.replace("tie_rod_outer: 14.0", "tie_rod_outer: 4.0")).unwrap();
    let file = file.display();
    check(&format!("readings {file} --travel-mm 0"), 0, &[]);
    assert_eq!(wheelpath(&format!("readings {file} --travel-mm 0")).err, "");
    let complaint = ["the joint at tie rod, outer end swings", "beyond its limit of 4.00°", "hint: "];
    check(&format!("readings {file} --rack-mm 30"), 0, &complaint);
    check(&format!("sweep {file} --over steer --count 3"), 0, &complaint);
    let (_, rows) =
        crate::support::csv_of(&wheelpath(&format!("sweep {file} --over steer --count 3 --format csv")).out);
    let exceeds: Vec<bool> =
        rows.iter().map(|row| row.last().unwrap().contains("tie rod, outer end")).collect();
    assert_eq!(exceeds, [true, false, true]);
    let said = wheelpath(&format!("check {file} --format json"));
    let out: Value = serde_json::from_str(&said.out).unwrap();
    let by = out["reach_with_stops"][0]["rack_left_ended_by"][0].as_str().unwrap();
    assert!(by.contains("joint: tie rod, outer end"), "{by}");
}

#[test]
fn a_pose_near_a_dead_point_is_a_warning() {
    let complaint = ["warning: front left: near a dead point", "in one of them turns the wheel by", "hint: "];
    check("readings sorrel --rack-mm -72.5", 0, &complaint);
    let said = wheelpath("readings sorrel --rack-mm -72.5 --format json");
    let out: Value = serde_json::from_str(&said.out).unwrap();
    assert!(out["warnings"].as_array().unwrap().iter().any(|w| w.as_str().unwrap().contains("dead point")));
    assert!(!wheelpath("readings sorrel --rack-mm -50").err.contains("dead point"));
}

#[test]
fn a_faulty_car_is_1_with_its_place_and_a_hint() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("car.ron");
    let broken = |passage: &str, other: &str, complaint: &[&str]| {
        std::fs::write(&file, alder_with(passage, other)).unwrap();
        let place = format!("{}:", file.display());
        for command in ["check", "readings", "sweep", "points"] {
            check(
                &format!("{command} {}", file.display()),
                1,
                &[complaint, &[place.as_str(), "hint: "]].concat(),
            );
        }
        let said = wheelpath(&format!("check {} --format json", file.display()));
        let out: Value = serde_json::from_str(&said.out).unwrap();
        assert!(out["faults"][0]["line"].as_u64().unwrap() > 1, "{out}");
        assert!(out["car"].is_null());
    };
    broken("tie_rod_inner: (88.0, 240.0, 169.0)", "tie_rod_iner: (88.0, 240.0, 169.0)", &["tie_rod_iner"]);
    broken("version: 1", "version: 9", &["version"]);
    broken("wheelbase: 2650.0", "wheelbase: 2650.0 2", &[]);
    broken("centre: (0.0, 713.0, 270.0)", "centre: (0.0, -713.0, 270.0)", &["other side"]);
    broken(
        "lower_wishbone_rear: (-165.0, 240.0, 134.0)",
        "lower_wishbone_rear: (130.0, 235.0, 130.0)",
        &["wishbone"],
    );
    std::fs::write(&file, [0xff, 0xfe, 0x00]).unwrap();
    check(&format!("readings {}", file.display()), 1, &["UTF-8"]);
    std::fs::write(&file, "").unwrap();
    check(&format!("check {}", file.display()), 1, &["hint: "]);
    check(&format!("check {}", folder.path().display()), 2, &["hint: "]);
}

/// A build script looks at the code alone: what each subcommand found must be in it.
#[test]
fn what_is_found_is_in_the_code() {
    let folder = tempfile::tempdir().unwrap();
    let limits = folder.path().join("limits.ron");
    let limited = |limit: &str| {
        let text = format!(
            "(format: \"wheelpath limits\", version: 1, units: Millimetre, axes: (x: Forward, y: Left, z: Up), limits: [{limit}])"
        );
        std::fs::write(&limits, text).unwrap();
        limits.display().to_string()
    };
    let file = limited("Reading(name: \"C\", reading: caster, of: front_left, over: Design, least_deg: 0)");
    check(&format!("limits alder --limits {file}"), 0, &[]);
    check(&format!("compare alder tie-rod-down --limits {file}"), 0, &[]);
    for format in ["table", "json", "csv"] {
        let file =
            limited("Reading(name: \"C\", reading: caster, of: front_left, over: Design, least_deg: 80)");
        check(&format!("limits alder --limits {file} --format {format}"), 1, &["error: 1 limit fails"]);
        check(
            &format!("compare alder tie-rod-down --limits {file} --format {format}"),
            1,
            &["1 limit fails"],
        );
        // Not reached is not kept.
        let file = limited(
            "Reading(name: \"C\", reading: caster, of: front_left, over: Travel(from: 0, to: 400), least_deg: -80)",
        );
        check(
            &format!("limits alder --limits {file} --format {format}"),
            1,
            &["1 limit is open: not every pose"],
        );
    }
    // A misspelt point is not a stranger's row.
    let table = folder.path().join("points.csv");
    for (name, code) in [("tie_rod_iner", 1), ("seat bolt", 0), ("toe_link_inner", 1)] {
        let text =
            format!("name,x_mm,y_mm,z_mm\nfront left tie_rod_inner,88,240,168\nfront left {name},1,2,3\n");
        std::fs::write(&table, text).unwrap();
        let complaint: &[&str] = if code == 1 { &["1 row that names a point was left out"] } else { &[] };
        check(&format!("import alder {}", table.display()), code, complaint);
    }
    // Every subcommand is in the list that `schema` shows, but those that find nothing.
    let said = wheelpath("schema --format json");
    let out: Value = serde_json::from_str(&said.out).unwrap();
    let told: Vec<&str> =
        out["exit_codes"].as_array().unwrap().iter().map(|row| row["subcommand"].as_str().unwrap()).collect();
    let help = wheelpath("--help").out;
    let commands = help.split("Commands:").nth(1).unwrap().split("Options:").next().unwrap();
    let names =
        commands.lines().filter_map(|line| line.strip_prefix("  ")).filter(|line| !line.starts_with(' '));
    for name in names.filter_map(|line| line.split_whitespace().next()) {
        let finds_nothing = ["open", "new", "schema", "help"].contains(&name);
        assert_eq!(told.contains(&name), !finds_nothing, "{name}");
    }
    assert!(
        help.contains("1 the car has a fault, a limit fails, or what was asked for is not reached"),
        "{help}"
    );
    assert!(wheelpath("schema").out.contains("ends with 1 where"));
}

#[test]
fn help_and_version_are_0() {
    for words in ["--help", "--version", "help sweep", "readings --help"] {
        let said = wheelpath(words);
        assert_eq!((said.code, said.err.as_str()), (0, ""), "{words}");
    }
    let help = wheelpath("--help").out;
    let caution = "Geometry only, no strength. Series rules, local codes and a qualified person decide.";
    assert_eq!(help.matches(caution).count(), 1, "{help}");
}

struct Failing(ErrorKind);

impl Write for Failing {
    fn write(&mut self, _: &[u8]) -> Result<usize, Error> {
        Err(Error::from(self.0))
    }

    fn flush(&mut self) -> Result<(), Error> {
        Err(Error::from(self.0))
    }
}

#[test]
fn a_reader_that_goes_away_is_fine_and_a_full_disk_is_not() {
    for words in [&["wheelpath", "readings", "alder"][..], &["wheelpath", "--help"], &["wheelpath", "schema"]]
    {
        let mut err = Vec::new();
        let front = Noting::default();
        assert_eq!(run(words, &mut Failing(ErrorKind::BrokenPipe), &mut err, &front), 0, "{words:?}");
        assert!(err.is_empty());
        assert_eq!(run(words, &mut Failing(ErrorKind::StorageFull), &mut err, &front), 2, "{words:?}");
        assert!(String::from_utf8(err).unwrap().starts_with("error: the results cannot be written"));
    }
    let nobody = &mut Failing(ErrorKind::BrokenPipe);
    assert_eq!(run(["wheelpath", "readings", "nowhere.ron"], &mut Vec::new(), nobody, &Noting::default()), 2);
}

#[test]
fn odd_words_are_never_a_panic() {
    for odd in ["", " ", "−", "=", ",", "front=", "=1", "1e400", "-", "--", "é", "0x10", "1,2", "x=,y=,z="]
    {
        for command in [
            &["readings", "alder", "--travel-mm"][..],
            &["readings", "alder", "--rack-mm"],
            &["readings", "hazel", "--pitman-deg"],
            &["attitude", "alder", "--front-mm"],
            &["attitude", "alder", "--roll-deg"],
            &["attitude", "alder", "--pitch-deg"],
            &["attitude", "alder", "--travel-mm"],
            &["cornering", "rowan", "--lateral-g"],
            &["cornering", "rowan", "--lateral-g", "1", "--pitch-gradient-deg-per-g"],
            &["turn", "rowan", "--steering-wheel-deg"],
            &["sweep", "alder", "--readings"],
            &["picture", "alder", "-o", "x.png", "--size"],
            &["picture", "alder", "-o", "x.png", "--overlays"],
            &["import", "alder", "x.csv", "--axes"],
            &["sensitivity", "alder", "--reading"],
            &["check"],
            &["attitude"],
            &["turn"],
        ] {
            let said = wheelpath_with(&[command, &[odd]].concat(), &Noting::default());
            assert!(said.code <= 2, "{command:?} {odd}");
        }
    }
}
