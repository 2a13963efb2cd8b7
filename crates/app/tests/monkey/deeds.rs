//! What the monkey does.

use super::Written;
use super::bench::Bench;
use super::dice::Dice;
use bevy::input::ButtonState;
use bevy::input::gestures::PinchGesture;
use bevy::input::keyboard::{Key, KeyCode, KeyboardInput};
use bevy::input::mouse::{MouseButton, MouseButtonInput, MouseScrollUnit, MouseWheel};
use bevy::input::touch::TouchPhase;
use bevy::prelude::*;
use bevy::window::{CursorLeft, CursorMoved};
use std::path::Path;
use wheelpath::panels::{Front, Task};
use wheelpath_geometry::{BodyPose, CarPose};
use wheelpath_session::{Cycle, Edit, FileCommand, Wheels};

/// Does a few things that come in one frame; gives how many.
pub fn some(dice: &mut Dice, bench: &mut Bench, folder: &Path, written: &mut Vec<Written>) -> u64 {
    let mut done = 0;
    for _ in 0..=dice.below(3) {
        match dice.below(100) {
            0..3 => resize(dice, bench),
            3..6 => zoom(dice, bench),
            6..40 => click(dice, bench),
            40..55 => drag(dice, bench),
            55..62 => wheel(dice, bench),
            62..86 => keys(dice, bench),
            86..89 => another_writes(dice, bench, folder, written),
            89..92 => turn_to(dice, bench),
            _ => edit(dice, bench, folder),
        }
        done += 1;
    }
    done
}

fn resize(dice: &mut Dice, bench: &mut Bench) {
    let scale = *dice.one_of(&[1.0, 1.0, 1.0, 1.25, 1.5, 2.0, 3.0]);
    let size = if dice.once_in(6) {
        *dice.one_of(&[
            [1, 1],
            [2, 2000],
            [3840, 10],
            [320, 240],
            [640, 480],
            [800, 600],
            [900, 700],
            [937, 700],
        ])
    } else {
        let mut side = |from: usize, to: usize| u32::try_from(from + dice.below(to - from + 1)).unwrap();
        [side(320, 3840), side(200, 2160)]
    };
    bench.resize(size, scale);
}

/// Ctrl with plus, minus or nought, and the buttons for the size of text.
fn zoom(dice: &mut Dice, bench: &mut Bench) {
    let letter = *dice.one_of(&["+", "-", "0"]);
    for _ in 0..=dice.below(6) {
        press_with_control(bench, letter);
    }
    if dice.once_in(3) {
        bench.panels().text_scale = *dice.one_of(&[0.85, 1.0, 1.2, 1.45, 1.75]);
    }
}

fn key(bench: &mut Bench, logical_key: Key, key_code: KeyCode, state: ButtonState, text: Option<&str>) {
    let window = bench.window;
    let text = text.map(Into::into);
    bench.tell(KeyboardInput { key_code, logical_key, state, text, repeat: false, window });
}

fn chord(bench: &mut Bench, modifiers: &[Key], logical: Key, code: KeyCode, text: Option<&str>) {
    for modifier in modifiers {
        key(bench, modifier.clone(), KeyCode::ControlLeft, ButtonState::Pressed, None);
    }
    key(bench, logical.clone(), code, ButtonState::Pressed, text);
    key(bench, logical, code, ButtonState::Released, None);
    for modifier in modifiers {
        key(bench, modifier.clone(), KeyCode::ControlLeft, ButtonState::Released, None);
    }
}

/// Ctrl with a key, pressed and let go within a frame.
pub fn press_with_control(bench: &mut Bench, letter: &str) {
    let code = match letter {
        "+" => KeyCode::Equal,
        "-" => KeyCode::Minus,
        _ => KeyCode::Digit0,
    };
    chord(bench, &[Key::Control], Key::Character(letter.into()), code, None);
}

/// The pointer goes somewhere, and a click comes and goes, all within a frame.
pub fn click_at_once(bench: &mut Bench, at: Vec2) {
    move_to(bench, at);
    button(bench, MouseButton::Left, ButtonState::Pressed);
    button(bench, MouseButton::Left, ButtonState::Released);
}

