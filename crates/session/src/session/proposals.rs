//! The proposal that is open: taken up from its file, saved over it or as another.

use super::edit::FileCommand;
use super::history::State;
use super::notice::{About, Notice};
use super::{Listed, Session};
use std::path::{Path, PathBuf};
use wheelpath_car_file::{Axes, ProposalFile, SaveError, kind_of_name, proposal_file_name, system_words};
use wheelpath_geometry::{Applied, Car, LengthUnit, Proposal};

/// The name with the first number behind it that makes it free.
pub(super) fn free_name(name: &str, taken: impl Fn(&str) -> bool) -> String {
    let bare = name.trim_end_matches(|c: char| c.is_ascii_digit()).trim_end();
    let bare = if bare.is_empty() { "proposal" } else { bare };
    let numbered = (2..1000).map(|n| format!("{bare} {n}")).find(|name| !taken(name));
    numbered.unwrap_or_else(|| format!("{bare} new"))
}

impl Session {
    /// Where a proposal of this name would be written.
    #[must_use]
    pub fn proposal_path(&self, name: &str) -> PathBuf {
        self.folder().join(format!("{}.ron", proposal_file_name(name)))
    }

    /// The proposal that is open, if one is.
    #[must_use]
    pub fn open_proposal_listed(&self) -> Option<&Listed> {
        let open = self.open.as_deref()?;
        self.beside.proposals.iter().find(|listed| listed.file == open)
    }

    /// The name of the proposal that is open, if one is.
    #[must_use]
    pub fn open_name(&self) -> Option<&str> {
        let listed = self.open_proposal_listed()?;
        Some(listed.proposal.as_ref().map_or(listed.file.as_str(), |proposal| proposal.name.as_str()))
    }

    /// The car that the proposal which is open makes, as its file has it.
    fn open_car_made(&self) -> Option<Car> {
        let proposal = self.open_proposal_listed()?.proposal.as_ref().ok()?;
        proposal.applied(&self.original).ok().map(|applied| applied.car)
    }

    /// Whether the car is what the proposal that is open makes of it, as its file has it.
    #[must_use]
    pub fn is_as_proposed(&self) -> bool {
        self.open_car_made().is_some_and(|made| {
            made == self.car || Proposal::between("", &made, &self.car).changes.is_empty()
        })
    }

    /// What stands in the window: the car, the proposal that is open, and whether anything is in no file.
    #[must_use]
    pub fn title(&self) -> String {
        let mark = if self.is_unsaved() { " (changed)" } else { "" };
        let open = self.open_name().map_or_else(String::new, |name| format!(": {name}"));
        format!("{}{open}{mark}", self.car.name)
    }

    /// In what the car's file counts lengths, and so the window.
    #[must_use]
    pub fn units(&self) -> LengthUnit {
        self.document().map_or(LengthUnit::Millimetre, wheelpath_car_file::Document::units)
    }

    pub(super) fn axes(&self) -> Axes {
        self.document().map_or(Axes::VEHICLE, wheelpath_car_file::Document::axes)
    }

    /// Takes up a proposal of the folder, on the original: one step of undo.
    #[inline(never)]
    pub(super) fn open_proposal(&mut self, file: &str) {
        let listed = self.beside.proposals.iter().find(|listed| listed.file == file);
        let proposal = match listed.map(|listed| listed.proposal.clone()) {
            Some(Ok(proposal)) => proposal,
            Some(Err(fault)) => {
                return self.refuse(About::File, fault, "put the file right, and open it again".into());
            }
            None => {
                let text = format!("there is no proposal {file}");
                return self.refuse(About::File, text, "what was open stays open".into());
            }
        };
        let name = format!("proposal: {}", proposal.name);
        let elsewhere = match proposal.applied(&self.original) {
            Ok(Applied { car, elsewhere }) => {
                let to = State { car, open: Some(file.to_owned()), limits: self.limits.clone() };
                if to != self.state() {
                    self.history.settle();
                    self.set_aside();
                }
                self.step(to, name);
                elsewhere.len()
            }
            Err(cannot) => {
                let remedy = "the proposal is for another car";
                return self.refuse(About::File, cannot.to_string(), remedy.into());
            }
        };
        if let Some(path) = self.open_proposal_listed().and_then(|listed| listed.path.clone()) {
            self.note_recent(Some(&path));
        }
        if elsewhere > 0 {
            self.refused = Some(Notice {
                about: About::File,
                severe: false,
                text: format!("{elsewhere} of what it changes are not where it says they were"),
                remedy: "they were moved by the same amounts from where they are; saving it says so".into(),
            });
        }
    }

