//! Every key that is written is in the schema for that output, and every key in the schema is written.

use crate::support::{csv_of, demo_cars, json, wheelpath};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use wheelpath_geometry::{Hardpoint, LengthUnit, axle_readings, wheel_readings};

/// Keys at any depth; `of_points` is 3 inside `points`, 2 inside a wheel or axle there, 1 inside a point.
fn collect(value: &Value, of_points: u8, found: &mut BTreeSet<String>) {
    match value {
        Value::Object(fields) => {
            for (key, value) in fields {
                // `points`, then the wheel or axle, then the point.
                let depth = if of_points > 0 { of_points - 1 } else { u8::from(key == "points") * 3 };
                let is_point = of_points == 2;
                found.insert(if is_point { point(key) } else { key.clone() });
                collect(value, depth, found);
            }
        }
        Value::Array(all) => all.iter().for_each(|one| collect(one, of_points, found)),
        _ => {}
    }
}

fn is_point(key: &str) -> bool {
    Hardpoint::from_key(key).is_some() || ["wheel_centre", "contact_point"].contains(&key)
}

fn point(key: &str) -> String {
    assert!(is_point(key), "{key} is no point");
    "<point>".to_owned()
}

/// The row of the schema that stands for a key of an output.
fn documented_as(output: &str, key: &str, units: &str) -> String {
    let unit = if units == "mm" { "_mm" } else { "_in" };
    let lengths = if units == "mm" { LengthUnit::Millimetre } else { LengthUnit::Inch };
    let key = match key.split_once('_') {
        Some(("before" | "after", key)) if output != "compare" => key,
        _ => key,
    };
    let is_place = |place: &str| {
        let places = ["front_left_", "front_right_", "rear_left_", "rear_right_", "front_", "rear_"];
        places.iter().filter_map(|one| place.strip_prefix(one)).any(is_point)
    };
    let of_axis = |axis: &&str| key.strip_suffix(&format!("{axis}{unit}")).is_some_and(is_place);
    if output == "points" && ["_x", "_y", "_z"].iter().any(of_axis) {
        return format!("<wheel or axle>_<point>_x{unit}");
    }
    let side = key.strip_prefix("left_").or_else(|| key.strip_prefix("right_"));
    let of_wheel = side.filter(|rest| {
        wheel_readings().iter().any(|one| format!("{}{}", one.key, one.unit.key_suffix(lengths)) == *rest)
    });
    match (output, of_wheel) {
        ("sweep", Some(reading)) => reading.to_owned(),
        ("sensitivity", _) if key.starts_with("slope") && key.ends_with(&format!("_per{unit}")) => {
            format!("slope<unit of the reading>_per{unit}")
        }
        _ => key.to_owned(),
    }
}

/// The outputs of each key in the schema.
fn schema(units: &str) -> BTreeMap<String, BTreeSet<String>> {
    let mut all: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for row in json(&format!("schema --format json --units {units}"))["keys"].as_array().unwrap() {
        assert!(!row["definition"].as_str().unwrap().is_empty(), "{row}");
        let outputs = row["outputs"].as_str().unwrap();
        let words = outputs.split(|c: char| !c.is_ascii_alphanumeric()).map(str::to_owned);
        all.entry(row["key"].as_str().unwrap().to_owned()).or_default().extend(words);
    }
    all
}

/// What each output writes, by the names in the schema.
#[derive(Default)]
struct Written(BTreeMap<String, BTreeSet<String>>);

impl Written {
    fn take(&mut self, words: &str, units: &str) {
        let said = wheelpath(&format!("{words} --format json"));
        let out: Value = serde_json::from_str(&said.out).unwrap_or_else(|_| panic!("{words}: {said:?}"));
        let output = out["output"].as_str().unwrap().to_owned();
        let mut found = BTreeSet::new();
        collect(&out, 0, &mut found);
        if output != "import" {
            let (headings, rows) = csv_of(&wheelpath(&format!("{words} --format csv")).out);
            assert!(!rows.is_empty() || output == "check", "{words}");
            found.extend(headings);
        }
        let keys = found.iter().map(|key| documented_as(&output, key, units));
        self.0.entry(output.clone()).or_default().extend(keys);
    }
}

/// Words for every subcommand that writes keys, of one car.
fn of_car(car: &str) -> Vec<String> {
    [
        "readings",
        "sweep --count 2",
        "points",
        "points --travel-mm 0,5",
        "check",
        "sensitivity --reading bump_steer",
        "sensitivity --axle rear --reading roll_centre_height",
        "attitude --front-mm 60",
        "attitude --travel-mm front=5",
        "cornering --lateral-g 0.5 --roll-gradient-deg-per-g 1",
        "turn",
        "clearances --count 2 --steer-count 2",
    ]
    .map(|words| match words.split_once(' ') {
        Some((subcommand, rest)) => format!("{subcommand} {car} {rest}"),
        None => format!("{words} {car}"),
    })
    .to_vec()
}

