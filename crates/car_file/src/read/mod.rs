//! From a text to a car, or every fault of it.

pub(crate) mod alignment;
pub(crate) mod axis;
pub(crate) mod axle;
pub(crate) mod car;
pub(crate) mod corner;
pub(crate) mod document;
pub(crate) mod fields;
pub(crate) mod joints;
pub(crate) mod left_over;
pub(crate) mod points;
pub(crate) mod radii;
pub(crate) mod springing;
pub(crate) mod stand_in;
pub(crate) mod static_loads;
pub(crate) mod steering;
pub(crate) mod syntax;
pub(crate) mod text_file;
pub(crate) mod whole;
pub(crate) mod why;
pub(crate) mod words;
