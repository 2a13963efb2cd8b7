//! Both wheels over the steering input.

use crate::cars::all;
use wheelpath_geometry::{CarSolver, End, Side, reading};
use wheelpath_tests::assert_near;
use wheelpath_tests::outside::numbers;

#[test]
fn both_wheels_over_the_whole_lock() {
    let mut compared = 0;
    for one in all() {
        let stored = &one.found()["steer_sweep"];
        if stored.is_null() {
            continue;
        }
        let axle = one.solver();
        for (k, steer) in numbers(&stored["steer"]).into_iter().enumerate() {
            let solved = axle.solve([0.0; 2], steer).unwrap_or_else(|stop| panic!("{}: {stop:?}", one.what));
            for side in Side::BOTH {
                let ours = solved.wheel_values(side).get(reading("steer_angle").unwrap()).unwrap();
                let theirs = stored[format!("{side}_steer_deg")][k].as_f64().unwrap();
                assert_near!(ours.to_degrees(), theirs, 1e-9, "{} {side} at {steer}", one.what);
                compared += 1;
            }
        }
    }
    // Rowan, Hazel, Sorrel, five links, steering box, pullrods.
    assert_eq!(compared, 6 * 8 * 2);
}

/// A column of Cardan joints, by the crosses' pins there and by tangents here.
#[test]
fn the_column_over_three_turns() {
    let mut compared = 0;
    for one in all() {
        let stored = &one.found()["column"];
        if stored.is_null() {
            continue;
        }
        let axle = one.car.axle(one.end);
        let shaft = numbers(&stored["shaft_deg"]);
        for (wheel, theirs) in numbers(&stored["steering_wheel_deg"]).into_iter().zip(shaft) {
            let ours = axle.column.shaft_at(wheel.to_radians());
            assert_near!(ours.to_degrees(), theirs, 1e-11, "{} at {wheel}", one.what);
            assert_near!(axle.column.wheel_at(ours).to_degrees(), wheel, 1e-11, "{} at {wheel}", one.what);
            compared += 1;
        }
    }
    // Rowan.
    assert_eq!(compared, 25);
}

/// Turn centres, by wheels that roll: the front wheel's contact has no speed along its axis.
#[test]
fn turn_centres_by_rolling() {
    let mut compared = 0;
    for one in all() {
        let stored = &one.found()["turns"];
        if stored.is_null() {
            continue;
        }
        let solver = CarSolver::new(&one.car).unwrap();
        let axle = solver.axle(End::Front);
        for (k, steer) in numbers(&stored["steer"]).into_iter().enumerate() {
            let solved = axle.solve([0.0; 2], steer).unwrap_or_else(|stop| panic!("{}: {stop:?}", one.what));
            let theirs = |key: &str| stored[key][k].as_f64().unwrap();
            let turn = solved.motion.slow_turn().unwrap();
            for (side, asked) in Side::BOTH.into_iter().zip(turn.asked) {
                assert_near!(
                    asked,
                    theirs(&format!("{side}_curvature_per_m")),
                    1e-12,
                    "{} {side} {steer}",
                    one.what
                );
            }
            let values = solved.axle_values();
            let ours = |key: &str| values.get(reading(key).unwrap()).unwrap();
            let curvature = theirs("curvature_per_m");
            let outer = if curvature > 0.0 { Side::Right } else { Side::Left };
            for (key, expected) in [
                ("turn_centre_y", theirs("turn_centre_y_m")),
                ("turn_radius", 1.0 / curvature.abs()),
                ("turning_circle", theirs(&format!("{outer}_contact_circle_m"))),
            ] {
                assert_near!(ours(key), expected, 1e-11 * expected.abs(), "{} {key} {steer}", one.what);
            }
            compared += 1;
        }
    }
    // Rowan, Hazel, Sorrel, five links, steering box, pullrods.
    assert_eq!(compared, 6 * 8);
}
