//! From bytes to a tree, RON being the judge of what is well-formed.

use crate::error::Fault;
use crate::fields::Notes;
use crate::place::Place;
use crate::tree::{Node, keys_around, scan};
use ron::error::SpannedError;
use serde::de::IgnoredAny;

/// The tree of a text, or notes of what is wrong with it.
pub(crate) fn tree_of(text: &str, notes: &mut Notes<'_>) -> Option<Node> {
    let scanned = scan(text);
    if let Err(error) = ron::from_str::<IgnoredAny>(text) {
        let (byte, what) = place_and_words(text, &error);
        let within = keys_around(text, byte).join(" ").replace('_', " ");
        notes.add(byte, Fault::Syntax { what, within });
        return None;
    }
    scanned.map_err(|byte| notes.add(byte, Fault::OtherNotation)).ok()
}

fn place_and_words(text: &str, error: &SpannedError) -> (usize, String) {
    let end = Place { line: error.span.end.line, column: error.span.end.col }.byte_in(text);
    let words = error.code.to_string();
    let mut letters = words.chars();
    let words = letters.next().map_or_else(String::new, |c| c.to_lowercase().chain(letters).collect());
    (end, words)
}
