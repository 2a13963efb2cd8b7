//! The demo car Alder against SciPy and MuJoCo: `outside/alder_reference.json` was computed by
//! `outside/alder_reference.py`, which shares no code with this project.

use nalgebra::Vector3;
use serde_json::Value;
use wheelpath_geometry::{
    Car, CarPose, CarSolver, CornerMotion, CornerSolver, End, Ground, Hardpoint, OnGround, Side,
    WheelPosition, check, reading, wheel_values,
};
use wheelpath_tests::assert_near;
use wheelpath_tests::demo::alder;
use wheelpath_tests::outside::{Disagreement, numbers, stored, tolerance, wheel_reading};
use wheelpath_tests::reference_car::vector;

fn reference() -> Value {
    stored("alder_reference.json")
}

/// Every number the file stores for a corner against ours, over its grid of rack and travel.
fn disagreement(file: &Value, stored: &Value, corner: &CornerSolver) -> Disagreement {
    let mut found = Disagreement::default();
    let position = tolerance(file, "_m");
    for (i, rack) in numbers(&stored["rack_m"]).into_iter().enumerate() {
        for (j, travel) in numbers(&stored["travel_m"]).into_iter().enumerate() {
            let solved = corner.solve(travel, rack).unwrap();
            let motion = &solved.motion;
            let wheel = OnGround::of(motion, Ground::level().normal);
            let values = wheel_values(motion, &wheel);
            let placed = corner.points(&solved);
            for (name, rows) in stored["points"].as_object().unwrap() {
                let at = match name.as_str() {
                    "wheel_centre" => motion.wheel_centre,
                    "spin_axis" => motion.spin_axis,
                    "contact_point" => wheel.contact,
                    "axis_at_ground" => foot_of(motion),
                    _ => {
                        let hardpoint = Hardpoint::from_key(name).unwrap();
                        placed.iter().find(|(p, _)| *p == hardpoint).unwrap().1
                    }
                };
                found.note(name, (at - vector(&rows[i][j])).amax(), position);
            }
            for (name, rows) in stored["readings"].as_object().unwrap() {
                let Some(value) = wheel_reading(name, motion, &wheel, &values) else {
                    panic!("{name} is unknown")
                };
                let theirs = rows[i][j].as_f64().unwrap();
                found.note(name, (value - theirs).abs(), tolerance(file, name));
            }
        }
    }
    found
}

fn solver(car: &Car) -> CarSolver {
    CarSolver::new(car).unwrap()
}

#[test]
fn alder_is_sound() {
    let found = check(&alder());
    assert!(found.is_empty(), "{found:?}");
}

#[test]
fn every_point_reading_and_rate_of_all_four_corners() {
    let file = reference();
    let car = solver(&alder());
    for at in WheelPosition::ALL {
        let found = disagreement(&file, &file["corners"][at.key()], car.corner(at).unwrap());
        assert!(found.beyond().is_empty(), "{at}: {:?}", found.largest);
        // 13 points and 25 (24 at the rear) readings over 5 x 9 (1 x 9) poses.
        let expected = if at.end == End::Front { 45 * 38 } else { 9 * 37 };
        assert_eq!(found.compared, expected, "{at}");
    }
}

#[test]
fn roll_centres_and_pitch_at_design() {
    let file = reference();
    let car = solver(&alder());
    for end in End::BOTH {
        let stored = file["axles"][end.name()].as_object().unwrap();
        let values = car.axle(end).start().axle_values();
        let ours = |key: &str| values.get(reading(key).unwrap()).unwrap();
        let mut compared = 0;
        for (name, value) in stored {
            let here = match name.as_str() {
                "roll_centre_height_m" => ours("roll_centre_height"),
                "anti_dive_percent" => 100.0 * ours("anti_dive"),
                "anti_squat_percent" => 100.0 * ours("anti_squat"),
                "anti_lift_percent" => 100.0 * ours("anti_lift"),
                "steer_sweep" => continue,
                _ => panic!("{name} is unknown"),
            };
            assert_near!(here, value.as_f64().unwrap(), tolerance(&file, name), "{end} {name}");
            compared += 1;
        }
        assert_eq!(compared, if end == End::Front { 2 } else { 3 });
    }
}

#[test]
fn ackermann_over_the_steer_sweep() {
    let file = reference();
    let stored = &file["axles"]["front"]["steer_sweep"];
    let car = solver(&alder());
    let axle = car.axle(End::Front);
    let racks = numbers(&stored["rack_m"]);
    assert!(racks.len() > 10);
    let foot = |side: Side| {
        let motion = axle.corner(side).unwrap().start().motion;
        foot_of(&motion).y
    };
    let apart = foot(Side::Left) - foot(Side::Right);
    assert_near!(apart, stored["steering_axes_apart_at_ground_m"].as_f64().unwrap(), 1e-11);
    for (k, &rack) in racks.iter().enumerate() {
        let values = car.solve(&CarPose::steered(rack)).unwrap().axle(End::Front).axle_values();
        let ours = |key: &str| values.get(reading(key).unwrap()).unwrap();
        for (name, here) in [
            ("inner_deg", ours("inner_steer").to_degrees()),
            ("outer_deg", ours("outer_steer").to_degrees()),
            ("outer_ideal_deg", ours("outer_ideal").to_degrees()),
            ("error_deg", ours("ackermann_error").to_degrees()),
            ("ackermann_percent", 100.0 * ours("ackermann_inner")),
        ] {
            assert_near!(here, stored[name][k].as_f64().unwrap(), tolerance(&file, name), "{name} at {rack}");
        }
    }
}

/// The control: the comparison above must see one end of the tie rod moved by a micrometre, and see
/// it as large as SciPy and MuJoCo do.
#[test]
fn a_micrometre_shows_as_a_micrometre() {
    let file = reference();
    let at = WheelPosition { end: End::Front, side: Side::Left };
    for (control, hardpoint) in [
        ("front_left_tie_rod_inner_z_plus_1um", Hardpoint::TieRodInner),
        ("front_left_tie_rod_outer_z_plus_1um", Hardpoint::TieRodOuter),
    ] {
        let mut moved = alder();
        let hardpoints = &mut moved.corner_mut(at).hardpoints;
        let mut place = hardpoints.get(hardpoint).unwrap();
        place.z += 1e-6;
        hardpoints.set(hardpoint, place);
        let moved = solver(&moved);
        let stored = &file["controls"][control];
        let with_moved = disagreement(&file, stored, moved.corner(at).unwrap());
        assert!(with_moved.beyond().is_empty(), "{control}: {:?}", with_moved.largest);
        let with_original = disagreement(&file, &file["corners"][at.key()], moved.corner(at).unwrap());
        assert!(with_original.beyond().len() > 20, "{control} is not seen: {:?}", with_original.largest);
        let place = with_original.largest[hardpoint.key()].0;
        assert!((0.5e-6..2e-6).contains(&place), "{control} shows as {place:e} m");
        for (name, theirs) in stored["largest_difference"].as_object().unwrap() {
            let (ours, limit) = with_original.largest[name];
            assert_near!(ours, theirs.as_f64().unwrap(), 2.0 * limit, "{control}: {name}");
        }
    }
}

/// Where the steering axis meets level ground.
fn foot_of(motion: &CornerMotion<f64>) -> Vector3<f64> {
    let axis = motion.steering_axis.unwrap();
    OnGround::of(motion, Ground::level().normal).meets_ground(&axis.point, &axis.along)
}
