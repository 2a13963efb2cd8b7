//! One curve of the wall.

use super::curve_plot::plot_ui;
use super::readings::definition_ui;
use super::theme::text_colour;
use super::ui_state::{Card, UiState};
use crate::curves::{Curve, Shown};
use crate::session::{Edit, Session};
use crate::stage::palette::Palette;
use bevy_egui::egui::{Align, Button, Layout, RichText, TextStyle, Ui};
use wheelpath_geometry::{fixed, signed};

/// What is done to a card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Done {
    Nothing,
    Grow,
    Close,
}

/// Draws a card. Gives whether the pointer is over its curve, and what was done to it.
pub(super) fn curve_card_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut UiState,
    card: &Card,
    height: f32,
    edits: &mut Vec<Edit>,
) -> (bool, Done) {
    let palette = state.palette();
    let curve = if state.difference {
        Curve::difference(session, card.spec, &mut state.sweeps)
    } else {
        Curve::of(session, card.spec, &mut state.sweeps)
    };
    let done = header_ui(ui, &curve, card, &palette);
    let over = plot_ui(ui, session, &curve, card, height, &palette, edits);
    (over, done)
}

fn header_ui(ui: &mut Ui, curve: &Curve, card: &Card, palette: &Palette) -> Done {
    let mut done = Done::Nothing;
    let tint = text_colour(palette, card.spec.colour_key());
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let close = ui.add(Button::new("×").frame(false)).on_hover_text("Take this curve off the wall");
            let titles = curve.titles();
            let title = &titles[0];
            ui.ctx().accesskit_node_builder(close.id, |node| node.set_label(format!("Close {title}")));
            if close.clicked() {
                done = Done::Close;
            }
            let unit = curve.y_unit.symbol(curve.lengths);
            let mut seen: Vec<String> = curve
                .markers
                .iter()
                .rev()
                .map(|(_, at)| {
                    let decimals = curve.y_unit.decimals(curve.lengths);
                    let is_change = curve.is_change() || curve.is_difference;
                    if is_change { signed(at[1], decimals) } else { fixed(at[1], decimals) }
                })
                .collect();
            if curve.sides_coincide {
                seen.dedup();
            }
            let gap = if unit.is_empty() || unit.starts_with('°') { "" } else { " " };
            let values =
                if seen.is_empty() { "—".to_owned() } else { format!("{}{gap}{unit}", seen.join(" | ")) };
            ui.label(RichText::new(values).color(tint));
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                let text = RichText::new(fitting(ui, &titles)).strong();
                let button = ui.add(Button::new(text).frame(false).truncate());
                let hint = if card.grown { "Click: small again" } else { "Click: larger" };
                let button = button.on_hover_ui(|ui| {
                    ui.label(RichText::new(title).strong());
                    ui.label(hint);
                    if curve.is_difference {
                        ui.label("Drawn is what changed: now less before.");
                    }
                    if curve.is_change() {
                        ui.label("Left and right are far apart: drawn is the change from zero travel.");
                    }
                    if let Shown::Reading(reading) = card.spec.shown {
                        definition_ui(ui, reading);
                    }
                });
                if button.clicked() {
                    done = Done::Grow;
                }
            });
        });
    });
    done
}

/// The longest of some names that has room; the shortest where none has.
fn fitting<'a>(ui: &Ui, names: &'a [String; 3]) -> &'a str {
    let font = TextStyle::Button.resolve(ui.style());
    let room = ui.available_width();
    let width = |name: &str| {
        ui.painter().layout_no_wrap(name.to_owned(), font.clone(), ui.visuals().text_color()).size().x
    };
    let [.., shortest] = names;
    names.iter().find(|name| width(name) <= room).unwrap_or(shortest)
}
