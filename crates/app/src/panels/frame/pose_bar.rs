//! The bar under the stage: travel, steer, play, what is held.

use crate::panels::frame::body_bar::{self, body_bar_ui};
use crate::panels::frame::ui_state::SteerUnit;
use crate::panels::frame::ui_state::UiState;
use crate::panels::widgets::notices::sentence;
use crate::panels::widgets::number_field::NumberField;
use crate::panels::widgets::theme::colour;
use bevy_egui::egui::{Align, Button, ComboBox, Label, Layout, RichText, Slider, Ui, vec2};
use wheelpath_geometry::{LengthUnit, Unit, WheelPosition};
use wheelpath_session::between::between;
use wheelpath_session::{Cycle, Edit, Session, SteerWords, Wheels};

pub(in crate::panels) fn pose_bar_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut UiState,
    edits: &mut Vec<Edit>,
) {
    // The body stands beside the status where there is room for both, else in a line of its own.
    let body = body_bar::WIDTH * state.text_scale;
    let room = ui.available_width() - body;
    let beside = room > 620.0;
    ui.horizontal(|ui| {
        status_ui(ui, session, state, if beside { room } else { ui.available_width() });
        if beside {
            body_bar_ui(ui, session, state, edits);
        }
    });
    if !beside {
        ui.horizontal_wrapped(|ui| body_bar_ui(ui, session, state, edits));
    }
    ui.horizontal_wrapped(|ui| {
        travel_ui(ui, session, state, edits);
        if session.car().front.steering.steers() {
            ui.separator();
            steer_ui(ui, session, state, edits);
        }
        ui.separator();
        play_ui(ui, session, state, edits);
    });
}

/// What is held, and before it, where the pose is not the one asked or the real car would not take it,
/// that it is so. One line always: the stage keeps its size while a wheel is pulled.
fn status_ui(ui: &mut Ui, session: &Session, state: &UiState, width: f32) {
    let palette = state.palette();
    let notices: Vec<_> = session.notices().into_iter().filter(|notice| notice.about.is_pose()).collect();
    let row = vec2(width, ui.spacing().interact_size.y);
    ui.allocate_ui_with_layout(row, Layout::left_to_right(Align::Center), |ui| {
        ui.set_width(width);
        if let Some(first) = notices.first() {
            let tint = colour(if first.severe { palette.fault } else { palette.ink });
            let mark = if first.severe { "✖" } else { "⚠" };
            let more = match notices.len() - 1 {
                0 => String::new(),
                more => format!(" And {more} more."),
            };
            let text = RichText::new(format!("{mark} {}{more}", sentence(&first.text))).color(tint);
            let said: Vec<String> =
                notices.iter().map(|n| format!("{} {}", sentence(&n.text), sentence(&n.remedy))).collect();
            ui.add(Label::new(text).truncate()).on_hover_text(said.join("\n"));
        }
        let room = ui.available_width();
        if notices.is_empty() || room > 160.0 {
            ui.add(Label::new(RichText::new(held(session)).small().weak()).truncate());
        }
    });
}

/// The whole pose in a line, and which part of it stays.
fn held(session: &Session) -> String {
    let pose = session.shown().pose;
    let lengths = session.units();
    let [a, b, c, d] = pose.travel.map(|travel| Unit::Length.write_number(travel, lengths));
    let travel = format!("travel front {a} | {b}, rear {c} | {d} {}", Unit::Length.symbol(lengths));
    let words = SteerWords::of(session.solver_car(), lengths);
    let steer = format!("{} {}", words.part, words.unit.write(pose.steer, lengths));
    let steers = session.solver_car().front.steering.steers();
    match (session.previewed(), session.playing()) {
        (Some(_), _) if steers => format!("Under the pointer: {travel}; {steer}"),
        (Some(_), _) => format!("Under the pointer: {travel}"),
        (None, Some(Cycle::Travel(_))) if steers => format!("Held: {steer}. Moving: {travel}"),
        (None, Some(Cycle::Travel(_))) => format!("Moving: {travel}"),
        (None, Some(Cycle::Steer)) => format!("Held: {travel}. Moving: {steer}"),
        (None, None) if session.stands() && steers => {
            format!("Held: body over the road; {steer}. So {travel}")
        }
        (None, None) if session.stands() => format!("Held: body over the road. So {travel}"),
        (None, None) if steers => format!("Held: {travel}; {steer}"),
        (None, None) => format!("Held: {travel}"),
    }
}

fn travel_ui(ui: &mut Ui, session: &Session, state: &mut UiState, edits: &mut Vec<Edit>) {
    let scale = state.text_scale;
    let wheels = ComboBox::from_id_salt("moving")
        .selected_text(short(state.moving))
        .width(104.0 * scale)
        .show_ui(ui, |ui| {
            for wheels in Wheels::ALL {
                ui.selectable_value(&mut state.moving, wheels, wheels.label());
            }
        });
    ui.ctx().accesskit_node_builder(wheels.response.id, |node| node.set_label("Which wheels travel"));
    let (wheels, symbol) = (state.moving, Unit::Length.symbol(state.lengths));
    let value = wheels.travel(&session.shown().pose);
    let field = NumberField {
        name: &format!("Travel in {symbol}, + bump"),
        handle: "Travel",
        value: value.unwrap_or(f64::NAN),
        unit: Unit::Length,
        lengths: state.lengths,
        width: 46.0 * scale,
        decimals: 2,
        at_fault: session
            .notices()
            .iter()
            .any(|n| n.severe && matches!(n.about, wheelpath_session::About::Travel(_))),
        hint: "",
    };
    let entered = field.show(ui, &state.palette());
    ui.label(symbol);
    let range = session.reach().common_travel();
    let slid = slider(ui, value.unwrap_or(0.0), range, (Unit::Length, state.lengths), "Travel");
    if let Some(travel) = entered.set.or(slid) {
        edits.push(Edit::SetTravel { wheels, travel });
    }
}

