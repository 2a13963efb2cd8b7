//! How far `check` says each wheel and axle goes.

use crate::support::{fine, json};
use serde_json::Value;
use wheelpath_car_file::load;
use wheelpath_geometry::{CarSolver, End, EndedBy, Travelling, WheelPosition};

#[track_caller]
fn same(value: &Value, expected: Option<f64>) {
    match (value.as_f64(), expected) {
        (None, None) => assert!(value.is_null()),
        (Some(found), Some(expected)) => {
            assert!((found - expected).abs() < 1e-9, "{found} is not {expected}")
        }
        other => panic!("{other:?}"),
    }
}

#[test]
fn every_linkage_says_how_far_it_goes() {
    for file in crate::support::demo_cars() {
        let car = load(&file).unwrap().car;
        let solver = CarSolver::new(&car).unwrap();
        let out = json(&format!("check {} --format json", file.display()));
        for (at, said) in WheelPosition::ALL.into_iter().zip(out["reach"].as_array().unwrap()) {
            assert_eq!(said["wheel"], at.key());
            let axle = solver.axle(at.end);
            let travel = axle.travel_limits(at.side, 0.0).unwrap();
            for (key, stop) in ["droop", "bump"].iter().zip(&travel) {
                same(&said[format!("{key}_mm")], stop.as_ref().map(|stop| stop.travel * 1e3));
                let links: Option<Value> = stop.as_ref().map(|stop| stop.links.clone().into());
                assert_eq!(said[format!("{key}_links")], links.unwrap_or(Value::Null));
            }
            let boxed = car.axle(at.end).steering.steering_box().is_some();
            let keys = if boxed {
                ["pitman_negative_deg", "pitman_positive_deg"]
            } else {
                ["rack_right_mm", "rack_left_mm"]
            };
            let shown = |steer: f64| if boxed { steer.to_degrees() } else { steer * 1e3 };
            for (key, stop) in keys.iter().zip(axle.steer_limits(at.side)) {
                same(&said[key], stop.map(|stop| shown(stop.steer)));
            }
            let held = car.axle(at.end).is_beam().then_some(0.0);
            same(&said["other_wheel_mm"], held);
        }
        for (end, said) in End::BOTH.into_iter().zip(out["reach_with_stops"].as_array().unwrap()) {
            assert_eq!(said["axle"], end.name());
            let axle = solver.axle(end);
            for (key, found) in
                ["droop", "bump"].iter().zip(axle.travel_reach(Travelling::Both, 0.0).unwrap())
            {
                let ends = found.by != EndedBy::Nothing;
                same(&said[format!("{key}_mm")], ends.then_some(found.at * 1e3));
                if ends {
                    assert_eq!(said[format!("{key}_ended_by")][0], found.by.to_string());
                }
            }
            if axle.steered() {
                let [negative, _] = axle.steer_reach([0.0; 2]).unwrap();
                let boxed = car.axle(end).steering.steering_box().is_some();
                let (key, value) = if boxed {
                    ("pitman_negative_deg", negative.at.to_degrees())
                } else {
                    ("rack_right_mm", negative.at * 1e3)
                };
                same(&said[key], Some(value));
            }
        }
    }
}

#[test]
fn a_beam_s_other_wheel_is_said_to_be_held() {
    let text = fine("check hazel");
    assert!(
        text.contains("On a beam axle the other wheel is held at zero travel: rear left, rear right"),
        "{text}"
    );
    assert!(text.contains("pitman") && !text.contains("rack"), "{text}");
    assert!(text.contains("the pitman arm's stop"), "{text}");
    let text = fine("check rowan");
    assert!(!text.contains("beam") && text.contains("rack right"), "{text}");
}
