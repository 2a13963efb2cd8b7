//! The stage: the car in 3D, the camera, and the dimensions drawn over it.
//!
//! It draws what a [`view::StageView`] says and reports what was grabbed; it knows
//! no car, no linkage and no reading. Most of it is plain arithmetic that needs no
//! window: [`camera::turntable`], [`camera::projection`], [`solids`], [`annotate::annotations`], [`annotate::labels`], [`pick`],
//! [`pick::pointer_input`]. What needs Bevy stands behind the feature `window`.

pub mod annotate;
pub mod camera;
pub mod pick;
pub mod solids;
pub mod theme;
pub mod view;

// The scene that its tests share with the window's names this crate as they do.
#[cfg(test)]
extern crate self as wheelpath_stage;

#[cfg(feature = "window")]
pub mod render;

#[cfg(feature = "window")]
pub use render::plugin::{StagePlugin, StageSet};
