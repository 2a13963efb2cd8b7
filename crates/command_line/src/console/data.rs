//! Records for programs: one order of keys, units in the keys, full precision, null for none.

use crate::console::failure::Failure;
use crate::console::pose::metres;
use serde::Serialize;
use serde_json::ser::{CompactFormatter, Formatter, PrettyFormatter};
use serde_json::{Map, Value};
use std::cell::Cell;
use std::io::{Error, Write};
use wheelpath_geometry::{INCH, LengthUnit, Unit, acts};

/// Keys and values in their order.
pub(crate) type Record = Map<String, Value>;

/// A number to twelve digits: a decimal as somebody would write it.
pub(crate) fn decimal(value: f64) -> f64 {
    twelve_digits(value).unwrap_or_else(|| format!("{value:.11e}").parse().unwrap_or(value))
}

/// Powers of ten that are doubles.
const TENS: [f64; 23] = [
    1e0, 1e1, 1e2, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9, 1e10, 1e11, 1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18,
    1e19, 1e20, 1e21, 1e22,
];

/// The same without text, which long lists are made of: `None` where it is not sure to the last bit. Twelve digits
/// are a whole number that is a double, and so is the power of ten they are divided by: the quotient is
/// rounded once, as what is read from text is.
fn twelve_digits(value: f64) -> Option<f64> {
    let size = value.abs();
    if size == 0.0 {
        return Some(value);
    }
    if !(1e-10..1e12).contains(&size) {
        return None;
    }
    let ten = TENS.into_iter().find(|ten| size * ten >= 1e11)?;
    let digits = size * ten;
    let whole = digits.round();
    // Near a half the rounding of the product could decide.
    ((digits - whole).abs() < 0.499).then(|| (whole / ten).copysign(value))
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

/// JSON text, its last line ended.
pub(crate) fn json_text(value: &impl Serialize) -> Result<String, Failure> {
    let mut text = Vec::new();
    let pretty = SafeStrings(PrettyFormatter::new());
    value
        .serialize(&mut serde_json::Serializer::with_formatter(&mut text, pretty))
        .map_err(Failure::output)?;
    text.push(b'\n');
    text_of(text)
}

/// JSON text in two parts, its last line ended: up to where `begun` was set while it was written, and from there.
pub(crate) fn json_halves(value: &impl Serialize, begun: &Cell<bool>) -> Result<[String; 2], Failure> {
    let mut halves = Halves { parts: [Vec::new(), Vec::new()], begun };
    let pretty = SafeStrings(PrettyFormatter::new());
    value
        .serialize(&mut serde_json::Serializer::with_formatter(&mut halves, pretty))
        .map_err(Failure::output)?;
    let [start, mut end] = halves.parts;
    end.push(b'\n');
    Ok([text_of(start)?, text_of(end)?])
}

/// Takes the bytes before something was set, and those after.
struct Halves<'a> {
    parts: [Vec<u8>; 2],
    begun: &'a Cell<bool>,
}

impl Write for Halves<'_> {
    fn write(&mut self, bytes: &[u8]) -> std::io::Result<usize> {
        self.parts[usize::from(self.begun.get())].extend_from_slice(bytes);
        Ok(bytes.len())
    }

    fn flush(&mut self) -> std::io::Result<()> {
        Ok(())
    }
}

/// Puts a value at the end of a JSON text, on the same line.
pub(crate) fn put_json(text: &mut Vec<u8>, value: &impl Serialize) -> Result<(), Failure> {
    let compact = SafeStrings(CompactFormatter);
    let mut serializer = serde_json::Serializer::with_formatter(text, compact);
    value.serialize(&mut serializer).map_err(Failure::output)
}

/// A text of bytes that a serializer wrote.
pub(crate) fn text_of(bytes: Vec<u8>) -> Result<String, Failure> {
    String::from_utf8(bytes).map_err(|error| Failure::output(Error::other(error)))
}

/// Another formatter of JSON, with strings in which nothing steers a terminal: what would is written with escapes,
/// so that they read back the same.
struct SafeStrings<F>(F);

/// Hands these over to the formatter inside.
macro_rules! as_inside {
    ($($name:ident($($argument:ident: $kind:ty),*);)*) => {$(
        fn $name<W: ?Sized + Write>(&mut self, writer: &mut W $(, $argument: $kind)*) -> std::io::Result<()> {
            self.0.$name(writer $(, $argument)*)
        }
    )*};
}

impl<F: Formatter> Formatter for SafeStrings<F> {
    as_inside! {
        begin_array();
        end_array();
        begin_array_value(first: bool);
        end_array_value();
        begin_object();
        end_object();
        begin_object_key(first: bool);
        end_object_key();
        begin_object_value();
        end_object_value();
    }

