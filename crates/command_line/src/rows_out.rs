//! Rows for programs, written as they come: CSV, or JSON with a row a line.

use crate::before_after::declare_rows_of_both;
use crate::console::data::{csv_cell, csv_text, csv_writer, put_json, text_of};
use crate::console::failure::Failure;
use crate::console::field::{Kind, RECORDS};
use crate::console::key_docs::KeyDocs;
use crate::console::record::{Declared, Held, HeldInUnits, Keyed, Output, json_around_rows};
use serde::ser::{Serialize, SerializeMap, Serializer};
use serde_json::Value;
use std::marker::PhantomData;
use wheelpath_geometry::LengthUnit;

/// The keys of rows: those of the pose, then those of the car as it is, then those with proposals made,
/// where there are any.
pub(crate) struct Columns {
    pose: Vec<String>,
    before: Vec<String>,
    after: Option<Vec<String>>,
    /// Where each column of a CSV line stands: in `before` or `after`, and at which place.
    order: Vec<(bool, usize)>,
    is_csv: bool,
}

/// The place of the rows in an output: the pose `P`, and for each car `R`.
pub(crate) struct Streamed<P, R> {
    /// Whether the writer has come to it.
    begun: std::cell::Cell<bool>,
    of: PhantomData<(P, R)>,
}

impl<P, R> Streamed<P, R> {
    pub fn here() -> Self {
        Streamed { begun: std::cell::Cell::new(false), of: PhantomData }
    }
}

impl<P: Declared, R: Declared> Kind for Streamed<P, R> {
    fn unit(_: LengthUnit) -> &'static str {
        RECORDS
    }

    fn held(&self, _: LengthUnit) -> Held<'_> {
        Held::Rows(&self.begun)
    }

    fn declare_inside(docs: &mut KeyDocs) {
        P::declare(docs);
        R::declare(docs);
        declare_rows_of_both(docs);
    }
}

/// One value of a row. What a file or a person named is not among them.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
#[serde(untagged)]
pub(crate) enum Cell {
    Missing,
    Number(f64),
    Word(String),
    Words(Vec<String>),
    /// Anything else; apart, so that a number takes little room.
    Other(Box<Value>),
}

fn cell_of(held: Held<'_>, lengths: LengthUnit) -> Cell {
    match held {
        // Adding zero turns -0 into 0.
        Held::Number(value) if value.is_finite() => Cell::Number(value + 0.0),
        Held::Nothing | Held::Number(_) => Cell::Missing,
        Held::Word(word) => Cell::Word(word.to_owned()),
        Held::Words(words) => Cell::Words(words.into_iter().map(str::to_owned).collect()),
        other => Cell::Other(Box::new(serde_json::to_value(HeldInUnits(other, lengths)).unwrap_or_default())),
    }
}

/// The values of a record, in the order of its keys; `room` is about how many.
pub(crate) fn cells_of(record: &dyn Keyed, room: usize, lengths: LengthUnit) -> Vec<Cell> {
    let mut cells = Vec::with_capacity(room);
    record.entries(lengths, &mut |_, held| cells.push(cell_of(held, lengths)));
    cells
}

/// The values of one row, in the order of the keys.
pub(crate) struct Row {
    pub pose: Vec<Cell>,
    pub before: Vec<Cell>,
    pub after: Option<Vec<Cell>>,
}

impl Columns {
    pub fn new(pose: Vec<String>, before: Vec<String>, after: Option<Vec<String>>, is_csv: bool) -> Self {
        let mut order = Vec::new();
        let later = after.as_deref().unwrap_or_default();
        order.extend((0..later.len()).filter(|&at| !before.contains(&later[at])).map(|at| (true, at)));
        for (at, key) in before.iter().enumerate() {
            order.push((false, at));
            order.extend(later.iter().position(|other| other == key).map(|at| (true, at)));
        }
        Columns { pose, before, after, order, is_csv }
    }

    /// How many values one car has in a row.
    pub fn width(&self) -> usize {
        self.before.len()
    }

