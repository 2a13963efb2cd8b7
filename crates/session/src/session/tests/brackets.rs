//! Plates kept among the brackets beside the car: nothing of the file is lost, nor of what another writes.

use crate::session::{Edit, FileCommand, PlateBy, Session};
use crate::test_cars::copy_of_alder;
use nalgebra::Vector3;
use std::fs;
use std::path::PathBuf;
use std::time::{Duration, Instant};
use wheelpath_geometry::{Assembly, Hardpoint, WheelPosition};

const FRONT_LEFT: Assembly = Assembly::Corner(WheelPosition::ALL[0]);
const BALL_JOINT: Hardpoint = Hardpoint::UpperBallJoint;

/// A window on a car with brackets, and their file.
fn window() -> (tempfile::TempDir, PathBuf, Box<Session>) {
    let folder = tempfile::tempdir().unwrap();
    let car = copy_of_alder(folder.path());
    let session = Box::new(Session::open(&car).unwrap());
    (folder, car.with_extension("").join("brackets.ron"), session)
}

fn describe(session: &mut Session, hardpoint: Hardpoint) {
    let by = PlateBy::Normal(Vector3::new(0.2, 1.0, 0.0));
    session.apply(Edit::SetPlate { assembly: FRONT_LEFT, hardpoint, by, mirrored: false });
    assert!(session.plate_is_new(FRONT_LEFT, hardpoint), "{:?}", session.notices());
}

fn keep(session: &mut Session, hardpoint: Hardpoint) {
    session.apply(Edit::File(FileCommand::KeepPlate { assembly: FRONT_LEFT, hardpoint, mirrored: false }));
}

fn refusal(session: &Session) -> String {
    session.notices().into_iter().find(|notice| notice.severe).map_or_else(String::new, |one| one.text)
}

fn later(n: u64) -> Instant {
    Instant::now() + Duration::from_secs(3600 * n)
}

#[test]
fn every_line_of_the_file_stays_when_a_plate_is_kept() {
    let (_folder, file, mut session) = window();
    let before = fs::read_to_string(&file).unwrap();
    for (n, hardpoint) in [BALL_JOINT, Hardpoint::LowerBallJoint].into_iter().enumerate() {
        describe(&mut session, hardpoint);
        keep(&mut session, hardpoint);
        assert!(!session.plate_is_new(FRONT_LEFT, hardpoint), "{:?}", session.notices());
        let after = fs::read_to_string(&file).unwrap();
        let start = before.trim_end().strip_suffix("    ],\n)").unwrap();
        assert!(after.starts_with(start) && after.ends_with("    ],\n)\n"), "{after}");
        assert_eq!(after.matches("\"Plate of ").count(), n + 1, "{after}");
    }
    assert!(!session.look_around(later(1)), "its own writing is no news");
}

#[test]
fn what_another_wrote_meanwhile_is_not_written_over() {
    let (_folder, file, mut session) = window();
    describe(&mut session, BALL_JOINT);
    let theirs = fs::read_to_string(&file).unwrap().replace("// Alder's", "// Theirs: Alder's");
    fs::write(&file, &theirs).unwrap();
    keep(&mut session, BALL_JOINT);
    assert_eq!(fs::read_to_string(&file).unwrap(), theirs);
    let said = refusal(&session);
    assert!(said.contains("another window or program has written brackets.ron"), "{said}");
    assert!(session.plate_is_new(FRONT_LEFT, BALL_JOINT), "what was described here is still here");
    keep(&mut session, BALL_JOINT);
    let both = fs::read_to_string(&file).unwrap();
    assert!(both.starts_with("// Theirs: ") && both.contains("\"Plate of upper ball joint"), "{both}");
    // A file that is taken away stays away until it is asked for again.
    describe(&mut session, Hardpoint::LowerBallJoint);
    fs::remove_file(&file).unwrap();
    keep(&mut session, Hardpoint::LowerBallJoint);
    assert!(!file.exists() && refusal(&session).contains("has taken away brackets.ron"));
    keep(&mut session, Hardpoint::LowerBallJoint);
    assert_eq!(fs::read_to_string(&file).unwrap().matches("Bracket(").count(), 1);
}

#[test]
fn a_file_with_faults_is_said_to_have_them_and_left_alone() {
    let (_folder, file, mut session) = window();
    let whole = fs::read_to_string(&file).unwrap();
    let broken = whole.replace("points: [tie_rod_outer]", "points: [tie_rod_oter]");
    fs::write(&file, &broken).unwrap();
    let known = session.beside().brackets.len();
    assert!(session.look_around(later(1)) && session.conflicts().is_empty());
    let fault = session.beside().brackets_fault.clone().unwrap();
    assert!(fault.contains("did you mean tie_rod_outer?"), "{fault}");
    assert_eq!(session.beside().brackets.len(), known, "what was read before stays");
    describe(&mut session, BALL_JOINT);
    keep(&mut session, BALL_JOINT);
    assert_eq!(fs::read_to_string(&file).unwrap(), broken);
    assert!(refusal(&session).contains("did you mean tie_rod_outer?"), "{}", refusal(&session));
    // Put right, it takes the plate at once.
    fs::write(&file, &whole).unwrap();
    keep(&mut session, BALL_JOINT);
    assert!(session.beside().brackets_fault.is_none(), "{:?}", session.notices());
    assert_eq!(session.beside().brackets.len(), known + 1);
}

#[test]
fn brackets_of_another_are_taken_up_and_what_was_described_here_stays() {
    let (_folder, file, mut session) = window();
    describe(&mut session, BALL_JOINT);
    let here = session.plate(FRONT_LEFT, BALL_JOINT);
    let turned = fs::read_to_string(&file).unwrap().replace(
        "plane: Normal(direction: (0.0, 1.0, 0.0)),\n            points: [tie_rod_inner]",
        "plane: Normal(direction: (0.0, 0.0, 1.0)),\n            points: [tie_rod_inner, upper_ball_joint]",
    );
    fs::write(&file, &turned).unwrap();
    assert!(session.look_around(later(1)) && session.conflicts().is_empty());
    assert_eq!(session.plate(FRONT_LEFT, Hardpoint::TieRodInner), Some(Vector3::z()));
    assert_eq!(session.plate(FRONT_LEFT, BALL_JOINT), here);
    fs::remove_file(&file).unwrap();
    assert!(session.look_around(later(2)));
    assert_eq!(session.plate(FRONT_LEFT, Hardpoint::TieRodInner), None);
    assert!(session.plate_is_new(FRONT_LEFT, BALL_JOINT));
}
