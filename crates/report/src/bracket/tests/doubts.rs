//! References that cannot be on the plate, and new holes on them.

use super::sheets::{left, moved, sheet};
use crate::bracket::{BracketSheet, ReferenceHole};
use crate::drawing::Mark;
use nalgebra::Vector3;

/// A sheet of one hole that goes from (1500, 250, 180) to (1508, 250, 192.5), and a reference, millimetres.
fn with(at: [f64; 3], diameter: Option<f64>) -> BracketSheet {
    let mut hole = moved("Ash", [1500.0, 250.0, 180.0], [1508.0, 250.0, 192.5]);
    hole.diameter = diameter;
    let mut sheet = sheet(left(1500.0, 180.0), vec![hole]);
    let at = Vector3::from(at) / 1e3;
    sheet.references = vec![ReferenceHole { name: "Dowel".into(), at, diameter }];
    sheet
}

#[test]
fn references_off_the_plate_far_away_or_under_a_new_hole_are_told_of() {
    assert!(with([1540.0, 250.0, 210.0], None).doubts().is_empty());
    let check = |sheet: BracketSheet, said: &str| {
        assert_eq!(sheet.doubts(), [said]);
        let words = |mark: &Mark| matches!(mark, Mark::Text { words, .. } if words.contains(&said[..20]));
        assert!(sheet.drawing().unwrap().pages[0].marks.iter().any(words), "{said}");
    };
    check(
        with([1540.0, 275.0, 210.0], None),
        "Dowel stands 25.00 mm in front of the plate's plane: it is no hole of a flat plate, look at its place",
    );
    check(
        with([1800.0, 250.0, 580.0], None),
        "Dowel stands 500.00 mm from the nearest hole that moves: on the same plate? Look at its place",
    );
    for diameter in [None, Some(0.008)] {
        check(
            with([1508.0, 250.0, 192.5], diameter),
            "Ash: the new hole stands on Dowel, 0.00 mm between their centres: that is measured from and stays",
        );
    }
}
