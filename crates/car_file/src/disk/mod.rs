//! Files replaced in one step, and only over what was seen there.

pub(crate) mod folder_lock;
pub(crate) mod replace;
pub(crate) mod save_target;
pub(crate) mod staging;
