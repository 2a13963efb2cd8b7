//! Words that came from outside, such as the name in a file, made fit to stand in a line of a message, a table
//! or a drawing: what would steer a terminal, break the line or turn the direction of reading is written out.

use std::borrow::Cow;

/// More characters than these of one name or line are not repeated in a message.
const EXCERPT: usize = 100;

/// Whether a character does something instead of being seen: control characters, line and paragraph
/// separators, and the controls of the direction of reading (Unicode Standard Annex 9, read).
#[must_use]
pub fn acts(c: char) -> bool {
    c.is_control()
        || matches!(
            c,
            '\u{61c}' | '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{206f}'
        )
}

fn written_out(text: &str, acts: impl Fn(char) -> bool) -> Cow<'_, str> {
    if !text.contains(&acts) {
        return Cow::Borrowed(text);
    }
    let mut shown = String::with_capacity(text.len() + 16);
    for c in text.chars() {
        match c {
            c if !acts(c) => shown.push(c),
            '\n' => shown.push_str("\\n"),
            '\r' => shown.push_str("\\r"),
            '\t' => shown.push_str("\\t"),
            c => shown.extend(c.escape_unicode()),
        }
    }
    Cow::Owned(shown)
}

/// Whether all of a text is letters, digits, signs and blanks of ASCII, or one of these: then nothing of it acts.
/// Many bytes are looked at together, since long tables come this way.
fn is_plain<const N: usize>(text: &str, also: [u8; N]) -> bool {
    let plain = |byte: u8| (b' '..=b'~').contains(&byte) | also.contains(&byte);
    text.as_bytes().chunks(64).all(|some| some.iter().fold(true, |all, &byte| all & plain(byte)))
}

/// A name on one line of what can be seen: an escape is `\u{1b}`, a line break `\n`.
#[must_use]
pub fn shown_name(name: &str) -> Cow<'_, str> {
    if is_plain(name, []) { Cow::Borrowed(name) } else { written_out(name, acts) }
}

/// A text of several lines of what can be seen: line breaks and tabs stay.
#[must_use]
pub fn shown_text(text: &str) -> Cow<'_, str> {
    if is_plain(text, *b"\n\t") {
        return Cow::Borrowed(text);
    }
    written_out(text, |c| acts(c) && c != '\n' && c != '\t')
}

/// As much of a name or line as a message repeats: its beginning, where it is long.
#[must_use]
pub fn excerpt(text: &str) -> Cow<'_, str> {
    match text.char_indices().nth(EXCERPT) {
        None => Cow::Borrowed(text),
        Some((end, _)) => Cow::Owned(format!("{}…", text.get(..end).unwrap_or_default())),
    }
}

#[cfg(test)]
mod tests {
    use super::{excerpt, shown_name, shown_text};
    use std::borrow::Cow;

    #[test]
    fn what_acts_is_written_out_and_what_is_seen_stays() {
        for plain in ["Alder", "Träger 2½ – “a” \\", "前輪", "\u{200c}\u{200d}", ""] {
            assert!(matches!(shown_name(plain), Cow::Borrowed(same) if same == plain));
        }
        // Escape, C1's one-byte escape, bell, delete.
        assert_eq!(shown_name("a\u{1b}[31m\u{9b}1m\u{7}\u{7f}"), "a\\u{1b}[31m\\u{9b}1m\\u{7}\\u{7f}");
        // Every explicit formatting character of Unicode Standard Annex 9, section 2 (read).
        for c in
            "\u{61c}\u{200e}\u{200f}\u{202a}\u{202b}\u{202c}\u{202d}\u{202e}\u{2066}\u{2067}\u{2068}\u{2069}"
                .chars()
        {
            assert_eq!(shown_text(&c.to_string()), c.escape_unicode().to_string());
        }
        assert_eq!(shown_name("a\r\nb\tc\u{2028}d"), "a\\r\\nb\\tc\\u{2028}d");
        assert_eq!(shown_text("a\r\nb\tc\u{1b}"), "a\\r\nb\tc\\u{1b}");
    }

    #[test]
    fn what_acts_is_found_anywhere_in_a_long_text() {
        for place in [0, 1, 63, 64, 65, 127, 199] {
            let mut bytes = [b'7'; 200];
            bytes[place] = 0x1b;
            let text = std::str::from_utf8(&bytes).unwrap();
            let expected = text.replace('\u{1b}', "\\u{1b}");
            assert_eq!(shown_text(text), expected);
            assert_eq!(shown_name(text), expected);
        }
        // Every character of one byte, against what is said of characters.
        for c in (0..128_u8).map(char::from) {
            let text = c.to_string();
            let stays = |also: &str| !super::acts(c) || also.contains(c);
            assert_eq!(shown_name(&text) == text, stays(""), "{c:?}");
            assert_eq!(shown_text(&text) == text, stays("\n\t"), "{c:?}");
        }
    }

    #[test]
    fn what_is_long_is_cut() {
        let long = "ä".repeat(50_000_000 / 2);
        assert_eq!(excerpt(&long).chars().count(), 101);
        assert_eq!(excerpt("short"), "short");
    }
}
