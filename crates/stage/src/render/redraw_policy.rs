//! At rest nothing burns: the loop sleeps until something happens, and what egui
//! wants to draw later (a tooltip's delay, a cursor's blink) wakes it in time.
//!
//! The window's loop wakes on window events and on redraw requests only. A later
//! repaint that egui asks for would be lost with that: the binding passes on requests
//! without delay alone. So egui's own announcement is taken here instead, and one
//! sleeping thread wakes the loop when the time has come.

use std::collections::HashMap;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{RecvTimeoutError, Sender, channel};
use std::time::{Duration, Instant};

use bevy::prelude::*;
use bevy::render::render_resource::PipelineCache;
use bevy::window::{RequestRedraw, WindowEvent};
use bevy::winit::{EventLoopProxyWrapper, UpdateMode, WinitSettings, WinitUserEvent};
use bevy_egui::{EguiContext, EguiInput, PrimaryEguiContext, egui};

use crate::pick::pointer_input::{Over, PointerInput};
use crate::render::scene::TyreLook;
use crate::render::stage_camera::{StageCamera, StageRect, StageTarget};
use crate::theme::Palette;
use crate::view::Stage;

/// Settings of a loop that sleeps until something happens.
#[must_use]
pub fn at_rest() -> WinitSettings {
    let asleep = UpdateMode::reactive_low_power(Duration::MAX);
    WinitSettings { focused_mode: asleep, unfocused_mode: asleep }
}

/// Later repaints that lie farther off than this are not waited for: "never", in
/// egui's words, is a very long delay.
const LONGEST: Duration = Duration::from_secs(20);

/// Longest click, in seconds.
const SLOW_CLICK: f64 = 10.0;

/// Takes over egui's repaint requests once its context is there.
pub(crate) fn wake_for_egui(
    mut contexts: Query<&mut EguiContext, Added<PrimaryEguiContext>>,
    proxy: Option<Res<EventLoopProxyWrapper>>,
) {
    let Some(proxy) = proxy else {
        return;
    };
    for mut context in &mut contexts {
        // Where a frame takes a second (drawn in software), a press and its release are seen a second
        // apart; that is a click all the same.
        context.get_mut().options_mut(|options| options.input_options.max_click_duration = SLOW_CLICK);
        let loop_proxy = (**proxy).clone();
        let waker = start_waker(move || {
            // The loop is gone only when the program ends.
            let _ = loop_proxy.send_event(WinitUserEvent::WakeUp);
        });
        context.get_mut().set_request_repaint_callback(move |request| {
            if request.delay < LONGEST {
                let _ = waker.send(Instant::now() + request.delay);
            }
        });
    }
}

/// Whether the renderer still builds pipelines: what needs one is not drawn yet.
#[derive(Resource, Clone, Default)]
pub(crate) struct Building(Arc<AtomicBool>);

/// In the renderer's world: notes whether pipelines are being built.
pub(crate) fn note_building(cache: Res<PipelineCache>, building: Res<Building>) {
    let any = cache.waiting_pipelines().next().is_some();
    building.0.store(any, Ordering::Relaxed);
}

/// Frames drawn after the last change: the renderer runs a frame behind, and panels
/// settle in their second pass.
const FRAMES_TO_SETTLE: u8 = 3;

/// Asks for frames until a change has reached the screen, then for none.
#[expect(clippy::too_many_arguments, reason = "a system's parameters are what it reads and writes")]
pub(crate) fn settle(
    stage: Res<Stage>,
    camera: Res<StageCamera>,
    rect: Res<StageRect>,
    target: Res<StageTarget>,
    palette: Res<Palette>,
    look: Res<TyreLook>,
    hand: Res<PointerInput>,
    building: Res<Building>,
    mut over: Local<Over>,
    mut left: Local<Option<u8>>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let changed = stage.is_changed()
        || camera.is_changed()
        || rect.is_changed()
        || target.is_changed()
        || palette.is_changed()
        || look.is_changed()
        || *hand.over() != *over;
    if *hand.over() != *over {
        over.clone_from(hand.over());
    }
    let frames = if changed || building.0.load(Ordering::Relaxed) {
        FRAMES_TO_SETTLE
    } else {
        left.unwrap_or(FRAMES_TO_SETTLE)
    };
    if frames > 0 {
        redraw.write(RequestRedraw);
    }
    *left = Some(frames.saturating_sub(1));
}