    /// What of an output comes before the first row, and what after the last; `rows` is their place in it.
    pub fn around<O: Output, P, R>(
        &self,
        output: &O,
        rows: impl FnOnce(&O) -> &Streamed<P, R>,
        lengths: LengthUnit,
    ) -> Result<[String; 2], Failure> {
        if !self.is_csv {
            let [start, end] = json_around_rows(output, &rows(output).begun, lengths)?;
            return Ok([start, format!("\n  {end}")]);
        }
        let mut keys = self.pose.clone();
        for &(later, at) in &self.order {
            let (which, of) = match (&self.after, later) {
                (Some(after), true) => ("after_", after),
                (Some(_), false) => ("before_", &self.before),
                (None, _) => ("", &self.before),
            };
            keys.extend(of.get(at).map(|key| format!("{which}{key}")));
        }
        let mut writer = csv_writer();
        writer.write_record(keys).map_err(Failure::output)?;
        Ok([csv_text(writer)?, String::new()])
    }

    /// Some rows that follow one another; `first` is whether they begin with the first of all.
    pub fn rows(&self, first: bool) -> RowsText<'_> {
        let text = match self.is_csv {
            true => Text::Csv { writer: Box::new(csv_writer()), number: Vec::new() },
            false => Text::Json { text: Vec::new(), first },
        };
        RowsText { columns: self, text }
    }
}

/// Rows as text. Parts of a long list are written side by side, each by a writer of its own.
pub(crate) struct RowsText<'a> {
    columns: &'a Columns,
    text: Text,
}

enum Text {
    Csv { writer: Box<csv::Writer<Vec<u8>>>, number: Vec<u8> },
    Json { text: Vec<u8>, first: bool },
}

impl RowsText<'_> {
    /// Writes a row.
    pub fn put(&mut self, row: &Row) -> Result<(), Failure> {
        let columns = self.columns;
        match &mut self.text {
            Text::Csv { writer, number } => {
                row.pose.iter().try_for_each(|cell| put_cell(writer, number, Some(cell)))?;
                for &(later, at) in &columns.order {
                    let cells = if later { row.after.as_ref() } else { Some(&row.before) };
                    put_cell(writer, number, cells.and_then(|cells| cells.get(at)))?;
                }
                writer.write_record(None::<&[u8]>).map_err(Failure::output)
            }
            Text::Json { text, first } => {
                text.extend_from_slice(if *first { b"\n    " } else { b",\n    " });
                *first = false;
                put_json(text, &JsonRow { columns, row })
            }
        }
    }

    /// The text of all of them.
    pub fn text(self) -> Result<String, Failure> {
        match self.text {
            Text::Csv { writer, .. } => csv_text(*writer),
            Text::Json { text, .. } => text_of(text),
        }
    }
}

/// Writes a cell of CSV; `number` is room for one.
fn put_cell(
    writer: &mut csv::Writer<Vec<u8>>,
    number: &mut Vec<u8>,
    cell: Option<&Cell>,
) -> Result<(), Failure> {
    let done = match cell {
        None | Some(Cell::Missing) => writer.write_field(""),
        Some(Cell::Number(value)) => {
            number.clear();
            // As JSON has it.
            put_json(number, value)?;
            writer.write_field(number)
        }
        Some(Cell::Word(word)) => writer.write_field(word),
        Some(Cell::Words(words)) => writer.write_field(words.join("; ")),
        Some(Cell::Other(value)) => writer.write_field(csv_cell(Some(value.as_ref()))),
    };
    done.map_err(Failure::output)
}

/// A row as an object: with two cars, the values of each in one of its own.
struct JsonRow<'a> {
    columns: &'a Columns,
    row: &'a Row,
}

/// Keys with their values.
struct Fields<'a>(&'a [String], &'a [Cell]);

impl Fields<'_> {
    fn put<M: SerializeMap>(&self, map: &mut M) -> Result<(), M::Error> {
        self.0.iter().zip(self.1).try_for_each(|(key, value)| map.serialize_entry(key, value))
    }
}

impl Serialize for Fields<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(None)?;
        self.put(&mut map)?;
        map.end()
    }
}

