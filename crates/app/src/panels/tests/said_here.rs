//! What is said where it is looked for: wrong numbers at their field, the side that changes go to, the point that
//! is typed, the curve that was asked for, what a button wrote.

use super::{Bench, FRONT_LEFT, Z_OF_ROD, bench, bench_of, changing, rod_inner, settled};
use crate::panels::{Task, UiState};
use crate::test_cars::{copy_of_alder, raise_rod};
use bevy_egui::egui::{Event, Key, Modifiers, PointerButton, Pos2, Rect, pos2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use std::path::Path;
use wheelpath_geometry::{Assembly, End, Hardpoint, Parameter, Side, WheelNumber, WheelPosition};
use wheelpath_session::{Edit, FileCommand, Session};

const FRONT_RIGHT: WheelPosition = WheelPosition { end: End::Front, side: Side::Right };

fn shows(harness: &Harness<'static, Bench>, text: &str) -> bool {
    harness.query_all_by_label_contains(text).next().is_some()
}

fn type_into(harness: &mut Harness<'static, Bench>, field: &str, text: &str) {
    harness.get_by_label(field).focus();
    harness.run();
    harness.get_by_label(field).type_text(text);
    harness.run();
}

#[test]
fn nonsense_in_a_field_goes_when_it_is_left_and_what_was_wrong_is_said_there() {
    let mut harness = changing(vec2(1280.0, 720.0));
    for (text, wrong) in [("12..5", "\u{201c}12..5\u{201d} is not a number"), ("", "Nothing was typed")] {
        harness.get_by_label(Z_OF_ROD).focus();
        harness.run();
        if text.is_empty() {
            harness.key_press(Key::Delete);
        } else {
            harness.get_by_label(Z_OF_ROD).type_text(text);
        }
        harness.run();
        assert!(!shows(&harness, wrong), "not while it is typed");
        harness.key_press(Key::Enter);
        harness.run();
        assert!(!harness.state().session.is_changed());
        assert_eq!(harness.get_by_label(Z_OF_ROD).value().as_deref(), Some("169.0"), "the true number");
        assert!(shows(&harness, wrong), "{wrong}");
        assert!(shows(&harness, "169.0 mm stays"));
        let said = harness.query_all_by_label_contains(wrong).next().unwrap().rect();
        let field = harness.get_by_label(Z_OF_ROD).rect();
        assert!(
            (said.top() - field.bottom()).abs() < 20.0 && said.right() > field.left(),
            "{said:?} {field:?}"
        );
        harness.key_press(Key::Tab);
        harness.run();
        assert!(!shows(&harness, wrong), "the next input takes it away");
    }
}

#[test]
fn reset_shows_the_true_pose_after_nonsense() {
    let mut harness = bench(vec2(1280.0, 720.0), |_| ());
    let field = "Travel in mm, + bump";
    type_into(&mut harness, field, "12");
    harness.key_press(Key::Enter);
    harness.run();
    type_into(&mut harness, field, "1o");
    harness.get_by_label("Reset pose").click();
    harness.run();
    assert_eq!(harness.get_by_label(field).value().as_deref(), Some("0.0"));
}

#[test]
fn where_the_sides_are_unlike_a_change_goes_to_one_unless_both_are_asked_for() {
    let mut harness = bench_of("hazel", vec2(1280.0, 720.0), |bench| bench.state.task = Task::Change);
    assert!(!harness.state().state.mirrored && shows(&harness, "the left side only"));
    let hardpoint = Hardpoint::UpperBallJoint;
    let z = |bench: &Bench, at: WheelPosition| {
        Assembly::from(at).hardpoints(bench.session.car()).get(hardpoint).unwrap().z
    };
    let was = [FRONT_LEFT, FRONT_RIGHT].map(|at| z(harness.state(), at));
    let field = format!("front left, {}, Z in {}", hardpoint.label(), unit(harness.state()));
    harness.get_by_label(&field).focus();
    harness.run();
    harness.key_press(Key::ArrowUp);
    harness.run();
    let moved = |bench: &Bench| [FRONT_LEFT, FRONT_RIGHT].map(|at| z(bench, at)).map(|z| z);
    let now = moved(harness.state());
    assert!(now[0] > was[0] && now[1].to_bits() == was[1].to_bits(), "{was:?} {now:?}");
    harness.get_by_label("Both sides").click();
    harness.run();
    assert!(shows(&harness, "both unlike sides, mirrored"));
    harness.get_by_label(&field).focus();
    harness.run();
    harness.key_press(Key::ArrowUp);
    harness.run();
    let both = moved(harness.state());
    assert!((both[1] - now[1] - (both[0] - now[0])).abs() < 1e-12 && both[1] > now[1]);
    // The right one is said too, and what was asked for stays with its axle.
    harness.get_by_label("Both sides").click();
    harness.get_by_label("Right").click();
    harness.run();
    assert!(shows(&harness, "the right side only"));
}

fn unit(bench: &Bench) -> &'static str {
    wheelpath_geometry::Unit::Length.symbol(bench.state.lengths)
}