    /// Saves what is changed over the proposal that is open.
    #[inline(never)]
    pub(super) fn save_open(&mut self) {
        let Some(Listed { path, proposal, .. }) = self.open_proposal_listed().cloned() else {
            let remedy = "open one, or save what is changed under a name";
            return self.refuse(About::File, "no proposal is open".into(), remedy.into());
        };
        let (Ok(proposal), Some(path)) = (proposal, path) else {
            let remedy = "save what is changed under another name";
            return self.refuse(About::File, "this proposal has no file to save to".into(), remedy.into());
        };
        match proposal.revised(&self.original, &self.car) {
            Ok(revised) => self.write_proposal(revised, &path, true, &FileCommand::SaveOpen),
            Err(cannot) => {
                self.refuse(About::File, cannot.to_string(), "the proposal is for another car".into());
            }
        }
    }

    #[inline(never)]
    pub(super) fn save_proposal(&mut self, name: &str, path: &Path, replace: bool) {
        let name = name.trim();
        if name.is_empty() || proposal_file_name(name).is_empty() {
            let remedy = "type one, such as Tie rod down";
            return self.refuse(About::File, "the proposal needs a name".into(), remedy.into());
        }
        if let Some(kind) = kind_of_name(path) {
            let name = path.file_name().unwrap_or_default().to_string_lossy();
            let text = format!("{name} beside a car is {}, not a proposal", kind.name);
            return self.refuse(About::File, text, "choose another name for the file".into());
        }
        if path.exists() && !replace {
            let text = format!("{} is there already", path.display());
            return self.refuse(About::File, text, "choose another name, or replace it".into());
        }
        let proposal = Proposal::between(name, &self.original, &self.car);
        let again = FileCommand::SaveProposal { name: name.to_owned(), path: path.to_owned(), replace: true };
        self.write_proposal(proposal, path, replace, &again);
    }

    fn write_proposal(&mut self, proposal: Proposal, path: &Path, replace: bool, again: &FileCommand) {
        if self.is_stale() {
            let remedy = "undo, or put right what is marked; then save";
            return self.refuse(About::File, "the car as typed cannot be solved".into(), remedy.into());
        }
        if proposal.changes.is_empty() {
            let text = "nothing is changed that a proposal could hold";
            return self.refuse(About::File, text.into(), "move a point first".into());
        }
        let text = self.proposal_text(&proposal, path).map_err(|error| error.to_string());
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
        let made = folder.map_or(Ok(()), std::fs::create_dir_all).map_err(|error| system_words(&error));
        let text = match made.and(text) {
            Ok(text) => text,
            Err(reason) => {
                let remedy = "what was there is untouched; choose another name or folder";
                return self.refuse(About::File, format!("not saved: {reason}"), remedy.into());
            }
        };
        if !self.put_file(path, &text, replace, again) {
            return;
        }
        self.history.settle();
        let file = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
        let listed = Listed { file: file.clone(), path: Some(path.to_owned()), proposal: Ok(proposal) };
        match self.beside.proposals.iter_mut().find(|one| one.file == file) {
            Some(old) => *old = listed,
            None => self.beside.proposals.push(listed),
        }
        self.beside.proposals.sort_by(|a, b| a.file.cmp(&b.file));
        self.open = Some(file);
        self.note_recent(Some(path));
        self.keep_for_recovery();
    }

    /// The text of a proposal's file: what is there with the new said in its place, or a new one.
    fn proposal_text(&self, proposal: &Proposal, path: &Path) -> Result<String, SaveError> {
        let file = path.display().to_string();
        let there = self.file.known.seen(path).and_then(|seen| seen.as_text(path).ok());
        let over = there.and_then(|old| ProposalFile::text_over(&old, &file, proposal).ok());
        match over {
            Some(text) => Ok(text),
            None => ProposalFile::new(proposal.clone(), &self.original, self.units(), self.axes())
                .checked_text(&file),
        }
    }
}
