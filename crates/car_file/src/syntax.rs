//! From bytes to a tree, RON being the judge of what is well-formed.

use crate::error::Fault;
use crate::fields::Notes;
use crate::place::Place;
use crate::tree::{Node, keys_around, scan};
use ron::error::SpannedError;
use serde::de::IgnoredAny;

/// More missing separators than this are one fault of another kind.
const MOST: usize = 24;

/// The tree of a text, or notes of what is wrong with it.
pub(crate) fn tree_of(text: &str, notes: &mut Notes<'_>) -> Option<Node> {
    let mut mended = text.to_owned();
    for _ in 0..MOST {
        let Err(error) = ron::from_str::<IgnoredAny>(&mended) else {
            return scan(&mended).map_err(|byte| notes.add(byte, Fault::OtherNotation)).ok();
        };
        let (byte, what) = place_and_words(&mended, &error);
        let within = keys_around(&mended, byte).join(" ").replace('_', " ");
        notes.add(byte, Fault::Syntax { what, within });
        mended = mend(&mended, byte, &error)?;
    }
    None
}

/// The text with the separator that is missing at a byte in place of the blank before it, so that the rest can be
/// read for more faults and every byte stays where it is; `None` where something else is missing, or no blank is
/// there.
fn mend(text: &str, byte: usize, error: &SpannedError) -> Option<String> {
    let separator = match error.code {
        ron::Error::ExpectedComma => ",",
        ron::Error::ExpectedMapColon => ":",
        _ => return None,
    };
    let before = text.get(..byte)?;
    let value_end = before.trim_end().len();
    let blank = before.get(value_end..)?.chars().next()?;
    // In a comment the separator would be lost, and what stands on the next line with it.
    let line = before.get(..value_end)?.rsplit('\n').next().unwrap_or_default();
    if !blank.is_ascii() || line.contains("//") || line.contains("*/") {
        return None;
    }
    let mut mended = text.to_owned();
    mended.replace_range(value_end..=value_end, separator);
    Some(mended)
}

fn place_and_words(text: &str, error: &SpannedError) -> (usize, String) {
    let end = Place { line: error.span.end.line, column: error.span.end.col }.byte_in(text);
    let words = error.code.to_string();
    let mut letters = words.chars();
    let words = letters.next().map_or_else(String::new, |c| c.to_lowercase().chain(letters).collect());
    (end, words)
}
