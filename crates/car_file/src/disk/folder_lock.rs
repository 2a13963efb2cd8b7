//! A lock on a folder among those who save into it: between comparing a file and replacing it nobody else
//! replaces it. The system lets go of it however the process ends.

use std::fs::File;
use std::path::Path;
use std::time::{Duration, Instant};

/// How long another's save is waited for: a save takes milliseconds.
const PATIENCE: Duration = Duration::from_secs(3);

/// What came of asking for the lock.
#[derive(Debug)]
pub(crate) enum Lock {
    /// Held as long as this is open.
    Held(File),
    /// Another has it and does not let go.
    Busy,
    /// The system has none there.
    None,
}

/// Takes the lock on a folder, once another who has it lets go of it.
pub(crate) fn lock(folder: &Path) -> Lock {
    let start = Instant::now();
    loop {
        match try_lock(folder) {
            Lock::Busy if start.elapsed() < PATIENCE => std::thread::sleep(Duration::from_millis(1)),
            done => return done,
        }
    }
}

#[cfg(not(windows))]
fn try_lock(folder: &Path) -> Lock {
    use std::fs::TryLockError;
    let Ok(folder) = File::open(folder) else { return Lock::None };
    match folder.try_lock() {
        Ok(()) => Lock::Held(folder),
        Err(TryLockError::WouldBlock) => Lock::Busy,
        Err(TryLockError::Error(_)) => Lock::None,
    }
}

/// Windows has no locks on folders. There the lock is an empty file in the folder, which one at a time can
/// make; nobody else can open it, and the system takes it away when it is closed.
#[cfg(windows)]
fn try_lock(folder: &Path) -> Lock {
    use crate::text::open_elsewhere::may_be_open_elsewhere;
    use std::fs::{self, OpenOptions};
    use std::io::ErrorKind;
    use std::os::windows::fs::OpenOptionsExt;
    // Microsoft, "CreateFileW" and "Access Mask Format", from memory.
    const FILE_FLAG_DELETE_ON_CLOSE: u32 = 0x0400_0000;
    const GENERIC_WRITE: u32 = 0x4000_0000;
    const DELETE: u32 = 0x0001_0000;
    let path = folder.join(NAME);
    let made = OpenOptions::new()
        .write(true)
        .create_new(true)
        .access_mode(GENERIC_WRITE | DELETE)
        .share_mode(0)
        .custom_flags(FILE_FLAG_DELETE_ON_CLOSE)
        .open(&path);
    let there = fs::symlink_metadata(&path);
    match (made, there) {
        (Ok(file), _) => Lock::Held(file),
        (Err(error), Ok(there)) if error.kind() == ErrorKind::AlreadyExists => {
            if !there.is_file() || there.len() > 0 {
                // Somebody's file merely has the name.
                return Lock::None;
            }
            // Where the power went, it was left over. One that is held cannot be taken away.
            let _ = fs::remove_file(&path);
            Lock::Busy
        }
        // It was let go meanwhile.
        (Err(error), Err(_)) if error.kind() == ErrorKind::AlreadyExists => Lock::Busy,
        // It is just being let go; a folder that cannot be written to has none.
        (Err(error), Err(gone)) if may_be_open_elsewhere(&error) && gone.kind() == ErrorKind::NotFound => {
            Lock::None
        }
        (Err(error), _) if may_be_open_elsewhere(&error) => Lock::Busy,
        _ => Lock::None,
    }
}

/// The name of the file that is the lock where folders have none.
#[cfg(windows)]
const NAME: &str = ".wheelpath-saving.lock";

#[cfg(test)]
mod tests {
    use super::{Lock, lock, try_lock};

    #[test]
    fn one_at_a_time_has_it_and_it_leaves_nothing() {
        let folder = tempfile::tempdir().unwrap();
        let held = lock(folder.path());
        assert!(matches!(held, Lock::Held(_)), "{held:?}");
        assert!(matches!(try_lock(folder.path()), Lock::Busy));
        assert!(matches!(lock(folder.path()), Lock::Busy), "it is not waited for without end");
        drop(held);
        assert!(matches!(try_lock(folder.path()), Lock::Held(_)));
        assert_eq!(std::fs::read_dir(folder.path()).unwrap().count(), 0);
        assert!(matches!(lock(&folder.path().join("none")), Lock::None));
    }

    #[cfg(windows)]
    #[test]
    fn a_lock_that_a_loss_of_power_left_is_taken_over_and_a_users_file_is_left_alone() {
        use super::NAME;
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join(NAME);
        std::fs::write(&path, "").unwrap();
        assert!(matches!(lock(folder.path()), Lock::Held(_)));
        assert!(!path.exists());
        std::fs::write(&path, "a user's").unwrap();
        assert!(matches!(lock(folder.path()), Lock::None));
        assert_eq!(std::fs::read_to_string(&path).unwrap(), "a user's");
    }
}
