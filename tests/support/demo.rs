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
