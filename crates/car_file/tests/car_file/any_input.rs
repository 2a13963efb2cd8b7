//! Whatever the text, loading gives a car or an error, and what it gives is the whole truth.

use crate::{BOX_AND_H_ARM, CAR, FIVE_LINKS_AND_ARM, STRUT_AND_AXLE};
use proptest::prelude::*;
use wheelpath_car_file::{Axes, Direction, Document, Loaded, parse};
use wheelpath_geometry::{
    Alignment, CamberBy, Car, Hardpoint, LengthUnit, Side, Steering, ToeBy, WheelPosition,
    spin_axis_from_angles,
};

/// Pieces that mean something in a car file, put where they do not belong.
const PIECES: &[&str] = &[
    "(",
    ")",
    ",",
    ":",
    "\"",
    "//",
    "/*",
    "*/",
    "Mirrored",
    "None",
    "inf",
    "NaN",
    "-",
    "1e999",
    "-1e-320",
    "()",
    "Rack",
    "pickups",
    "r#\"",
    "\\",
    "é",
    "\u{feff}",
    "\u{0}",
    "((((((((((((((((((((((((((((((((((((((((",
    "[]",
    "[",
    "]",
    "Box",
    "Strut",
    "watt_pivot: (1, 2, 3),",
    "BeamAxle",
    "{}",
    "'",
    "#![enable(implicit_some)]",
    "1_000",
    "0x10",
    "..",
    "true",
    "Some(",
    "0.0",
    "1e9",
];

fn a_car() -> impl Strategy<Value = &'static str> {
    prop::sample::select(vec![CAR, STRUT_AND_AXLE, BOX_AND_H_ARM, FIVE_LINKS_AND_ARM])
}

fn a_broken_text() -> impl Strategy<Value = String> {
    let cut = (any::<prop::sample::Index>(), 0..40_usize, prop::sample::select(PIECES));
    (a_car(), prop::collection::vec(cut, 1..4)).prop_map(|(car, cuts)| {
        let mut text: Vec<char> = car.chars().collect();
        for (at, gone, piece) in cuts {
            let at = at.index(text.len());
            let end = (at + gone).min(text.len());
            text.splice(at..end, piece.chars());
        }
        text.into_iter().collect()
    })
}

/// The car with some of its numbers replaced.
fn other_numbers() -> impl Strategy<Value = String> {
    let number = prop_oneof![
        any::<f64>().prop_map(|number| format!("{number:?}")),
        (-900.0..900.0_f64).prop_map(|number| format!("{number:.1}")),
        Just("0.0".to_owned()),
    ];
    let changes = prop::collection::vec((any::<prop::sample::Index>(), number), 1..6);
    (a_car(), changes).prop_map(|(car, changes)| {
        let mut pieces: Vec<String> = car.split_inclusive([' ', '(']).map(str::to_owned).collect();
        let numbers: Vec<usize> = (0..pieces.len())
            .filter(|at| {
                pieces.get(*at).is_some_and(|p| p.starts_with(|c: char| c.is_ascii_digit() || c == '-'))
            })
            .collect();
        for (at, number) in changes {
            if let Some(piece) = numbers.get(at.index(numbers.len())).and_then(|at| pieces.get_mut(*at)) {
                let end = piece.find([',', ')']).unwrap_or(piece.len());
                piece.replace_range(..end, &number);
            }
        }
        pieces.concat()
    })
}

/// A loaded car saves to a text that loads as the same car; an error has faults with real places.
fn is_whole(text: &str) -> Result<(), TestCaseError> {
    match parse(text, "car.ron") {
        Ok(Loaded { car, document, .. }) => {
            let again = document.with_car(&car).map_err(|error| TestCaseError::fail(error.to_string()))?;
            prop_assert_eq!(again.text(), text.trim_start_matches('\u{feff}'));
        }
        Err(error) => {
            prop_assert!(!error.problems().is_empty());
            for problem in error.problems() {
                let line = text.split('\n').nth(problem.place.line - 1);
                prop_assert!(
                    line.is_some_and(|line| problem.place.column <= line.chars().count() + 1),
                    "{problem} is outside the text"
                );
                prop_assert!(!problem.hint().is_empty());
            }
        }
    }
    Ok(())
}

