//! Beam axles: every point, reading and rate over both wheels' travels.

use crate::cars::{Stored, all};
use nalgebra::Vector3;
use wheelpath_geometry::{
    AxleSolver, CornerMotion, Ground, Hardpoint, MotionOf, OnGround, Side, SolvedAxle, reading,
    wheel_readings, wheel_values,
};
use wheelpath_tests::assert_near;
use wheelpath_tests::outside::{Disagreement, entries, numbers, tolerance, wheel_reading};
use wheelpath_tests::reference_car::vector;

/// How a wheel's rates are taken: both wheels up, this one up and the other down, this one alone.
const WAYS: [&str; 3] = ["heave", "roll", "own"];

/// The plain name of a reading there, and the way it is taken; `None` for one that is no rate.
pub fn way_of(name: &str) -> (String, Option<&'static str>) {
    // The roll centre has its word in its name.
    let found =
        WAYS.into_iter().find(|way| name.contains(&format!("_{way}_")) || name.ends_with(&format!("_{way}")));
    (found.map_or_else(|| name.to_owned(), |way| name.replacen(&format!("_{way}"), "", 1)), found)
}

/// A wheel's motion with its rates taken one way, as if the wheel moved on its own. There roll is the left
/// wheel up for both sides, here each wheel's own.
pub fn taken(motion: &CornerMotion<f64>, way: Option<&str>) -> CornerMotion<f64> {
    let taken = match way {
        Some("roll") => motion.in_roll().unwrap(),
        Some("own") => motion.one_wheel().unwrap(),
        _ => motion.in_heave(),
    };
    CornerMotion { as_one: None, ..taken }
}

/// Rates over a slope do not turn with the way.
pub fn is_slope(name: &str) -> bool {
    name.contains("_over_v_z")
}

/// Where a named point of a solved axle stands; those of a corner are named after its side.
pub fn place(axle: &AxleSolver, solved: &SolvedAxle, name: &str) -> Option<Vector3<f64>> {
    let find = |list: &[(Hardpoint, Vector3<f64>)], name: &str| {
        let hardpoint = Hardpoint::from_key(name)?;
        list.iter().find(|(p, _)| *p == hardpoint).map(|(_, at)| *at)
    };
    for side in Side::BOTH {
        let Some(own) = name.strip_prefix(side.name()).and_then(|rest| rest.strip_prefix('.')) else {
            continue;
        };
        let motion = solved.motion.corner(side);
        return match own {
            "wheel_centre" => Some(motion.wheel_centre),
            "spin_axis" => Some(motion.spin_axis),
            "contact_point" => Some(OnGround::of(motion, Ground::level().normal).contact),
            _ => find(&axle.points(solved, side), own),
        };
    }
    find(&axle.own_points(solved), name)
}

/// One reading of the axle by its name there; `None` for a name that is not known.
pub fn axle_reading(solved: &SolvedAxle, name: &str) -> Option<f64> {
    let values = solved.axle_values();
    let get = |key: &str| values.get(reading(key)?);
    let camber = |side| solved.wheel_values(side).get(reading("camber_to_road")?).map(f64::to_degrees);
    match name {
        "ground_angle_deg" => get("ground_angle").map(f64::to_degrees),
        "track_m" => get("track"),
        "roll_centre_height_m" => get("roll_centre_height"),
        "roll_centre_lateral_m" => get("roll_centre_lateral"),
        "left_camber_to_ground_deg" => camber(Side::Left),
        "right_camber_to_ground_deg" => camber(Side::Right),
        "u_bar_twist_deg" => get("anti_roll_bar_twist").map(f64::to_degrees),
        _ => None,
    }
}

/// One beam axle over its whole grid against what is stored for it.
pub fn beam(one: &Stored) -> Disagreement {
    let (stored, axle, file) = (one.found(), one.solver(), &one.file);
    let mut found = Disagreement::default();
    for (i, left) in numbers(&stored["travel_left_m"]).into_iter().enumerate() {
        for (j, right) in numbers(&stored["travel_right_m"]).into_iter().enumerate() {
            let solved =
                axle.solve([left, right], 0.0).unwrap_or_else(|stop| panic!("{}: {stop:?}", one.what));
            for (name, rows) in entries(&stored["points"]) {
                let Some(here) = place(&axle, &solved, name) else { panic!("{}: no {name}", one.what) };
                found.note(name, (here - vector(&rows[i][j])).amax(), tolerance(file, "_m"));
            }
            for side in Side::BOTH {
                let motion = solved.motion.corner(side);
                let wheel = OnGround::of(motion, Ground::level().normal);
                let values = wheel_values(motion, &wheel);
                for (name, rows) in entries(&stored["readings"][side.name()]) {
                    let (plain, way) = way_of(name);
                    let moving = taken(motion, way);
                    let rates = wheel_values(&moving, &wheel);
                    let Some(value) = wheel_reading(&plain, &moving, &wheel, &rates) else {
                        panic!("{}: no {name}", one.what)
                    };
                    let turned = way == Some("roll") && side == Side::Right && !is_slope(name);
                    let theirs = rows[i][j].as_f64().unwrap() * if turned { -1.0 } else { 1.0 };
                    found.note(name, (value - theirs).abs(), tolerance(file, name) * theirs.abs().max(1.0));
                    // What the catalogue says of the beam itself is the same.
                    let suffix = match way {
                        Some("roll") => "_in_roll",
                        Some("own") => "_one_wheel",
                        _ => "",
                    };
                    for key in wheel_readings()
                        .iter()
                        .filter(|key| !key.is_of_beams() && key.motion != MotionOf::Pose)
                    {
                        if let Some(labelled) = reading(&format!("{}{suffix}", key.key)) {
                            assert_eq!(
                                values.get(labelled),
                                rates.get(key),
                                "{}: {}",
                                one.what,
                                labelled.key
                            );
                        }
                    }
                }
            }
            for (name, rows) in entries(&stored["readings"]["axle"]) {
                // The same place as height and offset, but in the body's axes.
                if matches!(name, "roll_centre_y_m" | "roll_centre_z_m") {
                    continue;
                }
                let Some(value) = axle_reading(&solved, name) else { panic!("{}: no {name}", one.what) };
                found.note(name, (value - rows[i][j].as_f64().unwrap()).abs(), tolerance(file, name));
            }
        }
    }
    found
}

