//! What stands beside a car: proposals, limits and brackets.

pub(crate) mod brackets;
pub(crate) mod limits;
pub(crate) mod limits_file;
pub(crate) mod limits_of_fit;
pub(crate) mod names;
pub(crate) mod proposal;
pub(crate) mod read_brackets;
pub(crate) mod write_proposal;
