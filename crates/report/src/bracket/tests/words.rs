//! What the sheet says, and that it can be read.

use super::sheets::{all, left, moved, sheet};
use crate::bracket::clip::Area;
use crate::bracket::{BracketFault, BracketSheet, MovedHole, Placing, ReferenceHole, Tolerance};
use crate::drawing::letters::width;
use crate::drawing::{Anchor, Drawing, LineStyle, Mark, Page};
use nalgebra::Vector3;
use proptest::prelude::{ProptestConfig, any, proptest};
use wheelpath_geometry::LengthUnit;

/// Each line of words on a page with the room it takes.
fn words(page: &Page) -> Vec<(String, Area)> {
    let mut all = Vec::new();
    for mark in &page.marks {
        if let Mark::Text { at, size, anchor, bold, words } = mark {
            let wide = width(words, *size, *bold);
            let left = match anchor {
                Anchor::Start => at.0,
                Anchor::Middle => at.0 - 0.5 * wide,
                Anchor::End => at.0 - wide,
            };
            // Capitals of Helvetica are 0.72 of the size high, tails 0.21 deep (its metrics, from memory).
            let area = Area { left, right: left + wide, top: at.1 - 0.72 * size, bottom: at.1 + 0.21 * size };
            all.push((words.clone(), area));
        }
    }
    all
}

fn count(drawing: &Drawing, part: &str) -> usize {
    drawing.pages.iter().flat_map(words).filter(|(words, _)| words.contains(part)).count()
}

#[test]
fn no_words_touch_one_another_or_a_hole_or_leave_the_page() {
    for sheet in all() {
        let drawing = sheet.drawing().unwrap();
        for page in &drawing.pages {
            let paper = Area { left: 9.9, top: 9.9, right: page.width - 9.9, bottom: page.height - 9.9 };
            let words = words(page);
            assert!(!words.is_empty());
            for (index, (one, area)) in words.iter().enumerate() {
                assert!(
                    paper.holds((area.left, area.top)) && paper.holds((area.right, area.bottom)),
                    "{one:?} off the page"
                );
                for (other, beside) in words.iter().skip(index + 1) {
                    assert!(area.overlap(beside) < 1e-9, "{one:?} on {other:?} in {:?}", sheet.part);
                }
                for mark in &page.marks {
                    if let Mark::Circle { centre, radius, style } = mark {
                        let hit = area.meets_circle(*centre, *radius);
                        assert!(!hit || *style == LineStyle::Ghost, "{one:?} on a hole in {:?}", sheet.part);
                    }
                }
            }
        }
    }
}

#[test]
fn caution_and_check_stand_where_they_must() {
    for sheet in all() {
        let drawing = sheet.drawing().unwrap();
        assert_eq!(count(&drawing, "Geometry only."), 1);
        let template = count(&drawing, "Template, full size.");
        assert!(template >= 1);
        let check = "Check line: 100 mm. Measure it before you drill; print at 100 %, no scaling.";
        assert_eq!(count(&drawing, check), template);
        assert_eq!(count(&drawing, "Printed side toward you"), template);
        let numbered = (1..=drawing.pages.len())
            .all(|n| count(&drawing, &format!("Page {n} of {}", drawing.pages.len())) == 1);
        assert!(numbered);
    }
}

#[test]
fn the_tables_say_places_moves_distances_and_tolerances() {
    let drawing = all().swap_remove(0).drawing().unwrap();
    // From (1510, 250, 190) to (1502, 250, 202.5), seen from the left: 8 rearward, 12.5 up, √220.25.
    for part in ["1510.00", "202.50", "+8.00", "+12.50", "14.84", "0.20", "bump steer within ±0.10°/m"] {
        assert!(count(&drawing, part) >= 1, "no {part}");
    }
    // The narrower of both cases large and on the template, each with what decides it below.
    for part in [
        "Lower wishbone, front: place within 0.20 mm, with Rear toe failing already.",
        "As built (links as they are, nothing reset): within 0.20 mm for bump steer within ±0.10°/m to hold.",
        "Realigned (links as they are, static toe reset): within 0.90 mm for roll centre to hold, with up to 0.06° of",
        "Failing already, so not counted: Rear toe.",
    ] {
        assert!(count(&drawing, part) >= 1, "no {part}");
    }
    assert_eq!(count(&drawing, "place within 0.20 mm"), 2);
    assert!(all().swap_remove(0).dxf().unwrap().contains("place within 0.20 mm"));
    // Jig hole B at (1470, 200): old rocker pivot 60 and 60 off, new 56 and 55.
    let six = all().swap_remove(2).drawing().unwrap();
    for part in ["84.85", "78.49", "−6.36", "Seen from the left of the car"] {
        assert!(count(&six, part) >= 1, "no {part}");
    }
}

#[test]
fn a_move_out_of_the_plane_is_said_loudly_and_with_its_side() {
    let say = |y: f64| {
        let sheet = sheet(left(0.0, 0.0), vec![moved("Ash", [0.0, 250.0, 0.0], [5.0, 250.0 + y, 0.0])]);
        let pages = sheet.drawing().unwrap().pages;
        pages[1]
            .marks
            .iter()
            .any(|mark| matches!(mark, Mark::Text { words, bold: true, .. } if words.starts_with("Also")))
            .then(|| count(&sheet.drawing().unwrap(), if y > 0.0 { "mm toward you" } else { "mm away from" }))
    };
    assert_eq!(say(3.0), Some(2), "once on the template, once in the tables");
    assert_eq!(say(-3.0), Some(2));
    assert_eq!(say(0.01), None);
}

