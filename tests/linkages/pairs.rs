//! Two corners of their own at unlike travels: the ground they share, and what stands between them.

use crate::beams::axle_reading;
use crate::cars::all;
use wheelpath_tests::outside::{Disagreement, entries, numbers, tolerance};

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
                for (name, rows) in entries(&stored["readings"]) {
                    // No reading here yet: T-bar and third spring.
                    if name.starts_with("t_bar_") || name.starts_with("third_spring_") {
                        continue;
                    }
                    let Some(value) = axle_reading(&solved, name) else { panic!("{}: no {name}", one.what) };
                    let theirs = rows[i][j].as_f64().unwrap();
                    found.note(name, (value - theirs).abs(), tolerance(file, name) * theirs.abs().max(1.0));
                }
            }
        }
        found.assert_none(&one.what);
        pairs += 1;
    }
    assert_eq!(pairs, 11);
}
