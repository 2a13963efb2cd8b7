//! A new limit on distances of parts, on joints, or on the steering lock.

use crate::panels::decide::decide_state::Decide;
use crate::panels::decide::fit_draft::FIT_KINDS;
use crate::panels::decide::fit_draft::FitDraft;
use crate::panels::decide::fit_draft::FitKind;
use crate::panels::widgets::number_field::NumberField;
use bevy_egui::egui::{Button, CollapsingHeader, ComboBox, RichText, Ui};
use wheelpath_geometry::{End, PartKind, Unit};
use wheelpath_session::{Edit, LimitChange};

/// Puts one together.
pub(in crate::panels) fn new_fit_limit_ui(ui: &mut Ui, state: &mut Decide<'_>, edits: &mut Vec<Edit>) {
    CollapsingHeader::new("Add a limit on distances, joints or lock").show_unindented(ui, |ui| {
        draft_ui(ui, state, edits);
    });
}

fn draft_ui(ui: &mut Ui, state: &mut Decide<'_>, edits: &mut Vec<Edit>) {
    let (scale, palette, lengths) = (state.text_scale, state.palette(), state.lengths);
    let draft = &mut state.own.fit_draft;
    ui.horizontal_wrapped(|ui| {
        for (what, name) in FIT_KINDS {
            if ui.selectable_label(draft.what == what, name).clicked() && draft.what != what {
                // Lengths are no degrees.
                *draft = FitDraft { what, least: f64::NAN, ..draft.clone() };
            }
        }
    });
    let unit = if draft.what == FitKind::Distance { Unit::Length } else { Unit::Degree };
    let number = |ui: &mut Ui, name: &str, handle: &str, value: &mut f64, unit: Unit| {
        NumberField::fill(ui, (&palette, scale), (name, handle), value, (unit, lengths));
    };
    if draft.what != FitKind::Lock {
        ui.horizontal(|ui| {
            for (end, name) in [(None, "both axles"), (Some(End::Front), "front"), (Some(End::Rear), "rear")]
            {
                let choice = ui.selectable_value(&mut draft.end, end, name);
                ui.ctx().accesskit_node_builder(choice.id, |node| node.set_label(format!("Limit on {name}")));
            }
        });
        if draft.what == FitKind::Distance {
            ui.horizontal_wrapped(|ui| {
                ui.label("between");
                for (n, part) in draft.parts.iter_mut().enumerate() {
                    part_ui(ui, n, part, scale);
                }
            });
        }
        ui.horizontal(|ui| {
            ui.label(RichText::new("travel, whole steer").small().weak());
            let symbol = Unit::Length.symbol(lengths);
            let name = |which: &str| format!("{which} travel of the distance in {symbol}");
            number(ui, &name("First"), "from", &mut draft.travel[0], Unit::Length);
            number(ui, &name("Last"), "to", &mut draft.travel[1], Unit::Length);
        });
    }
    ui.horizontal(|ui| {
        number(ui, "Least of the distance, joint or lock", "at least", &mut draft.least, unit);
        ui.label(unit.symbol(lengths));
        let limit = draft.limit();
        let add = ui.add_enabled(limit.is_some(), Button::new("Add this limit"));
        if add.on_disabled_hover_text("Type a least first").clicked()
            && let Some(limit) = limit
        {
            edits.extend([Edit::Requirement(LimitChange::Add(Box::new(limit))), Edit::Settle]);
            *draft = FitDraft::new(lengths);
        }
    });
}

fn part_ui(ui: &mut Ui, n: usize, part: &mut Option<PartKind>, scale: f32) {
    let text = part.map_or_else(|| "any part".to_owned(), |part| part.to_string());
    let choice = ComboBox::from_id_salt(("part", n)).selected_text(text).width(96.0 * scale).truncate();
    let choice = choice.show_ui(ui, |ui| {
        ui.selectable_value(part, None, "any part");
        for kind in PartKind::all() {
            ui.selectable_value(part, Some(kind), kind.to_string());
        }
    });
    let name = if n == 0 { "First part" } else { "Second part" };
    ui.ctx().accesskit_node_builder(choice.response.id, |node| node.set_label(name));
}
