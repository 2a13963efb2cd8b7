//! Unsaved changes that outlive a killed program: kept in a file beside the car's own, written in
//! one step, offered when the car is opened again. Each window has a file of its own.

use crate::window_lock::other_windows;
use serde::{Deserialize, Serialize};
use std::cmp::Reverse;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};
use std::time::SystemTime;
use wheelpath_car_file::{FileSnapshot, LimitsFile, move_file, parse};
use wheelpath_geometry::{Car, Requirement};

const FORMAT: &str = "wheelpath unsaved changes";
const VERSION: u32 = 1;

/// A window has at most so many files of unsaved changes from earlier.
const MOST: usize = 100;

/// What the file holds.
#[derive(Serialize, Deserialize)]
struct Kept {
    format: String,
    version: u32,
    /// The car as a car file has it.
    car: String,
    /// The proposal that was open, by the name of its file.
    proposal: Option<String>,
    /// The limits as their file has them, where they were changed.
    limits: Option<String>,
}

/// Unsaved changes that were found in a file.
#[derive(Clone, Debug)]
pub struct UnsavedChanges {
    /// The file.
    pub path: PathBuf,
    /// When it was written, where the system says so.
    pub written: Option<SystemTime>,
    /// Whether this window set them aside, for something else to take their place.
    pub aside: bool,
    /// The car with the changes.
    pub car: Car,
    /// The proposal that was open, by the name of its file.
    pub proposal: Option<String>,
    /// The limits, where they were changed.
    pub limits: Option<Vec<Requirement>>,
}

impl UnsavedChanges {
    /// Reads such a file; `None` where it is none, or what it holds cannot be opened.
    #[must_use]
    pub fn read(path: &Path) -> Option<UnsavedChanges> {
        let written = std::fs::metadata(path).and_then(|data| data.modified()).ok();
        let name = path.display().to_string();
        let text = FileSnapshot::now(path).ok()?.as_text(path).ok()?;
        let kept: Kept = ron::from_str(&text).ok()?;
        if kept.format != FORMAT || kept.version != VERSION {
            return None;
        }
        let limits = match &kept.limits {
            Some(text) => Some(LimitsFile::parse(text, &name).ok()?.limits().to_vec()),
            None => None,
        };
        let car = parse(&kept.car, &name).ok()?.car;
        let proposal = kept.proposal;
        Some(UnsavedChanges { path: path.to_owned(), written, aside: false, car, proposal, limits })
    }

    /// The text of such a file: the car and the limits as their files have them, the proposal that is open by
    /// the name of its file.
    #[must_use]
    pub fn text(car: &str, proposal: Option<&str>, limits: Option<&str>) -> Option<String> {
        let kept = Kept {
            format: FORMAT.into(),
            version: VERSION,
            car: car.to_owned(),
            proposal: proposal.map(str::to_owned),
            limits: limits.map(str::to_owned),
        };
        ron::to_string(&kept).ok()
    }

    /// Those that windows left beside a car that are no more, the latest first. `own` is the number of the window
    /// that asks, if it has one.
    #[must_use]
    pub fn left_beside(car: &Path, own: Option<usize>) -> Vec<UnsavedChanges> {
        let alive: Vec<usize> = other_windows(car, own).into_iter().map(|(number, _)| number).collect();
        let left = files(car).into_iter().filter(|(number, _)| !alive.contains(number));
        let mut found: Vec<_> = left.filter_map(|(_, path)| UnsavedChanges::read(&path)).collect();
        found.sort_by_key(|found| Reverse(found.written));
        found
    }

    /// Those that were thrown away beside a car and not brought back, the latest last.
    #[must_use]
    pub fn thrown_away_beside(car: &Path) -> Vec<UnsavedChanges> {
        thrown_away(car).iter().filter_map(|(_, path)| UnsavedChanges::read(path)).collect()
    }

    /// Where they go when they are thrown away: behind those that were thrown away before.
    #[must_use]
    pub fn thrown_away_path(&self, car: &Path) -> PathBuf {
        let number = thrown_away(car).last().map_or(0, |(number, _)| number.saturating_add(1));
        thrown_away_name(car, number)
            .map_or_else(|| self.path.with_extension("thrown-away"), |name| car.with_file_name(name))
    }

    /// Moves their file to the first free name for unsaved changes of the window with this number.
    ///
    /// # Errors
    /// There is no free name, or the file cannot be moved.
    pub fn moved_back(&self, car: &Path, number: usize) -> io::Result<PathBuf> {
        let to = free_path(car, number).ok_or(ErrorKind::AlreadyExists)?;
        move_file(&self.path, &to)?;
        Ok(to)
    }
}

/// The first free name for unsaved changes of the window with this number.
#[must_use]
pub fn free_path(car: &Path, number: usize) -> Option<PathBuf> {
    (0..MOST).filter_map(|further| path_of(car, number, further)).find(|path| !path.exists())
}

