//! References that cannot be on the plate, and new holes on them.

use super::sheets::{left, moved, sheet};
use crate::bracket::{BracketSheet, Placing, ReferenceHole, Tolerance};
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

/// A hole that goes 120 mm is asked about; a limit broken already gives no number, and none stands under that.
#[test]
fn a_large_move_is_asked_about_and_without_a_number_there_is_one_statement() {
    let mut sheet = with([1540.0, 250.0, 210.0], None);
    sheet.references.clear();
    sheet.holes[0].new = sheet.holes[0].old + Vector3::new(0.0, 0.0, 0.12);
    let said = "Ash: it is moved by 120.00 mm, an unusually large move: look at the proposal's numbers, their signs \
                and units";
    assert_eq!(sheet.doubts(), [said]);
    let placing = |decided_by: Option<&str>| Placing { within: 0.01, decided_by: decided_by.map(Into::into) };
    let mut tolerance = Tolerance {
        as_built: placing(None),
        realigned: placing(None),
        toe_to_take_out: None,
        broken: vec!["Rear toe".into()],
        open: Vec::new(),
    };
    let length = |metres: f64| format!("{:.2} mm", metres * 1e3);
    assert!(tolerance.headline(length).starts_with("no number: Rear toe failing already"));
    assert_eq!(tolerance.said(length), ["Failing already, so not counted: Rear toe"]);
    // A case that no other limit decides does not say that none is broken.
    tolerance.as_built = Placing { within: 0.002, decided_by: Some("camber".into()) };
    tolerance.realigned = placing(None);
    tolerance.toe_to_take_out = Some(0.001);
    let said = tolerance.said(length);
    assert!(said[2].contains("10.00 mm or more: no other limit fails by less"), "{said:?}");
    tolerance.broken.clear();
    assert!(tolerance.said(length)[1].contains("no limit fails by less"));
}

#[test]
fn a_new_hole_off_the_plate_or_hardly_beside_another_is_told_of() {
    let mut off = with([1540.0, 250.0, 210.0], None);
    off.holes[0].new.y -= 0.0125;
    assert_eq!(
        off.doubts(),
        [
            "Ash: the new hole stands 12.50 mm behind the plate's plane: no drill in this plate meets it, look at the \
          move and at the plane"
        ]
    );
    off.holes[0].new.y += 0.0075;
    assert!(off.doubts().is_empty(), "a spacer of 5 mm");
    // Two holes of 8 mm: centres 10 mm apart leave 2 mm, 12.5 mm leave 4.5 mm. None of them cuts.
    let beside = |apart: f64| with([1508.0 + apart, 250.0, 192.5], Some(0.008));
    let said = "Ash: the new hole leaves 2.00 mm of metal beside the hole Dowel, less than half of the smaller hole's \
                diameter";
    assert_eq!(beside(10.0).doubts(), [said]);
    assert!(beside(10.0).cuts().is_empty() && beside(12.5).doubts().is_empty());
    assert!(beside(8.0).doubts()[0].contains("leaves 0.00 mm of metal"), "holes that touch");
    assert!(beside(7.9).doubts().is_empty() && beside(7.9).cuts().len() == 1, "that is told of as a cut");
}
