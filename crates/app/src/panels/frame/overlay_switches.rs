//! The overlays that can be switched: what the stage draws over the car.

use crate::adapter::OVERLAYS;
use crate::panels::frame::ui_state::UiState;
use bevy_egui::egui::Ui;

pub(in crate::panels) fn overlay_switches_ui(ui: &mut Ui, state: &mut UiState) {
    for (id, name, _) in OVERLAYS {
        let mut shown = !state.hidden.contains(id);
        if ui.checkbox(&mut shown, name).changed() {
            if shown {
                state.hidden.remove(id);
            } else {
                state.hidden.insert(id.to_owned());
            }
        }
    }
    ui.separator();
    ui.horizontal(|ui| {
        if ui.button("All").clicked() {
            state.hidden.clear();
        }
        if ui.button("None").clicked() {
            state.hidden = OVERLAYS.iter().map(|(id, ..)| (*id).to_owned()).collect();
        }
    });
}
