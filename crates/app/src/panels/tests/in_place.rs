//! What is under the pointer stays there: a second click meets what the first one met.

use super::{Bench, bench, settled};
use crate::panels::Task;
use crate::test_cars::{copy_of_alder, raise_rod};
use bevy_egui::egui::{Pos2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use std::path::Path;
use wheelpath_session::{Edit, FileCommand, Session};

fn on_disk(folder: &Path, task: Task) -> Harness<'static, Bench> {
    let path = copy_of_alder(folder);
    bench(vec2(1280.0, 900.0), |bench| {
        bench.session = Session::open(&path).unwrap();
        bench.state.task = task;
    })
}

/// The upper left corners of what can be clicked, by name.
fn corners(harness: &Harness<'static, Bench>, names: &[&str]) -> Vec<(String, Pos2)> {
    let corner = |name: &&str| ((*name).to_owned(), harness.get_by_label(name).rect().min);
    names.iter().map(corner).collect()
}

const OF_DECIDE: [&str; 15] = [
    "Files",
    "Look",
    "Undo",
    "Redo",
    "Before and after in a table",
    "Save as",
    "Open: Tie rod down",
    "Add: Tie rod down",
    "Compare: Tie rod down",
    "Open: Steering arms outboard",
    "Add: Steering arms outboard",
    "Compare: Steering arms outboard",
    "Another file",
    "Import moved points",
    "Compare with it",
];

#[test]
fn nothing_that_is_clicked_in_decide_moves_whatever_is_done() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = on_disk(folder.path(), Task::Decide);
    settled(&mut harness);
    let places = corners(&harness, &OF_DECIDE);
    let stays = |harness: &mut Harness<'static, Bench>, after: &str| {
        settled(harness);
        for ((name, was), (_, now)) in places.iter().zip(corners(harness, &OF_DECIDE)) {
            assert!((now - *was).length() < 0.5, "{name} moved from {was} to {now} after {after}");
        }
    };
    for label in [
        "Open: Tie rod down",
        "Open: Steering arms outboard",
        "Compare: Tie rod down",
        "Add: Tie rod down",
        "Undo",
        "Compare with the original again",
    ] {
        harness.get_by_label(label).click();
        harness.run();
        stays(&mut harness, label);
    }
    raise_rod(&mut harness.state_mut().session, 1e-3);
    harness.run();
    stays(&mut harness, "a change");
    harness.state_mut().session.apply(Edit::File(FileCommand::OpenProposal("tie-rod-down".into())));
    harness.run();
    stays(&mut harness, "setting changes aside");
    assert!(harness.query_by_label("Take them up").is_some(), "what was set aside is offered");
    harness.state_mut().state.decide.proposal_name = Some("tie rod down".into());
    raise_rod(&mut harness.state_mut().session, 1e-3);
    harness.run();
    stays(&mut harness, "a name that is taken");
    harness.state_mut().session.apply(Edit::File(FileCommand::OpenProposal("none".into())));
    harness.run();
    stays(&mut harness, "what is refused");
    assert!(harness.query_by_label_contains("There is no proposal none").is_some());
    std::fs::write(folder.path().join("alder/tie-rod-down.ron"), "nonsense").unwrap();
    harness.state_mut().session.apply(Edit::File(FileCommand::SaveOpen));
    harness.run();
    stays(&mut harness, "a file that another has written");
    assert!(harness.query_by_label("Keep mine apart").is_some());
}

/// A double click on Open opens what was clicked and nothing else, though the first click sets changes aside.
#[test]
fn a_double_click_on_open_opens_that_proposal_alone() {
    for (first, name) in
        [("Open: Steering arms outboard", "Steering arms outboard"), ("Open: Tie rod down", "Tie rod down")]
    {
        let folder = tempfile::tempdir().unwrap();
        let mut harness = on_disk(folder.path(), Task::Decide);
        raise_rod(&mut harness.state_mut().session, 1e-3);
        harness.run();
        settled(&mut harness);
        let at = harness.get_by_label(first).rect().center();
        for _ in 0..2 {
            harness.drag_at(at);
            harness.drop_at(at);
            harness.run();
        }
        assert_eq!(harness.state().session.open_name(), Some(name));
        assert!(harness.query_by_label("Take them up").is_some());
    }
}

