//! Line and column.

use std::fmt;

/// A place in a text, both counted from 1; columns count characters.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Place {
    /// Line.
    pub line: usize,
    /// Column.
    pub column: usize,
}

impl Place {
    /// The start of a text.
    pub const START: Place = Place { line: 1, column: 1 };

    /// The place of a byte of a text.
    pub(crate) fn of(text: &str, byte: usize) -> Place {
        let mut place = Place::START;
        for (at, c) in text.char_indices() {
            if at >= byte {
                break;
            }
            if c == '\n' {
                place = Place { line: place.line + 1, column: 1 };
            } else {
                place.column += 1;
            }
        }
        place
    }

    /// The byte of this place in a text.
    pub(crate) fn byte_in(self, text: &str) -> usize {
        let mut line_start = 0;
        for _ in 1..self.line {
            match text.get(line_start..).and_then(|rest| rest.find('\n')) {
                Some(end) => line_start += end + 1,
                None => return text.len(),
            }
        }
        let line = text.get(line_start..).unwrap_or_default();
        line_start + line.char_indices().nth(self.column.saturating_sub(1)).map_or(line.len(), |(at, _)| at)
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}", self.line, self.column)
    }
}

#[cfg(test)]
mod tests {
    use super::Place;

    #[test]
    fn a_place_and_its_byte_agree() {
        let text = "ab\nçd\n\nx";
        for (byte, line, column) in
            [(0, 1, 1), (2, 1, 3), (3, 2, 1), (5, 2, 2), (6, 2, 3), (7, 3, 1), (8, 4, 1)]
        {
            let place = Place { line, column };
            assert_eq!(Place::of(text, byte), place, "byte {byte}");
            assert_eq!(place.byte_in(text), byte, "{place}");
        }
    }
}
