//! Proposals and limits in the drawer: weighed, opened, edited, saved.

use super::{Bench, bench, settled};
use crate::panels::Task;
use crate::test_cars::{copy_of_alder, raise_rod, same};
use bevy_egui::egui::{Key, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use std::fs;
use std::path::Path;
use wheelpath_session::{Edit, FileCommand, Session};

fn deciding() -> Harness<'static, Bench> {
    bench(vec2(1280.0, 1000.0), |bench| {
        let beside = wheelpath_session::Beside::from(wheelpath_project::Companions::of(
            &wheelpath_project::demo_car().unwrap(),
        ));
        bench.session = bench.session.clone().with_beside(beside);
        bench.state.task = Task::Decide;
    })
}

#[test]
fn a_proposal_is_made_and_mends_a_limit() {
    let mut harness = deciding();
    settled(&mut harness);
    assert!(harness.query_by_label_contains("✖ Bump steer, front: −0.091°").is_some());
    click(&mut harness, "Open: Tie rod down");
    assert!(harness.query_by_label_contains("✔ Bump steer, front: −0.007° (−0.091°, fail)").is_some());
    assert_eq!(harness.state().session.next_undo(), Some("proposal: Tie rod down"));
    // A click on a limit goes to its worst pose.
    harness.get_by_label_contains("✔ Bump steer, front").click();
    harness.run();
    assert!((harness.state().session.held_pose().travel[0] - 0.025).abs() < 1e-6);
    // Compared with itself, nothing is left to tell.
    click(&mut harness, "Compare: Tie rod down");
    assert!(!harness.state().session.differs());
    assert_eq!(harness.state().session.baseline_name(), "Tie rod down");
}

#[test]
fn before_and_after_stand_in_one_table() {
    let mut harness = deciding();
    click(&mut harness, "Before and after in a table");
    assert!(harness.query_by_label_contains("Nothing differs yet").is_some());
    click(&mut harness, "Open: Tie rod down");
    // Distances and joints are judged beside the window.
    settled(&mut harness);
    let limits = harness.state().session.limits().len();
    let kept = harness.query_all_by_label("✔ pass").count();
    assert!(kept >= limits, "{kept} of {limits}, and readings that have one");
    for text in ["Original: before. Alder: Tie rod down: after", "Before", "After", "Limit", "Verdict"] {
        assert!(harness.query_by_label(text).is_some(), "{text}");
    }
    // The row of a limit: worst before, worst after, by how much, its bounds.
    for text in ["Bump steer, front", "−0.091°", "−0.007°", "+0.084°", "−0.050 to 0.050°"] {
        assert!(harness.query_all_by_label(text).next().is_some(), "{text}");
    }
    // A reading in the pose shown.
    let most = harness.state().session.moved_most(1)[0];
    let name = most.title();
    assert!(harness.query_all_by_label(&name).next().is_some(), "{name}");
    harness.query_all_by_label("Bump steer, front").next().unwrap().click();
    harness.run();
    assert!((harness.state().session.held_pose().travel[0] - 0.025).abs() < 1e-6, "to its worst pose");
    let area = harness.state().area.unwrap();
    click(&mut harness, "Close the table");
    assert!(harness.state().area.unwrap().height > area.height + 100.0, "the stage has its room back");
}

/// What saves does not replace: that is a button of its own, which says what would go.
#[test]
fn a_proposal_under_a_name_that_is_taken_is_replaced_only_when_told_so() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = on_disk(folder.path());
    let file = folder.path().join("alder/tie-rod-down.ron");
    let theirs = fs::read(&file).unwrap();
    raise_rod(&mut harness.state_mut().session, 2e-3);
    harness.state_mut().state.decide.proposal_name = Some("tie rod down".to_owned());
    harness.run();
    harness.get_by_label("Save as").click();
    harness.run();
    assert_eq!(fs::read(&file).unwrap(), theirs, "the button that saves is off");
    click(&mut harness, "Replace the proposal Tie rod down");
    assert_ne!(fs::read(&file).unwrap(), theirs);
    assert_eq!(harness.state().session.open_name(), Some("tie rod down"));
}

/// The drawer on a copy of Alder with its folder, high enough to hold all of it.
fn on_disk(folder: &Path) -> Harness<'static, Bench> {
    let path = copy_of_alder(folder);
    bench(vec2(1280.0, 1600.0), |bench| {
        bench.session = Session::open(&path).unwrap();
        bench.state.task = Task::Decide;
    })
}

fn type_into(harness: &mut Harness<'static, Bench>, label: &str, text: &str) {
    harness.get_by_label(label).focus();
    harness.run();
    harness.get_by_label(label).type_text(text);
    harness.key_press(Key::Enter);
    harness.run();
}

fn click(harness: &mut Harness<'static, Bench>, label: &str) {
    settled(harness);
    harness.get_by_label(label).click();
    harness.run();
}

