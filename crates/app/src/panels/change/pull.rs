//! The typed twin of a selected point's handles: along which, how far, in which steps, and how its plate
//! lies.

use crate::panels::change::change_state::ChangePanel;
use crate::panels::change::plate_draft::PlateDraft;
use crate::panels::change::which_way::which_way_ui;
use crate::panels::state::shared::Shared;
use crate::panels::state::snaps::snaps;
use crate::panels::widgets::direction_words::direction_in_words;
use crate::panels::widgets::number_field::NumberField;
use bevy_egui::egui::{ComboBox, Key, Modifiers, RichText, Ui};
use nalgebra::Vector3;
use wheelpath_geometry::{Assembly, Axis, Hardpoint, LengthUnit, Unit};
use wheelpath_report::significant;
use wheelpath_session::{Edit, FileCommand, Guide, Handle, PlateBy, Session};

pub(in crate::panels) fn pull_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut ChangePanel<'_>,
    edits: &mut Vec<Edit>,
    (assembly, hardpoint): (Assembly, Hardpoint),
) {
    if state.own.plate.of != Some((assembly, hardpoint)) {
        // A plate that was begun was that of another point.
        state.own.plate = PlateDraft { of: Some((assembly, hardpoint)), ..PlateDraft::default() };
    }
    let guides = session.handles(assembly, hardpoint);
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 3.0;
        ui.label(RichText::new("Pull").small().weak());
        for guide in &guides {
            let chosen = state.handle == Some(guide.handle);
            let name = guide.handle.label();
            if ui.selectable_label(chosen, name).on_hover_text("Arrow keys act along this").clicked() {
                state.handle = (!chosen).then_some(guide.handle);
                edits.push(Edit::Settle);
            }
        }
        let known = session.plate(assembly, hardpoint).is_some();
        let (name, hint) = if known {
            ("Other plate", "Say anew how the plate lies that carries this point")
        } else {
            ("Plate…", "Say how the plate lies that carries this point, to pull it in that plane")
        };
        if ui.selectable_label(state.own.plate.open, name).on_hover_text(hint).clicked() {
            state.own.plate.open = !state.own.plate.open;
        }
        if session.plate_is_new(assembly, hardpoint) {
            let hint = format!("Writes how this plate lies into {}", session.brackets_path().display());
            if ui.button("Keep the plate").on_hover_text(hint).clicked() {
                edits.push(Edit::File(FileCommand::KeepPlate {
                    assembly,
                    hardpoint,
                    mirrored: state.mirrored,
                }));
            }
        }
    });
    if state.own.plate.open {
        plate_ui(ui, session, state, edits, (assembly, hardpoint));
    }
    if let Some(guide) = guides.into_iter().find(|guide| state.handle == Some(guide.handle)) {
        distance_ui(ui, session, state, edits, (assembly, hardpoint), guide);
    }
    which_way_ui(ui, session, state, (assembly, hardpoint));
}

/// How far along the handle the point stands from the original, and the steps of a pull.
fn distance_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut ChangePanel<'_>,
    edits: &mut Vec<Edit>,
    (assembly, hardpoint): (Assembly, Hardpoint),
    guide: Guide,
) {
    let now = session.pulled(assembly, hardpoint, &guide);
    let (palette, symbol) = (state.palette(), Unit::Length.symbol(state.lengths));
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        let names = if guide.across.is_some() { &["across", "up"][..] } else { &["by"] };
        for (n, handle) in names.iter().enumerate() {
            let direction = if n == 0 { Some(guide.along) } else { guide.across };
            let hint = format!(
                "From where the original car has it; + = {}",
                direction.map_or_else(String::new, |direction| leads(&guide, direction))
            );
            let name = match guide.handle {
                Handle::Plate => format!("{assembly}, {hardpoint}, {handle} in the plate in {symbol}"),
                _ => format!("{assembly}, {hardpoint}, {} in {symbol}", guide.handle.label()),
            };
            let entered = NumberField {
                name: &name,
                handle,
                value: now[n],
                unit: Unit::Length,
                lengths: state.lengths,
                width: 52.0 * state.text_scale,
                decimals: 3,
                at_fault: false,
                hint: &hint,
            }
            .show(ui, &palette);
            if let Some(value) = entered.set {
                let mut to = now;
                to[n] = value;
                edits.push(Edit::Change(session.pull(assembly, hardpoint, guide, to, state.mirrored)));
            }
            if entered.settled {
                edits.push(Edit::Settle);
            }
        }
        ui.label(symbol);
        ui.add_space(4.0);
        let [plain, coarse, fine] = arrow_steps(state.lengths)
            .map(|step| format!("{} {symbol}", significant(Unit::Length.shown(step, state.lengths), 1)));
        ui.label(RichText::new("Steps").small().weak()).on_hover_text(format!(
            "What a pull on the car snaps to; Ctrl held while pulling does the other. Arrow keys: {plain}, \
             with Shift {coarse}, with Alt {fine}.",
        ));
        for step in snaps(state.lengths) {
            let shown = Unit::Length.shown(step, state.lengths);
            let name = if step > 0.0 { format!("{}", (shown * 1e4).round() / 1e4) } else { "off".to_owned() };
            ui.selectable_value(&mut state.snap, step, name);
        }
    });
}

