//! Roll and pitch centres of a car whose body is rolled and pitched, drawn in the road's axes.

use crate::roads::{named, of, road_of};
use nalgebra::{Vector2, Vector3};
use wheelpath_geometry::{
    BodyPose, CarSolver, End, Ground, Hardpoint, RoadSolver, Side, Steering, TorqueReaction, WheelPosition,
};
use wheelpath_tests::planar::{bare_corner, car, wheel};
use wheelpath_tests::{assert_near, demo};

/// Where two lines cross, each through a point and square to a velocity.
fn crossing(points: [Vector2<f64>; 2], velocities: [Vector2<f64>; 2]) -> Vector2<f64> {
    let [u, v] = velocities;
    let matrix = nalgebra::Matrix2::new(u.x, u.y, v.x, v.y);
    matrix.try_inverse().unwrap() * Vector2::new(u.dot(&points[0]), v.dot(&points[1]))
}

/// The two lines through the contacts, square to what the upright does there, in front view of the
/// road: both wheels unequal, the body rolled and pitched.
#[test]
fn the_roll_centre_in_the_roads_axes() {
    let car = demo::alder();
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    for body in [
        BodyPose { front: -0.012, rear: 0.015, roll: 0.02 },
        BodyPose { front: 0.02, rear: -0.02, roll: -0.015 },
    ] {
        let standing = road.stand(&body, 0.015).unwrap();
        let turn = road_of(&standing);
        for end in End::BOTH {
            let axle = &standing.solved.axle(end).motion;
            let contact = Side::BOTH.map(|side| crate::roads::lowest(&turn, axle.corner(side)));
            let velocity = Side::BOTH.map(|side| {
                let corner = axle.corner(side);
                let arm = turn.inverse() * contact[usize::from(side == Side::Right)] - corner.wheel_centre;
                turn * (corner.by_travel.v + corner.by_travel.w.cross(&arm))
            });
            // ISO 8855's intermediate axes stand along the road: X of the body laid on it, here X of
            // the road, since yaw is nought.
            let view = |v: &Vector3<f64>| Vector2::new(v.y, v.z);
            let centre =
                crossing([view(&contact[0]), view(&contact[1])], [view(&velocity[0]), view(&velocity[1])]);
            let values = standing.solved.axle(end).axle_values();
            let of = |key: &str| values.get(named(key)).unwrap();
            let middle = 0.5 * (contact[0].y + contact[1].y);
            assert_near!(of("roll_centre_height"), centre.y - contact[0].z, 1e-11, "{end}");
            assert_near!(of("roll_centre_lateral"), centre.x - middle, 1e-10, "{end}");
            assert_near!(of("track"), contact[0].y - contact[1].y, 1e-12, "{end}");
            assert_near!(of("ground_angle"), -body.roll, 1e-14);
        }
    }
}

/// Steer and the steering axis in the road's axes, by turning the vectors there.
#[test]
fn angles_to_the_road_are_angles_in_its_axes() {
    let car = demo::alder();
    let solver = CarSolver::new(&car).unwrap();
    let body = BodyPose { front: 0.012, rear: -0.015, roll: 0.03 };
    let standing = RoadSolver::new(&car, &solver).stand(&body, 0.02).unwrap();
    let turn = road_of(&standing);
    for at in WheelPosition::ALL {
        let corner = standing.solved.axle(at.end).motion.corner(at.side);
        let spin = turn * corner.spin_axis * at.side.sign();
        let heading = spin.cross(&Vector3::z());
        assert_near!(of(&standing, at, "steer_to_road"), heading.y.atan2(heading.x), 1e-13);
        assert_near!(of(&standing, at, "camber_to_road"), -(spin.z * at.side.sign()).asin(), 1e-13);
        let points = solver.points(&standing.solved, at);
        let point = |hardpoint: Hardpoint| turn * points.iter().find(|(one, _)| *one == hardpoint).unwrap().1;
        let axis = point(Hardpoint::UpperBallJoint) - point(Hardpoint::LowerBallJoint);
        assert_near!(of(&standing, at, "caster_to_road"), (-axis.x).atan2(axis.z), 1e-13);
        let inboard = -at.side.sign() * axis.y;
        assert_near!(of(&standing, at, "steering_axis_inclination_to_road"), inboard.atan2(axis.z), 1e-13);
        // On a body level with the road both are one.
        let road = RoadSolver::new(&car, &solver);
        let level = Ground { normal: Vector3::z(), height: -0.01 };
        let level = road.stand(&road.body_over(&level), 0.02).unwrap();
        assert_near!(of(&level, at, "caster_to_road"), of(&level, at, "caster"), 1e-14);
        assert_near!(of(&level, at, "toe_to_road"), of(&level, at, "toe"), 1e-14);
    }
}