/// And with proposals, or what only one car has.
const OTHERS: [&str; 15] = [
    "cornering rowan --lateral-g 0.5",
    "limits alder",
    "compare alder tie-rod-down",
    "bracket alder --normal 0,1,0.1 tie-rod-down",
    "limits alder --proposal tie-rod-down",
    "readings alder --proposal tie-rod-down",
    "sweep alder --count 2 --proposal tie-rod-down",
    "points alder --proposal tie-rod-down",
    "points alder --travel-mm 0,5 --proposal tie-rod-down",
    "sensitivity alder --reading bump_steer --proposal tie-rod-down",
    "attitude alder --front-mm 60 --proposal tie-rod-down",
    "cornering alder --lateral-g 0.5 --roll-gradient-deg-per-g 1 --proposal tie-rod-down",
    "turn alder --proposal tie-rod-down",
    "clearances alder --count 2 --steer-count 2 --proposal tie-rod-down",
    "schema",
];

#[test]
fn what_is_written_is_in_the_schema_and_what_is_in_the_schema_is_written() {
    let folder = tempfile::tempdir().unwrap();
    let table = folder.path().join("points.csv");
    let points = "name,x_mm,y_mm,z_mm\nfront left tie rod inner,88,240,166.5\nfront left odd,1,2,3\n";
    std::fs::write(&table, points).unwrap();
    let faulty = folder.path().join("faulty.ron");
    std::fs::write(&faulty, "(wheelpath: 1)").unwrap();
    for units in ["mm", "inch"] {
        let mut written = Written::default();
        for car in demo_cars() {
            for words in of_car(&car.display().to_string()) {
                written.take(&format!("{words} --units {units}"), units);
            }
        }
        for words in OTHERS {
            written.take(&format!("{words} --units {units}"), units);
        }
        // Points of a front axle as a whole, parts without a radius, limits of a car with a steering box.
        let crates = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
        let [t_bar, limits] = ["examples/linkages/pullrod_t_bar.ron", "demo-cars/alder/limits.ron"]
            .map(|file| crates.join(file).display().to_string());
        for words in [
            format!("points {t_bar}"),
            format!("clearances {t_bar} --count 2 --steer-count 2"),
            format!("limits hazel --limits {limits}"),
            "compare hazel --with rowan".to_owned(),
            // To a dead point.
            "clearances sorrel --from-mm -200 --to-mm 200 --count 11".to_owned(),
        ] {
            written.take(&format!("{words} --units {units}"), units);
        }
        written.take(&format!("check {} --units {units}", faulty.display()), units);
        // A table is in its own units, and so is what became of it: in millimetres always.
        written.take(&format!("import alder {}", table.display()), units);
        let odd = folder.path().join("odd.csv");
        std::fs::write(&odd, points.replace("166.5", "266.5")).unwrap();
        written.take(&format!("import alder {}", odd.display()), units);
        let own = folder.path().join("own.csv");
        std::fs::write(&own, wheelpath("points hazel --format csv").out).unwrap();
        written.take(&format!("import hazel {}", own.display()), units);
        let made = folder.path().join(format!("made-{units}.ron"));
        let whole = folder.path().join("whole.csv");
        std::fs::write(&whole, points.lines().take(2).collect::<Vec<_>>().join("\n")).unwrap();
        let as_proposal = format!("--as-proposal Lower --output {}", made.display());
        written.take(&format!("import alder {} {as_proposal}", whole.display()), units);

        // No subcommand is left out, but those that write nothing for programs.
        let help = wheelpath("--help").out;
        let commands = help.split("Commands:").nth(1).unwrap().split("Options:").next().unwrap();
        let lines = commands.lines().filter_map(|line| line.strip_prefix("  "));
        for name in lines.filter(|line| !line.starts_with(' ')).filter_map(|line| line.split(' ').next()) {
            let writes = !["open", "new", "picture", "help"].contains(&name);
            assert_eq!(written.0.contains_key(name), writes, "{name}");
        }

        let schema = schema(units);
        for (output, keys) in &written.0 {
            for key in keys {
                let outputs =
                    schema.get(key).unwrap_or_else(|| panic!("{key} of {output} is not documented"));
                assert!(outputs.contains(output) || outputs.contains("all"), "{key}: {outputs:?}, {output}");
            }
        }
        let readings: BTreeSet<&str> =
            wheel_readings().iter().chain(axle_readings()).map(|reading| reading.key).collect();
        let generic = ["before_<key>", "after_<key>"];
        let mut unwritten = Vec::new();
        for (key, outputs) in &schema {
            let all = outputs.contains("all");
            for output in written.0.keys().filter(|output| all || outputs.contains(*output)) {
                // One reading at a time is asked for.
                let is_reading = readings.iter().any(|reading| key.starts_with(reading));
                if output == "sensitivity" && is_reading || generic.contains(&key.as_str()) {
                    continue;
                }
                if !written.0[output].contains(key) {
                    unwritten.push(format!("{key} of {output}"));
                }
            }
        }
        assert!(unwritten.is_empty(), "in the schema, but written nowhere: {unwritten:?}");
    }
}
