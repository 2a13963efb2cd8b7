//! Which windows work on a car's file at present. Each holds a lock on a small file of its own beside
//! the car's; the system lets go of it when the window's process ends, however it ends.

use serde::{Deserialize, Serialize};
use std::fs::{File, OpenOptions};
use std::io::{ErrorKind, Read, Seek, Write};
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};
use wheelpath_car_file::take_file_away;

/// More windows than this on one car are not told apart.
const MOST: usize = 16;

/// A window on the same car.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct OtherWindow {
    /// Its process, where it says so.
    pub process: Option<u32>,
    /// Nanoseconds since 1970 when it was opened.
    opened: Option<u64>,
}

impl OtherWindow {
    /// How long it has been open.
    #[must_use]
    pub fn age(&self) -> Option<Duration> {
        let since = SystemTime::UNIX_EPOCH + Duration::from_nanos(self.opened?);
        since.elapsed().ok()
    }
}

/// The place of this window among those on one car, from 1; given back when dropped.
#[derive(Debug)]
pub struct WindowLock {
    /// Its number.
    pub number: usize,
    path: PathBuf,
    /// Locked as long as it is open.
    _file: File,
}

impl Drop for WindowLock {
    fn drop(&mut self) {
        let _ = take_file_away(&self.path);
    }
}

/// Opens a window's file, or makes it, and locks it; none where another holds it.
#[cfg(not(windows))]
fn open_locked(path: &Path) -> Option<File> {
    let file = OpenOptions::new().read(true).write(true).create(true).truncate(false).open(path).ok()?;
    file.try_lock().ok()?;
    Some(file)
}

/// Opens a window's file, or makes it, so that nobody else can open it to write; none where another has. A lock
/// on it would keep the other windows from reading it too.
#[cfg(windows)]
fn open_locked(path: &Path) -> Option<File> {
    use std::os::windows::fs::OpenOptionsExt;
    // Microsoft, "CreateFileW", from memory.
    const FILE_SHARE_READ: u32 = 1;
    const FILE_SHARE_DELETE: u32 = 4;
    let mut options = OpenOptions::new();
    options.read(true).write(true).create(true).truncate(false);
    options.share_mode(FILE_SHARE_READ | FILE_SHARE_DELETE).open(path).ok()
}

/// Whether a window holds its file.
#[cfg(not(windows))]
fn is_held(path: &Path) -> bool {
    use std::fs::TryLockError;
    File::open(path).is_ok_and(|file| matches!(file.try_lock_shared(), Err(TryLockError::WouldBlock)))
}

/// Whether a window holds its file: then nobody can open it to write.
#[cfg(windows)]
fn is_held(path: &Path) -> bool {
    // Microsoft, "System Error Codes", from memory.
    const SHARING_VIOLATION: i32 = 32;
    let opened = OpenOptions::new().write(true).open(path);
    opened.is_err_and(|error| error.raw_os_error() == Some(SHARING_VIOLATION))
}

fn lock_path(car: &Path, number: usize) -> Option<PathBuf> {
    let name = car.file_name()?.to_string_lossy();
    Some(car.with_file_name(format!(".{name}.window-{number}")))
}

impl WindowLock {
    /// The first free place; none where the folder cannot be written to or knows no locks.
    #[must_use]
    pub fn take(car: &Path) -> Option<WindowLock> {
        (1..=MOST).find_map(|number| {
            let path = lock_path(car, number)?;
            // Whoever held it may take its file away between the opening and the locking.
            (0..3).find_map(|_| WindowLock::take_at(&path, number))
        })
    }

    fn take_at(path: &Path, number: usize) -> Option<WindowLock> {
        let mut file = open_locked(path)?;
        // What a window left that was killed is empty or says so; anything else is somebody's.
        let mut left = String::new();
        file.read_to_string(&mut left).ok()?;
        if !left.is_empty() && ron::from_str::<OtherWindow>(&left).is_err() {
            return None;
        }
        file.rewind().ok()?;
        let opened = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH).ok()?.as_nanos();
        let own = OtherWindow { process: Some(std::process::id()), opened: opened.try_into().ok() };
        let said = ron::to_string(&own).ok()?;
        file.set_len(0).ok()?;
        file.write_all(said.as_bytes()).ok()?;
        // Where another file has its name by now, what is locked is nothing. (Where it is there and cannot be
        // read, that must do.)
        let is_own = match std::fs::read_to_string(path) {
            Ok(text) => text == said,
            Err(error) => error.kind() != ErrorKind::NotFound,
        };
        is_own.then(|| WindowLock { number, path: path.to_owned(), _file: file })
    }
}

/// The other windows on a car: each with its place.
#[must_use]
pub fn other_windows(car: &Path, own: Option<usize>) -> Vec<(usize, OtherWindow)> {
    let mut all = Vec::new();
    for number in (1..=MOST).filter(|number| Some(*number) != own) {
        let Some(path) = lock_path(car, number) else { continue };
        if !is_held(&path) {
            continue;
        }
        let said = std::fs::read_to_string(&path).ok().and_then(|text| ron::from_str(&text).ok());
        all.push((number, said.unwrap_or(OtherWindow { process: None, opened: None })));
    }
    all
}

#[cfg(test)]
mod tests {
    use super::{WindowLock, lock_path, other_windows};

    #[test]
    fn places_are_taken_seen_and_given_back() {
        let folder = tempfile::tempdir().unwrap();
        let car = folder.path().join("car.ron");
        let first = WindowLock::take(&car).unwrap();
        let second = WindowLock::take(&car).unwrap();
        assert_eq!((first.number, second.number), (1, 2));
        let seen = other_windows(&car, Some(first.number));
        assert_eq!(seen.len(), 1);
        assert_eq!((seen[0].0, seen[0].1.process), (2, Some(std::process::id())));
        assert!(seen[0].1.age().unwrap().as_secs() < 60);
        drop(first);
        assert!(other_windows(&car, Some(second.number)).is_empty());
        assert_eq!(WindowLock::take(&car).unwrap().number, 1, "a place given back is free again");
        drop(second);
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0, "nothing is left behind");
    }

    #[test]
    fn what_a_killed_window_left_is_no_window() {
        let folder = tempfile::tempdir().unwrap();
        let car = folder.path().join("car.ron");
        std::fs::write(lock_path(&car, 1).unwrap(), "(process: Some(1), opened: Some(1))").unwrap();
        assert!(other_windows(&car, None).is_empty());
        assert_eq!(WindowLock::take(&car).unwrap().number, 1);
    }

    #[test]
    fn a_file_that_merely_has_the_name_is_left_alone() {
        let folder = tempfile::tempdir().unwrap();
        let car = folder.path().join("car.ron");
        let theirs = lock_path(&car, 1).unwrap();
        std::fs::write(&theirs, "my notes on the window").unwrap();
        let slot = WindowLock::take(&car).unwrap();
        assert_eq!(slot.number, 2);
        assert!(other_windows(&car, Some(2)).is_empty());
        drop(slot);
        assert_eq!(std::fs::read_to_string(&theirs).unwrap(), "my notes on the window");
    }

    #[test]
    fn a_folder_that_is_not_there_has_no_places() {
        let folder = tempfile::tempdir().unwrap();
        let car = folder.path().join("none").join("car.ron");
        assert!(WindowLock::take(&car).is_none() && other_windows(&car, None).is_empty());
    }
}
