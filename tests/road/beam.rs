//! A beam axle on the road: both wheels are on one body.

use crate::roads::{all_touch, lowest, named, road_of, sprung_car};
use nalgebra::Vector3;
use std::path::Path;
use wheelpath_geometry::{
    Axle, BodyPose, Car, CarSolver, Component, Corner, DamperStops, End, Hardpoint, Hardpoints, LinkageKind,
    RoadContact, RoadSolver, Side, Spring, Springing, Steering, Support, TorqueReaction, Wheel,
    WheelPosition,
};
use wheelpath_tests::{assert_near, demo, reference_car};

const REAR: [WheelPosition; 2] = [WheelPosition::ALL[2], WheelPosition::ALL[3]];

/// The axle of the calibration file behind the demo car.
fn alder_on_a_beam() -> Car {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("calibration/ba20_panhard_three_link.json");
    let file = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
    let mut car = demo::alder();
    // The file's axle stands at the front.
    let mut axle = reference_car::car(&file).rear;
    let behind = Vector3::x() * (axle.left.wheel.centre.x - car.rear.left.wheel.centre.x);
    let moved = |hardpoints: &mut Hardpoints| {
        let points: Vec<_> = hardpoints.iter().collect();
        for (hardpoint, at) in points {
            hardpoints.set(hardpoint, at - behind);
        }
    };
    moved(&mut axle.hardpoints);
    for side in Side::BOTH {
        moved(&mut axle.corner_mut(side).hardpoints);
        axle.corner_mut(side).wheel.centre -= behind;
    }
    car.rear = axle;
    for at in WheelPosition::ALL {
        car.corner_mut(at).damper = None;
    }
    car
}

/// One plane, four tyres, though each wheel of the axle moves the other.
#[test]
fn a_beam_axle_comes_down_to_the_road() {
    let car = alder_on_a_beam();
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    for body in [
        BodyPose { front: 0.01, rear: -0.015, roll: 0.03 },
        BodyPose { front: -0.01, rear: 0.03, roll: -0.045 },
    ] {
        let standing = road.stand(&body, 0.01).unwrap();
        assert!(all_touch(&standing));
        let turn = road_of(&standing);
        let heights = WheelPosition::ALL.map(|at| lowest(&turn, standing.solved.wheel(at)).z);
        for height in heights {
            assert_near!(height, heights[0], 1e-12);
        }
        // A beam keeps its wheels as upright to the road as it is itself.
        let [left, right] = REAR.map(|at| standing.to_road(at).camber);
        let design = REAR.map(|at| road.stand(&BodyPose::DESIGN, 0.0).unwrap().to_road(at).camber);
        assert_near!(left + right, design[0] + design[1], 1e-4);
        let resting = road.rest(standing.solved.pose.travel, 0.01).unwrap();
        assert_eq!(resting.support, Support::Four);
        assert_near!(resting.body.roll, body.roll, 1e-12);
    }
}

/// Half the distance between the springs of [`beam_car`], and between its tyres, metres.
const SPRING_BASE: f64 = 0.4;
const HALF_TRACK: f64 = 0.7;
const RATE: f64 = 25e3;

/// A beam axle on four links along the car, all of one length and level, and a Panhard rod across it at
/// wheel-centre height, with upright springs further in than the wheels.
fn beam_car() -> Car {
    let mut car = sprung_car();
    let x = car.rear.left.wheel.centre.x;
    let corner = |side: f64| {
        let at = |x_off: f64, y: f64, z: f64| Vector3::new(x + x_off, side * y, z);
        let wheel = Wheel {
            centre: at(0.0, HALF_TRACK, 0.3),
            spin_axis: Vector3::y() * side,
            ..car.rear.left.wheel.clone()
        };
        let mut hardpoints = Hardpoints::default();
        hardpoints.set(Hardpoint::LowerLinkInner, at(0.5, 0.5, 0.2));
        hardpoints.set(Hardpoint::LowerLinkOuter, at(0.0, 0.5, 0.2));
        hardpoints.set(Hardpoint::DamperRocker, at(0.0, SPRING_BASE, 0.3));
        hardpoints.set(Hardpoint::DamperBody, at(0.0, SPRING_BASE, 0.8));
        let mut corner = Corner::new(LinkageKind::BeamAxle, wheel, hardpoints);
        corner.springing = Some(Springing::Direct { on: Component::Upright });
        corner.spring = Some(Spring::OnDamper { rate: RATE });
        corner
    };
    let mut axle = Axle::new(Steering::Fixed, corner(1.0), corner(-1.0));
    axle.hardpoints.set(Hardpoint::TopLinkInner, Vector3::new(x + 0.5, 0.0, 0.42));
    axle.hardpoints.set(Hardpoint::TopLinkOuter, Vector3::new(x, 0.0, 0.42));
    axle.hardpoints.set(Hardpoint::PanhardRodBody, Vector3::new(x, 0.5, 0.3));
    axle.hardpoints.set(Hardpoint::PanhardRodAxle, Vector3::new(x, -0.5, 0.3));
    car.rear = axle;
    car
}

