//! Columns of Cardan joints: there and back, rates, and joints that undo each other.

use crate::cars::solver;
use std::f64::consts::{FRAC_PI_2, TAU};
use wheelpath_geometry::{CardanJoint, Column, End, Side, reading};
use wheelpath_tests::assert_near;
use wheelpath_tests::demo::car_of;

fn column(joints: [(f64, f64); 2]) -> Column {
    Column {
        joints: joints.map(|(bend, phase)| {
            (bend > 0.0).then_some(CardanJoint { bend: bend.to_radians(), phase: phase.to_radians() })
        }),
    }
}

const COLUMNS: [[(f64, f64); 2]; 5] = [
    [(0.0, 0.0), (0.0, 0.0)],
    [(25.0, 0.0), (0.0, 0.0)],
    [(40.0, 33.0), (0.0, 0.0)],
    [(30.0, -70.0), (24.0, 90.0)],
    [(60.0, 200.0), (45.0, 5.0)],
];

#[test]
fn there_and_back_over_many_turns() {
    for column in COLUMNS.map(column) {
        assert_near!(column.shaft_at(0.0), 0.0, 1e-15);
        let mut last = f64::NEG_INFINITY;
        for k in -600..=600 {
            let wheel = f64::from(k) * 0.05;
            let shaft = column.shaft_at(wheel);
            assert!(shaft > last, "the shaft turns back at {wheel}");
            last = shaft;
            assert_near!(column.wheel_at(shaft), wheel, 1e-13 * (1.0 + wheel.abs()));
            // The same half turn after half turn.
            assert_near!(column.shaft_at(wheel + 0.5 * TAU) - shaft, 0.5 * TAU, 1e-13 * (1.0 + wheel.abs()));
            let h = 1e-3;
            let five = |h: f64| {
                let at = |h: f64| column.shaft_at(wheel + h);
                (8.0 * (at(h) - at(-h)) - (at(2.0 * h) - at(-2.0 * h))) / (12.0 * h)
            };
            let slope = (16.0 * five(0.5 * h) - five(h)) / 15.0;
            assert_near!(column.ratio_at(wheel), slope, 1e-9, "{wheel}");
        }
    }
}

/// The tangent relation of the text-books, where it holds: within a quarter turn of the bend's plane.
#[test]
fn one_joint_by_tangents() {
    let bend = 0.5_f64;
    let joint = Column { joints: [Some(CardanJoint { bend, phase: 0.0 }), None] };
    for k in -15..=15 {
        let turn = f64::from(k) * 0.1;
        assert_near!(joint.shaft_at(turn).tan(), turn.tan() / bend.cos(), 1e-12 * (1.0 + turn.tan().abs()));
    }
    assert_near!(joint.ratio_at(0.0), 1.0 / bend.cos(), 1e-15);
    assert_near!(joint.ratio_at(FRAC_PI_2), bend.cos(), 1e-15);
}

/// Two like joints: a quarter turn between the yokes on the middle shaft, and the second takes back what
/// the first puts in; yokes in the same way double it.
#[test]
fn two_like_joints() {
    for bend in [10.0, 35.0] {
        let undone = column([(bend, 0.0), (bend, 90.0)]);
        let doubled = column([(bend, 0.0), (bend, 0.0)]);
        for k in -40..=40 {
            let wheel = f64::from(k) * 0.2;
            assert_near!(undone.shaft_at(wheel), wheel, 1e-14);
            assert_near!(undone.ratio_at(wheel), 1.0, 1e-14);
        }
        let cos = bend.to_radians().cos();
        assert_near!(doubled.ratio_at(0.0), 1.0 / (cos * cos), 1e-14);
    }
}

/// Steering wheel, column, rack and wheels of a whole car.
#[test]
fn ratios_of_a_car() {
    let car = car_of("demo-cars/rowan.ron");
    let (axle, front) = (solver(&car, End::Front), &car.front);
    let mean = |steer: f64| {
        let at = axle.solve([0.0; 2], steer).unwrap();
        let of = |side| at.wheel_values(side).get(reading("steer_angle").unwrap()).unwrap();
        0.5 * (of(Side::Left) + of(Side::Right))
    };
    let mut ratios = Vec::new();
    for wheel in [-3.0_f64, -0.9, 0.0, 0.4, 2.0] {
        let steer = front.steer_at(wheel);
        assert_near!(front.steering_wheel_at(steer), wheel, 1e-13);
        let at = axle.solve([0.0; 2], steer).unwrap();
        let get = |key: &str| at.axle_values().get(reading(key).unwrap()).unwrap();
        assert_near!(get("steering_wheel_angle"), wheel, 1e-13);
        assert_near!(get("column_ratio"), front.column.ratio_at(wheel), 1e-13);
        let h = 2e-3;
        let five = |h: f64| {
            let at = |h: f64| mean(front.steer_at(wheel + h));
            (8.0 * (at(h) - at(-h)) - (at(2.0 * h) - at(-2.0 * h))) / (12.0 * h)
        };
        let slope = (16.0 * five(0.5 * h) - five(h)) / 15.0;
        assert_near!(get("overall_steering_ratio"), 1.0 / slope, 1e-7 / (slope * slope));
        ratios.push(get("overall_steering_ratio"));
    }
    // A left turn of the steering wheel steers to the left, though the rack goes to the right.
    assert!(ratios.iter().all(|ratio| (8.0..25.0).contains(ratio)), "{ratios:?}");
    let rear = solver(&car, End::Rear).start();
    for key in ["steering_wheel_angle", "column_ratio", "overall_steering_ratio"] {
        assert!(rear.axle_values().get(reading(key).unwrap()).is_none(), "{key}");
    }
}
