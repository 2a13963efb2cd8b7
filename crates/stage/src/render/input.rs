//! From window events to the hand, and from the hand's acts to messages.
//!
//! The first click after a rest: the hand reads the window's own events in their
//! order and hit-tests them itself against this frame's car, camera and labels. It
//! needs neither a pointer movement before the press, nor a frame between press and
//! release, nor what egui knew before the loop went to sleep; so a press that wakes
//! the loop counts like any other. egui is asked one thing only: whether a window or
//! menu of its lies over that pixel.

use bevy::input::ButtonState;
use bevy::input::keyboard::Key;
use bevy::input::mouse::{MouseButton, MouseScrollUnit};
use bevy::prelude::*;
use bevy::window::{PrimaryWindow, WindowEvent};
use bevy_egui::{EguiContext, PrimaryEguiContext, egui};

use crate::annotate::frame;
use crate::annotate::overlay_painter::DrawnLabel;
use crate::camera::projection::{Pixel, ScreenRect};
use crate::pick::pointer_input::{Act, Button, Event, HandSettings, Held, PointerInput, Surroundings};
use crate::render::messages::{
    StageClick, StageHandlePull, StageLabelClick, StagePointPull, StagePull, StageSteer,
};
use crate::render::stage_camera::{BeforeRect, StageCamera, StageRect, StageTarget, lens};
use crate::view::Stage;
use crate::view::standard_views::StandardView;

/// The labels drawn last.
#[derive(Resource, Debug, Clone, Default, PartialEq)]
pub struct StageLabels(pub Vec<DrawnLabel>);

/// Where acts go.
#[derive(bevy::ecs::system::SystemParam)]
pub(crate) struct Mouth<'w> {
    pulls: MessageWriter<'w, StagePull>,
    steers: MessageWriter<'w, StageSteer>,
    points: MessageWriter<'w, StagePointPull>,
    handles: MessageWriter<'w, StageHandlePull>,
    clicks: MessageWriter<'w, StageClick>,
    labels: MessageWriter<'w, StageLabelClick>,
}

impl Mouth<'_> {
    fn say(&mut self, act: Act, camera: &mut StageCamera, labels: &StageLabels) {
        match act {
            Act::Camera(to) => camera.put(to),
            Act::Pull { place, change, phase } => {
                self.pulls.write(StagePull { place, travel_change: change, phase });
            }
            Act::Steer { place, change, phase } => {
                self.steers.write(StageSteer { place, angle_change: change, phase });
            }
            Act::PullPoint { key, to, snap_turned, phase } => {
                self.points.write(StagePointPull { key, to, snap_turned, phase });
            }
            Act::PullHandle { key, by, snap_turned, phase } => {
                self.handles.write(StageHandlePull { key, by, snap_turned, phase });
            }
            Act::Clicked(target) => {
                self.clicks.write(StageClick(target));
            }
            Act::Label(number) => {
                if let Some(label) = labels.0.get(number) {
                    self.labels.write(StageLabelClick { reading: label.reading.clone(), place: label.place });
                }
            }
        }
    }
}

/// Reads the window's events.
#[expect(clippy::too_many_arguments, reason = "a system's parameters are what it reads and writes")]
pub(crate) fn read_pointer(
    mut events: MessageReader<WindowEvent>,
    keys: Res<ButtonInput<Key>>,
    stage: Res<Stage>,
    (rect, before): (Res<StageRect>, Res<BeforeRect>),
    target: Res<StageTarget>,
    settings: Res<HandSettings>,
    labels: Res<StageLabels>,
    windows: Query<(Entity, &Window), With<PrimaryWindow>>,
    mut contexts: Query<&mut EguiContext, With<PrimaryEguiContext>>,
    mut camera: ResMut<StageCamera>,
    mut stored_hand: ResMut<PointerInput>,
    mut mouth: Mouth,
    mut known: Local<Known>,
) {
    if events.is_empty() {
        return;
    }
    // Worked on beside the resource, which counts as changed only if it is: a pointer
    // that merely passes over asks for no frames.
    let mut hand = stored_hand.clone();
    let window = windows.single().ok();
    let of_point = PerPoint::of(&target, window.map(|(_, window)| window));
    if let Some(old) = known.points.replace(of_point).filter(|old| *old != of_point) {
        hand.rescale(old.physical / of_point.physical);
    }
    let window = window.map(|(entity, _)| entity);
    let rects: Vec<ScreenRect> = labels.0.iter().map(|label| label.rect).collect();
    for event in events.read() {
        if let WindowEvent::KeyboardInput(input) = event
            && input.logical_key == Key::Escape
            && input.state == ButtonState::Pressed
        {
            for act in hand.give_up() {
                mouth.say(act, &mut camera, &labels);
            }
        }
        let Some((event, of)) = pointer_event(event, of_point) else {
            continue;
        };
        if of.is_some() && of != window {
            continue;
        }
        let pixel = match event {
            Event::Moved(pixel) => Some(pixel),
            _ => hand.pointer(),
        };
        let covered = contexts.single_mut().is_ok_and(|mut context| covers(context.get_mut(), pixel));
        let beside = before.shown(&stage);
        // A drag stays with the picture that it began in.
        if !hand.is_holding() {
            let in_it = |rect: StageRect| pixel.is_some_and(|at| rect.on(&target).contains(at));
            known.in_before = beside.is_some_and(|(_, rect)| in_it(rect));
        }
        let before = beside.filter(|_| known.in_before);
        let (seen, rect) = before.unwrap_or((&*stage, *rect));
        let mut around = Surroundings {
            car: &seen.car,
            handles: &seen.handles,
            lens: lens(&camera, seen, &rect, &target),
            labels: if before.is_some() { &[] } else { &rects },
            only_seen: before.is_some(),
            held: Held {
                shift: keys.pressed(Key::Shift),
                control: keys.any_pressed([Key::Control, Key::Super, Key::Meta]),
                alt: keys.pressed(Key::Alt),
            },
            covered,
        };
        for act in hand.read(event, &mut around, &settings) {
            mouth.say(act, &mut camera, &labels);
        }
    }
    stored_hand.set_if_neq(hand);
}

