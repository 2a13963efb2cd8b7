//! What is open, saving it, and messages about files.

pub(in crate::panels) mod files_state;
pub(in crate::panels) mod message_cards;
pub(in crate::panels) mod open_file;
pub(in crate::panels) mod path_draft;
pub(in crate::panels) mod save;
