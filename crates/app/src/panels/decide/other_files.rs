//! A table of moved points, and another car to compare with: typed paths.

use crate::panels::decide::decide_state::Decide;
use bevy_egui::egui::{Button, RichText, TextEdit, Ui};
use std::path::{Path, PathBuf};
use wheelpath_session::{Edit, FileCommand, Session};

pub(in crate::panels) fn other_files_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut Decide<'_>,
    edits: &mut Vec<Edit>,
) {
    ui.label(RichText::new("From another file").small()).on_hover_text(
        "A table of points (CSV: name, x, y, z) becomes what is changed; a car file becomes what is compared with",
    );
    let field = TextEdit::singleline(&mut state.own.other_file).desired_width(ui.available_width());
    let field = ui.add(field.hint_text("points.csv or car.ron"));
    ui.ctx().accesskit_node_builder(field.id, |node| node.set_label("Another file"));
    let path = found(session, state.own.other_file.trim());
    let ends = |ending: &str| path.extension().is_some_and(|end| end.eq_ignore_ascii_case(ending));
    let is_there = path.is_file();
    ui.horizontal(|ui| {
        let can = is_there && !ends("ron");
        let hint = "The points that differ from the original's, as one step; save it as a proposal then";
        if ui.add_enabled(can, Button::new("Import moved points")).on_hover_text(hint).clicked() {
            edits.push(Edit::File(FileCommand::ImportTable(path.clone())));
        }
        let can = is_there && ends("ron");
        let hint = "Ghost, dashed curves and changes are against this car";
        if ui.add_enabled(can, Button::new("Compare with it")).on_hover_text(hint).clicked() {
            edits.push(Edit::File(FileCommand::CompareWithCar(path.clone())));
        }
    });
}

/// A path as typed, or beside the car.
fn found(session: &Session, typed: &str) -> PathBuf {
    let plain = PathBuf::from(typed);
    if plain.is_file() || typed.is_empty() {
        return plain;
    }
    session.path().and_then(Path::parent).map_or(plain, |folder| folder.join(typed))
}
