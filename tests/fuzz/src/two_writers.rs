//! Two who save at once, in one folder: each name holds one of the texts whole, of several who make a new file
//! one succeeds, and nothing else is left behind.

use arbitrary::Arbitrary;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Barrier;
use wheelpath_car_file::{FileSnapshot, SaveError, put, put_all, put_new};

/// What one of them does.
#[derive(Arbitrary, Clone, Copy, Debug)]
pub enum Deed {
    /// Makes a new file.
    New(u8),
    /// Replaces whatever is there.
    Over(u8),
    /// Replaces what was there before either began.
    OverSeen(u8),
    /// Makes two new files together.
    NewPair(u8, u8),
}

/// What both do, and which names are taken before.
#[derive(Arbitrary, Clone, Debug)]
pub struct Race {
    taken: u8,
    deeds: [[Deed; 4]; 2],
}

const NAMES: [&str; 4] = ["hazel.ron", "limits.ron", "rack-plate.pdf", "new"];

fn path(folder: &Path, which: u8) -> PathBuf {
    folder.join(NAMES[usize::from(which) % NAMES.len()])
}

/// The text that a writer puts somewhere with a deed: long enough to be torn.
fn text(writer: usize, deed: usize) -> String {
    format!("{writer} {deed}\n").repeat(3000)
}

/// Lets both run at once in an empty folder.
///
/// # Panics
/// What must hold does not.
pub fn try_race(race: &Race, folder: &Path) {
    let before = |which: usize| (race.taken >> which & 1 == 1).then(|| text(9, which));
    for (which, name) in NAMES.iter().enumerate() {
        if let Some(text) = before(which) {
            fs::write(folder.join(name), text).unwrap_or_else(|error| panic!("{error}"));
        }
    }
    let seen: BTreeMap<PathBuf, FileSnapshot> = (0..4)
        .map(|which| path(folder, which))
        .map(|path| (path.clone(), FileSnapshot::now(&path).unwrap_or_else(|error| panic!("{error}"))))
        .collect();
    let start = Barrier::new(2);
    let run = |writer: usize| {
        start.wait();
        let one = |(n, deed): (usize, &Deed)| {
            let text = text(writer, n);
            let done = match *deed {
                Deed::New(which) => put_new(&path(folder, which), &text).map(drop),
                Deed::Over(which) => put(&path(folder, which), &text, None).map(drop),
                Deed::OverSeen(which) => {
                    let path = path(folder, which);
                    put(&path, &text, seen.get(&path)).map(drop)
                }
                Deed::NewPair(a, b) if a % 4 == b % 4 => Ok(()),
                Deed::NewPair(a, b) => {
                    let files = [a, b].map(|which| (path(folder, which), text.clone().into_bytes()));
                    put_all(&files, false)
                }
            };
            (*deed, text, done)
        };
        race.deeds[writer].iter().enumerate().map(one).collect::<Vec<_>>()
    };
    let [left, right] = std::thread::scope(|scope| {
        let other = scope.spawn(|| run(1));
        let own = run(0);
        [own, other.join().unwrap_or_else(|_| panic!("a writer panicked"))]
    });
    let all: Vec<&(Deed, String, Result<(), SaveError>)> = left.iter().chain(&right).collect();
    for (which, name) in NAMES.iter().enumerate() {
        let is = |deed: u8| usize::from(deed) % NAMES.len() == which;
        let on = |deed: &Deed| match *deed {
            Deed::New(a) | Deed::Over(a) | Deed::OverSeen(a) => is(a),
            Deed::NewPair(a, b) => (is(a) || is(b)) && a % 4 != b % 4,
        };
        let is_new = |deed: &Deed| matches!(deed, Deed::New(_) | Deed::NewPair(..));
        let done: Vec<_> = all.iter().filter(|(deed, _, done)| on(deed) && done.is_ok()).collect();
        let news = done.iter().filter(|(deed, ..)| is_new(deed)).count();
        let free = usize::from(before(which).is_none());
        assert!(news <= free, "{name}: {news} new files of one name, {free} were free: {race:?}");
        let held = fs::read_to_string(folder.join(name)).ok();
        let one_of = |held: &String| {
            before(which).as_ref() == Some(held) || all.iter().any(|(deed, text, _)| on(deed) && text == held)
        };
        assert!(held.as_ref().is_none_or(one_of), "{name} holds a text that nobody wrote: {race:?}");
        assert!(held.is_some() || done.is_empty(), "{name} is gone: {race:?}");
        // What was said to be written is there, or something that was said to be written after it.
        if let Some(held) = held.filter(|_| !done.is_empty()) {
            assert!(done.iter().any(|(_, text, _)| *text == held), "{name} lost what was written: {race:?}");
        }
    }
    let entries = fs::read_dir(folder).unwrap_or_else(|error| panic!("{error}"));
    for entry in entries {
        let name = entry.unwrap_or_else(|error| panic!("{error}")).file_name();
        assert!(NAMES.iter().any(|one| name == *one), "{name:?} was left behind: {race:?}");
    }
}
