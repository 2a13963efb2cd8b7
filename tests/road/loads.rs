//! Static loads by moment balances, and banked roads by the free body of a car.

use crate::roads::{BASE, sprung_car};
use nalgebra::{Matrix4, Vector3, Vector4};
use wheelpath_geometry::{
    Car, CarSolver, Cornering, End, GRAVITY, Gradients, NoEstimate, OnGround, RoadSolver, Side, Spring,
    StaticLoads, WheelPosition, check,
};
use wheelpath_tests::outside::{numbers, stored};
use wheelpath_tests::{assert_near, demo};

const TRACK: f64 = 1.2;

/// The four sums that scales give, as four linear equations: all, front, left, cross.
#[test]
fn shares_of_the_weight_by_four_equations() {
    #[rustfmt::skip]
    let sums = Matrix4::new(
        1.0, 1.0, 1.0, 1.0,
        1.0, 1.0, 0.0, 0.0,
        1.0, 0.0, 1.0, 0.0,
        0.0, 1.0, 1.0, 0.0,
    );
    for [front, left, cross] in [[0.5, 0.5, 0.5], [0.52, 0.56, 0.535], [0.44, 0.5, 0.48], [0.6, 0.45, 0.55]] {
        let mut car = sprung_car();
        car.weight_share_front = Some(front);
        car.static_loads = StaticLoads::Shares { left: Some(left), cross: Some(cross) };
        let expected = sums.lu().solve(&Vector4::new(1.0, front, left, cross)).unwrap();
        let loads = car.static_wheel_loads().unwrap();
        for (load, share) in loads.iter().zip(expected.iter()) {
            assert_near!(load / (1000.0 * GRAVITY), *share, 1e-14);
        }
        // The same loads, weighed, say the same of the car.
        let mut weighed = car.clone();
        (weighed.mass, weighed.weight_share_front) = (None, None);
        weighed.static_loads = StaticLoads::Weighed(loads);
        assert_near!(weighed.whole_mass().unwrap(), 1000.0, 1e-10);
        assert_near!(weighed.front_share().unwrap(), front, 1e-14);
        let [found_left, found_cross] = weighed.left_and_cross_share().unwrap();
        assert_near!(found_left, left, 1e-14);
        assert_near!(found_cross, cross, 1e-14);
    }
}

/// Statics of a rigid body: moments of the tyres' loads about any axis are that of the weight at the
/// centre of gravity (text-books of statics, from memory: equilibrium of parallel forces).
#[test]
fn the_centre_of_gravity_is_where_the_loads_balance() {
    let mut car = demo::car_of("demo-cars/hazel.ron");
    let StaticLoads::Weighed(loads) = car.static_loads else { panic!("{:?}", car.static_loads) };
    let balance = |car: &Car, loads: [f64; 4]| {
        let solver = CarSolver::new(car).unwrap();
        let road = RoadSolver::new(car, &solver);
        let centre = road.centre_of_gravity();
        let weight: f64 = loads.iter().sum();
        for [x, y] in [[0.0, 0.0], [-1.3, 0.7], [2.0, -5.0]] {
            let moments =
                WheelPosition::ALL.into_iter().zip(loads).fold([0.0; 2], |[along, across], (at, load)| {
                    let on = OnGround::of(solver.start().wheel(at), Vector3::z()).contact;
                    [along + load * (on.x - x), across + load * (on.y - y)]
                });
            assert_near!(moments[0] / weight, centre.x - x, 1e-12);
            assert_near!(moments[1] / weight, centre.y - y, 1e-12);
        }
        centre
    };
    let centre = balance(&car, loads);
    assert!(centre.y > 0.05, "heavy on the left: {centre}");
    // The scales of the file: 342, 303, 368 and 277 kg are 1290.
    assert_near!(car.whole_mass().unwrap(), 1290.0, 1e-9);
    assert_near!(loads[0] / GRAVITY, 342.0, 1e-9);
    // Without loads: midway between the wheels.
    car.static_loads = StaticLoads::Unknown;
    let half = car.wheel_loads(End::Front).unwrap();
    assert_near!(half[0], half[1], 0.0);
    balance(&car, [half[0], half[1], half[0], half[1]]);
    // What has to be assumed is said, and only that.
    assert!(car.static_loads.assumption().unwrap().contains("equally"));
    assert_eq!(StaticLoads::Weighed(loads).assumption(), None);
    let one = |left, cross| StaticLoads::Shares { left, cross }.assumption().map(str::to_owned);
    assert!(one(Some(0.55), None).unwrap().contains("cross weight is not given"));
    assert!(one(None, Some(0.52)).unwrap().contains("left weight is not given"));
    assert_eq!(one(Some(0.55), Some(0.52)), None);
}

