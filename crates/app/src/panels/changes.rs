//! Undo and redo by name, and what an edit did to the readings.

use super::readings::definition_ui;
use super::theme::{colour, text_colour};
use super::ui_state::UiState;
use crate::session::{Edit, Session, signed};
use bevy_egui::egui::{Button, Grid, Label, RichText, Ui, vec2};
use wheelpath_geometry::LengthUnit;

const MM: LengthUnit = LengthUnit::Millimetre;

pub(super) fn undo_ui(ui: &mut Ui, session: &Session, edits: &mut Vec<Edit>) {
    ui.horizontal(|ui| {
        let undo = ui.add_enabled(session.next_undo().is_some(), Button::new("Undo"));
        let hint = |what: Option<&str>| what.map(str::to_owned).unwrap_or_default();
        if undo.on_hover_text(format!("Ctrl+Z: {}", hint(session.next_undo()))).clicked() {
            edits.push(Edit::Undo);
        }
        let redo = ui.add_enabled(session.next_redo().is_some(), Button::new("Redo"));
        if redo.on_hover_text(format!("Ctrl+Shift+Z: {}", hint(session.next_redo()))).clicked() {
            edits.push(Edit::Redo);
        }
        let last = session.next_undo().unwrap_or("nothing changed yet");
        ui.add(Label::new(RichText::new(last).small().weak()).truncate());
    });
}

/// The readings that moved most against the original.
pub(super) fn moved_ui(ui: &mut Ui, session: &Session, state: &UiState, rows: usize) {
    if !session.is_changed() {
        ui.label(RichText::new("Move a point: what it did to the readings stands here.").small().weak());
        return;
    }
    let palette = state.palette();
    let moved = session.moved_most(rows);
    if moved.is_empty() {
        ui.label(RichText::new("No reading moved in this pose.").small().weak());
        return;
    }
    ui.label(RichText::new("Moved most, in the pose shown").small().weak());
    Grid::new("moved most").num_columns(3).spacing(vec2(8.0, 2.0)).show(ui, |ui| {
        for one in moved {
            let place = one.side.map_or_else(|| one.end.to_string(), |side| format!("{} {side}", one.end));
            let width = ui.spacing().interact_size.y * 6.6;
            ui.scope(|ui| {
                ui.set_max_width(width);
                ui.add(Label::new(format!("{}, {place}", one.reading.name)).truncate())
                    .on_hover_ui(|ui| definition_ui(ui, one.reading));
            });
            let to = one.reading.unit.write(one.to, MM);
            ui.label(RichText::new(to).color(text_colour(&palette, one.reading.key)));
            let change = signed(one.reading.unit, one.to - one.from);
            ui.label(RichText::new(change).color(colour(palette.accent)))
                .on_hover_text(format!("Original: {}", one.reading.unit.write(one.from, MM)));
            ui.end_row();
        }
    });
}
