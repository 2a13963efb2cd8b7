//! A file that another has written since it was read here: it is said, nothing of theirs is written over
//! unasked, and there are three ways on.

use super::edit::{Edit, FileCommand};
use super::history::State;
use super::notice::About;
use super::proposals::free_name;
use super::{Listed, Session};
use std::path::Path;
use wheelpath_car_file::{FileSnapshot, LimitsFile, system_words};
use wheelpath_project::{Answer, ChangedFile, FileRole, PutRefusal, put_seen, real_place};

/// A file that another has written, with the save that was refused for it.
pub type Conflict = wheelpath_project::Conflict<FileCommand>;

impl Session {
    /// Files that another has written, not yet answered.
    #[must_use]
    pub fn conflicts(&self) -> &[Conflict] {
        &self.file.conflicts
    }

    /// What a file is to this session.
    pub(super) fn role(&self, path: &Path) -> FileRole {
        let path = real_place(path);
        let is = |other: Option<&Path>| other.is_some_and(|other| real_place(other) == path);
        if is(self.limits_path().as_deref()) {
            return FileRole::Limits;
        }
        let mut listed = self.beside.proposals.iter();
        match listed.find(|listed| is(listed.path.as_deref())) {
            Some(listed) => FileRole::Proposal(listed.file.clone()),
            None => FileRole::Car,
        }
    }

    pub(super) fn conflict(&mut self, changed: ChangedFile, refused: Option<FileCommand>) {
        let ChangedFile { path, now, modified } = changed;
        let path = real_place(&path);
        self.file.conflicts.retain(|conflict| conflict.path != path);
        let role = self.role(&path);
        self.file.conflicts.push(Conflict { path, role, now, modified, refused });
    }

    /// Writes a file as it should be, unless another has written it since it was read here; a file that
    /// was never read only where it may be replaced. `again` is the edit that would do this again.
    /// Gives whether it was written.
    pub(super) fn put_file(
        &mut self,
        path: &Path,
        text: &str,
        may_replace: bool,
        again: &FileCommand,
    ) -> bool {
        match put_seen(&mut self.file.known, path, text, may_replace) {
            Ok(()) => {
                let path = real_place(path);
                self.file.conflicts.retain(|conflict| conflict.path != path);
                true
            }
            Err(PutRefusal::OtherKind(kind)) => {
                let name = path.file_name().unwrap_or_default().to_string_lossy();
                let said = format!("not saved: {name} is {}, which is not to be lost for this", kind.name);
                self.refuse(About::File, said, "choose another name, or take that file away first".into());
                false
            }
            Err(PutRefusal::Changed(changed)) => {
                self.conflict(changed, Some(again.clone()));
                false
            }
            Err(PutRefusal::Unwritable(error)) => {
                let remedy = "what was there is untouched; choose another name or folder";
                self.refuse(About::File, format!("not saved: {error}"), remedy.into());
                false
            }
        }
    }

    pub(super) fn answer(&mut self, path: &Path, answer: Answer) {
        let path = real_place(path);
        let Some(n) = self.file.conflicts.iter().position(|conflict| conflict.path == path) else { return };
        let conflict = self.file.conflicts.remove(n);
        match (answer, conflict.role) {
            (Answer::Leave, _) => self.file.known.told(&path, conflict.now),
            (Answer::Replace, _) => {
                // Replaced is what was told of, and nothing that was written since.
                self.file.known.note(&path, conflict.now);
                if let Some(command) = conflict.refused {
                    self.apply_unnoted(Edit::File(command));
                }
            }
            (Answer::Theirs, FileRole::Car) => self.open_car(&path, None),
            (Answer::Theirs, FileRole::Proposal(file)) => self.take_their_proposal(&file, &path),
            (Answer::Theirs, FileRole::Limits) => self.take_their_limits(&path),
            (Answer::Apart, role) => {
                self.file.known.told(&path, conflict.now);
                match role {
                    FileRole::Car => self.save_as(&self.suggested_path(), false),
                    FileRole::Proposal(file) => self.save_apart(&file),
                    FileRole::Limits => self.save_limits_apart(),
                }
            }
        }
    }

    fn take_their_proposal(&mut self, file: &str, path: &Path) {
        let (listed, seen) = Listed::read(path);
        self.file.known.note(path, seen.unwrap_or(FileSnapshot::NOTHING));
        let fault = listed.proposal.as_ref().err().cloned();
        if let Some(old) = self.beside.proposals.iter_mut().find(|old| old.file == file) {
            *old = listed;
        }
        match fault {
            Some(fault) => self.refuse(About::File, fault, "what was here is kept".into()),
            None if self.open.as_deref() == Some(file) => self.open_proposal(file),
            None => {}
        }
    }

    fn take_their_limits(&mut self, path: &Path) {
        let seen = match FileSnapshot::now(path) {
            Ok(seen) => seen,
            Err(error) => {
                let said = system_words(&error);
                return self.refuse(About::File, said, "what was here is kept".into());
            }
        };
        let read = if seen.is_there() {
            seen.as_text(path).and_then(|text| LimitsFile::parse(&text, &path.display().to_string()))
        } else {
            LimitsFile::new(self.units(), self.axes())
        };
        match read {
            Ok(file) => {
                self.file.known.note(path, seen);
                self.beside.limits = file.limits().to_vec();
                self.beside.limits_fault = None;
                self.beside.limits_file = Some(file);
                let to = State { limits: self.beside.limits.clone(), ..self.state() };
                self.step(to, "limits as another wrote them".into());
            }
            Err(error) => self.refuse(About::File, error.to_string(), "what was here is kept".into()),
        }
    }

    /// Saves what is changed as a proposal beside the one of this file, under a name that is free.
    fn save_apart(&mut self, file: &str) {
        let listed = self.beside.proposals.iter().find(|listed| listed.file == file);
        let name = listed.and_then(|listed| listed.proposal.as_ref().ok()).map(|one| one.name.clone());
        let taken = |name: &str| self.proposal_path(name).exists();
        let name = free_name(&name.unwrap_or_else(|| file.to_owned()), taken);
        let path = self.proposal_path(&name);
        self.save_proposal(&name, &path, false);
    }

    /// Saves the limits beside the car's folder, under a name that is free: `--limits` takes them.
    fn save_limits_apart(&mut self) {
        let Some(folder) = self.limits_path().and_then(|path| path.parent().map(Path::to_owned)) else {
            return;
        };
        let stem = folder.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let named = |n: usize| folder.with_file_name(format!("{stem}-limits-{n}.ron"));
        let Some(path) = (2..1000).map(named).find(|path| !path.exists()) else { return };
        match self.limits_text() {
            Ok(file) => {
                if self.put_file(&path, file.text(), false, &FileCommand::SaveLimits) {
                    self.file.limits_apart = Some(path);
                }
            }
            Err(reason) => self.refuse(About::File, reason, "the file that was there is untouched".into()),
        }
    }
}
