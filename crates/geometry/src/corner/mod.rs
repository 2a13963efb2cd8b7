//! One corner: its wheel, its linkage closed at a pose, and where it meets the ground.

pub(crate) mod align;
pub(crate) mod corner_model;
pub(crate) mod corner_motion;
pub(crate) mod corner_solver;
pub(crate) mod driven_part_guard;
pub(crate) mod ground;
pub(crate) mod on_ground;
pub(crate) mod wheel_model;
