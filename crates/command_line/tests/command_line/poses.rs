//! Lists and tables of poses, beside single calls of `readings` and `points`.

use crate::support::{Noting, csv, fine, json, wheelpath, wheelpath_with};
use serde_json::Value;
use std::io::Write;
use std::path::Path;
use std::process::{Command, Stdio};
use wheelpath_command_line::run;

fn column<'a>(headings: &[String], rows: &'a [Vec<String>], name: &str) -> Vec<&'a str> {
    let at = headings.iter().position(|heading| heading == name).unwrap_or_else(|| panic!("no {name}"));
    rows.iter().map(|row| row[at].as_str()).collect()
}

fn numbers(headings: &[String], rows: &[Vec<String>], name: &str) -> Vec<f64> {
    column(headings, rows, name).into_iter().map(|cell| cell.parse().unwrap()).collect()
}

/// What `readings` says of one wheel at one pose.
fn reading(words: &str, wheel: &str, key: &str) -> f64 {
    json(&format!("readings {words} --format json"))["wheels"][wheel][key].as_f64().unwrap()
}

fn near(found: f64, expected: f64, what: &str) {
    assert!((found - expected).abs() < 1e-9 * (1.0 + expected.abs()), "{what}: {found} is not {expected}");
}

/// Poses that go to and fro, each wheel and the rack its own way.
fn lap(count: u32) -> Vec<[f64; 3]> {
    (0..count)
        .map(|i| {
            let at = f64::from(i);
            [20.0 * (0.7 * at).sin(), 15.0 * (1.1 * at).cos(), 25.0 * (0.3 * at).sin()]
        })
        .collect()
}

fn write_lap(file: &Path, poses: &[[f64; 3]]) {
    let mut text = "rack_mm,left_travel_mm,right_travel_mm\n".to_owned();
    poses.iter().for_each(|[left, right, rack]| text += &format!("{rack},{left},{right}\n"));
    std::fs::write(file, text).unwrap();
}

#[test]
fn a_table_of_poses_is_swept_row_by_row() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("poses.csv");
    let poses = lap(24);
    write_lap(&file, &poses);
    let words = format!("sweep alder --poses {} --readings toe,camber_to_road,track", file.display());
    let (headings, rows) = csv(&format!("{words} --format csv"));
    assert_eq!(headings[..4], ["left_travel_mm", "right_travel_mm", "rack_mm", "steering_wheel_deg"]);
    assert_eq!(rows.len(), poses.len());
    let of = |name: &str| numbers(&headings, &rows, name);
    let (left, right, rack) = (of("left_travel_mm"), of("right_travel_mm"), of("rack_mm"));
    for (place, pose) in poses.iter().enumerate() {
        for (found, given) in [left[place], right[place], rack[place]].iter().zip(pose) {
            near(*found, *given, "the pose comes back");
        }
    }
    for place in [0, 7, 23] {
        let [left, right, rack] = poses[place];
        let pose = format!("alder --travel-mm front_left={left},front_right={right} --rack-mm {rack}");
        for (side, wheel) in [("left", "front_left"), ("right", "front_right")] {
            for key in ["toe_deg", "camber_to_road_deg"] {
                near(of(&format!("{side}_{key}"))[place], reading(&pose, wheel, key), key);
            }
        }
    }
    // People get a table with the same rows, and a chart over the place in the list.
    let table = fine(&words);
    assert_eq!(table.lines().filter(|line| line.contains('.')).count(), poses.len(), "{table}");
    assert!(fine(&format!("{words} --format chart")).contains("over place in the list of poses"));
}

#[test]
fn points_take_a_table_for_the_whole_car() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("poses.csv");
    let text = "steering_wheel_deg;rear_travel_in;front_left_travel_mm\n90;0.5;-12.5\n-45;0;10\n";
    std::fs::write(&file, text).unwrap();
    let (headings, rows) = csv(&format!("points alder --poses {} --format csv", file.display()));
    let wheels = ["front_left", "front_right", "rear_left", "rear_right"].map(|at| format!("{at}_travel_mm"));
    assert_eq!(headings[..4], wheels);
    assert_eq!(rows.len(), 2);
    for (place, (pose, steer)) in
        [("front_left=-12.5,rear=12.7", "90"), ("front_left=10", "-45")].into_iter().enumerate()
    {
        let words = format!("points alder --travel-mm {pose} --steering-wheel-deg {steer} --format json");
        let points = json(&words)["points"].as_object().unwrap().clone();
        let mut seen = 0;
        for (wheel, all) in &points {
            for (point, at) in all.as_object().unwrap() {
                for axis in ["x_mm", "y_mm", "z_mm"] {
                    let found = numbers(&headings, &rows, &format!("{wheel}_{point}_{axis}"))[place];
                    near(found, at[axis].as_f64().unwrap(), point);
                    seen += 1;
                }
            }
        }
        assert!(seen > 100, "{seen}");
    }
}

