//! Pictures without a window: the stage, or the whole window with its panels, drawn
//! into an image and written as PNG. Needs a Vulkan, Metal or DirectX driver (a
//! software one will do) but no display.

mod adapter;
mod offscreen;

pub use adapter::{Adapter, NoDriver, find_adapter};
pub use offscreen::{PictureError, PictureOptions, render_app, render_frames, render_png, save};
