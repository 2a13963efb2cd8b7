//! What needs the 3D engine: scene, materials, lights, the camera, and when a frame is drawn.

#[expect(clippy::needless_pass_by_value, reason = "system parameters")]
pub mod ground;
#[expect(clippy::needless_pass_by_value, reason = "system parameters")]
pub mod input;
#[expect(clippy::needless_pass_by_value, reason = "system parameters")]
pub mod light;
pub mod messages;
#[expect(clippy::needless_pass_by_value, reason = "system parameters")]
pub(crate) mod plugin;
#[expect(clippy::needless_pass_by_value, reason = "system parameters")]
pub mod redraw_policy;
#[expect(clippy::needless_pass_by_value, reason = "system parameters")]
pub mod scene;
pub(crate) mod shortcut_order;
#[expect(clippy::needless_pass_by_value, reason = "system parameters")]
pub mod stage_camera;
pub(crate) mod surface_material;