#[test]
fn lists_and_ranges_stand_on_the_option_itself() {
    let (headings, rows) = csv("sweep alder --travel-mm -30,-10,0,10,30 --readings toe --format csv");
    assert_eq!(numbers(&headings, &rows, "left_travel_mm"), [-30.0, -10.0, 0.0, 10.0, 30.0]);
    near(
        numbers(&headings, &rows, "left_toe_deg")[1],
        reading("alder --travel-mm -10", "front_left", "toe_deg"),
        "toe",
    );
    let range = csv("sweep alder --travel-mm -20:20 --count 3 --format csv");
    assert_eq!(range, csv("sweep alder --from-mm -20 --to-mm 20 --count 3 --format csv"));
    // What runs says what is swept.
    let steer = csv("sweep alder --rack-mm -20:20 --count 3 --format csv");
    assert_eq!(
        steer,
        csv("sweep alder --over steer --rack-from-mm -20 --rack-to-mm 20 --count 3 --format csv")
    );
    let (headings, rows) =
        csv("sweep alder --steering-wheel-deg 0,45,90 --travel-mm 5 --readings toe --format csv");
    assert_eq!(numbers(&headings, &rows, "rack_mm"), [0.0, 10.25, 20.5]);
    assert_eq!(numbers(&headings, &rows, "right_travel_mm"), [5.0; 3]);
    let (headings, rows) = csv("sweep alder --travel-mm 0,10 --rack-mm -5,0,5 --readings toe --format csv");
    assert_eq!(numbers(&headings, &rows, "rack_mm"), [-5.0, -5.0, 0.0, 0.0, 5.0, 5.0]);
    // Poses of the whole car run together.
    let (headings, rows) = csv("points alder --travel-mm -5,0,5 --rack-mm 2:6 --format csv");
    assert_eq!(numbers(&headings, &rows, "rear_right_travel_mm"), [-5.0, 0.0, 5.0]);
    assert_eq!(numbers(&headings, &rows, "rack_mm"), [2.0, 4.0, 6.0]);
    let tables = fine("points alder --travel-mm 0,10");
    assert_eq!(tables.matches("Alder: wheel travel").count(), 2, "{tables}");
    let rows = json("points alder --travel-mm 0,10 --format json")["rows"].as_array().unwrap().clone();
    assert_eq!(rows.len(), 2);
    let single = json("points alder --travel-mm 10 --format json");
    let z = &single["points"]["front_left"]["wheel_centre"]["z_mm"];
    near(rows[1]["front_left_wheel_centre_z_mm"].as_f64().unwrap(), z.as_f64().unwrap(), "z");
}

#[test]
fn the_wheels_of_an_axle_can_travel_unlike() {
    let roll = csv("sweep alder --over roll --from-mm -20 --to-mm 20 --count 5 --format csv");
    assert_eq!(roll, csv("sweep alder --wheels opposite --from-mm -20 --to-mm 20 --count 5 --format csv"));
    assert_eq!(
        roll,
        csv("sweep alder --left-travel-mm -20:20 --right-travel-mm 20:-20 --count 5 --format csv")
    );
    let words =
        "--left-travel-mm 0:30 --right-travel-mm 10 --count 4 --readings camber_to_road,roll_centre_height";
    let (headings, rows) = csv(&format!("sweep alder {words} --format csv"));
    assert_eq!(numbers(&headings, &rows, "left_travel_mm"), [0.0, 10.0, 20.0, 30.0]);
    assert_eq!(numbers(&headings, &rows, "right_travel_mm"), [10.0; 4]);
    near(
        numbers(&headings, &rows, "left_camber_to_road_deg")[3],
        reading("alder --travel-mm front_left=30,front_right=10", "front_left", "camber_to_road_deg"),
        "camber",
    );
    let chart =
        fine("sweep alder --left-travel-mm 0:30 --right-travel-mm 0:-10 --readings toe --format chart");
    assert!(chart.contains("over travel of the left wheel, the right one its own way"), "{chart}");
    assert!(fine("sweep alder --over roll --count 3").contains("travel left"));
    // Held unlike while steering.
    let (headings, rows) = csv(
        "sweep alder --over steer --left-travel-mm 10 --right-travel-mm -5 --count 3 --readings toe --format csv",
    );
    assert_eq!(numbers(&headings, &rows, "right_travel_mm"), [-5.0; 3]);
}

