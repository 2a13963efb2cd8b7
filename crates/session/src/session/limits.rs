//! Limits edited: each change is a step of undo; the file is written when it is asked for.

use super::Session;
use super::car_edit::Target;
use super::edit::{Bound, FileCommand, LimitChange};
use super::history::State;
use super::notice::About;
use std::path::PathBuf;
use wheelpath_car_file::{LimitsFile, same_limits, system_words};
use wheelpath_geometry::{LengthUnit, Requirement};

impl LimitChange {
    fn target(&self) -> Target {
        match *self {
            LimitChange::SetBound { place, bound, .. } => Target::Bound(place, bound),
            LimitChange::Add(_) | LimitChange::Remove(_) => Target::Whole,
        }
    }
}

/// The limits after a change, and what was done in words; the reason where it makes no sense.
fn changed(
    limits: &[Requirement],
    change: &LimitChange,
    lengths: LengthUnit,
) -> Result<(Vec<Requirement>, String), String> {
    let mut to = limits.to_vec();
    let none = |place: usize| format!("there is no limit {}", place + 1);
    let said = match change {
        LimitChange::SetBound { place, bound, to: value } => {
            let limit = to.get_mut(*place).ok_or_else(|| none(*place))?;
            match bound {
                Bound::Least => limit.least = *value,
                Bound::Most => limit.most = *value,
            }
            checked(limit, lengths)?;
            let unit = limit.unit();
            let word = match bound {
                Bound::Least => "at least",
                Bound::Most => "at most",
            };
            match value {
                Some(value) => format!("limit {}: {word} {}", limit.name, unit.write(*value, lengths)),
                None => format!("limit {}: no longer {word}", limit.name),
            }
        }
        LimitChange::Add(limit) => {
            if limit.name.trim().is_empty() {
                return Err("the limit needs a name".into());
            }
            checked(limit, lengths)?;
            to.push((**limit).clone());
            format!("limit added: {}", limit.name)
        }
        LimitChange::Remove(place) => {
            if *place >= to.len() {
                return Err(none(*place));
            }
            format!("limit deleted: {}", to.remove(*place).name)
        }
    };
    Ok((to, said))
}

/// Whether a car could keep it.
fn checked(limit: &Requirement, lengths: LengthUnit) -> Result<(), String> {
    let (name, unit) = (&limit.name, limit.unit());
    if [limit.least, limit.most].into_iter().flatten().any(|bound| !bound.is_finite()) {
        return Err(format!("limit {name}: a bound is a number"));
    }
    match (limit.least, limit.most) {
        (None, None) => Err(format!("limit {name}: without a bound it limits nothing; delete it instead")),
        (Some(least), Some(most)) if least > most => Err(format!(
            "limit {name}: nothing is at least {} and at most {}",
            unit.write(least, lengths),
            unit.write(most, lengths)
        )),
        _ => Ok(()),
    }
}

impl Session {
    /// The limits as they are edited.
    #[must_use]
    pub fn limits(&self) -> &[Requirement] {
        &self.limits
    }

    /// Whether the limits differ from those of their file.
    #[must_use]
    pub fn limits_changed(&self) -> bool {
        !same_limits(&self.limits, &self.beside.limits)
    }

    /// Where limits could be saved that another's were in the way of.
    #[must_use]
    pub fn limits_apart(&self) -> Option<&std::path::Path> {
        self.file.limits_apart.as_deref()
    }

    /// Where the limits are written.
    pub(super) fn limits_path(&self) -> Option<PathBuf> {
        Some(self.folder().join(wheelpath_project::LIMITS))
    }

    pub(super) fn change_limit(&mut self, change: &LimitChange) {
        let (to, name) = match changed(&self.limits, change, self.units()) {
            Ok(done) => done,
            Err(reason) => return self.refuse(About::Limits, reason, "the limits were kept".into()),
        };
        if to == self.limits {
            return;
        }
        let target = change.target();
        if self.history.before(target).is_some_and(|before| before.limits == to) {
            self.history.drop_last();
        } else {
            let before = self.history.before(target).cloned().unwrap_or_else(|| self.state());
            self.history.note(target, target != Target::Whole, before, name);
        }
        self.limits = to;
    }

    pub(super) fn save_limits(&mut self) {
        if let Some(fault) = self.beside.limits_fault.clone() {
            let remedy = "put the file right, or take it away; then save";
            return self.refuse(
                About::Limits,
                format!("not saved over a file with faults: {fault}"),
                remedy.into(),
            );
        }
        let Some(path) = self.limits_path() else { return };
        let folder = path.parent().map_or(Ok(()), std::fs::create_dir_all);
        let file = match folder.map_err(|error| system_words(&error)).and_then(|()| self.limits_text()) {
            Ok(file) => file,
            Err(reason) => {
                let remedy = "what was there is untouched";
                return self.refuse(About::Limits, format!("not saved: {reason}"), remedy.into());
            }
        };
        if self.put_file(&path, file.text(), false, &FileCommand::SaveLimits) {
            self.beside.limits.clone_from(&self.limits);
            self.beside.limits_file = Some(file);
            self.history.settle();
            self.keep_for_recovery();
        }
    }

    /// The file of the limits as they are edited: comments of the one that was read stay.
    pub(super) fn limits_text(&self) -> Result<LimitsFile, String> {
        let file = match &self.beside.limits_file {
            Some(file) => file.clone(),
            None => LimitsFile::new(self.units(), self.axes()).map_err(|error| error.to_string())?,
        };
        file.with_limits(&self.limits, &self.original).map_err(|error| error.to_string())
    }

    pub(super) fn state(&self) -> State {
        State { car: self.car.clone(), limits: self.limits.clone(), open: self.open.clone() }
    }
}
