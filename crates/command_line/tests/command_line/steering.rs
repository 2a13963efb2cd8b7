//! Racks and steering boxes: each is asked in its own words, and the other's words are refused.

use crate::support::{csv, fine, json, wheelpath};
use serde_json::Value;
use wheelpath_car_file::load;
use wheelpath_geometry::{Axle, AxlePose, Car, CarPose, CarSolver, End, WheelPosition, reading};

/// A demo car of the repository.
fn car(name: &str) -> Car {
    let all = crate::support::demo_cars();
    let file = all.into_iter().find(|path| path.ends_with(format!("{name}.ron"))).unwrap();
    load(&file).unwrap().car
}

fn front(car: &Car) -> &Axle {
    car.axle(End::Front)
}

#[track_caller]
fn near(value: &Value, expected: f64) {
    let found = value.as_f64().unwrap_or(f64::NAN);
    assert!((found - expected).abs() <= 1e-12 * expected.abs().max(1.0), "{found} is not {expected}");
}

#[track_caller]
fn refused(words: &str, complaint: &[&str]) {
    let said = wheelpath(words);
    assert_eq!((said.code, said.out.as_str()), (2, ""), "{words}: {said:?}");
    for part in complaint {
        assert!(said.err.contains(part), "{words}: no {part:?} in {}", said.err);
    }
}

#[test]
fn a_pitman_arm_s_turn_is_the_steering_input() {
    let car = car("hazel");
    let solver = CarSolver::new(&car).unwrap();
    let steer = 12_f64.to_radians();
    let solved = solver.solve(&CarPose::steered(steer)).unwrap();
    let out = json("readings hazel --pitman-deg 12 --format json");
    let angle = reading("steer_angle").unwrap();
    for at in WheelPosition::ALL {
        let expected = solved.axle(at.end).wheel_values(at.side).get(angle).unwrap();
        near(&out["wheels"][at.key()]["steer_angle_deg"], expected.to_degrees());
    }
    near(&out["pose"]["pitman_deg"], 12.0);
    assert!(out["pose"]["rack_mm"].is_null(), "{}", out["pose"]);
    // Twelve turns of the steering wheel for one of the arm.
    near(&out["pose"]["steering_wheel_deg"], 144.0);
    let by_wheel = json("readings hazel --steering-wheel-deg 144 --format json");
    near(&by_wheel["pose"]["pitman_deg"], 12.0);
    let words = fine("readings hazel --pitman-deg 12");
    assert!(words.contains("pitman arm 12.00°; steering wheel 144.0°"), "{words}");
}

#[test]
fn a_rack_keeps_its_own_words() {
    let rowan = car("rowan");
    let out = json("readings rowan --rack-mm 5 --format json");
    near(&out["pose"]["rack_mm"], 5.0);
    assert!(out["pose"]["pitman_deg"].is_null());
    near(&out["pose"]["steering_wheel_deg"], front(&rowan).steering_wheel_at(0.005).to_degrees());
    let by_wheel = json("readings rowan --steering-wheel-deg 77 --format json");
    near(&by_wheel["pose"]["rack_mm"], front(&rowan).steer_at(77_f64.to_radians()) * 1e3);
}

#[test]
fn the_other_kind_s_words_are_refused_with_the_right_ones() {
    for command in
        ["readings", "points", "attitude", "turn", "cornering --lateral-g 1 --roll-gradient-deg-per-g 1"]
    {
        refused(
            &format!("{command} hazel --rack-mm 3"),
            &["steered by a steering box", "--rack-mm", "hint: give --pitman-deg"],
        );
        refused(
            &format!("{command} rowan --pitman-deg 3"),
            &["steered by a rack", "--pitman-deg", "hint: give --rack-mm"],
        );
        refused(&format!("{command} hazel --pitman-deg 3 --steering-wheel-deg 3"), &["cannot be used with"]);
        refused(&format!("{command} hazel --pitman-deg 3 --rack-mm 3"), &["cannot be used with"]);
        refused(&format!("{command} hazel --pitman-deg inf"), &["not a finite number"]);
    }
    refused("sensitivity hazel --reading toe --rack-mm 1", &["hint: give --pitman-deg"]);
    refused("picture hazel -o x.png --rack-mm 1", &["hint: give --pitman-deg"]);
    refused("sweep hazel --rack-mm 3", &["hint: give --pitman-deg"]);
    refused(
        "sweep hazel --axle rear --pitman-deg 3",
        &["rear axle of Hazel cannot be steered", "hint: leave"],
    );
    refused(
        "sweep hazel --over steer --from-mm 3",
        &["--from-mm", "hint: give --pitman-from-deg and --pitman-to-deg"],
    );
    refused("sweep hazel --over steer --to-mm 3", &["--to-mm", "--pitman-to-deg"]);
    refused(
        "sweep rowan --over steer --from-mm 3",
        &["--from-mm counts wheel travel", "hint: give --rack-from-mm and --rack-to-mm"],
    );
    refused("sweep rowan --over steer --pitman-to-deg 3", &["hint: give --rack-from-mm and --rack-to-mm"]);
    refused("sweep rowan --over grid --pitman-from-deg 3", &["hint: give --rack-from-mm and --rack-to-mm"]);
    refused("sweep rowan --over grid --pitman-count 3", &["hint: give --rack-count"]);
    refused("sweep hazel --over grid --rack-count 3", &["hint: give --pitman-count"]);
    refused("sweep hazel --over grid --rack-from-mm 3", &["--pitman-from-deg"]);
    refused("sweep hazel --pitman-from-deg 3", &["--pitman-from-deg has no part"]);
    refused("sweep hazel --pitman-count 3", &["--pitman-count has no part"]);
    refused("sweep hazel --over steer --pitman-deg 3", &["--pitman-deg has no part"]);
    refused("sweep hazel --over grid --steering-wheel-deg 3", &["--steering-wheel-deg has no part"]);
}

