//! Whether a click is meant for what is under it: not where that has come under a pointer which was there for
//! something else.

use bevy_egui::egui::{Context, Id, Pos2, Rect, Ui};
use std::time::Duration;

/// What is clicked so many seconds after something has taken another's place was meant for the other.
const TOO_SOON: f64 = 0.5;
/// So far, in points, a pointer has to go from where it was when that happened.
const AWAY: f32 = 24.0;

/// What is shown, since when, and where the pointer was when it came, until it has gone from there.
#[derive(Clone, Debug, Default)]
struct Shown {
    key: String,
    since: f64,
    pointer: Option<Pos2>,
}

fn shown(context: &Context, place: &str, key: &str) -> Shown {
    let id = Id::new(("meant", place));
    let (now, at) = context.input(|input| (input.time, input.pointer.latest_pos()));
    let mut shown: Shown = context.data(|data| data.get_temp(id)).unwrap_or_default();
    let mut is_other = false;
    if shown.key != key {
        shown = Shown { key: key.to_owned(), since: now, pointer: at };
        is_other = true;
    }
    let has_gone = |was: &Pos2| at.is_none_or(|at| at.distance(*was) > AWAY);
    if shown.pointer.as_ref().is_some_and(has_gone) {
        shown.pointer = None;
        is_other = true;
    }
    if is_other {
        // What is drawn as not to be clicked yet is drawn again when it is.
        context.request_repaint_after(Duration::from_secs_f64(TOO_SOON + 0.05));
        context.data_mut(|data| data.insert_temp(id, shown.clone()));
    }
    shown
}

/// Whether what is shown at a place, which has another key whenever it is something else, has been there for
/// long enough to be read.
pub(in crate::panels) fn is_read(context: &Context, place: &str, key: &str) -> bool {
    let shown = shown(context, place, key);
    context.input(|input| input.time) - shown.since > TOO_SOON
}

/// Whether a button there that takes something away is meant: it has been there for long enough to be read, and
/// the pointer, if there is one, has gone since from where it was when it came.
pub(in crate::panels) fn is_meant(context: &Context, place: &str, key: &str) -> bool {
    let shown = shown(context, place, key);
    shown.pointer.is_none() && context.input(|input| input.time) - shown.since > TOO_SOON
}

/// Whether a button in the row that comes next can be clicked: a click on it is meant, or the pointer is not there
/// yet and has to come first.
pub(in crate::panels) fn is_live(ui: &Ui, is_meant: bool) -> bool {
    let (across, top) = (ui.max_rect().x_range(), ui.cursor().top());
    let row = Rect::from_x_y_ranges(across, top..=top + ui.spacing().interact_size.y).expand(AWAY);
    is_meant || ui.input(|input| input.pointer.latest_pos()).is_none_or(|at| !row.contains(at))
}

#[cfg(test)]
mod tests {
    use super::{is_meant, is_read};
    use bevy_egui::egui::{Context, Event, Pos2, RawInput, pos2};

    fn frame(context: &Context, time: f64, pointer: Option<Pos2>, key: &str) -> [bool; 2] {
        let events = pointer.map(Event::PointerMoved).into_iter().collect();
        context.begin_pass(RawInput { time: Some(time), events, ..RawInput::default() });
        let both = [is_read(context, "here", key), is_meant(context, "here", key)];
        context.end_pass().textures_delta.clear();
        both
    }

    #[test]
    fn what_came_under_the_pointer_is_not_meant_until_the_pointer_has_gone_away() {
        let context = Context::default();
        let here = pos2(100.0, 100.0);
        assert_eq!(frame(&context, 0.0, Some(here), "first"), [false, false]);
        assert_eq!(frame(&context, 9.0, Some(here), "first"), [true, false], "however long it rests there");
        assert_eq!(frame(&context, 9.1, Some(pos2(110.0, 100.0)), "first"), [true, false]);
        assert_eq!(frame(&context, 9.2, Some(pos2(140.0, 100.0)), "first"), [true, true]);
        assert_eq!(frame(&context, 9.3, Some(here), "first"), [true, true], "it came back on purpose");
        assert_eq!(frame(&context, 9.4, Some(here), "second"), [false, false], "another took its place");
        assert_eq!(frame(&context, 9.5, Some(pos2(10.0, 10.0)), "second"), [false, false], "too soon");
        assert_eq!(frame(&context, 10.0, Some(here), "second"), [true, true]);
    }

    #[test]
    fn without_a_pointer_time_alone_counts() {
        let context = Context::default();
        assert_eq!(frame(&context, 0.0, None, "first"), [false, false]);
        assert_eq!(frame(&context, 0.6, None, "first"), [true, true]);
    }
}
