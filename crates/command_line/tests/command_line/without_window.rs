//! An executable without a window, or a machine without a display, still answers.

use crate::support::{Said, wheelpath_with};
use wheelpath_command_line::{Frontend, NoPicture, NoWindow, PictureRequest, WithoutWindow};
use wheelpath_project::LoadedCar;

struct NoDisplay;

impl Frontend for NoDisplay {
    fn open(&self, _: LoadedCar) -> Result<(), NoWindow> {
        Err(NoWindow::no_display())
    }

    fn picture(&self, _: &PictureRequest) -> Result<(), NoPicture> {
        Err(NoPicture { why: "nothing here can draw".into(), remedy: "install a driver".into() })
    }
}

fn answers(said: &Said) {
    assert_eq!(said.code, 0, "{said:?}");
    assert_eq!(said.err.lines().count(), 1, "one line: {}", said.err);
    assert!(said.err.starts_with("no window: "), "{}", said.err);
    for part in [
        "Bump steer",
        "Toe, front axle, over travel of both wheels",
        "ideal (Ackermann)",
        "Ackermann error",
        "┤",
    ] {
        assert!(said.out.contains(part), "no {part} in {}", said.out);
    }
}

#[test]
fn without_a_display_it_says_why_and_gives_readings_and_curves() {
    let said = wheelpath_with(&[], &NoDisplay);
    answers(&said);
    assert!(said.err.contains("apt install") && said.err.contains("mesa-vulkan-drivers"), "{}", said.err);
    answers(&wheelpath_with(&["open", "alder"], &NoDisplay));
}

#[test]
fn the_small_build_says_how_to_get_the_window() {
    let said = wheelpath_with(&[], &WithoutWindow);
    answers(&said);
    assert!(said.err.contains("built without the window") && said.err.contains("cargo build --release"));
    let said = wheelpath_with(&["picture", "alder", "-o", "x.png"], &WithoutWindow);
    assert_eq!((said.code, said.out.as_str()), (2, ""));
    assert!(said.err.contains("built without the window") && said.err.contains("hint: "), "{}", said.err);
}

#[test]
fn an_error_of_the_picture_is_an_error_here() {
    let said = wheelpath_with(&["picture", "alder", "-o", "x.png"], &NoDisplay);
    assert_eq!((said.code, said.err.as_str()), (2, "error: nothing here can draw\nhint: install a driver\n"));
}