/// Springs of a beam axle stand closer together than its wheels: in heave they count in full, in roll by
/// the square of their own distance.
#[test]
fn springs_of_a_beam_work_in_roll_at_their_own_distance() {
    let car = beam_car();
    let solver = CarSolver::new(&car).unwrap();
    let unloaded = solver.axle(End::Rear).stiffness([0.0; 2]).unwrap();
    assert_near!(unloaded.heave, 2.0 * RATE, 1e-6);
    assert_near!(unloaded.roll_of_springs, 2.0 * RATE * SPRING_BASE * SPRING_BASE, 1e-6);
    assert_near!(unloaded.track, 2.0 * HALF_TRACK, 1e-12);
    // Each carries its own wheel, whatever the lever: the axle stays level.
    let loads = solver.axle(End::Rear).stiffness([2000.0; 2]).unwrap().loads;
    assert_near!(loads[0], 2000.0, 1e-8);
    assert_near!(loads[1], 2000.0, 1e-8);
    // A load on one wheel alone levers the springs past each other.
    let loads = solver.axle(End::Rear).stiffness([2000.0, 0.0]).unwrap().loads;
    assert_near!(loads[0], 1000.0 * (1.0 + HALF_TRACK / SPRING_BASE), 1e-8);
    assert_near!(loads[1], 1000.0 * (1.0 - HALF_TRACK / SPRING_BASE), 1e-8);
}

/// Lifted and rolled until one damper is at its longest, the axle hangs from that one and stands on the
/// other wheel; lifted further, it hangs from both.
#[test]
fn a_beam_hangs_from_its_dampers() {
    let mut car = beam_car();
    for at in REAR {
        car.corner_mut(at).damper = Some(DamperStops { shortest: 0.4, longest: 0.53 });
    }
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    let lengths = |standing: &wheelpath_geometry::Standing| {
        REAR.map(|at| standing.solved.wheel(at).damper.unwrap().value)
    };
    let one = road.stand(&BodyPose { front: 0.0, rear: 0.02, roll: 0.06 }, 0.0).unwrap();
    let [left, right] = lengths(&one);
    assert_near!(left, 0.53, 1e-12);
    assert!(right < 0.529);
    assert!(matches!(one.footing(REAR[0]), RoadContact::Hanging { .. }));
    assert_eq!(one.footing(REAR[1]), RoadContact::OnRoad);
    let turn = road_of(&one);
    let [fl, fr, rl, rr] = WheelPosition::ALL.map(|at| lowest(&turn, one.solved.wheel(at)).z);
    assert_near!(fl, fr, 1e-12);
    assert_near!(rr, fl, 1e-12);
    assert_near!(rl - fl, one.footing(REAR[0]).gap(), 1e-12);
    let both = road.stand(&BodyPose { front: 0.0, rear: 0.08, roll: 0.0 }, 0.0).unwrap();
    for length in lengths(&both) {
        assert_near!(length, 0.53, 1e-12);
    }
    assert_eq!(both.hanging().count(), 2);
}

/// The links along the car are level and parallel: neither braking nor driving lifts the body, and the
/// roll centre is where the Panhard rod crosses the middle.
#[test]
fn level_links_carry_no_pitch() {
    let mut car = beam_car();
    car.brake_share_front = Some(0.6);
    let solver = CarSolver::new(&car).unwrap();
    let standing = RoadSolver::new(&car, &solver).stand(&BodyPose::DESIGN, 0.0).unwrap();
    let values = standing.solved.axle(End::Rear).axle_values();
    assert_near!(values.get(named("anti_lift")).unwrap(), 0.0, 1e-12);
    assert_near!(values.get(named("roll_centre_height")).unwrap(), 0.3, 1e-12);
    let mirror = Side::BOTH.map(|side| standing.solved.axle(End::Rear).motion.in_heave(side).v.z);
    assert_near!(mirror[0], 1.0, 1e-12);
    assert_near!(mirror[1], 1.0, 1e-12);
}

/// Forward movement per rise with both wheels travelling together, by differences of the axle's pose:
/// the points of the axle that are at the contacts, and the wheel centres.
#[test]
fn the_pitch_slope_of_a_beam_is_that_of_both_wheels_together() {
    let car = alder_on_a_beam();
    let solver = CarSolver::new(&car).unwrap();
    let axle = solver.axle(End::Rear);
    let start = axle.start();
    let h = 1e-4;
    let [up, down] = [h, -h].map(|travel| axle.solve([travel; 2], 0.0).unwrap());
    let slope = |place: &dyn Fn(Side) -> Vector3<f64>| {
        let of = |side: Side| {
            let design = axle.upright(&start, side);
            let arm = design.car_from_body.transpose() * (place(side) - design.origin);
            let moved = axle.upright(&up, side).point(&arm) - axle.upright(&down, side).point(&arm);
            moved.x / moved.z
        };
        0.5 * (of(Side::Left) + of(Side::Right))
    };
    let contact = slope(&|side| start.motion.wheel(side).contact);
    let centre = slope(&|side| start.motion.corner(side).wheel_centre);
    assert_near!(start.motion.pitch_slope(TorqueReaction::Upright), contact, 1e-8);
    assert_near!(start.motion.pitch_slope(TorqueReaction::Body), centre, 1e-8);
    assert!(contact.abs() > 1e-2, "the links are inclined: {contact}");
}
