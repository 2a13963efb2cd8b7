//! The file that a save is to reach: through links to where they lead, with the permissions and the owner
//! of what stands there, and only where nothing stands if it is to be new.

use crate::text::open_elsewhere::{TO_CHANGE, move_file, take_file_away, waiting};
use std::fs::{self, File, Metadata, OpenOptions};
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

/// Links that lead to links: more than so many lead round in a circle.
const MOST_LINKS: usize = 40;

/// Where a path leads: through links to the file itself, whether it is there or not.
///
/// # Errors
/// A folder on the way cannot be read, or the links lead round in a circle.
pub fn target_of(path: &Path) -> io::Result<PathBuf> {
    let mut at = path.to_owned();
    for _ in 0..=MOST_LINKS {
        match fs::symlink_metadata(&at) {
            Ok(data) if data.is_symlink() => {
                let to = fs::read_link(&at)?;
                at = at.parent().map_or_else(|| to.clone(), |folder| folder.join(&to));
            }
            _ => return Ok(at),
        }
    }
    Err(io::Error::other("it is a link that leads round in a circle"))
}

/// The folder a file stands in.
pub(crate) fn folder_of(target: &Path) -> &Path {
    match target.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    }
}

/// Makes the file of new content, as its target is: with its permissions and, where this user may give it
/// away, its owner; one that is new with those that the system gives new files. A target that may not be
/// written to is not replaced either.
pub(crate) fn create_like(target: &Path, at: &Path) -> io::Result<File> {
    let old = match fs::metadata(target) {
        Ok(old) => old,
        Err(error) if error.kind() == ErrorKind::NotFound => return File::create_new(at),
        Err(error) => return Err(error),
    };
    if old.is_dir() {
        // The system will not put a file in its place, and says so then.
        return File::create_new(at);
    }
    if old.permissions().readonly() {
        return Err(io::Error::new(ErrorKind::PermissionDenied, "the file is read-only"));
    }
    // A rename asks nothing of the file that it replaces.
    waiting(TO_CHANGE, || OpenOptions::new().append(true).open(target))?;
    create_as(&old, at)
}

#[cfg(unix)]
fn create_as(old: &Metadata, at: &Path) -> io::Result<File> {
    use std::os::unix::fs::{MetadataExt, OpenOptionsExt, fchown};
    // At first its owner's alone: the content is never open to more than the old file was.
    let file = OpenOptions::new().write(true).create_new(true).mode(0o600).open(at)?;
    let new = file.metadata()?;
    if (new.uid(), new.gid()) != (old.uid(), old.gid())
        && fchown(&file, Some(old.uid()), Some(old.gid())).is_err()
    {
        let _ = fchown(&file, None, Some(old.gid()));
    }
    file.set_permissions(old.permissions())?;
    Ok(file)
}

#[cfg(not(unix))]
fn create_as(old: &Metadata, at: &Path) -> io::Result<File> {
    let file = File::create_new(at)?;
    file.set_permissions(old.permissions())?;
    Ok(file)
}

/// Gives new content its name, if nothing has that name yet: of any number who try at once, one succeeds.
pub(crate) fn take_free_name(new: &Path, target: &Path) -> io::Result<()> {
    match fs::hard_link(new, target) {
        Ok(()) => {
            let _ = take_file_away(new);
            Ok(())
        }
        Err(error) if error.kind() == ErrorKind::AlreadyExists => Err(error),
        Err(_) => claim_name(new, target),
    }
}

/// The same where the system has no second names for a file: an empty file claims the name first.
fn claim_name(new: &Path, target: &Path) -> io::Result<()> {
    drop(File::create_new(target)?);
    move_file(new, target).inspect_err(|_| {
        let _ = take_file_away(target);
    })
}

#[cfg(test)]
mod tests {
    use super::{claim_name, take_free_name};
    use std::fs;
    use std::io::{self, ErrorKind};
    use std::path::Path;
    use std::sync::Barrier;

    fn one_of_many(take: impl Fn(&Path, &Path) -> io::Result<()> + Sync) {
        const WRITERS: usize = 4;
        let folder = tempfile::tempdir().unwrap();
        for round in 0..30 {
            let target = folder.path().join(format!("target-{round}"));
            let barrier = Barrier::new(WRITERS);
            let taken: Vec<bool> = std::thread::scope(|scope| {
                let writers: Vec<_> = (0..WRITERS)
                    .map(|n| {
                        let new = folder.path().join(format!("new-{round}-{n}"));
                        let (take, barrier, target) = (&take, &barrier, &target);
                        scope.spawn(move || {
                            fs::write(&new, n.to_string()).unwrap();
                            barrier.wait();
                            match take(&new, target) {
                                Ok(()) => true,
                                Err(error) => {
                                    assert_eq!(error.kind(), ErrorKind::AlreadyExists);
                                    false
                                }
                            }
                        })
                    })
                    .collect();
                writers.into_iter().map(|writer| writer.join().unwrap()).collect()
            });
            let held: usize = fs::read_to_string(&target).unwrap().parse().unwrap();
            let expected: Vec<bool> = (0..WRITERS).map(|n| n == held).collect();
            assert_eq!(taken, expected, "round {round}");
        }
    }

    #[test]
    fn of_many_who_want_one_name_one_gets_it() {
        one_of_many(take_free_name);
    }

    #[test]
    fn so_it_is_where_files_have_one_name_only() {
        one_of_many(claim_name);
    }
}
