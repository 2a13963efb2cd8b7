//! Where everything stands: the stage in the middle, the drawer left, the wall right, the bar below.

use super::compare_table::compare_table_ui;
use super::curve_wall::{curve_wall_ui, is_wide};
use super::drawer::drawer_ui;
use super::map_card::is_large;
use super::pose_bar::pose_bar_ui;
use super::pull::pull_keys;
use super::sheets::write_sheet;
use super::stage_strip::stage_strip_ui;
use super::theme::{self, colour};
use super::ui_state::UiState;
use crate::between::between;
use crate::session::{Edit, Session};
use bevy_egui::egui::{Frame, Key, Margin, Modifiers, Panel, Rect, Ui};

/// What is left for the stage, in points from the window's top left corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StageArea {
    /// Left edge.
    pub left: f32,
    /// Upper edge.
    pub top: f32,
    /// Width.
    pub width: f32,
    /// Height.
    pub height: f32,
}

impl From<Rect> for StageArea {
    fn from(rect: Rect) -> Self {
        // A window too small for the panels leaves nothing: a picture has a point each way all the same.
        let (width, height) = (rect.width().max(1.0), rect.height().max(1.0));
        StageArea { left: rect.left(), top: rect.top(), width, height }
    }
}

/// Draws all panels into a root `Ui` that covers the window, and gives what is left for the stage.
pub fn window_ui(ui: &mut Ui, session: &Session, state: &mut UiState, edits: &mut Vec<Edit>) -> StageArea {
    state.follow(session);
    let palette = state.palette();
    theme::apply(ui, &palette, state.text_scale);
    keys(ui, session, state, edits);
    write_sheet(ui.ctx(), session, state, edits);
    let (width, scale) = (ui.available_width(), state.text_scale);
    let frame = |x: i8, y: i8| Frame::NONE.fill(colour(palette.panel)).inner_margin(Margin::symmetric(x, y));
    Panel::bottom("pose bar")
        .resizable(false)
        .frame(frame(10, 5))
        .show(ui, |ui| pose_bar_ui(ui, session, state, edits));
    let drawer = between(width * 0.24 * scale, 300.0 * scale.min(1.3), 0.32 * width.max(900.0));
    Panel::left("drawer")
        .resizable(false)
        .exact_size(drawer)
        .frame(frame(10, 8))
        .show(ui, |ui| drawer_ui(ui, session, state, edits));
    let share = if is_wide(&state.cards) || is_large(state) { 0.38 } else { 0.24 };
    let wall = (width * share).clamp(270.0, 900.0);
    let over = Panel::right("curves")
        .resizable(false)
        .exact_size(wall)
        .frame(frame(8, 8))
        .show(ui, |ui| curve_wall_ui(ui, session, state, edits))
        .inner;
    Panel::top("stage strip")
        .resizable(false)
        .frame(frame(8, 4))
        .show(ui, |ui| stage_strip_ui(ui, session, state));
    compare_table_ui(ui, session, state, edits);
    // The pointer has left the curves: the car goes back to where it was.
    if !over && session.previewed().is_some() {
        edits.push(Edit::Preview(None));
    }
    StageArea::from(ui.available_rect_before_wrap())
}

/// Keys that work everywhere, except in a field that is being typed in.
fn keys(ui: &Ui, session: &Session, state: &UiState, edits: &mut Vec<Edit>) {
    if ui.ctx().egui_wants_keyboard_input() {
        return;
    }
    pull_keys(ui, session, state, edits);
    ui.input_mut(|input| {
        if input.consume_key(Modifiers::COMMAND | Modifiers::SHIFT, Key::Z)
            || input.consume_key(Modifiers::COMMAND, Key::Y)
        {
            edits.push(Edit::Redo);
        }
        if input.consume_key(Modifiers::COMMAND, Key::Z) {
            edits.push(Edit::Undo);
        }
        if input.consume_key(Modifiers::NONE, Key::Space) {
            let cycle = crate::session::Cycle::Travel(crate::session::Wheels::All);
            edits.push(Edit::Play(session.playing().is_none().then_some(cycle)));
        }
    });
}
