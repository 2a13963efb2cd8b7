//! Taking plain values out of the tree, and noting every fault on the way.

use crate::fault::problem::{Fault, Problem};
use crate::text::corner_words::says;
use crate::text::fill_in::FILL_IN;
use crate::text::nearest::nearest;
use crate::text::place::Places;
use crate::text::tree::{Field, Kind, Node};
use std::collections::HashSet;
use std::sync::Arc;
use wheelpath_geometry::{WheelPosition, excerpt};

/// What is wrong so far, and where.
pub(crate) struct Diagnostics<'t> {
    file: &'t str,
    text: &'t str,
    /// Places of the text, once one is asked for.
    places: Option<Places<'t>>,
    /// Whose corner is being read.
    pub wheel: Option<WheelPosition>,
    pub problems: Vec<Problem>,
}

/// The fields of one block, known ones only.
pub(crate) struct Fields<'n> {
    node: &'n Node,
    within: String,
    /// Keys that an unknown key was probably meant for; not reported as missing as well.
    meant: HashSet<&'static str>,
}

impl<'n> Fields<'n> {
    pub fn get(&self, key: &str) -> Option<&'n Node> {
        self.node.field(key).map(|field| &field.value)
    }

    /// Where the block starts.
    pub fn start(&self) -> usize {
        self.node.span.start
    }

    /// Where a key stands, or else the block.
    pub fn key_start(&self, key: &str) -> usize {
        self.node.field(key).map_or(self.start(), |field| field.key_span.start)
    }

    pub fn was_meant(&self, key: &str) -> bool {
        self.meant.contains(key)
    }
}

impl<'t> Diagnostics<'t> {
    pub fn new(file: &'t str, text: &'t str) -> Self {
        Diagnostics { file, text, places: None, wheel: None, problems: Vec::new() }
    }

    /// Notes a fault that stands at a byte of the text.
    pub fn add(&mut self, byte: usize, fault: Fault) {
        let place = self.places.get_or_insert_with(|| Places::new(self.text)).of(byte);
        self.problems.push(Problem { file: self.file.to_owned(), place, wheel: self.wheel, fault });
    }

    /// The fields of a block without a word before it; `None` if it is none. Unknown and repeated
    /// keys are noted.
    pub fn fields<'n>(&mut self, node: &'n Node, within: &str, known: &[&'static str]) -> Option<Fields<'n>> {
        self.fields_telling(node, within, known, known)
    }

    /// The fields of a block without a word before it, where fewer keys are told of than are known.
    pub fn fields_telling<'n>(
        &mut self,
        node: &'n Node,
        within: &str,
        known: &[&'static str],
        told: &[&'static str],
    ) -> Option<Fields<'n>> {
        match &node.kind {
            Kind::Fields(fields) if node.name.is_none() => {
                Some(self.known_fields(node, fields, within, known, told))
            }
            _ => {
                self.wrong_shape(node, within, "a block (key: value, ...)");
                None
            }
        }
    }

    /// The fields of a block whose word has been looked at.
    pub fn fields_after_word<'n>(
        &mut self,
        node: &'n Node,
        within: &str,
        known: &[&'static str],
    ) -> Option<Fields<'n>> {
        let Kind::Fields(fields) = &node.kind else {
            self.wrong_shape(node, within, "a word with a block after it, Word(key: value, ...)");
            return None;
        };
        Some(self.known_fields(node, fields, within, known, known))
    }

