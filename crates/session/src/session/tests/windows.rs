//! Two windows on one car: each knows of the other, and neither destroys what the other saved.

use super::files::names_in;
use crate::session::{Bound, Edit, FileCommand, LimitChange, Session};
use crate::test_cars::{copy_of_alder, raise_rod, same};
use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};
use wheelpath_car_file::same_limits;
use wheelpath_project::{Answer, FileRole};

/// Two windows on one car, and its folder.
fn two() -> (tempfile::TempDir, PathBuf, Box<Session>, Box<Session>) {
    let folder = tempfile::tempdir().unwrap();
    let path = copy_of_alder(folder.path());
    let [one, other] = [(); 2].map(|()| Box::new(Session::open(&path).unwrap()));
    (folder, path, one, other)
}

/// Looks round as a window does that has been asleep for a while.
fn look(session: &mut Session) -> bool {
    session.look_around(Instant::now() + Duration::from_secs(3600))
}

fn answer(session: &mut Session, answer: Answer) {
    let path = session.conflicts()[0].path.clone();
    session.apply(Edit::File(FileCommand::Answer { path, answer }));
}

fn rod_in(file: &Path) -> String {
    let text = fs::read_to_string(file).unwrap();
    let start = text.find("now: (").unwrap();
    text[start..].split(')').next().unwrap().to_owned()
}

#[test]
fn each_window_is_told_of_the_other_and_of_its_end() {
    let (folder, _, mut one, other) = two();
    assert_eq!(other.other_windows().len(), 1, "the second at once");
    assert_eq!(other.other_windows()[0].process, Some(std::process::id()));
    assert!(one.other_windows().is_empty());
    assert!(look(&mut one), "the first as soon as it is awake");
    assert_eq!(one.other_windows().len(), 1);
    assert!(!one.look_around(Instant::now()), "and not at every frame");
    drop(other);
    assert!(one.look_around(Instant::now() + Duration::from_secs(7200)) && one.other_windows().is_empty());
    drop(one);
    assert_eq!(names_in(folder.path()), ["alder", "alder.ron"], "nothing is left behind");
}

#[test]
fn a_proposal_that_the_other_saved_is_not_saved_over() {
    let (folder, _, mut one, mut other) = two();
    let file = folder.path().join("alder/tie-rod-down.ron");
    for (session, by) in [(&mut one, 1e-3), (&mut other, 2e-3)] {
        session.apply(Edit::File(FileCommand::OpenProposal("tie-rod-down".into())));
        raise_rod(session, by);
    }
    other.apply(Edit::File(FileCommand::SaveOpen));
    assert_eq!(rod_in(&file), "now: (88.0, 240.0, 168.5");
    one.apply(Edit::File(FileCommand::SaveOpen));
    assert_eq!(rod_in(&file), "now: (88.0, 240.0, 168.5", "theirs is untouched");
    let conflict = &one.conflicts()[0];
    assert!(
        conflict.is_refused() && conflict.role == FileRole::Proposal("tie-rod-down".into()),
        "{conflict:?}"
    );
    assert!(
        conflict.text().contains("tie-rod-down.ron") && conflict.text().contains("ago"),
        "{}",
        conflict.text()
    );
    assert!(one.is_unsaved());

    // Mine under another name.
    let mut apart = one.clone();
    answer(&mut apart, Answer::Apart);
    assert_eq!(apart.title(), "Alder: Tie rod down 2", "{:?}", apart.notices());
    assert_eq!(rod_in(&folder.path().join("alder/tie-rod-down-2.ron")), "now: (88.0, 240.0, 167.5");
    // Theirs: and undo has mine back.
    let mut theirs = one.clone();
    let mine = theirs.car().clone();
    answer(&mut theirs, Answer::Theirs);
    assert!(!theirs.is_unsaved() && theirs.conflicts().is_empty(), "{:?}", theirs.notices());
    assert!(same(theirs.car(), other.car()));
    theirs.apply(Edit::Undo);
    assert_eq!(theirs.car(), &mine);
    // Mine over theirs; but not over what they have saved since.
    raise_rod(&mut other, 1e-3);
    other.apply(Edit::File(FileCommand::SaveOpen));
    answer(&mut one, Answer::Replace);
    assert_eq!(rod_in(&file), "now: (88.0, 240.0, 169.5");
    answer(&mut one, Answer::Replace);
    assert_eq!(rod_in(&file), "now: (88.0, 240.0, 167.5");
    assert!(one.conflicts().is_empty() && !one.is_unsaved());
    // Now it is the other's turn to be asked.
    raise_rod(&mut other, 1e-3);
    other.apply(Edit::File(FileCommand::SaveOpen));
    assert_eq!(other.conflicts().len(), 1);
    assert_eq!(rod_in(&file), "now: (88.0, 240.0, 167.5");
}