/// At 0 g the four tyres carry what the scales say, and stand still.
#[test]
fn at_no_acceleration_the_loads_are_those_of_the_scales() {
    for name in ["demo-cars/hazel.ron", "demo-cars/rowan.ron"] {
        let car = demo::car_of(name);
        let solver = CarSolver::new(&car).unwrap();
        let (bend, estimate) =
            RoadSolver::new(&car, &solver).mid_corner_by_estimate(&Cornering::default(), 0.0).unwrap();
        let scales = car.static_wheel_loads().unwrap();
        for (load, scale) in estimate.loads(&Cornering::default()).into_iter().zip(scales) {
            assert_near!(load, scale, 1e-9);
        }
        assert_near!(bend.standing.body.roll, 0.0, 1e-15);
        // The springs hold just that: the work of their forces along each travel is that of the loads.
        for end in End::BOTH {
            let loads = car.wheel_loads(end).unwrap();
            let stiffness = solver.axle(end).stiffness(loads).unwrap();
            let start = solver.axle(end).start();
            if solver.axle(end).corner(Side::Left).is_some() {
                for (side, (load, spring)) in
                    Side::BOTH.into_iter().zip(loads.into_iter().zip(stiffness.loads))
                {
                    let corner = start.motion.corner(side);
                    let ratio = -corner.damper.unwrap().per_travel;
                    let rise = OnGround::of(corner, Vector3::z()).contact_velocity(corner).z;
                    assert_near!(spring * ratio, load * rise, 1e-6, "{name} {end} {side}");
                }
            }
        }
    }
    let hazel = demo::car_of("demo-cars/hazel.ron").static_wheel_loads().unwrap();
    assert!(hazel[0] > hazel[1] + 300.0, "left and right are not alike: {hazel:?}");
}

/// The free body of a car on a banked curve, worked out with forces in the horizontal and the vertical
/// (Meriam & Kraige, Engineering Mechanics: Dynamics, and Gillespie, Fundamentals of Vehicle Dynamics, from
/// memory): horizontal `F cos b + N sin b = m v²/R`, vertical `N cos b - F sin b = m g`.
#[test]
fn a_banked_curve_by_its_free_body() {
    for (lateral, degrees) in [(0.0, 10.0), (12.0, 15.0), (-8.0, 12.0), (25.0, 33.0), (9.0, -7.0)] {
        let banking = f64::to_radians(degrees);
        let on_road = Cornering { lateral, longitudinal: 0.0, banking }.on_road();
        let (s, c) = banking.sin_cos();
        assert_near!(on_road.lateral * c + on_road.normal * s, lateral, 1e-12);
        assert_near!(on_road.normal * c - on_road.lateral * s, GRAVITY, 1e-12);
    }
    // At the speed for which a curve is banked nothing pulls sideways: v² = g R tan b.
    let (radius, banking) = (200.0_f64, 0.25_f64);
    let speed = (GRAVITY * radius * banking.tan()).sqrt();
    let neutral = Cornering { lateral: speed * speed / radius, longitudinal: 0.0, banking };
    assert_near!(neutral.on_road().lateral, 0.0, 1e-12);
    assert_near!(neutral.on_road().normal, GRAVITY / banking.cos(), 1e-12);
    // + lowers the inside of a left turn: standing still there the car would slide to the left.
    let still = Cornering { lateral: 0.0, longitudinal: 0.0, banking };
    assert!(still.on_road().lateral < 0.0, "its tyres hold it to the right");
}

/// Moments about the tyres' line on the left, of a car whose springs stand straight up: what the right
/// tyres carry, from the free body alone, the mass leant by the estimate's own roll.
#[test]
fn loads_on_a_banked_road_balance_the_mass() {
    let mut car = sprung_car();
    car.static_loads = StaticLoads::Shares { left: Some(0.55), cross: Some(0.52) };
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    let (mass, height) = (1000.0, 0.5);
    let middle = road.centre_of_gravity().y;
    assert_near!(middle, 0.05 * TRACK, 1e-12);
    for (lateral, longitudinal, degrees) in [
        (0.0, 0.0, 0.0),
        (9.0, 0.0, 0.0),
        (9.0, 0.0, 20.0),
        (16.0, -3.0, 24.0),
        (-6.0, 2.0, 10.0),
        (0.0, 0.0, 12.0),
    ] {
        let at = Cornering { lateral, longitudinal, banking: f64::to_radians(degrees) };
        let on_road = at.on_road();
        let (bend, estimate) = road.mid_corner_by_estimate(&at, 0.0).unwrap();
        let loads = estimate.loads(&at);
        let [fl, fr, _, rr] = loads;
        assert_near!(loads.iter().sum::<f64>(), mass * on_road.normal, 1e-8);
        // Fore and aft: the weight's share, and m h / L of the longitudinal acceleration.
        let front = 0.55 * mass * on_road.normal - mass * height / BASE * longitudinal;
        assert_near!(fl + fr, front, 1e-8);
        // Across: moments about the left contacts; the roll centres are on the road.
        let roll = bend.standing.body.roll;
        let from_left = 0.5 * TRACK - middle + height * roll;
        let right = mass * (on_road.normal * from_left + on_road.lateral * height) / TRACK;
        assert_near!(fr + rr, right, 1e-7, "{at:?}");
        // The body sinks by the load over the springs, and rolls to the side that sinks more.
        let pressed = 0.55 * mass * (on_road.normal - GRAVITY) - mass * height / BASE * longitudinal;
        let rate = 2.0 * crate::roads::SPRINGS[0];
        assert_near!(bend.standing.body.front, -pressed / rate, 1e-9, "{at:?}");
    }
}

