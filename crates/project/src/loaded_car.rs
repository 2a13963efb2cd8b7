//! A car with where it came from: a file, or a demo car inside the executable.

use crate::companion_folder::CompanionFolder;
use crate::demo::{ALDER, CARS};
use std::path::{Path, PathBuf};
use wheelpath_car_file::{LoadError, Loaded, load, nearest, parse};
use wheelpath_geometry::{LengthUnit, shown_name};

/// A car, and where it came from.
#[derive(Clone, Debug)]
pub struct LoadedCar {
    /// The car as loaded.
    pub loaded: Loaded,
    /// Its file; none for a demo car inside the executable.
    pub path: Option<PathBuf>,
}

/// What else a word for a car could have meant.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum OtherMeaning {
    /// A file of this very name was taken; a demo car has the name too.
    DemoCar(&'static str),
    /// The demo car was taken; a file of the name with its ending is there too.
    File(&'static str),
}

impl LoadedCar {
    /// Loads a car file; the name of a demo car is that car where no file has that name. (A folder is no car.)
    /// Where both could be meant, it gives what was not taken.
    ///
    /// # Errors
    /// The file cannot be read, or has faults.
    pub fn open(name: &Path) -> Result<(LoadedCar, Option<OtherMeaning>), LoadError> {
        let from_file = || Ok(LoadedCar { loaded: load(name)?, path: Some(name.to_owned()) });
        let Some((word, text)) = CARS.into_iter().find(|(word, _)| name == Path::new(word)) else {
            return Ok((from_file()?, None));
        };
        if name.is_file() {
            return Ok((from_file()?, Some(OtherMeaning::DemoCar(word))));
        }
        let other = name.with_extension("ron").is_file().then_some(OtherMeaning::File(word));
        let loaded = parse(text, &format!("demo-cars/{word}.ron"))?;
        Ok((LoadedCar { loaded, path: None }, other))
    }

    /// In what its file counts lengths.
    #[must_use]
    pub fn units(&self) -> LengthUnit {
        self.loaded.document.units()
    }

    /// The word for the demo car that it is; `None` for a car that has a file.
    pub(crate) fn demo_word(&self) -> Option<&str> {
        if self.path.is_some() {
            return None;
        }
        Path::new(self.loaded.document.file()).file_stem()?.to_str()
    }

    /// Where the files beside it stand; `None` for a demo car inside the executable.
    #[must_use]
    pub fn folder(&self) -> Option<CompanionFolder> {
        self.path.as_deref().map(CompanionFolder::of)
    }
}

/// The demo car that opens where none is named.
///
/// # Errors
/// The demo car has a fault; a test sees to it that it has none.
pub fn demo_car() -> Result<LoadedCar, LoadError> {
    Ok(LoadedCar { loaded: parse(ALDER, "demo-cars/alder.ron")?, path: None })
}

/// What to do where a car cannot be read from a path: the file or the demo car that was meant, as far as one is alike.
#[must_use]
pub fn what_was_meant(path: &Path) -> String {
    let words = CARS.map(|(word, _)| word);
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
