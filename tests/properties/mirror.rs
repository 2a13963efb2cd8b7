//! Readings belong to the car, not to where or which way round it is drawn.

use crate::{agree, all_values, random_car};
use nalgebra::Vector3;
use proptest::prelude::*;
use wheelpath_geometry::{
    AxleSolver, Car, Corner, End, Ground, OnGround, Side, SolvedAxle, Steering, ToeBy, WheelValues,
    wheel_values,
};

fn values(solved: &SolvedAxle) -> Vec<(usize, &'static wheelpath_geometry::Reading, f64)> {
    let wheels = Side::BOTH.map(|side| solved.wheel_values(side));
    all_values(&wheels, &solved.axle_values())
}

/// The corner with every point and direction passed through a function.
fn moved(corner: &mut Corner, place: impl Fn(Vector3<f64>) -> Vector3<f64>) {
    corner.wheel.centre = place(corner.wheel.centre);
    let all: Vec<_> = corner.hardpoints.iter().collect();
    for (hardpoint, at) in all {
        corner.hardpoints.set(hardpoint, place(at));
    }
}

fn mirrored(car: &Car) -> Car {
    let mut other = car.clone();
    for end in End::BOTH {
        let axle = other.axle_mut(end);
        (axle.left, axle.right) = (car.axle(end).right.mirrored(), car.axle(end).left.mirrored());
    }
    other
}

/// Readings that change sign in the mirror.
const TURNED_BY_MIRROR: [&str; 14] = [
    "inclination_angle",
    "steer_angle",
    "steer_to_road",
    "front_view_instant_centre_y",
    // The screw axis is a turn: its direction mirrors as one.
    "screw_direction_x",
    "screw_direction_z",
    "screw_point_y",
    "screw_pitch",
    "roll_centre_lateral",
    "ground_angle",
    "anti_roll_bar_twist",
    "mean_steer",
    "turn_centre_y",
    "steering_wheel_angle",
];

/// Readings of a wheel that change sign when the car is turned front to back: steer and all that goes
/// with "forward". Others stay.
const TURNED_FORE_AFT: [&str; 22] = [
    "steer_angle",
    "steer_to_road",
    "toe",
    "toe_to_road",
    "caster",
    "caster_to_road",
    "trail",
    "wheel_centre_offset_longitudinal",
    "virtual_caster",
    "virtual_trail",
    "recession",
    "bump_steer",
    "caster_gain",
    "recession_gain",
    "contact_slope_side",
    "side_view_swing_arm_inverse",
    "side_view_instant_centre_x",
    "screw_direction_y",
    "screw_direction_z",
    "screw_point_x",
    "screw_pitch",
    "steer_gain",
];

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn the_mirrored_car_has_mirrored_readings(
        car in random_car::car(), end in random_car::end(), (travel, rack) in random_car::pose(),
    ) {
        let Ok(axle) = AxleSolver::new(&car, end) else { return Err(TestCaseError::reject("not a car")) };
        let other = AxleSolver::new(&mirrored(&car), end).unwrap();
        let Ok(here) = axle.solve(travel, rack) else { return Ok(()) };
        let there = other.solve([travel[1], travel[0]], -rack).unwrap();
        let (here, there) = (values(&here), values(&there));
        for (place, reading, value) in here {
            let place = [1, 0, 2][place];
            let sign = if TURNED_BY_MIRROR.contains(&reading.key) { -1.0 } else { 1.0 };
            let (_, _, mirrored) = there.iter().find(|(p, r, _)| *p == place && r.key == reading.key).unwrap();
            prop_assert!(agree(sign * mirrored, value, 1e-9), "{}: {} and {}", reading.key, value, mirrored);
        }
    }

    /// Forward and up: only places move with the car.
    #[test]
    fn moving_the_whole_car_moves_places_alone(
        car in random_car::car(), end in random_car::end(), (travel, rack) in random_car::pose(),
        forward in -3.0..3.0_f64, up in -0.5..0.5_f64,
    ) {
        let Ok(axle) = AxleSolver::new(&car, end) else { return Err(TestCaseError::reject("not a car")) };
        let by = Vector3::new(forward, 0.0, up);
        let mut other = car;
        for end in End::BOTH {
            for side in Side::BOTH {
                moved(other.axle_mut(end).corner_mut(side), |p| p + by);
            }
        }
        let Ok(here) = axle.solve(travel, rack) else { return Ok(()) };
        let there = AxleSolver::new(&other, end).unwrap().solve(travel, rack).unwrap();
        // Along the ground the foot of the body's origin stays behind, where the ground is not level.
        let aside = up * here.motion.ground.left().z;
        for ((_, reading, value), (_, _, after)) in values(&here).into_iter().zip(values(&there)) {
            let shift = match reading.key {
                "turn_centre_y" => aside,
                "screw_point_x" | "side_view_instant_centre_x" => forward,
                "screw_point_z" | "side_view_instant_centre_z" | "front_view_instant_centre_z" => up,
                _ => 0.0,
            };
            prop_assert!(agree(after - shift, value, 1e-9), "{}: {} and {}", reading.key, value, after);
        }
    }

    /// A corner turned front to back: what has to do with "forward" changes sign, all else stays.
    #[test]
    fn a_corner_turned_front_to_back(
        car in random_car::car(), end in random_car::end(), side in random_car::side(),
        (travel, rack) in random_car::pose(),
    ) {
        let turn = |v: Vector3<f64>| Vector3::new(-v.x, v.y, v.z);
        let mut other = car.clone();
        for end in End::BOTH {
            let axle = other.axle_mut(end);
            if let Steering::Rack(rack) = &mut axle.steering {
                rack.axis = turn(rack.axis);
            }
            for side in Side::BOTH {
                let corner = axle.corner_mut(side);
                moved(corner, turn);
                corner.wheel.spin_axis = turn(corner.wheel.spin_axis);
                if let ToeBy::TieRodLength(toe) = &mut corner.alignment.toe {
                    *toe = -*toe;
                }
            }
        }
        let Ok(axle) = AxleSolver::new(&car, end) else { return Err(TestCaseError::reject("not a car")) };
        let other = AxleSolver::new(&other, end).unwrap();
        let bench = |axle: &AxleSolver| -> Option<WheelValues> {
            let solved = axle.corner(side).unwrap().solve(travel[0], rack).ok()?;
            Some(wheel_values(&solved.motion, &OnGround::of(&solved.motion, Ground::level().normal)))
        };
        let Some(here) = bench(&axle) else { return Ok(()) };
        let there = bench(&other).unwrap();
        for reading in wheelpath_geometry::wheel_readings() {
            let [a, b] = [&here, &there].map(|v| v.get(reading).unwrap_or(f64::NAN));
            let sign = if TURNED_FORE_AFT.contains(&reading.key) { -1.0 } else { 1.0 };
            prop_assert!(agree(sign * b, a, 1e-9), "{}: {} and {}", reading.key, a, b);
        }
    }
}
