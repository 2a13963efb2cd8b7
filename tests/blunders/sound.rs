//! How often `check` warns of cars that nobody has damaged.

use crate::random_car;
use proptest::strategy::{Strategy, ValueTree};
use proptest::test_runner::TestRunner;
use std::path::Path;
use wheelpath_geometry::{Car, End, Finding, Hardpoint, Rack, Steering, check};
use wheelpath_tests::reference_car;

/// What `check` finds unusual, at one axle's ends once.
fn unusual(car: &Car) -> Vec<Finding> {
    check(car).into_iter().filter(|one| one.out > 0.0).collect()
}

fn words(one: &Finding) -> String {
    let end = one.end.map_or("", |end| end.name());
    let side = one.side.map_or("", |side| side.name());
    format!("{end} {side}: {}", one.message)
}

/// The files say where a rack is and which way it moves, not how far or how fast: a rack that a car might have.
fn with_a_rack_of_its_own(mut car: Car) -> Car {
    for end in End::BOTH {
        // Behind the axle, the rack goes right for a left turn.
        let behind = |car: &Car| {
            let corner = &car.axle(end).left;
            corner.hardpoints.get(Hardpoint::TieRodOuter).is_some_and(|outer| outer.x < corner.wheel.centre.x)
        };
        let sign = if behind(&car) { -1.0 } else { 1.0 };
        if let Steering::Rack(rack) = &mut car.axle_mut(end).steering {
            *rack = Rack { travel_per_turn: 0.05 * sign, stop_left: 0.06, stop_right: 0.06, ..*rack };
        }
    }
    car
}

/// The axles of `tests/calibration` were invented elsewhere; their other axle is a stand-in, which is not asked.
#[test]
fn warnings_of_the_calibration_cars() {
    let mut all = 0;
    for name in [
        "ba20_panhard_three_link",
        "dw01_front_rack_behind",
        "fl14_rear",
        "sa17_rear_15deg",
        "st10_front_rack_behind",
    ] {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(format!("calibration/{name}.json"));
        let file = serde_json::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
        let found = unusual(&with_a_rack_of_its_own(reference_car::car(&file)));
        println!("{name}: {}", found.len());
        found.iter().for_each(|one| println!("    {}", words(one)));
        all += found.len();
    }
    println!("all: {all}");
    assert!(all <= 1, "{all} warnings of cars that nobody damaged");
}

/// Cars with every point moved by up to 15 mm in each coordinate: as far as a careless tape measure is out.
#[test]
fn warnings_of_random_cars() {
    const CARS: usize = 200;
    // Each of some fifty points is off: bump steer, the rocker's plane and the bar's line are as a rule.
    const MOST: usize = 12;
    let mut runner = TestRunner::deterministic();
    let (mut with, mut all) = (0, 0);
    let mut whats = std::collections::BTreeMap::<String, usize>::new();
    for _ in 0..CARS {
        let car = random_car::car().new_tree(&mut runner).unwrap().current();
        let car = with_a_rack_of_its_own(car);
        let found = unusual(&car);
        with += usize::from(!found.is_empty());
        all += found.len();
        for one in found {
            let what = one.message.split(" is ").next().unwrap_or_default().to_owned();
            *whats.entry(what).or_default() += 1;
        }
    }
    println!("{with} of {CARS} random cars have a warning, {all} in all");
    whats.iter().for_each(|(what, count)| println!("    {count:5} {what}"));
    assert!(all <= MOST * CARS, "{all} warnings of {CARS} random cars");
}
