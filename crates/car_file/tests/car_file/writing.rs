//! What the disk holds after a save: names taken by one of many, saves cut short, links, permissions.

use std::fs::{self, File};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::sync::Barrier;
use std::time::{Duration, SystemTime};
use wheelpath_car_file::{SaveError, put, put_new};

/// Tells the process of a test in which folder it is to work.
const WORKS_IN: &str = "WHEELPATH_TEST_WORKS_IN";

fn works_in() -> Option<PathBuf> {
    std::env::var_os(WORKS_IN).map(PathBuf::from)
}

/// Runs one test of this file as a process of its own; where `first` is not empty, by a shell that first does this.
fn process(test: &str, first: &str, folder: &Path) -> Child {
    let own = std::env::current_exe().unwrap();
    let mut command = if first.is_empty() { Command::new(own) } else { by_shell(first, &own) };
    command
        .args(["--exact", &format!("writing::{test}"), "--nocapture", "--test-threads=1"])
        .env(WORKS_IN, folder)
        .stdout(Stdio::null())
        .spawn()
        .unwrap()
}

fn by_shell(first: &str, program: &Path) -> Command {
    let mut command = Command::new("sh");
    command.args(["-c", &format!("{first} exec \"$0\" \"$@\"")]).arg(program);
    command
}

/// Takes the lock of those who save into a folder, as another program would.
#[cfg(not(windows))]
fn lock_on(folder: &Path) -> File {
    let lock = File::open(folder).unwrap();
    lock.lock().unwrap();
    lock
}

/// The same on Windows, where it is a file that nobody else can open.
#[cfg(windows)]
fn lock_on(folder: &Path) -> File {
    use std::os::windows::fs::OpenOptionsExt;
    const FILE_FLAG_DELETE_ON_CLOSE: u32 = 0x0400_0000;
    let mut options = File::options();
    options.write(true).create_new(true).access_mode(0x4001_0000).share_mode(0);
    options.custom_flags(FILE_FLAG_DELETE_ON_CLOSE).open(folder.join(".wheelpath-saving.lock")).unwrap()
}

/// A file or folder that can be told when it was written.
fn opened_to_date(path: &Path) -> File {
    let mut options = File::options();
    #[cfg(windows)]
    {
        use std::os::windows::fs::OpenOptionsExt;
        const FILE_WRITE_ATTRIBUTES: u32 = 0x100;
        const FILE_FLAG_BACKUP_SEMANTICS: u32 = 0x0200_0000;
        options.access_mode(FILE_WRITE_ATTRIBUTES).custom_flags(FILE_FLAG_BACKUP_SEMANTICS);
    }
    options.read(true).open(path).unwrap()
}

