//! A limit to be edited: its bounds, and a new one.

use crate::panels::decide::decide_state::Decide;
use crate::panels::decide::limit_draft::LimitDraft;
use crate::panels::decide::limit_draft::PATHS;
use crate::panels::decide::limit_draft::Path;
use crate::panels::widgets::number_field::NumberField;
use crate::panels::widgets::theme::colour;
use bevy_egui::egui::{Button, CollapsingHeader, ComboBox, RichText, TextEdit, Ui};
use wheelpath_geometry::{End, Requirement, Scope, Side, Unit};
use wheelpath_session::{Bound, Edit, FileCommand, LimitChange, Session};

/// As many readings are offered while a name is typed.
/// Both bounds as fields, and what takes them or the limit away.
pub(in crate::panels) fn bounds_ui(
    ui: &mut Ui,
    (place, limit): (usize, &Requirement),
    state: &Decide<'_>,
    edits: &mut Vec<Edit>,
) {
    let palette = state.palette();
    let unit = limit.unit();
    let symbol = unit.symbol(state.lengths);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 3.0;
        let ends = [("from", "Least", Bound::Least, limit.least), ("to", "Most", Bound::Most, limit.most)];
        for (word, name, bound, value) in ends {
            ui.label(RichText::new(word).small().weak());
            let entered = NumberField {
                name: &format!("{name} of {} in {symbol}", limit.name),
                handle: "",
                value: value.unwrap_or(f64::NAN),
                unit,
                lengths: state.lengths,
                width: 52.0 * state.text_scale,
                decimals: 3,
                at_fault: false,
                hint: "",
            }
            .show(ui, &palette);
            let set = |to| Edit::Requirement(LimitChange::SetBound { place, bound, to });
            edits.extend(entered.set.map(|value| set(Some(value))));
            if entered.settled {
                edits.push(Edit::Settle);
            }
            // Where it is the only one, the limit is deleted instead.
            if limit.least.is_some() && limit.most.is_some() {
                let button = ui.add(Button::new("×").small().frame(false));
                let label = format!("No {} for {}", name.to_lowercase(), limit.name);
                ui.ctx().accesskit_node_builder(button.id, |node| node.set_label(label.clone()));
                if button.on_hover_text(label).clicked() {
                    edits.extend([set(None), Edit::Settle]);
                }
            }
        }
        ui.label(RichText::new(symbol).small().weak());
        let delete = ui.small_button("Delete");
        ui.ctx().accesskit_node_builder(delete.id, |node| node.set_label(format!("Delete {}", limit.name)));
        if delete.on_hover_text("Undo brings it back").clicked() {
            edits.extend([Edit::Requirement(LimitChange::Remove(place)), Edit::Settle]);
        }
    });
}

/// Puts a new limit together.
pub(in crate::panels) fn new_limit_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut Decide<'_>,
    edits: &mut Vec<Edit>,
) {
    CollapsingHeader::new("Add a limit").show_unindented(ui, |ui| draft_ui(ui, session, state, edits));
}