#[test]
fn both_sides_are_taken_where_they_are_alike_and_one_alone_stays_asked_for() {
    let alder = crate::test_cars::car("alder");
    let mut state = UiState::new(&alder);
    assert!(state.mirrored);
    state.set_both_sides(false);
    state.corner.end = End::Rear;
    state.follow(&alder);
    assert!(!state.mirrored, "one side alone, on either axle");
    state.follow(&crate::test_cars::car("sorrel"));
    assert!(!state.mirrored, "and on the next car");
    state.set_both_sides(true);
    state.follow(&crate::test_cars::car("hazel"));
    assert!(!state.mirrored, "both are asked for anew where the sides are unlike");
}

#[test]
fn what_is_typed_is_selected_on_the_car() {
    let mut harness = changing(vec2(1280.0, 720.0));
    let point = Some((Assembly::from(FRONT_LEFT), Hardpoint::TieRodInner));
    harness.get_by_label(Z_OF_ROD).focus();
    harness.run();
    assert_eq!(harness.state().state.selected, None, "not yet");
    harness.get_by_label(Z_OF_ROD).type_text("16");
    harness.run();
    assert_eq!(harness.state().state.selected, point);
    harness.get_by_label(Z_OF_ROD).type_text("6");
    harness.key_press(Key::Enter);
    harness.run();
    assert!((rod_inner(harness.state(), FRONT_LEFT) - 0.166).abs() < 1e-12, "the field stays in hand");
    harness.state_mut().state.select(None);
    harness.get_by_label(Z_OF_ROD).focus();
    harness.run();
    harness.key_press(Key::ArrowDown);
    harness.run();
    assert_eq!(harness.state().state.selected, point, "stepped with the keys");
}

#[test]
fn a_curve_that_is_asked_for_is_scrolled_to_and_framed_until_something_else_is_pressed() {
    let size = vec2(1600.0, 720.0);
    let mut harness = bench(size, |_| ());
    harness.get_by_label("Trail").click();
    harness.run();
    let seen = |harness: &Harness<'static, Bench>, name: &str| {
        let rect = harness.get_by_label(&format!("Close {name}")).rect();
        Rect::from_min_max(pos2(0.0, 40.0), pos2(size.x, size.y - 60.0)).contains_rect(rect)
    };
    assert!(seen(&harness, "Trail over travel, front"));
    let card = harness.state().state.wall.cards.last().unwrap().id;
    assert_eq!(harness.state().state.wall.framed_card, Some(card));
    // One that hangs there already comes back.
    harness.get_by_label("Toe").click();
    harness.run();
    assert!(seen(&harness, "Toe over travel, front"));
    assert_eq!(harness.state().state.wall.framed_card, Some(harness.state().state.wall.cards[0].id));
    harness.get_by_label("Change").click();
    harness.run();
    assert_eq!(harness.state().state.wall.framed_card, None);
}

#[test]
fn a_curve_keeps_what_it_is_counted_from_when_the_car_changes() {
    let mut harness = bench(vec2(1600.0, 900.0), |_| ());
    let switch = "From zero: Toe over travel, front";
    assert!(harness.query_by_label(switch).is_none(), "the sides lie on one another");
    // Toe out on one side: the sides are far apart.
    let change = wheelpath_session::CarEdit::set_number(
        FRONT_LEFT.into(),
        Parameter::Wheel(WheelNumber::Toe),
        0.05,
        false,
    );
    harness.state_mut().session.apply(Edit::Change(change));
    harness.run();
    assert!(!shows(&harness, "Toe change"), "the values, as before");
    harness.get_by_label(switch).click();
    harness.run();
    assert_eq!(harness.state().state.wall.cards[0].from_zero, Some(true));
    harness.state_mut().session.apply(Edit::Undo);
    harness.run();
    assert_eq!(harness.state().state.wall.cards[0].from_zero, Some(true), "as it was asked for");
    assert!(shows(&harness, "Toe change"));
    harness.get_by_label(switch).click();
    harness.run();
    assert!(!shows(&harness, "Toe change"));
}

