//! New car files: written once, complete but for their numbers, and saying which are missing.

use crate::support::wheelpath;
use std::path::Path;
use wheelpath_car_file::{FILL_IN, linkage_words};

fn written(folder: &Path, words: &str) -> (String, String) {
    let file = folder.join("mycar.ron");
    let _ = std::fs::remove_file(&file);
    let said = wheelpath(&format!("new {} {words}", file.display()));
    assert_eq!((said.code, said.err.as_str()), (0, ""), "{words}: {said:?}");
    assert!(said.out.contains("wrote ") && said.out.contains("wheelpath check"), "{}", said.out);
    (file.display().to_string(), std::fs::read_to_string(&file).unwrap())
}

#[test]
fn check_lists_each_number_still_missing_by_name_and_line() {
    let folder = tempfile::tempdir().unwrap();
    let (file, text) = written(
        folder.path(),
        "--front DoubleWishbone --rear BeamAxle --units Inch --axes x=rearward,y=right,z=up --steering rack --springing pushrod",
    );
    assert!(text.contains("units: Inch") && text.contains("axes: (x: Rearward, y: Right, z: Up)"), "{text}");
    let said = wheelpath(&format!("check {file}"));
    assert_eq!(said.code, 1);
    // A line of the file with such a word has a complaint with its number, and only those have.
    let lines = text
        .lines()
        .enumerate()
        .filter(|(_, line)| line.split("//").next().unwrap_or_default().contains(FILL_IN));
    let mut missing = 0;
    for (index, line) in lines {
        missing += 1;
        let place = format!("{file}:{}:", index + 1);
        assert!(said.err.contains(&place), "{line}: not in {}", said.err);
    }
    assert!(missing > 40, "{missing}");
    for complaint in said.err.lines().filter(|line| line.starts_with("error: ")) {
        assert!(complaint.contains("still missing"), "{complaint}");
    }
    assert!(said.err.contains("front left upper ball joint, x, y and z, are still missing"), "{}", said.err);
    assert!(
        said.err.contains("the mass")
            || said.err.contains("the load on the front left wheel is still missing")
    );
    assert!(said.err.contains("hint: write the measured number in place of FILL_IN"), "{}", said.err);
    assert!(said.out.contains("faults"), "{}", said.out);
    // Each point has its comment: what it is and where it sits.
    for line in text.lines().filter(|line| line.contains(&format!("({FILL_IN}, {FILL_IN}, {FILL_IN}), "))) {
        assert!(line.split("// ").nth(1).is_some_and(|words| words.len() > 12), "{line}");
    }
}

#[test]
fn what_is_there_is_never_replaced() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("mycar.ron");
    std::fs::write(&file, "mine").unwrap();
    let said = wheelpath(&format!("new {} --front Strut --rear TrailingArm", file.display()));
    assert_eq!(said.code, 2, "{said:?}");
    assert!(said.err.contains("is there already; nothing was written"), "{}", said.err);
    assert_eq!(std::fs::read_to_string(&file).unwrap(), "mine");
}

#[test]
fn choices_that_do_not_go_together_are_wrong_use() {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("mycar.ron");
    let check = |words: &str, complaint: &str| {
        let said = wheelpath(&format!("new {} {words}", file.display()));
        assert_eq!(said.code, 2, "{words}: {said:?}");
        assert!(said.err.contains(complaint), "{words}: {}", said.err);
        assert!(!file.exists());
    };
    check("--front Strut", "the rear linkage is not chosen");
    check("--front BeamAxle --rear BeamAxle --steering rack", "the beam axle cannot be steered");
    check("--front DoubleWishbone --rear HArm --springing strut", "has no strut to be the damper");
    check("--front Wings --rear HArm", "DoubleWishbone");
    check("--front Strut --rear Strut --axes x=forward,y=right,z=up", "left-handed");
    check("--front Strut --rear Strut --bench", "--bench");
}