/// Whether what is on the screen may be another after an event, so that a few frames must follow it: input
/// that is pressed, and whatever becomes of the window itself. The pointer that merely moves is not among them:
/// whoever shows that it is there asks for a frame.
fn is_news(event: &WindowEvent) -> bool {
    matches!(
        event,
        WindowEvent::KeyboardInput(_)
            | WindowEvent::MouseButtonInput(_)
            | WindowEvent::TouchInput(_)
            | WindowEvent::Ime(_)
            | WindowEvent::FileDragAndDrop(_)
            | WindowEvent::WindowResized(_)
            | WindowEvent::WindowScaleFactorChanged(_)
            | WindowEvent::WindowBackendScaleFactorChanged(_)
            | WindowEvent::WindowFocused(_)
            | WindowEvent::WindowOccluded(_)
            | WindowEvent::WindowThemeChanged(_)
    )
}

/// Asks for a few frames after a key, a button or a change of the window, whoever took it: panels learn the
/// window's size a frame late and settle in a second pass, and text they have not shown before reaches the
/// renderer a frame late.
pub(crate) fn settle_after_input(
    mut events: MessageReader<WindowEvent>,
    mut left: Local<u8>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    if events.read().filter(|event| is_news(event)).count() > 0 {
        *left = FRAMES_TO_SETTLE;
    }
    if *left > 0 {
        *left -= 1;
        redraw.write(RequestRedraw);
    }
}

/// Takes back the news that no key has changed.
///
/// The binding tells egui the modifier keys every frame; egui takes any event for a
/// reason to draw again, so the two would keep each other awake for ever.
pub(crate) fn drop_idle_modifiers(
    mut inputs: Query<(Entity, &mut EguiInput)>,
    mut known: Local<HashMap<Entity, egui::Modifiers>>,
) {
    for (entity, mut input) in &mut inputs {
        let last = known.entry(entity).or_default();
        drop_repeated(&mut input.0.events, last);
    }
}

fn drop_repeated(events: &mut Vec<egui::Event>, last: &mut egui::Modifiers) {
    events.retain(|event| match event {
        egui::Event::ModifiersChanged(now) => {
            let is_news = now != last;
            *last = *now;
            is_news
        }
        _ => true,
    });
}

