//! Saving the car as a new file, and changes found from an earlier run.

use super::notices::{notices_ui, sentence};
use super::ui_state::UiState;
use crate::session::{About, Edit, Session};
use bevy_egui::egui::{Align, Button, Label, Layout, RichText, TextEdit, Ui, vec2};
use std::path::PathBuf;

pub(super) fn save_ui(ui: &mut Ui, session: &Session, state: &mut UiState, edits: &mut Vec<Edit>) {
    let mut name = state.save_name.clone().unwrap_or_else(|| session.suggested_path().display().to_string());
    let path = PathBuf::from(name.trim());
    let exists = path.exists();
    let (text, hint) = if exists {
        ("Replace it", "This file is there already; it is replaced in one step, or not at all")
    } else {
        ("Save as new car", "Writes a new car file; the original stays as it is")
    };
    // From the right: the button takes what it needs, the field what is left.
    let row = vec2(ui.available_width(), ui.spacing().interact_size.y);
    ui.allocate_ui_with_layout(row, Layout::right_to_left(Align::Center), |ui| {
        if ui.add_enabled(!path.as_os_str().is_empty(), Button::new(text)).on_hover_text(hint).clicked() {
            edits.push(Edit::SaveAs { path, replace: exists });
            state.save_name = None;
        }
        let field = ui.add(TextEdit::singleline(&mut name).desired_width(ui.available_width()));
        ui.ctx().accesskit_node_builder(field.id, |node| node.set_label("New car file"));
        if field.changed() {
            state.save_name = Some(name.clone());
        }
    });
    notices_ui(ui, session, &state.palette(), |about| about == About::File);
    if let Some(path) = session.saved_to().filter(|_| session.is_saved_as_car()) {
        let text = RichText::new(format!("Saved to {}", path.display())).small().weak();
        ui.add(Label::new(text).truncate());
    }
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