#[test]
fn a_box_is_swept_over_its_pitman_arm() {
    let car = car("hazel");
    let axle = CarSolver::new(&car).unwrap();
    let axle = axle.axle(End::Front);
    let angle = reading("steer_angle").unwrap();
    let words = "sweep hazel --over steer --pitman-from-deg -10 --pitman-to-deg 20 --count 3";
    let out = json(&format!("{words} --format json"));
    let poses =
        [-10.0, 5.0, 20.0].map(|degrees: f64| AxlePose { travel: [0.0; 2], steer: degrees.to_radians() });
    let sweep = axle.sweep(&poses);
    let rows = out["rows"].as_array().unwrap();
    assert_eq!(rows.len(), 3);
    for (row, point) in rows.iter().zip(&sweep) {
        near(&row["pitman_deg"], point.pose.steer.to_degrees());
        let expected = point.result.as_ref().unwrap().wheels[1].get(angle).unwrap();
        near(&row["right_steer_angle_deg"], expected.to_degrees());
        assert!(row["rack_mm"].is_null() && row["stop_pitman_deg"].is_null());
    }
    let table = fine(words);
    assert!(table.contains("pitman") && !table.contains("rack"), "{table}");
    let first = |line: &str| line.split_whitespace().take(2).map(str::to_owned).collect::<Vec<_>>();
    assert!(table.lines().any(|line| first(line) == ["−10.00", "−120.0"]), "{table}");
    let chart = fine(&format!("{words} --format chart --readings toe"));
    assert!(
        chart.contains("over turn of the pitman arm") && chart.contains("turn of the pitman arm, °"),
        "{chart}"
    );
    assert!(chart.contains("  20\n") && chart.contains("−10 "), "{chart}");
}

#[test]
fn a_sweep_goes_from_stop_to_stop() {
    let hazel = car("hazel");
    let [negative, positive] = front(&hazel).steering.stops();
    let out = json("sweep hazel --over steer --count 2 --readings toe --format json");
    near(&out["rows"][0]["pitman_deg"], negative.to_degrees());
    near(&out["rows"][1]["pitman_deg"], positive.to_degrees());
    let (headings, rows) = csv(
        "sweep hazel --over grid --count 2 --pitman-count 3 --pitman-from-deg -4 --pitman-to-deg 4 --readings toe --format csv",
    );
    assert_eq!(headings[..4], ["left_travel_mm", "right_travel_mm", "pitman_deg", "steering_wheel_deg"]);
    let steers: Vec<f64> = rows.iter().map(|row| row[2].parse().unwrap()).collect();
    assert_eq!(steers, [-4.0, -4.0, 0.0, 0.0, 4.0, 4.0]);
}

#[test]
fn steering_is_held_while_wheels_travel() {
    let held = json("sweep hazel --pitman-deg 6 --count 2 --readings toe --format json");
    near(&held["rows"][1]["pitman_deg"], 6.0);
    let by_wheel = json("sweep hazel --steering-wheel-deg 72 --count 2 --readings toe --format json");
    near(&by_wheel["rows"][1]["left_toe_deg"], held["rows"][1]["left_toe_deg"].as_f64().unwrap());
}

#[test]
fn stops_beyond_are_warned_of_in_the_box_s_own_unit() {
    let said = wheelpath("readings hazel --pitman-deg 27");
    assert_eq!(said.code, 0, "{said:?}");
    assert!(
        said.err.contains("the pitman arm stands 3.00° beyond its stop 24.00° to the left"),
        "{}",
        said.err
    );
    let said =
        wheelpath("sweep hazel --over steer --pitman-from-deg 0 --pitman-to-deg 80 --count 3 --format json");
    assert_eq!(said.code, 1, "{said:?}");
    let out: Value = serde_json::from_str(&said.out).unwrap();
    let stop = out["rows"][2]["stop_pitman_deg"].as_f64().unwrap();
    assert!((55.0..65.0).contains(&stop), "{stop}");
}
