//! The car's file: opening it, and saving the car as another.

use super::apply::findings;
use super::conflict::Conflict;
use super::edit::FileCommand;
use super::notice::About;
use super::{Beside, Session, SheetJob};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Instant;
use wheelpath_car_file::{Axes, Document, FileSnapshot, LoadError, Loaded, load};
use wheelpath_geometry::{Car, LengthUnit, Stop};
use wheelpath_project::{
    CompanionFolder, Companions, FileVersions, OtherWindow, Recent, Recents, UnsavedChanges, WindowLock,
};

/// Where a car comes from and where it went.
#[derive(Clone, Debug, Default)]
pub(super) struct Files {
    pub document: Option<Document>,
    pub path: Option<PathBuf>,
    /// The car as last opened or saved.
    pub saved: Option<Box<Car>>,
    /// Where the last save went.
    pub saved_to: Option<PathBuf>,
    /// The file beside which unsaved changes are kept until they are saved.
    pub base: Option<PathBuf>,
    /// Where this window keeps them, once there are any.
    pub sidecar: Option<PathBuf>,
    /// The bracket sheet that was asked for and of which nothing is known yet.
    pub sheet: Option<Arc<SheetJob>>,
    /// The bracket sheet that was written last, with its files.
    pub sheets: Option<(Arc<SheetJob>, Vec<PathBuf>)>,
    /// Unsaved changes of earlier runs, latest first.
    pub found: Vec<UnsavedChanges>,
    /// The unsaved changes that were thrown away and not brought back, latest last; each has its file.
    pub thrown: Vec<UnsavedChanges>,
    /// They were thrown away in this window, and nothing was said about that since.
    pub thrown_here: bool,
    /// What each file held when it was last read or written here.
    pub known: FileVersions,
    /// Files that others have written since.
    pub conflicts: Vec<Conflict>,
    /// This window's place among those on the car; shared, so that it is given back when the car is left.
    pub slot: Arc<Mutex<Option<WindowLock>>>,
    /// The other windows on the car.
    pub others: Vec<OtherWindow>,
    /// When others were last looked for.
    pub looked: Option<Instant>,
    /// Where limits went that another's were in the way of.
    pub limits_apart: Option<PathBuf>,
    /// Files opened lately.
    pub recents: Recents,
}

impl Files {
    /// The number of this window's place among those on the car.
    pub fn window(&self) -> Option<usize> {
        let slot = self.slot.lock().unwrap_or_else(PoisonError::into_inner);
        slot.as_ref().map(|slot| slot.number)
    }

    fn put_slot(&self, slot: Option<WindowLock>) {
        *self.slot.lock().unwrap_or_else(PoisonError::into_inner) = slot;
    }
}

/// Why a car could not be opened.
#[derive(Debug)]
pub enum OpenError {
    /// Its file has faults.
    Load(LoadError),
    /// It cannot be solved; its file counts lengths in this unit.
    Unsolvable(Vec<Stop>, LengthUnit),
}

impl std::fmt::Display for OpenError {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            OpenError::Load(error) => error.fmt(f),
            OpenError::Unsolvable(stops, lengths) => {
                for (n, stop) in stops.iter().enumerate() {
                    if n > 0 {
                        f.write_str("\n")?;
                    }
                    f.write_str(&stop.in_words(*lengths))?;
                }
                Ok(())
            }
        }
    }
}

impl std::error::Error for OpenError {}

impl Session {
    /// Opens a car file with what stands beside it. Unsaved changes of an earlier run are found, not yet
    /// taken up.
    ///
    /// # Errors
    /// The file cannot be read or has faults, or the car cannot be solved.
    // A session is large: kept out of its caller's frame, so that little stack is enough.
    #[inline(never)]
    pub fn open(path: &Path) -> Result<Self, OpenError> {
        let loaded = load(path).map_err(OpenError::Load)?;
        let lengths = loaded.document.units();
        let session = Session::of(loaded).map_err(|stops| OpenError::Unsolvable(stops, lengths))?;
        Ok(session
            .with_beside(Beside::from(Companions::in_folder(&CompanionFolder::of(path).folder)))
            .at_path(path))
    }

    /// A session on a car that was loaded otherwise: a demo car inside the program.
    ///
    /// # Errors
    /// What keeps the car from being solved.
    // A session is large: kept out of its caller's frame, so that little stack is enough.
    #[inline(never)]
    pub fn of(loaded: Loaded) -> Result<Self, Vec<Stop>> {
        let mut session = Session::new(loaded.car)?;
        session.file.saved = Some(session.original.clone());
        session.file.document = Some(loaded.document);
        session.findings = findings(&session.car, session.units());
        Ok(session)
    }

