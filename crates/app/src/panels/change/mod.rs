//! Changing the car: points, links, wheels, steering, and which way to go.

pub(in crate::panels) mod change_state;
pub(in crate::panels) mod changes;
pub(in crate::panels) mod parameter_rows;
pub(in crate::panels) mod plate_draft;
pub(in crate::panels) mod points;
pub(in crate::panels) mod pull;
pub(in crate::panels) mod which_way;
