//! One curve of the wall.

use crate::panels::plots::curve_plot::plot_ui;
use crate::panels::plots::wall_state::Card;
use crate::panels::plots::wall_state::Wall;
use crate::panels::readings::definition_ui;
use crate::panels::widgets::theme::text_colour;
use bevy_egui::egui::{Align, Button, Layout, RichText, TextStyle, Ui};
use wheelpath_geometry::{fixed, signed};
use wheelpath_session::derived::curves::{Curve, Shown};
use wheelpath_session::{Edit, Session};
use wheelpath_stage::theme::Palette;

/// What is done to a card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::panels) enum Done {
    Nothing,
    Grow,
    Close,
    /// Draw the change from zero travel, or the value again.
    Count(bool),
}

/// What a card is drawn as from now on: the change from zero travel, or the value.
fn count(state: &mut Wall<'_>, id: u64, from_zero: bool) {
    state.own.cards.iter_mut().filter(|card| card.id == id).for_each(|card| card.from_zero = Some(from_zero));
}

/// Draws a card. Gives whether the pointer is over its curve, and what was done to it.
pub(in crate::panels) fn curve_card_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut Wall<'_>,
    card: &Card,
    height: f32,
    edits: &mut Vec<Edit>,
) -> (bool, Done) {
    let palette = state.palette();
    let curve = if state.own.difference {
        Curve::difference(session, card.spec, &mut state.derived.curves)
    } else if let Some(from_zero) = card.from_zero {
        Curve::counted(session, card.spec, &mut state.derived.curves, from_zero)
    } else {
        Curve::of(session, card.spec, &mut state.derived.curves)
    };
    let mut done = header_ui(ui, &curve, card, &palette);
    if let Done::Count(from_zero) = done {
        count(state, card.id, from_zero);
        done = Done::Nothing;
    }
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
            if curve.sides_far_apart || curve.is_change() {
                let hint = "Left and right are far apart: draws the change from zero travel, or the values";
                let text = RichText::new("from 0").small();
                let switch = ui.selectable_label(curve.is_change(), text).on_hover_text(hint);
                let name = format!("From zero: {}", curve.spec.title());
                ui.ctx().accesskit_node_builder(switch.id, |node| node.set_label(name));
                if switch.clicked() {
                    done = Done::Count(!curve.is_change());
                }
            }
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
                        ui.label("Drawn is the change from zero travel.");
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
