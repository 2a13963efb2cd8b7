//! `--proposal`: the car before and after, beside the same car with the changes made in its file by hand.

use crate::support::{Noting, alder_with, csv, fine, json, wheelpath, wheelpath_with};
use serde_json::Value;
use std::path::PathBuf;
use tempfile::TempDir;
use wheelpath_geometry::End;

/// Alder with the tie rods' inner ends 2.5 mm lower, as the proposal has it.
fn lower() -> (TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("lower.ron");
    let passage = "tie_rod_inner: (88.0, 240.0, 169.0)";
    std::fs::write(&file, alder_with(passage, "tie_rod_inner: (88.0, 240.0, 166.5)")).unwrap();
    (folder, file)
}

/// The same up to rounding: 169 - 2.5 is not always the double nearest to 166.5.
fn same(found: &Value, expected: &Value, at: &str) {
    match (found, expected) {
        (Value::Object(a), Value::Object(b)) => {
            let keys = |of: &serde_json::Map<String, Value>| of.keys().cloned().collect::<Vec<_>>();
            assert_eq!(keys(a), keys(b), "{at}");
            a.iter().for_each(|(key, value)| same(value, &b[key], &format!("{at}.{key}")));
        }
        (Value::Array(a), Value::Array(b)) => {
            assert_eq!(a.len(), b.len(), "{at}");
            (0..a.len()).for_each(|i| same(&a[i], &b[i], &format!("{at}[{i}]")));
        }
        (Value::Number(a), Value::Number(b)) => {
            let (a, b) = (a.as_f64().unwrap(), b.as_f64().unwrap());
            assert!((a - b).abs() <= 1e-6 * (1.0 + b.abs()), "{at}: {a} is not {b}");
        }
        _ => assert_eq!(found, expected, "{at}"),
    }
}

/// The keys of an output that are not of its heading.
fn body(mut out: Value) -> Value {
    let fields = out.as_object_mut().unwrap();
    let of_bend = ["lateral_g", "longitudinal_g", "banking_deg", "lateral_on_road_g", "normal_on_road_g"];
    for key in ["output", "output_version", "car", "proposal"].into_iter().chain(of_bend) {
        fields.shift_remove(key);
    }
    out
}

#[test]
fn before_is_the_car_as_it_is_and_after_the_car_built_anew() {
    let (_folder, file) = lower();
    let by_hand = file.display().to_string();
    for command in [
        "readings CAR --travel-mm 20 --rack-mm 5",
        "points CAR --travel-mm front=12 --rack-mm -7",
        "attitude CAR --front-mm -10 --roll-deg 1.5 --rack-mm 4",
        "attitude CAR --travel-mm front=10,rear=-5",
        "cornering CAR --lateral-g 1.1 --longitudinal-g -0.3 --roll-gradient-deg-per-g 0.8 --rack-mm 6",
        "turn CAR",
        "turn CAR --rack-mm 15",
        "clearances CAR --count 3 --steer-count 3 --axle front",
    ] {
        let of =
            |car: &str, more: &str| json(&format!("{} --format json {more}", command.replace("CAR", car)));
        let both = of("alder", "--proposal tie-rod-down");
        assert_eq!((&both["car"], &both["proposal"]), (&"Alder".into(), &"Tie rod down".into()), "{command}");
        same(&both["before"], &body(of("alder", "")), command);
        same(&both["after"], &body(of(&by_hand, "")), command);
        assert_ne!(both["before"], both["after"], "{command}");
    }
}

