//! The text of a file: values that know where they stand, names, units and axes, and changing it in place.

pub(crate) mod axis_form;
pub(crate) mod corner_fields;
pub(crate) mod corner_words;
pub(crate) mod edit;
pub(crate) mod file_kind;
pub(crate) mod file_snapshot;
pub(crate) mod fill_in;
pub(crate) mod list_diff;
pub(crate) mod nearest;
pub(crate) mod open_elsewhere;
pub(crate) mod place;
pub(crate) mod point_names;
pub(crate) mod ron_value;
pub(crate) mod tree;
pub(crate) mod units_and_axes;
