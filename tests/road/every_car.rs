//! Every car file of the project on the road: every linkage, spring and bar.

use crate::roads::{lowest, road_of};
use nalgebra::{Matrix3, Vector3};
use wheelpath_geometry::{
    BodyPose, Car, CarSolver, Cornering, End, GRAVITY, Hardpoint, RoadContact, RoadSolver, Side, Spring,
    Standing, StaticLoads, Support, WheelPosition,
};
use wheelpath_tests::assert_near;
use wheelpath_tests::demo::{CARS, alder, car_of};

#[test]
fn every_car_stands_rests_and_turns() {
    for name in CARS {
        let car = car_of(name);
        let solver = CarSolver::new(&car).unwrap();
        let road = RoadSolver::new(&car, &solver);
        let [right, left] = car.front.steering.stops();
        for (body, steer) in [
            (BodyPose::DESIGN, 0.0),
            (BodyPose { front: 0.01, rear: -0.01, roll: 0.015 }, 0.3 * left),
            (BodyPose { front: -0.015, rear: 0.005, roll: -0.02 }, 0.5 * right),
            (BodyPose { front: 0.06, rear: 0.04, roll: 0.01 }, 0.0),
        ] {
            let standing = road.stand(&body, steer).unwrap_or_else(|stop| panic!("{name}: {stop}"));
            let turn = road_of(&standing);
            let down = |at: WheelPosition| lowest(&turn, standing.solved.wheel(at)).z;
            let ground = standing.ground.height;
            for at in WheelPosition::ALL {
                let round = car.corner(at).wheel.tyre_shoulder_radius;
                let above = match round {
                    // A disc: its lowest point in the road's own axes.
                    0.0 => down(at) - ground,
                    _ => standing.ground.gap(standing.solved.wheel(at)),
                };
                assert_near!(above, standing.footing(at).gap(), 2e-12, "{name} {at} {body:?}");
                assert!(standing.footing(at) == RoadContact::OnRoad || above > 0.0, "{name} {at}");
            }
            if standing.hanging().count() == 0 {
                let resting = road.rest(standing.solved.pose.travel, steer).unwrap();
                assert_eq!(resting.support, Support::Four, "{name} {body:?}");
                assert_near!(resting.body.roll, body.roll, 1e-11, "{name}");
                assert_near!(resting.body.front, body.front, 1e-11, "{name}");
            }
        }
        if car.front.steering.steers() {
            let [one, other] = road.locks().unwrap_or_else(|stop| panic!("{name}: {stop}"));
            for lock in [one, other] {
                let turn = lock.turn.unwrap_or_else(|none| panic!("{name}: {}", none.reason()));
                assert!(turn.kerb_circle > 4.0 && turn.kerb_circle < 30.0, "{name} {}", turn.kerb_circle);
                assert!(turn.wall_circle_of_tyres > turn.kerb_circle, "{name}");
            }
        }
    }
}

/// Energy of springs and bars at a pose, up to a constant, the springs pressed by these loads in the
/// design pose.
fn energy(car: &Car, solver: &CarSolver, standing: &Standing, loads: [[f64; 2]; 2]) -> f64 {
    let mut sum = 0.0;
    for (end, loads) in End::BOTH.into_iter().zip(loads) {
        let (start, now) = (solver.axle(end).start().motion, &standing.solved.axle(end).motion);
        for (side, load) in Side::BOTH.into_iter().zip(loads) {
            let spring = now.corner(side).pressed().unwrap();
            let by = spring.by.value - start.corner(side).pressed().unwrap().by.value;
            sum += load * by + 0.5 * spring.rate * by * by;
        }
        let axle = car.axle(end);
        if let (Some(twist), Some(rate)) = (now.bar_twist, axle.anti_roll_bar.and_then(|bar| bar.rate)) {
            sum += 0.5 * rate * twist.value * twist.value;
        }
        if let (Some(third), Some(rate)) = (now.third_spring, axle.third_spring.and_then(|third| third.rate))
        {
            let by = start.third_spring.unwrap().value - third.value;
            sum += 0.5 * rate * by * by;
        }
    }
    sum
}

