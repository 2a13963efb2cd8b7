//! The text of a car file as a tree of values that know where they stand in the text.
//!
//! RON itself is the judge of what is well-formed (see `syntax.rs`); this tree adds what a reader
//! into plain values loses: the span of every key and number, so that an error can point at it and a
//! save can change it and nothing else.

use crate::text::corner_words::says;
use std::ops::Range;
use wheelpath_geometry::excerpt;

/// Nesting deeper than this is no car file (it has five levels).
const DEEPEST: usize = 32;

/// A value in the text.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Node {
    /// Bytes of the whole value, its name included.
    pub span: Range<usize>,
    /// The word before the bracket, or the word itself.
    pub name: Option<String>,
    /// What it is.
    pub kind: Kind,
}

/// What a value is.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Kind {
    Word,
    Number(f64),
    Text(String),
    Fields(Vec<Field>),
    Row(Vec<Node>),
    /// In square brackets.
    List(Vec<Node>),
}

/// `key: value`.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Field {
    pub key: String,
    pub key_span: Range<usize>,
    pub value: Node,
}

impl Node {
    /// The value of that key, if this has fields.
    pub fn field(&self, key: &str) -> Option<&Field> {
        match &self.kind {
            Kind::Fields(fields) => fields.iter().find(|field| field.key == key),
            _ => None,
        }
    }

    /// The value of a key that is or says this one: LF for front_left.
    pub fn field_saying(&self, key: &str) -> Option<&Field> {
        self.field(key).or_else(|| match &self.kind {
            Kind::Fields(fields) => fields.iter().find(|field| says(&field.key, key)),
            _ => None,
        })
    }

    /// Whether it is this bare word, or one that says the same corner.
    pub fn says_word(&self, word: &str) -> bool {
        self.kind == Kind::Word && self.name.as_deref().is_some_and(|found| says(found, word))
    }

    /// The value at the end of these keys.
    pub fn at(&self, path: &[&str]) -> Option<&Node> {
        path.iter().try_fold(self, |node, key| Some(&node.field(key)?.value))
    }

    /// Whether it is this bare word.
    pub fn is_word(&self, word: &str) -> bool {
        self.kind == Kind::Word && self.name.as_deref() == Some(word)
    }

    /// What it is, in words.
    pub fn described(&self) -> String {
        match (&self.kind, &self.name) {
            (Kind::Word, Some(word)) => format!("the word {}", excerpt(word)),
            (Kind::Number(value), _) => format!("the number {value}"),
            (Kind::Text(_), _) => "text in quotes".into(),
            (Kind::Fields(_), Some(name)) => format!("{}(key: value, ...)", excerpt(name)),
            (Kind::Fields(_), None) => "a block of keys and values".into(),
            (Kind::Row(row), Some(name)) => format!("{}(...) with {} values", excerpt(name), row.len()),
            (Kind::Row(row), None) => format!("a bracket with {} values", row.len()),
            (Kind::List(list), _) => format!("a list with {} values", list.len()),
            (Kind::Word, None) => "nothing".into(),
        }
    }
}

/// The tree of a text, or the byte where it stops being one.
pub(crate) fn scan(text: &str) -> Result<Node, usize> {
    let mut scanner = Scanner { text, at: 0 };
    scanner.skip_blank()?;
    let node = scanner.value(0)?;
    scanner.skip_blank()?;
    if scanner.at == text.len() { Ok(node) } else { Err(scanner.at) }
}

/// The keys that enclose a byte of a text which may be broken, outermost first.
pub(crate) fn keys_around(text: &str, byte: usize) -> Vec<String> {
    let mut scanner = Scanner { text, at: 0 };
    let mut open: Vec<Option<String>> = Vec::new();
    let mut key: Option<String> = None;
    let mut word: Option<String> = None;
    while scanner.skip_blank().is_ok() && scanner.at < byte.min(text.len()) {
        match scanner.peek() {
            Some('(' | '[' | '{') => open.push(key.take()),
            Some(')' | ']' | '}') => drop(open.pop()),
            Some(',') => key = None,
            Some(':') => key = word.take(),
            Some('"') => {
                if scanner.string(None).is_err() {
                    break;
                }
                continue;
            }
            Some(c) if c.is_alphanumeric() || c == '_' => {
                word = Some(scanner.token().to_owned());
                continue;
            }
            Some(_) => {}
            None => break,
        }
        scanner.bump();
    }
    open.into_iter().flatten().chain(key).collect()
}

struct Scanner<'t> {
    text: &'t str,
    at: usize,
}