    fn known_fields<'n>(
        &mut self,
        node: &'n Node,
        fields: &[Field],
        within: &str,
        known: &[&'static str],
        told: &[&'static str],
    ) -> Fields<'n> {
        let mut meant = HashSet::new();
        let mut seen: HashSet<&str> = HashSet::new();
        let free: Vec<&'static str> = known.iter().copied().filter(|k| node.field(k).is_none()).collect();
        let told: Arc<[&'static str]> = told.into();
        for field in fields {
            let key = field.key.as_str();
            if !known.contains(&key) {
                let near = nearest(key, free.iter().copied());
                meant.extend(near);
                self.add(
                    field.key_span.start,
                    Fault::UnknownKey {
                        within: within.to_owned(),
                        found: excerpt(key).into_owned(),
                        nearest: near.map(str::to_owned),
                        known: told.clone(),
                    },
                );
            } else if !seen.insert(key) {
                let fault = Fault::RepeatedKey { within: within.to_owned(), key: key.to_owned() };
                self.add(field.key_span.start, fault);
            }
        }
        Fields { node, within: within.to_owned(), meant }
    }

    /// The value of a key; noted where it is missing.
    pub fn need<'n>(&mut self, fields: &Fields<'n>, key: &'static str) -> Option<&'n Node> {
        let found = fields.get(key);
        if found.is_none() && !fields.was_meant(key) {
            self.add(fields.node.span.start, Fault::MissingKey { within: fields.within.clone(), key });
        }
        found
    }

    pub fn wrong_shape(&mut self, node: &Node, what: &str, expected: &'static str) {
        self.add(
            node.span.start,
            Fault::WrongShape { what: what.to_owned(), expected, found: node.described() },
        );
    }

    /// A finite number.
    pub fn number(&mut self, node: &Node, what: &str) -> Option<f64> {
        match node.kind {
            Kind::Number(value) if value.is_finite() => Some(value),
            Kind::Number(value) => {
                self.add(node.span.start, Fault::NotFinite { what: what.to_owned(), value });
                None
            }
            _ if node.is_word(FILL_IN) => {
                self.add(node.span.start, Fault::NotFilledIn { what: what.to_owned() });
                None
            }
            _ => {
                self.wrong_shape(node, what, "a number");
                None
            }
        }
    }

    /// Half of the last digit that a number is written with, in what it counts; zero where it is none.
    pub fn half_digit(&self, node: &Node) -> f64 {
        let written = self.text.get(node.span.clone()).filter(|_| matches!(node.kind, Kind::Number(_)));
        let Some(written) = written.filter(|text| text.bytes().any(|b| b.is_ascii_digit())) else {
            return 0.0;
        };
        let (digits, power) = written.split_once(['e', 'E']).unwrap_or((written, "0"));
        let decimals =
            digits.split_once('.').map_or(0, |(_, behind)| behind.bytes().filter(u8::is_ascii_digit).count());
        let power: i32 = power.trim().parse().unwrap_or(0);
        let last = power.saturating_sub(i32::try_from(decimals).unwrap_or(i32::MAX));
        let half = 0.5 * 10.0_f64.powi(last);
        if half.is_finite() { half } else { 0.0 }
    }

    /// A finite number within a range.
    pub fn number_in(
        &mut self,
        node: &Node,
        what: &str,
        range: &'static str,
        within: impl Fn(f64) -> bool,
    ) -> Option<f64> {
        let value = self.number(node, what)?;
        if within(value) {
            return Some(value);
        }
        self.add(node.span.start, Fault::OutOfRange { what: what.to_owned(), value, range });
        None
    }

    /// An angle in degrees, of less than half a right angle, as radians.
    pub fn angle(&mut self, node: &Node, what: &str) -> Option<f64> {
        let within = |angle: f64| angle.abs() < 45.0;
        self.number_in(node, what, "between -45 and 45 degrees", within).map(f64::to_radians)
    }

    pub fn positive(&mut self, node: &Node, what: &str) -> Option<f64> {
        self.number_in(node, what, "more than 0", |value| value > 0.0)
    }

    /// Three finite numbers in brackets.
    pub fn triple(&mut self, node: &Node, what: &str) -> Option<[f64; 3]> {
        let Node { kind: Kind::Row(row), name: None, .. } = node else {
            self.wrong_shape(node, what, "three numbers (x, y, z)");
            return None;
        };
        self.row_of_three(node, row, what)
    }

    pub fn row_of_three(&mut self, node: &Node, row: &[Node], what: &str) -> Option<[f64; 3]> {
        let [x, y, z] = row else {
            self.wrong_shape(node, what, "three numbers (x, y, z)");
            return None;
        };
        if [x, y, z].iter().all(|node| node.is_word(FILL_IN)) {
            self.add(node.span.start, Fault::NotFilledIn { what: format!("{what}, x, y and z,") });
            return None;
        }
        let [x, y, z] = [("x", x), ("y", y), ("z", z)].map(|(c, n)| self.number(n, &format!("{what}, {c}")));
        Some([x?, y?, z?])
    }

    pub fn text(&mut self, node: &Node, what: &str) -> Option<String> {
        match &node.kind {
            Kind::Text(text) => Some(text.clone()),
            _ => {
                self.wrong_shape(node, what, "text in quotation marks");
                None
            }
        }
    }

    /// One of some words, and what it stands for. A word with a bracket is left to the caller.
    pub fn choice<T: Copy>(&mut self, node: &Node, what: &str, choices: &[(&'static str, T)]) -> Option<T> {
        let value = node.name.as_deref().and_then(|name| {
            let exact = choices.iter().find(|(word, _)| *word == name);
            exact.or_else(|| choices.iter().find(|(word, _)| says(name, word)))
        });
        if value.is_none() {
            let known: Vec<_> = choices.iter().map(|&(word, _)| word).collect();
            let near = node.name.as_deref().and_then(|name| nearest(name, known.iter().copied()));
            let fault = Fault::UnknownWord {
                what: what.to_owned(),
                found: node
                    .name
                    .as_deref()
                    .map_or_else(|| node.described(), |name| excerpt(name).into_owned()),
                nearest: near.map(str::to_owned),
                known,
            };
            self.add(node.span.start, fault);
        }
        value.map(|&(_, value)| value)
    }

    /// One of some bare words.
    pub fn word<T: Copy>(&mut self, node: &Node, what: &str, choices: &[(&'static str, T)]) -> Option<T> {
        let value = self.choice(node, what, choices)?;
        if node.kind == Kind::Word {
            return Some(value);
        }
        self.wrong_shape(node, what, "a bare word");
        None
    }
}