/// Every car that tells its springs and mass leans as virtual work says: the energy of springs, bars and
/// weight against the work of the lateral forces at the tyres' contacts and the mass, and of what presses
/// it onto a banked road.
#[test]
fn every_sprung_car_leans_as_virtual_work_says() {
    let mut sprung = 0;
    for name in CARS {
        let mut car = car_of(name);
        // An axle without dampers gives way to the demo car's.
        for end in End::BOTH {
            if Side::BOTH.iter().any(|&side| car.axle(end).corner(side).springing.is_none()) {
                *car.axle_mut(end) = alder().axle(end).clone();
            }
        }
        for at in WheelPosition::ALL {
            car.corner_mut(at).damper = None;
        }
        // What a car does not tell is made up: rates of its springs, bars and third springs.
        for at in WheelPosition::ALL {
            let corner = car.corner_mut(at);
            corner.spring = corner.spring.or(Some(Spring::OnDamper { rate: 60e3 }));
        }
        for end in End::BOTH {
            let axle = car.axle_mut(end);
            if let Some(bar) = &mut axle.anti_roll_bar {
                bar.rate = bar.rate.or(Some(900.0));
            }
            if let Some(third) = &mut axle.third_spring {
                third.rate = third.rate.or(Some(40e3));
            }
        }
        car.mass = car.mass.or(Some(900.0));
        car.weight_share_front = car.weight_share_front.or(Some(0.5));
        car.centre_of_gravity_height = car.centre_of_gravity_height.or(Some(0.45));
        // A drag link goes to one side: it steers both wheels one way where the axle rises or rolls.
        let drags = |end: End| car.axle(end).hardpoints.get(Hardpoint::DragLinkInner).is_some();
        let alike =
            End::BOTH.iter().all(|&end| car.axle(end).left == car.axle(end).right.mirrored() && !drags(end));
        sprung += usize::from(leans(name, &car, alike));
        // Heavy on the left, and across: a car of equal sides is then loaded unlike too.
        car.static_loads = StaticLoads::Shares { left: Some(0.56), cross: Some(0.53) };
        leans(&format!("{name}, left heavy"), &car, false);
    }
    assert!(sprung >= 10, "{sprung} cars tell their springs");
}

