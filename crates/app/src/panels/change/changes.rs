//! Undo and redo by name, and what an edit did to the readings.

use crate::panels::change::change_state::ChangePanel;
use crate::panels::readings::definition_ui;
use crate::panels::widgets::notices::capital;
use crate::panels::widgets::theme::{colour, text_colour};
use bevy_egui::egui::{Align, Button, Grid, Label, Layout, RichText, TextStyle, Ui, vec2};
use wheelpath_session::{Edit, Session};

pub(in crate::panels) fn undo_ui(ui: &mut Ui, session: &Session, edits: &mut Vec<Edit>) {
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
        let last = capital(session.next_undo().unwrap_or("nothing changed yet"));
        ui.add(Label::new(RichText::new(last).small().weak()).truncate());
    });
}

/// The readings that moved most against the original.
pub(in crate::panels) fn moved_ui(ui: &mut Ui, session: &Session, state: &ChangePanel<'_>, rows: usize) {
    if !session.differs() {
        ui.label(RichText::new("Move a point: what it did to the readings stands here.").small().weak());
        return;
    }
    let palette = state.palette();
    let moved = session.moved_most(rows);
    if moved.is_empty() {
        let said = if session.baseline_values().is_some() {
            "No reading moved in this pose.".to_owned()
        } else {
            format!("{} does not reach this pose: nothing to compare with.", capital(session.baseline_name()))
        };
        ui.label(RichText::new(said).small().weak());
        return;
    }
    ui.label(RichText::new("Moved most, in the pose shown").small().weak());
    let font = TextStyle::Small.resolve(ui.style());
    let texts: Vec<[String; 2]> = moved
        .iter()
        .map(|one| {
            let unit = one.reading.unit;
            [unit.write(one.to, state.lengths), unit.write_change(one.from, one.to, state.lengths)]
        })
        .collect();
    // Columns of numbers as wide as their widest.
    let wide =
        |text: &String| ui.painter().layout_no_wrap(text.clone(), font.clone(), colour(palette.ink)).size().x;
    let widths = [0, 1]
        .map(|n| texts.iter().filter_map(|pair| pair.get(n)).map(wide).fold(5.0 * font.size, f32::max) + 1.0);
    let width = (ui.available_width() - widths.iter().sum::<f32>() - 12.0).max(4.0 * font.size);
    let height = font.size * 1.5;
    Grid::new("moved most").num_columns(3).min_col_width(0.0).spacing(vec2(6.0, 2.0)).show(ui, |ui| {
        for (one, [to, change]) in moved.iter().zip(texts) {
            ui.allocate_ui_with_layout(vec2(width, height), Layout::left_to_right(Align::Center), |ui| {
                ui.set_width(width);
                let name = RichText::new(one.title()).small();
                ui.add(Label::new(name).truncate()).on_hover_ui(|ui| definition_ui(ui, one.reading));
            });
            let mut number = |text: String, tint, width| {
                let (right, cell) = (Layout::right_to_left(Align::Center), vec2(width, height));
                let label = Label::new(RichText::new(text).small().color(tint)).extend();
                ui.allocate_ui_with_layout(cell, right, |ui| {
                    ui.set_min_size(cell);
                    ui.add(label)
                })
                .inner
            };
            number(to, text_colour(&palette, one.reading.key), widths[0]);
            number(change, colour(palette.accent), widths[1]).on_hover_text(format!(
                "{}: {}",
                capital(session.baseline_name()),
                one.reading.unit.write(one.from, state.lengths)
            ));
            ui.end_row();
        }
    });
}