#[test]
fn a_proposal_is_opened_changed_and_saved_and_it_shows() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = on_disk(folder.path());
    let shows =
        |harness: &Harness<'static, Bench>, text: &str| harness.query_all_by_label(text).next().is_some();
    assert!(shows(&harness, "Alder") && !shows(&harness, "Save: Tie rod down"));
    click(&mut harness, "Open: Tie rod down");
    assert!(shows(&harness, "Alder: Tie rod down") && shows(&harness, "Tie rod down (open)"));
    raise_rod(&mut harness.state_mut().session, 1e-3);
    harness.run();
    assert!(
        shows(&harness, "Alder: Tie rod down (changed)") && shows(&harness, "Tie rod down (open, changed)")
    );
    click(&mut harness, "Save: Tie rod down");
    assert!(shows(&harness, "Alder: Tie rod down") && !shows(&harness, "Save: Tie rod down"));
    let text = fs::read_to_string(folder.path().join("alder/tie-rod-down.ron")).unwrap();
    assert!(text.contains("167.5"), "{text}");
    raise_rod(&mut harness.state_mut().session, 1e-3);
    harness.run();
    type_into(&mut harness, "Name of the proposal", "Rod up again");
    click(&mut harness, "Save as");
    assert!(shows(&harness, "Rod up again (open)") && folder.path().join("alder/rod-up-again.ron").exists());
}

#[test]
fn limits_are_typed_and_the_verdict_follows() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = on_disk(folder.path());
    let kept = |harness: &Harness<'static, Bench>| {
        harness.query_all_by_label_contains("✔ Bump steer, front").next().is_some()
    };
    assert!(!kept(&harness));
    type_into(&mut harness, "Least of Bump steer, front in °", "-0.2");
    type_into(&mut harness, "Most of Bump steer, front in °", "0,2");
    assert!(kept(&harness), "live");
    assert_eq!(harness.state().session.next_undo(), Some("limit Bump steer, front: at most 0.20°"));
    click(&mut harness, "Undo");
    click(&mut harness, "Undo");
    assert!(!kept(&harness) && harness.query_by_label("Save limits").is_none());
    // What makes no sense is said there, and nothing changed.
    type_into(&mut harness, "Least of Bump steer, front in °", "7");
    assert!(harness.query_by_label_contains("nothing is at least 7.00° and at most 0.05°").is_some());
    click(&mut harness, "No least for Bump steer, front");
    let all = harness.state().session.limits().len();
    click(&mut harness, "Delete Steering lock");
    assert_eq!(harness.state().session.limits().len(), all - 1);
    click(&mut harness, "Save limits");
    let text = fs::read_to_string(folder.path().join("alder/limits.ron")).unwrap();
    assert!(
        text.starts_with("// What Alder") && !text.contains("-0.05") && !text.contains("Lock("),
        "{text}"
    );
    assert!(harness.query_by_label("Save limits").is_none() && !harness.state().session.is_unsaved());
}

#[test]
fn a_limit_is_put_together_by_searching_for_its_reading() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = on_disk(folder.path());
    let all = harness.state().session.limits().len();
    click(&mut harness, "Add a limit");
    harness.get_by_label("Reading to limit").focus();
    harness.run();
    harness.get_by_label("Reading to limit").type_text("scrub");
    harness.run();
    click(&mut harness, "Scrub radius");
    assert!(harness.query_by_label("Add it").is_some());
    type_into(&mut harness, "First travel in mm", "-10");
    type_into(&mut harness, "Most of the new limit", "40");
    click(&mut harness, "Add it");
    let session = &harness.state().session;
    assert_eq!(session.next_undo(), Some("limit added: Scrub radius, front, over travel"));
    let added = session.limits().last().unwrap();
    assert!((added.most.unwrap() - 0.04).abs() < 1e-12 && added.least.is_none(), "{added:?}");
    assert!(harness.query_by_label_contains("Scrub radius, front, over travel: ").is_some(), "its verdict");
    click(&mut harness, "Undo");
    assert_eq!(harness.state().session.limits().len(), all);
}

#[test]
fn a_limit_on_a_distance_is_put_together_and_judged_beside_the_window() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = on_disk(folder.path());
    click(&mut harness, "Add a limit on distances, joints or lock");
    click(&mut harness, "Limit on rear");
    click(&mut harness, "First part");
    click(&mut harness, "tyre");
    assert!(harness.get_by_label("Add this limit").accesskit_node().is_disabled(), "no least yet");
    type_into(&mut harness, "Least of the distance, joint or lock", "300");
    click(&mut harness, "Add this limit");
    let session = &harness.state().session;
    assert_eq!(session.next_undo(), Some("limit added: Distance, tyre and any other part, rear"));
    let added = session.limits().last().unwrap();
    assert!((added.least.unwrap() - 0.3).abs() < 1e-12 && added.most.is_none(), "{added:?}");
    settled(&mut harness);
    let verdict = "✖ Distance, tyre and any other part, rear: ";
    assert!(harness.query_by_label_contains(verdict).is_some(), "nothing is 300 mm from a tyre");
    click(&mut harness, "Undo");
    assert!(harness.query_by_label_contains(verdict).is_none());
}

