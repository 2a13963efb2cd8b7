//! A window killed at any moment: the last step that was settled is found again, and no file is torn.

use crate::session::{Edit, FileCommand, Session};
use crate::test_cars::{copy_of_alder, raise_rod};
use std::fs;
use std::io::{BufRead, BufReader, Write};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::Duration;
use wheelpath_car_file::{load, load_limits, load_proposal};
use wheelpath_geometry::{Hardpoint, Side, WheelPosition};

/// Names the car on which the process that is to be killed works.
const TO_BE_KILLED: &str = "WHEELPATH_TEST_TO_BE_KILLED";

/// A step raises the rod by this, metres.
const STEP: f64 = 1e-5;

/// How many steps up the rod of a session stands above where the proposal has it.
fn steps(session: &Session) -> i64 {
    let at = WheelPosition::ALL[0];
    assert_eq!(at.side, Side::Left);
    let height = session.car().corner(at).hardpoints.get(Hardpoint::TieRodInner).unwrap().z;
    let steps = (height - 0.1665) / STEP;
    assert!((steps - steps.round()).abs() < 1e-3, "half a step: {steps}");
    #[expect(clippy::cast_possible_truncation, reason = "some hundreds of steps")]
    let steps = steps.round() as i64;
    steps
}

/// Runs this very test as a process of its own, kills it (SIGKILL) so long after its first word, and gives
/// the last number that it said.
fn killed_after(test: &str, car: &Path, delay: Duration) -> i64 {
    let mut child = Command::new(std::env::current_exe().unwrap())
        .args(["--exact", test, "--nocapture", "--test-threads=1"])
        .env(TO_BE_KILLED, car)
        .stdout(Stdio::piped())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    let mut lines = BufReader::new(child.stdout.take().unwrap()).lines();
    let number = |line: String| line.strip_prefix("settled ").and_then(|n| n.parse::<i64>().ok());
    let mut last = lines.by_ref().find_map(|line| number(line.unwrap())).expect("it begins");
    std::thread::sleep(delay);
    child.kill().unwrap();
    child.wait().unwrap();
    // A line cut short is a number that was not said.
    for line in lines.map_while(Result::ok) {
        last = number(line).unwrap_or(last);
    }
    last
}

fn say(settled: i64) {
    let mut out = std::io::stdout().lock();
    writeln!(out, "\nsettled {settled}").unwrap();
    out.flush().unwrap();
}

/// Every file of the folder that is no left-over can be read.
fn assert_whole(folder: &Path) {
    load(&folder.join("alder.ron")).unwrap();
    load_limits(&folder.join("alder/limits.ron")).unwrap();
    for file in ["tie-rod-down", "arms-outboard"] {
        load_proposal(&folder.join(format!("alder/{file}.ron"))).unwrap();
    }
}

fn asked_to_be_killed() -> Option<PathBuf> {
    std::env::var_os(TO_BE_KILLED).map(PathBuf::from)
}

/// Moments of killing: within a step of undo and between them.
const DELAYS: [u64; 8] = [0, 3, 7, 19, 42, 77, 131, 260];

#[test]
fn the_last_settled_step_outlives_a_kill_in_the_middle_of_edits() {
    if let Some(car) = asked_to_be_killed() {
        let mut session = Session::open(&car).unwrap();
        session.apply(Edit::File(FileCommand::OpenProposal("tie-rod-down".into())));
        for settled in 1.. {
            raise_rod(&mut session, STEP);
            say(settled);
        }
    }
    let mut longest = 0;
    for delay in DELAYS {
        let folder = tempfile::tempdir().unwrap();
        let path = copy_of_alder(folder.path());
        let texts = |path: &Path| {
            [path.to_owned(), path.with_extension("").join("tie-rod-down.ron")].map(|p| fs::read(p).unwrap())
        };
        let before = texts(&path);
        let test = "session::tests::killed::the_last_settled_step_outlives_a_kill_in_the_middle_of_edits";
        let last = killed_after(test, &path, Duration::from_millis(delay));
        assert_eq!(texts(&path), before, "nothing was saved");
        assert_whole(folder.path());
        let mut session = Session::open(&path).unwrap();
        assert!(session.other_windows().is_empty(), "the dead one is no window");
        assert!(!session.is_changed());
        let said = session.recoverable_text().expect("it is found");
        assert!(said.contains("Tie rod down"), "{said}");
        session.apply(Edit::File(FileCommand::Recover));
        let found = steps(&session);
        // Killed between keeping and saying, the step kept is one more than was said.
        assert!(found == last || found == last + 1, "{found} found, {last} said after {delay} ms");
        assert_eq!(session.open_name(), Some("Tie rod down"));
        session.apply(Edit::File(FileCommand::SaveOpen));
        assert!(!session.is_unsaved(), "{:?}", session.notices());
        longest = longest.max(last);
    }
    assert!(longest > 5, "killed before it did anything: {longest} steps");
}

#[test]
fn a_proposal_is_old_or_new_after_a_kill_in_the_middle_of_saves() {
    if let Some(car) = asked_to_be_killed() {
        let mut session = Session::open(&car).unwrap();
        session.apply(Edit::File(FileCommand::OpenProposal("tie-rod-down".into())));
        for settled in 1.. {
            raise_rod(&mut session, STEP);
            session.apply(Edit::File(FileCommand::SaveOpen));
            session.apply(Edit::File(FileCommand::SaveAs {
                path: car.with_file_name("copy.ron"),
                replace: true,
            }));
            say(settled);
        }
    }
    let mut longest = 0;
    for delay in DELAYS {
        let folder = tempfile::tempdir().unwrap();
        let path = copy_of_alder(folder.path());
        let test = "session::tests::killed::a_proposal_is_old_or_new_after_a_kill_in_the_middle_of_saves";
        let last = killed_after(test, &path, Duration::from_millis(delay));
        assert_whole(folder.path());
        let mut session = Session::open(&path).unwrap();
        session.apply(Edit::File(FileCommand::OpenProposal("tie-rod-down".into())));
        let saved = steps(&session);
        assert!(saved == last || saved == last + 1, "{saved} saved, {last} said after {delay} ms");
        let copy = steps(&Session::open(&path.with_file_name("copy.ron")).unwrap());
        assert!(copy == last || copy == last + 1, "{copy} saved, {last} said after {delay} ms");
        longest = longest.max(last);
    }
    assert!(longest > 3, "killed before it did anything: {longest} saves");
}
