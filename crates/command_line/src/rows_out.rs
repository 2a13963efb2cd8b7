//! Rows for programs, written as they come: CSV, or JSON with a row a line.

use crate::console::data::{Record, csv_text, csv_writer, json, put_json, text_of};
use crate::console::failure::Failure;
use serde::ser::{Serialize, SerializeMap, Serializer};

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

/// One value of a row. What a file or a person named is not among them.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
#[serde(untagged)]
pub(crate) enum Cell {
    Missing,
    Number(f64),
    Word(&'static str),
    Words(Vec<String>),
}

impl Cell {
    /// A number; missing where it is not finite.
    pub fn number(value: f64) -> Self {
        // Adding zero turns -0 into 0.
        if value.is_finite() { Cell::Number(value + 0.0) } else { Cell::Missing }
    }
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

    /// What comes before the first row, and what after the last.
    pub fn around(&self, mut record: Record) -> Result<[String; 2], Failure> {
        if !self.is_csv {
            record.insert("rows".into(), Vec::<String>::new().into());
            let whole = json(record)?;
            // The rows go between the brackets of the last value.
            let (start, end) = whole.rsplit_once("[]").unwrap_or((whole.as_str(), ""));
            return Ok([format!("{start}["), format!("\n  ]{end}")]);
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
    use super::{Cell, Columns, Row};
    use crate::console::data::heading;
    use serde_json::{Value, json};

    fn keys(words: &[&str]) -> Vec<String> {
        words.iter().map(|word| (*word).to_owned()).collect()
    }

    fn text(columns: &Columns, rows: &[Row]) -> String {
        let [start, end] = columns.around(heading("sweep")).unwrap();
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
            pose: vec![Cell::number(1.5)],
            before: vec![Cell::number(2.0), Cell::Missing],
            after: Some(vec![Cell::number(9.0), Cell::number(3.0), Cell::Words(keys(&["a, b", "c"]))]),
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
        // A row a line, the rest of the record a key a line.
        assert_eq!(written.lines().count(), 8, "{written}");
    }

    #[test]
    fn one_car_has_plain_keys() {
        let columns = |is_csv| Columns::new(keys(&["travel_mm"]), keys(&["toe_deg", "stop"]), None, is_csv);
        let row = || Row {
            pose: vec![Cell::number(-0.0)],
            before: vec![Cell::number(f64::NAN), Cell::Word("dead_point")],
            after: None,
        };
        assert_eq!(text(&columns(true), &[row()]), "travel_mm,toe_deg,stop\n0.0,,dead_point\n");
        let out: Value = serde_json::from_str(&text(&columns(false), &[row()])).unwrap();
        assert_eq!(out["rows"], json!([{"travel_mm": 0.0, "toe_deg": null, "stop": "dead_point"}]));
        let none: Value = serde_json::from_str(&text(&columns(false), &[])).unwrap();
        assert_eq!(none["rows"], json!([]));
    }
}
