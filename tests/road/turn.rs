//! Slow turns, against plane trigonometry.

use crate::roads::BASE;
use nalgebra::{Rotation3, Unit, Vector3};
use wheelpath_geometry::{
    BodyPose, Car, CarSolver, CentreBy, Component, DamperStops, End, Hardpoint, HeldBy, NoTurnCentre,
    RoadSolver, Side, Springing, WheelPosition,
};
use wheelpath_tests::planar::{Steered, car, rack};
use wheelpath_tests::{assert_near, demo};

const APART: f64 = 1.3;
/// From steering axis to wheel centre, along the spin axis.
const OFFSET: f64 = 0.08;
const RADIUS: f64 = 0.3;

/// Wheels that steer about vertical lines in front, the same linkage with its rack centred behind.
fn steered_car(steered: Steered) -> Car {
    let mut car = car(steered.corner(), rack(), BASE);
    for corner in [&mut car.rear.left, &mut car.rear.right] {
        corner.wheel.centre.x -= BASE;
        let points: Vec<_> = corner.hardpoints.iter().collect();
        for (hardpoint, at) in points {
            corner.hardpoints.set(hardpoint, at - Vector3::x() * BASE);
        }
    }
    car
}

/// Every length and angle of the turn from the two steer angles alone.
#[test]
fn a_turn_by_trigonometry() {
    let car = steered_car(Steered::about_vertical(0.5 * APART, 0.13));
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    for steer in [0.06, 0.02, -0.04_f64] {
        let turn = road.turn(steer).unwrap().unwrap();
        let [left, right] = [turn.wheels[0].steer, turn.wheels[1].steer];
        assert!(left * steer > 0.0 && right * steer > 0.0);
        // The axis of each wheel through its steering axis (0, ±APART / 2), down to the rear axle: one over
        // the place where it crosses is the curvature that the wheel asks for.
        let curvature = |pivot: f64, angle: f64| 1.0 / (pivot + BASE / angle.tan());
        let centre = 2.0 / (curvature(0.5 * APART, left) + curvature(-0.5 * APART, right));
        assert_eq!(turn.by, CentreBy::RearAxleLine);
        assert_eq!(turn.toward, if steer > 0.0 { Side::Left } else { Side::Right });
        assert_near!(turn.centre.y, centre, 1e-9);
        assert_near!(turn.centre.x, -BASE, 1e-12);
        assert_near!(turn.radius, centre.abs(), 1e-9);
        let mut furthest = 0.0_f64;
        let mut kerb = 0.0_f64;
        for at in WheelPosition::ALL {
            let wheel = turn.wheels[at.index()];
            let (x, angle) = if at.index() < 2 { (0.0, wheel.steer) } else { (-BASE, 0.0) };
            let side = at.side.sign();
            let along = Vector3::new(angle.cos(), angle.sin(), 0.0);
            let out = Vector3::new(-angle.sin(), angle.cos(), 0.0) * side;
            let contact = Vector3::new(x, 0.5 * APART * side, 0.0) + out * OFFSET;
            let from = contact - Vector3::new(-BASE, centre, 0.0);
            assert_near!(wheel.radius, from.norm(), 1e-9);
            // The heading square to the radius is no scrub.
            let path = Vector3::z().cross(&from) * turn.toward.sign();
            let scrub = path.cross(&along).z.atan2(path.dot(&along));
            assert_near!(wheel.scrub, scrub, 1e-11);
            // An upright tyre's edge in plan is a rectangle.
            let mut reach = 0.0_f64;
            for edge in [0.5, -0.5] {
                for end in [RADIUS, -RADIUS] {
                    reach = reach.max((from + out * (edge * 0.2) + along * end).norm());
                }
            }
            assert_near!(wheel.reach, reach, 1e-9);
            furthest = furthest.max(reach);
            if at.index() < 2 {
                kerb = kerb.max(from.norm());
            }
        }
        assert_near!(turn.kerb_circle, 2.0 * kerb, 1e-9);
        assert_near!(turn.wall_circle_of_tyres, 2.0 * furthest, 1e-9);
    }
    assert_eq!(road.turn(0.0).unwrap().unwrap_err(), NoTurnCentre::Straight);
}

