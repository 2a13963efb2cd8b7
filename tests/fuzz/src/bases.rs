//! The cars that inputs start from: sound ones, one for each linkage at least.

use std::sync::LazyLock;
use wheelpath_car_file::parse;
use wheelpath_geometry::{Car, End, LinkageKind};

macro_rules! texts {
    ($($path:literal),* $(,)?) => { &[$(include_str!(concat!("../../../", $path)),)*] };
}

/// Texts of sound car files.
pub const TEXTS: &[&str] = texts![
    "demo-cars/alder.ron",
    "demo-cars/hazel.ron",
    "demo-cars/rowan.ron",
    "demo-cars/sorrel.ron",
    "examples/linkages/h_arm.ron",
    "examples/linkages/pullrod_t_bar.ron",
    "examples/linkages/semi_trailing.ron",
    "examples/linkages/steered_beam_axle.ron",
    "examples/linkages/steered_five_link.ron",
    "examples/linkages/steering_box.ron",
    "examples/linkages/torque_arm.ron",
    "examples/linkages/trailing_arm.ron",
    "examples/linkages/triangulated_four_link.ron",
    "examples/linkages/watt_on_axle.ron",
    "examples/linkages/watt_on_body.ron",
    "crates/car_file/tests/car_file/small.ron",
];

/// The same, read.
pub static CARS: LazyLock<Vec<Car>> = LazyLock::new(|| {
    let read = |text: &&str| parse(text, "base.ron").unwrap_or_else(|error| panic!("{error}")).car;
    let cars: Vec<Car> = TEXTS.iter().map(read).collect();
    for kind in LinkageKind::ALL {
        let has = |car: &Car| End::BOTH.iter().any(|end| car.axle(*end).left.linkage == kind);
        assert!(cars.iter().any(has), "no base car has the {}", kind.label());
    }
    cars
});

/// One of them, whatever the number.
#[must_use]
pub fn car(which: u8) -> &'static Car {
    &CARS[usize::from(which) % CARS.len()]
}