fn moved_a_little(range: f64) -> impl Strategy<Value = Vec<f64>> {
    prop::collection::vec(-range..range, 4 * 3 * Hardpoint::COUNT)
}

/// The small car with every point moved and every other number changed, each side its own way.
fn another(base: &Car, moves: &[f64], mirrored: bool, angles: (f64, f64)) -> Car {
    let mut car = base.clone();
    let mut moves = moves.iter().copied().cycle();
    let mut next = || moves.next().unwrap_or_default();
    for at in WheelPosition::ALL {
        let corner = car.corner_mut(at);
        corner.lengths.clear();
        for &hardpoint in Hardpoint::ALL {
            if let Some(mut point) = corner.hardpoints.get(hardpoint) {
                point.iter_mut().for_each(|coordinate| *coordinate += next());
                corner.hardpoints.set(hardpoint, point);
            }
        }
        corner.wheel.centre.z += next();
        corner.wheel.tyre_radius += next();
        corner.wheel.spin_axis = spin_axis_from_angles(at.side, angles.0, angles.1 + next());
        corner.alignment = Alignment::FROM_POINTS;
        if next() > 0.0 {
            corner.alignment.toe = ToeBy::TieRodLength(angles.1);
        }
        if next() > 0.0 {
            corner.alignment.camber = CamberBy::Adjuster(angles.0);
        }
    }
    if mirrored {
        car.front.right = car.front.left.mirrored();
        car.rear.left = car.rear.right.mirrored();
    }
    if let Steering::Rack(rack) = &mut car.front.steering {
        rack.travel_per_turn += next();
        rack.axis = nalgebra::Vector3::new(next(), 1.0, next()).normalize();
    }
    car
}

fn greatest_difference(a: &Car, b: &Car) -> f64 {
    let mut greatest = (a.wheelbase - b.wheelbase).abs();
    for at in WheelPosition::ALL {
        let (a, b) = (a.corner(at), b.corner(at));
        for (hardpoint, point) in a.hardpoints.iter() {
            greatest = greatest
                .max(b.hardpoints.get(hardpoint).map_or(f64::INFINITY, |other| (point - other).norm()));
        }
        greatest = greatest.max((a.wheel.centre - b.wheel.centre).norm());
        greatest = greatest.max((a.wheel.spin_axis - b.wheel.spin_axis).norm());
        greatest = greatest.max((a.wheel.tyre_radius - b.wheel.tyre_radius).abs());
    }
    greatest
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(512))]

    #[test]
    fn a_broken_text_never_panics(text in a_broken_text()) {
        is_whole(&text)?;
    }

    #[test]
    fn other_numbers_never_panic(text in other_numbers()) {
        is_whole(&text)?;
    }

    #[test]
    fn no_text_at_all_panics(text in any::<String>()) {
        is_whole(&text)?;
    }

    #[test]
    fn a_saved_car_loads_as_itself(
        moves in moved_a_little(0.002),
        mirrored in any::<bool>(),
        angles in (-0.03..0.03_f64, -0.01..0.01_f64),
        inches in any::<bool>(),
        turned in any::<bool>(),
    ) {
        let loaded = parse(CAR, "car.ron").unwrap();
        let car = another(&loaded.car, &moves, mirrored, angles);
        let edited = loaded.document.with_car(&car);
        prop_assume!(edited.is_ok());
        let units = if inches { LengthUnit::Inch } else { LengthUnit::Millimetre };
        let axes = if turned { [Direction::Right, Direction::Down, Direction::Forward] }
            else { [Direction::Forward, Direction::Left, Direction::Up] };
        let Ok(axes) = Axes::new(axes) else { return Err(TestCaseError::fail("axes")) };
        let fresh = Document::new(&car, "new.ron", "as it stands", units, axes);
        for document in [edited, fresh] {
            let document = document.map_err(|error| TestCaseError::fail(error.to_string()))?;
            let again = parse(document.text(), "again.ron").map_err(|error| TestCaseError::fail(error.to_string()))?;
            let difference = greatest_difference(&car, &again.car);
            prop_assert!(difference < 1e-12, "{difference} m apart:\n{}", document.text());
            for side in Side::BOTH {
                prop_assert_eq!(
                    again.car.front.corner(side).alignment == Alignment::FROM_POINTS,
                    car.front.corner(side).alignment == Alignment::FROM_POINTS
                );
            }
        }
    }
}
