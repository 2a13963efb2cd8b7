//! A point table: points set or faults at their places; and the table of the car that came of it gives the
//! same car.

use crate::bases;
use crate::car_file::{assert_finite, assert_places};
use crate::near::assert_same;
use wheelpath_car_file::{Axes, Direction, TableOptions, import_points, points_table};
use wheelpath_geometry::{End, LengthUnit, Severity, Side, check};

/// Longer tables are only slow.
const LONGEST: usize = 16_000;

/// Imports a table. The first character says into which car and with which options, the second which
/// axes; the rest is the table.
pub fn try_table(input: &str) {
    let mut letters = input.chars();
    let (Some(first), Some(second)) = (letters.next(), letters.next()) else { return };
    let table = letters.as_str();
    if table.len() > LONGEST {
        return;
    }
    let (first, second) = (u32::from(first), u32::from(second));
    let car = bases::car(u8::try_from(second % 32).unwrap_or_default());
    let options = TableOptions {
        units: [None, Some(LengthUnit::Millimetre), Some(LengthUnit::Inch), Some(LengthUnit::Millimetre)]
            [index(first)],
        axes: [None, None, turned(), Some(Axes::VEHICLE)][index(second / 32)],
        end: [None, Some(End::Front), Some(End::Rear), None][index(first / 4)],
        side: [None, Some(Side::Left), Some(Side::Right), None][index(first / 32)],
        mirror: first / 16 % 2 == 1,
    };
    let imported = match import_points(car, table, "points.csv", &options) {
        Err(error) => return assert_places(table.trim_start_matches('\u{feff}'), &error),
        Ok(imported) => imported,
    };
    assert_finite(&imported.car);
    assert!(check(&imported.car).iter().all(|f| f.severity == Severity::Warning));
    let lines = table.split('\n').count();
    for unknown in &imported.unknown {
        assert!((1..=lines).contains(&unknown.line), "{unknown}: outside the table");
    }
    for set in &imported.set {
        assert!(set.to.iter().all(|x| x.is_finite()), "{:?}", set);
    }
    for (units, axes) in [(LengthUnit::Millimetre, None), (LengthUnit::Inch, turned())] {
        let written = points_table(&imported.car, units, axes.unwrap_or(Axes::VEHICLE));
        let again = import_points(car, &written, "written.csv", &TableOptions::default())
            .unwrap_or_else(|error| panic!("{error}\n{written}"));
        assert!(again.unknown.is_empty() && again.unused.is_empty() && again.missing.is_empty());
        assert_same(&imported.car, &again.car, "written and imported");
    }
}

fn index(number: u32) -> usize {
    usize::try_from(number % 4).unwrap_or_default()
}

fn turned() -> Option<Axes> {
    Axes::new([Direction::Rearward, Direction::Right, Direction::Up]).ok()
}
