//! The cars that inputs start from: sound ones, one for each linkage at least.

use std::sync::LazyLock;
use wheelpath_car_file::parse;
use wheelpath_geometry::Car;

/// Texts of sound car files.
pub const TEXTS: &[&str] = &[
    include_str!("../../../demo-cars/alder.ron"),
    include_str!("../../../crates/car_file/tests/car_file/small.ron"),
];

/// The same, read.
pub static CARS: LazyLock<Vec<Car>> = LazyLock::new(|| {
    let read = |text: &&str| parse(text, "base.ron").unwrap_or_else(|error| panic!("{error}")).car;
    TEXTS.iter().map(read).collect()
});

/// One of them, whatever the number.
#[must_use]
pub fn car(which: u8) -> &'static Car {
    &CARS[usize::from(which) % CARS.len()]
}
