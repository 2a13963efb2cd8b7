//! Lines broken between words.

/// The text broken into lines of at most `width` characters where a word ends; lines after the
/// first start with `indent`. A longer word stands alone on its line.
#[must_use]
pub fn wrap(text: &str, width: usize, indent: &str) -> String {
    let mut lines: Vec<String> = Vec::new();
    let mut line = String::new();
    for word in text.split_whitespace() {
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

#[cfg(test)]
mod tests {
    use super::wrap;

    #[test]
    fn lines_break_between_words() {
        let check = |text: &str, width, expected: &str| assert_eq!(wrap(text, width, "  "), expected);
        check("one two three", 7, "one two\n  three");
        check("one two three", 40, "one two three");
        check("extraordinary is a word", 6, "extraordinary\n  is a\n  word");
        check("", 10, "");
    }
}
