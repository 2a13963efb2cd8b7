//! The car a command is about, opened and made ready to solve.

use crate::console::failure::Failure;
use crate::console::streams::Console;
use std::path::Path;
use wheelpath_car_file::LoadError;
use wheelpath_geometry::{CarSolver, shown_name};
use wheelpath_project::{CompanionFolder, LoadedCar, OtherMeaning};

/// Loads the car file, or the demo car of that name. Where both could be meant, it is said which is taken.
pub(crate) fn opened(name: &Path, io: &mut Console) -> Result<LoadedCar, LoadError> {
    let (car, other) = LoadedCar::open(name)?;
    // What cannot be said now will not be heard later either: the results say so.
    let _ = match other {
        None => Ok(()),
        Some(OtherMeaning::DemoCar(word)) => io.warn(
            &format!("{word} is the file {word} here, not the demo car of that name"),
            "rename the file, or go to another folder, to have the demo car",
        ),
        Some(OtherMeaning::File(word)) => io.warn(
            &format!("{word} is the demo car of that name, not the file {word}.ron here"),
            &format!("write {word}.ron to have the file"),
        ),
    };
    Ok(car)
}

/// Loads it, says the first of its warnings and how many there are, and makes it ready to solve.
pub(crate) fn ready(name: &Path, io: &mut Console) -> Result<(LoadedCar, CarSolver), Failure> {
    let mut car = opened(name, io)?;
    io.count_in(car.units());
    io.warn_of_car(&car.loaded.warnings, &format!("wheelpath check {}", name.display()))?;
    let solver = CarSolver::new(&car.loaded.car)?;
    if let Some(CompanionFolder { folder, passed_over: Some(other) }) = car.folder() {
        io.warn(
            &format!("{} is a link, and a folder stands beside it and beside its file", name.display()),
            &format!("{} is taken, {} is not looked into", folder.display(), other.display()),
        )?;
    }
    // From here on the name is only shown.
    car.loaded.car.name = shown_name(&car.loaded.car.name).into_owned();
    Ok((car, solver))
}
