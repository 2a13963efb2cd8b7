//! What comes from other files: a table of moved points, another car to compare with.

use super::notice::About;
use super::{CarEdit, Edit, Session};
use std::path::Path;
use wheelpath_car_file::{LoadError, TableOptions, load, propose_points};

impl Session {
    /// Takes the points of a table that differ from the original's as what is changed: one step of undo.
    #[inline(never)]
    pub(super) fn import_table(&mut self, path: &Path) {
        let name = path.file_stem().map(|stem| stem.to_string_lossy().into_owned()).unwrap_or_default();
        let file = path.display().to_string();
        let text = std::fs::read_to_string(path)
            .map_err(|source| LoadError::Unreadable { file: path.to_owned(), source });
        // What the table does not say of its units is taken as the car's file has it.
        let plain = TableOptions::default();
        let as_car = TableOptions { units: Some(self.units()), ..plain };
        let read = text.and_then(|text| {
            let proposed = |options| propose_points(&self.original, &text, &file, options, &name);
            proposed(&plain).or_else(|_| proposed(&as_car))
        });
        match read {
            Ok(read) => {
                let change = CarEdit::Propose { proposal: Box::new(read.proposal), on_top: false };
                self.apply_unnoted(Edit::Change(change));
                self.apply_unnoted(Edit::Settle);
            }
            Err(error) => {
                let said = first_lines(&error);
                let remedy = "put the table right and import it again; nothing was changed";
                self.refuse(About::File, format!("not imported: {said}"), remedy.into());
            }
        }
    }

    /// Compares with the car of another file.
    #[inline(never)]
    pub(super) fn compare_with_file(&mut self, path: &Path) {
        match load(path) {
            Ok(loaded) => {
                let name = loaded.car.name.clone();
                self.compare_with_car(loaded.car, Some(name));
            }
            Err(error) => {
                let said = first_lines(&error);
                let remedy = "what it was compared with is kept; `wheelpath check` says more";
                self.refuse(About::File, said, remedy.into());
            }
        }
    }
}

/// The first of what is wrong, and how much more there is.
fn first_lines(error: &LoadError) -> String {
    let text = error.to_string();
    let mut lines = text.lines();
    let first = lines.next().unwrap_or_default().to_owned();
    match lines.count() {
        0 => first,
        more => format!("{first} (and {more} more)"),
    }
}
