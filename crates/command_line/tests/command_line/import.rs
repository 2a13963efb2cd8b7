//! Points of a table into a car file.

use crate::support::{fine, json, wheelpath};
use std::path::{Path, PathBuf};

fn table(folder: &Path, text: &str) -> PathBuf {
    let file = folder.join("points.csv");
    std::fs::write(&file, text).unwrap();
    file
}

#[test]
fn what_points_writes_import_reads() {
    let folder = tempfile::tempdir().unwrap();
    let text = fine("points alder --format csv");
    let moved = text
        .replace("front_left,tie_rod_inner,88.0,240.0,169.0", "front_left,tie_rod_inner,88.0,240.0,166.5");
    assert_ne!(text, moved);
    let file = table(folder.path(), &moved);
    let new = folder.path().join("new.ron");
    let said = wheelpath(&format!("import alder {} --mirror --save {}", file.display(), new.display()));
    assert_eq!(said.code, 0, "{said:?}");
    assert!(said.out.contains("76 points set, 1 of them moved"), "{}", said.out);
    assert_eq!(said.err, "");
    let out = json(&format!("points {} --format json", new.display()));
    for (wheel, z) in [("front_left", 166.5), ("front_right", 169.0)] {
        let found = out["points"][wheel]["tie_rod_inner"]["z_mm"].as_f64().unwrap();
        assert!((found - z).abs() < 1e-9, "{wheel}: {found}");
    }
    // The comments of the old file are in the new one.
    assert!(std::fs::read_to_string(&new).unwrap().contains("The height of `inner` sets the bump steer"));
    let again = wheelpath(&format!("import alder {} --save {}", file.display(), new.display()));
    assert_eq!(again.code, 2);
    assert!(again.err.contains("is there already"), "{}", again.err);
}

#[test]
fn units_axes_and_corner_can_be_said() {
    let folder = tempfile::tempdir().unwrap();
    // With x rearward and y right, what is forward and left is negative.
    let file = table(folder.path(), "name,x,y,z\ntie_rod_inner,-3.4,-9.4,6.6\n");
    let said = wheelpath(&format!(
        "import alder {} --units inch --axes x=rearward,y=right,z=up --axle front --side left --mirror --format json",
        file.display()
    ));
    assert_eq!(said.code, 0, "{said:?}");
    let out: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    let set = out["set"].as_array().unwrap();
    assert_eq!(set.len(), 2);
    for (axis, expected) in [("x_mm", 3.4 * 25.4), ("y_mm", 9.4 * 25.4), ("z_mm", 6.6 * 25.4)] {
        let found = set[0][axis].as_f64().unwrap();
        assert!((found - expected).abs() < 1e-9, "{axis}: {found}");
    }
    assert_eq!(set[0]["from_z_mm"], 169.0);
    assert_eq!((&set[1]["wheel"], out["saved"].is_null()), (&"front_right".into(), true));
    assert!(!out["missing"].as_array().unwrap().is_empty());
}

#[test]
fn a_table_that_says_nothing_usable_is_a_fault() {
    let folder = tempfile::tempdir().unwrap();
    let check = |text: &str, words: &str, complaint: &str| {
        let file = table(folder.path(), text);
        let said = wheelpath(&format!("import alder {} {words}", file.display()));
        assert_eq!(said.code, 1, "{said:?}");
        assert!(said.err.contains(complaint) && said.err.contains("hint: "), "{}", said.err);
    };
    check("name,x,y,z\nfront left tie rod inner,1,2,3\n", "", "millimetres or inches");
    check("name,x,y,z\ntie rod inner,1,2,3\n", "--units mm", "to which corner");
    check("name,x_mm,y_mm,z_mm\nfront left widget,1,2,3\n", "", "no row names a point of Alder");
    check("name,x_mm,y_mm,z_mm\nfront left tie_rod_inner,1,two,3\n", "", "not a number");
    check("", "--units mm", "empty");
}