#[test]
fn a_sweep_has_both_cars_in_every_row() {
    let (_folder, file) = lower();
    let by_hand = file.display().to_string();
    for words in [
        "--count 5 --rack-mm 3",
        "--over steer --count 5 --travel-mm 8",
        "--over grid --count 3 --rack-count 2",
        "--over roll --count 4",
        "--left-travel-mm -20:20 --right-travel-mm 5:-5 --count 3",
    ] {
        let of = |car: &str, more: &str| json(&format!("sweep {car} {words} --format json {more}"));
        let both = of("alder", "--proposal tie-rod-down");
        let (before, after) = (of("alder", ""), of(&by_hand, ""));
        let rows = both["rows"].as_array().unwrap();
        assert_eq!(rows.len(), before["rows"].as_array().unwrap().len(), "{words}");
        for (place, row) in rows.iter().enumerate() {
            let own = |of: &Value| {
                let mut row = of["rows"][place].clone();
                for key in ["left_travel_mm", "right_travel_mm", "rack_mm", "steering_wheel_deg"] {
                    row.as_object_mut().unwrap().shift_remove(key);
                }
                row
            };
            same(&row["before"], &own(&before), words);
            same(&row["after"], &own(&after), words);
            assert_eq!(row["left_travel_mm"], before["rows"][place]["left_travel_mm"], "{words}");
        }
        // CSV holds the same numbers side by side.
        let (headings, lines) =
            csv(&format!("sweep alder {words} --format csv --proposal tie-rod-down --readings toe"));
        assert_eq!(headings[..4], ["left_travel_mm", "right_travel_mm", "rack_mm", "steering_wheel_deg"]);
        assert_eq!(headings[4..6], ["before_left_toe_deg", "after_left_toe_deg"]);
        for (line, row) in lines.iter().zip(rows) {
            assert_eq!(line[4], row["before"]["left_toe_deg"].to_string());
            assert_eq!(line[5], row["after"]["left_toe_deg"].to_string());
        }
    }
}

#[test]
fn sensitivities_are_those_of_both_cars() {
    let (_folder, file) = lower();
    let words = "--reading bump_steer --format json";
    let both = json(&format!("sensitivity alder {words} --proposal tie-rod-down"));
    let (before, after) = (
        json(&format!("sensitivity alder {words}")),
        json(&format!("sensitivity {} {words}", file.display())),
    );
    let key = "bump_steer_deg_per_m";
    same(&both["before"][key], &before[key], key);
    same(&both["after"][key], &after[key], key);
    assert_eq!(both["rows"].as_array().unwrap().len(), before["rows"].as_array().unwrap().len());
    for row in both["rows"].as_array().unwrap() {
        let of = |out: &Value| {
            let rows = out["rows"].as_array().unwrap().clone();
            let mine =
                |one: &Value| one["parameter"] == row["parameter"] && one["coordinate"] == row["coordinate"];
            rows.into_iter().find(mine).unwrap()
        };
        let slope = "slope_deg_per_m_per_mm";
        same(&row["before"][slope], &of(&before)[slope], slope);
        same(&row["after"][slope], &of(&after)[slope], slope);
    }
}

#[test]
fn several_are_made_in_their_order_as_one_by_name_or_by_path() {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../demo-cars/alder/arms-outboard.ron");
    let words = "readings alder --rack-mm 20 --format json";
    let one = json(&format!("{words} --proposal tie-rod-down,arms-outboard"));
    assert_eq!(one["proposal"], "Tie rod down + Steering arms outboard");
    assert_eq!(json(&format!("{words} --proposal tie-rod-down --proposal {}", path.display())), one);
    let compared = json("compare alder tie-rod-down arms-outboard --combined --rack-mm 20 --format json");
    let row = compared["rows"]
        .as_array()
        .unwrap()
        .iter()
        .find(|row| row["place"] == "front" && row["reading"] == "ackermann_inner");
    assert_eq!(row.unwrap()["after"], one["after"]["axles"]["front"]["ackermann_inner_percent"]);
    assert_eq!(json("limits alder --proposal tie-rod-down,arms-outboard --format json")["broken"], 0);
    let said = wheelpath("attitude alder --proposal tie-rod-dwn");
    assert_eq!(said.code, 2);
    assert!(
        said.err.contains("there is no proposal tie-rod-dwn; did you mean tie-rod-down?"),
        "{}",
        said.err
    );
}

