//! What stands beside the car's file: proposals and limits; making, comparing and keeping proposals.

use super::Session;
use super::notice::About;
use std::path::{Path, PathBuf};
use wheelpath_car_file::{Axes, ProposalFile};
use wheelpath_geometry::{CarSolver, LengthUnit, Limit, Proposal, Severity, check};

/// Proposals and limits of a car.
#[derive(Clone, Debug, Default)]
pub struct Beside {
    /// The folder they stand in, there or not.
    pub folder: Option<PathBuf>,
    /// The proposals.
    pub proposals: Vec<Listed>,
    /// The limits.
    pub limits: Vec<Limit>,
    /// The brackets.
    pub brackets: Vec<wheelpath_geometry::Bracket>,
    /// What is wrong with the file of limits.
    pub limits_fault: Option<String>,
}

/// A proposal of the folder.
#[derive(Clone, Debug)]
pub struct Listed {
    /// Name of its file, without the ending.
    pub file: String,
    /// The proposal, or what is wrong with its file.
    pub proposal: Result<Proposal, String>,
}

/// The name of a file for a proposal of this name: letters and digits, joined by hyphens.
#[must_use]
pub fn file_name(name: &str) -> String {
    let plain: String =
        name.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect();
    let words: Vec<&str> = plain.split('-').filter(|word| !word.is_empty()).collect();
    words.join("-")
}

impl Session {
    /// With what stands beside the car.
    #[must_use]
    pub fn with_beside(mut self, beside: Beside) -> Self {
        self.beside = beside;
        self.take_plates_of_brackets();
        self
    }

    /// What stands beside the car.
    #[must_use]
    pub fn beside(&self) -> &Beside {
        &self.beside
    }

    /// Where a proposal of this name would be written.
    #[must_use]
    pub fn proposal_path(&self, name: &str) -> PathBuf {
        let folder = self.beside.folder.clone().or_else(|| self.path().map(|path| path.with_extension("")));
        let folder = folder.unwrap_or_else(|| PathBuf::from(file_name(&self.original.name)));
        folder.join(format!("{}.ron", file_name(name)))
    }

    pub(super) fn save_proposal(&mut self, name: &str, path: &Path, replace: bool) {
        let refuse = |session: &mut Session, text: String, remedy: &str| {
            session.refuse(About::File, text, remedy.into());
        };
        let name = name.trim();
        if name.is_empty() || file_name(name).is_empty() {
            return refuse(self, "the proposal needs a name".into(), "type one, such as Tie rod down");
        }
        if self.is_stale() {
            let remedy = "undo, or put right what is marked; then save";
            return refuse(self, "the car as typed cannot be solved".into(), remedy);
        }
        if path.exists() && !replace {
            let text = format!("{} is there already", path.display());
            return refuse(self, text, "choose another name, or press Replace it");
        }
        let proposal = Proposal::between(name, &self.original, &self.car);
        if proposal.changes.is_empty() {
            return refuse(
                self,
                "nothing is changed that a proposal could hold".into(),
                "move a point first",
            );
        }
        let (units, axes) = match self.document() {
            Some(document) => (document.units(), document.axes()),
            None => (LengthUnit::Millimetre, Axes::VEHICLE),
        };
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
        let written = folder
            .map_or(Ok(()), std::fs::create_dir_all)
            .map_err(|error| error.to_string())
            .and_then(|()| {
                let file = ProposalFile::new(proposal.clone(), &self.original, units, axes);
                file.save(&self.original, path).map_err(|error| error.to_string())
            });
        if let Err(reason) = written {
            let remedy = "what was there is untouched; choose another name or folder";
            return refuse(self, format!("not saved: {reason}"), remedy);
        }
        self.history.settle();
        let file = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
        let listed = Listed { file, proposal: Ok(proposal) };
        match self.beside.proposals.iter_mut().find(|one| one.file == listed.file) {
            Some(old) => *old = listed,
            None => self.beside.proposals.push(listed),
        }
        self.beside.proposals.sort_by(|a, b| a.file.cmp(&b.file));
    }

    pub(super) fn compare_with(&mut self, proposal: Option<&Proposal>) {
        let (car, name) = match proposal {
            None => (self.original.clone(), None),
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
        let fault = check(&car).into_iter().find(|finding| finding.severity == Severity::Fault);
        if let Some(fault) = fault {
            return self.refuse(About::Car, fault.message, fault.hint);
        }
        match CarSolver::new(&car) {
            Ok(solver) => {
                self.baseline = car;
                self.baseline_name = name;
                self.baseline_revision += 1;
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
