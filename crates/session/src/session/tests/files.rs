//! Proposals opened and saved, other cars opened in the same window.

use crate::session::{About, Edit, FileCommand, Session};
use crate::test_cars::{alder_path, copy_of_alder, raise_rod, same};
use std::fs;
use std::path::Path;
use wheelpath_car_file::load_proposal;
use wheelpath_project::Recents;

/// Names of what lies in a folder, sorted.
pub(super) fn names_in(folder: &Path) -> Vec<String> {
    let name = |entry: fs::DirEntry| entry.file_name().to_string_lossy().into_owned();
    let mut names: Vec<String> = fs::read_dir(folder).unwrap().map(|entry| name(entry.unwrap())).collect();
    names.sort();
    names
}

#[test]
fn a_proposal_is_opened_changed_saved_and_saved_as_another() {
    let folder = tempfile::tempdir().unwrap();
    let path = copy_of_alder(folder.path());
    let mut session = Session::open(&path).unwrap();
    assert_eq!((session.title().as_str(), session.open_name()), ("Alder", None));
    session.apply(Edit::File(FileCommand::OpenProposal("tie-rod-down".into())));
    assert_eq!(session.title(), "Alder: Tie rod down");
    assert!(session.is_changed() && !session.is_unsaved(), "it is in a file");
    raise_rod(&mut session, 1e-3);
    assert_eq!(session.title(), "Alder: Tie rod down (changed)");
    session.apply(Edit::File(FileCommand::SaveOpen));
    assert_eq!(session.title(), "Alder: Tie rod down", "{:?}", session.notices());
    let file = folder.path().join("alder/tie-rod-down.ron");
    let text = fs::read_to_string(&file).unwrap();
    assert!(text.contains("now: (88.0, 240.0, 167.5)") && text.contains("takes nearly all"), "{text}");

    raise_rod(&mut session, 1e-3);
    let as_other = session.proposal_path("Rod down a little");
    session.apply(Edit::File(FileCommand::SaveProposal {
        name: "Rod down a little".into(),
        path: as_other.clone(),
        replace: false,
    }));
    assert_eq!(session.title(), "Alder: Rod down a little");
    assert_eq!(fs::read_to_string(&file).unwrap(), text, "the other one stays");
    assert_eq!(load_proposal(&as_other).unwrap().proposal.name, "Rod down a little");

    // Undo goes through what was open as through everything else.
    session.apply(Edit::Undo);
    assert_eq!(session.title(), "Alder: Tie rod down");
    session.apply(Edit::Undo);
    assert_eq!(session.title(), "Alder: Tie rod down (changed)", "as it was opened, not as it is saved");
    session.apply(Edit::Undo);
    assert_eq!(session.title(), "Alder");
    session.apply(Edit::Redo);
    session.apply(Edit::Redo);
    assert_eq!(session.title(), "Alder: Tie rod down");
}

#[test]
fn what_cannot_be_saved_says_why_and_leaves_the_file() {
    let folder = tempfile::tempdir().unwrap();
    let mut session = Session::open(&copy_of_alder(folder.path())).unwrap();
    let refused = |session: &mut Session, edit, words: &str| {
        let before = names_in(&folder.path().join("alder"));
        session.apply(edit);
        let said = session.notices();
        let file = said.iter().find(|notice| notice.about == About::File).expect(words);
        assert!(file.text.contains(words), "{}", file.text);
        assert_eq!(names_in(&folder.path().join("alder")), before);
    };
    refused(&mut session, Edit::File(FileCommand::SaveOpen), "no proposal is open");
    refused(&mut session, Edit::File(FileCommand::OpenProposal("willow".into())), "no proposal willow");
    session.apply(Edit::File(FileCommand::OpenProposal("tie-rod-down".into())));
    let path = session.proposal_path("Arms further outboard");
    let save = |name: &str, path: &Path| {
        Edit::File(FileCommand::SaveProposal { name: name.into(), path: path.into(), replace: false })
    };
    refused(&mut session, save(" ", &path), "needs a name");
    let there = folder.path().join("alder/arms-outboard.ron");
    refused(&mut session, save("Arms", &there), "is there already");
    session.apply(Edit::Undo);
    refused(&mut session, save("Nothing", &path), "nothing is changed");
}

