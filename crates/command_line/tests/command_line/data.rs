//! What programs get: JSON and CSV.

use crate::support::{csv, demo_cars, fine, json, wheelpath};
use serde_json::Value;
use wheelpath_geometry::{LengthUnit, Reading, axle_readings, wheel_readings};

fn keys_of(table: &[Reading], lengths: LengthUnit) -> Vec<String> {
    table.iter().map(|r| format!("{}{}", r.key, r.unit.key_suffix(lengths))).collect()
}

fn keys(value: &Value) -> Vec<String> {
    value.as_object().expect("an object").keys().cloned().collect()
}

#[test]
fn readings_have_every_key_of_the_catalogue_in_its_order() {
    for (units, lengths) in [("mm", LengthUnit::Millimetre), ("inch", LengthUnit::Inch)] {
        let out = json(&format!("readings alder --format json --units {units}"));
        assert_eq!(keys(&out["wheels"]), ["front_left", "front_right", "rear_left", "rear_right"]);
        for wheel in out["wheels"].as_object().unwrap().values() {
            assert_eq!(keys(wheel), keys_of(wheel_readings(), lengths));
        }
        for axle in out["axles"].as_object().unwrap().values() {
            assert_eq!(keys(axle), keys_of(axle_readings(), lengths));
        }
    }
}

#[test]
fn csv_columns_are_the_json_keys() {
    let out = json("readings alder --format json");
    let (headings, rows) = csv("readings alder --format csv");
    let expected: Vec<String> = std::iter::once("place".to_owned())
        .chain(keys(&out["wheels"]["front_left"]))
        .chain(keys(&out["axles"]["front"]))
        .collect();
    assert_eq!(headings, expected);
    let places: Vec<&str> = rows.iter().map(|row| row[0].as_str()).collect();
    assert_eq!(places, ["front_left", "front_right", "rear_left", "rear_right", "front", "rear"]);
    let at = headings.iter().position(|h| h == "bump_steer_deg_per_m").unwrap();
    assert_eq!(rows[0][at], out["wheels"]["front_left"]["bump_steer_deg_per_m"].to_string());
    assert_eq!(rows[4][at], "");
}

#[test]
fn a_sweep_says_the_same_in_json_and_csv() {
    for words in ["--count 4", "--over steer --count 3", "--over grid --count 3 --rack-count 2 --wheels left"]
    {
        let out = json(&format!("sweep alder {words} --format json"));
        let (headings, rows) = csv(&format!("sweep alder {words} --format csv"));
        let records = out["rows"].as_array().unwrap();
        assert_eq!(rows.len(), records.len());
        for (row, record) in rows.iter().zip(records) {
            assert_eq!(keys(record), headings);
            for (cell, value) in row.iter().zip(record.as_object().unwrap().values()) {
                let expected = match value {
                    Value::Null => String::new(),
                    Value::String(text) => text.clone(),
                    Value::Array(all) if all.is_empty() => String::new(),
                    other => other.to_string(),
                };
                assert_eq!(*cell, expected);
            }
        }
    }
}

#[test]
fn chosen_readings_keep_their_order() {
    let (headings, _) = csv("sweep alder --count 2 --readings track,toe,track --format csv");
    assert_eq!(
        headings,
        [
            "left_travel_mm",
            "right_travel_mm",
            "rack_mm",
            "steering_wheel_deg",
            "track_mm",
            "left_toe_deg",
            "right_toe_deg",
            "stop",
            "stop_wheel",
            "stop_travel_mm",
            "stop_rack_mm",
            "stop_links",
            "exceeds",
        ]
    );
}

#[test]
fn grid_rows_rise_in_rack_then_travel() {
    let (_, rows) = csv("sweep alder --over grid --count 3 --rack-count 3 --readings toe --format csv");
    let place = |row: &Vec<String>| (row[2].parse::<f64>().unwrap(), row[0].parse::<f64>().unwrap());
    let places: Vec<_> = rows.iter().map(place).collect();
    assert_eq!(places.len(), 9);
    assert!(places.windows(2).all(|w| w[0] < w[1]), "{places:?}");
}

#[test]
fn the_schema_says_the_catalogue_in_its_words() {
    let schema = json("schema --format json");
    let text = fine("schema");
    for reading in wheel_readings().iter().chain(axle_readings()) {
        let key = format!("{}{}", reading.key, reading.unit.key_suffix(LengthUnit::Millimetre));
        let entries: Vec<&Value> =
            schema["keys"].as_array().unwrap().iter().filter(|k| k["key"] == key.as_str()).collect();
        assert_eq!(entries.len(), 1, "{key}");
        assert_eq!(entries[0]["sign"], reading.sign);
        assert_eq!(entries[0]["absent"], reading.absent);
        assert!(entries[0]["definition"].as_str().unwrap().ends_with(reading.definition));
        assert!(text.lines().any(|line| line == key), "{key}");
    }
}

#[test]
fn every_demo_car_goes_through_every_subcommand() {
    for car in demo_cars() {
        let car = car.display();
        for format in ["table", "json", "csv"] {
            // Where parts overlap, that is said.
            let said = wheelpath(&format!("clearances {car} --count 3 --steer-count 3 --format {format}"));
            assert!(said.code == 0 && !said.out.is_empty(), "{said:?}");
            for command in ["check", "readings", "points", "sweep", "attitude --roll-deg 1", "turn"] {
                assert!(!fine(&format!("{command} {car} --format {format}")).is_empty());
            }
            let cornering = "cornering --lateral-g 0.5 --roll-gradient-deg-per-g 1";
            assert!(!fine(&format!("{cornering} {car} --format {format}")).is_empty());
            fine(&format!("sensitivity {car} --reading toe --format {format} --travel-mm 5"));
        }
        fine(&format!("sweep {car} --format chart --over steer"));
    }
}

#[test]
fn every_demo_car_is_known_by_its_name() {
    for file in demo_cars() {
        let name = file.file_stem().unwrap().to_str().unwrap().to_owned();
        let by_name = json(&format!("points {name} --format json"));
        assert_eq!(by_name, json(&format!("points {} --format json", file.display())));
        assert_eq!(by_name["car"].as_str().unwrap().to_lowercase(), name);
        for command in ["--help", "readings nowhere"] {
            let said = wheelpath(command);
            assert!((said.out + &said.err).contains(&name), "{command} does not name {name}");
        }
    }
}
