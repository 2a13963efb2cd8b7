//! The body's lean, and what the tyres show to the road in mid-corner.

use crate::roads::{ARM, BAR, BASE, HINGE, SPRINGS, named, road_of, sprung_car};
use wheelpath_geometry::{
    AntiRollBar, BarKind, BodyPose, Car, CarSolver, Cornering, End, GRAVITY, Gradients, Lacking, NoEstimate,
    RoadSolver, Side, Spring, Standing, TorqueReaction, WheelPosition, wheel_rate,
};
use wheelpath_tests::{assert_near, demo};

const TRACK: f64 = 2.0 * (HINGE + ARM);

/// The demo car with springs, bars and a mass.
fn sprung_alder() -> Car {
    let mut car = demo::alder();
    car.mass = Some(620.0);
    car.weight_share_front = Some(0.45);
    for at in WheelPosition::ALL {
        car.corner_mut(at).damper = None;
        car.corner_mut(at).spring = Some(Spring::OnDamper { rate: if at.index() < 2 { 45e3 } else { 52e3 } });
    }
    car.front.anti_roll_bar = Some(AntiRollBar { kind: BarKind::U, rate: Some(700.0) });
    car.rear.anti_roll_bar = Some(AntiRollBar { kind: BarKind::U, rate: Some(300.0) });
    car
}

/// Springs straight up at the wheels, level links: every number of the estimate by hand.
#[test]
fn the_estimate_of_a_plain_car_by_hand() {
    let mut car = sprung_car();
    car.brake_share_front = Some(0.6);
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    let estimate = road.estimate(-1.0).unwrap();
    let [mass, height, front] = [1000.0, 0.5, 0.55];
    let springs = SPRINGS.map(|rate| 0.5 * rate * TRACK * TRACK);
    let bar = BAR[0] * (TRACK / BAR[1]).powi(2);
    let whole = springs[0] + springs[1] + bar;
    for (axle, [springs, bar]) in estimate.from.axles.iter().zip([[springs[0], bar], [springs[1], 0.0]]) {
        assert_near!(axle.stiffness.roll_of_springs, springs, 1e-6);
        assert_near!(axle.stiffness.roll_of_bar, bar, 1e-6);
        assert_near!(axle.stiffness.track, TRACK, 1e-12);
        assert_near!(axle.roll_centre_height, 0.0, 1e-12);
    }
    assert_near!(estimate.roll_stiffness, whole, 1e-6);
    assert_near!(estimate.axles[0].roll_stiffness_share, (springs[0] + bar) / whole, 1e-12);
    // Gillespie's roll gradient (from memory): W h / (K - W h), W the weight.
    let roll = mass * height / (whole - mass * GRAVITY * height);
    assert_near!(estimate.gradients.roll, roll, 1e-12);
    // Braking: the front takes m h / L for each m/s², on two springs.
    let moved = mass * height / BASE;
    assert_near!(estimate.gradients.front, moved / (2.0 * SPRINGS[0]), 1e-12);
    assert_near!(estimate.gradients.rear, -moved / (2.0 * SPRINGS[1]), 1e-12);
    // All that goes over is the moment of the mass at its height, and of its weight as it leans.
    let transfer = estimate.axles[0].transfer() + estimate.axles[1].transfer();
    assert_near!(transfer * TRACK, mass * height + mass * GRAVITY * height * roll, 1e-9);
    let loads = estimate.loads(&Cornering::level(3.0, -2.0));
    assert_near!(loads.iter().sum::<f64>(), mass * GRAVITY, 1e-9);
    assert_near!(loads[0] + loads[1], mass * GRAVITY * front + 2.0 * moved, 1e-9);
    assert!(loads[1] > loads[0] && loads[3] > loads[2], "the right wheels gain in a left turn: {loads:?}");
}

/// Potential energy of springs and bars at a pose, up to a constant: each spring is pressed by its load
/// in the design pose.
fn energy(car: &Car, solver: &CarSolver, standing: &Standing, loads: [f64; 4]) -> f64 {
    let mut sum = 0.0;
    for at in WheelPosition::ALL {
        let length =
            |axle: &wheelpath_geometry::SolvedAxle| axle.motion.corner(at.side).damper.unwrap().value;
        let pressed = length(&solver.axle(at.end).start()) - length(standing.solved.axle(at.end));
        let Some(Spring::OnDamper { rate }) = car.corner(at).spring else { unreachable!() };
        sum += loads[at.index()] * pressed + 0.5 * rate * pressed * pressed;
    }
    for end in End::BOTH {
        let motion = &standing.solved.axle(end).motion;
        let twist = motion.left.bar.unwrap().value - motion.right.bar.unwrap().value;
        sum += 0.5 * car.axle(end).anti_roll_bar.unwrap().rate.unwrap() * twist * twist;
    }
    sum
}