#[test]
fn points_of_an_axle_as_a_whole_come_and_go_too() {
    let folder = tempfile::tempdir().unwrap();
    let text = fine("points hazel --format csv");
    let row = text.lines().find(|line| line.starts_with("rear,panhard_rod_body,")).unwrap();
    let moved = text.replace(row, "rear,panhard_rod_body,-2810.0,-452.0,296.0");
    assert_ne!(text, moved);
    let file = table(folder.path(), &moved);
    let new = folder.path().join("new.ron");
    let said = wheelpath(&format!("import hazel {} --save {} --format json", file.display(), new.display()));
    assert_eq!(said.code, 0, "{said:?}");
    let out: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    let set = out["set"].as_array().unwrap().iter().find(|set| set["point"] == "panhard_rod_body").unwrap();
    assert_eq!((&set["axle"], &set["z_mm"]), (&"rear".into(), &296.0.into()));
    assert!(set["wheel"].is_null());
    let before = json("points hazel --format json");
    let after = json(&format!("points {} --format json", new.display()));
    let z = |out: &serde_json::Value| out["points"]["rear"]["panhard_rod_body"]["z_mm"].as_f64().unwrap();
    assert!(
        (z(&before) - 306.0).abs() < 1e-9 && (z(&after) - 296.0).abs() < 1e-9,
        "{} {}",
        z(&before),
        z(&after)
    );
    let words = fine("points hazel");
    assert!(words.contains("rear axle as a whole") && words.contains("Panhard rod, body end"), "{words}");
    assert!(!fine("points alder").contains("as a whole"));
}

/// Alder in a folder of its own, and the table of its points with some of them moved.
fn own_car(folder: &Path, changes: &[(&str, &str)]) -> (PathBuf, PathBuf) {
    let car = folder.join("mine.ron");
    std::fs::write(&car, wheelpath_project::ALDER).unwrap();
    let mut text = fine("points alder --format csv");
    for (row, other) in changes {
        assert!(text.contains(row), "{row}");
        text = text.replace(row, other);
    }
    (car, table(folder, &text))
}

const BOTH_DOWN: [(&str, &str); 2] = [
    ("front_left,tie_rod_inner,88.0,240.0,169.0", "front_left,tie_rod_inner,88.0,240.0,166.5"),
    ("front_right,tie_rod_inner,88.0,-240.0,169.0", "front_right,tie_rod_inner,88.0,-240.0,166.5"),
];

#[test]
fn moved_points_become_a_proposal_beside_the_car() {
    let folder = tempfile::tempdir().unwrap();
    let (car, csv) = own_car(folder.path(), &BOTH_DOWN);
    let words = ["import", car.to_str().unwrap(), csv.to_str().unwrap(), "--as-proposal", "Rack down, 2.5!"];
    let said = crate::support::wheelpath_with(&words, &crate::support::Noting::default());
    assert_eq!((said.code, said.err.as_str()), (0, ""), "{said:?}");
    // The separator in what is said is the system's.
    let file = folder.path().join("mine").join("rack-down-2-5.ron");
    assert!(said.out.contains("1 change to Alder") && said.out.contains(file.to_str().unwrap()), "{said:?}");
    assert!(said.out.contains("Z −2.5 mm"), "{}", said.out);
    // It says what the demo car's own proposal says, and does the same.
    let read = wheelpath_car_file::load_proposal(&file).unwrap();
    let own = folder.path().join("own.ron");
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-cars");
    std::fs::copy(root.join("alder/tie-rod-down.ron"), &own).unwrap();
    assert_eq!(read.proposal.changes, wheelpath_car_file::load_proposal(&own).unwrap().proposal.changes);
    let compared = wheelpath(&format!("compare {} rack-down-2-5", car.display()));
    assert_eq!((compared.code, compared.err.as_str()), (0, ""), "{compared:?}");
    // What is there is not written over; a place of its own can be named.
    let bytes = std::fs::read(&file).unwrap();
    let again = crate::support::wheelpath_with(&words, &crate::support::Noting::default());
    assert_eq!(again.code, 2);
    assert!(again.err.contains("is there already"), "{}", again.err);
    assert_eq!(std::fs::read(&file).unwrap(), bytes);
    let out = json(&format!(
        "import alder {} --as-proposal x --output {}/x.ron --format json",
        csv.display(),
        folder.path().display()
    ));
    let set = out["set"].as_array().unwrap();
    assert_eq!(
        (set.len(), &set[0]["of"], &set[0]["point"]),
        (1, &"front_both".into(), &"tie_rod_inner".into())
    );
    assert_eq!((set[0]["from_z_mm"].as_f64(), set[0]["z_mm"].as_f64()), (Some(169.0), Some(166.5)));
}