/// Where a direction of a handle leads, in words.
fn leads(guide: &Guide, direction: Vector3<f64>) -> String {
    if let Handle::Link(link) = guide.handle {
        return format!("{link} longer");
    }
    direction_in_words(direction)
}

/// A plate by its normal, or by three points of the car.
fn plate_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut ChangePanel<'_>,
    edits: &mut Vec<Edit>,
    (assembly, hardpoint): (Assembly, Hardpoint),
) {
    let (palette, scale, mirrored) = (state.palette(), state.text_scale, state.mirrored);
    let mut set = None;
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        ui.label(RichText::new("Square to").small().weak());
        for axis in Axis::ALL {
            let name = format!("Plate of {assembly} {hardpoint}, normal {}", axis.letter());
            let field = NumberField {
                name: &name,
                handle: axis.letter(),
                value: state.own.plate.normal[axis.index()],
                unit: Unit::Ratio,
                lengths: state.lengths,
                width: 34.0 * scale,
                decimals: 4,
                at_fault: false,
                hint: "Any length; only the direction counts",
            };
            if let Some(value) = field.show(ui, &palette).set {
                state.own.plate.normal[axis.index()] = value;
            }
        }
        let button = ui.button("Set normal");
        if button.clicked() {
            set = Some(PlateBy::Normal(state.own.plate.normal));
        }
    });
    // The points of the corner shown, and of its axle as a whole.
    let near = [Assembly::Corner(state.corner), Assembly::Axle(state.corner.end)];
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = 4.0;
        ui.label(RichText::new("or through").small().weak());
        for (n, chosen) in state.own.plate.through.iter_mut().enumerate() {
            let text = chosen.map_or_else(|| format!("point {}", n + 1), |(_, point)| point.to_string());
            let choice = ComboBox::from_id_salt(("plate point", n))
                .selected_text(text)
                .width(84.0 * scale)
                .truncate()
                .show_ui(ui, |ui| {
                    for of in near {
                        for (point, _) in of.hardpoints(session.car()).iter() {
                            ui.selectable_value(chosen, Some((of, point)), point.label());
                        }
                    }
                });
            let name = format!("Plate of {assembly} {hardpoint}, point {}", n + 1);
            ui.ctx().accesskit_node_builder(choice.response.id, |node| node.set_label(name));
        }
        if let [Some(a), Some(b), Some(c)] = state.own.plate.through
            && ui.button("Set plane").clicked()
        {
            set = Some(PlateBy::Points([a, b, c]));
        }
    });
    if let Some(by) = set {
        edits.push(Edit::SetPlate { assembly, hardpoint, by, mirrored });
        state.handle = Some(Handle::Plate);
        state.own.plate.open = false;
    }
}

/// The arrow keys along the chosen handle, where no field has the keyboard: up and down, in a plate left
/// and right across.
pub(in crate::panels) fn pull_keys(ui: &Ui, session: &Session, state: &Shared, edits: &mut Vec<Edit>) {
    let Some((assembly, hardpoint)) = state.selected.filter(|_| state.shows_handles()) else { return };
    let Some(guide) = state.handle.and_then(|handle| session.guide(assembly, hardpoint, handle)) else {
        return;
    };
    let in_plate = guide.across.is_some();
    let direction = |key: Key| match key {
        Key::ArrowUp if in_plate => Some([0.0, 1.0]),
        Key::ArrowDown if in_plate => Some([0.0, -1.0]),
        Key::ArrowRight if in_plate => Some([1.0, 0.0]),
        Key::ArrowLeft if in_plate => Some([-1.0, 0.0]),
        Key::ArrowUp | Key::ArrowRight => Some([1.0, 0.0]),
        Key::ArrowDown | Key::ArrowLeft => Some([-1.0, 0.0]),
        _ => None,
    };
    let (mut by, mut over) = ([0.0; 2], false);
    ui.input_mut(|input| {
        input.events.retain(|event| {
            let bevy_egui::egui::Event::Key { key, pressed, modifiers, .. } = event else { return true };
            let Some([along, across]) = direction(*key) else { return true };
            if *pressed {
                let step = step_of(*modifiers, state.lengths);
                by = [by[0] + along * step, by[1] + across * step];
            } else {
                over = true;
            }
            false
        });
    });
    if by.iter().any(|distance| *distance != 0.0) {
        let now = session.pulled(assembly, hardpoint, &guide);
        let to = [now[0] + by[0], now[1] + by[1]];
        edits.push(Edit::Change(session.pull(assembly, hardpoint, guide, to, state.mirrored)));
    }
    if over {
        edits.push(Edit::Settle);
    }
}

/// Metres an arrow key is worth: plain, with Shift, with Alt.
fn arrow_steps(lengths: LengthUnit) -> [f64; 3] {
    let step = lengths.small_step();
    [step, 10.0 * step, 0.1 * step]
}

fn step_of(modifiers: Modifiers, lengths: LengthUnit) -> f64 {
    let [plain, coarse, fine] = arrow_steps(lengths);
    if modifiers.shift {
        coarse
    } else if modifiers.alt || modifiers.ctrl || modifiers.command {
        fine
    } else {
        plain
    }
}