fn draft_ui(ui: &mut Ui, session: &Session, state: &mut Decide<'_>, edits: &mut Vec<Edit>) {
    let (scale, lengths) = (state.text_scale, state.lengths);
    let palette = state.palette();
    let draft = &mut state.own.limit_draft;
    let typed = ui.add(TextEdit::singleline(&mut draft.search).hint_text("Part of a reading's name"));
    ui.ctx().accesskit_node_builder(typed.id, |node| node.set_label("Reading to limit"));
    if typed.changed() {
        draft.reading = None;
    }
    if draft.reading.is_none() {
        for reading in draft.offers() {
            if ui.small_button(reading.name).on_hover_text(reading.definition).clicked() {
                draft.search = reading.name.to_owned();
                draft.reading = Some(reading);
            }
        }
    }
    let Some(reading) = draft.reading else { return };
    ui.horizontal(|ui| {
        let assembly = draft.assembly();
        let both = if reading.scope == Scope::Wheel { " both" } else { "" };
        let shown = if draft.side.is_none() { format!("{assembly}{both}") } else { assembly };
        ComboBox::from_id_salt("whose").selected_text(shown).show_ui(ui, |ui| {
            for end in End::BOTH {
                let sides: &[Option<Side>] = match reading.scope {
                    Scope::Wheel => &[None, Some(Side::Left), Some(Side::Right)],
                    Scope::Axle => &[None],
                };
                for &side in sides {
                    let text = side.map_or(format!("{end}{both}"), |side| format!("{end} {side}"));
                    if ui.selectable_label((draft.end, draft.side) == (end, side), text).clicked() {
                        (draft.end, draft.side) = (end, side);
                    }
                }
            }
        });
        ui.checkbox(&mut draft.is_change, "its change")
            .on_hover_text("Its value less that in the design pose");
    });
    ui.horizontal(|ui| {
        ui.label("over");
        let shown = PATHS.iter().find(|(path, _)| *path == draft.path).map_or("", |(_, name)| *name);
        ComboBox::from_id_salt("over").selected_text(shown).show_ui(ui, |ui| {
            for (path, name) in PATHS {
                ui.selectable_value(&mut draft.path, path, name);
            }
        });
    });
    let number = |ui: &mut Ui, name: &str, handle: &str, value: &mut f64, unit: Unit| {
        NumberField::fill(ui, (&palette, scale), (name, handle), value, (unit, lengths));
    };
    match draft.path {
        Path::Travel => {
            ui.horizontal(|ui| {
                let symbol = Unit::Length.symbol(lengths);
                let name = |which: &str| format!("{which} travel in {symbol}");
                number(ui, &name("First"), "from", &mut draft.travel[0], Unit::Length);
                number(ui, &name("Last"), "to", &mut draft.travel[1], Unit::Length);
                ui.checkbox(&mut draft.opposite, "opposite").on_hover_text("Left up as right goes down");
            });
        }
        Path::SteadyCorner => {
            let box_steers = matches!(session.car().front.steering, wheelpath_geometry::Steering::Box(_));
            let unit = if box_steers { Unit::Degree } else { Unit::Length };
            ui.horizontal(|ui| {
                number(
                    ui,
                    "Lateral acceleration in g, + left-hand corner",
                    "g",
                    &mut draft.lateral,
                    Unit::Ratio,
                );
                number(ui, "Steering input in the corner", "steer", &mut draft.steer, unit);
                number(
                    ui,
                    "Banking in degrees, + lowers the inside of a left turn",
                    "banking",
                    &mut draft.banking,
                    Unit::Degree,
                );
            });
            ui.label(RichText::new("The body rolls as estimated from springs and masses.").small().weak());
        }
        Path::Design | Path::Steer => {}
    }
    ui.horizontal(|ui| {
        let symbol = reading.unit.symbol(lengths);
        number(ui, "Least of the new limit", "at least", &mut draft.bounds[0], reading.unit);
        number(ui, "Most of the new limit", "at most", &mut draft.bounds[1], reading.unit);
        ui.label(symbol);
    });
    let mut name = draft.name.clone().unwrap_or_else(|| draft.usual_name());
    let field = ui.add(TextEdit::singleline(&mut name));
    ui.ctx().accesskit_node_builder(field.id, |node| node.set_label("Name of the new limit"));
    if field.changed() {
        draft.name = Some(name);
    }
    let limit = draft.limit();
    let add = ui.add_enabled(limit.is_some(), Button::new("Add it"));
    if add.on_disabled_hover_text("Type a least or a most first").clicked()
        && let Some(limit) = limit
    {
        edits.extend([Edit::Requirement(LimitChange::Add(Box::new(limit))), Edit::Settle]);
        *draft = LimitDraft::new(lengths);
    }
}

/// Says that limits are in no file yet, and writes them.
pub(in crate::panels) fn save_limits_ui(
    ui: &mut Ui,
    session: &Session,
    state: &Decide<'_>,
    edits: &mut Vec<Edit>,
) {
    if session.limits_changed() {
        ui.horizontal(|ui| {
            ui.label(RichText::new("Limits are changed").color(colour(state.palette().accent)));
            let hint = "Writes limits.ron in the folder beside the car; comments stay";
            if ui.button("Save limits").on_hover_text(hint).clicked() {
                edits.push(Edit::File(FileCommand::SaveLimits));
            }
        });
        if let Some(path) = session.limits_apart() {
            ui.label(RichText::new(format!("Kept apart in {}", path.display())).small().weak());
        }
    }
}
