//! What of a car can be changed, by whose name, and what becomes of its links.

pub(crate) mod assembly;
pub(crate) mod bracket;
pub(crate) mod changed;
pub(crate) mod move_point;
pub(crate) mod parameter;
pub(crate) mod proposal;
pub(crate) mod range;
pub(crate) mod selection;
pub(crate) mod value;
pub(crate) mod wheel_number;
