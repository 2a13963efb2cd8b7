//! Sheets to drill moved holes by, one for each bracket.

use super::notice::About;
use super::{Owner, Session};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use wheelpath_car_file::system_words;
use wheelpath_command_line::{bracket_sheet, write_bracket_sheet};
use wheelpath_geometry::{Bracket, Car, CarSolver, Limit, Pickup, Proposal};

/// Sheets asked for so far.
static NUMBER: AtomicU64 = AtomicU64::new(0);

/// A sheet to be written, with all it needs as it was when it was asked for.
#[derive(Clone, Debug)]
pub struct SheetJob {
    number: u64,
    before: Car,
    after: Car,
    solver: CarSolver,
    proposal: Proposal,
    bracket: Bracket,
    limits: Vec<Limit>,
    path: PathBuf,
    replace: bool,
}

/// The files of a sheet, or why it was not written and what to do.
pub type SheetOutcome = Result<Vec<PathBuf>, [String; 2]>;

impl PartialEq for SheetJob {
    fn eq(&self, other: &Self) -> bool {
        self.number == other.number
    }
}

impl SheetJob {
    /// A number that no other has.
    #[must_use]
    pub fn number(&self) -> u64 {
        self.number
    }

    /// The file asked for.
    #[must_use]
    pub fn path(&self) -> &Path {
        &self.path
    }

    /// Computes the sheet and writes it: up to seconds, so not in a frame.
    ///
    /// # Errors
    /// In words, and what to do: there is nothing to put on it, or it cannot be written.
    pub fn write(&self) -> SheetOutcome {
        let after = (&self.after, &self.solver);
        let sheet = bracket_sheet(&self.before, after, &self.proposal, &self.bracket, &self.limits)?;
        let folder = self.path.parent().filter(|folder| !folder.as_os_str().is_empty());
        folder.map_or(Ok(()), std::fs::create_dir_all).map_err(|error| {
            [format!("not written: {}", system_words(&error)), "choose another folder".to_owned()]
        })?;
        write_bracket_sheet(&sheet, &self.path, self.replace)
    }
}

impl Session {
    /// The brackets on which a point stands that is moved against the original.
    #[must_use]
    pub fn brackets_moved(&self) -> Vec<&Bracket> {
        let moved = |bracket: &&Bracket| {
            let owner: Owner = bracket.of.into();
            let place = |car, pickup: &Pickup| owner.pickups(car).get(*pickup);
            bracket.points.iter().any(|pickup| place(&self.original, pickup) != place(&self.car, pickup))
        };
        self.beside.brackets.iter().filter(moved).collect()
    }

    /// Where a sheet of a bracket would be written: beside the proposals.
    #[must_use]
    pub fn sheet_path(&self, bracket: &str) -> PathBuf {
        self.proposal_path(bracket).with_extension("pdf")
    }

    /// Takes down all that a sheet of a bracket needs, for it to be written beside the window.
    #[inline(never)]
    pub(super) fn ask_for_sheet(&mut self, bracket: &str, path: &Path, replace: bool) {
        if self.file.sheet.is_some() {
            let remedy = "ask again when it is done";
            return self.refuse(About::File, "another sheet is being written".into(), remedy.into());
        }
        if self.is_stale() {
            let remedy = "undo, or put right what is marked; then write the sheet";
            return self.refuse(About::File, "the car as typed cannot be solved".into(), remedy.into());
        }
        let Some(bracket) = self.beside.brackets.iter().find(|one| one.name == bracket) else {
            let text = format!("there is no bracket {bracket}");
            return self.refuse(About::File, text, "look into brackets.ron".into());
        };
        let name = self.history.next_undo().unwrap_or("as it stands").to_owned();
        self.file.sheet = Some(Arc::new(SheetJob {
            number: NUMBER.fetch_add(1, Ordering::Relaxed),
            before: self.original.clone(),
            after: self.solver_car.clone(),
            solver: self.solver.clone(),
            proposal: Proposal::between(&name, &self.original, &self.car),
            bracket: bracket.clone(),
            limits: self.beside.limits.clone(),
            path: path.to_owned(),
            replace,
        }));
        self.history.settle();
    }

    /// The sheet that was asked for and of which nothing is known yet.
    #[must_use]
    pub fn sheet_in_hand(&self) -> Option<&Arc<SheetJob>> {
        self.file.sheet.as_ref()
    }

    pub(super) fn sheet_done(&mut self, number: u64, outcome: SheetOutcome) {
        if self.file.sheet.take_if(|job| job.number == number).is_none() {
            return;
        }
        match outcome {
            Ok(files) => self.file.sheets = files,
            Err([text, remedy]) => self.refuse(About::File, text, remedy),
        }
    }

    /// The files of the sheet that was written last.
    #[must_use]
    pub fn sheets_written(&self) -> &[PathBuf] {
        &self.file.sheets
    }
}
