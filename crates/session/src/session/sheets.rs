//! Sheets to drill moved holes by, one for each bracket.

use super::Session;
use super::notice::About;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use wheelpath_car_file::{put_all, system_words};
use wheelpath_geometry::{Bracket, Car, CarSolver, Hardpoint, LengthUnit, Proposal, Requirement};
use wheelpath_report::{BracketSheet, NoSheet, SheetHoles, moved_points};

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
    limits: Vec<Requirement>,
    lengths: LengthUnit,
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

    /// The name of the bracket that it is of.
    #[must_use]
    pub fn bracket(&self) -> &str {
        &self.bracket.name
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
        let no_sheet = |no: NoSheet| [no.to_string(), no.hint()];
        let moved = moved_points(&self.proposal);
        let holes = SheetHoles::on_bracket(&self.bracket, &self.before, Some(&moved)).map_err(no_sheet)?;
        let (after, limits) = ((&self.after, &self.solver), (&self.limits[..], self.lengths));
        let sheet = BracketSheet::of(holes, &self.before, after, &self.proposal.name, limits);
        let folder = self.path.parent().filter(|folder| !folder.as_os_str().is_empty());
        folder.map_or(Ok(()), std::fs::create_dir_all).map_err(|error| {
            [format!("not written: {}", system_words(&error)), "choose another folder".to_owned()]
        })?;
        let files = sheet.files(&self.path).map_err(no_sheet)?;
        put_all(&files, self.replace).map_err(|error| error.of_pages("replace it"))?;
        Ok(files.into_iter().map(|(file, _)| file).collect())
    }
}

impl Session {
    /// The brackets on which a point stands that is moved against the original.
    #[must_use]
    pub fn brackets_moved(&self) -> Vec<&Bracket> {
        let moved = |bracket: &&Bracket| {
            let place = |car, hardpoint: &Hardpoint| bracket.of.hardpoints(car).get(*hardpoint);
            bracket
                .points
                .iter()
                .any(|hardpoint| place(&self.original, hardpoint) != place(&self.car, hardpoint))
        };
        self.beside.brackets.iter().filter(moved).collect()
    }

    /// What is on a sheet that is asked for now: the name of the proposal that is open, said to be changed
    /// where the car is not as its file has it; without one, that the changes are in no proposal.
    #[must_use]
    pub fn sheet_name(&self) -> String {
        match self.open_name() {
            Some(name) if self.is_as_proposed() => name.to_owned(),
            Some(name) => format!("{name} (changed)"),
            None => "Unsaved changes".to_owned(),
        }
    }

    /// Where a sheet of a bracket would be written: beside the proposals, under the names of what is on it
    /// and of the bracket, so that no proposal's sheet stands where another's is.
    #[must_use]
    pub fn sheet_path(&self, bracket: &str) -> PathBuf {
        self.proposal_path(&format!("{} {bracket}", self.sheet_name())).with_extension("pdf")
    }

    /// The same file, or, where it is there, the first with a number behind it that is not.
    #[must_use]
    pub fn free_sheet_path(&self, path: &Path) -> PathBuf {
        if !first_file(path).exists() {
            return path.to_owned();
        }
        let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
        let numbered = |n: u32| {
            let file = path.with_file_name(format!("{stem}-{n}"));
            path.extension().map_or(file.clone(), |ending| {
                PathBuf::from(format!("{}.{}", file.display(), ending.to_string_lossy()))
            })
        };
        (2..10_000).map(numbered).find(|path| !first_file(path).exists()).unwrap_or_else(|| numbered(10_000))
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
        let name = self.sheet_name();
        self.file.sheet = Some(Arc::new(SheetJob {
            number: NUMBER.fetch_add(1, Ordering::Relaxed),
            before: Car::clone(&self.original),
            after: Car::clone(&self.solver_car),
            solver: self.solver.clone(),
            proposal: Proposal::between(&name, &self.original, &self.car),
            bracket: bracket.clone(),
            limits: self.beside.limits.clone(),
            lengths: self.units(),
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
        let Some(job) = self.file.sheet.take_if(|job| job.number == number) else { return };
        match outcome {
            Ok(files) => self.file.sheets = Some((job, files)),
            Err([text, remedy]) => self.refuse(About::File, text, remedy),
        }
    }

    /// The files of the sheet that was written last, until another proposal is taken up.
    #[must_use]
    pub fn sheets_written(&self) -> &[PathBuf] {
        self.file.sheets.as_ref().map_or(&[], |(_, files)| files)
    }

    /// The bracket of the sheet that was written last.
    #[must_use]
    pub fn sheets_written_for(&self) -> Option<&str> {
        self.file.sheets.as_ref().map(|(job, _)| job.bracket.name.as_str())
    }

    /// What is on the sheet that was written last: the name of a proposal.
    #[must_use]
    pub fn sheets_written_of(&self) -> Option<&str> {
        self.file.sheets.as_ref().map(|(job, _)| job.proposal.name.as_str())
    }
}

/// The file that stands for a sheet: of several pages, the first.
#[must_use]
pub fn first_file(path: &Path) -> PathBuf {
    let is_pages = path.extension().is_some_and(|ending| ending == "svg");
    match path.file_stem() {
        Some(stem) if is_pages => path.with_file_name(format!("{}-1.svg", stem.to_string_lossy())),
        _ => path.to_owned(),
    }
}
