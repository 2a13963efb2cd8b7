//! Stiffness at the contacts by hand, in the design pose and with no load: rate times lever squared.

use crate::cars::{beam, pullrods, solver};
use wheelpath_geometry::{AxleSolver, Car, End, Ground, OnGround, Side, Spring};
use wheelpath_tests::assert_near;
use wheelpath_tests::demo::car_of;

/// Rise of both contacts per travel of the wheels in step (heave) or opposite (roll), left and right.
fn rise(axle: &AxleSolver, way: [f64; 2]) -> [f64; 2] {
    let h = 1e-4;
    let at = |share: f64| {
        let solved = axle.solve(way.map(|rate| rate * share), 0.0).unwrap();
        Side::BOTH.map(|side| OnGround::of(solved.motion.corner(side), Ground::level().normal).contact.z)
    };
    let (up, down) = (at(h), at(-h));
    [0, 1].map(|i: usize| (up[i] - down[i]) / (2.0 * h))
}

fn compare(car: &Car, end: End, heave: f64, roll_of_springs: f64, roll_of_bar: f64) {
    let axle = solver(car, end);
    let found = axle.stiffness([0.0; 2]).unwrap();
    let [up, _] = rise(&axle, [1.0, 1.0]);
    let [tilt, _] = rise(&axle, [1.0, -1.0]);
    assert_near!(found.heave, heave / (up * up), 1e-6 * found.heave);
    let lever = 0.25 * found.track * found.track / (tilt * tilt);
    assert_near!(found.roll_of_springs, roll_of_springs * lever, 1e-6 * found.roll_of_springs);
    assert_near!(found.roll_of_bar, roll_of_bar * lever, 1e-6 * found.roll_of_bar.max(1.0));
}

#[test]
fn torsion_bars_t_bar_and_third_spring() {
    let car = pullrods();
    let start = solver(&car, End::Front).start();
    let Some(Spring::TorsionBar { rate }) = car.front.left.spring else { panic!("no torsion bar") };
    let turn = start.motion.left.rocker.unwrap().per_travel;
    assert!(turn > 0.0);
    let bars = 2.0 * rate * turn * turn;
    let third = car.front.third_spring.unwrap().rate.unwrap();
    let (shorter, twist) = (start.motion.third_spring.unwrap(), start.motion.t_bar.unwrap().twist);
    let of_third = third * shorter.per_heave().powi(2);
    let t_bar = car.front.anti_roll_bar.unwrap().rate.unwrap() * twist.per_roll().powi(2);
    assert!(of_third > 0.05 * bars && t_bar > 0.05 * bars, "each of them counts");
    compare(&car, End::Front, bars + of_third, bars + third * shorter.per_roll().powi(2), t_bar);
}

#[test]
fn a_spring_that_stands_apart() {
    let car = car_of("examples/linkages/trailing_arm.ron");
    let start = solver(&car, End::Rear).start();
    let Some(Spring::Separate { rate, .. }) = car.rear.left.spring else { panic!("no separate spring") };
    let both = 2.0 * rate * start.motion.left.spring.unwrap().per_travel.powi(2);
    compare(&car, End::Rear, both, both, 0.0);
}

/// On a beam, one wheel's travel works the springs, the bar and the third spring of both.
#[test]
fn a_beam_with_all_of_them() {
    let mut car = beam();
    car.rear.right = car.rear.left.mirrored();
    for side in Side::BOTH {
        car.rear.corner_mut(side).spring = Some(Spring::OnDamper { rate: 40e3 });
    }
    // Level and square, so that heave and roll do not mix.
    use wheelpath_geometry::Hardpoint as P;
    for hardpoint in [P::TBarPivot, P::TBarAxis, P::TBarHead] {
        let mut at = car.rear.hardpoints.get(hardpoint).unwrap();
        at.y = if hardpoint == P::TBarAxis { 0.1 } else { 0.0 };
        at.x = if hardpoint == P::TBarAxis { car.rear.hardpoints.get(P::TBarPivot).unwrap().x } else { at.x };
        at.z = if hardpoint == P::TBarAxis { car.rear.hardpoints.get(P::TBarPivot).unwrap().z } else { at.z };
        car.rear.hardpoints.set(hardpoint, at);
    }
    let axle = solver(&car, End::Rear);
    let start = axle.start();
    let ratio = |way: [f64; 2]| {
        let h = 1e-4;
        let at =
            |share: f64| axle.solve(way.map(|x| x * share), 0.0).unwrap().motion.left.damper.unwrap().value;
        (at(h) - at(-h)) / (2.0 * h)
    };
    let third = start.motion.third_spring.unwrap();
    let twist = start.motion.t_bar.unwrap().twist;
    let heave = 2.0 * 40e3 * ratio([1.0, 1.0]).powi(2) + 30e3 * third.per_heave().powi(2);
    let roll = 2.0 * 40e3 * ratio([1.0, -1.0]).powi(2) + 30e3 * third.per_roll().powi(2);
    compare(&car, End::Rear, heave, roll, 800.0 * twist.per_roll().powi(2));
}

/// The rate of a wheel on its torsion bar: the growth of the bar's moment over the travel, by differences
/// of its virtual work.
#[test]
fn wheel_rate_of_a_torsion_bar() {
    let car = pullrods();
    let axle = solver(&car, End::Front);
    let Some(Spring::TorsionBar { rate }) = car.front.left.spring else { panic!("no torsion bar") };
    // Unloaded in the design pose: the car states no mass.
    let load = |travel: f64| {
        let rocker = axle.solve([travel, 0.0], 0.0).unwrap().motion.left.rocker.unwrap();
        rate * rocker.value * rocker.per_travel
    };
    for travel in [-0.04, 0.0, 0.03] {
        let rated = axle.rated(&axle.solve([travel, 0.0], 0.0).unwrap());
        let found = rated.motion.left.wheel_rate.unwrap();
        let h = 1e-3;
        let five = (8.0 * (load(travel + h) - load(travel - h))
            - (load(travel + 2.0 * h) - load(travel - 2.0 * h)))
            / (12.0 * h);
        assert_near!(found.value, five, 1e-6 * five.abs());
        assert!(found.value > 1e3, "{}", found.value);
    }
}
