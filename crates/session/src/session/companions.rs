//! What stands beside the car's file: proposals and limits, as they are read.

use super::Session;
use super::notice::About;
use crate::keep::CarRevision;
use std::path::{Path, PathBuf};
use wheelpath_car_file::{BracketsFile, FileSnapshot, LimitsFile, proposal_file_name};
use wheelpath_geometry::{CarSolver, Proposal, Requirement, Severity, check_in};
use wheelpath_project::{CompanionFolder, Companions, ListedProposal};

/// Proposals and limits of a car.
#[derive(Clone, Debug, Default)]
pub struct Beside {
    /// The folder they stand in, there or not.
    pub folder: Option<PathBuf>,
    /// The proposals.
    pub proposals: Vec<Listed>,
    /// The limits, as the file has them.
    pub limits: Vec<Requirement>,
    /// The brackets, as the file has them.
    pub brackets: Vec<wheelpath_geometry::Bracket>,
    /// The file of brackets, where there is one that can be read.
    pub brackets_file: Option<BracketsFile>,
    /// What is wrong with the file of brackets.
    pub brackets_fault: Option<String>,
    /// The file of limits, where there is one that can be read.
    pub limits_file: Option<LimitsFile>,
    /// What is wrong with the file of limits.
    pub limits_fault: Option<String>,
    /// What each file held.
    pub seen: Vec<(PathBuf, FileSnapshot)>,
}

/// A proposal of the folder.
#[derive(Clone, Debug)]
pub struct Listed {
    /// Name of its file, without the ending.
    pub file: String,
    /// Its file; none for one inside the executable.
    pub path: Option<PathBuf>,
    /// The proposal, or what is wrong with its file.
    pub proposal: Result<Proposal, String>,
}

impl From<ListedProposal> for Listed {
    fn from(listed: ListedProposal) -> Listed {
        let ListedProposal { file, path, read } = listed;
        let proposal = read.map(|file| file.proposal).map_err(|error| error.to_string());
        Listed { file, path, proposal }
    }
}

impl Listed {
    /// Reads a proposal; gives what the file held as well, where it can be read.
    pub(super) fn read(path: &Path) -> (Listed, Option<FileSnapshot>) {
        let (listed, seen) = ListedProposal::read(path);
        (listed.into(), seen)
    }
}

impl From<Companions> for Beside {
    fn from(found: Companions) -> Beside {
        let proposals = found.proposals.into_iter().map(Listed::from).collect();
        let mut beside =
            Beside { folder: found.folder, proposals, seen: found.snapshots, ..Beside::default() };
        if let Some(limits) = found.limits {
            beside.take_limits(limits.map_err(|error| error.to_string()));
        }
        if let Some(brackets) = found.brackets {
            beside.take_brackets(brackets.map_err(|error| error.to_string()));
        }
        beside
    }
}

impl Beside {
    /// With these limits, or what is wrong with them.
    pub fn take_limits(&mut self, read: Result<LimitsFile, String>) {
        match read {
            Ok(file) => {
                self.limits = file.limits().to_vec();
                self.limits_file = Some(file);
            }
            Err(fault) => self.limits_fault = Some(fault),
        }
    }

    /// With these brackets, or what is wrong with their file: those that were read before then stay.
    pub fn take_brackets(&mut self, read: Result<BracketsFile, String>) {
        match read {
            Ok(file) => {
                self.brackets = file.brackets().to_vec();
                self.brackets_file = Some(file);
                self.brackets_fault = None;
            }
            Err(fault) => self.brackets_fault = Some(fault),
        }
    }
}

impl Session {
    /// With what stands beside the car.
    #[must_use]
    pub fn with_beside(mut self, mut beside: Beside) -> Self {
        for (path, seen) in std::mem::take(&mut beside.seen) {
            self.file.known.note(&path, seen);
        }
        self.limits.clone_from(&beside.limits);
        self.beside = beside;
        self.take_plates_of_brackets(&[]);
        self
    }

    /// What stands beside the car.
    #[must_use]
    pub fn beside(&self) -> &Beside {
        &self.beside
    }

    /// The folder of what stands beside the car, there or not.
    pub(super) fn folder(&self) -> PathBuf {
        let folder =
            self.beside.folder.clone().or_else(|| self.path().map(|path| CompanionFolder::of(path).folder));
        folder.unwrap_or_else(|| PathBuf::from(proposal_file_name(&self.original.name)))
    }

    #[inline(never)]
    pub(super) fn compare_with(&mut self, proposal: Option<&Proposal>) {
        let (car, name) = match proposal {
            None => (wheelpath_geometry::Car::clone(&self.original), None),
            Some(one) => match one.applied(&self.original) {
                Ok(applied) => (applied.car, Some(one.name.clone())),
                Err(cannot) => {
                    return self.refuse(
                        About::Car,
                        cannot.to_string(),
                        "the proposal is for another car".into(),
                    );
                }
            },
        };
        self.compare_with_car(car, name);
    }

    /// Compares with a car of this name; `None` is the original.
    pub(super) fn compare_with_car(&mut self, car: wheelpath_geometry::Car, name: Option<String>) {
        let fault =
            check_in(&car, self.units()).into_iter().find(|finding| finding.severity == Severity::Fault);
        if let Some(fault) = fault {
            return self.refuse(About::Car, fault.message, fault.hint);
        }
        match CarSolver::new(&car) {
            Ok(solver) => {
                *self.baseline = car;
                self.baseline_name = name;
                self.baseline_revision = CarRevision::fresh();
                self.baseline_solver = solver;
                self.refresh();
            }
            Err(stops) => {
                let text = stops.first().map_or_else(String::new, ToString::to_string);
                self.refuse(About::Car, text, "what it was compared with is kept".into());
            }
        }
    }
}
