//! The stage: the car in 3D, the camera, and the dimensions drawn over it.
//!
//! It draws what a [`view::StageView`] says and reports what was grabbed; it knows
//! no linkage and computes no reading. Most of it is plain arithmetic that needs no
//! window: [`turntable`], [`lens`], [`solids`], [`draft`], [`labels`], [`pick`],
//! [`hand`]. What needs Bevy stands behind the feature `window`.

mod arms;
mod axle_tube;
mod bones;
mod dampers;
pub mod draft;
mod gesture;
pub mod hand;
pub mod handle;
pub mod labels;
pub mod lens;
mod overlay;
pub mod palette;
pub mod part;
pub mod pick;
pub mod shape;
pub mod sight;
pub mod solids;
pub mod standard_views;
mod steering_gear;
pub mod surface;
pub mod turntable;
mod upright;
pub mod view;
pub mod way;

// What needs Bevy. Its systems take their parameters by value, as Bevy wants them.
#[cfg(feature = "window")]
#[expect(clippy::needless_pass_by_value, reason = "system parameters")]
pub mod camera;
#[cfg(feature = "window")]
mod chords;
#[cfg(feature = "window")]
mod coat;
#[cfg(feature = "window")]
pub mod frame;
#[cfg(feature = "window")]
#[expect(clippy::needless_pass_by_value, reason = "system parameters")]
pub mod ground;
#[cfg(feature = "window")]
mod handle_ink;
#[cfg(feature = "window")]
pub mod ink;
#[cfg(feature = "window")]
#[expect(clippy::needless_pass_by_value, reason = "system parameters")]
pub mod input;
#[cfg(feature = "window")]
#[expect(clippy::needless_pass_by_value, reason = "system parameters")]
pub mod light;
#[cfg(feature = "window")]
pub mod messages;
#[cfg(feature = "window")]
#[expect(clippy::needless_pass_by_value, reason = "system parameters")]
mod plugin;
#[cfg(feature = "window")]
#[expect(clippy::needless_pass_by_value, reason = "system parameters")]
pub mod rest;
#[cfg(feature = "window")]
#[expect(clippy::needless_pass_by_value, reason = "system parameters")]
pub mod scene;
#[cfg(feature = "window")]
mod way_ink;

#[cfg(feature = "window")]
pub use plugin::{StagePlugin, StageSet};
