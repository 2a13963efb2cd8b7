//! Two corners of their own at unlike travels: the ground they share, and what stands between them.

use crate::beams::{axle_reading, place};
use crate::cars::all;
use serde_json::Value;
use wheelpath_geometry::{Between, SolvedAxle};
use wheelpath_tests::outside::{Disagreement, entries, numbers, tolerance};
use wheelpath_tests::reference_car::vector;

/// A T-bar's angles are right-handed about its lines there; here + is what bump of both wheels (swing) or
/// of the left one (twist) does in the design pose.
fn sense(stored: &Value, name: &str) -> f64 {
    let rate = |by: &str| {
        let at = numbers(&stored["travel_left_m"]).iter().position(|travel| *travel == 0.0).unwrap();
        stored["readings"][by][at][at].as_f64().unwrap()
    };
    if name.starts_with("t_bar_swing") {
        rate("t_bar_swing_by_left_deg_per_m").signum()
    } else if name.starts_with("t_bar_twist") {
        rate("t_bar_twist_by_left_deg_per_m").signum()
    } else {
        1.0
    }
}

/// What stands between the wheels, by its name there.
fn across(solved: &SolvedAxle, name: &str) -> Option<f64> {
    let motion = &solved.motion;
    let (bar, third) = (motion.t_bar, motion.third_spring);
    let swing = |of: fn(Between<f64>) -> f64| bar.map(|bar| of(bar.swing).to_degrees());
    let twist = |of: fn(Between<f64>) -> f64| bar.map(|bar| of(bar.twist).to_degrees());
    match name {
        "t_bar_swing_deg" => swing(|swing| swing.value),
        "t_bar_twist_deg" => twist(|twist| twist.value),
        "third_spring_length_m" => third.map(|third| third.value),
        "t_bar_swing_by_left_deg_per_m" => swing(|swing| swing.per_travel[0]),
        "t_bar_swing_by_right_deg_per_m" => swing(|swing| swing.per_travel[1]),
        "t_bar_twist_by_left_deg_per_m" => twist(|twist| twist.per_travel[0]),
        "t_bar_twist_by_right_deg_per_m" => twist(|twist| twist.per_travel[1]),
        "third_spring_length_by_left" => third.map(|third| third.per_travel[0]),
        "third_spring_length_by_right" => third.map(|third| third.per_travel[1]),
        _ => None,
    }
}

#[test]
fn ground_track_camber_and_roll_centre_of_unlike_travels() {
    let mut pairs = 0;
    for one in all().iter().filter(|one| !one.is_beam()) {
        let (stored, axle, file) = (&one.found()["pairs"], one.solver(), &one.file);
        let mut found = Disagreement::default();
        for (i, left) in numbers(&stored["travel_left_m"]).into_iter().enumerate() {
            for (j, right) in numbers(&stored["travel_right_m"]).into_iter().enumerate() {
                let solved =
                    axle.solve([left, right], 0.0).unwrap_or_else(|stop| panic!("{}: {stop:?}", one.what));
                for (name, rows) in entries(&stored["points"]) {
                    let here =
                        place(&axle, &solved, name).unwrap_or_else(|| panic!("{}: no {name}", one.what));
                    found.note(name, (here - vector(&rows[i][j])).amax(), tolerance(file, "_m"));
                }
                for (name, rows) in entries(&stored["readings"]) {
                    let sense = sense(stored, name);
                    let Some(value) = axle_reading(&solved, name).or_else(|| across(&solved, name)) else {
                        panic!("{}: no {name}", one.what)
                    };
                    let theirs = rows[i][j].as_f64().unwrap();
                    found.note(
                        name,
                        (sense * value - theirs).abs(),
                        tolerance(file, name) * theirs.abs().max(1.0),
                    );
                }
            }
        }
        found.assert_none(&one.what);
        pairs += 1;
    }
    assert_eq!(pairs, 11);
}