/// Roll gradient by virtual work, with neither a roll centre nor a wheel rate in it: the energy of
/// springs, bars and weight bends against the work of the lateral forces, which act on the tyres where
/// they touch and on the mass at its height.
#[test]
fn the_roll_gradient_by_virtual_work() {
    let car = sprung_alder();
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    let estimate = road.estimate(0.0).unwrap();
    let mass = car.mass.unwrap();
    let spring_loads = {
        // Each spring alone carries its wheel: F r = N (n·u).
        WheelPosition::ALL.map(|at| {
            let axle = solver.axle(at.end).start();
            let corner = axle.motion.corner(at.side);
            let on = axle.motion.wheel(at.side);
            let rise = on.contact_velocity(corner).dot(&on.normal);
            car.wheel_loads(at.end).unwrap()[0] * rise / -corner.damper.unwrap().per_travel
        })
    };
    let gravity_centre = road.centre_of_gravity();
    let share = [0.45, 0.55];
    let step = 2e-3;
    // Energy, and sideways places in the road's axes of the mass and of the tyres' own points that are
    // at the contacts in the design pose.
    let at = |roll: f64| {
        let standing = road.stand(&BodyPose::rolled(roll), 0.0).unwrap();
        let turn = road_of(&standing);
        let weight = mass * GRAVITY * standing.ground.above(&gravity_centre);
        let aside = |end: End| {
            Side::BOTH.map(|side| {
                let start = solver.axle(end).start();
                let design = solver.axle(end).upright(&start, side);
                let now = solver.axle(end).upright(standing.solved.axle(end), side);
                let on_upright =
                    design.car_from_body.transpose() * (start.motion.wheel(side).contact - design.origin);
                (turn * now.point(&on_upright)).y
            })
        };
        let contacts: f64 = End::BOTH
            .iter()
            .zip(share)
            .map(|(&end, share)| {
                let [left, right] = aside(end);
                share * 0.5 * (left + right)
            })
            .sum();
        let work = mass * ((turn * gravity_centre).y - contacts);
        (energy(&car, &solver, &standing, spring_loads) + weight, work)
    };
    let [(e2, _), (e1, w1), (e0, _), (f1, v1), (f2, _)] = [-2.0, -1.0, 0.0, 1.0, 2.0].map(|i| at(i * step));
    let slope = (f1 - e1) / (2.0 * step);
    assert!(slope.abs() < 1e-3, "the design pose is in balance: {slope}");
    let stiffness = (-e2 + 16.0 * e1 - 30.0 * e0 + 16.0 * f1 - f2) / (12.0 * step * step);
    let lever = -(v1 - w1) / (2.0 * step);
    let roll = lever / stiffness;
    assert_near!(estimate.gradients.roll / roll, 1.0, 2e-5);
    assert_near!(mass * estimate.roll_lever / lever, 1.0, 2e-5);
}

/// A wheel's rate is the slope of its load along travel, and the next derivative that rate's slope:
/// by differences of solved poses.
#[test]
fn wheel_rates_are_slopes_of_the_wheels_load() {
    let car = sprung_alder();
    let solver = CarSolver::new(&car).unwrap();
    for end in End::BOTH {
        let axle = solver.axle(end);
        let loads = car.wheel_loads(end).unwrap();
        let Some(Spring::OnDamper { rate }) = car.axle(end).left.spring else { unreachable!() };
        for (left, steer) in [(0.0, 0.0), (0.02, 0.01), (-0.025, 0.0)] {
            let solved = axle.solve([left, 0.01], steer).unwrap();
            assert!(solved.motion.left.wheel_rate.is_none(), "only where it was asked for");
            let values = axle.rated(&solved).wheel_values(Side::Left);
            let [rated, gain] = ["wheel_rate", "wheel_rate_gain"].map(|key| values.get(named(key)).unwrap());
            let start = axle.start().motion.left;
            let on = axle.start().motion.left_on_ground;
            let design = start.damper.unwrap();
            let load = loads[0] * on.contact_velocity(&start).z / -design.per_travel;
            let force = |travel: f64| {
                let damper = axle.solve([travel, 0.01], steer).unwrap().motion.left.damper.unwrap();
                (load + rate * (design.value - damper.value)) * -damper.per_travel
            };
            let h = 5e-4;
            let [a, b, c, d, e] = [-2.0, -1.0, 0.0, 1.0, 2.0].map(|i| force(left + i * h));
            let slope = (a - 8.0 * b + 8.0 * d - e) / (12.0 * h);
            let bend = (-a + 16.0 * b - 30.0 * c + 16.0 * d - e) / (12.0 * h * h);
            assert_near!(rated / slope, 1.0, 1e-8, "{end} {left}");
            assert_near!(gain / bend, 1.0, 1e-5, "{end} {left}");
        }
    }
    // The text-book case: constant lever, no load: k r².
    assert_eq!(wheel_rate(40e3, 1e3, 0.5, 0.0, 0.0), [10e3, 0.0]);
}

