//! Where everything stands: the stage in the middle, the drawer left, the wall right, the bar below; in a
//! small window they take turns.

use crate::panels::change::pull::pull_keys;
use crate::panels::decide::compare_table::compare_table_ui;
use crate::panels::decide::sheets::write_sheet;
use crate::panels::files::message_cards::message_cards_ui;
use crate::panels::frame::arrangement::Arrangement;
use crate::panels::frame::drawer::{drawer_ui, tabs_ui};
use crate::panels::frame::pose_bar::pose_bar_ui;
use crate::panels::frame::stage_strip::stage_strip_ui;
use crate::panels::frame::ui_state::UiState;
use crate::panels::plots::curve_wall::{curve_wall_ui, is_wide};
use crate::panels::plots::map_card::is_large;
use crate::panels::state::shared::Front;
use crate::panels::widgets::theme::{self, colour};
use bevy_egui::egui::{CentralPanel, Frame, Key, Margin, Modifiers, Panel, Rect, ScrollArea, Ui};
use wheelpath_session::{Edit, Session};

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

impl StageArea {
    /// What of a window is left. Where panels took more than there is, a point each way all the same, which
    /// a picture needs, and inside the window.
    fn within(rect: Rect, window: Rect) -> Self {
        let start = |start: f32, [least, most]: [f32; 2]| start.min(most - 1.0).max(least);
        StageArea {
            left: start(rect.left(), [window.left(), window.right()]),
            top: start(rect.top(), [window.top(), window.bottom()]),
            width: rect.width().max(1.0),
            height: rect.height().max(1.0),
        }
    }
}

/// Below this height of the window, points at the designed size of text, the pose bar scrolls.
const LOW: f32 = 420.0;

/// Draws all panels into a root `Ui` that covers the window, and gives what is left for the stage.
pub fn window_ui(ui: &mut Ui, session: &Session, state: &mut UiState, edits: &mut Vec<Edit>) -> StageArea {
    state.follow(session);
    let palette = state.palette();
    theme::apply(ui, &palette, state.text_scale);
    keys(ui, session, state, edits);
    write_sheet(ui.ctx(), session, &mut state.for_decide(), edits);
    let (width, height, scale) = (ui.available_width(), ui.available_height(), state.text_scale);
    let arrangement = Arrangement::of(width, scale, is_wide(&state.wall.cards) || is_large(state));
    let is_low = height < LOW * scale;
    let frame = |x: i8, y: i8| Frame::NONE.fill(colour(palette.panel)).inner_margin(Margin::symmetric(x, y));
    let mut over = false;
    if arrangement == Arrangement::One {
        Panel::top("tabs")
            .resizable(false)
            .frame(frame(10, 4))
            .show(ui, |ui| tabs_ui(ui, state, arrangement));
    }
    let has_stage = arrangement != Arrangement::One || state.front == Front::Stage;
    // In a low window that shows one thing at a time, the pose goes with the car.
    if has_stage || !is_low {
        Panel::bottom("pose bar").resizable(false).frame(frame(10, 5)).show(ui, |ui| {
            if is_low {
                // As high as it needs up to that, whatever the panel was before.
                let most = (0.45 * height).max(64.0);
                let area = ScrollArea::vertical().max_height(most).min_scrolled_height(most);
                let area = area.auto_shrink([false, true]);
                area.show(ui, |ui| pose_bar_ui(ui, session, state, edits));
            } else {
                pose_bar_ui(ui, session, state, edits);
            }
        });
    }
    let middle = ui.available_rect_before_wrap();
    match arrangement {
        Arrangement::All { drawer, .. } | Arrangement::NoWall { drawer } => {
            let panel = Panel::left("drawer").resizable(false).exact_size(drawer).frame(frame(10, 8));
            over |= panel.show(ui, |ui| drawer_ui(ui, session, state, edits, arrangement)).inner;
        }
        Arrangement::One if !has_stage => {
            let panel = CentralPanel::default().frame(frame(10, 8));
            over |= panel.show(ui, |ui| drawer_ui(ui, session, state, edits, arrangement)).inner;
        }
        Arrangement::One => {}
    }
    if let Arrangement::All { wall, .. } = arrangement {
        let panel = Panel::right("curves").resizable(false).exact_size(wall).frame(frame(8, 8));
        over |= panel.show(ui, |ui| curve_wall_ui(ui, session, &mut state.for_wall(), edits)).inner;
    }
    if has_stage {
        Panel::top("stage strip")
            .resizable(false)
            .frame(frame(8, 4))
            .show(ui, |ui| stage_strip_ui(ui, session, state));
        compare_table_ui(ui, session, &mut state.for_decide(), edits);
    }
    // The pointer has left the curves: the car goes back to where it was.
    if !over && session.previewed().is_some() {
        edits.push(Edit::Preview(None));
    }
    let left = ui.available_rect_before_wrap();
    let under_messages = if has_stage { left } else { middle };
    message_cards_ui(ui.ctx(), (under_messages, has_stage), session, &mut state.for_files(), edits);
    let area = StageArea::within(left, ui.ctx().viewport_rect());
    if has_stage { area } else { StageArea { width: 0.0, height: 0.0, ..area } }
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
            let cycle = wheelpath_session::Cycle::Travel(wheelpath_session::Wheels::All);
            edits.push(Edit::Play(session.playing().is_none().then_some(cycle)));
        }
    });
}