#[test]
fn a_file_that_is_no_proposal_is_listed_with_its_fault_and_hidden_ones_are_not() {
    let folder = tempfile::tempdir().unwrap();
    let path = copy_of_alder(folder.path());
    fs::write(folder.path().join("alder/odd.ron"), "(format: \"wheelpath proposal\", version: 1").unwrap();
    fs::write(folder.path().join("alder/.saving-x.ron"), "half").unwrap();
    let mut session = Session::open(&path).unwrap();
    let files: Vec<_> = session.beside().proposals.iter().map(|listed| listed.file.as_str()).collect();
    assert_eq!(files, ["arms-outboard", "odd", "tie-rod-down"]);
    session.apply(Edit::File(FileCommand::OpenProposal("odd".into())));
    assert!(session.open_name().is_none() && session.notices()[0].text.contains("odd.ron"));
}

#[test]
fn another_car_is_opened_in_the_same_window_and_nothing_is_lost() {
    let folder = tempfile::tempdir().unwrap();
    let path = copy_of_alder(folder.path());
    let hazel = folder.path().join("hazel.ron");
    fs::copy(alder_path().with_file_name("hazel.ron"), &hazel).unwrap();
    let list = folder.path().join("recent.ron");
    let mut session = Session::open(&path).unwrap().with_recents(Recents::kept_in(list.clone()));
    session.apply(Edit::File(FileCommand::OpenProposal("tie-rod-down".into())));
    raise_rod(&mut session, 1e-3);
    let left = session.car().clone();
    let serial = session.serial();
    session.apply(Edit::File(FileCommand::OpenCar { path: folder.path().join("none.ron"), proposal: None }));
    assert!(session.notices()[0].text.contains("none.ron"), "{:?}", session.notices());
    assert_eq!((session.serial(), session.car()), (serial, &left));
    session.apply(Edit::File(FileCommand::OpenCar { path: hazel, proposal: None }));
    assert_eq!((session.title().as_str(), session.next_undo()), ("Hazel", None));
    assert_ne!(session.serial(), serial);
    let labels: Vec<String> = session.recents().iter().map(wheelpath_project::Recent::label).collect();
    assert_eq!(labels, ["hazel", "alder: tie-rod-down", "alder"]);
    assert_eq!(Recents::kept_in(list).files(), session.recents());

    let back = session.recents()[1].clone();
    session.apply(Edit::File(FileCommand::OpenCar { path: back.car, proposal: back.proposal }));
    assert_eq!(session.title(), "Alder: Tie rod down");
    assert!(same(session.recoverable().unwrap(), &left));
    let said = session.recoverable_text().unwrap();
    assert!(said.contains("proposal Tie rod down"), "{said}");
    session.apply(Edit::File(FileCommand::Recover));
    assert!(same(session.car(), &left) && session.open_name() == Some("Tie rod down"));
    session.apply(Edit::File(FileCommand::SaveOpen));
    assert!(session.recoverable().is_none());
    drop(session);
    assert_eq!(names_in(folder.path()), ["alder", "alder.ron", "hazel.ron", "recent.ron"]);
}

