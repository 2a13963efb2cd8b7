//! Which way to go, the contour map, and whether it fits: by mouse and keyboard.

use super::{Bench, FRONT_LEFT, FRONT_RIGHT, Task, bench, bench_of, rod_inner};
use bevy_egui::egui::{Pos2, Vec2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use std::time::{Duration, Instant};
use wheelpath_geometry::{Assembly, Hardpoint};
use wheelpath_session::Goal;

fn on_the_rod(size: Vec2, prepare: impl FnOnce(&mut Bench)) -> Harness<'static, Bench> {
    bench(size, |bench| {
        bench.state.task = Task::Change;
        bench.state.select(Some((FRONT_LEFT.into(), Hardpoint::TieRodInner)));
        prepare(bench);
    })
}

/// Runs until a thread beside the window has answered.
pub(super) fn wait(harness: &mut Harness<'static, Bench>, until: impl Fn(&Harness<'static, Bench>) -> bool) {
    let start = Instant::now();
    while !until(harness) {
        assert!(start.elapsed() < Duration::from_secs(120), "it never came");
        std::thread::sleep(Duration::from_millis(5));
        harness.run();
    }
    // What came in the last frame is drawn in the next.
    harness.run();
}

#[test]
fn a_point_says_which_way_bump_steer_falls_and_is_told_otherwise_by_a_click() {
    let mut harness = on_the_rod(vec2(1280.0, 1400.0), |_| {});
    let said = |harness: &Harness<'static, Bench>| {
        let found = harness.query_all_by_label_contains("Bump steer").find_map(|node| {
            let label = node.value().or_else(|| node.accesskit_node().label())?;
            label.contains("per mm").then_some(label)
        });
        found.unwrap()
    };
    let first = said(&harness);
    harness.get_by_label("Bump steer: wanted").click();
    harness.run();
    assert_eq!(harness.state().state.change.ways[0].aim, Goal::More);
    harness.get_by_label("Bump steer: wanted").click();
    harness.run();
    assert_eq!(harness.state().state.change.ways[0].aim, Goal::Less);
    let last = said(&harness);
    let (way, what) = first.split_once(": ").unwrap();
    assert!(what.starts_with("Bump steer ") && what.ends_with(" per mm"), "{first}");
    let words = way.to_lowercase();
    assert!(words.contains("up") != words.contains("down"), "the way comes first: {first}");
    assert!(last.contains('−'), "{last}");
    harness.get_by_label("Close Bump steer").click();
    harness.run();
    assert!(harness.state().state.change.ways.is_empty());
}

#[test]
fn a_click_in_the_map_puts_the_point_there_on_both_sides_and_undo_takes_it_back() {
    let mut harness = on_the_rod(vec2(1280.0, 1400.0), |_| {});
    let name = "Contour map: front left tie rod, inner end";
    assert!(harness.query_by_label(name).is_none());
    harness.get_by_label("Contour map").click();
    harness.run();
    // Finer ones that come in the middle of a click would stretch it to a pull.
    wait(&mut harness, |harness| harness.state().state.map_shown().is_some_and(|sheet| sheet.finished));
    harness.run();
    let start = rod_inner(harness.state(), FRONT_LEFT);
    let rect = harness.get_by_label(name).rect();
    // A quarter of the way down from the middle: 5 of ±10 mm.
    let at = Pos2::new(rect.center().x, rect.center().y + 0.25 * rect.height());
    harness.hover_at(at);
    harness.run();
    harness.drag_at(at);
    harness.run();
    harness.drop_at(at);
    harness.run();
    for wheel in [FRONT_LEFT, FRONT_RIGHT] {
        let moved = rod_inner(harness.state(), wheel) - start;
        assert!((moved + 5e-3).abs() < 1.1e-4, "{wheel}: {moved}");
    }
    assert_eq!(harness.state().session.steps().count(), 1);
    harness.get_by_label("Undo").click();
    harness.run();
    assert!(!harness.state().session.is_changed());
    // Another point has a map of its own; a point of the axle as a whole has none.
    harness.get_by_label("Close the map").click();
    harness.run();
    assert!(harness.query_by_label(name).is_none() && !harness.state().state.map.open);
}

#[test]
fn a_beam_says_why_it_has_no_map() {
    let mut harness = bench_of("hazel", vec2(1280.0, 1400.0), |bench| {
        let rear = Assembly::ALL[2];
        let (hardpoint, _) = rear.hardpoints(bench.session.car()).iter().next().unwrap();
        bench.state.task = Task::Change;
        bench.state.select(Some((rear, hardpoint)));
        bench.state.map.open = true;
    });
    harness.run();
    assert!(harness.query_by_label_contains("A beam axle's wheels move together").is_some());
}

#[test]
fn a_click_on_a_distance_goes_to_its_worst_pose_and_shows_it_there_only() {
    let mut harness = bench(vec2(1280.0, 1800.0), |bench| bench.state.task = Task::Decide);
    harness.get_by_label("Will it fit").click();
    harness.run();
    wait(&mut harness, |harness| {
        harness.query_all_by_label_contains(" to ").any(|node| {
            node.accesskit_node()
                .label()
                .is_some_and(|label| label.ends_with(" mm") && label.contains("ront left"))
                || node.value().is_some_and(|label| label.ends_with(" mm"))
        })
    });
    let before = *harness.state().session.held_pose();
    let row = |harness: &Harness<'static, Bench>| {
        let mut rows = harness.query_all_by_label_contains(" mm").filter_map(|node| {
            let label = node.accesskit_node().label().or_else(|| node.value())?;
            (label.starts_with(['✔', '!', '✖']) && label.contains(" to "))
                .then(|| (label, node.rect().center()))
        });
        rows.next().unwrap()
    };
    let (label, at) = row(&harness);
    harness.hover_at(at);
    harness.run();
    harness.drag_at(at);
    harness.run();
    harness.drop_at(at);
    harness.run();
    let bench = harness.state();
    assert_ne!(*bench.session.held_pose(), before, "{label}");
    let gap = bench.state.decide.fit.gap(&bench.session).unwrap();
    let apart = (gap.at[0] - gap.at[1]).norm();
    let said: f64 = label.rsplit(": ").next().unwrap().trim_end_matches(" mm").parse().unwrap();
    assert!((apart * 1e3 - said).abs() < 0.051, "{label}: {apart}");
    harness.state_mut().session.apply(wheelpath_session::Edit::ResetPose);
    harness.run();
    let bench = harness.state();
    assert!(bench.state.decide.fit.gap(&bench.session).is_none(), "in another pose it says nothing");
}

#[test]
fn side_by_side_is_for_what_differs() {
    let mut harness = on_the_rod(vec2(1280.0, 720.0), |_| {});
    harness.get_by_label("Side by side").click();
    harness.run();
    assert!(!harness.state().state.beside, "nothing differs");
    let session = &mut harness.state_mut().session;
    let assembly: Assembly = FRONT_LEFT.into();
    let to = assembly.hardpoints(session.car()).get(Hardpoint::TieRodInner).unwrap()
        + nalgebra::Vector3::new(0.0, 0.0, -2e-3);
    session.apply(wheelpath_session::Edit::Change(wheelpath_session::CarEdit::move_point(
        assembly,
        Hardpoint::TieRodInner,
        to,
        true,
    )));
    harness.run();
    harness.get_by_label("Side by side").click();
    harness.run();
    assert!(harness.state().state.beside);
}