/// The name of the file for a window's unsaved changes: `number` is the window's, `further` the
/// count of those that lie there from earlier.
fn path_of(car: &Path, number: usize, further: usize) -> Option<PathBuf> {
    let name = car.file_name()?.to_string_lossy();
    let end = match (number, further) {
        (1, 0) => String::new(),
        (_, 0) => format!("-{number}"),
        _ => format!("-{number}-{further}"),
    };
    Some(car.with_file_name(format!(".{name}.unsaved{end}")))
}

/// All files of unsaved changes of a car, each with the number of the window that wrote it.
fn files(car: &Path) -> Vec<(usize, PathBuf)> {
    let Some(name) = car.file_name() else { return Vec::new() };
    let start = format!(".{}.unsaved", name.to_string_lossy());
    let folder = car.parent().filter(|folder| !folder.as_os_str().is_empty());
    let entries = std::fs::read_dir(folder.unwrap_or_else(|| Path::new("."))).into_iter().flatten();
    let of_window = |name: &str| match name.strip_prefix(&start)? {
        "" => Some(1),
        end => end.strip_prefix('-')?.split('-').next()?.parse().ok(),
    };
    let found = entries.flatten().filter_map(|entry| {
        let number = of_window(&entry.file_name().to_string_lossy())?;
        Some((number, car.with_file_name(entry.file_name())))
    });
    found.collect()
}

/// The files that keep what was thrown away, each with its number, the earliest first.
fn thrown_away(car: &Path) -> Vec<(u32, PathBuf)> {
    let Some(start) = thrown_away_name(car, 0) else { return Vec::new() };
    let Some(Ok(entries)) = car.parent().map(std::fs::read_dir) else { return Vec::new() };
    let number = |name: &str| match name.strip_prefix(&start)? {
        "" => Some(0),
        rest => rest.strip_prefix('-')?.parse().ok(),
    };
    let mut all: Vec<(u32, PathBuf)> = entries
        .flatten()
        .filter_map(|entry| Some((number(&entry.file_name().to_string_lossy())?, entry.path())))
        .collect();
    all.sort();
    all
}

/// The name of the file that keeps what was thrown away with this number.
fn thrown_away_name(car: &Path, number: u32) -> Option<String> {
    let name = car.file_name()?.to_string_lossy();
    let ending = if number == 0 { String::new() } else { format!("-{number}") };
    Some(format!(".{name}.thrown-away{ending}"))
}

#[cfg(test)]
mod tests {
    use super::{UnsavedChanges, free_path};
    use crate::demo::ALDER;
    use crate::window_lock::WindowLock;

    #[test]
    fn changes_are_found_while_no_window_works_on_them_and_again_after_they_were_thrown_away() {
        let folder = tempfile::tempdir().unwrap();
        let car = folder.path().join("car.ron");
        let path = free_path(&car, 1).unwrap();
        std::fs::write(&path, UnsavedChanges::text(ALDER, Some("low"), None).unwrap()).unwrap();
        assert_ne!(free_path(&car, 1), Some(path.clone()), "the name is taken now");
        let found = UnsavedChanges::left_beside(&car, None);
        assert_eq!((found.len(), found[0].proposal.as_deref()), (1, Some("low")));
        assert_eq!(found[0].car.name, "Alder");
        let window = WindowLock::take(&car).unwrap();
        assert_eq!(window.number, 1);
        assert!(UnsavedChanges::left_beside(&car, None).is_empty(), "they are that window's");
        assert_eq!(UnsavedChanges::left_beside(&car, Some(1)).len(), 1);
        let away = found[0].thrown_away_path(&car);
        std::fs::rename(&path, &away).unwrap();
        let thrown = UnsavedChanges::thrown_away_beside(&car);
        assert_eq!(thrown.len(), 1);
        assert_ne!(thrown[0].thrown_away_path(&car), away, "the next goes behind it");
        assert_eq!(thrown[0].moved_back(&car, 1).unwrap(), path);
        assert!(UnsavedChanges::thrown_away_beside(&car).is_empty());
    }

    #[test]
    fn a_file_that_merely_has_the_name_is_passed_over() {
        let folder = tempfile::tempdir().unwrap();
        let car = folder.path().join("car.ron");
        let text = UnsavedChanges::text(ALDER, None, None).unwrap();
        let broken = UnsavedChanges::text("(not a car)", None, None).unwrap();
        for (n, text) in ["notes of mine", &broken, &text.replace("unsaved changes", "something else")]
            .into_iter()
            .enumerate()
        {
            std::fs::write(free_path(&car, n + 1).unwrap(), text).unwrap();
        }
        assert!(UnsavedChanges::left_beside(&car, None).is_empty());
    }
}
