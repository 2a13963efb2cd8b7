//! Rates of what reaches across are slopes of the solved pose, and one wheel's travel moves what it moves.

use crate::cars::{TRAVELS, both, solver};
use wheelpath_geometry::{AxleSolver, Between, SolvedAxle, reading};
use wheelpath_tests::assert_near;
use wheelpath_tests::demo::car_of;

fn slope(at: impl Fn(f64) -> f64) -> f64 {
    let h = 1e-3;
    let five = |h: f64| (8.0 * (at(h) - at(-h)) - (at(2.0 * h) - at(-2.0 * h))) / (12.0 * h);
    // The error of the five points goes with the fourth power of the step.
    (16.0 * five(0.5 * h) - five(h)) / 15.0
}

type Of = fn(&SolvedAxle) -> Between<f64>;

fn compare(axle: &AxleSolver, what: &str, of: Of) {
    for travel in TRAVELS {
        let here = of(&axle.solve(travel, 0.0).unwrap());
        for i in 0..2 {
            let along = |h: f64| {
                let mut there = travel;
                there[i] += h;
                of(&axle.solve(there, 0.0).unwrap()).value
            };
            assert_near!(
                here.per_travel[i],
                slope(along),
                1e-9 * (1.0 + here.per_travel[i].abs()),
                "{what} {travel:?} {i}"
            );
        }
    }
}

#[test]
fn t_bar_and_third_spring() {
    for (car, end) in both() {
        let axle = solver(&car, end);
        compare(&axle, "swing", |at| at.motion.t_bar.unwrap().swing);
        compare(&axle, "twist", |at| at.motion.t_bar.unwrap().twist);
        compare(&axle, "bar twist", |at| at.motion.bar_twist.unwrap());
        compare(&axle, "third spring", |at| at.motion.third_spring.unwrap());
    }
}

/// On a beam one wheel's travel turns the other's arm too.
#[test]
fn twist_of_a_u_bar() {
    for (path, end) in [
        ("examples/linkages/triangulated_four_link.ron", wheelpath_geometry::End::Rear),
        ("demo-cars/rowan.ron", wheelpath_geometry::End::Front),
    ] {
        let axle = solver(&car_of(path), end);
        compare(&axle, path, |at| at.motion.bar_twist.unwrap());
    }
}

#[test]
fn readings_say_the_same() {
    for (car, end) in both() {
        let at = solver(&car, end).solve([0.02, -0.01], 0.0).unwrap();
        let get = |key: &str| at.axle_values().get(reading(key).unwrap()).unwrap();
        let (bar, third) = (at.motion.t_bar.unwrap(), at.motion.third_spring.unwrap());
        assert_near!(get("anti_roll_bar_twist"), bar.twist.value, 0.0);
        assert_near!(
            get("anti_roll_bar_twist_rate"),
            bar.twist.per_travel[0] - bar.twist.per_travel[1],
            1e-14
        );
        assert_near!(get("t_bar_swing"), bar.swing.value, 0.0);
        assert_near!(get("t_bar_swing_rate"), bar.swing.per_travel[0] + bar.swing.per_travel[1], 1e-14);
        assert_near!(get("third_spring_length"), third.value, 0.0);
        assert_near!(get("third_spring_heave_ratio"), -third.per_travel[0] - third.per_travel[1], 1e-14);
        assert_near!(get("third_spring_roll_ratio"), third.per_travel[1] - third.per_travel[0], 1e-14);
    }
    let alder = wheelpath_tests::demo::alder();
    let at = solver(&alder, wheelpath_geometry::End::Front).start();
    for key in ["t_bar_swing", "t_bar_swing_rate", "third_spring_length", "third_spring_heave_ratio"] {
        assert!(at.axle_values().get(reading(key).unwrap()).is_none(), "{key}");
    }
    assert!(at.motion.left.spring_length().is_none() && at.motion.left.drop_link.is_none());
}
