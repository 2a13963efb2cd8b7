//! How far things go, what ends it, and how near a pose is to that.

pub(crate) mod exceeded;
pub(crate) mod joint;
pub(crate) mod near_dead_point;
pub(crate) mod reach;
