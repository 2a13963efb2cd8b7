//! What is scrolled out of sight is not laid out.

use bevy_egui::egui::{Id, Rect, Ui, vec2};

/// So much beyond what is seen is laid out all the same, points.
const BEYOND: f32 = 60.0;

/// Lays something out where it is seen, or else keeps its room. While anything has the keyboard, or somebody
/// listens instead of looking, all of it is there, so that the next field is always there to go to.
pub(in crate::panels) fn where_seen(ui: &mut Ui, id: Id, must: bool, add: impl FnOnce(&mut Ui)) {
    let height: Option<f32> = ui.data(|data| data.get_temp(id));
    if let Some(height) = height.filter(|_| !must && !wants_all(ui)) {
        let rect = Rect::from_min_size(ui.cursor().min, vec2(ui.available_width(), height));
        if !ui.clip_rect().expand(BEYOND).intersects(rect) {
            ui.allocate_space(rect.size());
            return;
        }
    }
    let top = ui.cursor().top();
    add(ui);
    let now = ui.cursor().top() - top - ui.spacing().item_spacing.y;
    if height.is_none_or(|height| (height - now).abs() > 0.01) {
        ui.data_mut(|data| data.insert_temp(id, now));
    }
}

fn wants_all(ui: &Ui) -> bool {
    ui.memory(|memory| memory.focused().is_some())
        || ui.ctx().accesskit_node_builder(ui.unique_id(), |_| ()).is_some()
}

#[cfg(test)]
mod tests {
    use super::where_seen;
    use bevy_egui::egui::{Context, Event, Key, Modifiers, Pos2, RawInput, Rect, ScrollArea, TextEdit, vec2};

    /// Which of forty rows of a scrolled list are laid out in a frame, and how high the list is.
    fn frame(context: &Context, events: Vec<Event>) -> (Vec<usize>, f32) {
        let screen = Rect::from_min_size(Pos2::ZERO, vec2(200.0, 300.0));
        let input = RawInput { screen_rect: Some(screen), events, ..RawInput::default() };
        let (mut rows, mut height) = (Vec::new(), 0.0);
        let mut drawn = context.run_ui(input, |ui| {
            let shown = ScrollArea::vertical().auto_shrink([false, false]).show(ui, |ui| {
                for row in 0..40 {
                    where_seen(ui, ui.id().with(("row", row)), false, |ui| {
                        rows.push(row);
                        ui.label("A name");
                        ui.add(TextEdit::singleline(&mut String::new()));
                    });
                }
            });
            height = shown.content_size.y;
        });
        // Nothing is drawn with it.
        drawn.textures_delta.clear();
        (rows, height)
    }

    #[test]
    fn only_what_is_seen_is_laid_out_in_the_same_room_and_all_of_it_for_the_keyboard() {
        let context = Context::default();
        let (first, high) = frame(&context, Vec::new());
        assert_eq!(first.len(), 40, "their heights are not known yet");
        frame(&context, Vec::new());
        let (seen, now) = frame(&context, Vec::new());
        assert!(seen.first() == Some(&0) && seen.len() < 12, "{seen:?}");
        assert!((now - high).abs() < 0.5, "{now} {high}");
        let tab = |pressed| Event::Key {
            key: Key::Tab,
            physical_key: None,
            pressed,
            repeat: false,
            modifiers: Modifiers::NONE,
        };
        frame(&context, vec![tab(true), tab(false)]);
        frame(&context, Vec::new());
        let (all, now) = frame(&context, Vec::new());
        assert_eq!(all.len(), 40);
        assert!((now - high).abs() < 0.5, "{now} {high}");
    }
}
