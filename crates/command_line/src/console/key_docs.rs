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

#[cfg(test)]
mod tests {
    use super::KeyDocs;
    use wheelpath_geometry::{LengthUnit, Scope, wheel_readings};

    #[test]
    fn one_key_with_one_meaning_is_one_row() {
        let mut docs = KeyDocs::new(LengthUnit::Millimetre);
        for output in ["turn", "check"] {
            docs.of_output(output, LengthUnit::Millimetre);
            docs.key("car".to_owned(), "text", " Name of the car. ");
            docs.key("car".to_owned(), "text", "Name of the car.");
        }
        docs.key("car".to_owned(), "text", "The car beside it.");
        let rows: Vec<(&str, String)> =
            docs.keys().iter().map(|doc| (doc.words.as_str(), docs.outputs_of(doc))).collect();
        let expected = [("Name of the car.", "all"), ("The car beside it.", "check")];
        assert_eq!(rows, expected.map(|(words, outputs)| (words, outputs.to_owned())));
    }

    #[test]
    fn a_reading_says_which_outputs_have_it_and_how() {
        let mut docs = KeyDocs::new(LengthUnit::Millimetre);
        for (output, how) in [("readings", "wheel"), ("sweep", "as left_…"), ("attitude", "wheel")] {
            docs.of_output(output, LengthUnit::Millimetre);
            docs.readings(Scope::Wheel, how);
        }
        docs.of_output("turn", LengthUnit::Millimetre);
        let first = &wheel_readings()[0];
        docs.key(format!("{}{}", first.key, first.unit.key_suffix(LengthUnit::Millimetre)), "°", "");
        let said = docs.documented_readings().find(|(reading, _)| reading.key == first.key).unwrap().1;
        assert_eq!(said, "readings and attitude (wheel), sweep (as left_…), turn");
        assert!(docs.keys().is_empty());
    }
}
