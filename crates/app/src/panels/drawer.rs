//! The drawer of the task at hand.

use super::changes::{moved_ui, undo_ui};
use super::decide::decide_ui;
use super::files::{open_ui, others_ui};
use super::notices::notices_ui;
use super::points::{corner_choice_ui, points_ui};
use super::readings::readings_ui;
use super::save::{recovery_ui, save_ui};
use super::ui_state::{Task, UiState};
use crate::session::{About, Edit, Notice, Session};
use bevy_egui::egui::{Frame, Margin, Panel, RichText, Ui};

/// Said once, where cars are changed.
const CAUTION: &str = "Geometry only, no strength. Series rules, local codes and a qualified person decide.";

pub(super) fn drawer_ui(ui: &mut Ui, session: &Session, state: &mut UiState, edits: &mut Vec<Edit>) {
    open_ui(ui, session, state, edits);
    others_ui(ui, session, state, edits);
    recovery_ui(ui, session, edits);
    ui.horizontal(|ui| {
        for (task, name) in [(Task::Look, "Look"), (Task::Change, "Change"), (Task::Decide, "Decide")] {
            ui.selectable_value(&mut state.task, task, RichText::new(name).heading());
        }
    });
    ui.separator();
    let palette = state.palette();
    // Of files in sight of every task; where cars are changed, they stand beside what saves.
    let of_files = state.task != Task::Change;
    notices_ui(ui, session, &palette, |about| about == About::Car || (of_files && about == About::File));
    match state.task {
        Task::Look => readings_ui(ui, session, state),
        Task::Change => change_ui(ui, session, state, edits),
        Task::Decide => {
            undo_ui(ui, session, edits);
            decide_ui(ui, session, state, edits);
        }
    }
}

fn change_ui(ui: &mut Ui, session: &Session, state: &mut UiState, edits: &mut Vec<Edit>) {
    undo_ui(ui, session, edits);
    corner_choice_ui(ui, state);
    elsewhere_ui(ui, session, state);
    let rows = if ui.available_height() > 700.0 { 8 } else { 4 };
    Panel::bottom("what changed")
        .resizable(false)
        .frame(Frame::NONE.inner_margin(Margin { top: 6, ..Margin::ZERO }))
        .show(ui, |ui| {
            moved_ui(ui, session, state, rows);
            ui.add_space(2.0);
            save_ui(ui, session, state, edits);
            ui.label(RichText::new(CAUTION).small().weak());
        });
    points_ui(ui, session, state, edits);
}

/// A fault at a corner that is not shown leads there.
fn elsewhere_ui(ui: &mut Ui, session: &Session, state: &mut UiState) {
    let elsewhere = session
        .notices()
        .iter()
        .filter(|notice| notice.severe && !notice.about.is_pose())
        .find_map(|notice| notice.about.owner().filter(|owner| !owner.is_at(state.corner)));
    let here = |n: &Notice| n.severe && n.about.owner().is_some_and(|owner| owner.is_at(state.corner));
    if let Some(owner) = elsewhere
        && !session.notices().iter().any(here)
        && ui.button(format!("Something is wrong {owner}: show it")).clicked()
    {
        state.corner = owner.seen_at();
    }
}