#[test]
fn another_car_is_opened_by_its_path_and_from_the_list() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = on_disk(folder.path());
    let sorrel = folder.path().join("sorrel.ron");
    fs::copy(crate::test_cars::alder_path().with_file_name("sorrel.ron"), &sorrel).unwrap();
    raise_rod(&mut harness.state_mut().session, 1e-3);
    harness.state_mut().state.text_scale = 1.2;
    click(&mut harness, "Files");
    let start = folder.path().join("sor").display().to_string();
    harness.get_by_label("Car file to open").focus();
    harness.run();
    harness.get_by_label("Car file to open").type_text(&start);
    harness.run();
    click(&mut harness, &sorrel.display().to_string());
    click(&mut harness, "Open it");
    assert_eq!(harness.state().session.title(), "Sorrel");
    assert!((harness.state().state.text_scale - 1.2).abs() < 1e-6, "what is the person's stays");
    assert!(harness.query_all_by_label("Sorrel").next().is_some());
    let alder = folder.path().join("alder.ron");
    harness.state_mut().session.apply(Edit::File(FileCommand::OpenCar { path: alder, proposal: None }));
    harness.run();
    assert!(harness.query_by_label_contains("Changes were not saved").is_some());
    click(&mut harness, "Files");
    click(&mut harness, "sorrel");
    assert_eq!(harness.state().session.title(), "Sorrel");
}

#[test]
fn what_another_window_wrote_is_asked_about_in_every_drawer() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = on_disk(folder.path());
    let mut other = Session::open(&folder.path().join("alder.ron")).unwrap();
    other.apply(Edit::File(FileCommand::OpenProposal("tie-rod-down".into())));
    raise_rod(&mut other, 2e-3);
    other.apply(Edit::File(FileCommand::SaveOpen));
    click(&mut harness, "Open: Tie rod down");
    raise_rod(&mut harness.state_mut().session, 1e-3);
    harness.run();
    click(&mut harness, "Save: Tie rod down");
    for task in [Task::Look, Task::Change, Task::Decide] {
        harness.state_mut().state.task = task;
        harness.run();
        let said = "Not saved: another window or program has written tie-rod-down.ron";
        assert!(harness.query_by_label_contains(said).is_some(), "{task:?}");
    }
    harness.state_mut().session.look_around(std::time::Instant::now());
    harness.run();
    assert!(harness.query_by_label_contains("This car is open in another window").is_some());
    click(&mut harness, "Look at theirs");
    assert!(same(harness.state().session.car(), other.car()));
    assert!(harness.query_by_label("Look at theirs").is_none());
}

#[test]
fn a_table_of_moved_points_becomes_what_is_changed_and_a_wrong_one_nothing() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = on_disk(folder.path());
    fs::write(folder.path().join("moved.csv"), "name,x,y,z\nfront left tie rod inner,88,240,166.5\n")
        .unwrap();
    fs::write(folder.path().join("wrong.csv"), "name,x,y,z\nfront left tie rod inner,88,240\n").unwrap();
    let table = |harness: &mut Harness<'static, Bench>, name: &str| {
        harness.state_mut().state.decide.other_file = name.to_owned();
        harness.run();
        click(harness, "Import moved points");
    };
    table(&mut harness, "wrong.csv");
    let session = &harness.state().session;
    assert!(
        !session.is_changed() && session.notices()[0].text.contains("wrong.csv"),
        "{:?}",
        session.notices()
    );
    table(&mut harness, "moved.csv");
    let session = &harness.state().session;
    let front_left = wheelpath_geometry::WheelPosition::ALL[0];
    let rod = |session: &Session| {
        session.car().corner(front_left).hardpoints.get(wheelpath_geometry::Hardpoint::TieRodInner).unwrap().z
    };
    assert!((rod(session) - 0.1665).abs() < 1e-12 && session.is_changed(), "{:?}", session.notices());
    assert_eq!(session.next_undo(), Some("proposal: moved"));
    click(&mut harness, "Undo");
    assert!(!harness.state().session.is_changed());
}

#[test]
fn any_other_car_can_be_compared_with() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = on_disk(folder.path());
    let rowan = crate::test_cars::alder_path().with_file_name("rowan.ron");
    harness.state_mut().state.decide.other_file = rowan.display().to_string();
    harness.run();
    click(&mut harness, "Compare with it");
    let session = &harness.state().session;
    assert!(session.differs() && session.baseline_name() == "Rowan" && !session.is_changed());
    assert!(session.baseline_values().is_some());
}
