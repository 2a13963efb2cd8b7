//! At rest nothing burns: the loop sleeps until something happens, and what egui
//! wants to draw later (a tooltip's delay, a cursor's blink) wakes it in time.
//!
//! The window's loop wakes on window events and on redraw requests only. A later
//! repaint that egui asks for would be lost with that: the binding passes on requests
//! without delay alone. So egui's own announcement is taken here instead, and one
//! sleeping thread wakes the loop when the time has come.

use std::sync::mpsc::{RecvTimeoutError, Sender, channel};
use std::time::{Duration, Instant};

use bevy::prelude::*;
use bevy::winit::{EventLoopProxyWrapper, UpdateMode, WinitSettings, WinitUserEvent};
use bevy_egui::{EguiContext, PrimaryEguiContext};

/// Settings of a loop that sleeps until something happens.
#[must_use]
pub fn at_rest() -> WinitSettings {
    let asleep = UpdateMode::reactive_low_power(Duration::MAX);
    WinitSettings {
        focused_mode: asleep,
        unfocused_mode: asleep,
    }
}

/// Later repaints that lie farther off than this are not waited for: "never", in
/// egui's words, is a very long delay.
const LONGEST: Duration = Duration::from_secs(20);

/// Takes over egui's repaint requests once its context is there.
pub(super) fn wake_for_egui(
    mut contexts: Query<&mut EguiContext, Added<PrimaryEguiContext>>,
    proxy: Option<Res<EventLoopProxyWrapper>>,
) {
    let Some(proxy) = proxy else {
        return;
    };
    for mut context in &mut contexts {
        let loop_proxy = (**proxy).clone();
        let waker = start_waker(move || {
            // The loop is gone only when the program ends.
            let _ = loop_proxy.send_event(WinitUserEvent::WakeUp);
        });
        context
            .get_mut()
            .set_request_repaint_callback(move |request| {
                if request.delay < LONGEST {
                    let _ = waker.send(Instant::now() + request.delay);
                }
            });
    }
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
    use std::sync::Arc;
    use std::sync::atomic::{AtomicU32, Ordering};

    #[test]
    fn the_waker_wakes_once_for_the_earliest_time_and_then_sleeps() {
        let count = Arc::new(AtomicU32::new(0));
        let counted = Arc::clone(&count);
        let waker = start_waker(move || {
            counted.fetch_add(1, Ordering::SeqCst);
        });
        let soon = Instant::now() + Duration::from_millis(20);
        for later in [40, 0, 15] {
            waker
                .send(soon + Duration::from_millis(later))
                .expect("the thread runs");
        }
        std::thread::sleep(Duration::from_millis(400));
        assert_eq!(count.load(Ordering::SeqCst), 1);
    }
}
