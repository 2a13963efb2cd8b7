//! What belongs to the person and not to a car: size of text, zoom, sheet, task, size of the window. It is kept in
//! the user's state folder, so that the next window opens as the last one was left.

use super::work::Panels;
use crate::panels::{Task, UiState};
use bevy::prelude::*;
use bevy::window::PrimaryWindow;
use serde::{Deserialize, Serialize};
use std::path::PathBuf;
use wheelpath_car_file::put;
use wheelpath_project::state_folder;
use wheelpath_stage::theme::ColourTheme;

const FORMAT: &str = "wheelpath window";
const VERSION: u32 = 1;

/// Least width and height of the window, logical pixels, where the system asks; a window that a system makes
/// smaller all the same stays usable too.
pub(super) const LEAST_SIZE: (f32, f32) = (480.0, 360.0);

#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
struct Kept {
    format: String,
    version: u32,
    text_scale: f32,
    dark: bool,
    task: String,
    /// Width and height in logical pixels.
    size: (u32, u32),
    /// Zoom of all panels, 1 = as designed; earlier files have none.
    #[serde(default = "no_zoom")]
    zoom: f32,
}

fn no_zoom() -> f32 {
    1.0
}

impl Default for Kept {
    fn default() -> Self {
        Kept {
            format: FORMAT.into(),
            version: VERSION,
            text_scale: 1.0,
            dark: false,
            task: name_of(Task::default()).into(),
            size: (1440, 860),
            zoom: no_zoom(),
        }
    }
}

fn name_of(task: Task) -> &'static str {
    match task {
        Task::Look => "look",
        Task::Change => "change",
        Task::Decide => "decide",
    }
}

/// How the window was left last, and where that is kept.
#[derive(Resource, Clone, Debug, Default)]
pub(super) struct Remembered {
    /// Nowhere in a test.
    at: Option<PathBuf>,
    kept: Kept,
    /// The zoom of the panels as it stands; none before it is known.
    zoom: Option<f32>,
}

/// Least and largest zoom, 1 = as designed.
const BOUNDS: [f32; 2] = [0.5, 3.0];

/// The nearest zoom within the bounds; what is not a number is 1.
pub(super) fn bounded(zoom: f32) -> f32 {
    let [least, most] = BOUNDS;
    if zoom.is_finite() { zoom.max(least).min(most) } else { 1.0 }
}

impl Remembered {
    /// How this user left it.
    pub(super) fn of_user() -> Self {
        state_folder().map_or_else(Self::default, |folder| Self::kept_in(folder.join("window.ron")))
    }

    /// As this file says; what cannot be read is as at first.
    fn kept_in(at: PathBuf) -> Self {
        let read = std::fs::read_to_string(&at).ok().and_then(|text| ron::from_str::<Kept>(&text).ok());
        let kept = read.filter(|kept| kept.format == FORMAT && kept.version == VERSION);
        Remembered { at: Some(at), kept: kept.unwrap_or_default(), zoom: None }
    }

    /// Width and height of the window, logical pixels.
    pub(super) fn size(&self) -> (u32, u32) {
        (self.kept.size.0.clamp(480, 16_000), self.kept.size.1.clamp(360, 16_000))
    }

    /// The zoom that the panels were left with, within its bounds.
    pub(super) fn zoom(&self) -> f32 {
        bounded(self.kept.zoom)
    }

    /// Takes down the zoom of the panels as it stands.
    pub(super) fn note_zoom(&mut self, zoom: f32) {
        self.zoom = Some(zoom);
    }

    /// Puts the panels as they were left.
    pub(super) fn put_on(&self, panels: &mut UiState) {
        panels.text_scale =
            if self.kept.text_scale.is_finite() { self.kept.text_scale.clamp(0.85, 1.75) } else { 1.0 };
        panels.sheet = if self.kept.dark { ColourTheme::Dark } else { ColourTheme::Light };
        let tasks = [Task::Look, Task::Change, Task::Decide];
        panels.task = tasks.into_iter().find(|task| name_of(*task) == self.kept.task).unwrap_or_default();
    }