fn keys(dice: &mut Dice, bench: &mut Bench) {
    if dice.once_in(2) {
        for _ in 0..=dice.below(4) {
            let letter = *dice.one_of(&["1", "2", "5", "0", "-", ".", ",", "a", "x", "°", "−", " ", "é"]);
            key(bench, Key::Character(letter.into()), KeyCode::KeyA, ButtonState::Pressed, Some(letter));
            key(bench, Key::Character(letter.into()), KeyCode::KeyA, ButtonState::Released, None);
        }
        return;
    }
    let modifiers = match dice.below(8) {
        0 => vec![Key::Shift],
        1 => vec![Key::Alt],
        2 | 3 => vec![Key::Control],
        4 => vec![Key::Control, Key::Shift],
        _ => Vec::new(),
    };
    let plain = [
        (Key::Tab, KeyCode::Tab),
        (Key::Tab, KeyCode::Tab),
        (Key::Enter, KeyCode::Enter),
        (Key::Enter, KeyCode::Enter),
        (Key::Escape, KeyCode::Escape),
        (Key::Backspace, KeyCode::Backspace),
        (Key::Delete, KeyCode::Delete),
        (Key::ArrowUp, KeyCode::ArrowUp),
        (Key::ArrowDown, KeyCode::ArrowDown),
        (Key::ArrowLeft, KeyCode::ArrowLeft),
        (Key::ArrowRight, KeyCode::ArrowRight),
        (Key::Home, KeyCode::Home),
        (Key::PageDown, KeyCode::PageDown),
        (Key::Space, KeyCode::Space),
        (Key::Character("z".into()), KeyCode::KeyZ),
        (Key::Character("z".into()), KeyCode::KeyZ),
        (Key::Character("y".into()), KeyCode::KeyY),
        (Key::Character("a".into()), KeyCode::KeyA),
        (Key::Character("1".into()), KeyCode::Digit1),
        (Key::Character("4".into()), KeyCode::Digit4),
        (Key::Character("5".into()), KeyCode::Digit5),
    ];
    let (logical, code) = dice.one_of(&plain).clone();
    let text = match &logical {
        Key::Character(text) if modifiers.is_empty() => Some(text.to_string()),
        Key::Space => Some(" ".to_owned()),
        _ => None,
    };
    chord(bench, &modifiers, logical, code, text.as_deref());
}

fn move_to(bench: &mut Bench, to: Vec2) {
    let (window, delta) = (bench.window, Some(to - bench.pointer));
    bench.pointer = to;
    bench.tell(CursorMoved { window, position: to, delta });
}

fn button(bench: &mut Bench, button: MouseButton, state: ButtonState) {
    let window = bench.window;
    bench.tell(MouseButtonInput { button, state, window });
}

/// A widget, or any place of the window.
fn somewhere(dice: &mut Dice, bench: &mut Bench) -> Vec2 {
    let size = bench.logical();
    let widgets = bench.widgets();
    if !widgets.is_empty() && !dice.once_in(3) {
        return *dice.one_of(&widgets);
    }
    Vec2::new(dice.between(-5.0, size.x + 5.0), dice.between(-5.0, size.y + 5.0))
}

fn any_button(dice: &mut Dice) -> MouseButton {
    *dice.one_of(&[
        MouseButton::Left,
        MouseButton::Left,
        MouseButton::Left,
        MouseButton::Middle,
        MouseButton::Right,
    ])
}

fn click(dice: &mut Dice, bench: &mut Bench) {
    let (to, which) = (somewhere(dice, bench), any_button(dice));
    move_to(bench, to);
    if dice.once_in(4) {
        bench.frame();
    }
    for _ in 0..=dice.below(2) {
        button(bench, which, ButtonState::Pressed);
        if dice.once_in(3) {
            bench.frame();
        }
        button(bench, which, ButtonState::Released);
    }
    if dice.once_in(20) {
        let window = bench.window;
        bench.tell(CursorLeft { window });
    }
}

fn drag(dice: &mut Dice, bench: &mut Bench) {
    let (from, which) = (somewhere(dice, bench), any_button(dice));
    move_to(bench, from);
    bench.frame();
    button(bench, which, ButtonState::Pressed);
    let reach = if dice.once_in(5) { 2000.0 } else { 80.0 };
    let steps = 1 + dice.below(4);
    for _ in 0..steps {
        let to = bench.pointer + Vec2::new(dice.between(-reach, reach), dice.between(-reach, reach));
        move_to(bench, to);
        if dice.once_in(2) {
            bench.frame();
        }
        if dice.once_in(30) {
            resize(dice, bench);
        }
    }
    if dice.once_in(12) {
        chord(bench, &[], Key::Escape, KeyCode::Escape, None);
    }
    // Now and then the button stays down.
    if !dice.once_in(25) {
        button(bench, which, ButtonState::Released);
    }
}