/// A corner whose hinges lie across the car: the side view is the linkage. Arms (x, z) from hinge to
/// ball joint, the wheel at x.
fn side_view_corner(x: f64, lower: [[f64; 2]; 2], upper: [[f64; 2]; 2]) -> wheelpath_geometry::Corner {
    use Hardpoint as P;
    let at = |[x, z]: [f64; 2], y: f64| Vector3::new(x, y, z);
    bare_corner(
        wheel(Vector3::new(x, 0.7, 0.3), Vector3::y(), 0.3),
        &[
            (P::LowerWishboneFront, at(lower[0], 0.75)),
            (P::LowerWishboneRear, at(lower[0], 0.55)),
            (P::LowerBallJoint, at(lower[1], 0.65)),
            (P::UpperWishboneFront, at(upper[0], 0.75)),
            (P::UpperWishboneRear, at(upper[0], 0.55)),
            (P::UpperBallJoint, at(upper[1], 0.65)),
            (P::ToeLinkInner, at(lower[0], 0.4)),
            (P::ToeLinkOuter, at(lower[1], 0.4)),
        ],
    )
}

fn meet([[a, b], [c, d]]: [[[f64; 2]; 2]; 2]) -> Vector2<f64> {
    let line = |p: [f64; 2], q: [f64; 2]| (Vector2::from(p), Vector2::new(p[1] - q[1], q[0] - p[0]));
    let ((p, m), (q, n)) = (line(a, b), line(c, d));
    crossing([p, q], [m, n])
}

/// The pitch centre is where the line from the front contact through the front instant centre meets
/// that from the rear contact through the rear one: a ruler on the side view.
#[test]
fn the_pitch_centre_with_a_ruler() {
    let front = [[[-0.5, 0.22], [0.0, 0.2]], [[-0.45, 0.36], [0.0, 0.4]]];
    let rear = [[[-1.9, 0.23], [-2.5, 0.2]], [[-2.0, 0.37], [-2.5, 0.4]]];
    let mut car = car(side_view_corner(0.0, front[0], front[1]), Steering::Fixed, 2.5);
    car.rear.left = side_view_corner(-2.5, rear[0], rear[1]);
    car.rear.right = car.rear.left.mirrored();
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    let standing = road.stand(&BodyPose::DESIGN, 0.0).unwrap();
    let by_contact = standing.pitch_centre([TorqueReaction::Upright; 2]);
    let by_ruler = |height: f64| {
        let through = |x: f64, instant: Vector2<f64>| [[x, height], [instant.x, instant.y]];
        meet([through(0.0, meet(front)), through(-2.5, meet(rear))])
    };
    let expected = by_ruler(0.0);
    assert_near!(by_contact.ahead.unwrap(), expected.x + 1.25, 1e-9);
    assert_near!(by_contact.height.unwrap(), expected.y, 1e-9);
    assert_near!(by_contact.ahead_inverse, 1.0 / (expected.x + 1.25), 1e-9);
    let by_centre = standing.pitch_centre([TorqueReaction::Body; 2]);
    let expected = by_ruler(0.3);
    assert_near!(by_centre.ahead.unwrap(), expected.x + 1.25, 1e-9);
    assert_near!(by_centre.height.unwrap(), expected.y, 1e-9);
    assert_eq!(road.pitch_centre_in_braking(&standing), by_contact);
}

/// Links level in side view: the lines lie on the road, and there is no crossing, which the inverse
/// says as nought or nothing.
#[test]
fn parallel_side_view_lines_have_no_pitch_centre() {
    let car = crate::roads::parallel_car();
    let solver = CarSolver::new(&car).unwrap();
    let standing = RoadSolver::new(&car, &solver).stand(&BodyPose::DESIGN, 0.0).unwrap();
    let centre = standing.pitch_centre([TorqueReaction::Upright; 2]);
    assert!(centre.ahead.is_none() && centre.height.is_none());
    assert_near!(centre.height_at_middle, 0.0, 1e-15);
}
