//! Tables of points and of poses.

pub(crate) mod not_measured;
pub(crate) mod points;
pub(crate) mod points_proposal;
pub(crate) mod poses;
pub(crate) mod table_text;
pub(crate) mod table_units;