/// The catalogue's turn centre and circle, and the turn's, are one on every demo car in every pose.
#[test]
fn the_turn_agrees_with_the_catalogue() {
    let mut compared = 0;
    for name in demo::CARS {
        let car = demo::car_of(name);
        if !car.front.steering.steers() {
            continue;
        }
        let solver = CarSolver::new(&car).unwrap();
        let road = RoadSolver::new(&car, &solver);
        let [right, left] = car.front.steering.stops();
        for body in
            [BodyPose::DESIGN, BodyPose::rolled(0.02), BodyPose { front: -0.01, rear: 0.02, roll: -0.01 }]
        {
            for steer in [0.9 * right, 0.3 * right, 0.05 * left, 0.5 * left] {
                let Ok(turn) = road.turn_of(road.stand(&body, steer).unwrap()) else { continue };
                let axle = turn.standing.solved.axle(End::Front).axle_values();
                let of = |key: &str| axle.get(crate::roads::named(key)).unwrap();
                let close = |ours: f64, theirs: f64| {
                    assert_near!(ours, theirs, 1e-12 * theirs.abs(), "{name} {steer}")
                };
                close(turn.centre.y, of("turn_centre_y"));
                close(turn.radius, of("turn_radius"));
                let outer = usize::from(turn.toward == Side::Left);
                close(2.0 * turn.wheels[outer].radius, of("turning_circle"));
                assert_eq!(turn.toward == Side::Left, turn.centre.y > 0.0, "{name} {steer}");
                // Nothing rolls backward.
                assert!(turn.wheels.iter().all(|wheel| wheel.scrub.abs() < 0.5), "{name} {steer}");
                compared += 1;
            }
        }
    }
    assert!(compared >= 40, "{compared}");
}

/// Rear wheels that the body's roll turns steer too: the centre is on their mean axis.
#[test]
fn rear_wheels_that_steer_turn_the_line() {
    let car = demo::alder();
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    let turn = road.turn_of(road.stand(&BodyPose::rolled(0.03), 0.03).unwrap()).unwrap();
    assert_eq!(turn.by, CentreBy::RearWheelsLine);
    let turned = crate::roads::road_of(&turn.standing);
    let plan = |v: Vector3<f64>| (turned * v).xy();
    let [fl, fr, rl, rr] = WheelPosition::ALL.map(|at| {
        let motion = &turn.standing.solved.axle(at.end).motion;
        (plan(motion.wheel(at.side).contact), plan(motion.corner(at.side).spin_axis_left()))
    });
    let middle = (rl.0 + rr.0) * 0.5;
    let along = (rl.1 + rr.1).normalize();
    let from = turn.centre - middle;
    assert_near!(along.perp(&from), 0.0, 1e-9);
    assert!(along.x.abs() > 1e-5, "the rear wheels steer: {along}");
    // Crossings of the front axes with that line, by two equations in two unknowns.
    let crossing = |(contact, axis): (nalgebra::Vector2<f64>, nalgebra::Vector2<f64>)| {
        let matrix = nalgebra::Matrix2::from_columns(&[along, -axis]);
        (matrix.try_inverse().unwrap() * (contact - middle)).x
    };
    assert_near!(along.dot(&from), 2.0 / (1.0 / crossing(fl) + 1.0 / crossing(fr)), 1e-9);
}

/// Wheels with toe-out point opposite ways near straight ahead. The mean of where their axes cross the rear
/// axle would be on the wrong side; the mean curvature turns the way the mean steer does.
#[test]
fn toe_out_near_straight_ahead_turns_the_right_way() {
    let toe_out = 1_f64.to_radians();
    let mut steered = Steered::about_vertical(0.5 * APART, 0.13);
    steered.spin_axis = Vector3::new(-toe_out.sin(), toe_out.cos(), 0.0);
    let car = steered_car(steered);
    let mut car = car;
    for corner in [&mut car.rear.left, &mut car.rear.right] {
        corner.wheel.spin_axis = Vector3::y() * corner.wheel.spin_axis.y.signum();
    }
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    let mut seen = [0, 0];
    for steer in [5e-5, 2e-4, 5e-4, 1e-3, 1.5e-3, 2e-3, 4e-3, -2e-3, -1e-3] {
        // Each contact goes round its pivot with the steer alone; its axis also has the toe.
        let curvature = |pivot: f64, toe: f64, angle: f64| {
            let (s, c) = (angle - toe).sin_cos();
            let out = 0.08 * pivot.signum();
            1.0 / (pivot + out * c + (BASE - out * s) / angle.tan())
        };
        match road.turn(steer).unwrap() {
            Ok(turn) => {
                let [left, right] = [turn.wheels[0].steer, turn.wheels[1].steer];
                let mean =
                    0.5 * (curvature(0.5 * APART, toe_out, left) + curvature(-0.5 * APART, -toe_out, right));
                assert!(mean * steer > 0.0, "{steer}");
                assert_near!(turn.centre.y * mean, 1.0, 1e-9, "{steer}");
                assert_eq!(turn.toward, if steer > 0.0 { Side::Left } else { Side::Right });
                for at in WheelPosition::ALL {
                    assert!(turn.wheels[at.index()].scrub.abs() < 2.0 * toe_out, "{at} at {steer}");
                }
                seen[0] += usize::from(left * right < 0.0);
            }
            Err(none) => {
                // One wheel asks for more the other way than both together; of a car that goes straight nobody asks.
                let straight = steer.abs() < 1e-4;
                assert_eq!(
                    none,
                    if straight { NoTurnCentre::Straight } else { NoTurnCentre::Opposed },
                    "{steer}"
                );
                let values = solver.axle(End::Front).solve([0.0; 2], steer).unwrap().axle_values();
                for key in ["turn_centre_y", "turn_radius", "turning_circle", "turning_circle_outer_axis"] {
                    assert_eq!(values.get(crate::roads::named(key)), None, "{key} at {steer}");
                }
                seen[1] += 1;
            }
        }
    }
    assert!(seen[0] >= 2 && seen[1] >= 2, "{seen:?}");
}

