//! From bytes to a tree, RON being the judge of what is well-formed; what it finds is said in a user's words.

use crate::fault::problem::Fault;
use crate::read::fields::Diagnostics;
use crate::text::place::Place;
use crate::text::tree::{Node, keys_around, scan};
use ron::error::{Error, SpannedError};
use serde::de::IgnoredAny;
use std::borrow::Cow;
use wheelpath_geometry::excerpt;

/// More missing separators than this are one fault of another kind.
const MOST: usize = 24;

/// The tree of a text, or notes of what is wrong with it.
pub(crate) fn tree_of(text: &str, notes: &mut Diagnostics<'_>) -> Option<Node> {
    if text.trim().is_empty() {
        notes.add(0, Fault::Empty);
        return None;
    }
    let mut mended = Cow::Borrowed(text);
    for _ in 0..MOST {
        let Err(error) = ron::from_str::<IgnoredAny>(&mended) else {
            return scan(&mended).map_err(|byte| notes.add(byte, Fault::OtherNotation)).ok();
        };
        let byte = Place { line: error.span.end.line, column: error.span.end.col }.byte_in(&mended);
        let what = in_words(&error);
        let within = keys_around(&mended, byte).join(" ").replace('_', " ");
        let within = excerpt(&within).into_owned();
        notes.add(byte, Fault::Syntax { what, within });
        mended = Cow::Owned(mend(&mended, byte, &error)?);
    }
    None
}

/// The text with the separator that is missing at a byte in place of the blank before it, so that the rest can be
/// read for more faults and every byte stays where it is; `None` where something else is missing, or no blank is
/// there.
fn mend(text: &str, byte: usize, error: &SpannedError) -> Option<String> {
    let separator = match error.code {
        Error::ExpectedComma => ",",
        Error::ExpectedMapColon => ":",
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

/// What is wrong with a text, in a user's words.
fn in_words(error: &SpannedError) -> &'static str {
    match &error.code {
        Error::Eof => "the file ends too early",
        Error::ExpectedArray => "expected opening `[`",
        Error::ExpectedArrayEnd => "expected closing `]`",
        Error::ExpectedMap => "expected opening `{`",
        Error::ExpectedMapEnd => "expected closing `}`",
        Error::ExpectedMapColon => "expected colon",
        Error::ExpectedComma => "expected comma",
        Error::ExpectedStructLike | Error::ExpectedNamedStructLike(_) | Error::ExpectedOption => {
            "expected opening `(`"
        }
        Error::ExpectedStructLikeEnd | Error::ExpectedOptionEnd => "expected closing `)`",
        Error::ExpectedAttribute | Error::ExpectedAttributeEnd | Error::NoSuchExtension(_) => {
            "`#` has no meaning here"
        }
        Error::ExpectedBoolean | Error::ExpectedUnit | Error::ExpectedRawValue => "expected a value",
        Error::ExpectedChar | Error::ExpectedByteLiteral => {
            "a single quotation mark has no meaning here; text stands in double ones"
        }
        Error::ExpectedString | Error::ExpectedByteString => "expected text in quotation marks",
        Error::ExpectedStringEnd => "the text has no closing quotation mark",
        Error::InvalidEscape(_) => "what follows the backslash has no meaning in a text",
        Error::ExpectedFloat
        | Error::ExpectedInteger
        | Error::FloatUnderscore
        | Error::UnderscoreAtBeginning
        | Error::IntegerOutOfBounds
        | Error::InvalidIntegerDigit { .. } => "this is not a number",
        Error::ExpectedIdentifier | Error::InvalidIdentifier(_) | Error::SuggestRawIdentifier(_) => {
            "expected a word"
        }
        Error::UnclosedBlockComment | Error::UnclosedLineComment => "the comment has no end",
        Error::UnexpectedChar(_) => "this character has no meaning here",
        Error::TrailingCharacters => "there is more after the end",
        Error::ExceededRecursionLimit => "brackets stand too deep within one another",
        _ => "something here is not as it should be",
    }
}
