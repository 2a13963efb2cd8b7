//! The zoom of all panels, as Ctrl with plus, minus or 0 changes it: within bounds in which the panels can be
//! read and reached, and in the next window as it was left in the last.

use super::remembered::{Remembered, bounded};
use bevy::prelude::*;
use bevy_egui::EguiContexts;
use bevy_egui::egui::Context;

/// Takes the zoom of the panels back within the bounds where it is outside; gives what it is from now on.
fn hold(context: &Context) -> f32 {
    let zoom = bounded(context.zoom_factor());
    context.set_zoom_factor(zoom);
    zoom
}

/// Zooms the panels as they were left last, and from then on notes their zoom.
pub(super) fn keep_zoom(
    mut contexts: EguiContexts,
    mut remembered: ResMut<Remembered>,
    mut is_open: Local<bool>,
) -> Result {
    let context = contexts.ctx_mut()?;
    if *is_open {
        remembered.note_zoom(hold(context));
    } else {
        context.set_zoom_factor(remembered.zoom());
        *is_open = true;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::{bounded, hold};
    use bevy_egui::egui::{Context, Event, Key, Modifiers, RawInput};

    #[test]
    fn any_number_has_a_zoom_within_the_bounds() {
        for (zoom, held) in [
            (0.0, 0.5),
            (-1.0, 0.5),
            (0.5, 0.5),
            (1.1, 1.1),
            (3.0, 3.0),
            (5.0, 3.0),
            (f32::NAN, 1.0),
            (f32::INFINITY, 1.0),
        ] {
            assert!((bounded(zoom) - held).abs() < f32::EPSILON, "{zoom}");
        }
    }

    /// However often the keys are pressed, the panels come to rest within the bounds.
    #[test]
    fn the_keys_zoom_no_further_than_the_bounds() {
        for (key, end) in [(Key::Plus, 3.0), (Key::Minus, 0.5)] {
            let context = Context::default();
            let frame = |pressed: bool| {
                let modifiers = Modifiers::COMMAND;
                let event = Event::Key { key, physical_key: None, pressed: true, repeat: false, modifiers };
                let events =
                    if pressed { vec![Event::ModifiersChanged(modifiers), event] } else { Vec::new() };
                context.begin_pass(RawInput { events, ..RawInput::default() });
                let zoom = hold(&context);
                context.end_pass().textures_delta.clear();
                zoom
            };
            for _ in 0..60 {
                frame(true);
            }
            for _ in 0..3 {
                frame(false);
            }
            context.begin_pass(RawInput::default());
            assert!((context.zoom_factor() - end).abs() < 1e-6, "{key:?}: {}", context.zoom_factor());
            context.end_pass().textures_delta.clear();
        }
    }
}
