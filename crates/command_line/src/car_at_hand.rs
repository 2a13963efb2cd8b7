//! The car a command is about: a file, or a demo car inside the executable.

use crate::failure::Failure;
use crate::io::Io;
use std::path::{Path, PathBuf};
use wheelpath_car_file::{LoadError, Loaded, load, parse};
use wheelpath_geometry::{CarSolver, LengthUnit};

/// The text of the demo car Alder, so that the executable works from anywhere.
pub const ALDER: &str = include_str!("../../../demo-cars/alder.ron");

/// The demo cars, by the words for them where a car file is asked for.
const DEMO_CARS: [(&str, &str); 4] = [
    ("alder", ALDER),
    ("hazel", include_str!("../../../demo-cars/hazel.ron")),
    ("rowan", include_str!("../../../demo-cars/rowan.ron")),
    ("sorrel", include_str!("../../../demo-cars/sorrel.ron")),
];

/// A car, and where it came from.
#[derive(Clone, Debug)]
pub struct CarAtHand {
    /// The car as loaded.
    pub loaded: Loaded,
    /// Its file; none for a demo car inside the executable.
    pub path: Option<PathBuf>,
}

/// The demo car.
///
/// # Errors
/// The demo car has a fault; a test sees to it that it has none.
pub fn demo_car() -> Result<CarAtHand, LoadError> {
    Ok(CarAtHand { loaded: parse(ALDER, "demo-cars/alder.ron")?, path: None })
}

impl CarAtHand {
    /// Loads the car file; the name of a demo car is that car where no file has that name.
    pub(crate) fn of(name: &Path) -> Result<Self, LoadError> {
        let demo = DEMO_CARS.into_iter().find(|(word, _)| name == Path::new(word) && !name.exists());
        if let Some((word, text)) = demo {
            return Ok(CarAtHand { loaded: parse(text, &format!("demo-cars/{word}.ron"))?, path: None });
        }
        Ok(CarAtHand { loaded: load(name)?, path: Some(name.to_owned()) })
    }

    /// In what its file counts lengths.
    #[must_use]
    pub fn units(&self) -> LengthUnit {
        self.loaded.document.units()
    }

    /// Loads it, says its warnings, and makes it ready to solve.
    pub(crate) fn ready(name: &Path, io: &mut Io) -> Result<(Self, CarSolver), Failure> {
        let car = CarAtHand::of(name)?;
        io.count_in(car.units());
        for warning in &car.loaded.warnings {
            io.warn(&warning.to_string(), &warning.hint())?;
        }
        let solver = CarSolver::new(&car.loaded.car)?;
        Ok((car, solver))
    }
}