/// A proposal that shortens the way in bump: the pushrod's inner end nearer to the car's middle.
fn short_of_bump() -> (TempDir, String) {
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("short.ron");
    std::fs::write(
        &file,
        "(format: \"wheelpath proposal\", version: 1, name: \"Rocker in\", about: \"\", car: \"Alder\", \
         units: Millimetre, axes: (x: Forward, y: Left, z: Up), changes: [\
         Move(point: pushrod_inner, of: front_both, was: (0.0, 250.0, 525.0), now: (0.0, 244.0, 525.0))])",
    )
    .unwrap();
    (folder, file.display().to_string())
}

#[test]
fn a_pose_that_only_one_of_the_cars_reaches_is_said() {
    let (_folder, short) = short_of_bump();
    // How far each goes by itself, from a sweep of the plain car and of the changed one.
    let rows = |more: &str| {
        let words = format!("sweep alder --travel-mm 90:130 --count 81 --readings toe --format csv {more}");
        let said = wheelpath(&words);
        assert_eq!(said.code, 1, "{said:?}");
        (crate::support::csv_of(&said.out), said.err)
    };
    let ((headings, lines), err) = rows(&format!("--proposal {short}"));
    let column = |name: &str| headings.iter().position(|heading| heading == name).unwrap();
    let (travel, before, after) = (column("left_travel_mm"), column("before_stop"), column("after_stop"));
    let only_before: Vec<&str> = lines
        .iter()
        .filter(|line| line[before].is_empty() && !line[after].is_empty())
        .map(|line| line[travel].as_str())
        .collect();
    let only_after = lines.iter().filter(|line| !line[before].is_empty() && line[after].is_empty()).count();
    assert!(!only_before.is_empty() && only_after == 0, "{only_before:?} {only_after}");
    let lost = only_before.len();
    assert!(
        err.contains(&format!(
            "with Rocker in: {lost} poses that are reached before cannot be reached after"
        )),
        "{err}"
    );
    for command in ["readings", "points", "sensitivity --reading toe", "picture -o x.png"] {
        let said =
            wheelpath(&format!("{command} alder --travel-mm front={} --proposal {short}", only_before[0]));
        assert_eq!((said.code, said.out.as_str()), (1, ""), "{said:?}");
        assert!(
            said.err.contains("the pose is reached before Rocker in, but not after it: front left: pushrod"),
            "{}",
            said.err
        );
    }
}

#[test]
fn tables_have_two_rows_where_the_cars_differ_and_are_at_most_100_wide() {
    for words in [
        "readings alder --travel-mm 20",
        "points alder",
        "sweep alder",
        "sweep alder --over steer",
        "attitude alder --roll-deg 1.5",
        "cornering alder --lateral-g 1 --roll-gradient-deg-per-g 1",
        "turn alder",
        "sensitivity alder --reading bump_steer",
        "clearances alder --count 3 --steer-count 3",
    ] {
        let text = fine(&format!("{words} --proposal tie-rod-down"));
        assert!(text.contains("Alder before and after Tie rod down"), "{words}:\n{text}");
        assert!(text.contains("before") && text.contains("after"), "{words}:\n{text}");
        let widest = |text: &str| text.lines().map(|line| line.chars().count()).max().unwrap_or(0);
        // The table of distances of one car is wider than that where parts have long names.
        let most = if words.starts_with("clearances") { widest(&fine(words)).max(100) } else { 100 };
        assert!(widest(&text) <= most, "{words}: {} wide:\n{text}", widest(&text));
    }
    let text = fine("points alder --proposal tie-rod-down");
    let at = text.lines().position(|line| line.contains("tie_rod_inner")).unwrap();
    let cells = |line: &str| line.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
    let lines: Vec<&str> = text.lines().collect();
    assert!(
        cells(lines[at]).ends_with(&["before", "88.0", "240.0", "169.0", "tie_rod_inner"].map(String::from)),
        "{}",
        lines[at]
    );
    assert_eq!(cells(lines[at + 1]), ["after", "88.0", "240.0", "166.5", "tie_rod_inner"]);
}