    fn write_string_fragment<W: ?Sized + Write>(
        &mut self,
        writer: &mut W,
        text: &str,
    ) -> std::io::Result<()> {
        if text.bytes().all(|byte| (b' '..=b'~').contains(&byte)) {
            return writer.write_all(text.as_bytes());
        }
        let mut rest = text;
        while let Some(at) = rest.find(acts) {
            let (plain, from) = rest.split_at(at);
            writer.write_all(plain.as_bytes())?;
            let mut from = from.chars();
            // All that acts has a code of four digits.
            from.next().map_or(Ok(()), |c| write!(writer, "\\u{:04x}", u32::from(c)))?;
            rest = from.as_str();
        }
        writer.write_all(rest.as_bytes())
    }
}

/// A writer of CSV (RFC 4180, but lines end in a plain newline).
pub(crate) fn csv_writer() -> csv::Writer<Vec<u8>> {
    csv::Writer::from_writer(Vec::new())
}

/// What has been written.
pub(crate) fn csv_text(writer: csv::Writer<Vec<u8>>) -> Result<String, Failure> {
    text_of(writer.into_inner().map_err(|error| Failure::output(error.into_error()))?)
}

/// CSV text: the keys of the first record that has each, one line a record, empty for null or a key that a
/// record lacks.
pub(crate) fn csv(records: &[Record]) -> Result<String, Failure> {
    let mut columns: Vec<&str> = Vec::new();
    let mut seen = std::collections::HashSet::new();
    for key in records.iter().flat_map(Map::keys) {
        if seen.insert(key.as_str()) {
            columns.push(key);
        }
    }
    csv_of(&columns, records)
}

/// CSV text with these columns.
pub(crate) fn csv_of(columns: &[&str], records: &[Record]) -> Result<String, Failure> {
    let mut writer = csv_writer();
    writer.write_record(columns).map_err(Failure::output)?;
    for record in records {
        writer.write_record(columns.iter().map(|key| csv_cell(record.get(*key)))).map_err(Failure::output)?;
    }
    csv_text(writer)
}

/// A cell of CSV.
pub(crate) fn csv_cell(value: Option<&Value>) -> String {
    let of = |value: &Value| value.as_str().map_or_else(|| value.to_string(), str::to_owned);
    match value {
        None | Some(Value::Null) => String::new(),
        Some(Value::Array(all)) => all.iter().map(of).collect::<Vec<_>>().join("; "),
        Some(other) => of(other),
    }
}

#[cfg(test)]
mod tests {
    use super::{Record, as_given, csv, decimal, twelve_digits};
    use crate::console::pose::metres;
    use serde_json::{Value, json};
    use wheelpath_geometry::{INCH, LengthUnit, Unit};

    #[test]
    fn records_become_lines_of_one_table() {
        let record = |value: Value| -> Record { value.as_object().unwrap().clone() };
        let records = [
            record(json!({"place": "a, \"b\"", "toe_deg": 0.1, "links": ["x", "y"]})),
            record(json!({"place": "c", "track_mm": null, "toe_deg": 0.0})),
        ];
        let expected = "place,toe_deg,links,track_mm\n\"a, \"\"b\"\"\",0.1,x; y,\nc,0.0,,\n";
        assert_eq!(csv(&records).unwrap(), expected);
    }

    #[test]
    fn twelve_digits_are_those_of_text() {
        let mut sure = 0;
        let mut check = |value: f64| {
            let slow: f64 = format!("{value:.11e}").parse().unwrap();
            if let Some(quick) = twelve_digits(value) {
                sure += 1;
                assert_eq!(quick.to_bits(), slow.to_bits(), "{value:e}: {quick:e} {slow:e}");
            }
            assert!(decimal(value).to_bits() == slow.to_bits() || value.is_nan());
        };
        for exponent in -20..20 {
            let ten = 10.0_f64.powi(exponent);
            for share in [1.0, 0.5, 1.0 / 3.0, 0.123_456_789_012_5, 0.999_999_999_999_5, 9.999_999_999_994_9]
            {
                let value: f64 = share * ten;
                for near in [value.next_down(), value, value.next_up()] {
                    check(near);
                    check(-near);
                }
            }
        }
        let mut seed = 1_u64;
        for _ in 0..200_000 {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            let unit = f64::from(u32::try_from(seed >> 32).unwrap()) / f64::from(u32::MAX);
            check(unit * 100.0 - 50.0);
            check(f64::from_bits(seed));
        }
        [0.0, -0.0, f64::INFINITY, f64::NAN, f64::MIN_POSITIVE, f64::MAX].into_iter().for_each(&mut check);
        assert!(sure > 200_000, "{sure}");
    }

    #[test]
    fn strings_read_back_and_steer_no_terminal() {
        let name = "a\u{1b}[31m\u{9b}\u{202e}\u{7f}\u{2028}\n\"é";
        let mut record = Record::new();
        record.insert("name".into(), name.into());
        let text = super::json_text(&Value::Object(record)).unwrap();
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
}