/// The locks of the demo car are its rack's ends.
#[test]
fn locks_are_at_the_ends_of_the_rack() {
    let car = demo::alder();
    let solver = CarSolver::new(&car).unwrap();
    let [right, left] = RoadSolver::new(&car, &solver).locks().unwrap();
    assert_near!(left.steer, 0.04, 0.0);
    assert_near!(right.steer, -0.04, 0.0);
    assert_near!(left.wheels[0], -right.wheels[1], 1e-12);
    assert!(left.wheels[0] > 0.2 && right.wheels[0] < -0.2);
    let circle = |lock: &wheelpath_geometry::Lock| lock.turn.as_ref().map(|turn| turn.kerb_circle).unwrap();
    assert_near!(circle(&left), circle(&right), 1e-9);
}

/// With the damper on the lower wishbone held, both ball joints stay, and the upright turns about the
/// line through them: Rodrigues' formula says how far the tyre's lowest point goes down.
#[test]
fn the_body_rises_as_the_wheels_turn_about_a_leaning_axis() {
    let steered = Steered {
        lower_ball: Vector3::new(0.02, 0.66, 0.2),
        upper_ball: Vector3::new(-0.02, 0.61, 0.45),
        ..Steered::about_vertical(0.65, 0.13)
    };
    let mut corner = steered.corner();
    corner.springing = Some(Springing::Direct { on: Component::LowerWishbone });
    corner.damper = Some(DamperStops { shortest: 0.2, longest: 0.4 });
    corner.hardpoints.set(Hardpoint::DamperRocker, Vector3::new(0.0, 0.55, 0.2));
    corner.hardpoints.set(Hardpoint::DamperBody, Vector3::new(0.0, 0.4, 0.5));
    let car = car(corner.clone(), rack(), BASE);
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    let steers = [-0.04, 0.0, 0.02, 0.05];
    let rises = road.rise_with_steer(&steers).unwrap();
    let axis = Unit::new_normalize(steered.upper_ball - steered.lower_ball);
    // The steering arm's end is on a circle about the axis and a rod's length from the rack.
    let rod = (steered.tie_rod_outer - corner.hardpoints.get(Hardpoint::TieRodInner).unwrap()).norm();
    for (rise, steer) in rises.iter().zip(steers) {
        assert_eq!(rise.held, [HeldBy::Damper; 2]);
        for (side, rack) in Side::BOTH.into_iter().zip([steer, -steer]) {
            let inner = corner.hardpoints.get(Hardpoint::TieRodInner).unwrap() + Vector3::y() * rack;
            let turned = |angle: f64, p: Vector3<f64>| {
                steered.lower_ball + Rotation3::from_axis_angle(&axis, angle) * (p - steered.lower_ball)
            };
            let lacking = |angle: f64| (turned(angle, steered.tie_rod_outer) - inner).norm() - rod;
            let (mut low, mut high) = (-0.8_f64, 0.8);
            for _ in 0..100 {
                let middle = 0.5 * (low + high);
                if (lacking(middle) > 0.0) == (lacking(low) > 0.0) { low = middle } else { high = middle }
            }
            let lowest = |angle: f64| {
                let spin = Rotation3::from_axis_angle(&axis, angle) * steered.spin_axis;
                turned(angle, steered.wheel_centre).z - RADIUS * (1.0 - spin.z * spin.z).sqrt()
            };
            let expected = lowest(0.0) - lowest(low);
            assert_near!(
                rise.corners[usize::from(side == Side::Right)],
                expected,
                1e-11,
                "{side} at {steer}"
            );
        }
    }
    assert!(rises[3].difference().abs() > 1e-4, "{:?}", rises[3]);
    assert_near!(rises[1].mean(), 0.0, 1e-15);
}