#[test]
fn charts_have_the_car_before_with_other_marks_and_dashed() {
    // Where both wheels do the same, a curve each before and after.
    let chart = fine("sweep alder --readings toe --proposal tie-rod-down --format chart");
    assert!(chart.contains(". both wheels before   o both wheels after"), "{chart}");
    let line = |mark: char| chart.lines().any(|line| line.matches(mark).count() > 1);
    assert!(line('.') && line('o'), "{chart}");
    let words = "sweep alder --wheels left --readings toe --proposal tie-rod-down";
    let chart = fine(&format!("{words} --format chart"));
    for part in ["l left before", "L left after", "r right before", "R right after"] {
        assert!(chart.contains(part), "{chart}");
    }
    let svg = fine(&format!("{words} --format svg --count 5"));
    let curves: Vec<&str> =
        svg.lines().filter(|line| line.starts_with("<polyline") && line.matches(',').count() == 5).collect();
    assert_eq!(curves.len(), 4, "{svg}");
    let dashed: Vec<bool> = curves.iter().map(|line| line.contains("stroke-dasharray")).collect();
    assert_eq!(dashed, [true, false, true, false]);
    assert!(svg.contains("left before") && svg.contains("right after"), "{svg}");
}

#[test]
fn a_picture_shows_the_car_after_and_has_the_car_before_behind_it() {
    let front = Noting::default();
    let words = ["picture", "alder", "-o", "x.png", "--travel-mm", "5", "--proposal", "tie-rod-down"];
    let said = wheelpath_with(&words, &front);
    assert_eq!((said.code, said.err.as_str()), (0, ""));
    assert_eq!(wheelpath_with(&words[..6], &front).code, 0);
    let asked = front.pictures.borrow();
    let [both, plain] = asked.as_slice() else { panic!("{} pictures", asked.len()) };
    let height = |car: &wheelpath_geometry::Car| {
        car.axle(End::Front).left.hardpoints.get(wheelpath_geometry::Hardpoint::TieRodInner).unwrap().z
    };
    assert!((height(&both.car.loaded.car) - 0.1665).abs() < 1e-12);
    let (before, pose) = both.before.as_ref().unwrap();
    assert!((height(before) - 0.169).abs() < 1e-12);
    assert_eq!(*pose, plain.pose);
    assert!(plain.before.is_none());
}

#[test]
fn a_changed_steering_gear_has_its_own_steering_in_the_rows() {
    let (headings, _) =
        csv("sweep alder --over steer --count 2 --readings toe --format csv --proposal tie-rod-down");
    assert!(!headings.iter().any(|heading| heading == "after_rack_mm"));
    let folder = tempfile::tempdir().unwrap();
    let file = folder.path().join("quick.ron");
    std::fs::write(
        &file,
        "(format: \"wheelpath proposal\", version: 1, name: \"Quick rack\", about: \"\", car: \"Alder\", \
         units: Millimetre, axes: (x: Forward, y: Left, z: Up), changes: [\
         Set(number: travel_per_turn, of: front, was: 82.0, now: 90.0)])",
    )
    .unwrap();
    let words = format!("--proposal {} --steering-wheel-deg 90 --format json", file.display());
    let said = wheelpath(&format!("readings alder {words}"));
    assert_eq!(said.code, 0, "{said:?}");
    let out: Value = serde_json::from_str(&said.out).unwrap();
    assert_eq!(out["before"]["pose"]["rack_mm"], 20.5);
    assert_eq!(out["after"]["pose"]["rack_mm"], 22.5);
    let swept = json(&format!("sweep alder --count 2 --readings toe {words}"));
    assert_eq!(swept["rows"][0]["rack_mm"], 20.5);
    assert_eq!(swept["rows"][0]["after"]["rack_mm"], 22.5);
}