#[test]
fn a_pose_of_a_table_that_cannot_be_reached_is_told_and_the_others_stand() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("poses.csv");
    std::fs::write(&file, "travel_mm\n0\n200\n10\n").unwrap();
    for command in ["sweep", "points"] {
        let said = wheelpath(&format!("{command} alder --poses {} --format csv", file.display()));
        assert_eq!(said.code, 1, "{said:?}");
        assert!(said.err.contains("error: 1 of 3 poses cannot be reached"), "{}", said.err);
        let (headings, rows) = crate::support::csv_of(&said.out);
        assert_eq!(column(&headings, &rows, "stop"), ["", "out_of_reach", ""]);
        let key = if command == "sweep" { "left_toe_deg" } else { "front_left_wheel_centre_z_mm" };
        let cells = column(&headings, &rows, key);
        assert!(!cells[0].is_empty() && cells[1].is_empty() && !cells[2].is_empty(), "{cells:?}");
    }
}

#[test]
fn faults_of_a_table_have_line_and_column() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("poses.csv");
    let check = |text: &str, code: u8, says: &[&str]| {
        std::fs::write(&file, text).unwrap();
        for command in ["sweep", "points"] {
            let said = wheelpath(&format!("{command} alder --poses {}", file.display()));
            assert_eq!((said.code, said.out.as_str()), (code, ""), "{text}: {said:?}");
            for part in says.iter().chain(&["hint: "]) {
                assert!(said.err.contains(part), "{text}: no {part} in {}", said.err);
            }
        }
    };
    check(
        "travel_mm,rak_mm\n1,2\n",
        1,
        &["poses.csv:1:11: there is no column \"rak_mm\"", "did you mean rack_mm?"],
    );
    check(
        "travel_mm\n1\n2,5\n",
        1,
        &["poses.csv:3:3: the row has 2 cells, but there are 1 columns", "decimal comma"],
    );
    check("travel_mm;rack_mm\n1;2,5\n", 1, &["poses.csv:2:3: rack_mm is \"2,5\", with a decimal comma"]);
    check("travel_mm\nten\n", 1, &["poses.csv:2:1: travel_mm is \"ten\", not a number"]);
    check("", 1, &["the table of poses is empty"]);
    check("pitman_deg\n1\n", 2, &["steered by a rack; the column pitman_deg would be for a steering box"]);
    std::fs::write(&file, [0xff, 0xfe]).unwrap();
    let said = wheelpath(&format!("sweep alder --poses {}", file.display()));
    assert_eq!(said.code, 1);
    assert!(said.err.contains("is not UTF-8"), "{}", said.err);
    let said = wheelpath("sweep alder --poses nowhere.csv");
    assert_eq!(said.code, 2);
    assert!(said.err.contains("cannot read nowhere.csv"), "{}", said.err);
    std::fs::write(&file, "rear_travel_mm\n1\n").unwrap();
    let said = wheelpath(&format!("sweep alder --poses {}", file.display()));
    assert_eq!(said.code, 2);
    assert!(said.err.contains("rear_travel_mm is not of the front axle, which is swept"), "{}", said.err);
    assert_eq!(wheelpath(&format!("sweep alder --axle rear --poses {}", file.display())).code, 0);
}

