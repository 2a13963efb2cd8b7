//! Messages about files, other windows and the car as a whole. They lie over the stage, so that nothing in
//! the drawer moves when they come and go: what is clicked twice is the same thing twice.

use crate::panels::files::files_state::Files;
use crate::panels::files::open_file::{has_others, others_ui};
use crate::panels::files::save::{recovery_ui, thrown_away_ui};
use crate::panels::widgets::meant::{is_meant, is_read};
use crate::panels::widgets::notices::notice_ui;
use crate::panels::widgets::theme::{colour, rule, scrolled};
use bevy_egui::egui::{
    Align, Align2, Area, Button, Context, Frame, Id, Layout, Margin, Order, Rect, ScrollArea, Stroke, Ui,
    vec2,
};
use wheelpath_session::{About, Edit, Notice, Session};

/// Widest card, points at the designed size of text.
const WIDEST: f32 = 380.0;

/// Draws the messages over a part of the window: at its top, or at its bottom where it is not the stage.
pub(in crate::panels) fn message_cards_ui(
    context: &Context,
    (over, is_stage): (Rect, bool),
    session: &Session,
    state: &mut Files<'_>,
    edits: &mut Vec<Edit>,
) {
    let notices: Vec<Notice> = session
        .notices()
        .into_iter()
        .filter(|notice| matches!(notice.about, About::Car | About::File))
        .collect();
    let elsewhere = fault_elsewhere(session, state);
    let keys = keys_of(session, &notices, elsewhere.is_some());
    let count = keys.len();
    let key = keys.join("\n");
    // What is clicked just after the messages have become others was meant for those before; and no button that
    // takes something away comes under a pointer that rests.
    let (is_read, is_meant) = (is_read(context, "messages", &key), is_meant(context, "messages", &key));
    if count == 0 {
        state.own.messages_folded = false;
        return;
    }
    let palette = state.palette();
    let (pivot, at) = if is_stage {
        (Align2::LEFT_TOP, over.left_top() + vec2(8.0, 8.0))
    } else {
        (Align2::LEFT_BOTTOM, over.left_bottom() + vec2(8.0, -8.0))
    };
    let widest = (over.width() - 16.0).min(WIDEST * state.text_scale).max(120.0);
    let area = Area::new(Id::new("messages")).order(Order::Middle).pivot(pivot).fixed_pos(at);
    let mut asked = Vec::new();
    area.show(context, |ui| {
        let frame = Frame::NONE
            .fill(colour(palette.panel))
            .stroke(Stroke::new(1.0, colour(rule(&palette))))
            .corner_radius(3.0)
            .inner_margin(Margin::same(8));
        frame.show(ui, |ui| {
            if state.own.messages_folded {
                let text =
                    if count == 1 { "⚠ 1 message".to_owned() } else { format!("⚠ {count} messages") };
                if ui.button(text).on_hover_text("Shows what there is to say").clicked() {
                    state.own.messages_folded = false;
                }
                return;
            }
            ui.set_width(widest - 18.0);
            fold_ui(ui, state);
            // As high as they need up to that, however few they were before.
            let most = 0.7 * over.height().max(100.0);
            let area = ScrollArea::vertical().id_salt("messages").max_height(most).min_scrolled_height(most);
            scrolled(ui, &palette, area, |ui| {
                for notice in &notices {
                    notice_ui(ui, notice, &palette);
                }
                if let Some(assembly) = elsewhere
                    && ui.button(format!("Something is wrong {assembly}: show it")).clicked()
                {
                    state.corner = assembly.seen_at();
                }
                others_ui(ui, session, state, &mut asked, is_meant);
                if session.thrown_away_here() {
                    thrown_away_ui(ui, session, &mut asked);
                } else {
                    recovery_ui(ui, session, &mut asked, is_meant);
                }
            });
        });
    });
    if is_read {
        edits.append(&mut asked);
    }
}

/// A button that makes one line of the messages.
fn fold_ui(ui: &mut Ui, state: &mut Files<'_>) {
    let row = vec2(ui.available_width(), ui.spacing().interact_size.y * 0.6);
    ui.allocate_ui_with_layout(row, Layout::right_to_left(Align::Center), |ui| {
        let fold = ui.add(Button::new("–").frame(false)).on_hover_text("Makes one line of the messages");
        ui.ctx().accesskit_node_builder(fold.id, |node| node.set_label("Fold the messages"));
        if fold.clicked() {
            state.own.messages_folded = true;
        }
    });
}

/// What is shown, one key a message: other keys are other messages.
fn keys_of(session: &Session, notices: &[Notice], is_elsewhere: bool) -> Vec<String> {
    let mut keys: Vec<String> = notices.iter().map(|notice| notice.text.clone()).collect();
    keys.extend(is_elsewhere.then(|| "elsewhere".to_owned()));
    keys.extend(has_others(session).then(|| "other windows".to_owned()));
    keys.extend(
        session
            .conflicts()
            .iter()
            .map(|conflict| format!("{} {}", conflict.path.display(), conflict.is_refused())),
    );
    let found = if session.thrown_away_here() {
        Some("thrown away".to_owned())
    } else {
        session.recoverable().map(|_| format!("found {:?}", session.recoverable_changes()))
    };
    keys.extend(found);
    keys
}

/// A fault at a corner whose points are not shown.
fn fault_elsewhere(session: &Session, state: &Files<'_>) -> Option<wheelpath_geometry::Assembly> {
    if state.task != crate::panels::Task::Change {
        return None;
    }
    let severe = || session.notices().into_iter().filter(|notice| notice.severe && !notice.about.is_pose());
    let is_here =
        severe().any(|notice| notice.about.assembly().is_some_and(|assembly| assembly.is_at(state.corner)));
    let assemblies = severe().filter_map(|notice| notice.about.assembly());
    assemblies.into_iter().find(|assembly| !assembly.is_at(state.corner)).filter(|_| !is_here)
}
