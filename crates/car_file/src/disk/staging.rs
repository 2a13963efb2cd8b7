//! Where new content stands until it takes a file's place: a folder of its own beside the file, with a name
//! and a note inside that no user's folder has. What a save that was cut short left is known by both.

use crate::text::open_elsewhere::{TO_CHANGE, take_file_away, waiting};
use std::fs::{self, File};
use std::io::{self, ErrorKind, Read, Write};
use std::path::{Path, PathBuf};
use std::time::Duration;

/// How the folder's name begins; random letters and digits follow.
const PREFIX: &str = ".wheelpath-saving-";
/// How many of them follow.
const RANDOM: usize = 20;
/// The note in the folder. It is locked as long as the save goes on.
const NOTE: &str = "what-is-this.txt";
/// What the note says.
const SAYS: &str = "Wheelpath makes this folder while it saves a file, and takes it away afterwards.\n\
                    If nothing is being saved, the save was cut short and the folder can be deleted.\n";
/// How the names of new content begin; a number follows.
const CONTENT: &str = "new-";

/// A folder younger than this is left alone whatever it looks like: its note may not be locked yet.
const YOUNG: Duration = Duration::from_secs(60);

/// New content that has not taken its place yet. Dropped, it is gone.
#[derive(Debug)]
pub(crate) struct Staging {
    folder: PathBuf,
    /// Locked until the staging is dropped; none only while it is being dropped.
    note: Option<File>,
    count: usize,
}

impl Staging {
    /// Makes the folder beside what is to be saved.
    pub fn beside(folder: &Path) -> io::Result<Staging> {
        let made = tempfile::Builder::new().prefix(PREFIX).rand_bytes(RANDOM).tempdir_in(folder);
        // The error would name the folder to be made, which is no business of the user.
        let made = made.map_err(|error| io::Error::from(error.kind()))?;
        // From here on it is taken away file by file: nothing that was put into it by others goes with it.
        let folder = made.keep();
        let mut staging = Staging { folder, note: None, count: 0 };
        let mut note = File::create_new(staging.folder.join(NOTE))?;
        // Where the system has no locks, nobody clears up either.
        let _ = note.try_lock();
        note.write_all(SAYS.as_bytes())?;
        staging.note = Some(note);
        Ok(staging)
    }

    /// Writes new content, made by `create`, onto the disk; gives where it stands.
    pub fn write(
        &mut self,
        content: &[u8],
        create: impl FnOnce(&Path) -> io::Result<File>,
    ) -> io::Result<PathBuf> {
        let path = self.folder.join(format!("{CONTENT}{}", self.count));
        self.count += 1;
        let mut file = create(&path)?;
        file.write_all(content)?;
        file.sync_all()?;
        Ok(path)
    }
}

impl Drop for Staging {
    fn drop(&mut self) {
        for n in 0..self.count {
            let _ = take_file_away(&self.folder.join(format!("{CONTENT}{n}")));
        }
        let note = self.folder.join(NOTE);
        let _ = fs::remove_file(&note);
        self.note = None;
        // Some systems remove no file that is open, and no folder that such a file was removed from.
        let _ = take_file_away(&note);
        let _ = waiting(TO_CHANGE, || fs::remove_dir(&self.folder));
    }
}

/// Takes away what saves that were cut short have left in a folder. Whoever calls it holds the lock on the
/// folder, so that no save begins meanwhile.
pub(crate) fn clear(folder: &Path) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        let is_folder = entry.file_type().is_ok_and(|kind| kind.is_dir());
        if is_folder && is_our_name(&entry.file_name().to_string_lossy()) && is_left_over(&entry.path()) {
            take_away(&entry.path());
        }
    }
}

fn is_our_name(name: &str) -> bool {
    let random = name.strip_prefix(PREFIX).unwrap_or_default();
    random.len() == RANDOM && random.bytes().all(|byte| byte.is_ascii_alphanumeric())
}

fn is_content(name: &str) -> bool {
    let number = name.strip_prefix(CONTENT).unwrap_or_default();
    !number.is_empty() && number.bytes().all(|byte| byte.is_ascii_digit())
}

