//! Sheets to drill by: one for each bracket on which a point is moved.

use crate::panels::decide::decide_state::Decide;
use crate::panels::files::save::one_line;
use crate::panels::widgets::meant::{is_live, is_meant};
use crate::panels::widgets::notices::sentence;
use crate::panels::widgets::theme::colour;
use bevy_egui::egui::{Button, Context, Label, RichText, Ui};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use wheelpath_session::{Edit, FileCommand, Session, SheetJob, SheetOutcome, first_file};

/// Has the sheet that was asked for written beside the window, whatever is shown meanwhile, and brings what
/// became of it.
pub(in crate::panels) fn write_sheet(
    context: &Context,
    session: &Session,
    state: &mut Decide<'_>,
    edits: &mut Vec<Edit>,
) {
    let Some(job) = session.sheet_in_hand() else { return };
    let number = job.number();
    let wake = context.clone();
    let done = state.own.bracket_sheet.of(
        Arc::clone(job),
        |_| false,
        move || wake.request_repaint(),
        || {
            |job: &Arc<Arc<SheetJob>>, _: &AtomicBool, hand_over: &dyn Fn((u64, SheetOutcome))| {
                hand_over((job.number(), job.write()));
            }
        },
    );
    let outcome = match done.as_deref() {
        Some((of, outcome)) if *of == number => outcome.clone(),
        _ if state.own.bracket_sheet.gave_up() => {
            let remedy = "look whether the file is there, and ask for it again";
            Err(["not written: the work on the sheet broke off".into(), remedy.into()])
        }
        _ => return,
    };
    edits.push(Edit::File(FileCommand::SheetDone { number, outcome }));
}

pub(in crate::panels) fn sheets_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut Decide<'_>,
    edits: &mut Vec<Edit>,
) {
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
fn bracket_ui(ui: &mut Ui, session: &Session, bracket: &str, state: &mut Decide<'_>, edits: &mut Vec<Edit>) {
    let is_free = session.sheet_in_hand().is_none();
    let path = session.sheet_path(bracket);
    // What became of it is said over the buttons, in a line that is always there: it is seen where they are.
    one_line(ui, |ui| {
        ui.label(bracket);
        if let Some(said) = said_of(session, bracket) {
            let label = ui.add(
                Label::new(RichText::new(said).small().color(colour(state.palette().accent))).truncate(),
            );
            let files = session.sheets_written().iter().map(|file| file.display().to_string());
            label.on_hover_text(files.collect::<Vec<_>>().join("\n"));
        }
    });
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
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
                    state.own.sheet_over = Some((bracket.to_owned(), path));
                    state.own.sheet_asked = true;
                } else {
                    state.own.sheet_over = None;
                    edits.push(Edit::File(FileCommand::WriteSheet {
                        bracket: bracket.to_owned(),
                        path,
                        replace: false,
                    }));
                }
            }
        }
    });
    let asked =
        state.own.sheet_over.clone().filter(|(of, over)| of == bracket && over.with_extension("pdf") == path);
    let Some((_, over)) = asked else { return };
    let is_meant = is_meant(ui.ctx(), "sheet over", &over.display().to_string());
    let said = ui.label(RichText::new(format!("{} is there already.", name_of(&over))).small());
    let answers = ui.horizontal_wrapped(|ui| {
        let free = session.free_sheet_path(&over);
        let mut write = |ui: &mut Ui, text: String, path: PathBuf, replace: bool| {
            if ui
                .add_enabled(is_free && (!replace || is_live(ui, is_meant)), Button::new(text).small())
                .clicked()
            {
                state.own.sheet_over = None;
                edits.push(Edit::File(FileCommand::WriteSheet {
                    bracket: bracket.to_owned(),
                    path,
                    replace,
                }));
            }
        };
        write(ui, format!("Write {} beside it", name_of(&free)), free, false);
        write(ui, format!("Replace {}", name_of(&over)), over.clone(), true);
    });
    if state.own.sheet_asked {
        state.own.sheet_asked = false;
        ui.scroll_to_rect(said.rect.union(answers.response.rect), None);
    }
}

fn name_of(path: &Path) -> String {
    path.file_name().unwrap_or_default().to_string_lossy().into_owned()
}

/// What becomes or became of the sheet of a bracket that was asked for last.
fn said_of(session: &Session, bracket: &str) -> Option<String> {
    if let Some(job) = session.sheet_in_hand() {
        return (job.bracket() == bracket).then(|| format!("Writing {}…", name_of(job.path())));
    }
    let first = session.sheets_written().first().filter(|_| session.sheets_written_for() == Some(bracket))?;
    let more = match session.sheets_written().len() - 1 {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    Some(format!("✔ Wrote {}{more}", name_of(first)))
}
