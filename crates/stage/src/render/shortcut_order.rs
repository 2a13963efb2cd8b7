//! A shortcut pressed and let go within one frame is a shortcut all the same.
//!
//! The binding takes the modifiers as they stand when a frame begins for all keys that came since the last
//! one. Where a frame takes a tenth of a second (drawn in software), Ctrl+Z may come and go in between, and a
//! plain z would be left. So what follows a change of the modifiers waits for the next frame.

use bevy::ecs::message::MessageCursor;
use bevy::input::keyboard::{Key, KeyboardInput};
use bevy::prelude::*;
use bevy::window::RequestRedraw;

fn is_modifier(key: &Key) -> bool {
    matches!(key, Key::Shift | Key::Control | Key::Alt | Key::Super | Key::Meta)
}

/// How many of the keys belong to one state of the modifiers.
fn of_one_state(keys: &[KeyboardInput]) -> usize {
    let mut any_pressed = false;
    for (number, key) in keys.iter().enumerate() {
        if !is_modifier(&key.logical_key) {
            any_pressed |= key.state.is_pressed();
        } else if any_pressed && !key.repeat {
            return number;
        }
    }
    keys.len()
}

/// Lets the keys of one state of the modifiers through, and the others a frame later.
pub(crate) fn part_chords(
    mut keys: ResMut<Messages<KeyboardInput>>,
    mut read: Local<MessageCursor<KeyboardInput>>,
    mut later: Local<Vec<KeyboardInput>>,
    mut redraw: MessageWriter<RequestRedraw>,
) {
    let had_to_wait = !later.is_empty();
    let mut all = std::mem::take(&mut *later);
    all.extend(read.read(&keys).cloned());
    let now = of_one_state(&all);
    if !had_to_wait && now == all.len() {
        return;
    }
    *later = all.split_off(now);
    // What else is there is of the last frame, and has been read.
    keys.clear();
    keys.write_batch(all);
    *read = keys.get_cursor_current();
    if !later.is_empty() {
        redraw.write(RequestRedraw);
    }
}

#[cfg(test)]
mod tests {
    use super::part_chords;
    use bevy::input::ButtonState;
    use bevy::input::keyboard::{Key, KeyCode, KeyboardInput};
    use bevy::prelude::*;
    use bevy::window::RequestRedraw;

    fn key(logical_key: Key, state: ButtonState) -> KeyboardInput {
        let (key_code, window) = (KeyCode::KeyA, Entity::PLACEHOLDER);
        KeyboardInput { key_code, logical_key, state, text: None, repeat: false, window }
    }

    /// What arrives frame after frame, down as a capital letter: C is Ctrl, S Shift.
    fn frames(sent: &str, count: usize) -> Vec<String> {
        #[derive(Resource, Default)]
        struct Heard(String);
        let mut app = App::new();
        app.add_message::<KeyboardInput>().add_message::<RequestRedraw>().init_resource::<Heard>();
        let hear = |mut keys: MessageReader<KeyboardInput>, mut heard: ResMut<Heard>| {
            for key in keys.read() {
                let name = match &key.logical_key {
                    Key::Control => "c".to_owned(),
                    Key::Shift => "s".to_owned(),
                    Key::Character(letter) => letter.to_string(),
                    _ => "?".to_owned(),
                };
                heard.0 += &if key.state.is_pressed() { name.to_uppercase() } else { name };
            }
        };
        app.add_systems(PreUpdate, (part_chords, hear).chain());
        for letter in sent.chars() {
            let state = if letter.is_uppercase() { ButtonState::Pressed } else { ButtonState::Released };
            let logical = match letter.to_ascii_lowercase() {
                'c' => Key::Control,
                's' => Key::Shift,
                other => Key::Character(other.to_string().into()),
            };
            app.world_mut().write_message(key(logical, state));
        }
        let mut all = Vec::new();
        for _ in 0..count {
            app.update();
            all.push(std::mem::take(&mut app.world_mut().resource_mut::<Heard>().0));
        }
        all
    }

    #[test]
    fn keys_under_other_modifiers_come_a_frame_later() {
        assert_eq!(frames("CZzc", 3), ["CZz", "c", ""]);
        // Ctrl+Z, Ctrl+Shift+Z, z.
        assert_eq!(frames("CZzSZzscZz", 4), ["CZz", "SZz", "scZz", ""]);
        assert_eq!(frames("ACXxc", 3), ["A", "CXx", "c"]);
    }

    #[test]
    fn what_needs_no_parting_is_left_alone() {
        assert_eq!(frames("AaBb", 3), ["AaBb", "", ""]);
        assert_eq!(frames("CZ", 3), ["CZ", "", ""]);
        assert_eq!(frames("zc", 2), ["zc", ""]);
    }
}
