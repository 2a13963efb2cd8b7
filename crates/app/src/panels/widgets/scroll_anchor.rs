//! What is under the pointer stays under it while rows above it come and go: a warning that appears must not
//! put another field where one was just clicked.

use bevy_egui::egui::style::ScrollAnimation;
use bevy_egui::egui::{Id, Rect, Ui, vec2};

/// A row and where its upper edge was.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Held {
    row: Id,
    top: f32,
    /// The list was moved back for it in the last frame; that may not have been possible.
    was_moved: bool,
}

/// Watches the rows of a list inside a scroll area.
pub(in crate::panels) struct Anchor {
    id: Id,
    held: Option<Held>,
    now: Option<Held>,
}

impl Anchor {
    /// Before the rows.
    pub(in crate::panels) fn begin(ui: &Ui) -> Self {
        let id = ui.id().with("anchor");
        // Whoever scrolls wants another row there.
        let scrolls = ui.input(|input| input.smooth_scroll_delta() != vec2(0.0, 0.0));
        let held = ui.data(|data| data.get_temp::<Option<Held>>(id)).flatten().filter(|_| !scrolls);
        Anchor { id, held, now: None }
    }

    /// A row was drawn here.
    pub(in crate::panels) fn row(&mut self, ui: &Ui, row: Id, rect: Rect) {
        let pointer = ui.input(|input| input.pointer.latest_pos());
        if self.now.is_none_or(|now| !now.was_moved)
            && pointer.is_some_and(|at| rect.contains(at) && ui.clip_rect().contains(at))
        {
            self.now = Some(Held { row, top: rect.top(), was_moved: false });
        }
        let Some(held) = self.held.filter(|held| held.row == row && !held.was_moved) else { return };
        let by = rect.top() - held.top;
        if by.abs() > 0.5 && pointer.is_some_and(|at| rect.translate(vec2(0.0, -by)).contains(at)) {
            ui.scroll_with_delta_animation(vec2(0.0, -by), ScrollAnimation::none());
            ui.ctx().request_repaint();
            self.now = Some(Held { was_moved: true, ..held });
        }
    }

    /// After the rows.
    pub(in crate::panels) fn end(self, ui: &Ui) {
        ui.data_mut(|data| data.insert_temp(self.id, self.now));
    }
}

#[cfg(test)]
mod tests {
    use super::Anchor;
    use bevy_egui::egui::{Context, Event, Id, Pos2, RawInput, Rect, ScrollArea, pos2, vec2};

    /// Draws a list with a warning of some height above its rows; gives the row under a place.
    fn frame(context: &Context, warning: f32, pointer: Pos2, wheel: f32) -> Option<usize> {
        let mut events = vec![Event::PointerMoved(pointer)];
        if wheel != 0.0 {
            events.push(Event::MouseWheel {
                unit: bevy_egui::egui::MouseWheelUnit::Point,
                delta: vec2(0.0, wheel),
                phase: bevy_egui::egui::TouchPhase::Move,
                modifiers: bevy_egui::egui::Modifiers::NONE,
            });
        }
        let size = vec2(200.0, 300.0);
        let input = RawInput {
            screen_rect: Some(Rect::from_min_size(Pos2::ZERO, size)),
            events,
            ..RawInput::default()
        };
        let mut under = None;
        let mut output = context.run_ui(input, |ui| {
            ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
                ui.allocate_space(vec2(150.0, warning));
                let mut anchor = Anchor::begin(ui);
                for row in 0..60 {
                    let rect = ui.allocate_space(vec2(150.0, 30.0)).1;
                    if rect.contains(pointer) {
                        under = Some(row);
                    }
                    anchor.row(ui, Id::new(row), rect);
                }
                anchor.end(ui);
            });
        });
        output.textures_delta.clear();
        under
    }

    #[test]
    fn the_row_under_the_pointer_stays_there_when_a_warning_comes_and_goes() {
        let context = Context::default();
        let pointer = pos2(50.0, 150.0);
        let settled = |warning: f32| (0..4).fold(None, |_, _| frame(&context, warning, pointer, 0.0));
        let row = settled(0.0);
        assert!(row.is_some());
        for warning in [70.0, 110.0, 40.0] {
            assert_eq!(settled(warning), row, "{warning}");
        }
        // At the top there is no room to go back: the list rests all the same.
        let at_top = settled(0.0);
        assert_eq!(settled(0.0), at_top);
    }

    #[test]
    fn the_wheel_scrolls_as_ever() {
        let context = Context::default();
        let pointer = pos2(50.0, 150.0);
        let first = frame(&context, 0.0, pointer, 0.0);
        for _ in 0..30 {
            frame(&context, 0.0, pointer, -20.0);
        }
        let then = (0..30).fold(None, |_, _| frame(&context, 0.0, pointer, 0.0));
        assert!(then > first, "{first:?} {then:?}");
    }
}
