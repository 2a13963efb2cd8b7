//! The letters a drawing can print and how wide they are: Helvetica and its bold, which every PDF
//! reader has without a font in the file.

use wheelpath_geometry::shown_name;

/// The code of "−" (U+2212), a glyph of the standard Latin set that WinAnsi gives no code of its own.
pub(super) const MINUS: u8 = 0x9d;

/// What stands for a letter that the font does not have.
const UNKNOWN: u8 = b'?';

/// Codes of WinAnsi that are not Unicode's own number.
const ELSEWHERE: [(char, u8); 22] = [
    ('−', MINUS),
    ('€', 0x80),
    ('‚', 0x82),
    ('„', 0x84),
    ('…', 0x85),
    ('†', 0x86),
    ('‰', 0x89),
    ('Š', 0x8a),
    ('Œ', 0x8c),
    ('Ž', 0x8e),
    ('‘', 0x91),
    ('’', 0x92),
    ('“', 0x93),
    ('”', 0x94),
    ('•', 0x95),
    ('–', 0x96),
    ('—', 0x97),
    ('™', 0x99),
    ('š', 0x9a),
    ('œ', 0x9c),
    ('ž', 0x9e),
    ('Ÿ', 0x9f),
];

/// The letter's code in WinAnsi, with "−" added; none where the font lacks it.
fn code(letter: char) -> Option<u8> {
    match letter {
        ' '..='~' | '\u{a1}'..='ÿ' => u8::try_from(u32::from(letter)).ok(),
        '\u{a0}' => Some(b' '),
        _ => ELSEWHERE.iter().find(|(known, _)| *known == letter).map(|(_, code)| *code),
    }
}

/// The words as codes: "?" for each letter that the font lacks, control characters written out.
pub(super) fn encoded(words: &str) -> Vec<u8> {
    shown_name(words).chars().map(|c| code(c).unwrap_or(UNKNOWN)).collect()
}

/// Width of the words in millimetres, at a size in millimetres.
#[must_use]
pub(crate) fn width(words: &str, size: f64, bold: bool) -> f64 {
    let widths = if bold { &BOLD } else { &REGULAR };
    let of = |code: &u8| widths.get(usize::from(code.saturating_sub(b' '))).copied().unwrap_or(0);
    encoded(words).iter().map(|code| f64::from(of(code))).sum::<f64>() * size / 1000.0
}

/// The words broken into lines no wider than `within` millimetres: between words, and inside a word
/// that is wider on its own. At least one line.
#[must_use]
pub(crate) fn broken(words: &str, size: f64, bold: bool, within: f64) -> Vec<String> {
    let fits = |line: &str| width(line, size, bold) <= within;
    let mut lines = Vec::new();
    let mut line = String::new();
    for word in words.split_whitespace() {
        let longer = if line.is_empty() { word.to_owned() } else { format!("{line} {word}") };
        if fits(&longer) {
            line = longer;
            continue;
        }
        if !line.is_empty() {
            lines.push(std::mem::take(&mut line));
        }
        for letter in word.chars() {
            line.push(letter);
            if !fits(&line) && line.chars().count() > 1 {
                line.pop();
                lines.push(std::mem::replace(&mut line, letter.to_string()));
            }
        }
    }
    if !line.is_empty() || lines.is_empty() {
        lines.push(line);
    }
    lines
}

