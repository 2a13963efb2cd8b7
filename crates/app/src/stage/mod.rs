//! The stage: the car in 3D, the camera, and the dimensions drawn over it.
//!
//! It draws what a [`view::StageView`] says and reports what was grabbed; it knows
//! no linkage and computes no reading. Most of it is plain arithmetic that needs no
//! window: [`turntable`], [`lens`], [`solids`], [`draft`], [`labels`], [`pick`],
//! [`hand`]. What needs Bevy stands behind the feature `window`.

pub mod draft;
pub mod hand;
pub mod labels;
pub mod lens;
pub mod palette;
pub mod pick;
pub mod shape;
pub mod sight;
pub mod solids;
pub mod standard_views;
pub mod surface;
pub mod turntable;
mod upright;
pub mod view;

#[cfg(feature = "window")]
pub mod camera;
#[cfg(feature = "window")]
pub mod frame;
#[cfg(feature = "window")]
pub mod ground;
#[cfg(feature = "window")]
pub mod ink;
#[cfg(feature = "window")]
pub mod input;
#[cfg(feature = "window")]
pub mod messages;
#[cfg(feature = "window")]
mod plugin;
#[cfg(feature = "window")]
pub mod rest;
#[cfg(feature = "window")]
pub mod scene;

#[cfg(feature = "window")]
pub use plugin::{StagePlugin, StageSet};
