//! Lines broken between words.

use crate::table::WIDEST;

/// The text broken into lines of at most `width` characters where a word ends; lines after the
/// first start with `indent`. A longer word stands alone on its line.
#[must_use]
pub fn wrap(text: &str, width: usize, indent: &str) -> String {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in words(text) {
        let word = word.as_str();
        let begun = !line.trim().is_empty();
        if begun && line.chars().count() + 1 + word.chars().count() > width {
            lines.push(std::mem::replace(&mut line, indent.to_owned()));
        } else if begun {
            line.push(' ');
        }
        line.push_str(word);
    }
    lines.push(line);
    lines.join("\n")
}

/// The words between blanks; a number and the unit after it are one.
fn words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for word in text.split_whitespace() {
        let unit = word.trim_end_matches(|c: char| c.is_ascii_punctuation());
        match words.last_mut() {
            Some(last) if UNITS.contains(&unit) && last.ends_with(|c: char| c.is_ascii_digit()) => {
                last.extend([" ", word]);
            }
            _ => words.push(word.to_owned()),
        }
    }
    words
}

/// Units that stand after a blank.
const UNITS: [&str; 8] = ["mm", "in", "m", "ft", "kg", "lb", "N", "g"];

/// The same text with every line that is wider than [`WIDEST`] broken between words; the rest of such a line
/// stands two columns further in than its beginning.
#[must_use]
pub fn folded(text: &str) -> String {
    if text.lines().all(|line| line.chars().count() <= WIDEST) {
        return text.to_owned();
    }
    let mut folded = String::with_capacity(text.len() + 64);
    for line in text.split_inclusive('\n') {
        if line.trim_end_matches('\n').chars().count() <= WIDEST {
            folded.push_str(line);
            continue;
        }
        let indent: String = line.chars().take_while(|c| *c == ' ').collect();
        for part in wrap(line, WIDEST - indent.len().min(WIDEST / 2), "  ").lines() {
            folded.extend([indent.as_str(), part, "\n"]);
        }
    }
    folded
}

#[cfg(test)]
mod tests {
    use super::{folded, wrap};

    #[test]
    fn long_lines_are_folded_and_others_stay_as_they_are() {
        let table = "  a    b\n  c    d\n";
        assert_eq!(folded(table), table);
        let long = format!("{table}    {}\nend", "word ".repeat(30).trim_end());
        let expected = format!(
            "{table}    {}\n      {}\nend",
            "word ".repeat(19).trim_end(),
            "word ".repeat(11).trim_end()
        );
        assert_eq!(folded(&long), expected);
    }

    #[test]
    fn lines_break_between_words() {
        let check = |text: &str, width, expected: &str| assert_eq!(wrap(text, width, "  "), expected);
        check("one two three", 7, "one two\n  three");
        check("one two three", 40, "one two three");
        check("extraordinary is a word", 6, "extraordinary\n  is a\n  word");
        check("", 10, "");
        check("travel 10.0 mm; 5", 12, "travel\n  10.0 mm; 5");
    }
}
