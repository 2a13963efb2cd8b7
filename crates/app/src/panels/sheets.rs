//! Sheets to drill by: one for each bracket on which a point is moved.

use super::notices::sentence;
use super::theme::colour;
use super::ui_state::UiState;
use crate::session::{Edit, Session};
use bevy_egui::egui::{Label, RichText, Ui};

pub(super) fn sheets_ui(ui: &mut Ui, session: &Session, state: &UiState, edits: &mut Vec<Edit>) {
    let brackets = session.brackets_moved();
    let fault = session.beside().brackets_fault.as_ref();
    if brackets.is_empty() && fault.is_none() {
        return;
    }
    ui.add_space(6.0);
    ui.label(RichText::new("Bracket sheets").strong()).on_hover_text(
        "Old and new holes, how exactly the new ones must be placed, and a template at full size to drill by",
    );
    if let Some(fault) = fault {
        ui.label(RichText::new(sentence(fault)).color(colour(state.palette().fault)));
    }
    for bracket in brackets {
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing.x = 4.0;
            ui.label(&bracket.name);
            for ending in ["pdf", "svg", "dxf"] {
                let path = session.sheet_path(&bracket.name).with_extension(ending);
                let there = written(&path).exists();
                let verb = if there { "replaces" } else { "writes" };
                let button =
                    ui.button(ending.to_uppercase()).on_hover_text(format!("{verb} {}", path.display()));
                let name = format!("Sheet of {}, {ending}", bracket.name);
                ui.ctx().accesskit_node_builder(button.id, |node| node.set_label(name));
                if button.clicked() {
                    edits.push(Edit::WriteSheet { bracket: bracket.name.clone(), path, replace: there });
                }
            }
        });
    }
    for file in session.sheets_written() {
        let text = RichText::new(format!("Wrote {}", file.display())).small().weak();
        ui.add(Label::new(text).wrap());
    }
    if !session.sheets_written().is_empty() {
        let text =
            "Geometry only: strength, weld and edge distance are a qualified person's; series rules apply.";
        ui.label(RichText::new(text).small().weak());
    }
}

/// The file that stands for a sheet: of several pages, the first.
fn written(path: &std::path::Path) -> std::path::PathBuf {
    let is_pages = path.extension().is_some_and(|ending| ending == "svg");
    match path.file_stem() {
        Some(stem) if is_pages => path.with_file_name(format!("{}-1.svg", stem.to_string_lossy())),
        _ => path.to_owned(),
    }
}