#[test]
fn wrong_combinations_are_answered_in_words() {
    let check = |words: &str, says: &[&str]| {
        let said = wheelpath(words);
        assert_eq!((said.code, said.out.as_str()), (2, ""), "{words}: {said:?}");
        for part in says {
            assert!(said.err.contains(part), "{words}: no {part} in {}", said.err);
        }
    };
    check("sweep alder --poses x.csv --count 3", &["--poses", "cannot be used with", "--count"]);
    check("points alder --poses x.csv --rack-mm 3", &["--poses", "cannot be used with"]);
    check("sweep alder --travel-mm 0:5 --from-mm 3", &["cannot be used with"]);
    check("sweep alder --left-travel-mm 0:5 --travel-mm 3", &["cannot be used with"]);
    check("sweep alder --left-travel-mm 0:5 --wheels left", &["cannot be used with"]);
    check("sweep alder --rack-mm 0:5 --rack-from-mm 3", &["cannot be used with"]);
    check("sweep alder --left-travel-mm 5", &["--left-travel-mm has no part", "hint: "]);
    check("sweep alder --over roll --right-travel-mm 0:5", &["--right-travel-mm has no part"]);
    check("sweep alder --over roll --wheels left", &["--wheels has no part"]);
    check("sweep alder --over travel --rack-mm 0:5", &["--rack-mm is more than one number", "hint: "]);
    check(
        "sweep alder --over steer --travel-mm 0:5",
        &["--travel-mm is more than one number", "--over grid"],
    );
    check("sweep alder --left-travel-mm 0,1,2 --right-travel-mm 0,1", &["3 numbers", "has 2", "hint: "]);
    check("sweep alder --travel-mm 0,1,2 --count 3", &["--count has no part", "--travel-mm is a list"]);
    check("points alder --travel-mm 0,1 --rack-mm 0,1,2", &["--rack-mm has 3", "hint: "]);
    check("sweep alder --travel-mm 1:x", &["x is not a number"]);
    check("sweep alder --travel-mm 1,,2", &["is not a number"]);
    check("points alder --travel-mm middle=1", &["no wheel middle"]);
    check("points hazel --rack-mm 0,5", &["steered by a steering box", "hint: give --pitman-deg"]);
    check(
        "points alder --travel-mm 0:1 --count 2000",
        &["2000 poses are more than 1000 tables", "--format csv"],
    );
    check(
        "sweep alder --travel-mm 0:1 --count 300000",
        &["300000 poses are more than 200000", "--format csv"],
    );
}

/// Set in the process that reads standard input.
const CHILD: &str = "WHEELPATH_TEST_READS_STANDARD_INPUT";

#[test]
fn the_child_that_reads_standard_input() {
    let Ok(file) = std::env::var(CHILD) else { return };
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let words = ["wheelpath", "sweep", "alder", "--poses", "-", "--readings", "toe", "--format", "csv"];
    let code = run(words, &mut out, &mut err, &Noting::default());
    std::fs::write(
        file,
        format!("{code}\n{}{}", String::from_utf8(out).unwrap(), String::from_utf8(err).unwrap()),
    )
    .unwrap();
}

#[test]
fn a_table_comes_through_standard_input() {
    let folder = tempfile::tempdir().unwrap();
    let said = folder.path().join("said.txt");
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args(["--exact", "poses::the_child_that_reads_standard_input"])
        .env(CHILD, &said)
        .stdin(Stdio::piped())
        .stdout(Stdio::null())
        .spawn()
        .unwrap();
    child.stdin.take().unwrap().write_all(b"travel_mm,rack_mm\n10,5\n-10,0\n").unwrap();
    assert!(child.wait().unwrap().success());
    let said = std::fs::read_to_string(said).unwrap();
    let (code, out) = said.split_once('\n').unwrap();
    assert_eq!(code, "0", "{said}");
    let (headings, rows) = crate::support::csv_of(out);
    assert_eq!(numbers(&headings, &rows, "rack_mm"), [5.0, 0.0]);
    let toe = reading("alder --travel-mm 10 --rack-mm 5", "front_left", "toe_deg");
    near(numbers(&headings, &rows, "left_toe_deg")[0], toe, "toe");
}

/// A list longer than the parts in which it is solved comes out in its order, and every part's numbers are
/// those of single poses.
#[test]
fn a_long_table_is_solved_in_parts_and_comes_in_order() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("poses.csv");
    let poses = lap(5000);
    write_lap(&file, &poses);
    let words = format!("sweep alder --poses {} --readings toe", file.display());
    let (headings, rows) = csv(&format!("{words} --format csv"));
    assert_eq!(rows.len(), poses.len());
    let left = numbers(&headings, &rows, "left_travel_mm");
    assert!(left.iter().zip(&poses).all(|(found, pose)| (found - pose[0]).abs() < 1e-9));
    let toe = numbers(&headings, &rows, "right_toe_deg");
    for place in [0, 2047, 2048, 4999] {
        let [left, right, rack] = poses[place];
        let pose = format!("alder --travel-mm front_left={left},front_right={right} --rack-mm {rack}");
        near(toe[place], reading(&pose, "front_right", "toe_deg"), "toe");
    }
    let out: Value = json(&format!("{words} --format json"));
    assert_eq!(out["rows"].as_array().unwrap().len(), poses.len());
    let said = wheelpath_with(
        &["sweep", "alder", "--poses", file.to_str().unwrap(), "--format", "svg"],
        &Noting::default(),
    );
    assert_eq!(said.code, 2, "several readings are no figure");
}
