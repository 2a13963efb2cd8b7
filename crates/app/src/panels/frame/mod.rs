//! Where everything stands in the window.

pub(in crate::panels) mod arrangement;
pub(in crate::panels) mod body_bar;
pub(in crate::panels) mod drawer;
pub(in crate::panels) mod layout;
pub(in crate::panels) mod overlay_switches;
pub(in crate::panels) mod pose_bar;
pub(in crate::panels) mod stage_strip;
pub(in crate::panels) mod ui_state;