    /// The session of a car whose file is this one. Unsaved changes of an earlier run are found, not yet
    /// taken up.
    #[must_use]
    pub fn at_path(mut self, path: &Path) -> Self {
        self.file.path = Some(path.to_owned());
        if let Some(document) = &self.file.document {
            self.file.known.note(path, FileSnapshot::text(document.text()));
        }
        self.with_recovery_beside(path)
    }

    /// Keeps unsaved changes beside this file, there or not, and looks for some there.
    #[must_use]
    pub fn with_recovery_beside(mut self, base: &Path) -> Self {
        self.file.put_slot(WindowLock::take(base));
        self.file.base = Some(base.to_owned());
        self.look_for_windows();
        self.look_for_recovery();
        self
    }

    /// With the list of files opened lately, which this one joins.
    #[must_use]
    pub fn with_recents(mut self, recents: Recents) -> Self {
        self.file.recents = recents;
        self.note_recent(None);
        self
    }

    /// Files opened lately, latest first.
    #[must_use]
    pub fn recents(&self) -> &[Recent] {
        self.file.recents.files()
    }

    pub(super) fn note_recent(&mut self, proposal: Option<&Path>) {
        if let Some(car) = self.file.path.clone() {
            self.file.recents.note(&car, proposal);
        }
    }

    /// Opens another car in this window. What is in no file is kept as unsaved changes of the car that is
    /// left; where the other cannot be opened, nothing is left.
    // A session is large: kept out of its caller's frame, so that little stack is enough.
    #[inline(never)]
    pub(super) fn open_car(&mut self, path: &Path, proposal: Option<&Path>) {
        self.history.settle();
        let is_kept = self.keep_for_recovery();
        if !is_kept && self.is_unsaved() {
            let remedy = "save them first, or undo them";
            let text = "not opened: the changes here are in no file, and could not be kept beside the car";
            return self.refuse(About::File, text.into(), remedy.into());
        }
        // Given back first: the same car may be opened again, and what is left is then found.
        self.file.put_slot(None);
        match Session::open(path) {
            Ok(mut other) => {
                other.file.recents = std::mem::take(&mut self.file.recents);
                other.journal = self.journal.take();
                // What becomes of it is told in this window all the same.
                other.file.sheet = self.file.sheet.take();
                other.note_recent(None);
                if let Some(file) = proposal.and_then(Path::file_stem) {
                    other.open_proposal(&file.to_string_lossy());
                }
                *self = other;
            }
            Err(error) => {
                let base = self.file.base.clone();
                self.file.put_slot(base.as_deref().and_then(WindowLock::take));
                let first = error.to_string().lines().next().unwrap_or_default().to_owned();
                let text = format!("not opened: {first}");
                self.refuse(
                    About::File,
                    text,
                    "what was open stays open; `wheelpath check` says more".into(),
                );
            }
        }
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

    /// Whether the car is what was last opened or saved as a car.
    #[must_use]
    pub fn is_saved_as_car(&self) -> bool {
        **self.file.saved.as_ref().unwrap_or(&self.original) == self.car
    }

    /// Whether there is anything that its file does not hold: changes of the proposal that is open, or, where
    /// none is, of the car; or changed limits.
    #[must_use]
    pub fn is_unsaved(&self) -> bool {
        let is_saved = if self.open.is_some() { self.is_as_proposed() } else { self.is_saved_as_car() };
        !is_saved || self.limits_changed()
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

    #[inline(never)]
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
                "choose another name, or replace it".into(),
            );
        }
        let document = match self.written(&path.display().to_string()) {
            Ok(document) => document,
            Err(reason) => {
                let remedy = "the file that was there is untouched; choose another folder or name";
                return self.refuse(About::File, format!("not saved: {reason}"), remedy.into());
            }
        };
        let again = FileCommand::SaveAs { path: path.to_owned(), replace: true };
        if self.put_file(path, document.text(), replace, &again) {
            self.file.document = Some(document);
            self.file.saved = Some(Box::new(self.car.clone()));
            self.file.saved_to = Some(path.to_owned());
            self.history.settle();
            self.keep_for_recovery();
        }
    }

    /// The file of the car as edited, under this name.
    pub(super) fn written(&self, name: &str) -> Result<Document, String> {
        let fresh = || {
            Document::new(
                &self.car,
                name,
                "Zero travel, straight ahead.",
                LengthUnit::Millimetre,
                Axes::VEHICLE,
            )
        };
        let document = match &self.file.document {
            Some(document) => document.with_car(&self.car),
            None => fresh(),
        };
        document.map(|document| document.named(name)).map_err(|error| error.to_string())
    }
}
