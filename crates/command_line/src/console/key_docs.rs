//! What keys mean, collected from the records that declare them.

use wheelpath_geometry::{LengthUnit, Reading, Scope, axle_readings, wheel_readings};

/// A key, what it means, and the outputs that have it.
#[derive(Debug)]
pub(crate) struct KeyDoc {
    pub key: String,
    pub unit: String,
    pub words: String,
    pub outputs: Vec<&'static str>,
}

/// Outputs that have a reading in the same way.
#[derive(Clone, Debug, PartialEq)]
struct WithReading {
    outputs: Vec<&'static str>,
    /// In which records of these outputs, or under which keys; empty where that needs no words.
    how: &'static str,
}

/// The keys of every output, in the order in which they were met. One key with one meaning stands once.
pub(crate) struct KeyDocs {
    lengths: LengthUnit,
    /// Every output so far; keys are those of the last.
    outputs: Vec<&'static str>,
    keys: Vec<KeyDoc>,
    /// Every reading of the catalogue, and who has it.
    readings: Vec<(&'static Reading, Vec<WithReading>)>,
}

impl KeyDocs {
    pub fn new(lengths: LengthUnit) -> Self {
        let all = wheel_readings().iter().chain(axle_readings());
        KeyDocs {
            lengths,
            outputs: Vec::new(),
            keys: Vec::new(),
            readings: all.map(|one| (one, Vec::new())).collect(),
        }
    }

    /// From here on keys are those of another output, whose lengths are in this unit.
    pub fn of_output(&mut self, output: &'static str, lengths: LengthUnit) {
        self.outputs.retain(|known| *known != output);
        self.outputs.push(output);
        self.lengths = lengths;
    }

    fn output(&self) -> &'static str {
        self.outputs.last().copied().unwrap_or_default()
    }

    /// In what lengths keys are.
    pub fn lengths(&self) -> LengthUnit {
        self.lengths
    }

    /// A key of the output. One without words of its own is a reading.
    pub fn key(&mut self, key: String, unit: &str, words: &str) {
        let words = words.trim();
        let output = self.output();
        if words.is_empty() {
            let is_it = |one: &Reading| format!("{}{}", one.key, one.unit.key_suffix(self.lengths)) == key;
            if let Some((_, with)) = self.readings.iter_mut().find(|(one, _)| is_it(one)) {
                add(with, output, "");
                return;
            }
        }
        let same = |known: &&mut KeyDoc| known.key == key && known.unit == unit && known.words == words;
        match self.keys.iter_mut().find(same) {
            Some(known) if known.outputs.contains(&output) => {}
            Some(known) => known.outputs.push(output),
            None => self.keys.push(KeyDoc {
                key,
                unit: unit.to_owned(),
                words: words.to_owned(),
                outputs: vec![output],
            }),
        }
    }

    /// Every reading of a wheel or an axle; `how` says where in the output, or under which keys.
    pub fn readings(&mut self, scope: Scope, how: &'static str) {
        let output = self.output();
        for (_, with) in self.readings.iter_mut().filter(|(one, _)| one.scope == scope) {
            add(with, output, how);
        }
    }

    /// Every reading with the outputs that have it, in words.
    pub fn documented_readings(&self) -> impl Iterator<Item = (&'static Reading, String)> + '_ {
        self.readings.iter().map(|(one, with)| (*one, in_words(with)))
    }

    /// Every other key.
    pub fn keys(&self) -> &[KeyDoc] {
        &self.keys
    }

    /// The outputs that have a key, in words.
    pub fn outputs_of(&self, doc: &KeyDoc) -> String {
        if doc.outputs.len() == self.outputs.len() { "all".to_owned() } else { doc.outputs.join(" ") }
    }
}

fn add(with: &mut Vec<WithReading>, output: &'static str, how: &'static str) {
    match with.iter_mut().find(|one| one.how == how) {
        Some(one) if one.outputs.contains(&output) => {}
        Some(one) => one.outputs.push(output),
        None => with.push(WithReading { outputs: vec![output], how }),
    }
}

fn in_words(with: &[WithReading]) -> String {
    let group = |one: &WithReading| match one.how {
        // Where no words say how, each output stands for itself.
        "" => one.outputs.join(", "),
        how => format!("{} ({how})", one.outputs.join(" and ")),
    };
    with.iter().map(group).collect::<Vec<_>>().join(", ")
}
