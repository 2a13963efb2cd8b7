//! What is open, what was open lately, and what other windows do to the same files.

use crate::panels::files::files_state::Files;
use crate::panels::files::path_draft::PathDraft;
use crate::panels::files::save::NOT_YET;
use crate::panels::widgets::meant::is_live;
use crate::panels::widgets::notices::sentence;
use crate::panels::widgets::theme::colour;
use bevy_egui::egui::containers::menu::{MenuButton, MenuConfig};
use bevy_egui::egui::{Button, Key, Label, PopupCloseBehavior, RichText, TextEdit, Ui};
use std::path::PathBuf;
use wheelpath_project::{Answer, FileRole};
use wheelpath_session::{Conflict, Edit, FileCommand, Session};

/// What is open, with the menu of files before it.
pub(in crate::panels) fn open_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut Files<'_>,
    edits: &mut Vec<Edit>,
) {
    let palette = state.palette();
    ui.horizontal(|ui| {
        let stay = MenuConfig::new().close_behavior(PopupCloseBehavior::CloseOnClickOutside);
        MenuButton::new("Files").config(stay).ui(ui, |ui| menu_ui(ui, session, state, edits));
        let mut title = RichText::new(session.title()).strong();
        if session.open_name().is_some() {
            title = title.color(colour(palette.accent));
        }
        let told = ui.add(Label::new(title).truncate());
        told.on_hover_ui(|ui| {
            let car =
                session.path().map_or("a demo car, no file".to_owned(), |path| path.display().to_string());
            ui.label(format!("Car: {car}"));
            if let Some(listed) = session.open_proposal_listed() {
                let file =
                    listed.path.as_ref().map_or(listed.file.clone(), |path| path.display().to_string());
                ui.label(format!("Proposal: {file}"));
            }
            let state =
                if session.is_unsaved() { "Changed since it was last saved" } else { "All of it is saved" };
            ui.label(RichText::new(state).small().weak());
        });
    });
}

fn menu_ui(ui: &mut Ui, session: &Session, state: &mut Files<'_>, edits: &mut Vec<Edit>) {
    ui.set_min_width(300.0 * state.text_scale);
    ui.label("Open a car file");
    let mut open = None;
    ui.horizontal(|ui| {
        let width = 230.0 * state.text_scale;
        let draft = &mut state.own.open_path;
        let field = ui.add(TextEdit::singleline(&mut draft.text).desired_width(width));
        ui.ctx().accesskit_node_builder(field.id, |node| node.set_label("Car file to open"));
        if field.gained_focus() || field.changed() {
            draft.complete();
        }
        let entered = field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
        let can = !draft.text.trim().is_empty();
        if (ui.add_enabled(can, Button::new("Open it")).clicked() || entered) && can {
            open = Some((PathBuf::from(draft.text.trim()), None));
        }
    });
    let offers = state.own.open_path.offers.clone();
    for offer in offers {
        if ui.small_button(&offer).clicked() {
            state.own.open_path.text = offer;
            state.own.open_path.complete();
        }
    }
    ui.separator();
    ui.label("Opened lately");
    let recents = session.recents();
    if recents.is_empty() {
        ui.label(RichText::new("Nothing yet: demo cars inside the program are no files.").small().weak());
    }
    for recent in recents {
        let there = recent.is_there();
        let button = ui.add_enabled(there, Button::new(recent.label()));
        let path = recent.proposal.as_ref().unwrap_or(&recent.car).display().to_string();
        let button = button.on_hover_text(&path).on_disabled_hover_text(format!("{path} is not there now"));
        if button.clicked() {
            open = Some((recent.car.clone(), recent.proposal.clone()));
        }
    }
    if let Some(changes) = session.thrown_away_changes() {
        let back = ui.button("Bring back what was thrown away");
        if back.on_hover_text(format!("Offers these changes again:\n{}", changes.join("\n"))).clicked() {
            edits.push(Edit::File(FileCommand::BringBack));
            ui.close();
        }
    }
    if session.is_unsaved() {
        let text = "What is changed here is kept, and offered when this car is opened again.";
        ui.label(RichText::new(text).small().weak());
    }
    if let Some((path, proposal)) = open {
        state.own.open_path = PathDraft::default();
        edits.push(Edit::File(FileCommand::OpenCar { path, proposal }));
        ui.close();
    }
}

/// Whether another window is on the same car.
pub(in crate::panels) fn has_others(session: &Session) -> bool {
    !session.other_windows().is_empty()
}

/// Other windows on the same car, and files that others have written.
pub(in crate::panels) fn others_ui(
    ui: &mut Ui,
    session: &Session,
    state: &Files<'_>,
    edits: &mut Vec<Edit>,
    is_meant: bool,
) {
    let palette = state.palette();
    if has_others(session) {
        let text = match session.other_windows().len() {
            1 => "This car is open in another window".to_owned(),
            more => format!("This car is open in {more} other windows"),
        };
        ui.label(format!("⚠ {text}.")).on_hover_ui(|ui| {
            for window in session.other_windows() {
                let process = window.process.map_or("a process that does not say".to_owned(), |id| format!("process {id}"));
                let age = window.age().map_or_else(String::new, |age| format!(", opened {}", wheelpath_project::ago(age)));
                ui.label(format!("{process}{age}"));
            }
            let text = "Each keeps its own unsaved changes; neither saves over what the other has saved without asking.";
            ui.label(RichText::new(text).small().weak());
        });
    }
    for conflict in session.conflicts() {
        ui.label(RichText::new(format!("✖ {}", sentence(&conflict.text()))).color(colour(palette.fault)));
        conflict_ui(ui, conflict, edits, is_meant);
    }
}

/// What can be done; theirs can be replaced where a click on that is meant.
fn conflict_ui(ui: &mut Ui, conflict: &Conflict, edits: &mut Vec<Edit>, is_meant: bool) {
    let theirs = match &conflict.role {
        FileRole::Car => "Opens it anew; what is changed here is kept as unsaved changes",
        FileRole::Proposal(_) => "Takes up what it holds now; undo brings back what was here",
        FileRole::Limits => "Takes up the limits it holds now; undo brings back what was here",
    };
    let answers = [
        (Answer::Theirs, "Look at theirs", theirs, conflict.is_there()),
        (Answer::Apart, "Keep mine apart", "Saves what is here under another name", true),
        (Answer::Replace, "Replace theirs", "Writes what is here over it", conflict.is_refused()),
        (Answer::Leave, "Leave it", "Nothing is saved, and nothing said until it is written again", true),
    ];
    ui.horizontal_wrapped(|ui| {
        for (answer, text, hint, can) in answers {
            let is_live = answer != Answer::Replace || is_live(ui, is_meant);
            let button = |ui: &mut Ui| ui.add_enabled(is_live, Button::new(text).small());
            if can && button(ui).on_hover_text(hint).on_disabled_hover_text(NOT_YET).clicked() {
                edits.push(Edit::File(FileCommand::Answer { path: conflict.path.clone(), answer }));
            }
        }
    });
}