fn wheel(dice: &mut Dice, bench: &mut Bench) {
    let to = somewhere(dice, bench);
    move_to(bench, to);
    let window = bench.window;
    if dice.once_in(4) {
        bench.tell(PinchGesture(dice.between(-2.0, 2.0)));
        return;
    }
    let unit = *dice.one_of(&[MouseScrollUnit::Line, MouseScrollUnit::Line, MouseScrollUnit::Pixel]);
    let reach = if unit == MouseScrollUnit::Line { 5.0 } else { 400.0 };
    let (x, y) = (dice.between(-reach, reach), dice.between(-reach, reach));
    bench.tell(MouseWheel { unit, x, y, window, phase: TouchPhase::Moved });
}

fn turn_to(dice: &mut Dice, bench: &mut Bench) {
    let panels = bench.panels();
    panels.task = *dice.one_of(&[Task::Look, Task::Change, Task::Decide]);
    panels.front = *dice.one_of(&[Front::Stage, Front::Task, Front::Curves]);
    panels.beside = dice.once_in(2);
}

/// Another window or program writes, breaks or deletes a file beside the car.
fn another_writes(dice: &mut Dice, bench: &mut Bench, folder: &Path, written: &mut Vec<Written>) {
    let file =
        *dice.one_of(&["alder/tie-rod-down.ron", "alder/limits.ron", "alder/brackets.ron", "alder.ron"]);
    let file = folder.join(file);
    let held = std::fs::read_to_string(&file).ok();
    let text = match (dice.below(5), held) {
        (0, _) => None,
        (1, _) => Some("not a file of this program".to_owned()),
        (2, Some(held)) => Some(held.chars().take(held.len() / 2).collect()),
        (_, Some(held)) => Some(format!("{held}\n// Another was here, {}.\n", dice.below(1000))),
        (_, None) => Some(String::new()),
    };
    let one = Written { after: bench.session().journal().len(), file, text };
    one.write();
    written.push(one);
}

/// Something done straight to the session: what takes the pointer long to find.
fn edit(dice: &mut Dice, bench: &mut Bench, folder: &Path) {
    let proposals: Vec<String> =
        bench.session().beside().proposals.iter().map(|listed| listed.file.clone()).collect();
    let odd = [0.0, 0.01, -0.02, 0.06, 5.0, f64::NAN, f64::INFINITY, -1e300];
    let edit = match dice.below(14) {
        0 | 1 if !proposals.is_empty() => {
            Edit::File(FileCommand::OpenProposal(dice.one_of(&proposals).clone()))
        }
        2 => Edit::File(FileCommand::SaveOpen),
        3 => Edit::File(FileCommand::SaveLimits),
        4 => Edit::SetTravel { wheels: *dice.one_of(&Wheels::ALL), travel: *dice.one_of(&odd) },
        5 => Edit::SetSteer(*dice.one_of(&odd)),
        6 => Edit::Stand(BodyPose {
            front: *dice.one_of(&odd),
            roll: *dice.one_of(&odd),
            ..BodyPose::default()
        }),
        7 => {
            let travel = [(); 4].map(|()| *dice.one_of(&odd));
            Edit::SetPose(CarPose { travel, steer: *dice.one_of(&odd) })
        }
        8 => Edit::Play(dice.once_in(2).then_some(Cycle::Travel(Wheels::All))),
        9 => {
            let car = *dice.one_of(&["alder.ron", "hazel.ron", "rowan.ron", "sorrel.ron", "none.ron"]);
            Edit::File(FileCommand::OpenCar { path: folder.join(car), proposal: None })
        }
        10 => Edit::File(FileCommand::SaveProposal {
            name: (*dice.one_of(&["Up", "Tie rod down", "Ünder way / 2", "..", ""])).to_owned(),
            path: folder.join("alder").join(*dice.one_of(&["up.ron", "tie-rod-down.ron", "three.ron"])),
            replace: dice.once_in(2),
        }),
        11 => Edit::File(FileCommand::Recover),
        12 => dice
            .one_of(&[Edit::File(FileCommand::DiscardRecovery), Edit::File(FileCommand::BringBack)])
            .clone(),
        _ => Edit::Undo,
    };
    bench.session().apply(edit);
}
