//! Opening the window.

use super::display;
use super::remembered::{LEAST_SIZE, Remembered, remember};
use super::screen::fit_to_screen;
use super::workbench::{Workbench, title_of};
use super::zoom::keep_zoom;
use crate::picture::{Adapter, NoDriver, find_adapter};
use bevy::prelude::*;
use bevy::render::RenderPlugin;
use bevy::window::{WindowResizeConstraints, WindowResolution};
use bevy_egui::{EguiPlugin, EguiPrimaryContextPass};
use wheelpath_session::Session;
use wheelpath_stage::StagePlugin;
use wheelpath_stage::render::redraw_policy;

/// Why there is no window.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum NoWindow {
    /// No display to open it on.
    NoDisplay,
    /// No driver that can draw.
    NoGraphics(NoDriver),
}

impl std::fmt::Display for NoWindow {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        match self {
            NoWindow::NoDisplay => f.write_str("no display answers"),
            NoWindow::NoGraphics(none) => none.fmt(f),
        }
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
    let adapter = find_adapter().map_err(NoWindow::NoGraphics)?;
    let _ = app(session, Remembered::of_user(), Some(&adapter)).run();
    Ok(())
}

/// The app of the window, not yet run, as it opens the first time.
pub fn window_app(session: Session) -> App {
    app(session, Remembered::default(), None)
}

fn app(session: Session, remembered: Remembered, adapter: Option<&Adapter>) -> App {
    let mut app = App::new();
    let (width, height) = remembered.size();
    let window = Window {
        title: title_of(&session),
        resolution: WindowResolution::new(width, height),
        resize_constraints: WindowResizeConstraints {
            min_width: LEAST_SIZE.0,
            min_height: LEAST_SIZE.1,
            ..default()
        },
        ..default()
    };
    let mut bench = Workbench::new(session);
    remembered.put_on(&mut bench.panels);
    app.add_plugins(DefaultPlugins.set(WindowPlugin { primary_window: Some(window), ..default() }).set(
        RenderPlugin {
            render_creation: adapter.map_or_else(Default::default, Adapter::render_creation),
            ..default()
        },
    ))
    .add_plugins(EguiPlugin::default())
    .add_plugins(StagePlugin::default())
    .add_plugins(bench)
    .insert_resource(remembered)
    .add_systems(Startup, fit_to_screen)
    .add_systems(EguiPrimaryContextPass, keep_zoom)
    .add_systems(Last, remember)
    .insert_resource(redraw_policy::at_rest());
    app
}
