//! The contour map for the selected point: what is mapped, in which plane, how far.

use crate::panels::plots::map_plot::map_plot_ui;
use crate::panels::state::map_choice::halves;
use crate::panels::state::shared::Front;
use crate::panels::state::shared::Shared;
use crate::panels::widgets::direction_words::direction_in_words;
use crate::panels::widgets::theme::text_colour;
use bevy_egui::egui::containers::menu::MenuButton;
use bevy_egui::egui::{Align, Button, ComboBox, Label, Layout, RichText, ScrollArea, Ui};
use nalgebra::Vector3;
use wheelpath_geometry::{Assembly, Axis, Hardpoint, LengthUnit, Reading, Unit, wheel_readings};
use wheelpath_session::derived::maps::{Asked, ReadingMap};
use wheelpath_session::{Edit, Guide, Session};

/// Whether the map is drawn large, so that the wall is wide.
pub(in crate::panels) fn is_large(state: &Shared) -> bool {
    state.map.grown && state.mapped_point().is_some()
}

/// Switches the map on and off; a point of the axle as a whole has none.
pub(in crate::panels) fn map_switch_ui(ui: &mut Ui, state: &mut Shared, assembly: Assembly) {
    let of_corner = matches!(assembly, Assembly::Corner(_));
    let switch = Button::selectable(state.map.open && of_corner, "Contour map");
    let hint = "What a reading would gain over travel if this point stood elsewhere in a plane";
    let switch = ui.add_enabled(of_corner, switch).on_hover_text(hint);
    if switch.on_disabled_hover_text("A map is of a point of one corner").clicked() {
        state.map.open = !state.map.open;
        state.derived.map.clear();
        if state.map.open {
            state.front = Front::Curves;
        }
    }
}

/// The plane of the map, as a guide for a pull in it, and what it is.
fn plane(
    session: &Session,
    state: &Shared,
    (assembly, hardpoint): (Assembly, Hardpoint),
) -> (Guide, &'static str) {
    let square_to = |axis: Axis| {
        let mut normal = Vector3::zeros();
        normal[axis.index()] = 1.0;
        let name = match axis {
            Axis::X => "seen from ahead",
            Axis::Y => "seen from the side",
            Axis::Z => "seen from above",
        };
        (Guide::in_plate(normal), name)
    };
    match (state.map.square_to, session.plate(assembly, hardpoint)) {
        (Some(axis), _) => square_to(axis),
        (None, Some(normal)) => (Guide::in_plate(normal), "in the plate"),
        (None, None) => square_to(Axis::Y),
    }
}

/// Draws the map where one is wanted. Nothing is previewed by the pointer over it.
pub(in crate::panels) fn map_card_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut Shared,
    edits: &mut Vec<Edit>,
) {
    let Some((assembly, hardpoint)) = state.mapped_point() else { return };
    let (Assembly::Corner(wheel), Some(reading)) = (assembly, state.map.reading()) else { return };
    let (guide, seen) = plane(session, state, (assembly, hardpoint));
    let across = guide.across.unwrap_or_else(Vector3::z);
    header_ui(ui, state, reading, (assembly, hardpoint));
    choice_ui(ui, session, state, seen, (assembly, hardpoint));
    let asked = Asked::of(session, wheel, hardpoint, reading, [guide.along, across], state.map.half);
    let asked = match asked {
        Ok(asked) => asked,
        Err(reason) => {
            ui.label(RichText::new(crate::panels::widgets::notices::sentence(reason)).small().weak());
            return;
        }
    };
    let context = ui.ctx().clone();
    let latest = state.derived.map.of(asked, move || context.request_repaint());
    map_plot_ui(ui, session, state, latest.as_deref(), (assembly, hardpoint), edits);
    if let Some(sheet) = latest {
        legend_ui(ui, &sheet, [guide.along, across], state.lengths);
    }
    ui.add_space(4.0);
}

fn header_ui(
    ui: &mut Ui,
    state: &mut Shared,
    reading: &'static Reading,
    (assembly, hardpoint): (Assembly, Hardpoint),
) {
    let tint = text_colour(&state.palette(), reading.key);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let close = ui.add(Button::new("×").frame(false)).on_hover_text("Take the map off the wall");
            ui.ctx().accesskit_node_builder(close.id, |node| node.set_label("Close the map"));
            if close.clicked() {
                state.map.open = false;
                state.derived.map.clear();
            }
            let (unit, stretch) = (reading.unit.symbol(state.lengths), state.lengths.stretch_in_words());
            ui.label(RichText::new(format!("{unit} per {stretch}")).small().color(tint));
            ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                let title = format!("Map: {hardpoint}, {assembly}");
                let title = Button::new(RichText::new(&title).strong()).frame(false).truncate();
                let hint = if state.map.grown { "Click: small again" } else { "Click: larger" };
                if ui.add(title).on_hover_text(hint).clicked() {
                    state.map.grown = !state.map.grown;
                }
            });
        });
    });
}

fn choice_ui(ui: &mut Ui, session: &Session, state: &mut Shared, seen: &str, of: (Assembly, Hardpoint)) {
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        let name = state.map.reading().map_or("", |reading| reading.name);
        MenuButton::new(name).ui(ui, |ui| {
            ScrollArea::vertical().max_height(360.0).show(ui, |ui| {
                // What a swing arm gains has no number where links are parallel: its camber gain has.
                for reading in wheel_readings().iter().filter(|one| one.unit != Unit::PerMetre) {
                    if ui.button(reading.name).clicked() {
                        state.map.reading = Some(reading);
                    }
                }
            });
        });
        let has_plate = session.plate(of.0, of.1).is_some();
        let choice = ComboBox::from_id_salt("map plane").selected_text(seen).show_ui(ui, |ui| {
            if has_plate {
                ui.selectable_value(&mut state.map.square_to, None, "in the plate");
            }
            for (axis, name) in
                [(Axis::X, "seen from ahead"), (Axis::Y, "seen from the side"), (Axis::Z, "seen from above")]
            {
                ui.selectable_value(&mut state.map.square_to, Some(axis), name);
            }
        });
        ui.ctx().accesskit_node_builder(choice.response.id, |node| node.set_label("Plane of the map"));
        ui.label(RichText::new("±").small().weak());
        for half in halves(state.lengths) {
            let shown = (Unit::Length.shown(half, state.lengths) * 1e3).round() * 1e-3;
            ui.selectable_value(&mut state.map.half, half, format!("{shown}"));
        }
        ui.label(RichText::new(Unit::Length.symbol(state.lengths)).small().weak());
    });
}

/// What the lines mean.
fn legend_ui(ui: &mut Ui, sheet: &ReadingMap, axes: [Vector3<f64>; 2], lengths: LengthUnit) {
    let [from, to] = sheet.asked.travel;
    let mut text = format!(
        "Across: {}; up: {}. Lines: what {} gains per {} of bump, its mean over {} to {}; thick: nothing.",
        direction_in_words(axes[0]),
        direction_in_words(axes[1]),
        sheet.asked.reading.name.to_lowercase(),
        lengths.stretch_in_words(),
        Unit::Length.write_number(from, lengths),
        Unit::Length.write(to, lengths)
    );
    if let Some(limit) = &sheet.asked.limit {
        text += &format!(" Shaded: “{}” passes.", limit.name);
    }
    text += " Disc: now; ring: original. A click or a pull puts the point there.";
    ui.add(Label::new(RichText::new(text).small().weak()).wrap());
}