fn short(wheels: Wheels) -> String {
    match wheels {
        Wheels::Roll => "Roll".into(),
        Wheels::Pitch => "Pitch".into(),
        other => other.label(),
    }
}

fn steer_ui(ui: &mut Ui, session: &Session, state: &mut UiState, edits: &mut Vec<Edit>) {
    let scale = state.text_scale;
    let steering = session.car().front.steering;
    let words = SteerWords::of(session.car(), state.lengths);
    let now = session.shown().pose.steer;
    let column = &session.car().front.column;
    let by_wheel = state.steer_unit == SteerUnit::SteeringWheel;
    let (name, value, unit) = if by_wheel {
        ("Steering wheel in degrees, + left", column.wheel_at(steering.shaft_at(now)), Unit::Degree)
    } else {
        (words.field, now, words.unit)
    };
    let at_fault = session.notices().iter().any(|n| n.severe && n.about == wheelpath_session::About::Steer);
    let field = NumberField {
        name,
        handle: "Steer",
        value,
        unit,
        lengths: state.lengths,
        width: 46.0 * scale,
        decimals: 2,
        at_fault,
        hint: "",
    };
    let entered = field.show(ui, &state.palette());
    let says = |unit| if unit == SteerUnit::Input { words.short } else { "° wheel" };
    let other = if by_wheel { SteerUnit::Input } else { SteerUnit::SteeringWheel };
    let button = ui.button(says(state.steer_unit)).on_hover_text(format!("Type steering in {}", says(other)));
    if button.clicked() {
        state.steer_unit = other;
    }
    let slid = slider(ui, now, session.reach().steer, (words.unit, state.lengths), "Steer");
    let typed =
        entered.set.map(|value| if by_wheel { steering.input_at(column.shaft_at(value)) } else { value });
    if let Some(steer) = typed.or(slid) {
        edits.push(Edit::SetSteer(steer));
    }
}

/// A slider in lengths or degrees with a rest at zero; gives metres or radians where it was moved.
fn slider(
    ui: &mut Ui,
    value: f64,
    range: [f64; 2],
    (unit, lengths): (Unit, LengthUnit),
    name: &str,
) -> Option<f64> {
    let [low, high] = range.map(|end| unit.shown(end, lengths));
    let mut shown = unit.shown(value, lengths);
    // What is typed may lie beyond the stops; the slider then stands at its end. Where the axles have no
    // travel in common, it stands where the lower end is.
    let high = high.max(low);
    shown = between(shown, low, high);
    let slider = Slider::new(&mut shown, low..=high).show_value(false);
    ui.spacing_mut().slider_width = (ui.ctx().viewport_rect().width() * 0.095).clamp(90.0, 220.0);
    let response = ui.add(slider);
    let says =
        format!("{name} slider, {}", if unit == Unit::Degree { "degrees" } else { unit.symbol(lengths) });
    ui.ctx().accesskit_node_builder(response.id, |node| node.set_label(says));
    // A tenth of a millimetre or degree, a two-hundredth of an inch.
    let per_unit = if unit == Unit::Length && lengths == LengthUnit::Inch { 200.0 } else { 10.0 };
    response.changed().then(|| {
        let steps = (shown * per_unit).round();
        if steps.abs() < 4.0 { 0.0 } else { unit.inside(steps / per_unit, lengths) }
    })
}

fn play_ui(ui: &mut Ui, session: &Session, state: &UiState, edits: &mut Vec<Edit>) {
    let playing = session.playing();
    let mut button = |ui: &mut Ui, cycle: Cycle, name: &str| {
        let on = playing.is_some_and(|one| std::mem::discriminant(&one) == std::mem::discriminant(&cycle));
        let text = if on {
            format!("Stop {}", name.to_lowercase())
        } else {
            format!("Play {}", name.to_lowercase())
        };
        if ui.add(Button::new(text).selected(on)).clicked() {
            edits.push(Edit::Play((!on).then_some(cycle)));
        }
    };
    button(ui, Cycle::Travel(state.moving), "Travel");
    if session.car().front.steering.steers() {
        button(ui, Cycle::Steer, "Steer");
    }
    let pose = session.held_pose();
    let at_rest = playing.is_none()
        && pose.steer == 0.0
        && WheelPosition::ALL.iter().all(|&at| pose.travel_of(at) == 0.0)
        && session.limit().is_none();
    let reset = ui.add_enabled(!at_rest, Button::new("Reset pose"));
    if reset.on_hover_text("Zero travel, straight ahead").clicked() {
        edits.push(Edit::ResetPose);
    }
}