/// A left turn leans the body to the right: its left side comes up, and the outer, right wheels show
/// positive camber by the roll that parallel links do not make up for.
#[test]
fn in_mid_corner_the_outer_wheels_lean_with_the_body() {
    let car = sprung_car();
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    let at = Cornering::level(6.0, -2.0);
    let (mid, estimate) = road.mid_corner_by_estimate(&at, 0.0).unwrap();
    let roll = 6.0 * estimate.gradients.roll;
    assert!(roll > 0.0);
    assert_near!(mid.standing.body.roll, roll, 1e-15);
    assert!(mid.standing.body.front < 0.0 && mid.standing.body.rear > 0.0 && mid.standing.pitch > 0.0);
    for wheel in WheelPosition::ALL {
        let shown = mid.wheels[wheel.index()];
        let turn = road_of(&mid.standing);
        let spin = turn * mid.standing.solved.wheel(wheel).spin_axis;
        assert_near!(shown.camber, -spin.z.asin(), 1e-14);
        assert_near!(shown.camber, -wheel.side.sign() * roll, 2e-4);
        assert_near!(shown.inclination, -wheel.side.sign() * shown.camber, 0.0);
        assert_near!(shown.toe, -wheel.side.sign() * shown.steer, 0.0);
        // The inner rear wheel droops, the outer front one is pressed in furthest.
        assert!(mid.standing.travel(wheel) <= mid.standing.travel(WheelPosition::ALL[1]));
        assert!(mid.standing.travel(wheel) >= mid.standing.travel(WheelPosition::ALL[2]));
    }
    // Given gradients are taken as they are.
    let given = Gradients::of_roll(0.004).with_pitch(-0.002, BASE);
    let mid = road.mid_corner(&at, 0.0, &given).unwrap();
    assert_near!(mid.standing.body.roll, 0.024, 1e-15);
    assert_near!(mid.standing.body.front, -0.005, 1e-15);
    assert_near!(mid.standing.body.rear, 0.005, 1e-15);
    assert_near!(mid.standing.pitch, 0.004, 1e-6);
}

/// Links take their share of the load change: what the catalogue's anti-dive, anti-lift and anti-squat
/// say is not pressed into the springs.
#[test]
fn links_carry_their_share_of_pitch() {
    let car = sprung_alder();
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    let reading = |end: End, key: &str| solver.axle(end).start().axle_values().get(named(key)).unwrap();
    let braking = road.estimate(-3.0).unwrap();
    assert_near!(braking.axles[0].carried.unwrap(), reading(End::Front, "anti_dive"), 1e-4);
    assert_near!(braking.axles[1].carried.unwrap(), reading(End::Rear, "anti_lift"), 1e-4);
    let driving = road.estimate(3.0).unwrap();
    assert_near!(driving.axles[1].carried.unwrap(), reading(End::Rear, "anti_squat"), 1e-4);
    assert_near!(driving.axles[0].carried.unwrap(), 0.0, 0.0);
    assert_eq!(car.rear.drive, Some(TorqueReaction::Body));
    // What they do not carry is on the springs: m h / L less that share, over the springs' rate.
    let moved = car.mass.unwrap() * car.centre_of_gravity_height.unwrap() / car.wheelbase;
    let on_springs = moved * (1.0 - reading(End::Front, "anti_dive"));
    let rise = on_springs / braking.from.axles[0].stiffness.heave;
    assert_near!(braking.gradients.front / rise, 1.0, 1e-4);
    assert!(braking.gradients.front > 0.0 && driving.gradients.rear < 0.0);
}

/// What a car lacks is told in full, and a car too soft to stand is refused.
#[test]
fn a_car_that_lacks_something_says_what() {
    let car = demo::alder();
    let solver = CarSolver::new(&car).unwrap();
    let Err(NoEstimate::Lacking(lacking)) = RoadSolver::new(&car, &solver).estimate(0.0) else { panic!() };
    assert!(lacking.contains(&Lacking::Mass) && lacking.contains(&Lacking::WeightShare));
    assert_eq!(lacking.iter().filter(|one| matches!(one, Lacking::Spring(_))).count(), 4);
    assert!(!lacking.contains(&Lacking::CentreOfGravityHeight));
    let mut soft = sprung_car();
    soft.centre_of_gravity_height = Some(9.0);
    let solver = CarSolver::new(&soft).unwrap();
    let falls = RoadSolver::new(&soft, &solver).estimate(0.0);
    assert!(matches!(falls, Err(NoEstimate::FallsOver(_))), "{falls:?}");
    let text = falls.unwrap_err().to_string();
    assert!(text.contains("falls over"), "{text}");
}
