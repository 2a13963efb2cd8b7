//! Points pulled by keyboard: handles typed and stepped, plates described.

use super::{FRONT_LEFT, FRONT_RIGHT, Task, bench, rod_inner};
use bevy_egui::egui::{Key, Modifiers, vec2};
use egui_kittest::kittest::Queryable;
use wheelpath_geometry::{Assembly, Axis, Hardpoint};
use wheelpath_session::Handle;

#[test]
fn the_typed_twin_of_a_handle_pulls_along_it() {
    let mut harness = bench(vec2(1280.0, 2600.0), |bench| {
        bench.state.task = Task::Change;
        bench.state.select(Some((FRONT_LEFT.into(), Hardpoint::TieRodInner)));
    });
    let twin = "front left, tie rod, inner end, along the tie rod in mm";
    assert!(harness.query_by_label(twin).is_none(), "not before the handle is chosen");
    harness.get_by_label("along the tie rod").click();
    harness.run();
    harness.get_by_label(twin).focus();
    harness.run();
    harness.get_by_label(twin).type_text("-1.5");
    harness.key_press(Key::Enter);
    harness.run();
    let said = "tie rod, inner end, front both: along the tie rod −1.5 mm";
    assert_eq!(harness.state().session.next_undo(), Some(said));
    assert_eq!(harness.get_by_label(twin).value().as_deref(), Some("−1.5"));
}

#[test]
fn arrow_keys_act_along_the_chosen_handle() {
    let mut harness = bench(vec2(1280.0, 720.0), |bench| {
        bench.state.task = Task::Change;
        bench.state.select(Some((FRONT_LEFT.into(), Hardpoint::TieRodInner)));
    });
    let start = rod_inner(harness.state(), FRONT_LEFT);
    harness.key_press(Key::ArrowUp);
    harness.run();
    assert!(!harness.state().session.is_changed(), "no handle, no step");
    harness.state_mut().state.handle = Some(Handle::Axis(Axis::Z));
    for (modifiers, key, total) in [
        (Modifiers::NONE, Key::ArrowUp, 1.0e-3),
        (Modifiers::ALT, Key::ArrowUp, 1.1e-3),
        (Modifiers::SHIFT, Key::ArrowDown, -8.9e-3),
        (Modifiers::CTRL, Key::ArrowDown, -9.0e-3),
    ] {
        harness.key_press_modifiers(modifiers, key);
        harness.run();
        let moved = rod_inner(harness.state(), FRONT_LEFT) - start;
        assert!((moved - total).abs() < 1e-12, "{moved} for {total}");
    }
    let other = rod_inner(harness.state(), FRONT_RIGHT) - start;
    assert!((other + 9.0e-3).abs() < 1e-12, "both sides");
    harness.state_mut().state.mirrored = false;
    harness.key_press(Key::ArrowUp);
    harness.run();
    assert!((rod_inner(harness.state(), FRONT_RIGHT) - start + 9.0e-3).abs() < 1e-12, "or one");
}

#[test]
fn a_plate_is_given_by_its_normal_and_pulled_in() {
    let mut harness = bench(vec2(1280.0, 2600.0), |bench| {
        bench.state.task = Task::Change;
        bench.state.select(Some((FRONT_LEFT.into(), Hardpoint::TieRodInner)));
    });
    harness.get_by_label("Plate…").click();
    harness.run();
    let normal = "Plate of front left tie rod, inner end, normal Y";
    harness.get_by_label(normal).focus();
    harness.run();
    harness.get_by_label(normal).type_text("2");
    harness.key_press(Key::Enter);
    harness.run();
    harness.get_by_label("Set normal").click();
    harness.run();
    let assembly = Assembly::from(FRONT_LEFT);
    let plate = harness.state().session.plate(assembly, Hardpoint::TieRodInner);
    assert_eq!(plate, Some(nalgebra::Vector3::y()));
    for (label, text) in [("across", "2"), ("up", "-3")] {
        let field = format!("front left, tie rod, inner end, {label} in the plate in mm");
        harness.get_by_label(&field).focus();
        harness.run();
        harness.get_by_label(&field).type_text(text);
        harness.key_press(Key::Enter);
        harness.run();
    }
    let place = |car: &wheelpath_geometry::Car| assembly.hardpoints(car).get(Hardpoint::TieRodInner).unwrap();
    let session = &harness.state().session;
    let by = place(session.car()) - place(session.original());
    assert!((by - nalgebra::Vector3::new(2e-3, 0.0, -3e-3)).norm() < 1e-12, "{by}");
}