/// Opening a proposal takes the place of what was changed; a kill after it loses nothing.
#[test]
fn what_a_proposal_takes_the_place_of_is_set_aside() {
    let folder = tempfile::tempdir().unwrap();
    let path = copy_of_alder(folder.path());
    let mut session = Session::open(&path).unwrap();
    raise_rod(&mut session, 1.5e-3);
    let changed = session.car().clone();
    session.apply(Edit::File(FileCommand::OpenProposal("tie-rod-down".into())));
    assert!(!session.is_unsaved());
    assert_eq!(session.recoverable(), Some(&changed), "offered at once");
    assert!(session.recoverable_text().unwrap().starts_with("Changes were set aside"));
    drop(session);

    let mut again = Session::open(&path).unwrap();
    assert_eq!(again.recoverable(), Some(&changed), "and after a kill");
    again.apply(Edit::File(FileCommand::Recover));
    assert_eq!(again.car(), &changed);
    again.apply(Edit::File(FileCommand::OpenProposal("tie-rod-down".into())));
    assert_eq!(again.recoverable(), Some(&changed));
    again.apply(Edit::Undo);
    assert_eq!(again.car(), &changed);
    assert!(again.recoverable().is_none(), "it is here again");
    again.apply(Edit::Undo);
    assert_eq!(again.recoverable(), Some(&changed), "what was taken up and undone is offered again");
    raise_rod(&mut again, 0.5e-3);
    let other = again.car().clone();
    assert_eq!(again.next_redo(), None);
    drop(again);

    // A kill after the next change loses neither.
    let mut third = Session::open(&path).unwrap();
    for _ in 0..2 {
        assert!([&changed, &other].contains(&third.recoverable().unwrap()));
        third.apply(Edit::File(FileCommand::DiscardRecovery));
    }
    assert!(third.recoverable().is_none());
}

/// Undone and done again, what was taken up is in no second file.
#[test]
fn what_was_taken_up_and_done_again_leaves_nothing_behind() {
    let folder = tempfile::tempdir().unwrap();
    let path = copy_of_alder(folder.path());
    let mut session = Session::open(&path).unwrap();
    raise_rod(&mut session, 1.5e-3);
    drop(session);
    let mut again = Session::open(&path).unwrap();
    again.apply(Edit::File(FileCommand::Recover));
    again.apply(Edit::Undo);
    assert!(again.recoverable().is_some());
    again.apply(Edit::Redo);
    assert!(again.recoverable().is_none(), "it is here again");
    again.apply(Edit::File(FileCommand::SaveAs { path: folder.path().join("alder-2.ron"), replace: false }));
    drop(again);
    assert_eq!(names_in(folder.path()), ["alder", "alder-2.ron", "alder.ron"], "nothing is left behind");
}

#[test]
fn a_copy_saved_as_a_car_does_not_save_the_proposal() {
    let folder = tempfile::tempdir().unwrap();
    let path = copy_of_alder(folder.path());
    let mut session = Session::open(&path).unwrap();
    session.apply(Edit::File(FileCommand::OpenProposal("tie-rod-down".into())));
    raise_rod(&mut session, 1e-3);
    session
        .apply(Edit::File(FileCommand::SaveAs { path: folder.path().join("alder-2.ron"), replace: false }));
    assert!(session.notices().is_empty(), "{:?}", session.notices());
    assert!(session.is_unsaved() && session.title().ends_with("(changed)"));
    let changed = session.car().clone();
    drop(session);
    assert_eq!(Session::open(&path).unwrap().recoverable(), Some(&changed));
}

#[test]
fn a_proposal_takes_no_place_of_limits_brackets_or_the_car() {
    let folder = tempfile::tempdir().unwrap();
    let path = copy_of_alder(folder.path());
    let mut session = Session::open(&path).unwrap();
    raise_rod(&mut session, 1e-3);
    let texts = || {
        ["alder.ron", "alder/limits.ron", "alder/brackets.ron"]
            .map(|name| fs::read(folder.path().join(name)).unwrap())
    };
    let before = texts();
    for name in ["Limits", "BRACKETS", "limits"] {
        let file = session.proposal_path(name);
        session.apply(Edit::File(FileCommand::SaveProposal {
            name: name.into(),
            path: file.clone(),
            replace: true,
        }));
        assert!(load_proposal(&file).is_ok(), "{}: {:?}", file.display(), session.notices());
        raise_rod(&mut session, 1e-3);
    }
    for file in ["alder/limits.ron", "alder/brackets.ron", "alder.ron"] {
        let path = folder.path().join(file);
        session.apply(Edit::File(FileCommand::SaveProposal { name: "Low".into(), path, replace: true }));
        let said = &session.notices()[0].text;
        assert!(said.contains(" is a ") || said.contains("is a list"), "{said}");
    }
    assert_eq!(texts(), before);
}