impl<'t> Scanner<'t> {
    fn rest(&self) -> &'t str {
        self.text.get(self.at..).unwrap_or_default()
    }

    fn peek(&self) -> Option<char> {
        self.rest().chars().next()
    }

    fn bump(&mut self) {
        self.at += self.peek().map_or(0, char::len_utf8);
    }

    fn take(&mut self, c: char) -> bool {
        let found = self.peek() == Some(c);
        if found {
            self.bump();
        }
        found
    }

    /// Passes over white space and comments; block comments nest.
    fn skip_blank(&mut self) -> Result<(), usize> {
        loop {
            let rest = self.rest();
            if rest.starts_with("//") {
                self.at += rest.find('\n').unwrap_or(rest.len());
            } else if rest.starts_with("/*") {
                self.block_comment()?;
            } else {
                let blank = rest.len() - rest.trim_start().len();
                if blank == 0 {
                    return Ok(());
                }
                self.at += blank;
            }
        }
    }

    fn block_comment(&mut self) -> Result<(), usize> {
        let start = self.at;
        let mut depth = 0_usize;
        loop {
            let rest = self.rest();
            if rest.starts_with("/*") {
                depth += 1;
                self.at += 2;
            } else if rest.starts_with("*/") {
                depth -= 1;
                self.at += 2;
                if depth == 0 {
                    return Ok(());
                }
            } else if rest.is_empty() {
                return Err(start);
            } else {
                self.bump();
            }
        }
    }

    /// The characters up to the next bracket, separator, blank or comment.
    fn token(&mut self) -> &'t str {
        let rest = self.rest();
        let end = rest.find(|c: char| c.is_whitespace() || "()[]{},:\"".contains(c)).unwrap_or(rest.len());
        let end = rest.get(..end).and_then(|token| token.find("//").or(token.find("/*"))).unwrap_or(end);
        self.at += end;
        rest.get(..end).unwrap_or_default()
    }

    /// A quoted text whose opening marks (`"`, or `r` and hashes before it) start here.
    fn string(&mut self, raw_hashes: Option<usize>) -> Result<(), usize> {
        let start = self.at;
        if !self.take('"') {
            return Err(start);
        }
        let close = format!("\"{}", "#".repeat(raw_hashes.unwrap_or(0)));
        let raw = raw_hashes.is_some();
        while let Some(c) = self.peek() {
            if self.rest().starts_with(&close) {
                self.at += close.len();
                return Ok(());
            }
            self.bump();
            if c == '\\' && !raw {
                self.bump();
            }
        }
        Err(start)
    }

    fn value(&mut self, depth: usize) -> Result<Node, usize> {
        let start = self.at;
        if depth > DEEPEST {
            return Err(start);
        }
        match self.peek() {
            Some('(') => self.bracket(start, None, depth),
            Some('[') => self.list(start, depth),
            Some('"') => {
                self.string(None)?;
                self.text_node(start)
            }
            Some('r') if self.rest().starts_with("r#") || self.rest().starts_with("r\"") => {
                self.bump();
                let hashes = self.rest().len() - self.rest().trim_start_matches('#').len();
                self.at += hashes;
                self.string(Some(hashes))?;
                self.text_node(start)
            }
            Some(_) => {
                let token = self.token();
                let first = token.chars().next().ok_or(start)?;
                let after = self.at;
                if first.is_ascii_digit() || "+-.".contains(first) || matches!(token, "inf" | "NaN") {
                    let value = ron::from_str::<f64>(token).map_err(|_| start)?;
                    return Ok(Node { span: start..after, name: None, kind: Kind::Number(value) });
                }
                if !(first.is_alphabetic() || first == '_') {
                    return Err(start);
                }
                self.skip_blank()?;
                if self.peek() == Some('(') {
                    return self.bracket(start, Some(token.to_owned()), depth);
                }
                self.at = after;
                Ok(Node { span: start..after, name: Some(token.to_owned()), kind: Kind::Word })
            }
            None => Err(start),
        }
    }

    fn list(&mut self, start: usize, depth: usize) -> Result<Node, usize> {
        self.bump();
        let mut values = Vec::new();
        loop {
            self.skip_blank()?;
            if self.take(']') {
                return Ok(Node { span: start..self.at, name: None, kind: Kind::List(values) });
            }
            values.push(self.value(depth + 1)?);
            self.skip_blank()?;
            if !self.take(',') && self.peek() != Some(']') {
                return Err(self.at);
            }
        }
    }

    fn text_node(&self, start: usize) -> Result<Node, usize> {
        let quoted = self.text.get(start..self.at).ok_or(start)?;
        let text = ron::from_str::<String>(quoted).map_err(|_| start)?;
        Ok(Node { span: start..self.at, name: None, kind: Kind::Text(text) })
    }

    fn bracket(&mut self, start: usize, name: Option<String>, depth: usize) -> Result<Node, usize> {
        self.bump();
        let mut fields = Vec::new();
        let mut row = Vec::new();
        loop {
            self.skip_blank()?;
            if self.take(')') {
                break;
            }
            let value = self.value(depth + 1)?;
            self.skip_blank()?;
            let separator = self.at;
            match (&value.kind, &value.name) {
                (Kind::Word, Some(key)) if self.take(':') => {
                    self.skip_blank()?;
                    fields.push(Field {
                        key: key.clone(),
                        key_span: value.span.clone(),
                        value: self.value(depth + 1)?,
                    });
                    self.skip_blank()?;
                }
                _ => row.push(value),
            }
            if !self.take(',') && self.peek() != Some(')') {
                return Err(self.at);
            }
            if !fields.is_empty() && !row.is_empty() {
                return Err(separator);
            }
        }
        let kind = if row.is_empty() { Kind::Fields(fields) } else { Kind::Row(row) };
        Ok(Node { span: start..self.at, name, kind })
    }
}