/// What is to be thrown away comes where the pointer rests: it does nothing there, however often and late it is
/// clicked, until the pointer has gone away.
#[test]
fn closing_one_message_never_throws_away_what_the_next_one_offers() {
    let folder = tempfile::tempdir().unwrap();
    let path = copy_of_alder(folder.path());
    for lift in [1e-3, 2e-3] {
        let mut left = Session::open(&path).unwrap();
        raise_rod(&mut left, lift);
        left.apply(Edit::File(FileCommand::OpenProposal("tie-rod-down".into())));
    }
    let mut harness = bench(vec2(1280.0, 900.0), |bench| bench.session = Session::open(&path).unwrap());
    harness.run_steps(6);
    // The pointer stays where it has clicked.
    let click = |harness: &mut Harness<'static, Bench>, pos: Pos2| {
        harness.hover_at(pos);
        for pressed in [true, false] {
            let (button, modifiers) = (PointerButton::Primary, Modifiers::NONE);
            harness.event(Event::PointerButton { pos, button, pressed, modifiers });
        }
        harness.run_steps(12);
    };
    let at = |harness: &Harness<'static, Bench>, label: &str| harness.get_by_label(label).rect().center();
    let throw = at(&harness, "Throw them away");
    click(&mut harness, throw);
    let thrown = || count(folder.path(), "thrown-away");
    assert_eq!(thrown(), 1);
    let close = at(&harness, "Close this message");
    click(&mut harness, close);
    // The older one is offered now, its button under or near the pointer.
    let throw = at(&harness, "Throw them away");
    harness.hover_at(close);
    for _ in 0..4 {
        click(&mut harness, close);
    }
    assert_eq!(thrown(), 1, "the pointer rests where it closed the first: {throw:?} {close:?}");
    let is_grey = |harness: &Harness<'static, Bench>| {
        harness.get_by_label("Throw them away").accesskit_node().is_disabled()
    };
    assert!(is_grey(&harness), "and looks like it");
    harness.hover_at(pos2(900.0, 500.0));
    harness.run_steps(6);
    assert!(!is_grey(&harness));
    click(&mut harness, throw);
    assert_eq!(thrown(), 2, "meant");
}

fn count(folder: &Path, part: &str) -> usize {
    let entries = std::fs::read_dir(folder).unwrap().flatten();
    entries.filter(|entry| entry.file_name().to_string_lossy().contains(part)).count()
}

#[test]
fn what_a_button_wrote_is_seen_where_it_was_pressed() {
    let folder = tempfile::tempdir().unwrap();
    let path = copy_of_alder(folder.path());
    let mut harness = bench(vec2(1280.0, 720.0), |bench| {
        bench.session = Session::open(&path).unwrap();
        bench.state.task = Task::Decide;
        raise_rod(&mut bench.session, 1e-3);
    });
    settled(&mut harness);
    let button = "Sheet of Rack plate, left, pdf";
    // As far down as it takes to press the button, and no further.
    for _ in 0..80 {
        if harness.get_by_label(button).rect().bottom() < 640.0 {
            break;
        }
        harness.hover_at(pos2(100.0, 400.0));
        harness.event(Event::MouseWheel {
            unit: bevy_egui::egui::MouseWheelUnit::Point,
            delta: vec2(0.0, -20.0),
            phase: bevy_egui::egui::TouchPhase::Move,
            modifiers: Modifiers::NONE,
        });
        harness.run();
    }
    let place = harness.get_by_label(button).rect();
    assert!(place.bottom() < 660.0, "{place:?}");
    harness.get_by_label(button).click();
    super::which_way::wait(&mut harness, |harness| !harness.state().session.sheets_written().is_empty());
    harness.run();
    let said = harness.query_all_by_label_contains("✔ Wrote").next().expect("said").rect();
    let now = harness.get_by_label(button).rect();
    assert!((said.bottom() - now.top()).abs() < 12.0, "{said:?} over {now:?}");
    assert!((now.min - place.min).length() < 0.5, "the button stays");
}

/// A folder that is not there: what was typed stays, to be put right.
#[test]
fn a_name_that_could_not_be_saved_stays_in_its_field() {
    let folder = tempfile::tempdir().unwrap();
    let mut harness = bench(vec2(1280.0, 720.0), |bench| bench.state.task = Task::Change);
    let name = folder.path().join("none/alder-2.ron").display().to_string();
    harness.state_mut().state.files.save_name = Some(name.clone());
    harness.run();
    harness.get_by_label("Save as new car").click();
    harness.run();
    assert!(harness.state().session.notices().iter().any(|notice| notice.severe));
    assert_eq!(harness.get_by_label("New car file").value().as_deref(), Some(name.as_str()));
    let right = folder.path().join("alder-2.ron").display().to_string();
    harness.state_mut().state.files.save_name = Some(right.clone());
    harness.run();
    harness.get_by_label("Save as new car").click();
    harness.run();
    assert!(Path::new(&right).exists());
    assert_ne!(harness.get_by_label("New car file").value().as_deref(), Some(right.as_str()));
}
