//! The car a command is about: a file, or a demo car inside the executable.

use crate::failure::Failure;
use crate::io::Console;
use std::path::{Path, PathBuf};
use wheelpath_car_file::{Companions, LoadError, Loaded, load, nearest, parse};
use wheelpath_geometry::{Car, CarSolver, LengthUnit, shown_name};

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
pub struct LoadedCar {
    /// The car as loaded.
    pub loaded: Loaded,
    /// Its file; none for a demo car inside the executable.
    pub path: Option<PathBuf>,
}

/// The demo car.
///
/// # Errors
/// The demo car has a fault; a test sees to it that it has none.
pub fn demo_car() -> Result<LoadedCar, LoadError> {
    Ok(LoadedCar { loaded: parse(ALDER, "demo-cars/alder.ron")?, path: None })
}

/// The demo cars as they were built: nobody measured a number of theirs.
pub(crate) fn demo_cars() -> Result<Vec<Car>, LoadError> {
    DEMO_CARS.iter().map(|(word, text)| Ok(parse(text, word)?.car)).collect()
}

/// What to do where a car cannot be read from a path: the file or the demo car that was meant, as far as one is alike.
pub(crate) fn what_was_meant(path: &Path) -> String {
    let words = DEMO_CARS.map(|(word, _)| word);
    let file = path.with_extension("ron");
    if file != path && file.is_file() {
        let what = if path.is_dir() { "a folder" } else { "no file" };
        let [path, file] = [path, &file].map(|path| shown_name(&path.display().to_string()).into_owned());
        return format!("{path} is {what}; did you mean the file {file}?");
    }
    let name = path.to_string_lossy();
    match nearest(name.strip_suffix(".ron").unwrap_or(&name), words) {
        Some(word) => format!("did you mean the demo car {word}? Else give the path of a car file"),
        None => format!("give the path of a car file, or a demo car: {}", words.join(", ")),
    }
}

impl LoadedCar {
    /// Loads the car file; the name of a demo car is that car where no file has that name. (A folder is no
    /// car.) Where both could be meant, it is said which is taken.
    pub(crate) fn of(name: &Path, io: &mut Console) -> Result<Self, LoadError> {
        let demo = DEMO_CARS.into_iter().find(|(word, _)| name == Path::new(word));
        let Some((word, text)) = demo else {
            return Ok(LoadedCar { loaded: load(name)?, path: Some(name.to_owned()) });
        };
        // What cannot be said now will not be heard later either: the results say so.
        if name.is_file() {
            let _ = io.warn(
                &format!("{word} is the file {word} here, not the demo car of that name"),
                "rename the file, or go to another folder, to have the demo car",
            );
            return Ok(LoadedCar { loaded: load(name)?, path: Some(name.to_owned()) });
        }
        let file = name.with_extension("ron");
        if file.is_file() {
            let _ = io.warn(
                &format!("{word} is the demo car of that name, not the file {word}.ron here"),
                &format!("write {word}.ron to have the file"),
            );
        }
        Ok(LoadedCar { loaded: parse(text, &format!("demo-cars/{word}.ron"))?, path: None })
    }

    /// In what its file counts lengths.
    #[must_use]
    pub fn units(&self) -> LengthUnit {
        self.loaded.document.units()
    }

    /// Loads it, says the first of its warnings and how many there are, and makes it ready to solve.
    pub(crate) fn ready(name: &Path, io: &mut Console) -> Result<(Self, CarSolver), Failure> {
        let mut car = LoadedCar::of(name, io)?;
        io.count_in(car.units());
        io.warn_of_car(&car.loaded.warnings, &format!("wheelpath check {}", name.display()))?;
        let solver = CarSolver::new(&car.loaded.car)?;
        let companions = car.path.as_deref().map(Companions::of);
        if let Some(Companions { folder, passed_over: Some(other) }) = companions {
            io.warn(
                &format!("{} is a link, and a folder stands beside it and beside its file", name.display()),
                &format!("{} is taken, {} is not looked into", folder.display(), other.display()),
            )?;
        }
        // From here on the name is only shown.
        car.loaded.car.name = shown_name(&car.loaded.car.name).into_owned();
        Ok((car, solver))
    }
}