// Thousandths of the size, codes 0x20 to 0xff: from the metrics of Nimbus Sans (URW), which are
// Helvetica's.
#[rustfmt::skip]
const REGULAR: [u16; 224] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556,
    1015, 667, 667, 722, 722, 667, 611, 778, 722, 278, 500, 667, 556, 833, 722, 778,
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469, 556,
    333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556,
    556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584, 350,
    556, 350, 222, 556, 333, 1000, 556, 556, 333, 1000, 667, 333, 1000, 350, 611, 350,
    350, 222, 222, 333, 333, 350, 556, 1000, 333, 1000, 500, 333, 944, 584, 500, 667,
    278, 333, 556, 556, 556, 556, 260, 556, 333, 737, 370, 556, 584, 333, 737, 333,
    400, 584, 333, 333, 333, 556, 537, 278, 333, 333, 365, 556, 834, 834, 834, 611,
    667, 667, 667, 667, 667, 667, 1000, 722, 667, 667, 667, 667, 278, 278, 278, 278,
    722, 722, 778, 778, 778, 778, 778, 584, 778, 722, 722, 722, 722, 667, 667, 611,
    556, 556, 556, 556, 556, 556, 889, 500, 556, 556, 556, 556, 278, 278, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 584, 611, 556, 556, 556, 556, 500, 556, 500,
];

#[rustfmt::skip]
const BOLD: [u16; 224] = [
    278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278,
    556, 556, 556, 556, 556, 556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611,
    975, 722, 722, 722, 722, 667, 611, 778, 722, 278, 556, 722, 611, 833, 722, 778,
    667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333, 278, 333, 584, 556,
    333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611,
    611, 611, 389, 556, 333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584, 350,
    556, 350, 278, 556, 500, 1000, 556, 556, 333, 1000, 667, 333, 1000, 350, 611, 350,
    350, 278, 278, 500, 500, 350, 556, 1000, 333, 1000, 556, 333, 944, 584, 500, 667,
    278, 333, 556, 556, 556, 556, 280, 556, 333, 737, 370, 556, 584, 333, 737, 333,
    400, 584, 333, 333, 333, 611, 556, 278, 333, 333, 365, 556, 834, 834, 834, 611,
    722, 722, 722, 722, 722, 722, 1000, 722, 667, 667, 667, 667, 278, 278, 278, 278,
    722, 722, 778, 778, 778, 778, 778, 584, 778, 722, 722, 722, 722, 667, 667, 611,
    556, 556, 556, 556, 556, 556, 889, 556, 556, 556, 556, 556, 278, 278, 278, 278,
    611, 611, 611, 611, 611, 611, 611, 584, 611, 611, 611, 611, 611, 556, 611, 556,
];

#[cfg(test)]
mod tests {
    use super::{MINUS, broken, encoded, width};

    #[test]
    fn signs_have_their_codes_and_strangers_are_seen() {
        assert_eq!(encoded("−2.5° ±1 µm Ø×"), b"\x9d2.5\xb0 \xb11 \xb5m \xd8\xd7");
        assert_eq!(MINUS, 0x9d);
        assert_eq!(encoded("Řada\u{7} “a”"), b"?ada\\u{7} \x93a\x94");
    }

    /// Widths printed in Adobe's font metrics of Helvetica, from memory: figures 556, minus 584, "W" 944,
    /// bold "a" 556.
    #[test]
    fn widths_are_those_of_the_metrics() {
        let check = |words, bold, expected: f64| {
            let found = width(words, 10.0, bold);
            assert!((found - expected).abs() < 1e-9, "{words}: {found} is not {expected}");
        };
        check("0", false, 5.56);
        check("−", false, 5.84);
        check("WW", false, 18.88);
        check("a", true, 5.56);
        check("", true, 0.0);
    }

    #[test]
    fn no_line_is_wider_than_asked_and_no_letter_is_lost() {
        let words = "Lower wishbone front inner, Unwahrscheinlichkeitsbohrung";
        let lines = broken(words, 3.0, true, 22.0);
        assert!(lines.len() > 3, "{lines:?}");
        for line in &lines {
            assert!(width(line, 3.0, true) <= 22.0, "{line}");
        }
        let letters = |text: &str| text.chars().filter(|c| !c.is_whitespace()).collect::<String>();
        assert_eq!(letters(&lines.concat()), letters(words));
        // Narrower than any letter: one a line, and it ends.
        assert_eq!(broken("abc", 3.0, false, 0.1), ["a", "b", "c"]);
        assert_eq!(broken(" ", 3.0, false, 10.0), [""]);
    }
}
