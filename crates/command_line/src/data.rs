//! Records for programs: one order of keys, units in the keys, full precision, null for none.

use crate::pose::metres;
use serde_json::{Map, Number, Value};
use wheelpath_geometry::{INCH, LengthUnit, Reading, Unit, acts};

/// Keys and values in their order.
pub(crate) type Record = Map<String, Value>;

/// A number; null where it is not finite.
pub(crate) fn number(value: f64) -> Value {
    // Adding zero turns -0 into 0.
    Number::from_f64(value + 0.0).map_or(Value::Null, Value::Number)
}

/// A value inside (metres, radians) in its unit.
pub(crate) fn quantity(value: f64, unit: Unit, lengths: LengthUnit) -> Value {
    number(value * unit.data_factor(lengths))
}

/// A number to twelve digits: a decimal as somebody would write it.
pub(crate) fn decimal(value: f64) -> f64 {
    format!("{value:.11e}").parse().unwrap_or(value)
}

/// A number as it was given, in its unit: without what conversion there and back adds in the last digit. Twelve
/// digits are taken where they mean the same number.
pub(crate) fn as_given(value: f64, unit: Unit, lengths: LengthUnit) -> f64 {
    let shown = value * unit.data_factor(lengths);
    let inside = |written: f64| match (unit, lengths) {
        (Unit::Degree, _) => written.to_radians(),
        (Unit::Length, LengthUnit::Inch) => written * INCH,
        (Unit::Length, LengthUnit::Millimetre) => metres(written),
        _ => written / unit.data_factor(lengths),
    };
    let short = decimal(shown);
    if inside(short).to_bits() == value.to_bits() { short } else { shown }
}

/// A number that somebody gave, in its unit; null where it is not finite.
pub(crate) fn given(value: f64, unit: Unit, lengths: LengthUnit) -> Value {
    number(as_given(value, unit, lengths))
}

/// The key of a reading with its unit.
pub(crate) fn key_of(reading: &Reading, lengths: LengthUnit) -> String {
    format!("{}{}", reading.key, reading.unit.key_suffix(lengths))
}

/// A value of a reading in its unit; null where there is none.
pub(crate) fn value_of(reading: &Reading, value: Option<f64>, lengths: LengthUnit) -> Value {
    value.map_or(Value::Null, |value| quantity(value, reading.unit, lengths))
}

/// The key of a length.
pub(crate) fn length_key(name: &str, lengths: LengthUnit) -> String {
    format!("{name}{}", Unit::Length.key_suffix(lengths))
}

/// A length in metres, in its unit.
pub(crate) fn length(value: f64, lengths: LengthUnit) -> Value {
    quantity(value, Unit::Length, lengths)
}

/// What every output starts with.
pub(crate) fn heading(output: &str) -> Record {
    let mut record = Record::new();
    record.insert("output".into(), output.into());
    record.insert("output_version".into(), 1.into());
    record
}

/// JSON text, its last line ended.
pub(crate) fn json(record: Record) -> String {
    safe(&format!("{:#}\n", Value::Object(record)))
}

/// JSON in which nothing steers a terminal: the same strings, written with escapes.
fn safe(json: &str) -> String {
    if !json.contains(|c| acts(c) && c != '\n') {
        return json.to_owned();
    }
    let mut safe = String::with_capacity(json.len() + 16);
    for c in json.chars() {
        // All that acts has a code of four digits; between strings stand line breaks alone.
        if acts(c) && c != '\n' { safe += &format!("\\u{:04x}", u32::from(c)) } else { safe.push(c) }
    }
    safe
}

/// CSV text (RFC 4180, but lines end in a plain newline): the keys of the first record that has
/// each, one line a record, empty for null or a key that a record lacks.
pub(crate) fn csv(records: &[Record]) -> String {
    let mut columns: Vec<&str> = Vec::new();
    let mut seen = std::collections::HashSet::new();
    for key in records.iter().flat_map(Map::keys) {
        if seen.insert(key.as_str()) {
            columns.push(key);
        }
    }
    let line = |cells: Vec<String>| cells.join(",") + "\n";
    let mut text = line(columns.iter().map(|key| quoted(key)).collect());
    for record in records {
        text += &line(columns.iter().map(|key| cell(record.get(*key))).collect());
    }
    text
}

/// A cell of CSV.
pub(crate) fn cell(value: Option<&Value>) -> String {
    match value {
        None | Some(Value::Null) => String::new(),
        Some(Value::String(text)) => quoted(text),
        Some(Value::Array(all)) => {
            let all: Vec<_> =
                all.iter().map(|v| v.as_str().map_or_else(|| v.to_string(), str::to_owned)).collect();
            quoted(&all.join("; "))
        }
        Some(other) => quoted(&other.to_string()),
    }
}

/// A cell of CSV, between quotation marks where it must be.
pub(crate) fn quoted(text: &str) -> String {
    if text.contains([',', '"', '\n', '\r']) {
        format!("\"{}\"", text.replace('"', "\"\""))
    } else {
        text.to_owned()
    }
}

#[cfg(test)]
mod tests {
    use super::{Record, as_given, csv, number};
    use crate::pose::metres;
    use serde_json::{Value, json};
    use wheelpath_geometry::{INCH, LengthUnit, Unit};

    #[test]
    fn records_become_lines_of_one_table() {
        let record = |value: Value| -> Record { value.as_object().unwrap().clone() };
        let records = [
            record(json!({"place": "a, \"b\"", "toe_deg": 0.1, "links": ["x", "y"]})),
            record(json!({"place": "c", "track_mm": number(f64::NAN), "toe_deg": number(-0.0)})),
        ];
        let expected = "place,toe_deg,links,track_mm\n\"a, \"\"b\"\"\",0.1,x; y,\nc,0.0,,\n";
        assert_eq!(csv(&records), expected);
    }

    #[test]
    fn strings_read_back_and_steer_no_terminal() {
        let name = "a\u{1b}[31m\u{9b}\u{202e}\u{7f}\u{2028}\n\"é";
        let mut record = Record::new();
        record.insert("name".into(), name.into());
        let text = super::json(record);
        assert!(text.trim_end().chars().all(|c| c == '\n' || !wheelpath_geometry::acts(c)), "{text:?}");
        assert_eq!(serde_json::from_str::<Value>(&text).unwrap()["name"], name);
    }

    #[test]
    fn what_was_given_stands_as_it_was_given() {
        let mm = LengthUnit::Millimetre;
        // To the last bit.
        let same =
            |found: f64, written: f64| assert_eq!(found.to_bits(), written.to_bits(), "{found} {written}");
        for written in [10.0, -29.7, 0.07, 0.57, -0.2, 1234.5, 33.3] {
            same(as_given(metres(written), Unit::Length, mm), written);
            same(as_given(written.to_radians(), Unit::Degree, mm), written);
        }
        same(as_given(1.25 * INCH, Unit::Length, LengthUnit::Inch), 1.25);
        // What nobody would have written keeps every digit.
        let third = 0.1 / 3.0;
        same(as_given(third, Unit::Length, mm), third * 1e3);
        assert!(as_given(f64::NAN, Unit::Length, mm).is_nan());
    }

    #[test]
    fn numbers_read_back_to_the_last_bit() {
        for value in [0.1 + 0.2, 1.0 / 3.0, 1e-17, 123_456.789_012_345_6] {
            let text = number(value).to_string();
            assert_eq!(text.parse::<f64>().unwrap().to_bits(), value.to_bits(), "{text}");
        }
    }
}
