//! The drawer of the task at hand.

use crate::panels::change::changes::{moved_ui, undo_ui};
use crate::panels::change::points::{corner_choice_ui, points_ui};
use crate::panels::decide::verdict_list::decide_ui;
use crate::panels::files::open_file::open_ui;
use crate::panels::files::save::save_ui;
use crate::panels::frame::arrangement::Arrangement;
use crate::panels::frame::ui_state::UiState;
use crate::panels::plots::curve_wall::curve_wall_ui;
use crate::panels::readings::readings_ui;
use crate::panels::state::shared::Front;
use crate::panels::state::shared::Task;
use bevy_egui::egui::{
    Align, Frame, Layout, Margin, Panel, RichText, ScrollArea, Sense, TextStyle, Ui, UiBuilder, vec2,
};
use wheelpath_session::{Edit, Session};

/// Said once, where cars are changed.
const CAUTION: &str = "Geometry only, no strength. Series rules, local codes and a qualified person decide.";

/// Less than this is too narrow for fields beside one another, points.
const LEAST_WIDTH: f32 = 260.0;
/// Below this height, points at the designed size of text, the whole drawer scrolls.
const LOW: f32 = 330.0;

/// So many lines of points are seen in the lowest drawer.
const LINES: f32 = 5.0;

/// Draws the drawer, or the curves where they have no other place. Gives whether the pointer is over a curve.
pub(in crate::panels) fn drawer_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut UiState,
    edits: &mut Vec<Edit>,
    arrangement: Arrangement,
) -> bool {
    let low = LOW * state.text_scale;
    // What stands below the points is as high as its text makes it: the points keep some lines all the same.
    let low = if state.task == Task::Change { low.max(state.change_height) } else { low };
    let least = vec2(LEAST_WIDTH, low);
    let (width, height) = (ui.available_width(), ui.available_height());
    state.drawer_scrolls = width < least.x || height < least.y;
    if !state.drawer_scrolls {
        return of_size_ui(ui, session, state, edits, arrangement);
    }
    let area = ScrollArea::new([width < least.x, height < least.y]).id_salt("small drawer");
    let size = vec2(width, height).max(least);
    let shown = area.show(ui, |ui| {
        let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
        let mut ui = ui.new_child(UiBuilder::new().max_rect(rect));
        of_size_ui(&mut ui, session, state, edits, arrangement)
    });
    shown.inner
}

/// The tasks, and what else takes turns with them in a small window.
pub(in crate::panels) fn tabs_ui(ui: &mut Ui, state: &mut UiState, arrangement: Arrangement) {
    ui.horizontal_wrapped(|ui| {
        let front = if arrangement.has_wall() { Front::Task } else { state.front };
        let tab =
            |ui: &mut Ui, chosen, name| ui.selectable_label(chosen, RichText::new(name).heading()).clicked();
        let has_stage = arrangement == Arrangement::One;
        if has_stage && tab(ui, front == Front::Stage, "Car") {
            state.front = Front::Stage;
        }
        let shows_task = if has_stage { front == Front::Task } else { front != Front::Curves };
        for (task, name) in [(Task::Look, "Look"), (Task::Change, "Change"), (Task::Decide, "Decide")] {
            if tab(ui, shows_task && state.task == task, name) {
                (state.task, state.front) = (task, Front::Task);
            }
        }
        if !arrangement.has_wall() && tab(ui, front == Front::Curves, "Curves") {
            state.front = Front::Curves;
        }
    });
}

fn of_size_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut UiState,
    edits: &mut Vec<Edit>,
    arrangement: Arrangement,
) -> bool {
    open_ui(ui, session, &mut state.for_files(), edits);
    if arrangement != Arrangement::One {
        tabs_ui(ui, state, arrangement);
    }
    ui.separator();
    if !arrangement.has_wall() && state.front == Front::Curves {
        return curve_wall_ui(ui, session, &mut state.for_wall(), edits);
    }
    match state.task {
        Task::Look => readings_ui(ui, session, &mut state.for_readings()),
        Task::Change => change_ui(ui, session, state, edits),
        Task::Decide => {
            undo_ui(ui, session, edits);
            decide_ui(ui, session, &mut state.for_decide(), edits);
        }
    }
    false
}

fn change_ui(ui: &mut Ui, session: &Session, state: &mut UiState, edits: &mut Vec<Edit>) {
    undo_ui(ui, session, edits);
    corner_choice_ui(ui, &mut state.for_change());
    let rows = match ui.available_height() {
        height if height > 700.0 => 8,
        height if height > 420.0 => 4,
        _ => 1,
    };
    let above = ui.cursor().top() - ui.max_rect().top();
    let below = Panel::bottom("what changed")
        .resizable(false)
        .frame(Frame::NONE.inner_margin(Margin { top: 6, ..Margin::ZERO }))
        .show(ui, |ui| {
            fixed_height(ui, rows, |ui| moved_ui(ui, session, &state.for_change(), rows));
            ui.add_space(2.0);
            save_ui(ui, session, &mut state.for_files(), edits);
            ui.label(RichText::new(CAUTION).small().weak());
        });
    state.change_height = above + below.response.rect.height() + LINES * ui.spacing().interact_size.y;
    points_ui(ui, session, &mut state.for_change(), edits);
}

/// As high as the readings that moved and their heading are, so many rows, however few there are: a panel
/// that grew would cover the field that was typed in.
fn fixed_height(ui: &mut Ui, rows: usize, add: impl FnOnce(&mut Ui)) {
    #[expect(clippy::cast_precision_loss, reason = "a few rows")]
    let lines = rows as f32 + 1.0;
    let line = TextStyle::Small.resolve(ui.style()).size * 1.5 + 2.0;
    let size = vec2(ui.available_width(), lines * line);
    ui.allocate_ui_with_layout(size, Layout::top_down(Align::Min), |ui| {
        ui.set_min_height(size.y);
        add(ui);
    });
}