#[test]
fn rows_that_a_proposal_cannot_use_are_refused_with_their_line() {
    let folder = tempfile::tempdir().unwrap();
    let check = |rows: &str, code: u8, complaints: &[&str]| {
        let csv = table(folder.path(), &format!("name,x_mm,y_mm,z_mm\n{rows}"));
        let out = folder.path().join("p.ron");
        let said =
            wheelpath(&format!("import alder {} --as-proposal p --output {}", csv.display(), out.display()));
        assert_eq!(said.code, code, "{said:?}");
        for complaint in complaints {
            assert!(said.err.contains(complaint), "{complaint}: {}", said.err);
        }
        assert!(said.err.contains("hint: ") && !out.exists(), "{}", said.err);
    };
    let good = "front left tie rod inner,88,240,160\n";
    check(
        &format!("{good}front left tie_rod_iner,1,2,3\nrear left helmet,1,2,3\n"),
        1,
        &[
            "points.csv:3:1: \"front left tie_rod_iner\" is no point; did you mean tie_rod_inner?",
            "points.csv:4:1: \"rear left helmet\" is no point",
        ],
    );
    check(
        &format!("{good}front left toe_link_inner,1,2,3\n"),
        1,
        &["points.csv:3:1: front left has no toe link"],
    );
    check(&format!("{good}front left tie rod outer,98,two,195\n"), 1, &["points.csv:3:1", "not a number"]);
    check(
        "front left tie rod inner,88,240,169\n",
        1,
        &["every point of the table stands where the car has it"],
    );
    // Ball joints in one place are no steering axis.
    check("front left upper ball joint,7.5,684.5,150\n", 1, &["points.csv:2:1"]);
    let csv = table(folder.path(), &format!("name,x_mm,y_mm,z_mm\n{good}"));
    let said = wheelpath(&format!("import alder {} --as-proposal down", csv.display()));
    assert_eq!(said.code, 2);
    assert!(said.err.contains("has no folder") && said.err.contains("--output"), "{}", said.err);
    let said = wheelpath(&format!("import alder {} --as-proposal ?!", csv.display()));
    assert!(said.code == 2 && said.err.contains("needs a name"), "{}", said.err);
}

/// What `points` writes is every car's own table: read back, no point moves and nothing is complained of.
#[test]
fn every_demo_car_takes_its_own_points_back() {
    let folder = tempfile::tempdir().unwrap();
    for file in crate::support::demo_cars() {
        for units in ["mm", "inch"] {
            let file = file.display();
            let csv = table(folder.path(), &fine(&format!("points {file} --format csv --units {units}")));
            let said = wheelpath(&format!("import {file} {} --format json", csv.display()));
            assert_eq!((said.code, said.err.as_str()), (0, ""), "{file}: {said:?}");
            let out: serde_json::Value = serde_json::from_str(&said.out).unwrap();
            for set in out["set"].as_array().unwrap() {
                for axis in ["x_mm", "y_mm", "z_mm"] {
                    let (from, to) =
                        (set[format!("from_{axis}")].as_f64().unwrap(), set[axis].as_f64().unwrap());
                    assert!((from - to).abs() < 1e-6, "{file}: {set}");
                }
            }
            assert_eq!(out["contact_points"], 4);
            for none in ["unknown", "unused", "missing", "left_over", "one_sided", "warnings"] {
                assert!(out[none].as_array().unwrap().is_empty(), "{file}: {none}: {}", out[none]);
            }
        }
    }
    let csv = table(folder.path(), &fine("points sorrel --format csv"));
    let said = fine(&format!("import sorrel {}", csv.display()));
    assert!(said.contains("4 rows of a contact point not read: it follows from wheel centre"), "{said}");
}

