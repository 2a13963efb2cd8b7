//! What `clearances` says: to people, to programs, and of what cannot be.

use crate::support::{Said, alder_with, csv_of, fine, json, wheelpath};
use serde_json::Value;
use wheelpath_project::ALDER;

/// Runs the command on the demo car with one passage replaced.
fn on(passage: &str, other: &str, words: &str) -> Said {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("car.ron");
    std::fs::write(&file, alder_with(passage, other)).unwrap();
    wheelpath(&format!("clearances {} --count 3 --steer-count 3 {words}", file.display()))
}

/// Results whatever is said beside them.
fn data(words: &str) -> Value {
    serde_json::from_str(&wheelpath(words).out).unwrap()
}

#[test]
fn the_table_shows_the_nearest_and_says_what_was_taken() {
    let text = fine("clearances alder --count 3 --steer-count 3");
    for part in [
        "front axle, travel -30.0 to 30.0 mm, rack -40.0 to 40.0 mm",
        "rear axle, travel -30.0 to 30.0 mm of either wheel: 9 poses",
        "Smallest distances",
        "searched for a worse pose",
        "stands for the rim: front left, front right",
        "Not looked at",
        "Left out, being joined to one another:",
        "damper, fully compressed",
        "swing from the design pose",
    ] {
        let plain = text.replace('−', "-");
        let plain = plain.split_whitespace().collect::<Vec<_>>().join(" ");
        assert!(plain.contains(part), "no {part:?} in\n{text}");
    }
    assert!(!text.contains("Radii taken"), "{text}");
    let all = fine("clearances alder --axle front --all --count 3 --steer-count 3");
    assert!(all.lines().count() > text.lines().count() && !all.contains("rear axle"));
    assert!(
        all.contains("Left out, being joined: front left upper wishbone, front leg and front left upper")
    );
    // A car that does not say one radius: what was taken is said.
    let text = on("tie_rod: 8.0,", "", "").out;
    let words = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let taken = "Radii taken where the file says nothing (this program's own figures): 10.0 mm tie rod.";
    assert!(words.contains(taken), "{text}");
}

#[test]
fn json_and_csv_say_the_same_in_any_unit() {
    for (units, factor, suffix) in [("mm", 1.0, "mm"), ("inch", 1.0 / 25.4, "in")] {
        let words = format!("clearances hazel --count 3 --steer-count 3 --units {units}");
        let out = data(&format!("{words} --format json"));
        let axles = out["axles"].as_array().unwrap();
        assert_eq!(axles.len(), 2);
        let (headings, rows) = csv_of(&wheelpath(&format!("{words} --format csv")).out);
        let column = |name: &str| headings.iter().position(|h| h == name).unwrap();
        let key = format!("distance_{suffix}");
        let (kind, distance) = (column("kind"), column(&key));
        let from_csv: Vec<f64> = rows
            .iter()
            .filter(|row| row[kind] == "distance")
            .map(|row| row[distance].parse().unwrap())
            .collect();
        let of = |axle: &Value| -> Vec<f64> {
            axle["distances"].as_array().unwrap().iter().map(|one| one[&key].as_f64().unwrap()).collect()
        };
        let from_json: Vec<f64> = axles.iter().flat_map(of).collect();
        assert_eq!(from_csv, from_json);
        let first = from_json[0] / factor;
        let plain = data("clearances hazel --count 3 --steer-count 3 --format json");
        let there = plain["axles"][0]["distances"][0]["distance_mm"].as_f64().unwrap();
        assert!((first - there).abs() < 1e-9, "{first} is not {there}");
        assert!(axles[0]["distances"][0]["pitman_deg"].is_number());
        let rear = &axles[1]["distances"][0];
        assert!(rear["steering_wheel_deg"].is_null());
        for kind_of in ["distance", "joint", "stop"] {
            assert!(rows.iter().any(|row| row[kind] == kind_of), "no {kind_of}");
        }
    }
}

#[test]
fn parts_that_overlap_are_said() {
    let said = on("pushrod: 9.0", "pushrod: 90.0", "");
    assert_eq!(said.code, 1, "{said:?}");
    assert!(said.err.contains("error: it does not fit: "), "{}", said.err);
    assert!(said.err.contains("overlap by"), "{}", said.err);
    assert!(said.err.contains("front left pushrod") && said.err.contains("hint: "), "{}", said.err);
    let text = said.out.replace('−', "-");
    assert!(text.lines().any(|line| line.contains("pushrod") && line.contains(" -")), "{text}");
}

#[test]
fn a_joint_beyond_its_limit_is_said() {
    let said = on("tie_rod_outer: 14.0", "tie_rod_outer: 4.0", "--axle front");
    assert_eq!(said.code, 1, "{said:?}");
    assert!(said.err.contains("beyond what the joint allows"), "{}", said.err);
    assert!(said.err.contains("front left: the joint at tie rod, outer end goes"), "{}", said.err);
    assert!(said.err.contains("beyond its limit of 4.0"), "{}", said.err);
    assert!(said.out.contains("tie rod, outer end (on its bolt)"), "{}", said.out);
}

#[test]
fn poses_that_are_left_out_are_said() {
    let said = wheelpath("clearances alder --axle front --from-mm 0 --to-mm 200 --count 5 --steer-count 1");
    assert_eq!(said.code, 1, "{said:?}");
    assert!(said.err.contains("of 10 poses cannot be reached"), "{}", said.err);
    assert!(
        said.err.contains("pushrod cannot reach") && said.err.contains("stand beyond a stop"),
        "{}",
        said.err
    );
    assert!(said.out.contains("Smallest distances"), "{}", said.out);
}

#[test]
fn the_demo_car_gives_all_its_radii() {
    let out = json("clearances alder --count 2 --steer-count 2 --format json");
    assert!(ALDER.contains("radii"));
    for axle in out["axles"].as_array().unwrap() {
        assert_eq!(axle["assumed_radii"].as_array().unwrap().len(), 0, "{}", axle["assumed_radii"]);
        for pair in axle["distances"].as_array().unwrap() {
            assert!(pair["distance_mm"].as_f64().unwrap() > 0.0, "{pair}");
        }
    }
}