#[test]
fn every_point_reading_and_rate_of_every_beam() {
    let mut beams = 0;
    for one in all().iter().filter(|one| one.is_beam()) {
        beam(one).assert_none(&one.what);
        beams += 1;
    }
    // Hazel, two Watt levers, four links, torque arm.
    assert_eq!(beams, 5);
}

/// Loads of the springs in the design pose, and the wheel rates in heave, in roll and by one wheel with their
/// gains, by the balance of forces and moments on the axle: no virtual work, no derivative of a velocity.
#[test]
fn springs_of_a_beam_by_statics() {
    let mut compared = 0;
    for one in all().iter().filter(|one| !one.found()["springs"].is_null()) {
        let (springs, axle) = (&one.found()["springs"], one.solver());
        let weights = one.car.wheel_loads(one.end).unwrap();
        let stiffness = axle.stiffness(weights).unwrap();
        for (ours, theirs) in stiffness.loads.into_iter().zip(numbers(&springs["loads_n"])) {
            assert_near!(ours, theirs, 1e-8 * theirs, "{}", one.what);
        }
        for (i, left) in numbers(&one.found()["travel_left_m"]).into_iter().enumerate() {
            for (j, right) in numbers(&one.found()["travel_right_m"]).into_iter().enumerate() {
                let solved = axle.rated(&axle.solve([left, right], 0.0).unwrap());
                for side in Side::BOTH {
                    let values = solved.wheel_values(side);
                    for (name, rows) in entries(&springs["wheel_rates"][side.name()]) {
                        let (plain, way) = way_of(name);
                        let suffix = match way {
                            Some("roll") => "_in_roll",
                            Some("own") => "_one_wheel",
                            _ => "",
                        };
                        let of =
                            reading(&format!("{}{suffix}", plain.split("_n_per").next().unwrap())).unwrap();
                        let factor = of.unit.data_factor(wheelpath_geometry::LengthUnit::Millimetre);
                        let (ours, theirs) = (values.get(of).unwrap() * factor, rows[i][j].as_f64().unwrap());
                        let at = [left, right];
                        assert_near!(
                            ours,
                            theirs,
                            1e-9 * theirs.abs().max(1.0),
                            "{} {name} {side} {at:?}",
                            one.what
                        );
                        compared += 1;
                    }
                }
            }
        }
    }
    // Hazel: 25 poses, two sides, three ways, rate and gain.
    assert_eq!(compared, 25 * 2 * 3 * 2);
}

/// A rate of a beam by one wheel is the mean of those in heave and in roll. In roll the axle leans by the wheels'
/// difference in height over its track; the roll centre on the mid-plane is as high as the roll centre.
#[test]
fn the_motions_of_a_beam_are_told_apart() {
    for one in all().iter().filter(|one| one.is_beam()) {
        let solved = one.solver().start();
        for side in Side::BOTH {
            let values = solved.wheel_values(side);
            let get = |key: &str| values.get(reading(key).unwrap());
            let (heave, roll, alone) =
                (get("camber_gain"), get("camber_gain_in_roll"), get("camber_gain_one_wheel"));
            let [heave, roll, alone] = [heave, roll, alone].map(Option::unwrap);
            // Any rate by one wheel is midway between heave and roll.
            assert_near!(alone, 0.5 * (heave + roll), 1e-12, "{}", one.what);
            // Rolled, the axle turns by its track: nearly a radian per track of a wheel's travel both ways.
            let track = solved.axle_values().get(reading("track").unwrap()).unwrap();
            assert!(
                (roll.abs() * track / 2.0 - 1.0).abs() < 0.05 && heave.abs() < 0.05,
                "{} {heave} {roll}",
                one.what
            );
        }
        // On a rigid axle both lines through the contacts pass through the one point that does not move.
        let axle = solved.axle_values();
        let get = |key: &str| axle.get(reading(key).unwrap()).unwrap();
        let (height, mid) = (get("roll_centre_height"), get("roll_centre_mean_height"));
        assert!((height - mid).abs() < 2e-3, "{}: {height} and {mid}", one.what);
    }
}