/// One side of a car that is alike on both: the other side stays, and that is said.
#[test]
fn one_side_of_a_mirrored_car_is_said_to_be_one() {
    let folder = tempfile::tempdir().unwrap();
    let row = "name,x_mm,y_mm,z_mm\nFL tie_rod_inner,88,240,166.5\n";
    let csv = table(folder.path(), row);
    let said = wheelpath(&format!("import alder {}", csv.display()));
    assert_eq!(said.code, 0, "{said:?}");
    let words = crate::support::unbroken(&said.err);
    assert!(
        words.contains("one side only: front right tie_rod_inner") && words.contains("give --mirror"),
        "{words}"
    );
    assert!(!wheelpath(&format!("import alder {} --mirror", csv.display())).err.contains("one side only"));
    // A proposal of one side is one, too.
    let out = folder.path().join("p.ron");
    let said =
        wheelpath(&format!("import alder {} --as-proposal p --output {}", csv.display(), out.display()));
    assert!(
        crate::support::unbroken(&said.err).contains("one side only: front right tie_rod_inner"),
        "{said:?}"
    );
    // A point that stands where it stood leaves its twin one.
    let csv = table(folder.path(), "name,x_mm,y_mm,z_mm\nFL tie_rod_inner,88,240,169\n");
    assert!(!wheelpath(&format!("import alder {}", csv.display())).err.contains("one side only"));
    // Hazel's sides never were alike.
    let csv = table(folder.path(), "name,x_mm,y_mm,z_mm\nFL tie_rod_outer,88,640,166.5\n");
    assert!(!wheelpath(&format!("import hazel {}", csv.display())).err.contains("one side only"));
}

/// What nobody measured is left over; what the car file's owner measured is not.
#[test]
fn a_row_for_a_measured_car_leaves_its_other_points_its_own() {
    let folder = tempfile::tempdir().unwrap();
    let csv = table(folder.path(), "name,x_mm,y_mm,z_mm\nFL tie_rod_inner,88,240,166.5\n");
    // Every point of Alder 3.7 mm further along: no number is the demo car's any more.
    let lines: Vec<String> = fine("points alder --format csv")
        .lines()
        .map(|line| {
            let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
            if let Ok(x) = cells[2].parse::<f64>() {
                cells[2] = format!("{}", x + 3.7);
            }
            cells.join(",")
        })
        .collect();
    let all = folder.path().join("all.csv");
    std::fs::write(&all, lines.join("\n")).unwrap();
    let mine = folder.path().join("mine.ron");
    let said = wheelpath(&format!("import alder {} --save {}", all.display(), mine.display()));
    assert_eq!(said.code, 0, "{said:?}");
    let new = folder.path().join("new.ron");
    let said =
        wheelpath(&format!("import {} {} --mirror --save {}", mine.display(), csv.display(), new.display()));
    assert_eq!((said.code, said.err.as_str()), (0, ""), "{said:?}");
    assert!(said.out.contains("not in the table: stay where the car file has them"), "{}", said.out);
    assert!(!std::fs::read_to_string(&new).unwrap().contains("left_over"));
    // A copy of a demo car's file is the demo car still.
    let (copy, _) = own_car(folder.path(), &[]);
    let csv = table(folder.path(), "name,x_mm,y_mm,z_mm\nFL tie_rod_inner,88,240,166.5\n");
    let other = folder.path().join("other.ron");
    let said = wheelpath(&format!(
        "import {} {} --mirror --save {}",
        copy.display(),
        csv.display(),
        other.display()
    ));
    let words = crate::support::unbroken(&said.err);
    assert!(words.contains("never measured: front left wheel_centre"), "{words}");
    assert!(std::fs::read_to_string(&other).unwrap().contains("left_over"));
}