#[test]
fn fields_and_buttons_of_change_stay_while_points_are_changed_and_saved() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = on_disk(folder.path(), Task::Change);
    let names = ["Undo", "Both sides", "Save as new car", "New car file", super::Z_OF_ROD];
    let places = corners(&harness, &names);
    let stays = |harness: &mut Harness<'static, Bench>, after: &str| {
        harness.run();
        for ((name, was), (_, now)) in places.iter().zip(corners(harness, &names)) {
            assert!((now - *was).length() < 0.5, "{name} moved from {was} to {now} after {after}");
        }
    };
    raise_rod(&mut harness.state_mut().session, 1e-3);
    stays(&mut harness, "a change");
    harness.get_by_label("Save as new car").click();
    stays(&mut harness, "saving");
    let taken = folder.path().join("alder.ron").display().to_string();
    harness.state_mut().state.files.save_name = Some(taken);
    stays(&mut harness, "a name that is taken");
    assert!(harness.query_by_label_contains("Replace the car").is_some());
    harness.state_mut().session.apply(Edit::File(FileCommand::SaveAs { path: "/".into(), replace: false }));
    stays(&mut harness, "what cannot be saved");
}

/// Unsaved changes say what they are, are thrown away apart from what keeps them, and come back.
#[test]
fn what_is_thrown_away_is_said_and_can_be_brought_back() {
    let folder = tempfile::tempdir().unwrap();
    let path = copy_of_alder(folder.path());
    let mut left = Session::open(&path).unwrap();
    raise_rod(&mut left, 2e-3);
    left.apply(Edit::Settle);
    let changed = left.car().clone();
    drop(left);
    let mut harness = bench(vec2(1280.0, 900.0), |bench| bench.session = Session::open(&path).unwrap());
    harness.run_steps(6);
    assert!(harness.query_all_by_label_contains("Z +2.0 mm").next().is_some(), "what would be lost");
    let [keep, throw] = ["Take them up", "Throw them away"].map(|name| harness.get_by_label(name).rect());
    assert!(throw.left() - keep.right() > 60.0, "{keep:?} {throw:?}");
    let click = |harness: &mut Harness<'static, Bench>, label: &str| {
        harness.get_by_label(label).click();
        harness.run_steps(6);
    };
    click(&mut harness, "Throw them away");
    assert!(harness.state().session.recoverable().is_none());
    assert!(harness.query_all_by_label_contains("Z +2.0 mm").next().is_some(), "what was thrown away");
    click(&mut harness, "Close this message");
    assert!(harness.query_by_label("Bring them back").is_none());
    // Another window: it is still there to be had, though the first is open too and that is said above it.
    let mut harness = bench(vec2(1280.0, 900.0), |bench| bench.session = Session::open(&path).unwrap());
    click(&mut harness, "Files");
    click(&mut harness, "Bring back what was thrown away");
    click(&mut harness, "Take them up");
    assert!(crate::test_cars::same(harness.state().session.car(), &changed));
}

/// A second click that comes at once is not taken for an answer to what has come in the place of the first.
#[test]
fn a_double_click_on_a_message_answers_that_message_alone() {
    let folder = tempfile::tempdir().unwrap();
    let path = copy_of_alder(folder.path());
    for lift in [1e-3, 2e-3] {
        let mut left = Session::open(&path).unwrap();
        raise_rod(&mut left, lift);
        left.apply(Edit::File(FileCommand::OpenProposal("tie-rod-down".into())));
    }
    let mut harness = bench(vec2(1280.0, 900.0), |bench| bench.session = Session::open(&path).unwrap());
    harness.run_steps(6);
    let folder_holds = |part: &str| {
        let entries = std::fs::read_dir(folder.path()).unwrap().flatten();
        entries.filter(|entry| entry.file_name().to_string_lossy().contains(part)).count()
    };
    let before = folder_holds("unsaved");
    let at = harness.get_by_label("Throw them away").rect().center();
    for _ in 0..2 {
        harness.drag_at(at);
        harness.drop_at(at);
        harness.step();
    }
    harness.run_steps(2);
    assert_eq!((before - folder_holds("unsaved"), folder_holds("thrown-away")), (1, 1));
}
