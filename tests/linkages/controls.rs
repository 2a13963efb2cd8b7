//! The controls: the comparisons must see one point moved by a micrometre, and see it as large as the
//! outside solvers do.

use crate::beams::beam;
use crate::cars::{Stored, all, side_of};
use crate::corners::corner;
use nalgebra::Vector3;
use wheelpath_geometry::{Car, Hardpoint};
use wheelpath_tests::assert_near;
use wheelpath_tests::outside::entries;

fn moved(one: &Stored) -> Car {
    let control = one.control();
    let (place, point) = (control["corner"].as_str(), control["point"].as_str().unwrap());
    let mut car = one.car.clone();
    let up = Vector3::new(0.0, 0.0, control["z_m"].as_f64().unwrap());
    let axle = car.axle_mut(one.end);
    let corner = place.map(side_of);
    if let (Some(side), "wheel_centre") = (corner, point) {
        axle.corner_mut(side).wheel.centre += up;
        return car;
    }
    let hardpoints = match corner {
        Some(side) => &mut axle.corner_mut(side).hardpoints,
        None => &mut axle.hardpoints,
    };
    let hardpoint = Hardpoint::from_key(point).unwrap();
    hardpoints.set(hardpoint, hardpoints.get(hardpoint).unwrap() + up);
    car
}

#[test]
fn a_micrometre_shows_as_a_micrometre() {
    for one in all() {
        let with_moved =
            Stored { car: moved(&one), what: one.what.clone(), file: one.file.clone(), end: one.end };
        let seen = if one.is_beam() {
            beam(&with_moved)
        } else {
            let side = one.control()["corner"].as_str().unwrap();
            let stored = &one.found()["corners"][side];
            corner(&with_moved, side_of(side), stored)
        };
        assert!(!seen.beyond().is_empty(), "{}: nothing is seen", one.what);
        for (name, theirs) in entries(&one.control()["largest_difference"]) {
            let (ours, limit) = seen.largest[name];
            assert_near!(ours, theirs.as_f64().unwrap(), 2.0 * limit, "{}: {name}", one.what);
        }
    }
}
