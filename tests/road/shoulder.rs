//! Tyres with a round tread: the contact goes round it as the wheel leans.

use crate::roads::{ARM, HINGE, all_touch, named, of, parallel_car, road_of};
use nalgebra::Vector3;
use wheelpath_geometry::{BodyPose, CarSolver, End, OnGround, RoadSolver, WheelPosition, wheel_values};
use wheelpath_tests::{assert_near, demo};

const ROUND: f64 = 0.06;

/// Height of the lowest point of a torus over a road, found on its surface by looking ever closer: rim
/// circle of radius R - r, tread circle of radius r about it in the planes through the axis.
fn lowest_of_torus(centre: Vector3<f64>, axis: Vector3<f64>, radius: f64, round: f64) -> Vector3<f64> {
    let side = axis.cross(&Vector3::z()).normalize();
    let up = side.cross(&axis);
    let at = |[along, across]: [f64; 2]| {
        let spoke = side * along.sin() - up * along.cos();
        centre + spoke * (radius - round) + (spoke * across.cos() + axis * across.sin()) * round
    };
    let mut best = [0.0, 0.0];
    let mut stride = 0.2;
    for _ in 0..40 {
        let middle = best;
        for i in -4_i8..=4 {
            for j in -4_i8..=4 {
                let here = [middle[0] + stride * f64::from(i), middle[1] + stride * f64::from(j)];
                if at(here).z < at(best).z {
                    best = here;
                }
            }
        }
        stride *= 0.5;
    }
    at(best)
}

#[test]
fn the_contact_is_the_lowest_point_of_a_torus() {
    let mut car = demo::alder();
    for at in WheelPosition::ALL {
        car.corner_mut(at).damper = None;
        car.corner_mut(at).wheel.tyre_shoulder_radius = ROUND;
    }
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    let standing = road.stand(&BodyPose { front: 0.01, rear: -0.01, roll: 0.05 }, 0.03).unwrap();
    assert!(all_touch(&standing));
    let turn = road_of(&standing);
    let lowest = WheelPosition::ALL.map(|at| {
        let corner = standing.solved.wheel(at);
        let axis = turn * corner.spin_axis;
        lowest_of_torus(turn * corner.wheel_centre, axis, car.corner(at).wheel.tyre_radius, ROUND)
    });
    for (at, point) in WheelPosition::ALL.into_iter().zip(lowest) {
        // The search is blind to less than the root of the rounding along the surface.
        assert_near!(point.z, lowest[0].z, 1e-12);
        assert!((turn * standing.contact(at) - point).norm() < 1e-7, "{at}");
    }
}

/// The parallel-link car on round tyres leaning by roll r: the wheel centre stands (R - p) cos r + p over
/// the road, so `L sin(b + r) = -y sin r + p (1 - cos r)`, and the contact goes outboard by p sin r.
#[test]
fn roll_on_round_tyres_by_hand() {
    let mut car = parallel_car();
    for at in WheelPosition::ALL {
        car.corner_mut(at).wheel.tyre_shoulder_radius = ROUND;
    }
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    for roll in [-0.05, 0.03_f64] {
        let standing = road.stand(&BodyPose::rolled(roll), 0.0).unwrap();
        for at in WheelPosition::ALL {
            let lean = at.side.sign() * roll;
            let arm = -lean + ((ROUND * (1.0 - lean.cos()) - HINGE * lean.sin()) / ARM).asin();
            assert_near!(standing.travel(at), ARM * arm.sin(), 1e-13);
            // In the body's axes: down the wheel by R - p, then along the road's normal by p.
            let across = HINGE + ARM * arm.cos() - ROUND * lean.sin();
            assert_near!(at.side.sign() * standing.contact(at).y, across, 1e-13);
            assert_near!(of(&standing, at, "half_track"), across, 1e-13);
        }
    }
}

/// The contact goes round the tread as the wheel leans with travel: its half track by differences.
#[test]
fn half_track_gain_on_round_tyres_is_the_slope_of_half_track() {
    let mut car = demo::alder();
    car.front.left.wheel.tyre_shoulder_radius = ROUND;
    let solver = CarSolver::new(&car).unwrap();
    let axle = solver.axle(End::Front);
    let of = |travel: f64, key: &str| {
        let solved = axle.solve([travel; 2], 0.0).unwrap();
        let level = OnGround::of(&solved.motion.left, Vector3::z());
        wheel_values(&solved.motion.left, &level).get(named(key)).unwrap()
    };
    let h = 1e-4;
    let slope = (of(0.01 + h, "half_track") - of(0.01 - h, "half_track")) / (2.0 * h);
    assert_near!(of(0.01, "half_track_gain"), slope, 1e-8);
}
