//! Saving the car as a new file, and changes found from an earlier run.

use super::notices::{notices_ui, sentence};
use super::ui_state::UiState;
use crate::session::{About, Edit, Session};
use bevy_egui::egui::{Align, Button, Label, Layout, RichText, TextEdit, Ui, vec2};
use std::path::{Path, PathBuf};

pub(super) fn save_ui(ui: &mut Ui, session: &Session, state: &mut UiState, edits: &mut Vec<Edit>) {
    let mut name = state.save_name.clone().unwrap_or_else(|| session.suggested_path().display().to_string());
    let path = PathBuf::from(name.trim());
    let exists = path.exists();
    // From the right: the button takes what it needs, the field what is left.
    let row = vec2(ui.available_width(), ui.spacing().interact_size.y);
    ui.allocate_ui_with_layout(row, Layout::right_to_left(Align::Center), |ui| {
        let can = !exists && !path.as_os_str().is_empty();
        let save = ui.add_enabled(can, Button::new("Save as new car"));
        let save = save.on_hover_text("Writes a new car file; the original stays as it is");
        if save.on_disabled_hover_text("Type a name that is free").clicked() {
            edits.push(Edit::SaveAs { path: path.clone(), replace: false });
            state.save_name = None;
        }
        let field = ui.add(TextEdit::singleline(&mut name).desired_width(ui.available_width()));
        ui.ctx().accesskit_node_builder(field.id, |node| node.set_label("New car file"));
        if field.changed() {
            state.save_name = Some(name.clone());
        }
    });
    if exists {
        if state.save_over.as_ref().is_none_or(|(known, _)| *known != path) {
            state.save_over = Some((path.clone(), car_in(&path)));
        }
        let there = state.save_over.as_ref().map_or("", |(_, there)| there.as_str());
        if replace_ui(ui, &path.display().to_string(), there) {
            edits.push(Edit::SaveAs { path, replace: true });
            state.save_name = None;
            state.save_over = None;
        }
    }
    notices_ui(ui, session, &state.palette(), |about| about == About::File);
    let is_refused = session.notices().iter().any(|notice| notice.about == About::File && notice.severe);
    if let Some(path) = session.saved_to().filter(|_| session.is_saved_as_car() && !is_refused) {
        let text = RichText::new(format!("Saved to {}", path.display())).small().weak();
        ui.add(Label::new(text).truncate());
    }
}

/// Says what lies where something is to be saved, and gives whether it is to be replaced.
pub(super) fn replace_ui(ui: &mut Ui, file: &str, there: &str) -> bool {
    ui.label(RichText::new(format!("{file} is there already: {there}. Type another name, or")).small());
    let button = ui.small_button(format!("Replace {there}"));
    button.on_hover_text("It is replaced in one step, or not at all; what it held is gone then").clicked()
}

/// What a file holds, in words.
fn car_in(path: &Path) -> String {
    let name = path.display().to_string();
    let text = std::fs::read_to_string(path).ok();
    let car = text.and_then(|text| wheelpath_car_file::parse(&text, &name).ok()).map(|read| read.car.name);
    car.map_or_else(|| "a file that is no car".to_owned(), |car| format!("the car {car}"))
}

/// Offers unsaved changes of an earlier run.
pub(super) fn recovery_ui(ui: &mut Ui, session: &Session, edits: &mut Vec<Edit>) {
    let Some(text) = session.recoverable_text() else { return };
    ui.label(sentence(&text));
    ui.horizontal(|ui| {
        if ui.button("Take them up").clicked() {
            edits.push(Edit::Recover);
            edits.push(Edit::Settle);
        }
        if ui.button("Throw them away").clicked() {
            edits.push(Edit::DiscardRecovery);
        }
    });
    ui.separator();
}