#[test]
fn what_the_other_saves_is_told_before_anything_is_saved_here() {
    let (folder, path, mut one, mut other) = two();
    one.apply(Edit::File(FileCommand::OpenProposal("tie-rod-down".into())));
    look(&mut one);
    assert!(one.conflicts().is_empty());
    other.apply(Edit::File(FileCommand::OpenProposal("tie-rod-down".into())));
    raise_rod(&mut other, 2e-3);
    other.apply(Edit::File(FileCommand::SaveOpen));
    let by = other.proposal_path("Later");
    raise_rod(&mut other, 1e-3);
    other.apply(Edit::File(FileCommand::SaveProposal { name: "Later".into(), path: by, replace: false }));
    one.apply(Edit::Undo);
    let later = |n: u64| Instant::now() + Duration::from_secs(3600 * n);
    assert!(one.look_around(later(2)));
    // It was not open any more: read again, and the new one is in the list.
    assert!(one.conflicts().is_empty());
    assert_eq!(one.beside().proposals.len(), 3);
    one.apply(Edit::File(FileCommand::OpenProposal("later".into())));
    assert!(same(one.car(), other.car()));

    other.apply(Edit::Requirement(LimitChange::SetBound { place: 0, bound: Bound::Most, to: Some(0.1) }));
    other.apply(Edit::File(FileCommand::SaveLimits));
    fs::write(&path, fs::read_to_string(&path).unwrap() + "// by hand\n").unwrap();
    assert!(one.look_around(later(3)));
    assert_eq!(one.conflicts().len(), 2);
    assert!(!one.look_around(later(4)), "said once");
    let at = |one: &Session, what: &FileRole| {
        one.conflicts().iter().find(|c| c.role == *what).unwrap().path.clone()
    };
    one.apply(Edit::File(FileCommand::Answer { path: at(&one, &FileRole::Limits), answer: Answer::Theirs }));
    assert!(same_limits(one.limits(), other.limits()));
    one.apply(Edit::File(FileCommand::Answer { path: at(&one, &FileRole::Car), answer: Answer::Leave }));
    assert!(one.conflicts().is_empty() && !one.look_around(later(5)), "left alone until written again");
    // Still not saved over.
    one.apply(Edit::File(FileCommand::SaveAs { path: path.clone(), replace: true }));
    assert_eq!(one.conflicts().len(), 1);
    assert!(fs::read_to_string(&path).unwrap().ends_with("// by hand\n"));
    fs::remove_file(folder.path().join("alder/later.ron")).unwrap();
    assert!(one.look_around(later(6)));
    let gone = one.conflicts().iter().find(|conflict| conflict.role != FileRole::Car).unwrap();
    assert!(!gone.is_there() && gone.text().contains("taken away"), "{}", gone.text());
}

#[test]
fn limits_of_two_windows_are_kept_apart_where_wanted() {
    let (folder, _, mut one, mut other) = two();
    let set = |to| Edit::Requirement(LimitChange::SetBound { place: 0, bound: Bound::Most, to: Some(to) });
    other.apply(set(0.1));
    other.apply(Edit::File(FileCommand::SaveLimits));
    one.apply(set(0.2));
    one.apply(Edit::File(FileCommand::SaveLimits));
    assert!(one.conflicts()[0].is_refused() && one.limits_changed());
    answer(&mut one, Answer::Apart);
    assert!(names_in(folder.path()).contains(&"alder-limits-2.ron".to_owned()), "{:?}", one.notices());
    one.apply(Edit::File(FileCommand::SaveLimits));
    answer(&mut one, Answer::Replace);
    assert!(!one.limits_changed() && one.conflicts().is_empty());
    let text = fs::read_to_string(folder.path().join("alder/limits.ron")).unwrap();
    assert!(text.contains("most_deg: 11.459"), "{text}");
}

#[test]
fn the_car_opened_anew_keeps_what_was_changed_here() {
    let (_folder, path, mut one, mut other) = two();
    raise_rod(&mut one, 1e-3);
    raise_rod(&mut other, 2e-3);
    let (mine, theirs) = (one.car().clone(), other.car().clone());
    other.apply(Edit::File(FileCommand::SaveAs { path: path.clone(), replace: true }));
    one.apply(Edit::File(FileCommand::SaveAs { path, replace: true }));
    assert_eq!(one.conflicts()[0].role, FileRole::Car);
    answer(&mut one, Answer::Theirs);
    assert!(same(one.car(), &theirs) && same(one.original(), &theirs));
    assert!(same(one.recoverable().unwrap(), &mine));
}

