//! What every subcommand says alike: where it prints to, how it fails, records, poses and the words for them.

pub(crate) mod data;
pub(crate) mod failure;
pub(crate) mod field;
pub(crate) mod inches;
pub(crate) mod key_docs;
pub(crate) mod pose;
pub(crate) mod quantity;
pub(crate) mod reading_field;
pub(crate) mod record;
pub(crate) mod steer;
pub(crate) mod streams;
pub(crate) mod vocabulary;
