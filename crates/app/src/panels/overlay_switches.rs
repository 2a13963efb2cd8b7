//! The overlays that can be switched: what the stage draws over the car.

use super::ui_state::UiState;
use bevy_egui::egui::Ui;
use std::collections::BTreeSet;

/// Id, name in words, and whether it is on at first.
pub const OVERLAYS: [(&str, &str, bool); 12] = [
    ("steering_axis", "Steering axis", true),
    ("trail", "Trail", true),
    ("scrub_radius", "Scrub radius", true),
    ("camber", "Camber", true),
    ("toe", "Toe", true),
    ("caster", "Caster angle", false),
    ("inclination", "Steering-axis inclination", false),
    ("front_view_instant_centre", "Front-view instant centre", false),
    ("side_view_instant_centre", "Side-view instant centre", false),
    ("roll_centre", "Roll centre", true),
    ("turn_centre", "Turn centre and ideal", true),
    ("contact", "Contact points", true),
];

pub(super) fn hidden_at_first() -> BTreeSet<String> {
    OVERLAYS.iter().filter(|(.., on)| !on).map(|(id, ..)| (*id).to_owned()).collect()
}

pub(super) fn overlay_switches_ui(ui: &mut Ui, state: &mut UiState) {
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
