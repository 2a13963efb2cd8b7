//! What stands beside a car: its limits, brackets and proposals, read as far as they can be.

use crate::companion_folder::CompanionFolder;
use crate::demo::{file_beside, names_beside};
use crate::loaded_car::LoadedCar;
use std::path::{Path, PathBuf};
use wheelpath_car_file::{
    BracketsFile, FileSnapshot, LimitsFile, LoadError, ProposalFile, parse_brackets, parse_proposal,
};

/// The name of the file of limits in a car's folder.
pub const LIMITS: &str = "limits.ron";
/// The name of the file of brackets there.
pub const BRACKETS: &str = "brackets.ron";

/// The files beside a car, read as far as they can be.
#[derive(Debug, Default)]
pub struct Companions {
    /// The folder they stand in, there or not; none for a demo car inside the executable.
    pub folder: Option<PathBuf>,
    /// The proposals by the names of their files, and those that have faults.
    pub proposals: Vec<ListedProposal>,
    /// The limits; none where there is no file of them.
    pub limits: Option<Result<LimitsFile, LoadError>>,
    /// The brackets; none where there is no file of them.
    pub brackets: Option<Result<BracketsFile, LoadError>>,
    /// What each file held; that there was none, for limits and brackets that are not there.
    pub snapshots: Vec<(PathBuf, FileSnapshot)>,
}

/// A proposal of the folder.
#[derive(Debug)]
pub struct ListedProposal {
    /// The name of its file, without the ending.
    pub file: String,
    /// Its file; none for one inside the executable.
    pub path: Option<PathBuf>,
    /// The proposal, or what is wrong with its file.
    pub read: Result<ProposalFile, LoadError>,
}

/// What a file holds, read; with what it held, where that can be said.
pub struct WithSnapshot<T> {
    /// What it holds, or what is wrong with it; `None` where it is not there.
    pub read: Option<Result<T, LoadError>>,
    /// What it held.
    pub snapshot: Option<FileSnapshot>,
}

/// Reads a file that need not be there; `parse` takes its text and its name in messages.
pub fn read_with_snapshot<T>(
    path: &Path,
    parse: impl Fn(&str, &str) -> Result<T, LoadError>,
) -> WithSnapshot<T> {
    match FileSnapshot::now(path) {
        Ok(snapshot) => {
            let read = snapshot
                .is_there()
                .then(|| snapshot.as_text(path).and_then(|text| parse(&text, &path.display().to_string())));
            WithSnapshot { read, snapshot: Some(snapshot) }
        }
        Err(source) => {
            let unreadable = LoadError::Unreadable { file: path.to_owned(), source };
            WithSnapshot { read: Some(Err(unreadable)), snapshot: None }
        }
    }
}

impl ListedProposal {
    /// Reads a proposal from its file.
    #[must_use]
    pub fn read(path: &Path) -> (ListedProposal, Option<FileSnapshot>) {
        let file = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
        let WithSnapshot { read, snapshot } = read_with_snapshot(path, parse_proposal);
        let gone = || LoadError::Unreadable {
            file: path.to_owned(),
            source: std::io::Error::from(std::io::ErrorKind::NotFound),
        };
        let read = read.unwrap_or_else(|| Err(gone()));
        (ListedProposal { file, path: Some(path.to_owned()), read }, snapshot)
    }
}

impl Companions {
    /// What stands beside a car.
    #[must_use]
    pub fn of(car: &LoadedCar) -> Companions {
        match &car.path {
            Some(path) => Companions::in_folder(&CompanionFolder::of(path).folder),
            None => Companions::of_demo_car(car),
        }
    }

    fn of_demo_car(car: &LoadedCar) -> Companions {
        let mut all = Companions { limits: limits(car), brackets: brackets(car), ..Companions::default() };
        for file in proposal_names(car) {
            if let Some(read) = car
                .demo_word()
                .and_then(|word| file_beside(word, &file))
                .map(|(text, name)| parse_proposal(text, &name))
            {
                all.proposals.push(ListedProposal { file, path: None, read });
            }
        }
        all
    }

    /// What stands in a car's folder.
    #[must_use]
    pub fn in_folder(folder: &Path) -> Companions {
        let mut all = Companions { folder: Some(folder.to_owned()), ..Companions::default() };
        for name in proposals_in(folder) {
            let path = folder.join(format!("{name}.ron"));
            let (listed, snapshot) = ListedProposal::read(&path);
            all.proposals.push(listed);
            all.snapshots.extend(snapshot.map(|snapshot| (path, snapshot)));
        }
        let limits = read_with_snapshot(&folder.join(LIMITS), LimitsFile::parse);
        all.limits = limits.read;
        all.snapshots.extend(limits.snapshot.map(|snapshot| (folder.join(LIMITS), snapshot)));
        let brackets = read_with_snapshot(&folder.join(BRACKETS), parse_brackets);
        all.brackets = brackets.read;
        all.snapshots.extend(brackets.snapshot.map(|snapshot| (folder.join(BRACKETS), snapshot)));
        all
    }
}

/// A file of this name beside a car; `None` where there is none.
fn beside<T>(
    car: &LoadedCar,
    name: &str,
    parse: impl Fn(&str, &str) -> Result<T, LoadError>,
) -> Option<Result<T, LoadError>> {
    match car.folder() {
        Some(CompanionFolder { folder, .. }) => read_with_snapshot(&folder.join(name), parse).read,
        None => {
            let found = file_beside(car.demo_word()?, name.trim_end_matches(".ron"));
            found.map(|(text, file)| parse(text, &file))
        }
    }
}

/// The limits beside a car; `None` where there is no file of them.
#[must_use]
pub fn limits(car: &LoadedCar) -> Option<Result<LimitsFile, LoadError>> {
    beside(car, LIMITS, LimitsFile::parse)
}

/// The brackets beside a car; `None` where there is no file of them.
#[must_use]
pub fn brackets(car: &LoadedCar) -> Option<Result<BracketsFile, LoadError>> {
    beside(car, BRACKETS, parse_brackets)
}

/// The proposal beside a car with this name of its file, without the ending; `None` where there is none.
#[must_use]
pub fn proposal(car: &LoadedCar, name: &str) -> Option<Result<ProposalFile, LoadError>> {
    beside(car, &format!("{name}.ron"), parse_proposal)
}

/// The names of the proposals beside a car, sorted.
#[must_use]
pub fn proposal_names(car: &LoadedCar) -> Vec<String> {
    match car.folder() {
        Some(CompanionFolder { folder, .. }) => proposals_in(&folder),
        None => car
            .demo_word()
            .map_or_else(Vec::new, names_beside)
            .into_iter()
            .filter(|name| may_be_proposal(name))
            .map(str::to_owned)
            .collect(),
    }
}

/// The names of the files in a folder that are proposals, without their ending, sorted; hidden files are skipped.
#[must_use]
pub fn proposals_in(folder: &Path) -> Vec<String> {
    let files = std::fs::read_dir(folder).into_iter().flatten().flatten().map(|entry| entry.path());
    let mut names: Vec<String> = files
        .filter(|path| path.extension().is_some_and(|end| end == "ron"))
        .filter_map(|path| path.file_stem().map(|stem| stem.to_string_lossy().into_owned()))
        .filter(|name| may_be_proposal(name))
        .collect();
    names.sort();
    names
}

/// Whether a file of this name, without its ending, may be a proposal.
fn may_be_proposal(name: &str) -> bool {
    let is = |file: &str| file.strip_suffix(".ron") == Some(name);
    !is(LIMITS) && !is(BRACKETS) && !name.starts_with('.')
}