/// What a point is made of, physical pixels and the window's logical ones.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct PerPoint {
    physical: f64,
    logical: f64,
}

impl PerPoint {
    fn of(target: &StageTarget, window: Option<&Window>) -> Self {
        let scale = window.map_or(1.0, |window| f64::from(window.scale_factor()));
        let scale = if scale.is_finite() && scale > 0.0 { scale } else { 1.0 };
        PerPoint { physical: target.scale, logical: target.scale / scale }
    }
}

/// What is known from earlier events.
#[derive(Debug, Default)]
pub(crate) struct Known {
    points: Option<PerPoint>,
    /// Whether the pointer is, or what it holds began, in the picture of the car before.
    in_before: bool,
}

/// Whether a window, menu or the like of egui's lies over a pixel.
fn covers(context: &egui::Context, pixel: Option<Pixel>) -> bool {
    pixel
        .and_then(|pixel| context.layer_id_at(frame::pos(pixel)))
        .is_some_and(|layer| layer.order != egui::Order::Background)
}

/// A window event as the hand reads it, and the window it belongs to where it says.
fn pointer_event(event: &WindowEvent, of_point: PerPoint) -> Option<(Event, Option<Entity>)> {
    let pressed = |button: MouseButton, state: ButtonState| {
        let button = match button {
            MouseButton::Left => Button::Left,
            MouseButton::Middle => Button::Middle,
            MouseButton::Right => Button::Right,
            _ => return None,
        };
        Some(match state {
            ButtonState::Pressed => Event::Pressed(button),
            ButtonState::Released => Event::Released(button),
        })
    };
    match event {
        WindowEvent::CursorMoved(moved) => Some((
            Event::Moved(Pixel::new(
                f64::from(moved.position.x) / of_point.logical,
                f64::from(moved.position.y) / of_point.logical,
            )),
            Some(moved.window),
        )),
        WindowEvent::CursorLeft(left) => Some((Event::Left, Some(left.window))),
        WindowEvent::MouseButtonInput(input) => {
            Some((pressed(input.button, input.state)?, Some(input.window)))
        }
        WindowEvent::MouseWheel(wheel) => Some((
            match wheel.unit {
                MouseScrollUnit::Line => Event::Wheel(f64::from(wheel.y)),
                MouseScrollUnit::Pixel => Event::Fingers(
                    f64::from(wheel.x) / of_point.physical,
                    f64::from(wheel.y) / of_point.physical,
                ),
            },
            Some(wheel.window),
        )),
        WindowEvent::PinchGesture(pinch) => Some((Event::Pinched(f64::from(pinch.0)), None)),
        _ => None,
    }
}

/// Number keys 1 to 5 go to the standing views, unless a text field has the keyboard.
pub(crate) fn read_view_keys(
    keys: Res<ButtonInput<KeyCode>>,
    mut contexts: Query<&mut EguiContext, With<PrimaryEguiContext>>,
    mut camera: ResMut<StageCamera>,
) {
    const KEYS: [(KeyCode, KeyCode); 5] = [
        (KeyCode::Digit1, KeyCode::Numpad1),
        (KeyCode::Digit2, KeyCode::Numpad2),
        (KeyCode::Digit3, KeyCode::Numpad3),
        (KeyCode::Digit4, KeyCode::Numpad4),
        (KeyCode::Digit5, KeyCode::Numpad5),
    ];
    let pressed = KEYS.iter().position(|(row, pad)| keys.just_pressed(*row) || keys.just_pressed(*pad));
    let Some(number) = pressed else {
        return;
    };
    let typing = contexts.single_mut().is_ok_and(|mut context| context.get_mut().egui_wants_keyboard_input());
    if !typing && let Some(view) = StandardView::ALL.get(number) {
        let next = next_corner(*view, camera.standing);
        camera.go(next);
    }
}

/// Pressing the corner key again goes on to the next corner.
fn next_corner(asked: StandardView, standing: Option<StandardView>) -> StandardView {
    use crate::view::WheelSlot;
    match (asked, standing) {
        (StandardView::Corner(_), Some(StandardView::Corner(place))) => {
            let at = WheelSlot::ALL.iter().position(|p| *p == place).unwrap_or(3);
            StandardView::Corner(WheelSlot::ALL[(at + 1) % WheelSlot::ALL.len()])
        }
        _ => asked,
    }
}

#[cfg(test)]
mod tests;