    /// Notes how the panels stand; gives whether that is another way than before.
    fn note(&mut self, panels: &UiState) -> bool {
        let now = Kept {
            text_scale: panels.text_scale,
            dark: panels.sheet == ColourTheme::Dark,
            task: name_of(panels.task).into(),
            zoom: self.zoom.unwrap_or(self.kept.zoom),
            ..self.kept.clone()
        };
        let is_other = now != self.kept;
        self.kept = now;
        is_other
    }

    /// A folder that cannot be written to is no reason to disturb the work.
    fn write(&self) {
        if let Some((at, text)) = self.at.as_ref().zip(ron::to_string(&self.kept).ok()) {
            let _ = put(at, &text, None);
        }
    }
}

/// Writes down what changed, and the window's size when it is left.
pub(super) fn remember(
    panels: Res<Panels>,
    windows: Query<&Window, With<PrimaryWindow>>,
    mut exits: MessageReader<AppExit>,
    mut remembered: ResMut<Remembered>,
) {
    if let Ok(window) = windows.single() {
        let resolution = &window.resolution;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "pixels of a screen")]
        let size = (resolution.width() as u32, resolution.height() as u32);
        remembered.kept.size = size;
    }
    if remembered.note(&panels.0) || exits.read().next().is_some() {
        remembered.write();
    }
}

#[cfg(test)]
mod tests {
    use super::{Kept, Remembered};
    use crate::panels::{Task, UiState};
    use crate::test_cars::alder as alder_for_tests;
    use wheelpath_stage::theme::ColourTheme;

    #[test]
    fn the_next_window_opens_as_the_last_was_left() {
        let folder = tempfile::tempdir().unwrap();
        let at = folder.path().join("window.ron");
        let mut panels = UiState::new(&alder_for_tests());
        let mut left = Remembered::kept_in(at.clone());
        assert!(!left.note(&panels), "as at first");
        (panels.text_scale, panels.sheet, panels.task) = (1.45, ColourTheme::Dark, Task::Decide);
        left.kept.size = (1280, 720);
        left.note_zoom(1.3);
        assert!(left.note(&panels) && !left.note(&panels));
        left.write();
        let again = Remembered::kept_in(at);
        assert_eq!(again.size(), (1280, 720));
        assert!((again.zoom() - 1.3).abs() < f32::EPSILON);
        let mut next = UiState::new(&alder_for_tests());
        again.put_on(&mut next);
        assert_eq!((next.text_scale, next.sheet, next.task), (1.45, ColourTheme::Dark, Task::Decide));
    }

    #[test]
    fn what_cannot_be_read_is_as_at_first() {
        let folder = tempfile::tempdir().unwrap();
        let at = folder.path().join("window.ron");
        for text in ["", "nonsense", "(format: \"another\", version: 1)"] {
            std::fs::write(&at, text).unwrap();
            assert_eq!(Remembered::kept_in(at.clone()).kept, Kept::default(), "{text}");
        }
        let odd = Kept { text_scale: f32::NAN, size: (3, 1_000_000), zoom: f32::NAN, ..Kept::default() };
        let odd = Remembered { kept: odd, ..Remembered::default() };
        assert_eq!(odd.size(), (480, 16_000));
        assert!((odd.zoom() - 1.0).abs() < f32::EPSILON);
        let mut panels = UiState::new(&alder_for_tests());
        odd.put_on(&mut panels);
        assert!((panels.text_scale - 1.0).abs() < f32::EPSILON);
    }

    #[test]
    fn a_file_from_before_there_was_a_zoom_is_read() {
        let folder = tempfile::tempdir().unwrap();
        let at = folder.path().join("window.ron");
        let text = "(format: \"wheelpath window\", version: 1, text_scale: 1.45, dark: true, task: \"decide\", \
                    size: (1000, 700))";
        std::fs::write(&at, text).unwrap();
        let read = Remembered::kept_in(at);
        assert_eq!(read.size(), (1000, 700));
        assert!((read.zoom() - 1.0).abs() < f32::EPSILON);
    }
}
