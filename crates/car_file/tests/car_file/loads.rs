//! Static loads of the tyres: read in kilograms or newtons and by any corner's name, saved as they were written.

use crate::{STRUT_AND_AXLE, changed};
use wheelpath_car_file::parse;
use wheelpath_geometry::{Car, GRAVITY, StaticLoads, WheelPosition};

const BY_MASS: &str = "weight_share_front: 0.53,";

fn text(loads: &str) -> String {
    changed(STRUT_AND_AXLE, &[(BY_MASS, &format!("{BY_MASS}\n    {loads}"))])
}

#[track_caller]
fn car(loads: &str) -> Car {
    parse(&text(loads), "car.ron").unwrap_or_else(|error| panic!("{error}")).car
}

/// The text does not load, and this is among the reasons.
#[track_caller]
fn refused(loads: &str, reason: &str, place: &str) {
    let text = text(loads);
    let error = parse(&text, "car.ron").map(|loaded| loaded.car.static_loads).unwrap_err();
    let said: Vec<String> =
        error.problems().iter().map(|problem| format!("{problem}\n{}", problem.hint())).collect();
    assert!(said.iter().any(|one| one.contains(reason)), "{said:?}");
    let line = text.lines().position(|line| line.contains(place)).unwrap() + 1;
    assert!(said.iter().any(|one| one.contains(&format!("car.ron:{line}:"))), "line {line}: {said:?}");
}

/// 1480 kg, 53 % in front.
const KG: [f64; 4] = [400.0, 384.4, 350.0, 345.6];

#[test]
fn loads_are_read_in_kilograms_or_newtons() {
    let by = |keys: [&str; 4], unit: &str, scale: f64| {
        let pairs: Vec<String> =
            keys.iter().zip(KG).map(|(key, load)| format!("{key}: {}", load * scale)).collect();
        car(&format!("wheel_loads_{unit}: ({}),", pairs.join(", ")))
    };
    for keys in [
        WheelPosition::ALL.map(WheelPosition::key),
        ["LF", "RF", "LR", "RR"],
        ["FL", "FR", "RL", "RR"],
        ["lf", "Rf", "rear_left", "rr"],
    ] {
        for (unit, scale) in [("kg", 1.0), ("n", GRAVITY)] {
            let StaticLoads::Weighed(loads) = by(keys, unit, scale).static_loads else { panic!("{keys:?}") };
            for (load, expected) in loads.iter().zip(KG) {
                assert!((load / GRAVITY - expected).abs() < 1e-10, "{keys:?} {unit}: {loads:?}");
            }
        }
    }
    let shares = car("weight_share_left: 0.52, cross_weight: 0.51,").static_loads;
    assert_eq!(shares, StaticLoads::Shares { left: Some(0.52), cross: Some(0.51) });
    assert_eq!(car("").static_loads, StaticLoads::Unknown);
}

#[test]
fn a_save_keeps_unit_names_and_comments() {
    let check = |before: &str, after: &str, change: fn(&mut [f64; 4])| {
        let text = text(before);
        let loaded = parse(&text, "car.ron").unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(loaded.document.with_car(&loaded.car).unwrap().text(), text, "nothing changed");
        let mut car = loaded.car.clone();
        let StaticLoads::Weighed(loads) = &mut car.static_loads else { panic!() };
        change(loads);
        let saved = loaded.document.with_car(&car).unwrap_or_else(|error| panic!("{error}"));
        assert_eq!(saved.text(), text.replace(before, after));
    };
    check(
        "wheel_loads_kg: (LF: 400.0, RF: 384.4, LR: 350.0, RR: 345.6), // scales",
        "wheel_loads_kg: (LF: 401.5, RF: 384.4, LR: 350.0, RR: 345.6), // scales",
        |loads| loads[0] = 401.5 * GRAVITY,
    );
    check(
        "wheel_loads_n: (front_left: 3900.0, fr: 3792.3, RL: 3410.0, rear_right: 3411.5),",
        "wheel_loads_n: (front_left: 3900.0, fr: 3792.3, RL: 3412.25, rear_right: 3411.5),",
        |loads| loads[2] = 3412.25,
    );
}

#[test]
fn what_contradicts_is_refused_with_its_place() {
    let loads = "wheel_loads_kg: (LF: 400, RF: 384, LR: 350, RR: 390),";
    refused(loads, "carry 1524.0 kg together, but mass_kg is 1480.0 kg: 44.0 kg more", "wheel_loads_kg");
    let loads = "wheel_loads_kg: (LF: 350, RF: 345, LR: 400, RR: 385),";
    refused(loads, "weight_share_front says 53.0 %", "wheel_loads_kg");
    refused(
        "wheel_loads_n: (LF: 400, RF: 384, LR: 350, RR: 346),",
        "kilograms, wheel_loads_n newtons",
        "wheel_loads_n",
    );
    let loads = "wheel_loads_kg: (LF: 400, RF: 384, LR: 350, RR: 346), cross_weight: 0.5,";
    refused(loads, "`wheel_loads_kg` says it already", "cross_weight");
    let loads = "wheel_loads_kg: (LF: 400, RF: 384, LR: 350),";
    refused(loads, "the static loads lacks rear_right", "wheel_loads_kg");
    let loads = "wheel_loads_kg: (LF: 400, RF: 384, LR: 350, RR: -346),";
    refused(loads, "the load on the rear right wheel is -346; it must be more than 0", "wheel_loads_kg");
    let loads = "wheel_loads_kg: (LF: 400, front_left: 384, LR: 350, RR: 346),";
    refused(loads, "front_left is given twice", "wheel_loads_kg");
    refused(
        "cross_weight: 52,",
        "the cross weight is 52; it must be from 0 to 1: 52 % is 0.52",
        "cross_weight",
    );
    refused("weight_share_left: 0.05, cross_weight: 0.97,", "which is negative", "cross_weight");
}
