//! Records for programs: what each key of an output means stands at the field it is written from.
//!
//! [`record!`](crate::console::record::record) declares a record. From the one declaration come the values (JSON, CSV) and
//! the keys with unit and meaning (`wheelpath schema`): a key is written if and only if it is documented.

use crate::console::data::{csv as csv_of_maps, csv_of, json_halves, json_text};
use crate::console::failure::Failure;
use crate::console::key_docs::KeyDocs;
use serde::ser::{Serialize, SerializeMap, SerializeSeq, Serializer};
use serde_json::{Map, Value};
use std::cell::Cell;
use std::fmt::Arguments;
use wheelpath_geometry::LengthUnit;

/// Takes the entries of a record one after the other. A key is put together only where it is looked at.
pub(crate) type Put<'p> = dyn FnMut(Arguments<'_>, Held<'_>) + 'p;

/// What a record holds under a key.
pub(crate) enum Held<'a> {
    Nothing,
    /// In the unit that the key ends in; nothing where it is not finite.
    Number(f64),
    Count(usize),
    Truth(bool),
    Word(&'a str),
    Words(Vec<&'a str>),
    Record(&'a dyn Keyed),
    Records(Vec<&'a dyn Keyed>),
    /// What was a record already, and stands beside another one now.
    Value(&'a Value),
    /// Rows that are written as they come: says when their place is come to.
    Rows(&'a Cell<bool>),
}

/// Something that is keys with values.
pub(crate) trait Keyed {
    /// Hands over every key with its value, in order.
    fn entries(&self, lengths: LengthUnit, put: &mut Put<'_>);
}

/// Something whose keys are known before there are values.
pub(crate) trait Declared: Keyed {
    /// Says every key that [`Keyed::entries`] can hand over, and what it means.
    fn declare(docs: &mut KeyDocs);
}

/// What a subcommand writes as JSON, and the rows it writes as CSV.
pub(crate) trait Output: Declared {
    /// The subcommand.
    const NAME: &'static str;
    /// In what its lengths always are, where that is not as asked for.
    const ALWAYS_IN: Option<LengthUnit> = None;
    /// A row of CSV.
    type Row: Declared;
}

/// Declares a record: a struct whose every field has the words that `wheelpath schema` shows, and a kind from
/// [`field`](crate::console::field) that knows its unit. The key is the field's name, or the one given after `=`, with the
/// unit at its end. A field without words is a reading of the catalogue, which has them.
macro_rules! record {
    (
        $(#[doc = $about:literal])*
        $seen:vis struct $name:ident {
            $($(#[doc = $words:literal])* $field:ident $(= $key:literal)? : $kind:ty,)*
        }
    ) => {
        $(#[doc = $about])*
        $seen struct $name {
            $($(#[doc = $words])* pub $field: $kind,)*
        }

        impl $crate::console::record::Keyed for $name {
            fn entries(
                &self,
                lengths: wheelpath_geometry::LengthUnit,
                put: &mut $crate::console::record::Put<'_>,
            ) {
                $($crate::console::field::Field::put(
                    &self.$field,
                    $crate::console::record::record!(@key $field $($key)?),
                    lengths,
                    put,
                );)*
            }
        }

        impl $crate::console::record::Declared for $name {
            fn declare(docs: &mut $crate::console::key_docs::KeyDocs) {
                $(<$kind as $crate::console::field::Field>::declare(
                    $crate::console::record::record!(@key $field $($key)?),
                    concat!($($words),*),
                    docs,
                );)*
            }
        }
    };
    (@key $field:ident) => { stringify!($field) };
    (@key $field:ident $key:literal) => { $key };
}

pub(crate) use record;

record! {
    /// What every output starts with.
    pub(crate) struct Heading {
        /// Which subcommand wrote it.
        output: &'static str,
        /// Version of the keys of this output; 1.
        output_version: usize,
    }
}

/// A record, its lengths in a unit.
pub(crate) struct InUnits<'a>(pub &'a dyn Keyed, pub LengthUnit);

/// What a key holds, its lengths in a unit.
pub(crate) struct HeldInUnits<'a>(pub Held<'a>, pub LengthUnit);

impl Serialize for InUnits<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(None)?;
        put_entries(&mut map, self.0, self.1)?;
        map.end()
    }
}

impl Serialize for HeldInUnits<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        match &self.0 {
            Held::Nothing => serializer.serialize_none(),
            // Adding zero turns -0 into 0.
            Held::Number(value) if value.is_finite() => serializer.serialize_f64(value + 0.0),
            Held::Number(_) => serializer.serialize_none(),
            Held::Count(count) => count.serialize(serializer),
            Held::Truth(is_so) => serializer.serialize_bool(*is_so),
            Held::Word(word) => serializer.serialize_str(word),
            Held::Words(words) => serializer.collect_seq(words),
            Held::Record(record) => InUnits(*record, self.1).serialize(serializer),
            Held::Records(all) => serializer.collect_seq(all.iter().map(|record| InUnits(*record, self.1))),
            Held::Value(value) => value.serialize(serializer),
            Held::Rows(begun) => {
                let rows = serializer.serialize_seq(None)?;
                begun.set(true);
                rows.end()
            }
        }
    }
}

/// Puts every key of a record into a map that is being written.
pub(crate) fn put_entries<M: SerializeMap>(
    map: &mut M,
    record: &dyn Keyed,
    lengths: LengthUnit,
) -> Result<(), M::Error> {
    let mut done = Ok(());
    record.entries(lengths, &mut |key, held| {
        if done.is_ok() {
            done = map.serialize_entry(&key, &HeldInUnits(held, lengths));
        }
    });
    done
}

/// A record after the heading of its output.
struct WithHeading<'a>(Heading, &'a dyn Keyed);

impl Keyed for WithHeading<'_> {
    fn entries(&self, lengths: LengthUnit, put: &mut Put<'_>) {
        self.0.entries(lengths, put);
        self.1.entries(lengths, put);
    }
}

/// The heading of an output.
pub(crate) fn heading<O: Output>() -> Heading {
    Heading { output: O::NAME, output_version: 1 }
}

/// An output as JSON text, its last line ended.
pub(crate) fn json<O: Output>(output: &O, lengths: LengthUnit) -> Result<String, Failure> {
    let lengths = O::ALWAYS_IN.unwrap_or(lengths);
    json_text(&InUnits(&WithHeading(heading::<O>(), output), lengths))
}

/// What of an output as JSON text stands before its rows, which are written as they come, and what after them.
pub(crate) fn json_around_rows<O: Output>(
    output: &O,
    begun: &Cell<bool>,
    lengths: LengthUnit,
) -> Result<[String; 2], Failure> {
    json_halves(&InUnits(&WithHeading(heading::<O>(), output), lengths), begun)
}

/// The rows of an output as CSV text: the keys of the first row that has each, empty for null or a key that a row
/// lacks. Where there are no rows, every key that one could have.
pub(crate) fn csv<O: Output>(rows: &[O::Row], lengths: LengthUnit) -> Result<String, Failure> {
    if rows.is_empty() {
        let mut docs = KeyDocs::new(lengths);
        O::Row::declare(&mut docs);
        return csv_of(&docs.keys().iter().map(|doc| doc.key.as_str()).collect::<Vec<_>>(), &[]);
    }
    let maps = rows.iter().map(|row| map_of(row, lengths)).collect::<Result<Vec<_>, _>>()?;
    csv_of_maps(&maps)
}

/// The keys of a record with their values as JSON has them.
pub(crate) fn map_of(record: &dyn Keyed, lengths: LengthUnit) -> Result<Map<String, Value>, Failure> {
    match serde_json::to_value(InUnits(record, lengths)).map_err(Failure::output)? {
        Value::Object(map) => Ok(map),
        _ => Ok(Map::new()),
    }
}

/// The keys of a record.
pub(crate) fn keys_of(record: &dyn Keyed, lengths: LengthUnit) -> Vec<String> {
    let mut keys = Vec::new();
    record.entries(lengths, &mut |key, _| keys.push(key.to_string()));
    keys
}

/// No record: where an output has no rows.
pub(crate) enum NoRow {}

impl Keyed for NoRow {
    fn entries(&self, _: LengthUnit, _: &mut Put<'_>) {}
}

impl Declared for NoRow {
    fn declare(_: &mut KeyDocs) {}
}

#[cfg(test)]
mod tests {
    use super::{Declared, Output, json, keys_of};
    use crate::console::data::csv as csv_of_maps;
    use crate::console::field::{Among, ByWheel, LeftOut, Under, Words};
    use crate::console::key_docs::KeyDocs;
    use crate::console::quantity::{Degree, Given, Length, Plain};
    use crate::console::record::map_of;
    use serde_json::{Value, json};
    use wheelpath_geometry::{INCH, LengthUnit};

    record! {
        /// A record of every shape.
        struct TestRecord {
            /// A length.
            reach: Length,
            /// A turn
            /// over two lines.
            arm = "turn": Given<Degree>,
            /// None.
            nothing: Option<Length>,
            left_out: LeftOut<Among<InsideRecord>>,
            among: Among<InsideRecord>,
            /// By wheel.
            wheels: Under<ByWheel<InsideRecord>>,
            camber_to_body: Degree,
        }
    }

    record! {
        /// What stands inside.
        struct InsideRecord {
            /// A number.
            number: Plain,
            /// Words.
            words: Words,
        }
    }

    impl Output for TestRecord {
        const NAME: &'static str = "test";
        type Row = InsideRecord;
    }

    fn inside(number: f64) -> InsideRecord {
        InsideRecord { number: Plain(number), words: Words::of(["a", "b"]) }
    }

    fn test_record() -> TestRecord {
        TestRecord {
            reach: Length(INCH),
            arm: Given(Degree(0.07_f64.to_radians())),
            nothing: None,
            left_out: LeftOut(None),
            among: Among(inside(-0.0)),
            wheels: Under(ByWheel([1.0, 2.0, f64::NAN, f64::INFINITY].map(inside))),
            camber_to_body: Degree(f64::NAN),
        }
    }

    fn docs(lengths: LengthUnit) -> KeyDocs {
        let mut docs = KeyDocs::new(lengths);
        docs.of_output("test", lengths);
        TestRecord::declare(&mut docs);
        docs
    }

    #[test]
    fn keys_end_in_the_unit_that_the_value_is_in() {
        let out: Value = serde_json::from_str(&json(&test_record(), LengthUnit::Inch).unwrap()).unwrap();
        let expected = json!({
            "output": "test", "output_version": 1, "reach_in": 1.0, "turn_deg": 0.07, "nothing_in": null,
            "number": 0.0, "words": ["a", "b"],
            "wheels": {
                "front_left": {"number": 1.0, "words": ["a", "b"]},
                "front_right": {"number": 2.0, "words": ["a", "b"]},
                "rear_left": {"number": null, "words": ["a", "b"]},
                "rear_right": {"number": null, "words": ["a", "b"]},
            },
            "camber_to_body_deg": null,
        });
        assert_eq!(out, expected);
        let map = map_of(&inside(-0.0), LengthUnit::Millimetre).unwrap();
        assert_eq!(csv_of_maps(&[map]).unwrap(), "number,words\n0.0,a; b\n");
    }

    #[test]
    fn the_declaration_has_every_key_with_its_words() {
        let docs = docs(LengthUnit::Millimetre);
        let of = |key: &str| docs.keys().iter().find(|doc| doc.key == key).map(|doc| doc.words.as_str());
        assert_eq!(of("reach_mm"), Some("A length."));
        assert_eq!(of("turn_deg"), Some("A turn over two lines."));
        let units: Vec<&str> = docs.keys().iter().map(|doc| doc.unit.as_str()).collect();
        assert_eq!(units[..5], ["mm", "°", "mm", "", "text"]);
        // A field without words is a reading.
        assert_eq!(of("camber_to_body_deg"), None);
        let reading =
            docs.documented_readings().find(|(reading, _)| reading.key == "camber_to_body").unwrap();
        assert_eq!(reading.1, "test");
        for key in keys_of(&test_record(), LengthUnit::Millimetre) {
            assert!(of(&key).is_some() || key == "camber_to_body_deg", "{key}");
        }
        assert!(["front_left", "rear_right", "number", "words"].iter().all(|key| of(key).is_some()));
    }

    #[test]
    fn numbers_read_back_to_the_last_bit() {
        for value in [0.1 + 0.2, 1.0 / 3.0, 1e-17, 123_456.789_012_345_6] {
            let map = map_of(&inside(value), LengthUnit::Millimetre).unwrap();
            let text = map["number"].to_string();
            assert_eq!(text.parse::<f64>().unwrap().to_bits(), value.to_bits(), "{text}");
        }
    }
}
