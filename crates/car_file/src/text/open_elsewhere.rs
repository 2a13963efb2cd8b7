//! Files that another program has open. Windows then refuses to replace them, to take them away, or to open
//! them at all. Virus scanners and indexers do that to every new file for a moment, so what is refused for
//! this reason is tried again for a while.

use std::fs;
use std::io::{self, ErrorKind};
use std::path::Path;
use std::time::{Duration, Instant};

/// How long a file is waited for that is to be replaced, moved or taken away.
pub(crate) const TO_CHANGE: Duration = Duration::from_secs(1);
/// How long one is waited for that is to be read.
const TO_READ: Duration = Duration::from_millis(100);

/// Access is denied: what Windows says of a file whose name is taken away while it is open, and of one that is
/// open and should be replaced, but also of one that this user may not touch. (This and the following numbers:
/// Microsoft, "System Error Codes", from memory.)
const ACCESS_DENIED: i32 = 5;
const SHARING_VIOLATION: i32 = 32;
const LOCK_VIOLATION: i32 = 33;
/// A folder is not empty as long as a file is open that was taken out of it.
const FOLDER_NOT_EMPTY: i32 = 145;
const DELETE_PENDING: i32 = 303;
const USER_MAPPED_FILE: i32 = 1224;

/// Whether the system says that another program has the file open. Only Windows says so.
pub(crate) fn is_open_elsewhere(error: &io::Error) -> bool {
    let said = [SHARING_VIOLATION, LOCK_VIOLATION, DELETE_PENDING, USER_MAPPED_FILE];
    cfg!(windows) && error.raw_os_error().is_some_and(|number| said.contains(&number))
}

/// Whether it may say so: the same words are said of what this user may not do.
pub(crate) fn may_be_open_elsewhere(error: &io::Error) -> bool {
    is_open_elsewhere(error) || cfg!(windows) && error.raw_os_error() == Some(ACCESS_DENIED)
}

fn may_pass(error: &io::Error) -> bool {
    may_be_open_elsewhere(error) || cfg!(windows) && error.raw_os_error() == Some(FOLDER_NOT_EMPTY)
}

/// Does this, and does it again for so long while another program's having the file open may be what hinders it.
pub(crate) fn waiting<T>(patience: Duration, mut act: impl FnMut() -> io::Result<T>) -> io::Result<T> {
    let start = Instant::now();
    loop {
        match act() {
            Err(error) if may_pass(&error) && start.elapsed() < patience => {
                std::thread::sleep(Duration::from_millis(2));
            }
            done => return done,
        }
    }
}

/// The content of a file.
///
/// # Errors
/// It cannot be read, or it is a folder.
pub(crate) fn read(path: &Path) -> io::Result<Vec<u8>> {
    // Windows denies access to a folder that is read as a file; elsewhere the system says what it is.
    if cfg!(windows) && path.is_dir() {
        return Err(ErrorKind::IsADirectory.into());
    }
    waiting(TO_READ, || fs::read(path))
}

/// Takes a file away; where another program has it open, once that lets go of it within a second.
///
/// # Errors
/// It is not there, or cannot be taken away.
pub fn take_file_away(path: &Path) -> io::Result<()> {
    waiting(TO_CHANGE, || fs::remove_file(path))
}

/// Gives a file another name, in the place of a file that has it; where another program has one of them open,
/// once that lets go of it within a second.
///
/// # Errors
/// It is not there, or cannot be moved.
pub fn move_file(from: &Path, to: &Path) -> io::Result<()> {
    waiting(TO_CHANGE, || fs::rename(from, to))
}

#[cfg(test)]
mod tests {
    use super::{may_be_open_elsewhere, move_file, take_file_away, waiting};
    use std::io::{self, ErrorKind};
    use std::time::Duration;

    #[test]
    fn what_waiting_does_not_help_is_tried_once() {
        for kind in [ErrorKind::NotFound, ErrorKind::StorageFull, ErrorKind::AlreadyExists] {
            let mut tried = 0;
            let done = waiting(Duration::from_secs(10), || {
                tried += 1;
                Err::<(), _>(io::Error::from(kind))
            });
            assert_eq!((done.unwrap_err().kind(), tried), (kind, 1));
        }
        let folder = tempfile::tempdir().unwrap();
        let error = take_file_away(&folder.path().join("no")).unwrap_err();
        assert!(error.kind() == ErrorKind::NotFound && !may_be_open_elsewhere(&error));
        let error = move_file(&folder.path().join("no"), &folder.path().join("yes")).unwrap_err();
        assert!(error.kind() == ErrorKind::NotFound && !may_be_open_elsewhere(&error));
    }

    #[cfg(windows)]
    #[test]
    fn a_file_that_another_opened_alone_is_waited_for_and_then_said_to_be_open() {
        use super::read;
        use crate::fault::system_words::system_words;
        use std::fs::{self, OpenOptions};
        use std::os::windows::fs::OpenOptionsExt;
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("car.ron");
        fs::write(&path, "one").unwrap();
        let alone = || OpenOptions::new().read(true).share_mode(0).open(&path).unwrap();
        let theirs = alone();
        for error in [
            read(&path).unwrap_err(),
            take_file_away(&path).unwrap_err(),
            move_file(&path, &folder.path().join("other.ron")).unwrap_err(),
        ] {
            assert_eq!(system_words(&error), "another program has it open; close it there and try again");
        }
        // One that lets go in time is no hindrance.
        let soon = std::thread::spawn(move || {
            std::thread::sleep(Duration::from_millis(30));
            drop(theirs);
        });
        assert_eq!(read(&path).unwrap(), b"one");
        soon.join().unwrap();
        let theirs = alone();
        let soon = std::thread::spawn(move || {
            std::thread::sleep(Duration::from_millis(200));
            drop(theirs);
        });
        take_file_away(&path).unwrap();
        soon.join().unwrap();
        assert!(!path.exists());
    }
}