fn names_in(folder: &Path) -> Vec<String> {
    let entries = fs::read_dir(folder).unwrap();
    let mut names: Vec<String> =
        entries.map(|entry| entry.unwrap().file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

#[test]
fn of_many_who_write_one_new_name_one_has_written_it() {
    const WRITERS: usize = 3;
    let folder = tempfile::tempdir().unwrap();
    for round in 0..60 {
        let path = folder.path().join(format!("{round}.ron"));
        let barrier = Barrier::new(WRITERS);
        let wrote: Vec<bool> = std::thread::scope(|scope| {
            let writers: Vec<_> = (0..WRITERS)
                .map(|n| {
                    let (path, barrier) = (&path, &barrier);
                    scope.spawn(move || {
                        barrier.wait();
                        match put_new(path, n.to_string()) {
                            Ok(_) => true,
                            Err(SaveError::NameTaken { .. }) => false,
                            Err(other) => panic!("{other}"),
                        }
                    })
                })
                .collect();
            writers.into_iter().map(|writer| writer.join().unwrap()).collect()
        });
        let held: usize = fs::read_to_string(&path).unwrap().parse().unwrap();
        assert_eq!(wrote, (0..WRITERS).map(|n| n == held).collect::<Vec<_>>(), "round {round}");
    }
    assert_eq!(names_in(folder.path()).len(), 60, "nothing else is left behind");
}

#[test]
fn what_must_not_have_changed_is_not_replaced_while_another_saves() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("car.ron");
    let seen = put_new(&path, "one").unwrap();
    let theirs = lock_on(folder.path());
    let refused = put(&path, "two", Some(&seen)).unwrap_err();
    assert!(matches!(refused, SaveError::Busy { .. }), "{refused}");
    assert_eq!(fs::read_to_string(&path).unwrap(), "one");
    put_new(&folder.path().join("other.ron"), "a new name needs nobody's leave").unwrap();
    drop(theirs);
    put(&path, "two", Some(&seen)).unwrap();
}

/// Killed at any moment, a save has left the old content or the new one, and nothing that is not taken away
/// by a later save; whatever else lies there stays.
#[test]
fn what_a_killed_save_leaves_is_cleared_and_nothing_else() {
    const TEST: &str = "what_a_killed_save_leaves_is_cleared_and_nothing_else";
    if let Some(folder) = works_in() {
        for n in 0_u64.. {
            put(&folder.join("car.ron"), n.to_string().repeat(2000), None).unwrap();
        }
    }
    let folder = tempfile::tempdir().unwrap();
    let car = folder.path().join("car.ron");
    let theirs = [".saving-draft.ron", ".wheelpath-saving-my-own-notes", ".car.ron.tmp", "~car.ron"];
    for name in theirs {
        fs::write(folder.path().join(name), "a user's").unwrap();
    }
    let is_ours = |name: &String| name.starts_with(".wheelpath-saving-") && !theirs.contains(&name.as_str());
    let mut left = 0;
    for n in 0..40 {
        let _ = fs::remove_file(&car);
        let mut child = process(TEST, "", folder.path());
        while !car.exists() {
            std::thread::sleep(Duration::from_millis(1));
        }
        std::thread::sleep(Duration::from_micros(137 * n));
        child.kill().unwrap();
        child.wait().unwrap();
        let held = fs::read_to_string(&car).unwrap();
        let number = &held[..held.len() / 2000];
        assert_eq!(held, number.repeat(2000), "torn");
        left = names_in(folder.path()).iter().filter(|name| is_ours(name)).count();
        if left >= 2 {
            break;
        }
    }
    assert!(left > 0, "no save was cut short: nothing is tested");
    let yesterday = SystemTime::now() - Duration::from_secs(86_400);
    let make_old = |path: &Path| opened_to_date(path).set_modified(yesterday).unwrap();
    for name in names_in(folder.path()) {
        let path = folder.path().join(&name);
        let note = path.join("what-is-this.txt");
        if note.exists() {
            make_old(&note);
        }
        make_old(&path);
    }
    put(&car, "whole", None).unwrap();
    let mut expected: Vec<String> = theirs.iter().map(|name| (*name).to_owned()).collect();
    expected.push("car.ron".into());
    expected.sort();
    assert_eq!(names_in(folder.path()), expected);
}

#[cfg(unix)]
#[test]
fn a_link_is_written_through_whether_it_leads_to_a_file_or_not_yet() {
    use std::os::unix::fs::symlink;
    use wheelpath_car_file::FileSnapshot;
    let folder = tempfile::tempdir().unwrap();
    let at = |name: &str| folder.path().join(name);
    let is_link = |name: &str| fs::symlink_metadata(at(name)).unwrap().is_symlink();
    fs::create_dir(at("far")).unwrap();
    symlink("far/car.ron", at("near.ron")).unwrap();
    symlink(at("near.ron"), at("nearer.ron")).unwrap();
    put_new(&at("nearer.ron"), "one").unwrap();
    assert_eq!(fs::read_to_string(at("far/car.ron")).unwrap(), "one");
    put(&at("near.ron"), "two", Some(&FileSnapshot::text("one"))).unwrap();
    assert_eq!(fs::read_to_string(at("far/car.ron")).unwrap(), "two");
    assert!(is_link("near.ron") && is_link("nearer.ron"));
    assert!(matches!(put_new(&at("near.ron"), "three"), Err(SaveError::NameTaken { .. })));
    symlink("nowhere/car.ron", at("astray.ron")).unwrap();
    symlink("round.ron", at("round.ron")).unwrap();
    for (name, why) in [
        ("astray.ron", "there is no such file or folder"),
        ("round.ron", "it is a link that leads round in a circle"),
    ] {
        let said = put(&at(name), "four", None).unwrap_err().to_string();
        assert!(said.starts_with("cannot write ") && said.ends_with(why), "{said}");
        assert!(is_link(name));
    }
    assert_eq!(names_in(folder.path()), ["astray.ron", "far", "near.ron", "nearer.ron", "round.ron"]);
    assert_eq!(names_in(&at("far")), ["car.ron"]);
}

/// POSIX: a file is created with 0666 less the bits of the mask (open, IEEE Std 1003.1, from memory).
#[cfg(unix)]
#[test]
fn new_files_follow_the_mask_and_old_ones_keep_their_permissions() {
    use std::os::unix::fs::PermissionsExt;
    const TEST: &str = "new_files_follow_the_mask_and_old_ones_keep_their_permissions";
    if let Some(folder) = works_in() {
        put_new(&folder.join("new.ron"), "").unwrap();
        put(&folder.join("old.ron"), "new content", None).unwrap();
        return;
    }
    for mask in [0o002, 0o022, 0o027, 0o077] {
        let folder = tempfile::tempdir().unwrap();
        let old = folder.path().join("old.ron");
        let mode = |name: &str| fs::metadata(folder.path().join(name)).unwrap().permissions().mode() & 0o7777;
        for permissions in [0o640, 0o666, 0o600] {
            let _ = fs::remove_file(folder.path().join("new.ron"));
            fs::write(&old, "old").unwrap();
            fs::set_permissions(&old, fs::Permissions::from_mode(permissions)).unwrap();
            let mut child = process(TEST, &format!("umask {mask:04o};"), folder.path());
            assert!(child.wait().unwrap().success());
            assert_eq!(fs::read_to_string(&old).unwrap(), "new content");
            assert_eq!(mode("new.ron"), 0o666 & !mask, "mask {mask:o}");
            assert_eq!(mode("old.ron"), permissions, "mask {mask:o}");
        }
    }
}

/// Only who may give files away can be tested for keeping their owner.
#[cfg(unix)]
#[test]
fn a_file_that_is_anothers_stays_his() {
    use std::os::unix::fs::{MetadataExt, chown};
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("car.ron");
    fs::write(&path, "one").unwrap();
    if chown(&path, Some(1234), Some(4321)).is_err() {
        return;
    }
    put(&path, "two", None).unwrap();
    let data = fs::metadata(&path).unwrap();
    assert_eq!((data.uid(), data.gid()), (1234, 4321));
}

#[test]
fn a_folder_is_not_written_over() {
    let folder = tempfile::tempdir().unwrap();
    let said = put(folder.path(), "one", None).unwrap_err().to_string();
    assert!(said.starts_with("cannot write "), "{said}");
    assert!(said.ends_with("it is a folder"), "{said}");
}
