//! The numbers of a car file as they stand in its text, each with its keys.

use std::ops::Range;

/// A number of a file.
#[derive(Clone, Debug)]
pub struct Number {
    /// Its bytes in the text.
    pub bytes: Range<usize>,
    /// Its value.
    pub value: f64,
    /// The keys around it, outermost first.
    pub keys: Vec<String>,
    /// Of three numbers in brackets: which bracket, and which of the three.
    pub triple: Option<(usize, usize)>,
}

impl Number {
    /// The last key.
    pub fn key(&self) -> &str {
        self.keys.last().map_or("", String::as_str)
    }

    /// Whether it is a direction's.
    pub fn is_direction(&self) -> bool {
        let key = self.key();
        matches!(key, "axis" | "pitman_axis" | "idler_axis")
            || self.keys.iter().any(|key| key == "joint_axes")
    }

    /// Whether it is counted in the file's unit of length.
    pub fn is_length(&self) -> bool {
        let key = self.key();
        !(self.is_direction()
            || key.ends_with("_deg")
            || key.starts_with("rate_")
            || self.keys.iter().any(|key| key == "joint_limits_deg")
            || matches!(key, "mass_kg" | "weight_share_front" | "brake_share_front" | "ratio"))
    }
}

/// All numbers but the version.
pub fn numbers(text: &str) -> Vec<Number> {
    let bytes = text.as_bytes();
    let mut found: Vec<Number> = Vec::new();
    // For each open bracket, the key it is the value of, and where it opened.
    let mut open: Vec<(Option<String>, usize, usize)> = Vec::new();
    let mut key: Option<String> = None;
    let mut at = 0;
    while at < bytes.len() {
        match bytes[at] {
            b'/' if bytes.get(at + 1) == Some(&b'/') => {
                at += text[at..].find('\n').unwrap_or(text.len() - at);
            }
            b'"' => at += 2 + text[at + 1..].find('"').unwrap(),
            b'(' | b'[' => {
                open.push((key.take(), at, 0));
                at += 1;
            }
            b')' | b']' => {
                open.pop();
                key = None;
                at += 1;
            }
            b',' => {
                key = None;
                if let Some(bracket) = open.last_mut() {
                    bracket.2 += 1;
                }
                at += 1;
            }
            byte if byte.is_ascii_alphabetic() || byte == b'_' => {
                let end = at + text[at..].find(|c: char| !c.is_alphanumeric() && c != '_').unwrap();
                if text[end..].trim_start().starts_with(':') {
                    key = Some(text[at..end].to_owned());
                }
                at = end;
            }
            byte if byte.is_ascii_digit() || byte == b'-' => {
                let end = at + 1 + text[at + 1..].find(|c: char| !c.is_ascii_digit() && c != '.').unwrap();
                let keys: Vec<String> =
                    open.iter().filter_map(|(key, ..)| key.clone()).chain(key.clone()).collect();
                let triple =
                    (key.is_none()).then(|| open.last().map(|&(_, from, nth)| (from, nth))).flatten();
                let value = text[at..end].parse().unwrap();
                if keys.last().is_none_or(|key| key != "version") {
                    found.push(Number { bytes: at..end, value, keys, triple });
                }
                at = end;
            }
            _ => at += 1,
        }
    }
    found
}
