//! What the panels share: the selection, what is in front, how the sheet looks, and what is derived from the
//! session. What a panel remembers beside that is its own.

pub(in crate::panels) mod map_choice;
pub(in crate::panels) mod panel;
pub(in crate::panels) mod shared;
pub(in crate::panels) mod snaps;
