//! The body held over the road, every wheel brought down to it.

use crate::roads::{ARM, BASE, HINGE, RADIUS, all_touch, heights, of, parallel_car};
use nalgebra::Vector3;
use proptest::prelude::*;
use wheelpath_geometry::{
    BodyPose, Car, CarSolver, DamperStops, End, Exceeded, Holding, RoadContact, RoadSolver, Side, StopKind,
    WheelPosition,
};
use wheelpath_tests::{assert_near, demo};

const FRONT_LEFT: WheelPosition = WheelPosition::ALL[0];
const REAR_LEFT: WheelPosition = WheelPosition::ALL[2];

fn body() -> impl Strategy<Value = BodyPose> {
    (-0.02..0.02, -0.02..0.02, -0.03..0.03).prop_map(|(front, rear, roll)| BodyPose { front, rear, roll })
}

fn without_stops(mut car: Car) -> Car {
    for at in WheelPosition::ALL {
        car.corner_mut(at).damper = None;
    }
    car
}

/// Contacts of the demo car in its design pose: on the ground, midway.
fn alder_feet() -> [Vector3<f64>; 2] {
    let solver = CarSolver::new(&demo::alder()).unwrap();
    End::BOTH.map(|end| {
        let axle = solver.start().axle(end).motion;
        let foot = |side| crate::roads::lowest(&nalgebra::Rotation3::identity(), axle.corner(side));
        (foot(Side::Left) + foot(Side::Right)) * 0.5
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    /// One plane touches all four tyres, the body stands where it was asked to, in the road's axes.
    #[test]
    fn every_tyre_touches_the_one_road(body in body(), steer in -0.03..0.03) {
        let car = without_stops(demo::alder());
        let solver = CarSolver::new(&car).unwrap();
        let standing = RoadSolver::new(&car, &solver).stand(&body, steer).unwrap();
        prop_assert!(all_touch(&standing));
        let (tyres, feet) = heights(&standing, alder_feet());
        for height in tyres {
            assert_near!(height, 0.0, 1e-12);
        }
        assert_near!(feet[0], body.front, 1e-14);
        assert_near!(feet[1], body.rear, 1e-14);
    }

    /// The mirrored pose is the pose in the mirror.
    #[test]
    fn left_and_right_are_mirror_images(body in body(), steer in -0.03..0.03) {
        let car = without_stops(demo::alder());
        let solver = CarSolver::new(&car).unwrap();
        let road = RoadSolver::new(&car, &solver);
        let one = road.stand(&body, steer).unwrap();
        let other = road.stand(&BodyPose { roll: -body.roll, ..body }, -steer).unwrap();
        for at in WheelPosition::ALL {
            let across = WheelPosition { side: at.side.other(), ..at };
            assert_near!(one.travel(at), other.travel(across), 1e-13);
            for key in ["camber_to_road", "toe_to_road", "caster_to_road", "steering_axis_inclination_to_road"] {
                assert_near!(of(&one, at, key), of(&other, across, key), 1e-12, "{key}");
            }
            assert_near!(of(&one, at, "steer_to_road"), -of(&other, across, "steer_to_road"), 1e-12);
        }
    }

    /// Coming from another pose of the road changes nothing.
    #[test]
    fn the_way_there_does_not_matter(a in body(), b in body(), steer in -0.03..0.03) {
        let car = without_stops(demo::alder());
        let solver = CarSolver::new(&car).unwrap();
        let road = RoadSolver::new(&car, &solver);
        let there = road.stand(&b, steer).unwrap();
        let back = road.stand_from(&road.stand(&a, -steer).unwrap(), &b, steer).unwrap();
        let near = BodyPose { front: b.front + 2e-3, rear: b.rear - 1e-3, roll: b.roll + 1e-3 };
        let step = road.stand_from(&road.stand_from(&there, &near, steer + 1e-3).unwrap(), &b, steer).unwrap();
        for at in WheelPosition::ALL {
            assert_near!(there.travel(at), back.travel(at), 1e-12);
            assert_near!(there.travel(at), step.travel(at), 1e-12);
            let link = |standing: &wheelpath_geometry::Standing| standing.solved.axle(at.end).residual(at.side);
            assert!(link(&step) < 1e-12 && link(&back) < 1e-12);
        }
    }
}

/// Roll of the parallel-link car in closed form: the wheel centre is on an arc about the hinge, and
/// the wheel leans with the body. `L sin(b + r) = -y sin r` with `b` the arm's angle, `y` the hinge.
#[test]
fn roll_of_parallel_links_by_hand() {
    let car = parallel_car();
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    for roll in [-0.06, -0.01, 0.0, 0.025, 0.05_f64] {
        let standing = road.stand(&BodyPose::rolled(roll), 0.0).unwrap();
        for at in WheelPosition::ALL {
            let lean = at.side.sign() * roll;
            let arm = -lean - (HINGE * lean.sin() / ARM).asin();
            assert_near!(standing.travel(at), ARM * arm.sin(), 1e-13);
            assert_near!(of(&standing, at, "camber_to_road"), -lean, 1e-13);
            assert_near!(of(&standing, at, "toe_to_road"), 0.0, 1e-13);
        }
        assert_near!(standing.pitch, 0.0, 1e-15);
    }
}

/// Pitch of the parallel-link car: the wheel centres stay in their planes across the body, so
/// `z = (R - rise) / cos p` over the point whose rise is given.
#[test]
fn pitch_of_parallel_links_by_hand() {
    let car = parallel_car();
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    for (front, rear) in [(-0.02, 0.03), (0.03, 0.03), (0.04, -0.01)] {
        let standing = road.stand(&BodyPose { front, rear, roll: 0.0 }, 0.0).unwrap();
        let pitch = ((rear - front) / BASE).asin();
        assert_near!(standing.pitch, pitch, 1e-15);
        for at in WheelPosition::ALL {
            let rise = if at.end == End::Front { front } else { rear };
            assert_near!(standing.travel(at), (RADIUS - rise) / pitch.cos() - RADIUS, 1e-13);
            // The upright's line leans with the body's pitch: nose down takes caster away.
            assert_near!(of(&standing, at, "caster_to_road"), of(&standing, at, "caster") - pitch, 1e-13);
        }
        let (rise, roll) = (0.5 * (front + rear), 0.0);
        let same = road.body_at(rise, roll, pitch).unwrap();
        assert_near!(same.front, front, 1e-14);
        assert_near!(same.rear, rear, 1e-14);
    }
}

/// Lifted further than its dampers reach, the car hangs on them.
#[test]
fn wheels_hang_from_their_dampers() {
    let car = demo::alder();
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    let lift = 0.08;
    let standing = road.stand(&BodyPose::raised(lift), 0.0).unwrap();
    let (tyres, _) = heights(&standing, alder_feet());
    for at in WheelPosition::ALL {
        let longest = car.corner(at).damper.unwrap().longest;
        // Where the damper is at its longest, by halving.
        let (mut low, mut high) = (-0.08, 0.0);
        for _ in 0..60 {
            let middle = 0.5 * (low + high);
            let length = solver.corner(at).unwrap().solve(middle, 0.0).unwrap().motion.damper.unwrap().value;
            if length > longest { low = middle } else { high = middle }
        }
        assert_near!(standing.travel(at), low, 1e-12);
        let RoadContact::Hanging { gap, by } = standing.footing(at) else { panic!("{at} does not hang") };
        assert_eq!(by, Holding::Damper);
        assert_near!(gap, tyres[at.index()], 1e-13);
        assert!(gap > 0.02 && gap < lift, "{gap}");
    }
    assert_eq!(standing.hanging().count(), 4);
    assert!(standing.exceeded.is_empty(), "{:?}", standing.exceeded);
}

/// Rolled far, the car lifts the wheels of one side and keeps the others down.
#[test]
fn one_side_hangs_and_the_other_stays_down() {
    let car = demo::alder();
    let solver = CarSolver::new(&car).unwrap();
    let standing = RoadSolver::new(&car, &solver).stand(&BodyPose::rolled(0.075), 0.0).unwrap();
    for at in WheelPosition::ALL {
        let hangs = matches!(standing.footing(at), RoadContact::Hanging { .. });
        assert_eq!(hangs, at.side == Side::Left, "{at}");
    }
    // The others are pressed in further than their dampers let them, and that is said.
    for end in End::BOTH {
        let wheel = WheelPosition { end, side: Side::Right };
        let said =
            |found: &&Exceeded| matches!(found, Exceeded::DamperShort { wheel: one, .. } if *one == wheel);
        assert!(standing.exceeded.iter().any(|found| said(&found)), "{:?}", standing.exceeded);
    }
}

/// A damper so long that the links end first: the wheel hangs where the wishbones stand on end.
#[test]
fn wheels_hang_from_their_links() {
    let car = parallel_car();
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    let lift = ARM + 0.05;
    let standing = road.stand(&BodyPose::raised(lift), 0.0).unwrap();
    for at in WheelPosition::ALL {
        let RoadContact::Hanging { gap, by } = standing.footing(at) else { panic!("{at} does not hang") };
        assert_eq!(by, Holding::Linkage);
        assert_near!(standing.travel(at), -ARM, 1e-7);
        assert_near!(gap, lift - ARM, 1e-7);
    }
}

/// Sunk deeper than its links let the wheels rise, there is no pose, and the wheel is named.
#[test]
fn a_wheel_forced_past_its_links_is_a_stop() {
    let car = parallel_car();
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    let stop = road.stand(&BodyPose { front: 0.0, rear: -ARM - 0.01, roll: 0.0 }, 0.0).unwrap_err();
    assert_eq!(stop.kind, StopKind::DeadPoint);
    assert_eq!(stop.wheel, Some(REAR_LEFT));
    assert_near!(stop.travel, ARM, 1e-7);
    let none = road.stand(&BodyPose { front: f64::NAN, rear: 0.0, roll: 0.0 }, 0.0).unwrap_err();
    assert_eq!(none.kind, StopKind::NotFinite);
    // Both axles in one place carry no body.
    let mut folded = parallel_car();
    folded.rear = folded.front.clone();
    let solver = CarSolver::new(&folded).unwrap();
    let none = RoadSolver::new(&folded, &solver).stand(&BodyPose::DESIGN, 0.0).unwrap_err();
    assert_eq!(none.kind, StopKind::NoMechanism);
}

/// One damper shorter than the others: its wheel alone comes off.
#[test]
fn one_wheel_alone_hangs() {
    let mut car = demo::alder();
    car.corner_mut(FRONT_LEFT).damper = Some(DamperStops { shortest: 0.195, longest: 0.235 });
    let solver = CarSolver::new(&car).unwrap();
    let standing = RoadSolver::new(&car, &solver).stand(&BodyPose::raised(0.02), 0.0).unwrap();
    let hanging: Vec<_> = standing.hanging().collect();
    assert_eq!(hanging.len(), 1);
    assert_eq!(hanging[0].0, FRONT_LEFT);
    assert!(hanging[0].1 > 0.005, "{hanging:?}");
}

/// A car whose sides are alike in nothing: other tyres, other points, another track.
#[test]
fn unlike_sides_come_down_to_one_road() {
    let mut car = without_stops(demo::alder());
    for (end, by) in [(End::Front, 0.006), (End::Rear, -0.004)] {
        let corner = &mut car.axle_mut(end).right;
        corner.wheel.tyre_radius += by;
        corner.wheel.centre += Vector3::new(0.01, by, -by);
        let points: Vec<_> = corner.hardpoints.iter().collect();
        for (i, (hardpoint, at)) in points.into_iter().enumerate() {
            let off = f64::from(u8::try_from(i % 5).unwrap()) - 2.0;
            corner.hardpoints.set(hardpoint, at + Vector3::new(1e-3 * off, -1e-3 * off, 8e-4 * off));
        }
    }
    let solver = CarSolver::new(&car).unwrap();
    let feet = End::BOTH.map(|end| {
        let axle = solver.start().axle(end).motion;
        let foot = |side| crate::roads::lowest(&nalgebra::Rotation3::identity(), axle.corner(side));
        (foot(Side::Left) + foot(Side::Right)) * 0.5
    });
    let road = RoadSolver::new(&car, &solver);
    for body in [BodyPose::DESIGN, BodyPose { front: -0.01, rear: 0.012, roll: -0.02 }] {
        let standing = road.stand(&body, -0.015).unwrap();
        assert!(all_touch(&standing));
        let (tyres, feet) = heights(&standing, feet);
        for height in tyres {
            assert_near!(height, 0.0, 1e-12);
        }
        assert_near!(feet[0], body.front, 1e-14);
        assert_near!(feet[1], body.rear, 1e-14);
        assert!(
            (standing.travel(WheelPosition::ALL[0]) - standing.travel(WheelPosition::ALL[1])).abs() > 1e-3
        );
    }
}
