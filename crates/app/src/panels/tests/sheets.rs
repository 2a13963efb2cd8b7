//! Brackets in the window.

use super::{Task, bench};
use crate::session::{Session, copy_of_alder};
use bevy_egui::egui::vec2;
use egui_kittest::kittest::Queryable;

#[test]
fn a_file_of_brackets_with_a_fault_is_said_to_have_it() {
    let folder = tempfile::tempdir().unwrap();
    let car = copy_of_alder(folder.path());
    let file = folder.path().join("alder/brackets.ron");
    let broken = std::fs::read_to_string(&file).unwrap().replace("[tie_rod_outer]", "[tie_rod_oter]");
    std::fs::write(&file, broken).unwrap();
    let harness = bench(vec2(1280.0, 2200.0), |bench| {
        bench.session = Session::open(&car).unwrap();
        bench.state.task = Task::Decide;
    });
    for said in ["did you mean tie_rod_outer?", "brackets.ron:"] {
        assert!(harness.query_all_by_label_contains(said).next().is_some(), "{said}");
    }
}
