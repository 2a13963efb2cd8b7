//! Which way the selected point would have to go: the readings asked about, and what a millimetre does.

use crate::adapter::way_in_words;
use crate::panels::change::change_state::ChangePanel;
use crate::panels::plots::map_card::map_switch_ui;
use crate::panels::readings::definition_ui;
use crate::panels::widgets::direction_words::direction_in_words;
use crate::panels::widgets::notices::capital;
use crate::panels::widgets::theme::text_colour;
use bevy_egui::egui::containers::menu::MenuButton;
use bevy_egui::egui::{Button, RichText, ScrollArea, Ui};
use wheelpath_geometry::{Assembly, Hardpoint, axle_readings, wheel_readings};
use wheelpath_session::{Goal, Session, WantedReading};

pub(in crate::panels) fn which_way_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut ChangePanel<'_>,
    of: (Assembly, Hardpoint),
) {
    let palette = state.palette();
    let (assembly, hardpoint) = of;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        ui.label(RichText::new("Which way").small().weak()).on_hover_text(
            "Arrows on the car: on this way the reading goes fastest where it is wanted, in the pose shown. \
             The longer, the more a small step does.",
        );
        MenuButton::new("Add a reading").ui(ui, |ui| add_ui(ui, state));
        map_switch_ui(ui, state, assembly);
    });
    let mut gone = None;
    for n in 0..state.own.ways.len() {
        let wanted = state.own.ways[n];
        let found = session.ways(assembly, hardpoint, &[wanted], state.mirrored).pop();
        ui.horizontal_wrapped(|ui| {
            ui.spacing_mut().item_spacing.x = 4.0;
            let name = wanted.reading.name;
            let aim = Button::new(RichText::new(wanted.aim.label()).small());
            let aim = ui.add(aim).on_hover_text("Where it is wanted to go: click for another");
            ui.ctx().accesskit_node_builder(aim.id, |node| node.set_label(format!("{name}: wanted")));
            if aim.clicked() {
                let at = Goal::ALL.iter().position(|aim| *aim == wanted.aim).unwrap_or(0);
                state.own.ways[n].aim = Goal::ALL[(at + 1) % Goal::ALL.len()];
            }
            let close = ui.add(Button::new("×").frame(false)).on_hover_text("Ask about it no more");
            ui.ctx().accesskit_node_builder(close.id, |node| node.set_label(format!("Close {name}")));
            if close.clicked() {
                gone = Some(n);
            }
            let tint = text_colour(&palette, wanted.reading.key);
            let text = match &found {
                Some(way) => {
                    let place = if way.in_plate { " in the plate" } else { "" };
                    format!(
                        "{}{place}: {}",
                        capital(&direction_in_words(way.along)),
                        way_in_words(way, session.units())
                    )
                }
                None => format!("{name}: this point does nothing to it here"),
            };
            ui.label(RichText::new(text).small().color(tint))
                .on_hover_ui(|ui| definition_ui(ui, wanted.reading));
        });
    }
    if let Some(n) = gone {
        state.own.ways.remove(n);
    }
}

fn add_ui(ui: &mut Ui, state: &mut ChangePanel<'_>) {
    ScrollArea::vertical().max_height(360.0).show(ui, |ui| {
        for reading in wheel_readings().iter().chain(axle_readings()) {
            let there = state.own.ways.iter().any(|wanted| wanted.reading.key == reading.key);
            if !there && ui.button(reading.name).clicked() {
                state.own.ways.push(WantedReading { reading, aim: Goal::Zero });
            }
        }
    });
}
