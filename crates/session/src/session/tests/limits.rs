//! Limits edited: steps of undo with words, saved with their comments.

use crate::session::{About, Bound, Edit, FileCommand, LimitChange, Session};
use crate::test_cars::copy_of_alder;
use std::fs;
use wheelpath_car_file::{parse_limits, same_limits};
use wheelpath_geometry::{Limited, Requirement};

fn set(place: usize, bound: Bound, to: Option<f64>) -> Edit {
    Edit::Requirement(LimitChange::SetBound { place, bound, to })
}

#[test]
fn bounds_are_changed_in_steps_with_words_and_saved() {
    let folder = tempfile::tempdir().unwrap();
    let mut session = Session::open(&copy_of_alder(folder.path())).unwrap();
    let file = folder.path().join("alder/limits.ron");
    let text = fs::read_to_string(&file).unwrap();
    let read = session.limits().to_vec();
    for degrees in [0.05_f64, 0.06, 0.07] {
        session.apply(set(0, Bound::Most, Some(degrees.to_radians())));
    }
    assert_eq!(session.next_undo(), Some("limit Bump steer, front: at most 0.07°"));
    assert_eq!(session.steps().count(), 1, "one step while it is pulled");
    session.apply(Edit::Settle);
    let lock = session.limits().iter().position(|one| one.of == Limited::Lock).unwrap();
    session.apply(Edit::Requirement(LimitChange::Remove(lock)));
    assert_eq!(session.next_undo(), Some("limit deleted: Steering lock"));
    let lock =
        Requirement { name: "Lock".into(), about: None, of: Limited::Lock, least: Some(0.4), most: None };
    session.apply(Edit::Requirement(LimitChange::Add(Box::new(lock))));
    assert_eq!(session.next_undo(), Some("limit added: Lock"));
    assert!(session.limits_changed() && session.is_unsaved() && !session.is_changed());
    session.apply(Edit::File(FileCommand::SaveLimits));
    assert!(!session.is_unsaved(), "{:?}", session.notices());
    let saved = fs::read_to_string(&file).unwrap();
    assert!(saved.starts_with("// What Alder's readings") && saved.contains("most_deg: 0.07,"), "{saved}");
    assert_eq!(Session::open(&folder.path().join("alder.ron")).unwrap().limits().len(), read.len());
    for _ in 0..3 {
        session.apply(Edit::Undo);
    }
    assert_eq!((session.limits(), session.next_undo()), (read.as_slice(), None));
    session.apply(Edit::File(FileCommand::SaveLimits));
    let back = fs::read_to_string(&file).unwrap();
    assert!(same_limits(&parse_limits(&back, "limits.ron").unwrap(), &read), "{back}");
    let heading = |text: &str| text.split("limits: [").next().unwrap().to_owned();
    assert_eq!(heading(&back), heading(&text));
}

#[test]
fn a_bound_pulled_there_and_back_is_no_step() {
    let folder = tempfile::tempdir().unwrap();
    let mut session = Session::open(&copy_of_alder(folder.path())).unwrap();
    let was = session.limits()[0].most;
    session.apply(set(0, Bound::Most, Some(0.5)));
    session.apply(set(0, Bound::Most, was));
    assert_eq!((session.next_undo(), session.limits_changed()), (None, false));
}

#[test]
fn what_makes_no_sense_is_refused_with_words() {
    let folder = tempfile::tempdir().unwrap();
    let mut session = Session::open(&copy_of_alder(folder.path())).unwrap();
    let count = session.limits().len();
    let lock = session.limits().iter().position(|one| one.of == Limited::Lock).unwrap();
    let beyond = format!("there is no limit {}", count + 1);
    for (edit, words) in [
        (set(0, Bound::Most, Some(-0.5)), "nothing is at least −0.05° and at most −28.65°"),
        (set(lock, Bound::Least, None), "without a bound it limits nothing"),
        (set(0, Bound::Least, Some(f64::NAN)), "a bound is a number"),
        (set(70, Bound::Least, Some(0.0)), "there is no limit 71"),
        (Edit::Requirement(LimitChange::Remove(count)), beyond.as_str()),
    ] {
        session.apply(edit);
        let said = session.notices();
        assert!(said[0].about == About::Limits && said[0].text.contains(words), "{said:?}");
        assert!(!session.limits_changed());
    }
}

#[test]
fn limits_of_a_car_without_any_make_their_file() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("rowan.ron");
    fs::copy(crate::test_cars::alder_path().with_file_name("rowan.ron"), &path).unwrap();
    let mut session = Session::open(&path).unwrap();
    let lock =
        Requirement { name: "Lock".into(), about: None, of: Limited::Lock, least: Some(0.4), most: None };
    session.apply(Edit::Requirement(LimitChange::Add(Box::new(lock))));
    session.apply(Edit::File(FileCommand::SaveLimits));
    assert!(!session.is_unsaved(), "{:?}", session.notices());
    assert_eq!(Session::open(&path).unwrap().limits().len(), 1);
}

#[test]
fn a_file_with_faults_is_not_saved_over() {
    let folder = tempfile::tempdir().unwrap();
    let path = copy_of_alder(folder.path());
    let file = folder.path().join("alder/limits.ron");
    fs::write(&file, "(format: \"wheelpath limits\", version: 1, limits: [").unwrap();
    let mut session = Session::open(&path).unwrap();
    let lock =
        Requirement { name: "Lock".into(), about: None, of: Limited::Lock, least: Some(0.4), most: None };
    session.apply(Edit::Requirement(LimitChange::Add(Box::new(lock))));
    session.apply(Edit::File(FileCommand::SaveLimits));
    assert!(session.notices()[0].text.contains("limits.ron"), "{:?}", session.notices());
    assert!(fs::read_to_string(&file).unwrap().ends_with("limits: ["));
}

/// Changed limits outlive a window as a changed car does.
#[test]
fn changed_limits_are_found_again() {
    let folder = tempfile::tempdir().unwrap();
    let path = copy_of_alder(folder.path());
    let mut session = Session::open(&path).unwrap();
    session.apply(set(0, Bound::Most, Some(0.5)));
    session.apply(Edit::Settle);
    drop(session);
    let mut again = Session::open(&path).unwrap();
    assert!(again.recoverable().is_some() && !again.limits_changed());
    again.apply(Edit::File(FileCommand::Recover));
    assert!((again.limits()[0].most.unwrap() - 0.5).abs() < 1e-12);
    again.apply(Edit::Undo);
    assert!(!again.limits_changed());
}
