//! Unsaved changes that outlive a killed program: kept in a file beside the car's own, written in
//! one step, offered when the car is opened again.

use super::Session;
use super::edit::Change;
use std::path::{Path, PathBuf};
use wheelpath_car_file::load;
use wheelpath_geometry::Car;

/// The file beside a car's file that holds unsaved changes.
pub(super) fn beside(path: &Path) -> Option<PathBuf> {
    let name = path.file_name()?.to_string_lossy();
    Some(path.with_file_name(format!(".{name}.unsaved")))
}

impl Session {
    pub(super) fn look_for_recovery(&mut self, sidecar: Option<PathBuf>) {
        let found = sidecar.as_ref().filter(|path| path.exists()).and_then(|path| load(path).ok());
        self.file.found = found.map(|loaded| loaded.car).filter(|car| *car != self.car).map(Box::new);
        self.file.sidecar = sidecar;
    }

    /// Unsaved changes of an earlier run, if there are any.
    #[must_use]
    pub fn recoverable(&self) -> Option<&Car> {
        self.file.found.as_deref()
    }

    pub(super) fn recover(&mut self) {
        if let Some(car) = self.file.found.take() {
            self.change(&Change::Replace(car));
        }
    }

    pub(super) fn discard_recovery(&mut self) {
        self.file.found = None;
        self.drop_sidecar();
    }

    /// Keeps the car as edited, if it differs from its file and can be opened again. Until found
    /// changes are taken up or thrown away they are not written over.
    pub(super) fn keep_for_recovery(&self) {
        if self.file.found.is_some() {
            return;
        }
        let Some(sidecar) = &self.file.sidecar else { return };
        if !self.is_unsaved() {
            self.drop_sidecar();
        } else if !self.is_stale() {
            // A folder that cannot be written to is no reason to disturb the work; saving will say so.
            let _ = self.write(sidecar);
        }
    }

    pub(super) fn drop_sidecar(&self) {
        if let Some(sidecar) = self.file.sidecar.as_ref().filter(|path| path.exists()) {
            let _ = std::fs::remove_file(sidecar);
        }
    }
}