/// A car on four unlike springs in banked bends, solved outside by one set of linear equations in the
/// horizontal and the vertical: `outside/banked_bend.py`.
#[test]
fn a_banked_bend_solved_outside() {
    let outside = stored("banked_bend.json");
    let mut car = sprung_car();
    for (at, rate) in WheelPosition::ALL.into_iter().zip(numbers(&outside["springs"])) {
        car.corner_mut(at).spring = Some(Spring::OnDamper { rate });
    }
    let share = |key: &str| outside[key].as_f64();
    car.static_loads = StaticLoads::Shares { left: share("left"), cross: share("cross") };
    for (load, expected) in
        car.static_wheel_loads().unwrap().into_iter().zip(numbers(&outside["static_loads"]))
    {
        assert_near!(load, expected, 1e-9);
    }
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    let mut control = 0.0_f64;
    for case in outside["cases"].as_array().unwrap() {
        let of = |key: &str| case[key].as_f64().unwrap();
        let at = Cornering {
            banking: of("banking_deg").to_radians(),
            ..Cornering::level(of("acceleration"), 0.0)
        };
        let (bend, estimate) = road.mid_corner_by_estimate(&at, 0.0).unwrap();
        for (load, expected) in estimate.loads(&at).into_iter().zip(numbers(&case["loads"])) {
            assert_near!(load, expected, 1e-6, "{case}");
        }
        let body = bend.standing.body;
        for (found, key) in [(body.front, "front"), (body.rear, "rear"), (body.roll, "roll")] {
            assert_near!(found, of(key), 1e-10, "{case}");
        }
        // Control: the same road banked the other way would show.
        let other = Cornering { banking: -at.banking, ..at };
        control = control.max((estimate.loads(&other)[0] - estimate.loads(&at)[0]).abs());
    }
    assert!(control > 100.0, "{control}");
}

#[test]
fn a_road_banked_away_lets_go_and_gradients_take_what_is_along_the_road() {
    let car = sprung_car();
    let solver = CarSolver::new(&car).unwrap();
    let road = RoadSolver::new(&car, &solver);
    let away = Cornering { lateral: -30.0, longitudinal: 0.0, banking: 0.5 };
    assert!(matches!(road.mid_corner_by_estimate(&away, 0.0), Err(NoEstimate::LeavesRoad)));
    let banked = Cornering { lateral: 8.0, longitudinal: 0.0, banking: 0.3 };
    let given = Gradients::of_roll(0.004);
    let mid = road.mid_corner(&banked, 0.0, &given).unwrap();
    let along = 8.0 * 0.3_f64.cos() - GRAVITY * 0.3_f64.sin();
    assert_near!(mid.standing.body.roll, 0.004 * along, 1e-15);
}

/// Loads that cannot be are faults, with the number by which they are off.
#[test]
fn loads_that_contradict_are_faults() {
    let base = sprung_car();
    let found = |loads: StaticLoads| {
        let car = Car { static_loads: loads, ..base.clone() };
        let texts: Vec<String> = check(&car)
            .into_iter()
            // What is unusual about a car made for moment balances by hand is not asked here.
            .filter(|finding| finding.out == 0.0)
            .map(|finding| finding.message)
            .collect();
        texts.join("\n")
    };
    let kg = |loads: [f64; 4]| StaticLoads::Weighed(loads.map(|load| load * GRAVITY));
    assert_eq!(found(kg([290.0, 260.0, 240.0, 210.0])), "");
    let text = found(kg([290.0, 260.0, 240.0, 240.0]));
    assert!(text.contains("carry 1030.0 kg together, but mass_kg is 1000.0 kg: 30.0 kg more"), "{text}");
    let text = found(kg([240.0, 210.0, 290.0, 260.0]));
    assert!(text.contains("front wheels carry 45.0 %") && text.contains("says 55.0 %"), "{text}");
    // Newtons taken for kilograms are ten times too many.
    assert!(found(StaticLoads::Weighed([290.0, 260.0, 240.0, 210.0])).contains("less"));
    assert!(found(kg([290.0, -260.0, 240.0, 730.0])).contains("front right wheel is -260.0 kg"));
    let shares = |left, cross| StaticLoads::Shares { left, cross };
    assert_eq!(found(shares(Some(0.55), Some(0.52))), "");
    assert!(found(shares(Some(55.0), None)).contains("left wheels' share of the weight is 55"));
    assert!(found(shares(None, Some(1.2))).contains("cross weight is 1.2"));
    let text = found(shares(Some(0.2), Some(0.9)));
    assert!(text.contains("which is negative"), "{text}");
}
