//! The wall of curves.

use crate::panels::plots::curve_card::{Done, curve_card_ui};
use crate::panels::plots::map_card::map_card_ui;
use crate::panels::plots::wall_state::Card;
use crate::panels::plots::wall_state::Wall;
use crate::panels::widgets::lazy_layout::where_seen;
use crate::panels::widgets::theme::{colour, scrolled};
use bevy_egui::egui::containers::menu::MenuButton;
use bevy_egui::egui::{Pos2, Rect, RichText, ScrollArea, Sense, Shape, Stroke, StrokeKind, Ui, pos2, vec2};
use wheelpath_geometry::{End, Scope, Travelling, axle_readings, wheel_readings};
use wheelpath_session::derived::curves::{Over, Shown, Spec};
use wheelpath_session::{Edit, Session};

/// Draws the wall. Gives whether the pointer is over a curve.
pub(in crate::panels) fn curve_wall_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut Wall<'_>,
    edits: &mut Vec<Edit>,
) -> bool {
    if let Some(spec) = state.asked_curve.take() {
        state.own.show_card(spec);
    }
    ui.horizontal_wrapped(|ui| {
        legend_ui(ui, session, state);
    });
    let specs: Vec<Spec> = state.own.cards.iter().map(|card| card.spec).collect();
    state.derived.curves.prepare(session, &specs);
    let mut over = false;
    let mut done = Vec::new();
    let header = ui.spacing().interact_size.y + 8.0;
    let room = ui.available_height() - ui.spacing().interact_size.y - 8.0;
    let small = (room / 5.0 - header).clamp(84.0, 190.0);
    let (palette, area) = (state.palette(), ScrollArea::vertical().auto_shrink([false, false]));
    let reveal = state.own.reveal_card.take();
    if reveal.is_none() && ui.input(|input| input.pointer.any_pressed()) {
        state.own.framed_card = None;
    }
    scrolled(ui, &palette, area, |ui| {
        map_card_ui(ui, session, state, edits);
        for card in state.own.cards.clone() {
            let height = if card.grown { (small * 2.4).min(room - header).max(small) } else { small };
            let id = ui.id().with(("card", card.id, card.grown));
            let top = ui.cursor().min;
            where_seen(ui, id, reveal == Some(card.id), |ui| {
                let (hovered, what) = curve_card_ui(ui, session, state, &card, height, edits);
                over |= hovered;
                done.push((card.id, what));
                ui.add_space(3.0);
            });
            let whole = Rect::from_min_max(top, pos2(ui.max_rect().right(), ui.cursor().top() - 3.0));
            if reveal == Some(card.id) {
                ui.scroll_to_rect(whole, None);
            }
            if state.own.framed_card == Some(card.id) {
                let stroke = Stroke::new(1.5, colour(palette.accent));
                ui.painter().rect_stroke(whole.expand(1.0), 3.0, stroke, StrokeKind::Inside);
            }
        }
        let steers = session.car().front.steering.steers();
        MenuButton::new("Add a curve").ui(ui, |ui| add_ui(ui, state, steers));
    });
    for (id, what) in done {
        match what {
            Done::Nothing | Done::Count(_) => {}
            Done::Close => state.own.cards.retain(|card| card.id != id),
            Done::Grow => {
                for card in &mut state.own.cards {
                    card.grown = card.id == id && !card.grown;
                }
            }
        }
    }
    over
}

/// Whether a card is drawn large, so that the wall is wide.
pub(in crate::panels) fn is_wide(cards: &[Card]) -> bool {
    cards.iter().any(|card| card.grown)
}

/// How left, right, the original and the ideal are told apart.
fn legend_ui(ui: &mut Ui, session: &Session, state: &mut Wall<'_>) {
    let palette = state.palette();
    let (ink, faint) = (colour(palette.ink), colour(palette.faint));
    let mut entry = |name: &str, draw: &dyn Fn(Pos2, Pos2) -> Vec<Shape>| {
        let (rect, _) = ui.allocate_exact_size(vec2(22.0, 12.0), Sense::hover());
        let (from, to) = (pos2(rect.left(), rect.center().y), pos2(rect.right(), rect.center().y));
        ui.painter().extend(draw(from, to));
        ui.label(RichText::new(name).small());
    };
    let middle = |a: Pos2, b: Pos2| a.lerp(b, 0.5);
    entry("left", &|a, b| {
        vec![Shape::line_segment([a, b], Stroke::new(1.8, ink)), Shape::circle_filled(middle(a, b), 3.0, ink)]
    });
    entry("right", &|a, b| {
        let mut shapes = Shape::dotted_line(&[a, b], ink, 4.5, 1.1);
        let (m, r) = (middle(a, b), 4.0);
        let corners = vec![m - vec2(0.0, r), m + vec2(r, 0.0), m + vec2(0.0, r), m - vec2(r, 0.0)];
        shapes.push(Shape::closed_line(corners, Stroke::new(1.2, ink)));
        shapes
    });
    if session.differs() && !state.own.difference {
        entry(session.baseline_name(), &|a, b| {
            Shape::dashed_line(&[a, b], Stroke::new(1.3, faint), 4.0, 3.0)
        });
    }
    if state.own.cards.iter().any(|card| card.spec.shown == Shown::OuterOverInner) {
        entry("ideal", &|a, b| Shape::dashed_line(&[a, b], Stroke::new(1.3, ink), 8.0, 4.0));
    }
    if session.differs() {
        let hint = "Draws what changed: now less before";
        let label = RichText::new("Δ").small();
        let switch = ui.selectable_label(state.own.difference, label).on_hover_text(hint);
        ui.ctx().accesskit_node_builder(switch.id, |node| node.set_label("Difference curves"));
        if switch.clicked() {
            state.own.difference = !state.own.difference;
        }
    }
}

/// A menu of everything that can hang on the wall.
fn add_ui(ui: &mut Ui, state: &mut Wall<'_>, steers: bool) {
    let kinds = [
        ("Over travel, front", End::Front, Over::Travel(Travelling::Both)),
        ("Over travel, rear", End::Rear, Over::Travel(Travelling::Both)),
        ("Over roll travel, front", End::Front, Over::Travel(Travelling::Opposite)),
        ("Over roll travel, rear", End::Rear, Over::Travel(Travelling::Opposite)),
        ("Over steer", End::Front, Over::Steer),
    ];
    for (name, end, over) in kinds.into_iter().filter(|(.., over)| steers || *over != Over::Steer) {
        MenuButton::new(name).ui(ui, |ui| {
            ScrollArea::vertical().max_height(360.0).show(ui, |ui| {
                if over == Over::Steer && ui.button("Outer over inner wheel angle").clicked() {
                    state.own.show_card(Spec { end, over, shown: Shown::OuterOverInner });
                }
                for reading in wheel_readings().iter().chain(axle_readings()) {
                    // What only a steered axle has is of no use behind.
                    let front_only = reading.scope == Scope::Axle && reading.key.contains("ackermann");
                    if end == End::Rear && front_only {
                        continue;
                    }
                    if ui.button(reading.name).clicked() {
                        state.own.show_card(Spec { end, over, shown: Shown::Reading(reading) });
                    }
                }
            });
        });
    }
}