/// Starts the sleeping thread. It keeps the earliest time it was told, calls `wake`
/// then, and ends when the sender is dropped.
fn start_waker(wake: impl Fn() + Send + 'static) -> Sender<Instant> {
    let (sender, receiver) = channel::<Instant>();
    std::thread::spawn(move || {
        let mut next: Option<Instant> = None;
        loop {
            let told = match next {
                None => receiver.recv().map_err(|_| RecvTimeoutError::Disconnected),
                Some(at) => receiver.recv_timeout(at.saturating_duration_since(Instant::now())),
            };
            match told {
                Ok(at) => next = Some(next.map_or(at, |old| old.min(at))),
                Err(RecvTimeoutError::Timeout) => {
                    next = None;
                    wake();
                }
                Err(RecvTimeoutError::Disconnected) => return,
            }
        }
    });
    sender
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::sync::atomic::AtomicU32;

    #[test]
    fn frames_are_asked_for_until_a_change_is_on_screen_and_then_none() {
        let mut app = App::new();
        app.add_message::<RequestRedraw>()
            .init_resource::<Stage>()
            .init_resource::<StageCamera>()
            .init_resource::<StageRect>()
            .init_resource::<StageTarget>()
            .init_resource::<Palette>()
            .init_resource::<TyreLook>()
            .init_resource::<PointerInput>()
            .init_resource::<Building>()
            .add_systems(Update, settle);
        let asked = |app: &mut App| {
            app.world_mut().resource_mut::<Messages<RequestRedraw>>().clear();
            app.update();
            !app.world().resource::<Messages<RequestRedraw>>().is_empty()
        };
        let frames = |app: &mut App| (0..20).take_while(|_| asked(app)).count();
        assert_eq!(frames(&mut app), usize::from(FRAMES_TO_SETTLE));
        assert_eq!(frames(&mut app), 0, "nothing burns at rest");
        app.world_mut().resource_mut::<Stage>().focus = None;
        assert_eq!(frames(&mut app), usize::from(FRAMES_TO_SETTLE));
        app.world().resource::<Building>().0.store(true, Ordering::Relaxed);
        assert_eq!(frames(&mut app), 20, "what is not built yet is waited for");
    }

    #[test]
    fn frames_follow_what_becomes_of_the_window_and_then_none() {
        use bevy::window::{
            CursorMoved, WindowFocused, WindowOccluded, WindowResized, WindowScaleFactorChanged,
        };
        let mut app = App::new();
        app.add_message::<RequestRedraw>()
            .add_message::<WindowEvent>()
            .add_systems(Update, settle_after_input);
        let mut frames = |event: Option<WindowEvent>| {
            event.into_iter().for_each(|event| {
                app.world_mut().write_message(event);
            });
            let mut asked = || {
                app.world_mut().resource_mut::<Messages<RequestRedraw>>().clear();
                app.update();
                !app.world().resource::<Messages<RequestRedraw>>().is_empty()
            };
            (0..20).take_while(|_| asked()).count()
        };
        let window = Entity::PLACEHOLDER;
        let news: [WindowEvent; 5] = [
            WindowResized { window, width: 900.0, height: 600.0 }.into(),
            WindowScaleFactorChanged { window, scale_factor: 2.0 }.into(),
            WindowFocused { window, focused: true }.into(),
            WindowFocused { window, focused: false }.into(),
            WindowOccluded { window, occluded: false }.into(),
        ];
        for event in news {
            assert_eq!(frames(Some(event.clone())), usize::from(FRAMES_TO_SETTLE), "{event:?}");
            assert_eq!(frames(None), 0, "nothing burns at rest");
        }
        let moved = CursorMoved { window, position: Vec2::ZERO, delta: None };
        assert_eq!(frames(Some(moved.into())), 0, "a pointer that merely moves asks for nothing");
    }

    #[test]
    fn only_a_change_of_modifiers_is_news() {
        let told = |modifiers| egui::Event::ModifiersChanged(modifiers);
        let mut last = egui::Modifiers::NONE;
        let mut events = vec![told(egui::Modifiers::NONE), egui::Event::PointerGone];
        drop_repeated(&mut events, &mut last);
        assert_eq!(events, vec![egui::Event::PointerGone]);
        let mut pressed = vec![told(egui::Modifiers::SHIFT)];
        drop_repeated(&mut pressed, &mut last);
        assert_eq!(pressed.len(), 1);
        let mut released = vec![told(egui::Modifiers::NONE)];
        drop_repeated(&mut released, &mut last);
        assert_eq!(released.len(), 1);
    }

    #[test]
    fn the_waker_wakes_once_for_the_earliest_time_and_then_sleeps() {
        let count = Arc::new(AtomicU32::new(0));
        let counted = Arc::clone(&count);
        let waker = start_waker(move || {
            counted.fetch_add(1, Ordering::SeqCst);
        });
        let soon = Instant::now() + Duration::from_millis(20);
        for later in [40, 0, 15] {
            waker.send(soon + Duration::from_millis(later)).expect("the thread runs");
        }
        std::thread::sleep(Duration::from_millis(400));
        assert_eq!(count.load(Ordering::SeqCst), 1);
    }
}