impl Serialize for JsonRow<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let JsonRow { columns, row } = self;
        let before = Fields(&columns.before, &row.before);
        let mut map = serializer.serialize_map(None)?;
        Fields(&columns.pose, &row.pose).put(&mut map)?;
        match (&columns.after, &row.after) {
            (Some(keys), Some(after)) => {
                map.serialize_entry("before", &before)?;
                map.serialize_entry("after", &Fields(keys, after))?;
            }
            _ => before.put(&mut map)?,
        }
        map.end()
    }
}

#[cfg(test)]
mod tests {
    use super::{Cell, Columns, Row, Streamed, cell_of};
    use crate::console::record::{Held, NoRow, Output, record};
    use serde_json::{Value, json};
    use wheelpath_geometry::LengthUnit;

    record! {
        /// Rows between other keys.
        struct TestOutput {
            /// A name that looks like where the rows are.
            name: &'static str,
            /// The rows.
            rows: Streamed<NoRow, NoRow>,
            /// What comes after them.
            links: Vec<NoRow>,
        }
    }

    impl Output for TestOutput {
        const NAME: &'static str = "test";
        type Row = NoRow;
    }

    fn number(value: f64) -> Cell {
        cell_of(Held::Number(value), LengthUnit::Millimetre)
    }

    fn keys(words: &[&str]) -> Vec<String> {
        words.iter().map(|word| (*word).to_owned()).collect()
    }

    fn text(columns: &Columns, rows: &[Row]) -> String {
        let output = TestOutput { name: "[]", rows: Streamed::here(), links: Vec::new() };
        let [start, end] = columns.around(&output, |output| &output.rows, LengthUnit::Millimetre).unwrap();
        // Two writers, as parts of a long list have them.
        let (some, others) = rows.split_at(rows.len().min(1));
        let [some, others] = [(true, some), (false, others)].map(|(first, rows)| {
            let mut text = columns.rows(first);
            rows.iter().for_each(|row| text.put(row).unwrap());
            text.text().unwrap()
        });
        start + &some + &others + &end
    }

    #[test]
    fn a_row_has_both_cars_side_by_side() {
        let row = || Row {
            pose: vec![number(1.5)],
            before: vec![number(2.0), Cell::Missing],
            after: Some(vec![number(9.0), number(3.0), Cell::Words(keys(&["a, b", "c"]))]),
        };
        let columns = |is_csv| {
            let after = Some(keys(&["rack_mm", "toe_deg", "stop"]));
            Columns::new(keys(&["travel_mm"]), keys(&["toe_deg", "stop"]), after, is_csv)
        };
        let head = "travel_mm,after_rack_mm,before_toe_deg,after_toe_deg,before_stop,after_stop\n";
        let line = "1.5,9.0,2.0,3.0,,\"a, b; c\"\n";
        assert_eq!(text(&columns(true), &[row(), row(), row()]), format!("{head}{line}{line}{line}"));
        let written = text(&columns(false), &[row(), row()]);
        let out: Value = serde_json::from_str(&written).unwrap();
        assert_eq!(
            out["rows"][1],
            json!({
                "travel_mm": 1.5,
                "before": {"toe_deg": 2.0, "stop": null},
                "after": {"rack_mm": 9.0, "toe_deg": 3.0, "stop": ["a, b", "c"]},
            })
        );
        // A row a line, the rest of the record a key a line; the rows stand where they belong, whatever else is empty.
        assert_eq!(written.lines().count(), 10, "{written}");
        assert_eq!((&out["name"], &out["links"]), (&json!("[]"), &json!([])));
    }

    #[test]
    fn one_car_has_plain_keys() {
        let columns = |is_csv| Columns::new(keys(&["travel_mm"]), keys(&["toe_deg", "stop"]), None, is_csv);
        let row = || Row {
            pose: vec![number(-0.0)],
            before: vec![number(f64::NAN), Cell::Word("dead_point".to_owned())],
            after: None,
        };
        assert_eq!(text(&columns(true), &[row()]), "travel_mm,toe_deg,stop\n0.0,,dead_point\n");
        let out: Value = serde_json::from_str(&text(&columns(false), &[row()])).unwrap();
        assert_eq!(out["rows"], json!([{"travel_mm": 0.0, "toe_deg": null, "stop": "dead_point"}]));
        let none: Value = serde_json::from_str(&text(&columns(false), &[])).unwrap();
        assert_eq!(none["rows"], json!([]));
    }
}
