//! A file read whole or not at all.

use crate::fault::failure::LoadError;
use crate::read::fields::Diagnostics;
use crate::read::syntax::tree_of;
use crate::text::tree::Node;

/// What `read` makes of the tree of a text and the text itself (without the byte-order mark that some editors
/// put in front), if nothing is noted; `file` is its name in messages.
pub(crate) fn whole<T>(
    text: &str,
    file: &str,
    read: impl FnOnce(Node, &str, &mut Diagnostics<'_>) -> Option<T>,
) -> Result<T, LoadError> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let mut notes = Diagnostics::new(file, text);
    let found = tree_of(text, &mut notes).and_then(|tree| read(tree, text, &mut notes));
    match found {
        Some(found) if notes.problems.is_empty() => Ok(found),
        _ => {
            notes.problems.sort_by_key(|problem| problem.place);
            Err(LoadError::Faulty(notes.problems))
        }
    }
}
