//! What the panels remember that is no truth about the car.

pub(in crate::panels) mod fit_choice;
pub(in crate::panels) mod fit_draft;
pub(in crate::panels) mod limit_draft;
pub(in crate::panels) mod map_choice;
pub(in crate::panels) mod path_draft;
pub(in crate::panels) mod plate_draft;
pub(in crate::panels) mod ui_state;