/// Whether a folder of our name holds our note, which nobody holds locked, and nothing that is not ours.
fn is_left_over(folder: &Path) -> bool {
    let is_old = |at: &Path| {
        let modified = fs::metadata(at).and_then(|data| data.modified()).ok();
        modified.and_then(|at| at.elapsed().ok()).is_some_and(|age| age > YOUNG)
    };
    let Ok(entries) = fs::read_dir(folder) else { return false };
    let names: Vec<String> =
        entries.flatten().map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
    if names.iter().any(|name| name != NOTE && !is_content(name)) {
        return false;
    }
    let path = folder.join(NOTE);
    let file = match File::open(&path) {
        Ok(file) => file,
        // Cut short before its note was made: then it is empty.
        Err(error) => return error.kind() == ErrorKind::NotFound && names.is_empty() && is_old(folder),
    };
    if !is_old(&path) || file.try_lock().is_err() {
        return false;
    }
    let mut says = Vec::new();
    let most = u64::try_from(SAYS.len()).unwrap_or(u64::MAX) + 1;
    // Cut short while it was written, the note is a beginning of what it would have said.
    file.take(most).read_to_end(&mut says).is_ok() && SAYS.as_bytes().starts_with(&says)
}

/// The note goes last but for the folder: what is cut short here is still known for ours.
fn take_away(folder: &Path) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        if is_content(&entry.file_name().to_string_lossy()) {
            let _ = fs::remove_file(entry.path());
        }
    }
    let _ = fs::remove_file(folder.join(NOTE));
    let _ = fs::remove_dir(folder);
}

#[cfg(test)]
mod tests {
    use super::{NOTE, PREFIX, SAYS, Staging, clear};
    use std::fs::{self, File};
    use std::path::{Path, PathBuf};
    use std::time::{Duration, SystemTime};

    fn make_old(path: &Path) {
        let yesterday = SystemTime::now() - Duration::from_secs(86_400);
        File::options().append(true).open(path).unwrap().set_modified(yesterday).unwrap();
    }

    fn names_in(folder: &Path) -> Vec<String> {
        let entries = fs::read_dir(folder).unwrap();
        let mut names: Vec<String> =
            entries.map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        names
    }

    /// A folder as a killed save leaves it, a day ago.
    fn left_over(at: &Path, name: &str, says: &str) -> PathBuf {
        let folder = at.join(name);
        fs::create_dir(&folder).unwrap();
        fs::write(folder.join("new-0"), "half").unwrap();
        fs::write(folder.join(NOTE), says).unwrap();
        make_old(&folder.join(NOTE));
        folder
    }

    #[test]
    fn dropped_it_leaves_nothing_behind() {
        let at = tempfile::tempdir().unwrap();
        let mut staging = Staging::beside(at.path()).unwrap();
        let path = staging.write(b"one", |path| File::create_new(path)).unwrap();
        assert_eq!(fs::read(path).unwrap(), b"one");
        drop(staging);
        assert!(names_in(at.path()).is_empty());
    }

    #[test]
    fn only_what_is_provably_left_over_is_cleared() {
        let at = tempfile::tempdir().unwrap();
        let name = |n: u8| format!("{PREFIX}{}", char::from(b'a' + n).to_string().repeat(20));
        left_over(at.path(), &name(0), SAYS);
        left_over(at.path(), &name(1), &SAYS[..10]);
        // Not ours: another name, another note, something of a user's inside, a file of that name.
        left_over(at.path(), ".wheelpath-saving-mine", SAYS);
        left_over(at.path(), &name(2), "My own notes.");
        let visited = left_over(at.path(), &name(3), SAYS);
        fs::write(visited.join("thesis.ron"), "years of work").unwrap();
        fs::write(at.path().join(name(4)), "a file").unwrap();
        for old in [".saving-abcdef.ron", ".saving-mine.ron"] {
            fs::write(at.path().join(old), "a user's").unwrap();
            make_old(&at.path().join(old));
        }
        // Ours, but young, or at work.
        let young = left_over(at.path(), &name(5), SAYS);
        File::options().append(true).open(young.join(NOTE)).unwrap().set_modified(SystemTime::now()).unwrap();
        let mut before = names_in(at.path());
        let mut busy = Staging::beside(at.path()).unwrap();
        let path = busy.write(b"one", |path| File::create_new(path)).unwrap();
        make_old(&busy.folder.join(NOTE));
        clear(at.path());
        assert_eq!(fs::read(&path).unwrap(), b"one", "a save at work is not disturbed");
        drop(busy);
        before.retain(|one| *one != name(0) && *one != name(1));
        assert_eq!(names_in(at.path()), before);
        assert_eq!(names_in(&visited), ["new-0", "thesis.ron", NOTE]);
    }
}
