//! What the window works on, as resources of the 3D engine.

use crate::panels::UiState;
use bevy::prelude::Resource;
use wheelpath_session::Session;

/// The session.
#[derive(Resource, Debug)]
pub struct Work(pub Session);

/// The panels.
#[derive(Resource, Debug)]
pub struct Panels(pub UiState);
