//! What of a car can be changed, by whose name, and what becomes of its links.

pub(crate) mod bracket;
pub(crate) mod changed;
pub(crate) mod item;
pub(crate) mod move_point;
pub(crate) mod owner;
pub(crate) mod proposal;
pub(crate) mod wheel_number;
