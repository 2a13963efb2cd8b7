//! The steered beam axle over travel and steering against what `outside/steered_beam.py` stored: solved there as points
//! at fixed distances, and again as rigid bodies by SciPy's least squares.

use crate::beams::{is_slope, place, taken, way_of};
use crate::cars::{car, solver};
use nalgebra::Vector3;
use serde_json::Value;
use wheelpath_geometry::{AxleSolver, End, Ground, OnGround, Side, SolvedAxle, wheel_values};
use wheelpath_tests::outside::{Disagreement, entries, stored, tolerance, wheel_reading};
use wheelpath_tests::reference_car::vector;

fn file() -> Value {
    stored("steered_beam_axle.json")
}

fn number(value: &Value) -> f64 {
    value.as_f64().unwrap()
}

fn compare_wheel(file: &Value, one: &Value, solved: &SolvedAxle, side: Side, found: &mut Disagreement) {
    let motion = solved.motion.corner(side);
    let wheel = OnGround::of(motion, Ground::level().normal);
    for (name, theirs) in entries(&one[side.name()]) {
        let (plain, way) = way_of(name);
        let moving = taken(motion, way);
        let rates = wheel_values(&moving, &wheel);
        let ours = wheel_reading(&plain, &moving, &wheel, &rates);
        let turned = way == Some("roll") && side == Side::Right && !is_slope(name);
        let theirs = number(theirs) * if turned { -1.0 } else { 1.0 };
        let ours = ours.unwrap_or_else(|| panic!("no {name}"));
        found.note(name, (ours - theirs).abs(), tolerance(file, name) * theirs.abs().max(1.0));
    }
}

fn compare(file: &Value, axle: &AxleSolver) -> Disagreement {
    let mut found = Disagreement::default();
    for one in file["poses"].as_array().unwrap() {
        let travel = ["travel_left_m", "travel_right_m"].map(|key| number(&one[key]));
        let steer = number(&one["steer_rad"]);
        let solved = axle.solve(travel, steer).unwrap_or_else(|stop| panic!("{stop:?}"));
        for (name, at) in entries(&one["points"]) {
            let Some(here): Option<Vector3<f64>> = place(axle, &solved, name) else { panic!("no {name}") };
            found.note(name, (here - vector(at)).amax(), tolerance(file, "_m"));
        }
        for side in Side::BOTH {
            compare_wheel(file, one, &solved, side, &mut found);
        }
    }
    found
}

#[test]
fn every_point_reading_and_rate_over_travel_and_steering() {
    let file = file();
    let axle = solver(&car(&file), End::Front);
    let found = compare(&file, &axle);
    found.assert_none("steered beam axle");
    // 42 poses with 25 points and some 45 numbers of each wheel.
    assert!(found.compared > 4000, "{}", found.compared);
}

/// A comparison that passes with a point moved by a micrometre sees nothing.
#[test]
fn a_micrometre_is_seen() {
    let file = file();
    let mut moved = car(&file);
    for end in [wheelpath_geometry::Hardpoint::TrackRodRight, wheelpath_geometry::Hardpoint::DragLinkInner] {
        let at = moved.front.hardpoints.get(end).unwrap();
        moved.front.hardpoints.set(end, at + Vector3::new(0.0, 1e-6, 0.0));
        let found = compare(&file, &solver(&moved, End::Front));
        assert!(found.largest.values().any(|(difference, tolerance)| difference > tolerance));
        moved.front.hardpoints.set(end, at);
    }
}
