//! From a car to a text.

pub(crate) mod car;
pub(crate) mod corner;
pub(crate) mod difference;
pub(crate) mod direction;
pub(crate) mod new_car;
pub(crate) mod new_comments;
pub(crate) mod save;
pub(crate) mod static_loads;
