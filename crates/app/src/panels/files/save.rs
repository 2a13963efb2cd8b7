//! Saving the car as a new file, and changes found from an earlier run.

use crate::panels::files::files_state::Files;
use crate::panels::widgets::meant::is_live;
use crate::panels::widgets::notices::sentence;
use bevy_egui::egui::{
    Align, Button, Label, Layout, RichText, Sense, TextEdit, TextStyle, Ui, UiBuilder, vec2,
};
use std::path::{Path, PathBuf};
use wheelpath_session::{About, Edit, FileCommand, Session};

pub(in crate::panels) fn save_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut Files<'_>,
    edits: &mut Vec<Edit>,
) {
    // What was typed goes once it is saved; where saving failed it stays, to be put right.
    if let Some(asked) = state.own.save_asked.take()
        && session.saved_to() == Some(asked.as_path())
    {
        state.own.save_name = None;
    }
    let mut name =
        state.own.save_name.clone().unwrap_or_else(|| session.suggested_path().display().to_string());
    let path = PathBuf::from(name.trim());
    let exists = path.exists();
    // From the right: the button takes what it needs, the field what is left.
    let row = vec2(ui.available_width(), ui.spacing().interact_size.y);
    ui.allocate_ui_with_layout(row, Layout::right_to_left(Align::Center), |ui| {
        let can = !exists && !path.as_os_str().is_empty();
        let save = ui.add_enabled(can, Button::new("Save as new car"));
        let save = save.on_hover_text("Writes a new car file; the original stays as it is");
        if save.on_disabled_hover_text("Type a name that is free").clicked() {
            edits.push(Edit::File(FileCommand::SaveAs { path: path.clone(), replace: false }));
            state.own.save_name = Some(name.clone());
            state.own.save_asked = Some(path.clone());
        }
        let field = ui.add(TextEdit::singleline(&mut name).desired_width(ui.available_width()));
        ui.ctx().accesskit_node_builder(field.id, |node| node.set_label("New car file"));
        if field.changed() {
            state.own.save_name = Some(name.clone());
        }
    });
    // One line always, whatever it says: what stands here keeps its place.
    one_line(ui, |ui| {
        if exists {
            if state.own.save_over.as_ref().is_none_or(|(known, _)| *known != path) {
                state.own.save_over = Some((path.clone(), car_in(&path)));
            }
            let there = state.own.save_over.as_ref().map_or("", |(_, there)| there.as_str());
            if replace_ui(ui, &path.display().to_string(), there) {
                edits.push(Edit::File(FileCommand::SaveAs { path: path.clone(), replace: true }));
                state.own.save_name = Some(name.clone());
                state.own.save_asked = Some(path.clone());
                state.own.save_over = None;
            }
            return;
        }
        let is_refused = session.notices().iter().any(|notice| notice.about == About::File && notice.severe);
        let saved = session.saved_to().filter(|_| session.is_saved_as_car() && !is_refused);
        let text = saved.map_or_else(
            || "Writes a new car file; the original stays as it is".to_owned(),
            |path| format!("Saved to {}", path.display()),
        );
        ui.add(Label::new(RichText::new(text).small().weak()).truncate());
    });
}

/// A row as high as a line of small buttons, whatever stands in it, nothing too.
pub(in crate::panels) fn one_line(ui: &mut Ui, add: impl FnOnce(&mut Ui)) {
    let size = vec2(ui.available_width(), ui.text_style_height(&TextStyle::Button).max(16.0) + 2.0);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let row = UiBuilder::new().max_rect(rect).layout(Layout::left_to_right(Align::Center));
    add(&mut ui.new_child(row));
}

/// Offers to replace what lies where something is to be saved; gives whether it is to be.
pub(in crate::panels) fn replace_ui(ui: &mut Ui, file: &str, there: &str) -> bool {
    let hint = format!(
        "{file} is there already: {there}. It is replaced in one step, or not at all; what it held is gone then."
    );
    let button = ui.add(Button::new(format!("Replace {there}")).small().truncate());
    button.on_hover_text(hint).clicked()
}

/// What a file holds, in words.
fn car_in(path: &Path) -> String {
    let name = path.display().to_string();
    let text = std::fs::read_to_string(path).ok();
    let car = text.and_then(|text| wheelpath_car_file::parse(&text, &name).ok()).map(|read| read.car.name);
    car.map_or_else(|| "a file that is no car".to_owned(), |car| format!("the car {car}"))
}

/// So many changes are listed; the others are in the hint.
const LISTED: usize = 6;

fn changes_ui(ui: &mut Ui, changes: &[String]) {
    for change in changes.iter().take(LISTED) {
        ui.label(RichText::new(format!("• {change}")).small());
    }
    if changes.len() > LISTED {
        let more = format!("and {} more", changes.len() - LISTED);
        ui.label(RichText::new(more).small().weak()).on_hover_text(changes.join("\n"));
    }
}

/// Said of a button that takes something away and has come under the pointer.
pub(in crate::panels) const NOT_YET: &str =
    "This has only just come under the pointer: move the pointer away and back";

/// Offers unsaved changes of an earlier run, with what they are. They can be thrown away where a click on that
/// is meant.
pub(in crate::panels) fn recovery_ui(ui: &mut Ui, session: &Session, edits: &mut Vec<Edit>, is_meant: bool) {
    let Some(text) = session.recoverable_text() else { return };
    let changes = session.recoverable_changes();
    ui.label(sentence(&text));
    changes_ui(ui, &changes);
    let is_live = is_live(ui, is_meant);
    let row = vec2(ui.available_width(), ui.spacing().interact_size.y);
    ui.allocate_ui_with_layout(row, Layout::left_to_right(Align::Center), |ui| {
        if ui.button("Take them up").clicked() {
            edits.push(Edit::File(FileCommand::Recover));
            edits.push(Edit::Settle);
        }
        // Apart from what keeps them.
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let lost = match changes.len() {
                1 => "This change is not in the car then".to_owned(),
                count => format!("These {count} changes are not in the car then"),
            };
            let away = ui.add_enabled(is_live, Button::new("Throw them away").small());
            let hint = format!("{lost}; the menu Files can bring them back.");
            let away = away.on_disabled_hover_text(NOT_YET);
            if away.on_hover_text(format!("{hint}\n{}", changes.join("\n"))).clicked() {
                edits.push(Edit::File(FileCommand::DiscardRecovery));
            }
        });
    });
}

/// Says what was just thrown away, and offers it again.
pub(in crate::panels) fn thrown_away_ui(ui: &mut Ui, session: &Session, edits: &mut Vec<Edit>) {
    let Some(changes) = session.thrown_away_changes() else { return };
    ui.label("Thrown away:");
    changes_ui(ui, &changes);
    let row = vec2(ui.available_width(), ui.spacing().interact_size.y);
    ui.allocate_ui_with_layout(row, Layout::left_to_right(Align::Center), |ui| {
        if ui.button("Bring them back").clicked() {
            edits.push(Edit::File(FileCommand::BringBack));
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let hint = "The menu Files can still bring them back";
            if ui.small_button("Close this message").on_hover_text(hint).clicked() {
                edits.push(Edit::File(FileCommand::LeaveThrownAway));
            }
        });
    });
}
