//! Opening the window.

use super::display;
use super::workbench::{Workbench, title_of};
use crate::picture::find_adapter;
use crate::session::Session;
use crate::stage::{StagePlugin, rest};
use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::window::{WindowResizeConstraints, WindowResolution};
use bevy_egui::EguiPlugin;

/// Why there is no window.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoWindow {
    /// No display to open it on.
    NoDisplay,
    /// No driver that can draw.
    NoGraphics,
}

impl std::fmt::Display for NoWindow {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(match self {
            NoWindow::NoDisplay => "no display answers",
            NoWindow::NoGraphics => "no graphics driver can draw it",
        })
    }
}

impl std::error::Error for NoWindow {}

/// Opens the window on a session and returns when it is closed.
///
/// # Errors
/// There is no display, or nothing that can draw.
pub fn open_window(session: Session) -> Result<(), NoWindow> {
    if !display::is_there() {
        return Err(NoWindow::NoDisplay);
    }
    if find_adapter().is_none() {
        return Err(NoWindow::NoGraphics);
    }
    let _ = window_app(session).run();
    Ok(())
}

/// The app of the window, not yet run.
pub fn window_app(session: Session) -> App {
    let mut app = App::new();
    let window = Window {
        title: title_of(&session),
        resolution: WindowResolution::new(1440, 860),
        resize_constraints: WindowResizeConstraints { min_width: 960.0, min_height: 540.0, ..default() },
        ..default()
    };
    app.add_plugins(
        DefaultPlugins
            .set(WindowPlugin { primary_window: Some(window), ..default() })
            .set(RenderPlugin::default()),
    )
    .add_plugins(EguiPlugin::default())
    .add_plugins(StagePlugin::default())
    .add_plugins(Workbench::new(session))
    .insert_resource(rest::at_rest());
    app
}
