//! Proposals weighed in the drawer.

use super::{Bench, bench};
use crate::panels::Task;
use bevy_egui::egui::vec2;
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;

fn deciding() -> Harness<'static, Bench> {
    bench(vec2(1280.0, 900.0), |bench| {
        let beside = crate::front::beside(&wheelpath_command_line::demo_car().unwrap());
        bench.session = bench.session.clone().with_beside(beside);
        bench.state.task = Task::Decide;
    })
}

#[test]
fn a_proposal_is_made_and_mends_a_limit() {
    let mut harness = deciding();
    assert!(harness.query_by_label_contains("✖ Bump steer, front: −0.09°").is_some());
    harness.get_by_label("Make: Tie rod down").click();
    harness.run();
    assert!(harness.query_by_label_contains("✔ Bump steer, front: −0.01° (−0.09°, broken)").is_some());
    assert_eq!(harness.state().session.next_undo(), Some("proposal: Tie rod down"));
    // A click on a limit goes to its worst pose.
    harness.get_by_label_contains("Bump steer, front").click();
    harness.run();
    assert!((harness.state().session.held_pose().travel[0] - 0.025).abs() < 1e-6);
    // Compared with itself, nothing is left to tell.
    harness.get_by_label("Compare: Tie rod down").click();
    harness.run();
    assert!(!harness.state().session.differs());
    assert_eq!(harness.state().session.baseline_name(), "Tie rod down");
}