#[test]
fn a_new_file_does_not_replace_one_that_came_meanwhile() {
    let (folder, _, mut one, mut other) = two();
    let path = folder.path().join("alder-2.ron");
    for session in [&mut one, &mut other] {
        raise_rod(session, 1e-3);
    }
    assert_eq!(one.suggested_path(), path);
    other.apply(Edit::File(FileCommand::SaveAs { path: path.clone(), replace: false }));
    let theirs = fs::read(&path).unwrap();
    one.apply(Edit::File(FileCommand::SaveAs { path: path.clone(), replace: false }));
    assert_eq!(fs::read(&path).unwrap(), theirs);
    assert!(one.is_unsaved() && one.notices()[0].text.contains("there already"));
}

#[test]
fn unsaved_changes_of_two_windows_lie_in_two_files_and_are_both_found() {
    let (folder, path, mut one, mut other) = two();
    raise_rod(&mut one, 1e-3);
    raise_rod(&mut other, 2e-3);
    let cars = [one.car().clone(), other.car().clone()];
    let third = Session::open(&path).unwrap();
    assert!(third.recoverable().is_none(), "theirs, who are alive");
    drop((one, other));
    let mut again = Session::open(&path).unwrap();
    let mut found = Vec::new();
    for _ in 0..2 {
        let car = again.recoverable().cloned().unwrap();
        again.apply(Edit::File(FileCommand::Recover));
        assert_eq!(again.car(), &car);
        found.push(car);
    }
    assert_eq!(again.recoverable(), found.first(), "set aside for the other, not lost");
    assert!(cars.iter().all(|car| found.iter().any(|one| same(one, car))));
    again.apply(Edit::Undo);
    again.apply(Edit::Undo);
    // Undone, they are in no car: both are offered again.
    let mut offered = Vec::new();
    while let Some(car) = again.recoverable().cloned() {
        offered.push(car);
        again.apply(Edit::File(FileCommand::DiscardRecovery));
    }
    assert!(cars.iter().all(|car| offered.iter().any(|one| same(one, car))), "{}", offered.len());
    drop((again, third));
    let left = names_in(folder.path());
    assert!(left.iter().all(|name| !name.contains("unsaved")), "{left:?}");
}

/// What was found is not written over by what is changed before it is looked at.
#[test]
fn what_was_found_stays_while_something_else_is_changed() {
    let folder = tempfile::tempdir().unwrap();
    let path = copy_of_alder(folder.path());
    let mut killed = Session::open(&path).unwrap();
    raise_rod(&mut killed, 1e-3);
    let earlier = killed.car().clone();
    drop(killed);
    let mut again = Session::open(&path).unwrap();
    raise_rod(&mut again, 2e-3);
    let later = again.car().clone();
    drop(again);
    let mut last = Session::open(&path).unwrap();
    let mut found = Vec::new();
    while let Some(car) = last.recoverable().cloned() {
        found.push(car);
        last.apply(Edit::File(FileCommand::DiscardRecovery));
    }
    assert_eq!(found.len(), 2);
    assert!([&earlier, &later].iter().all(|car| found.iter().any(|one| same(one, car))));
    assert!(Session::open(&path).unwrap().recoverable().is_none());
}

/// Whatever was thrown away comes back, the last first, in another run too.
#[test]
fn all_that_was_thrown_away_can_be_brought_back() {
    let folder = tempfile::tempdir().unwrap();
    let path = copy_of_alder(folder.path());
    for lift in [1e-3, 2e-3, 3e-3] {
        raise_rod(&mut Session::open(&path).unwrap(), lift);
    }
    let mut session = Session::open(&path).unwrap();
    let mut thrown = Vec::new();
    while session.recoverable().is_some() {
        thrown.push(session.recoverable_changes());
        session.apply(Edit::File(FileCommand::DiscardRecovery));
    }
    assert_eq!(thrown.len(), 3, "{thrown:?}");
    assert!(thrown[0] != thrown[1] && thrown[1] != thrown[2], "{thrown:?}");
    drop(session);
    let mut session = Session::open(&path).unwrap();
    assert!(session.recoverable().is_none());
    for changes in thrown.iter().rev() {
        assert_eq!(session.thrown_away_changes().as_ref(), Some(changes));
        session.apply(Edit::File(FileCommand::BringBack));
        assert_eq!(&session.recoverable_changes(), changes);
    }
    assert_eq!(session.thrown_away_changes(), None);
}
