//! The strip over the stage: views, overlays, sheet, size of text.

use super::notices::capital;
use super::overlay_switches::overlay_switches_ui;
use super::ui_state::UiState;
use crate::session::Session;
use crate::stage::palette::Sheet;
use crate::stage::standard_views::StandardView;
use bevy_egui::egui::containers::menu::{MenuButton, MenuConfig};
use bevy_egui::egui::{Align, Button, Layout, PopupCloseBehavior, RichText, Ui};

const SCALES: [f32; 5] = [0.85, 1.0, 1.2, 1.45, 1.75];

pub(super) fn stage_strip_ui(ui: &mut Ui, session: &Session, state: &mut UiState) {
    ui.horizontal(|ui| {
        for (n, view) in StandardView::ALL.into_iter().enumerate() {
            if ui.button(view.name()).on_hover_text(format!("Key {}", n + 1)).clicked() {
                state.view = Some(view);
            }
        }
        ui.separator();
        let stay_open = MenuConfig::new().close_behavior(PopupCloseBehavior::CloseOnClickOutside);
        MenuButton::new("Overlays").config(stay_open).ui(ui, |ui| overlay_switches_ui(ui, state));
        let beside = Button::selectable(state.beside && session.differs(), "Side by side");
        let beside = ui.add_enabled(session.differs(), beside);
        let hint =
            format!("{} and now in two pictures, seen from one place", capital(session.baseline_name()));
        if beside.on_hover_text(hint).on_disabled_hover_text("Nothing is changed yet").clicked() {
            state.beside = !state.beside;
        }
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let (name, other) = match state.sheet {
                Sheet::Light => ("Dark sheet", Sheet::Dark),
                Sheet::Dark => ("Light sheet", Sheet::Light),
            };
            if ui.button(name).clicked() {
                state.sheet = other;
            }
            text_scale_ui(ui, state);
            let room = ui.available_width();
            if room > 60.0 {
                let name = RichText::new(session.title()).strong();
                ui.add(bevy_egui::egui::Label::new(name).truncate());
            }
        });
    });
}

fn text_scale_ui(ui: &mut Ui, state: &mut UiState) {
    let at = SCALES.iter().position(|scale| (scale - state.text_scale).abs() < 0.01).unwrap_or(1);
    let mut to = at;
    if ui.add_enabled(at + 1 < SCALES.len(), Button::new("A+")).on_hover_text("Larger text").clicked() {
        to = at + 1;
    }
    if ui.add_enabled(at > 0, Button::new("A−")).on_hover_text("Smaller text").clicked() {
        to = at - 1;
    }
    if let Some(scale) = SCALES.get(to) {
        state.text_scale = *scale;
    }
}
