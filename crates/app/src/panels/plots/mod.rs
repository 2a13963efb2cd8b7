//! Curves and contour maps.

pub(in crate::panels) mod curve_card;
pub(in crate::panels) mod curve_plot;
pub(in crate::panels) mod curve_wall;
pub(in crate::panels) mod map_card;
pub(in crate::panels) mod map_plot;
pub(in crate::panels) mod wall_state;
