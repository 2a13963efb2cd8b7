//! The table of readings: left, right, and what changed against the original.

use super::theme::{colour, has_hue, text_colour};
use super::ui_state::UiState;
use crate::curves::Spec;
use crate::session::{Session, noticeable, signed};
use bevy_egui::egui::{Align, Button, CollapsingHeader, Grid, Layout, RichText, ScrollArea, Sense, Ui, vec2};
use wheelpath_geometry::{
    End, Group, LengthUnit, Reading, Scope, Side, WheelAt, axle_readings, wheel_readings,
};

const MM: LengthUnit = LengthUnit::Millimetre;

/// The groups, and whether they are open at first.
const GROUPS: [(Group, bool); 10] = [
    (Group::WheelAngles, true),
    (Group::SteeringAxis, true),
    (Group::Motion, true),
    (Group::Roll, true),
    (Group::Ackermann, true),
    (Group::SteerMotion, false),
    (Group::Place, false),
    (Group::Springing, false),
    (Group::Turning, false),
    (Group::Pitch, false),
];

pub(super) fn readings_ui(ui: &mut Ui, session: &Session, state: &mut UiState) {
    ui.horizontal(|ui| {
        for end in End::BOTH {
            let name = if end == End::Front { "Front axle" } else { "Rear axle" };
            ui.selectable_value(&mut state.end, end, name);
        }
    });
    ui.add_space(2.0);
    if session.is_changed() {
        ui.label(RichText::new("Under a value: its change against the original.").small().weak());
    }
    let widths = Widths::of(ui);
    heading(ui, &widths);
    ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
        for (group, open) in GROUPS {
            let readings: Vec<&'static Reading> =
                wheel_readings().iter().chain(axle_readings()).filter(|r| r.group == group).collect();
            let holds_picked = readings.iter().any(|r| state.picked_reading == Some(r.key));
            CollapsingHeader::new(RichText::new(group.label()).strong())
                .id_salt(("readings", group))
                .default_open(open)
                .open(holds_picked.then_some(true))
                .show_unindented(ui, |ui| {
                    Grid::new(("readings of", group))
                        .num_columns(3)
                        .striped(true)
                        .spacing(vec2(4.0, 3.0))
                        .show(ui, |ui| {
                            for reading in readings {
                                row(ui, session, state, reading, &widths);
                                ui.end_row();
                            }
                        });
                });
        }
    });
    state.picked_reading = None;
}

struct Widths {
    name: f32,
    value: f32,
}

impl Widths {
    fn of(ui: &Ui) -> Self {
        let all = ui.available_width() - 26.0;
        let value = (all * 0.24).max(56.0);
        Widths { name: all - 2.0 * value, value }
    }
}

fn heading(ui: &mut Ui, widths: &Widths) {
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        ui.allocate_space(vec2(widths.name, 1.0));
        for side in ["left", "right"] {
            right_aligned(ui, widths.value, |ui| {
                ui.label(RichText::new(side).small().weak());
            });
        }
    });
}

fn right_aligned(ui: &mut Ui, width: f32, add: impl FnOnce(&mut Ui)) {
    let height = ui.spacing().interact_size.y * 0.85;
    ui.allocate_ui_with_layout(vec2(width, height), Layout::top_down(Align::Max), |ui| {
        ui.set_width(width);
        ui.spacing_mut().item_spacing.y = 0.0;
        add(ui);
    });
}

fn row(ui: &mut Ui, session: &Session, state: &mut UiState, reading: &'static Reading, widths: &Widths) {
    name(ui, state, reading, widths.name);
    match reading.scope {
        Scope::Wheel => {
            for side in Side::BOTH {
                right_aligned(ui, widths.value, |ui| value(ui, session, state, reading, side));
            }
        }
        Scope::Axle => {
            right_aligned(ui, widths.value, |ui| value(ui, session, state, reading, Side::Left));
            ui.allocate_space(vec2(widths.value, 1.0));
        }
    }
}

fn name(ui: &mut Ui, state: &mut UiState, reading: &'static Reading, width: f32) {
    let palette = state.palette();
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        let mark = vec2(4.0, ui.text_style_height(&bevy_egui::egui::TextStyle::Body) * 0.8);
        let (rect, _) = ui.allocate_exact_size(mark, Sense::hover());
        if has_hue(reading.key) {
            ui.painter().rect_filled(rect, 1.0, text_colour(&palette, reading.key));
        }
        ui.allocate_ui_with_layout(vec2(width - 10.0, 1.0), Layout::left_to_right(Align::Min), |ui| {
            ui.set_width(width - 10.0);
            let picked = state.picked_reading == Some(reading.key);
            let text = RichText::new(reading.name);
            let text = if picked { text.strong().color(colour(palette.accent)) } else { text };
            let button = ui.add(Button::new(text).frame(false).wrap());
            if picked {
                button.scroll_to_me(Some(Align::Center));
            }
            let button = button.on_hover_ui(|ui| definition_ui(ui, reading));
            if button.clicked()
                && let Some(spec) = Spec::over_travel(state.end, reading.key)
            {
                state.add_card(spec);
            }
        });
    });
}

/// Definition, sign, formula and source of a reading.
pub(super) fn definition_ui(ui: &mut Ui, reading: &Reading) {
    ui.set_max_width(ui.spacing().tooltip_width);
    ui.label(RichText::new(reading.name).strong());
    ui.label(reading.definition);
    ui.label(format!("Sign: {}.", reading.sign));
    ui.label(format!("Formula: {}", reading.formula));
    ui.label(RichText::new(format!("Source: {}", reading.source)).weak());
    ui.label(RichText::new("Click the name to hang its curve on the wall.").weak().small());
}

fn value(ui: &mut Ui, session: &Session, state: &UiState, reading: &'static Reading, side: Side) {
    let palette = state.palette();
    let now = session.values().get(state.end, side, reading);
    let text = reading.unit.write(now.unwrap_or(f64::NAN), MM);
    let tint = text_colour(&palette, reading.key);
    let wheel = WheelAt { end: state.end, side };
    let response = ui.label(RichText::new(text).color(tint));
    if now.is_none() {
        let why = if reading.absent.is_empty() { "it does not exist in this pose" } else { reading.absent };
        response.on_hover_text(format!("No {} for {wheel}: {why}.", reading.name.to_lowercase()));
    }
    let before = session.original_values().and_then(|values| values.get(state.end, side, reading));
    if session.is_changed()
        && let (Some(now), Some(before)) = (now, before)
        && (now - before).abs() > 0.1 * noticeable(reading.unit)
    {
        let change = signed(reading.unit, now - before);
        ui.label(RichText::new(change).small().color(colour(palette.accent)))
            .on_hover_text(format!("Original: {}", reading.unit.write(before, MM)));
    }
}