/// Compares the estimate of a car with the curvature of its energy over both ride heights and roll; whether
/// there is an estimate.
fn leans(name: &str, car: &Car, alike: bool) -> bool {
    let solver = CarSolver::new(car).unwrap();
    let road = RoadSolver::new(car, &solver);
    let Ok(estimate) = road.estimate(0.0) else { return false };
    let mass = car.mass.unwrap();
    let loads = estimate.from.axles.map(|axle| axle.stiffness.loads);
    let gravity_centre = road.centre_of_gravity();
    let front = car.weight_share_front.unwrap();
    // Energy with the weight, height of the mass over the road, and its way sideways against the contacts'.
    let at = |[front_rise, rear_rise, roll]: [f64; 3]| {
        let standing = road.stand(&BodyPose { front: front_rise, rear: rear_rise, roll }, 0.0).unwrap();
        let turn = road_of(&standing);
        let aside = |end: End, side: Side| {
            let start = solver.axle(end).start();
            let design = solver.axle(end).upright(&start, side);
            let now = solver.axle(end).upright(standing.solved.axle(end), side);
            let arm = start.motion.wheel(side).contact - design.origin;
            (turn * now.point(&(design.car_from_body.transpose() * arm))).y
        };
        let contacts: f64 = [(End::Front, front), (End::Rear, 1.0 - front)]
            .into_iter()
            .map(|(end, share)| share * 0.5 * (aside(end, Side::Left) + aside(end, Side::Right)))
            .sum();
        let height = standing.ground.above(&gravity_centre);
        let work = mass * ((turn * gravity_centre).y - contacts);
        (energy(car, &solver, &standing, loads) + mass * GRAVITY * height, height, work)
    };
    let steps = [5e-4, 5e-4, 1e-3];
    let unit = |i: usize, by: f64| {
        let mut q = [0.0; 3];
        q[i] = by * steps[i];
        q
    };
    let plus = |a: [f64; 3], b: [f64; 3]| [a[0] + b[0], a[1] + b[1], a[2] + b[2]];
    let middle = at([0.0; 3]).0;
    let mut curvature = Matrix3::zeros();
    let mut rises = Vector3::zeros();
    for i in 0..3 {
        let [(e2, ..), (e1, h1, _), (f1, g1, _), (f2, ..)] = [-2.0, -1.0, 1.0, 2.0].map(|by| at(unit(i, by)));
        // The springs carry the weight in the design pose, each its own wheel's. A file's tyres stand on one
        // plane but for a few tenths of a millimetre, which the springs take.
        let slope = (f1 - e1) / (2.0 * steps[i]);
        let stiff = (-e2 + 16.0 * e1 - 30.0 * middle + 16.0 * f1 - f2) / (12.0 * steps[i] * steps[i]);
        assert!(slope.abs() < 2e-4 * stiff.abs() + 1e-2, "{name}: no balance, {i}: {slope} N or N·m");
        curvature[(i, i)] = stiff;
        rises[i] = (g1 - h1) / (2.0 * steps[i]);
        for j in 0..i {
            let corner = |a: f64, b: f64| at(plus(unit(i, a), unit(j, b))).0;
            let mixed = corner(1.0, 1.0) - corner(1.0, -1.0) - corner(-1.0, 1.0) + corner(-1.0, -1.0);
            curvature[(i, j)] = mixed / (4.0 * steps[i] * steps[j]);
            curvature[(j, i)] = curvature[(i, j)];
        }
    }
    let lever = -(at(unit(2, 1.0)).2 - at(unit(2, -1.0)).2) / (2.0 * steps[2]);
    let gives = curvature.try_inverse().unwrap();
    // A toed wheel's contact wanders sideways as its arm turns, which the estimate leaves out: a
    // ten-thousandth. Where left and right differ, an axle's roll centre is not midway between its wheels.
    let allowed = if alike { 2e-4 } else { 5e-3 };
    let by_lateral = gives * Vector3::new(0.0, 0.0, lever);
    assert_near!(estimate.gradients.roll / by_lateral.z, 1.0, allowed, "{name}");
    // Banked so that nothing pulls sideways: only the load onto the road grows, by a five-hundredth.
    let banking: f64 = 0.06;
    let neutral = Cornering { lateral: GRAVITY * banking.tan(), longitudinal: 0.0, banking };
    let more = neutral.on_road().normal - GRAVITY;
    assert!(neutral.on_road().lateral.abs() < 1e-12 && more > 0.0);
    let pressed = gives * rises * (-mass * more);
    let pose = estimate.pose(&neutral);
    for (found, expected) in [pose.front, pose.rear].into_iter().zip([pressed.x, pressed.y]) {
        assert_near!(found / expected, 1.0, 1e-2, "{name}");
    }
    assert_near!(pose.roll, pressed.z, 2e-2 * pressed.z.abs() + 1e-7, "{name}");
    true
}

/// What a drag link to one side makes unlike is where the tyres touch as the wheels steer: about king pins through the
/// contacts they touch where they did, and the axle leans as one of equal sides.
#[test]
fn an_axle_with_king_pins_through_its_contacts_leans_as_one_of_equal_sides() {
    let mut car = car_of("examples/linkages/steered_beam_axle.ron");
    car.rear = alder().rear;
    for at in WheelPosition::ALL {
        let corner = car.corner_mut(at);
        corner.damper = None;
        corner.spring = corner.spring.or(Some(Spring::OnDamper { rate: 60e3 }));
    }
    car.mass = Some(900.0);
    car.weight_share_front = Some(0.5);
    for side in Side::BOTH {
        let corner = car.front.corner_mut(side);
        let upright = |z: f64| Vector3::new(0.0, corner.wheel.centre.y, z);
        let (lower, upper) = (upright(0.25), upright(0.47));
        corner.hardpoints.set(Hardpoint::KingPinLower, lower);
        corner.hardpoints.set(Hardpoint::KingPinUpper, upper);
        corner.wheel.spin_axis = Vector3::new(0.0, side.sign(), 0.0);
    }
    assert!(leans("king pins through the contacts", &car, true));
}
