//! Dimensions, labels and handles drawn over the car.

pub mod annotations;
#[cfg(feature = "window")]
pub(crate) mod arrow_painter;
#[cfg(feature = "window")]
pub mod frame;
#[cfg(feature = "window")]
pub(crate) mod handle_painter;
pub mod labels;
#[cfg(feature = "window")]
pub mod overlay_painter;
