//! Small windows, large text, and everything that may come of both: panels give way, nothing is lost, nothing
//! ends the program.

use super::{Bench, bench};
use crate::panels::{Front, Task};
use bevy_egui::egui::{Rect, Vec2, pos2, vec2};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use wheelpath_session::Edit;

/// Whether something of this name is in the window, not cut off at a side.
fn stands_in(harness: &Harness<'static, Bench>, name: &str, size: Vec2) -> bool {
    let window = Rect::from_min_size(Default::default(), size).expand(0.5);
    harness.query_all_by_label(name).any(|node| window.contains_rect(node.rect()))
}

#[test]
fn no_size_of_window_or_text_ends_the_program() {
    let sizes = [
        (1.0, 1.0),
        (16.0, 4000.0),
        (256.0, 144.0),
        (320.0, 240.0),
        (480.0, 360.0),
        (640.0, 480.0),
        (800.0, 600.0),
        (900.0, 90.0),
        (937.0, 700.0),
        (938.0, 700.0),
        (3840.0, 2160.0),
        (3840.0, 30.0),
    ];
    for scale in [0.8, 0.85, 1.0, 1.75, 2.0] {
        for task in [Task::Look, Task::Change, Task::Decide] {
            let mut harness = bench(vec2(1280.0, 720.0), |bench| {
                bench.state.task = task;
                bench.state.text_scale = scale;
            });
            harness.state_mut().session.apply(Edit::SetSteer(0.01));
            for (width, height) in sizes {
                let size = vec2(width, height);
                harness.set_size(size);
                for front in [Front::Stage, Front::Task, Front::Curves] {
                    harness.state_mut().state.front = front;
                    harness.run_steps(2);
                    let area = harness.state().area.unwrap();
                    let [right, bottom] = [area.left + area.width, area.top + area.height];
                    let least = if front == Front::Stage { 1.0 } else { 0.0 };
                    assert!(area.width >= least && area.height >= least, "{area:?} of {size:?}");
                    assert!(area.left.is_finite() && area.top.is_finite(), "{area:?} of {size:?}");
                    assert!(right <= width + 1.0 && bottom <= height + 1.0, "{area:?} of {size:?}");
                }
            }
        }
    }
}

/// In a window lower than the handle of a bar that scrolls, a click on that bar.
#[test]
fn a_click_in_a_window_of_a_few_points_ends_nothing() {
    for height in [5.0, 12.0, 18.0, 25.0, 60.0] {
        let mut harness = bench(vec2(900.0, height), |_| {});
        for x in [889.0, 892.0, 895.0, 898.0] {
            for y in [1.0, 0.4 * height, 0.7 * height, height - 1.0] {
                harness.drag_at(pos2(x, y));
                harness.drop_at(pos2(x, y));
                harness.run_steps(3);
            }
        }
        assert!(harness.state().area.is_some(), "{height}");
    }
}

#[test]
fn a_small_window_has_all_of_it_in_turns() {
    for (size, scale) in [
        (vec2(900.0, 700.0), 1.0),
        (vec2(900.0, 700.0), 1.45),
        (vec2(800.0, 600.0), 1.0),
        (vec2(800.0, 600.0), 1.75),
        (vec2(640.0, 480.0), 1.0),
    ] {
        let mut harness = bench(size, |bench| bench.state.text_scale = scale);
        let area = harness.state().area.unwrap();
        assert!(area.width >= 250.0 && area.height >= 0.4 * size.y, "{area:?} in {size:?}");
        let always = ["Look", "Change", "Decide", "Curves", "Files", "Reset pose", "Play travel", "Overlays"];
        for tab in ["Curves", "Change", "Decide", "Look"] {
            harness.get_by_label(tab).click();
            harness.run();
            for name in always {
                assert!(stands_in(&harness, name, size), "{name} with {tab} in {size:?} at {scale}");
            }
            let own = match tab {
                "Curves" => "Close Toe over travel, front",
                "Change" => "Both sides",
                "Decide" => "Before and after in a table",
                _ => "Rear axle",
            };
            assert!(stands_in(&harness, own, size), "{own} in {size:?} at {scale}");
        }
        // Where there is room again, the curves have their own place.
        harness.set_size(vec2(1920.0, 1080.0));
        harness.run();
        assert!(
            harness.query_by_label("Curves").is_none() && harness.query_by_label("Add a curve").is_some()
        );
    }
}

#[test]
fn a_tiny_window_shows_one_thing_at_a_time() {
    let size = vec2(420.0, 420.0);
    let mut harness = bench(size, |_| {});
    let area = harness.state().area.unwrap();
    assert!(area.width > 400.0 && area.height > 120.0, "the car is in front: {area:?}");
    for (tab, own) in
        [("Look", "Rear axle"), ("Change", "Both sides"), ("Curves", "Close Toe over travel, front")]
    {
        harness.get_by_label(tab).click();
        harness.run();
        assert!(stands_in(&harness, own, size), "{own}");
        assert!(harness.state().area.unwrap().width < 1.0);
    }
    harness.get_by_label("Car").click();
    harness.run();
    assert!(harness.state().area.unwrap().width > 400.0);
}

/// A click on a reading hangs its curve on the wall; where that takes turns with the readings, it is shown.
#[test]
fn a_curve_asked_for_in_a_small_window_is_shown() {
    let mut harness = bench(vec2(800.0, 600.0), |_| {});
    harness.get_by_label("Caster angle").click();
    harness.run();
    assert!(harness.query_by_label_contains("Curve: Caster angle").is_some());
    assert_eq!(harness.state().state.front, Front::Curves);
}

/// At every size of window and text what stands in the drawer of changes is above the pose bar, or scrolls.
#[test]
fn the_drawer_of_changes_never_lies_over_the_pose_bar() {
    let (mut scrolled, mut whole) = (0, 0);
    for size in [vec2(1264.0, 680.0), vec2(800.0, 600.0), vec2(602.0, 524.0), vec2(1280.0, 720.0)] {
        for scale in [1.0, 1.2, 1.45, 1.75, 2.0] {
            let mut harness = bench(size, |bench| {
                (bench.state.task, bench.state.front) = (Task::Change, Front::Task);
                bench.state.text_scale = scale;
            });
            harness.run();
            if harness.state().state.drawer_scrolls {
                scrolled += 1;
                continue;
            }
            whole += 1;
            let bar = harness.get_by_label("Reset pose").rect().top();
            let bottom = harness.get_by_label_contains("Geometry only, no strength").rect().bottom();
            assert!(bottom <= bar, "down to {bottom}, the pose from {bar}, in {size:?} at {scale}");
        }
    }
    assert!(scrolled > 2 && whole > 2, "{scrolled} and {whole}");
}
