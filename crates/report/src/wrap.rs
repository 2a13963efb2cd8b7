//! Lines broken between words.

/// The widest line of a table, and of what else is printed for people.
pub const WIDEST: usize = 100;

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

/// Stands for a blank that no line is broken at.
const UNBROKEN: char = '\u{e000}';

/// The same, where none of these phrases (paths with blanks in them) is broken.
#[must_use]
pub fn folded_around(text: &str, whole: &[String]) -> String {
    let glued = |text: String, phrase: &String| {
        let glue: String = phrase.chars().map(|c| if c == ' ' { UNBROKEN } else { c }).collect();
        text.replace(phrase.as_str(), &glue)
    };
    folded(&whole.iter().fold(text.to_owned(), glued)).replace(UNBROKEN, " ")
}

/// Help of a command line: every line that is wider than [`WIDEST`] is broken between words; the rest stands under
/// the description, which begins after two blanks or more, or two columns further in.
#[must_use]
pub fn folded_help(text: &str) -> String {
    let mut folded = String::with_capacity(text.len() + 256);
    for line in text.split_inclusive('\n') {
        if line.trim_end_matches('\n').chars().count() <= WIDEST {
            folded.push_str(line);
            continue;
        }
        let blanks = line.chars().take_while(|c| *c == ' ').count();
        let words: String = line.chars().skip(blanks).collect();
        let gap = words
            .find("  ")
            .map(|at| (words.get(..at).unwrap_or_default(), words.get(at..).unwrap_or_default()));
        let column = gap.map(|(name, rest)| {
            blanks + name.chars().count() + rest.chars().take_while(|c| *c == ' ').count()
        });
        let (head, body, column) = match column.filter(|column| *column < WIDEST / 2) {
            Some(column) => {
                let head: String = line.chars().take(column).collect();
                (head, line.chars().skip(column).collect::<String>(), column)
            }
            None => (" ".repeat(blanks), words.clone(), blanks),
        };
        let indent = " ".repeat(column);
        for (at, part) in wrap(&body, WIDEST - column, "").lines().enumerate() {
            folded.extend([if at == 0 { head.as_str() } else { indent.as_str() }, part, "\n"]);
        }
    }
    folded
}

#[cfg(test)]
mod tests {
    use super::{folded, folded_around, folded_help, wrap};

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
    fn a_path_with_blanks_is_not_broken() {
        let path = format!("/home/{}/my car.ron", "a folder/".repeat(9));
        let text = format!("error: cannot read {path}: there is no such file, and nothing else either\n");
        let broken = folded_around(&text, std::slice::from_ref(&path));
        assert!(broken.contains(&path) && broken.lines().count() > 1, "{broken}");
        assert_eq!(
            broken.split_whitespace().collect::<Vec<_>>(),
            text.split_whitespace().collect::<Vec<_>>()
        );
    }

    #[test]
    fn help_is_broken_under_its_description() {
        let text = format!("Usage: it\n\n  -o, --output <FILE>  {}\n", "word ".repeat(30).trim_end());
        let indent = " ".repeat(23);
        let expected = format!(
            "Usage: it\n\n  -o, --output <FILE>  {}\n{indent}{}\n",
            "word ".repeat(15).trim_end(),
            "word ".repeat(15).trim_end()
        );
        assert_eq!(folded_help(&text), expected);
        // A paragraph of its own stays under its own beginning.
        let text = format!("          {}\n", "word ".repeat(30).trim_end());
        assert!(
            folded_help(&text).lines().all(|line| line.starts_with("          word") && line.len() <= 100)
        );
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