/// Every pair of linkages, spring and steering writes a file in which nothing but numbers is missing.
#[test]
fn every_choice_is_complete_but_for_its_numbers() {
    let folder = tempfile::tempdir().unwrap();
    for (front, kind) in linkage_words() {
        let steerings: &[&str] = if kind.has_toe_link() { &["rack", "box", "fixed"] } else { &["fixed"] };
        for steering in steerings {
            for (n, (rear, _)) in linkage_words().into_iter().enumerate() {
                let springing = ["none", "direct", "pushrod"][n % 3];
                let bar = ["", "--anti-roll-bar u", "--anti-roll-bar t"][(n / 2) % 3];
                let words = format!(
                    "--front {front} --rear {rear} --steering {steering} --springing {springing} {bar}"
                );
                let (file, text) = written(folder.path(), &words);
                let said = wheelpath(&format!("check {file}"));
                assert_eq!(said.code, 1, "{words}");
                for complaint in said.err.lines().filter(|line| line.starts_with("error: ")) {
                    assert!(complaint.contains("still missing"), "{words}: {complaint}\n{text}");
                }
            }
        }
    }
}

#[test]
fn a_single_corner_has_no_rear_to_measure() {
    let folder = tempfile::tempdir().unwrap();
    let (file, text) =
        written(folder.path(), "--front double-wishbone --bench --springing none --name Bench");
    assert!(text.contains("rear: StandIn") && text.contains("name: \"Bench\""), "{text}");
    // Filled in with the numbers of the bare corner Sorrel, it reads as that one.
    let sorrel = crate::support::demo_cars().into_iter().find(|path| path.ends_with("sorrel.ron")).unwrap();
    let sorrel = std::fs::read_to_string(sorrel).unwrap();
    let front = sorrel.split("front: (").nth(1).unwrap();
    let mut filled = String::new();
    for line in text.lines() {
        let code = line.split("//").next().unwrap_or_default();
        let key = code.split(':').next().unwrap_or_default().trim();
        let given = [&sorrel, front]
            .into_iter()
            .rev()
            .find_map(|text| text.lines().map(str::trim).find(|line| line.starts_with(&format!("{key}: "))));
        let line = match given {
            Some(given) if code.contains(FILL_IN) => given.to_owned(),
            // The rack of Sorrel stands on one line.
            _ if code.contains(FILL_IN) => {
                let number = front.split(&format!("{key}: ")).nth(1).unwrap();
                let end = if number.starts_with('(') || number.starts_with("Direction(") {
                    number.find(')').unwrap() + 1
                } else {
                    number.find([',', ')']).unwrap()
                };
                format!("{key}: {},", &number[..end])
            }
            _ => line.to_owned(),
        };
        filled.push_str(&line);
        filled.push('\n');
    }
    assert!(!filled.split("(\n").nth(1).unwrap().contains(FILL_IN), "{filled}");
    std::fs::write(&file, &filled).unwrap();
    let said = wheelpath(&format!("readings {file} --travel-mm front=10 --format json"));
    assert_eq!(said.code, 0, "{said:?}\n{filled}");
    assert!(said.err.contains("stand-in") && said.err.contains("mean nothing"), "{}", said.err);
    let own: serde_json::Value = serde_json::from_str(&said.out).unwrap();
    let theirs = crate::support::json("readings sorrel --travel-mm front=10 --format json");
    for place in ["front_left", "front_right"] {
        assert_eq!(own["wheels"][place], theirs["wheels"][place]);
    }
    assert_eq!(
        own["axles"]["front"]["roll_centre_height_mm"],
        theirs["axles"]["front"]["roll_centre_height_mm"]
    );
    // Saved with a point moved it is still a bench, comments and all.
    let loaded = wheelpath_car_file::load(Path::new(&file)).unwrap();
    let mut car = loaded.car.clone();
    car.front.left.wheel.centre.z += 0.005;
    car.front.right.wheel.centre.z += 0.005;
    let saved = loaded.document.with_car(&car).unwrap();
    assert!(
        saved.text().contains("rear: StandIn")
            && saved.text().contains("// wheel centre") == filled.contains("// wheel centre")
    );
}
