//! The wheel of a corner, and the lengths of its links and of its axle's.

use super::notices::{capital, notices_ui};
use super::number_field::NumberField;
use super::theme::colour;
use super::ui_state::UiState;
use crate::session::{About, Change, Edit, Session, WheelNumber, wheel_number};
use bevy_egui::egui::{CollapsingHeader, Grid, RichText, Ui, vec2};
use wheelpath_geometry::{Assembly, Axis, Link, Unit};

const NUMBERS: [WheelNumber; 6] = [
    WheelNumber::Camber,
    WheelNumber::Toe,
    WheelNumber::Centre(Axis::X),
    WheelNumber::Centre(Axis::Y),
    WheelNumber::Centre(Axis::Z),
    WheelNumber::TyreRadius,
];

pub(super) fn link_rows_ui(ui: &mut Ui, session: &Session, state: &mut UiState, edits: &mut Vec<Edit>) {
    let palette = state.palette();
    let (wheel, mirrored) = (state.corner, state.mirrored);
    let corner = session.car().corner(wheel);
    let before = session.original().corner(wheel);
    let concerns = |about| match about {
        About::Link(assembly, _) => assembly.is_at(wheel),
        About::Wheel(at) => at == wheel,
        _ => false,
    };
    let troubled = session.notices().iter().any(|n| concerns(n.about));
    CollapsingHeader::new(RichText::new("Wheel and link lengths").strong())
        .default_open(true)
        .open(troubled.then_some(true))
        .show_unindented(ui, |ui| {
            Grid::new("wheel and links").num_columns(2).spacing(vec2(6.0, 3.0)).show(ui, |ui| {
                for number in NUMBERS {
                    let value = wheel_number(corner, wheel.side, number);
                    let was = wheel_number(before, wheel.side, number);
                    let unit = if number.is_angle() { Unit::Degree } else { Unit::Length };
                    let set = |to| Change::SetWheel { wheel, number, to, mirrored };
                    let label = number.label();
                    row(
                        ui,
                        state,
                        edits,
                        &Row { label, value, was, unit, name: format!("{wheel}, {label}") },
                        set,
                    );
                }
                for assembly in [Assembly::Corner(wheel), Assembly::Axle(wheel.end)] {
                    for &link in Link::ALL {
                        let Some(value) = assembly.length(session.car(), link) else { continue };
                        let was = assembly.length(session.original(), link).unwrap_or(value);
                        let set = |length| Change::SetLength { assembly, link, length, mirrored };
                        let label = link.label();
                        let name = format!("{assembly}, length of {label}");
                        row(ui, state, edits, &Row { label, value, was, unit: Unit::Length, name }, set);
                    }
                }
            });
            notices_ui(ui, session, &palette, concerns);
        });
}

struct Row<'a> {
    label: &'a str,
    name: String,
    value: f64,
    was: f64,
    unit: Unit,
}

fn row(ui: &mut Ui, state: &UiState, edits: &mut Vec<Edit>, row: &Row, set: impl Fn(f64) -> Change) {
    let palette = state.palette();
    let mut text = RichText::new(capital(row.label));
    if (row.value - row.was).abs() > 1e-9 {
        text = text.color(colour(palette.accent));
    }
    ui.label(text);
    ui.horizontal(|ui| {
        let symbol = row.unit.symbol(state.lengths);
        let entered = NumberField {
            name: &format!("{} in {symbol}", row.name),
            handle: symbol,
            value: row.value,
            unit: row.unit,
            lengths: state.lengths,
            width: 62.0 * state.text_scale,
            decimals: 3,
            at_fault: false,
            hint: "",
        }
        .show(ui, &palette);
        if let Some(value) = entered.set {
            edits.push(Edit::Change(set(value)));
        }
        if entered.settled {
            edits.push(Edit::Settle);
        }
    });
    ui.end_row();
}
