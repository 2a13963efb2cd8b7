//! Anti-dive and its kin in the design pose.

use crate::cars::all;
use wheelpath_geometry::reading;
use wheelpath_tests::outside::{Disagreement, entries, tolerance};

#[test]
fn anti_dive_lift_and_squat() {
    let mut axles = 0;
    for one in all() {
        let values = one.solver().start().axle_values();
        let mut found = Disagreement::default();
        for (name, theirs) in entries(&one.found()["pitch"]) {
            let key = name.trim_end_matches("_percent");
            let Some(ours) = reading(key).and_then(|reading| values.get(reading)) else {
                panic!("{}: no {name}", one.what)
            };
            found.note(name, (100.0 * ours - theirs.as_f64().unwrap()).abs(), tolerance(&one.file, name));
        }
        found.assert_none(&one.what);
        axles += 1;
    }
    assert_eq!(axles, 16);
}
