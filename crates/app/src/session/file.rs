//! The car's file: opening it, and saving the car as another.

use super::Session;
use super::notice::About;
use super::recovery;
use std::path::{Path, PathBuf};
use wheelpath_car_file::{Axes, Document, LoadError, Loaded, load, save};
use wheelpath_geometry::{Car, LengthUnit, Stop};

/// Where a car comes from and where it went.
#[derive(Clone, Debug, Default)]
pub(super) struct Files {
    pub document: Option<Document>,
    pub path: Option<PathBuf>,
    /// The car as last opened or saved.
    pub saved: Option<Car>,
    /// Where the last save went.
    pub saved_to: Option<PathBuf>,
    /// Where unsaved changes are kept until they are saved.
    pub sidecar: Option<PathBuf>,
    /// The files of the bracket sheet that was written last.
    pub sheets: Vec<PathBuf>,
    /// Unsaved changes of an earlier run.
    pub found: Option<Box<Car>>,
}

/// Why a car could not be opened.
#[derive(Debug)]
pub enum OpenError {
    /// Its file has faults.
    Load(LoadError),
    /// It cannot be solved.
    Unsolvable(Vec<Stop>),
}

impl std::fmt::Display for OpenError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            OpenError::Load(error) => error.fmt(f),
            OpenError::Unsolvable(stops) => {
                for (n, stop) in stops.iter().enumerate() {
                    if n > 0 {
                        f.write_str("\n")?;
                    }
                    stop.fmt(f)?;
                }
                Ok(())
            }
        }
    }
}

impl std::error::Error for OpenError {}

impl Session {
    /// Opens a car file. Unsaved changes of an earlier run are found, not yet taken up.
    ///
    /// # Errors
    /// The file cannot be read or has faults, or the car cannot be solved.
    pub fn open(path: &Path) -> Result<Self, OpenError> {
        let loaded = load(path).map_err(OpenError::Load)?;
        Ok(Session::of(loaded).map_err(OpenError::Unsolvable)?.at_path(path))
    }

    /// A session on a car that was loaded otherwise: a demo car inside the program.
    ///
    /// # Errors
    /// What keeps the car from being solved.
    pub fn of(loaded: Loaded) -> Result<Self, Vec<Stop>> {
        let mut session = Session::new(loaded.car)?;
        session.file.saved = Some(session.original.clone());
        session.file.document = Some(loaded.document);
        Ok(session)
    }

    /// The session of a car whose file is this one. Unsaved changes of an earlier run are found, not yet
    /// taken up.
    #[must_use]
    pub fn at_path(mut self, path: &Path) -> Self {
        self.file.path = Some(path.to_owned());
        self.look_for_recovery(recovery::beside(path));
        self
    }

    /// Keeps unsaved changes in this file, and looks for some there.
    #[must_use]
    pub fn with_recovery_at(mut self, sidecar: PathBuf) -> Self {
        self.look_for_recovery(Some(sidecar));
        self
    }

    /// The car's file, if it was opened from one.
    #[must_use]
    pub fn path(&self) -> Option<&Path> {
        self.file.path.as_deref()
    }

    /// Where the car was last saved to.
    #[must_use]
    pub fn saved_to(&self) -> Option<&Path> {
        self.file.saved_to.as_deref()
    }

    /// Whether the car differs from what was last opened or saved.
    #[must_use]
    pub fn is_unsaved(&self) -> bool {
        self.file.saved.as_ref().unwrap_or(&self.original) != &self.car
    }

    /// A file name that is free, for a new version of the car.
    #[must_use]
    pub fn suggested_path(&self) -> PathBuf {
        let known = self.saved_to().or(self.path());
        let folder = known.and_then(Path::parent).map_or_else(PathBuf::new, Path::to_owned);
        let stem = known.and_then(Path::file_stem).map_or_else(
            || self.car.name.to_lowercase().replace(|c: char| !c.is_alphanumeric(), "-"),
            |stem| stem.to_string_lossy().into_owned(),
        );
        let stem = stem.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end_matches('-').to_owned();
        let stem = if stem.is_empty() { "car".to_owned() } else { stem };
        (2..1000)
            .map(|n| folder.join(format!("{stem}-{n}.ron")))
            .find(|path| !path.exists())
            .unwrap_or_else(|| folder.join(format!("{stem}-new.ron")))
    }

    pub(super) fn save_as(&mut self, path: &Path, replace: bool) {
        if path.as_os_str().is_empty() {
            return self.refuse(
                About::File,
                "the new file needs a name".into(),
                "type one, such as car-2.ron".into(),
            );
        }
        if self.is_stale() {
            return self.refuse(
                About::File,
                "the car as typed cannot be solved, so its file would not open again".into(),
                "undo, or put right what is marked; then save".into(),
            );
        }
        if path.exists() && !replace {
            return self.refuse(
                About::File,
                format!("{} is there already", path.display()),
                "choose another name, or press Replace it".into(),
            );
        }
        match self.write(path) {
            Ok(document) => {
                self.file.document = Some(document);
                self.file.saved = Some(self.car.clone());
                self.file.saved_to = Some(path.to_owned());
                self.history.settle();
                self.drop_sidecar();
            }
            Err(reason) => self.refuse(
                About::File,
                format!("not saved: {reason}"),
                "the file that was there is untouched; choose another folder or name".into(),
            ),
        }
    }

    /// Writes the car as edited, in one step or not at all.
    pub(super) fn write(&self, path: &Path) -> Result<Document, String> {
        let fresh = || {
            let name = path.display().to_string();
            Document::new(
                &self.car,
                &name,
                "Zero travel, straight ahead.",
                LengthUnit::Millimetre,
                Axes::VEHICLE,
            )
        };
        let document = match &self.file.document {
            Some(document) => document.clone(),
            None => fresh().map_err(|error| error.to_string())?,
        };
        save(&document, &self.car, path).map_err(|error| error.to_string())
    }
}
