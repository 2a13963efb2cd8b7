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
        Place::START.after(text, byte)
    }

    /// The place of a byte of a text that begins here.
    fn after(mut self, text: &str, byte: usize) -> Place {
        for (at, c) in text.char_indices() {
            if at >= byte {
                break;
            }
            self.pass(c);
        }
        self
    }

    /// Goes on by one character.
    fn pass(&mut self, c: char) {
        if c == '\n' {
            *self = Place { line: self.line + 1, column: 1 };
        } else {
            self.column += 1;
        }
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

/// So many bytes lie between the places that are remembered of a text.
const STRIDE: usize = 4096;

/// The places of a text's bytes, each found without going through the text from its start.
#[derive(Clone, Debug)]
pub(crate) struct Places<'t> {
    text: &'t str,
    /// Bytes about a stride apart, the first 0, and their places.
    remembered: Vec<(usize, Place)>,
}

impl<'t> Places<'t> {
    pub fn new(text: &'t str) -> Self {
        let mut remembered = vec![(0, Place::START)];
        let (mut place, mut next) = (Place::START, STRIDE);
        for (at, c) in text.char_indices() {
            if at >= next {
                remembered.push((at, place));
                next = at + STRIDE;
            }
            place.pass(c);
        }
        Places { text, remembered }
    }

    /// The place of a byte.
    pub fn of(&self, byte: usize) -> Place {
        let after = self.remembered.partition_point(|(at, _)| *at <= byte);
        let (at, place) = self.remembered.get(after.saturating_sub(1)).copied().unwrap_or((0, Place::START));
        place.after(self.text.get(at..).unwrap_or_default(), byte.saturating_sub(at))
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}:{}", self.line, self.column)
    }
}

#[cfg(test)]
mod tests {
    use super::{Place, Places, STRIDE};

    #[test]
    fn a_place_is_the_same_from_the_start_and_from_what_is_remembered() {
        let text = "aç\n".repeat(STRIDE) + &"é".repeat(3 * STRIDE) + "\nend";
        let places = Places::new(&text);
        assert!(places.remembered.len() > 6);
        for byte in (0..text.len() + 3).step_by(97).chain([STRIDE - 1, STRIDE, STRIDE + 1, text.len()]) {
            assert_eq!(places.of(byte), Place::of(&text, byte), "byte {byte}");
        }
        assert_eq!(Places::new("").of(5), Place::START);
    }

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
