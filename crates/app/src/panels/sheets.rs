//! Sheets to drill by: one for each bracket on which a point is moved.

use super::notices::sentence;
use super::theme::colour;
use super::ui_state::UiState;
use crate::errand::Errand;
use crate::session::{Edit, Session, SheetJob, SheetOutcome, first_file};
use bevy_egui::egui::{Button, Context, Label, RichText, Ui};
use std::sync::Arc;

/// A sheet on its way, and what became of which.
pub(super) type SheetErrand = Errand<Arc<SheetJob>, (u64, SheetOutcome)>;

/// Has the sheet that was asked for written beside the window, whatever is shown meanwhile, and brings what
/// became of it.
pub(super) fn write_sheet(context: &Context, session: &Session, state: &mut UiState, edits: &mut Vec<Edit>) {
    let Some(job) = session.sheet_in_hand() else { return };
    let number = job.number();
    let wake = context.clone();
    let done = state.bracket_sheet.of(
        Arc::clone(job),
        |_| false,
        move || wake.request_repaint(),
        |job, _, hand_over| hand_over((job.number(), job.write())),
    );
    let outcome = match done.as_deref() {
        Some((of, outcome)) if *of == number => outcome.clone(),
        _ if state.bracket_sheet.gave_up() => {
            let remedy = "look whether the file is there, and ask for it again";
            Err(["not written: the work on the sheet broke off".into(), remedy.into()])
        }
        _ => return,
    };
    edits.push(Edit::SheetDone { number, outcome });
}

pub(super) fn sheets_ui(ui: &mut Ui, session: &Session, state: &mut UiState, edits: &mut Vec<Edit>) {
    let brackets = session.brackets_moved();
    let fault = session.beside().brackets_fault.as_ref();
    let (in_hand, written) = (session.sheet_in_hand(), session.sheets_written());
    if brackets.is_empty() && fault.is_none() && in_hand.is_none() && written.is_empty() {
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
        bracket_ui(ui, session, &bracket.name, state, edits);
    }
    if let Some(job) = in_hand {
        ui.add(Label::new(RichText::new("Writing…").small().weak()))
            .on_hover_text(format!("{}, of the car as it was at the click", job.path().display()));
    }
    for file in written {
        let of = session.sheets_written_of().unwrap_or_default();
        let text = RichText::new(format!("Wrote {}, of {of}", file.display())).small().weak();
        ui.add(Label::new(text).wrap());
    }
    if !written.is_empty() {
        let text =
            "Geometry only: strength, weld and edge distance are a qualified person's; series rules apply.";
        ui.label(RichText::new(text).small().weak());
    }
}

/// The kinds of sheet of a bracket, and, where the file of one that was asked for is there already, what is
/// to become of that.
fn bracket_ui(ui: &mut Ui, session: &Session, bracket: &str, state: &mut UiState, edits: &mut Vec<Edit>) {
    let is_free = session.sheet_in_hand().is_none();
    let path = session.sheet_path(bracket);
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        ui.label(bracket);
        for ending in ["pdf", "svg", "dxf"] {
            let path = path.with_extension(ending);
            let button = ui
                .add_enabled(is_free, Button::new(ending.to_uppercase()))
                .on_hover_text(format!("Writes {}", path.display()))
                .on_disabled_hover_text("When the sheet that is being written is done");
            let name = format!("Sheet of {bracket}, {ending}");
            ui.ctx().accesskit_node_builder(button.id, |node| node.set_label(name));
            if button.clicked() {
                if first_file(&path).exists() {
                    state.sheet_over = Some((bracket.to_owned(), path));
                } else {
                    state.sheet_over = None;
                    edits.push(Edit::WriteSheet { bracket: bracket.to_owned(), path, replace: false });
                }
            }
        }
    });
    let asked =
        state.sheet_over.clone().filter(|(of, over)| of == bracket && over.with_extension("pdf") == path);
    let Some((_, over)) = asked else { return };
    let name = |path: &std::path::Path| path.file_name().unwrap_or_default().to_string_lossy().into_owned();
    ui.label(RichText::new(format!("{} is there already.", name(&over))).small());
    ui.horizontal_wrapped(|ui| {
        let free = session.free_sheet_path(&over);
        let mut write = |ui: &mut Ui, text: String, path: std::path::PathBuf, replace| {
            if ui.add_enabled(is_free, Button::new(text).small()).clicked() {
                state.sheet_over = None;
                edits.push(Edit::WriteSheet { bracket: bracket.to_owned(), path, replace });
            }
        };
        write(ui, format!("Write {} beside it", name(&free)), free, false);
        write(ui, format!("Replace {}", name(&over)), over.clone(), true);
    });
}