#[test]
fn a_hole_that_cuts_into_another_is_said() {
    let say = |step: f64, diameter: Option<f64>| {
        let hole = MovedHole { diameter, ..moved("Ash", [0.0, 250.0, 0.0], [step, 250.0, 0.0]) };
        let sheet = sheet(left(0.0, 0.0), vec![hole]);
        let said = sheet.cuts();
        assert_eq!(count(&sheet.drawing().unwrap(), "cuts into its old hole"), said.len());
        said
    };
    assert_eq!(
        say(7.9, Some(8e-3)),
        ["Ash: the new hole cuts into its old hole, 7.90 mm between their centres"]
    );
    assert!(say(8.1, Some(8e-3)).is_empty() && say(0.5, None).is_empty());
    let holes = vec![
        MovedHole { diameter: Some(8e-3), ..moved("Ash", [0.0, 250.0, 0.0], [0.0, 250.0, 20.0]) },
        MovedHole { diameter: Some(6e-3), ..moved("Elm", [30.0, 250.0, 0.0], [0.0, 250.0, 26.9]) },
    ];
    let mut both = sheet(left(0.0, 0.0), holes);
    assert_eq!(
        both.cuts(),
        ["Ash: the new hole cuts into the new hole of Elm, 6.90 mm between their centres"]
    );
    both.references = vec![ReferenceHole {
        name: "dowel".into(),
        at: Vector3::new(0.0, 0.25, 0.015),
        diameter: Some(4e-3),
    }];
    assert_eq!(both.cuts().len(), 2);
}

#[test]
fn what_makes_no_sheet_says_what_to_do() {
    let check = |sheet: &BracketSheet, expected: &str| {
        let fault = sheet.drawing().unwrap_err();
        assert_eq!(fault.to_string(), expected);
    };
    let good = || sheet(left(0.0, 0.0), vec![moved("Ash", [0.0; 3], [5.0, 0.0, 0.0])]);
    check(&sheet(left(0.0, 0.0), Vec::new()), "no hole moves: name at least one with its old and new place");
    let mut lost = good();
    lost.holes[0].new.y = f64::NAN;
    check(&lost, "the new place of hole \"Ash\" is not a number: give finite metres");
    let mut flat = good();
    flat.holes[0].diameter = Some(0.0);
    check(&flat, "hole \"Ash\" has a diameter of 0.00 mm: leave it out where it is not known");
    let mut wide = good();
    wide.holes.push(moved("Oak", [4000.0, 0.0, 3000.0], [4000.0, 0.0, 3001.0]));
    let fault = wide.drawing().unwrap_err();
    assert!(
        matches!(fault, BracketFault::TooLarge { across, up, .. } if across > 4.0 && up > 3.0),
        "{fault}"
    );
    assert!(wide.dxf().is_ok(), "a cutter has no paper");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 64, ..ProptestConfig::default() })]

    /// Nothing that is given makes it panic, whatever the numbers and letters.
    #[test]
    fn nonsense_is_refused_or_drawn(
        name in any::<String>(), old in any::<[f64; 3]>(), new in [-0.3..0.3_f64, -0.3..0.3, -0.3..0.3],
        nonsense in any::<bool>(), diameter in any::<Option<f64>>(), within in any::<f64>(),
    ) {
        let mut hole = moved(&name, [0.0; 3], [0.0; 3]);
        hole.new = Vector3::from(new);
        hole.old = if nonsense { Vector3::from(old) } else { -hole.new };
        hole.diameter = diameter.filter(|_| nonsense).or(Some(1e-3 + within.abs().min(0.4)));
        if nonsense {
            hole.tolerance = Some(Tolerance {
                realigned: Placing { within, decided_by: Some(name.clone()) },
                as_built: Placing { within: -within, decided_by: None },
                toe_to_take_out: Some(within),
                broken: vec![name.clone()],
                open: vec![name.clone()],
            });
        }
        let mut sheet = sheet(left(0.0, 0.0), vec![hole]);
        sheet.part = name;
        if let Ok(drawing) = sheet.drawing() {
            assert_eq!(drawing.svgs().len(), drawing.pages.len());
            assert!(!drawing.pdf().is_empty());
        }
        let _ = sheet.dxf();
    }
}

/// A tolerance is rounded down: the sheet allows no more than the limit does.
#[test]
fn a_tolerance_is_rounded_down() {
    let sheet_within = |metres: f64, lengths: LengthUnit| {
        let placing = || Placing { within: metres, decided_by: Some("bump steer".into()) };
        let tolerance = Tolerance {
            realigned: placing(),
            as_built: placing(),
            toe_to_take_out: None,
            broken: vec![],
            open: vec![],
        };
        let hole =
            MovedHole { tolerance: Some(tolerance), ..moved("Ash", [0.0, 250.0, 0.0], [5.0, 250.0, 0.0]) };
        BracketSheet { lengths, ..sheet(left(0.0, 0.0), vec![hole]) }
    };
    for (metres, lengths, said) in [
        (0.000_199_9, LengthUnit::Millimetre, "0.19 mm"),
        (0.000_2, LengthUnit::Millimetre, "0.20 mm"),
        (0.000_29, LengthUnit::Millimetre, "0.29 mm"),
        (0.000_899_99, LengthUnit::Millimetre, "0.89 mm"),
        (0.019_9e-3 * 25.4, LengthUnit::Inch, "0.019 in"),
    ] {
        let sheet = sheet_within(metres, lengths);
        let drawing = sheet.drawing().unwrap();
        for words in [format!("place within {said}"), format!("within {said} for bump steer to hold")] {
            assert!(count(&drawing, &words) >= 1, "{words}");
        }
        assert!(sheet.dxf().unwrap().contains(&format!("place within {said}")), "{said}");
        assert!(count(&drawing, said.split(' ').next().unwrap()) >= 3, "{said}: in the table of moves too");
    }
}
