//! Beam axles: every point, reading and rate over both wheels' travels.

use crate::cars::{Stored, all};
use nalgebra::Vector3;
use wheelpath_geometry::{AxleSolver, Ground, OnGround, Pickup, Side, SolvedAxle, reading, wheel_values};
use wheelpath_tests::outside::{Disagreement, entries, numbers, tolerance, wheel_reading};
use wheelpath_tests::reference_car::vector;

/// The name of a reading here for one there. Rates that end in `_own` are this wheel up, the other's
/// height held, which is how rates are counted here; `None` for the two other ways.
fn taken_alone(name: &str) -> Option<String> {
    let other = name.contains("_heave") || name.contains("_roll");
    (!other).then(|| name.replacen("_own", "", 1))
}

/// Where a named point of a solved axle stands; those of a corner are named after its side.
pub fn place(axle: &AxleSolver, solved: &SolvedAxle, name: &str) -> Option<Vector3<f64>> {
    let find = |list: &[(Pickup, Vector3<f64>)], name: &str| {
        let pickup = Pickup::from_key(name)?;
        list.iter().find(|(p, _)| *p == pickup).map(|(_, at)| *at)
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
                    let Some(plain) = taken_alone(name) else { continue };
                    let Some(value) = wheel_reading(&plain, motion, &wheel, &values) else {
                        panic!("{}: no {name}", one.what)
                    };
                    let theirs = rows[i][j].as_f64().unwrap();
                    found.note(name, (value - theirs).abs(), tolerance(file, name) * theirs.abs().max(1.0));
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
