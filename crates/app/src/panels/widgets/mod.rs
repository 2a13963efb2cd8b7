//! Parts that panels are made of.

pub(in crate::panels) mod direction_words;
pub(in crate::panels) mod lazy_layout;
pub(in crate::panels) mod meant;
pub(in crate::panels) mod notices;
pub(in crate::panels) mod number_field;
pub(in crate::panels) mod scroll_anchor;
pub(in crate::panels) mod theme;
