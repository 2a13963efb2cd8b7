//! The demo car Alder, read from its file.

use std::path::Path;
use wheelpath_car_file::load;
use wheelpath_geometry::Car;

/// Alder in its design pose.
///
/// # Panics
/// When the file has a fault.
#[must_use]
pub fn alder() -> Car {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../demo-cars/alder.ron");
    load(&path).unwrap_or_else(|error| panic!("{error}")).car
}

/// A car of a file, by its path from the project's root.
///
/// # Panics
/// When the file has a fault.
#[must_use]
pub fn car_of(path: &str) -> Car {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("..").join(path);
    load(&path).unwrap_or_else(|error| panic!("{error}")).car
}

/// Every car file of the project: between them they have every linkage.
pub const CARS: [&str; 15] = [
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
];
