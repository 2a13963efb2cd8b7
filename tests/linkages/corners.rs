//! Corners of their own: every point, reading and rate over travel and steering.

use crate::cars::{Stored, all, side_of};
use nalgebra::Vector3;
use serde_json::Value;
use wheelpath_geometry::{AxleSolver, Ground, Hardpoint, OnGround, Side, SolvedAxle, wheel_values};
use wheelpath_tests::outside::{Disagreement, entries, numbers, tolerance, wheel_reading};
use wheelpath_tests::reference_car::vector;

/// Where a named point of a solved corner stands; `None` where the corner has no such point.
fn place(axle: &AxleSolver, solved: &SolvedAxle, side: Side, name: &str) -> Option<Vector3<f64>> {
    let motion = solved.motion.corner(side);
    let wheel = OnGround::of(motion, Ground::level().normal);
    match name {
        "wheel_centre" => Some(motion.wheel_centre),
        "spin_axis" => Some(motion.spin_axis),
        "contact_point" => Some(wheel.contact),
        "axis_at_ground" => motion.steering_axis.map(|axis| wheel.meets_ground(&axis.point, &axis.along)),
        _ => {
            let hardpoint = Hardpoint::from_key(name)?;
            axle.points(solved, side).iter().find(|(p, _)| *p == hardpoint).map(|(_, at)| *at)
        }
    }
}

/// One corner over its whole grid against what is stored for it.
pub fn corner(one: &Stored, side: Side, stored: &Value) -> Disagreement {
    let (grid, axle, file) = (one.found(), one.solver(), &one.file);
    let mut found = Disagreement::default();
    for (i, steer) in numbers(&grid["steer"]).into_iter().enumerate() {
        for (j, travel) in numbers(&grid["travel_m"]).into_iter().enumerate() {
            let solved =
                axle.solve([travel; 2], steer).unwrap_or_else(|stop| panic!("{}: {stop:?}", one.what));
            for (name, rows) in entries(&stored["points"]) {
                let Some(here) = place(&axle, &solved, side, name) else { panic!("{}: no {name}", one.what) };
                found.note(name, (here - vector(&rows[i][j])).amax(), tolerance(file, "_m"));
            }
            let motion = solved.motion.corner(side);
            let wheel = OnGround::of(motion, Ground::level().normal);
            let values = wheel_values(motion, &wheel);
            for (name, rows) in entries(&stored["readings"]) {
                let Some(value) = wheel_reading(name, motion, &wheel, &values) else {
                    panic!("{}: no {name}", one.what)
                };
                let theirs = rows[i][j].as_f64().unwrap();
                found.note(name, (value - theirs).abs(), tolerance(file, name) * theirs.abs().max(1.0));
            }
        }
    }
    found
}

#[test]
fn every_point_reading_and_rate_of_every_corner() {
    let mut corners = 0;
    for one in all().iter().filter(|one| !one.is_beam()) {
        for (name, stored) in entries(&one.found()["corners"]) {
            corner(one, side_of(name), stored).assert_none(&format!("{} {name}", one.what));
            corners += 1;
        }
    }
    // Rowan 2 + 1, Hazel 2, Sorrel 2, three arms, five links 2, steering box 2, pullrods 1.
    assert_eq!(corners, 15);
}

/// Where a corner says nothing that its mirror image does not, only the left one is stored; the right
/// one must then be that mirror image.
#[test]
fn a_right_corner_that_is_not_stored_is_the_mirror_image() {
    let mut mirrored = 0;
    for one in all().iter().filter(|one| one.found()["right_is_mirrored"] == true) {
        let (grid, axle) = (one.found(), one.solver());
        let stored = &grid["corners"]["left"]["points"];
        for (i, steer) in numbers(&grid["steer"]).into_iter().enumerate() {
            for (j, travel) in numbers(&grid["travel_m"]).into_iter().enumerate() {
                // The left wheel at +steer is the right wheel at -steer.
                let solved = axle.solve([travel; 2], -steer).unwrap();
                for (name, rows) in entries(stored) {
                    let here = place(&axle, &solved, Side::Right, name).unwrap();
                    let theirs = vector(&rows[i][j]);
                    let off = (here - Vector3::new(theirs.x, -theirs.y, theirs.z)).amax();
                    assert!(off < 1e-11, "{}: {name} is off by {off:e} m", one.what);
                }
            }
        }
        mirrored += 1;
    }
    assert_eq!(mirrored, 7);
}
