//! A monkey at the window: random sizes, scales, clicks, drags, keys and files that others write, played from
//! a seed through the whole app without a graphics card. Nothing may end the program or hang it; what was
//! done can be done again from its journal with the same result; undoing all of it leads back to the start;
//! what is saved opens as it was.
//!
//! A short run by default. `WHEELPATH_MONKEY_SECONDS` says how long it goes on, `WHEELPATH_MONKEY_SEED` with
//! which seed it begins, `WHEELPATH_MONKEY_EVENTS` how many things are done with each.

#![cfg(feature = "window")]
#![expect(clippy::unwrap_used, clippy::panic, clippy::print_stderr, reason = "a test, in several files")]

mod bench;
mod deeds;
mod dice;
mod finds;

use bench::Bench;
use dice::Dice;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, Instant};
use wheelpath_geometry::Proposal;
use wheelpath_session::{Edit, FileCommand, Happened, Session};

/// Things done with one seed.
const EVENTS: u64 = 300;
/// Seconds of a run that was not told otherwise.
const SECONDS: u64 = 20;
/// A single frame that takes so many seconds hangs.
const HANGS: u64 = 60;

fn told(name: &str) -> Option<u64> {
    std::env::var(name).ok()?.parse().ok()
}

#[test]
fn nothing_ends_the_program_and_all_of_it_can_be_done_again() {
    let home = tempfile::tempdir().unwrap();
    // What is typed as a path without a folder goes here.
    std::env::set_current_dir(home.path()).unwrap();
    let (seconds, events) =
        (told("WHEELPATH_MONKEY_SECONDS").unwrap_or(SECONDS), told("WHEELPATH_MONKEY_EVENTS"));
    let first = told("WHEELPATH_MONKEY_SEED").unwrap_or(1);
    let until = Instant::now() + Duration::from_secs(seconds);
    let frames = watched();
    let mut seed = first;
    let mut count = 0;
    while seed == first || Instant::now() < until {
        count += play(seed, events.unwrap_or(EVENTS), &home.path().join("run"), &frames, until);
        seed += 1;
    }
    println!("seeds {first} to {}: {count} events, {} frames", seed - 1, frames.load(Ordering::Relaxed));
}

/// Counts frames, and ends the test where one takes too long.
fn watched() -> Arc<AtomicU64> {
    let frames = Arc::new(AtomicU64::new(0));
    let counted = Arc::clone(&frames);
    std::thread::spawn(move || {
        loop {
            let before = counted.load(Ordering::Relaxed);
            std::thread::sleep(Duration::from_secs(HANGS));
            if counted.load(Ordering::Relaxed) == before {
                eprintln!("no frame in {HANGS} s: it hangs after frame {before}");
                std::process::abort();
            }
        }
    });
    frames
}

/// The demo cars with their folders, as they come.
fn lay_out(folder: &Path) {
    let _ = std::fs::remove_dir_all(folder);
    copy(&Path::new(env!("CARGO_MANIFEST_DIR")).join("../../demo-cars"), folder);
}

fn copy(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).unwrap();
    for entry in std::fs::read_dir(from).unwrap() {
        let entry = entry.unwrap();
        let target = to.join(entry.file_name());
        if entry.path().is_dir() {
            copy(&entry.path(), &target);
        } else {
            std::fs::copy(entry.path(), target).unwrap();
        }
    }
}

/// What another wrote, after so many entries of the journal.
struct Written {
    after: usize,
    file: PathBuf,
    /// Nothing: the file was deleted.
    text: Option<String>,
}

impl Written {
    fn write(&self) {
        let _ = match &self.text {
            Some(text) => std::fs::write(&self.file, text),
            None => std::fs::remove_file(&self.file),
        };
    }
}

/// All of a session that its journal should lead to again.
fn state_of(session: &Session) -> String {
    let steps: Vec<&str> = session.steps().collect();
    format!(
        "{:?}\n{:?}\n{:?}\n{:?}\n{:?}\n{:?}\n{:?}",
        session.car(),
        session.limits(),
        session.held_pose(),
        session.open_name(),
        session.baseline_name(),
        session.playing(),
        steps
    )
}

fn open(folder: &Path) -> Session {
    Session::open(&folder.join("alder.ron")).unwrap_or_else(|error| panic!("the demo car: {error}"))
}

/// Says which seed it was if a panic comes by.
struct Told(u64);

impl Drop for Told {
    fn drop(&mut self) {
        if std::thread::panicking() {
            eprintln!("the monkey's seed was {}", self.0);
        }
    }
}

/// Plays one seed; gives how many things were done.
fn play(seed: u64, events: u64, folder: &Path, frames: &AtomicU64, until: Instant) -> u64 {
    let _told = Told(seed);
    lay_out(folder);
    let mut session = open(folder);
    session.keep_journal();
    let mut bench = Bench::new(session);
    let mut dice = Dice::new(seed);
    let mut written: Vec<Written> = Vec::new();
    let mut done = 0;
    while done < events && (seed == 1 || Instant::now() < until) {
        done += deeds::some(&mut dice, &mut bench, folder, &mut written);
        bench.frame();
        frames.fetch_add(1, Ordering::Relaxed);
    }
    let mut session = bench.into_session();
    let (state, journal) = (state_of(&session), session.journal().to_vec());
    undone(&mut session);
    saved(&mut session, folder);
    drop(session);
    // The same once more, on the files as they were at first.
    lay_out(folder);
    let mut again = open(folder);
    let mut others = written.iter().peekable();
    for (number, happened) in journal.iter().enumerate() {
        while let Some(written) = others.next_if(|written| written.after <= number) {
            written.write();
        }
        again.replay(happened);
        frames.fetch_add(1, Ordering::Relaxed);
    }
    let replayed = state_of(&again);
    if replayed != state {
        let last: Vec<&Happened> = journal.iter().rev().take(12).collect();
        panic!("seed {seed}: done again it is another.\n{state}\n---\n{replayed}\n---\nlast: {last:#?}");
    }
    done
}

/// Undoing all of it leads back to the car as it was loaded.
fn undone(session: &mut Session) {
    let steps = session.steps().count();
    let state = state_of(session);
    for _ in 0..steps {
        session.apply(Edit::Undo);
    }
    assert!(session.next_undo().is_none(), "{steps} steps are undone by as many");
    assert_eq!(session.car(), session.original(), "undone, the car is as it was loaded");
    assert!(session.open_name().is_none(), "undone, no proposal is open");
    for _ in 0..steps {
        session.apply(Edit::Redo);
    }
    // The pose is no step; the rest is as before.
    let of_car = |state: &str| state.lines().take(2).map(str::to_owned).collect::<Vec<_>>();
    assert_eq!(of_car(&state_of(session)), of_car(&state), "done again, the car is as before");
}

/// A car that is saved opens as it was.
fn saved(session: &mut Session, folder: &Path) {
    if session.is_stale() {
        return;
    }
    let path = folder.join("saved-by-the-monkey.ron");
    session.apply(Edit::File(FileCommand::SaveAs { path: path.clone(), replace: false }));
    assert!(path.exists(), "not saved: {:?}", session.notices());
    let again = Session::open(&path).unwrap_or_else(|error| panic!("what was saved does not open: {error}"));
    let changes = Proposal::between("", session.car(), again.car()).changes;
    assert!(changes.is_empty(), "what was saved opens as another: {changes:?}");
}
