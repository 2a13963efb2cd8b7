//! No size of the window and of its text ends the program.

use super::{Task, bench};
use crate::session::Edit;
use bevy_egui::egui::vec2;

#[test]
fn the_panels_stand_in_a_window_of_any_size() {
    for (width, height) in
        [(1.0, 1.0), (320.0, 240.0), (640.0, 480.0), (800.0, 600.0), (937.0, 700.0), (3840.0, 2160.0)]
    {
        for task in [Task::Look, Task::Change, Task::Decide] {
            for scale in [0.8, 1.0, 2.0] {
                let mut harness = bench(vec2(width, height), |bench| {
                    bench.state.task = task;
                    bench.state.text_scale = scale;
                });
                harness.state_mut().session.apply(Edit::SetSteer(0.01));
                harness.step();
                let area = harness.state().area.unwrap();
                assert!(area.width >= 1.0 && area.height >= 1.0, "{width} x {height}: {area:?}");
                assert!(area.left.is_finite() && area.top.is_finite(), "{width} x {height}: {area:?}");
            }
        }
    }
}
