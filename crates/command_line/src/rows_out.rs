//! Rows for programs, written as they come: CSV, or JSON with a row a line.

use crate::data::{Record, cell, json, quoted};
use serde_json::Value;

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

/// The values of one row, in the order of the keys.
pub(crate) struct Row {
    pub pose: Vec<Value>,
    pub before: Vec<Value>,
    pub after: Option<Vec<Value>>,
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

    /// What comes before the first row.
    pub fn start(&self, record: Record) -> String {
        if !self.is_csv {
            let start = json(record);
            return format!("{},\n  \"rows\": [", start.trim_end().trim_end_matches('}').trim_end());
        }
        let mut keys: Vec<String> = self.pose.iter().map(|key| quoted(key)).collect();
        for &(later, at) in &self.order {
            let (which, of) = match (&self.after, later) {
                (Some(after), true) => ("after_", after),
                (Some(_), false) => ("before_", &self.before),
                (None, _) => ("", &self.before),
            };
            keys.extend(of.get(at).map(|key| quoted(&format!("{which}{key}"))));
        }
        keys.join(",") + "\n"
    }

    /// Puts a row at the end of a text; `first` is the first of all.
    pub fn put(&self, text: &mut String, row: &Row, first: bool) {
        if self.is_csv {
            let mut separator = "";
            let mut put = |value: Option<&Value>| {
                text.push_str(separator);
                match value {
                    Some(Value::Number(number)) => text.push_str(&number.to_string()),
                    other => text.push_str(&cell(other)),
                }
                separator = ",";
            };
            row.pose.iter().for_each(|value| put(Some(value)));
            for &(later, at) in &self.order {
                put(if later {
                    row.after.as_ref().and_then(|after| after.get(at))
                } else {
                    row.before.get(at)
                });
            }
            text.push('\n');
            return;
        }
        text.push_str(if first { "\n    {" } else { ",\n    {" });
        put_fields(text, &self.pose, &row.pose, true);
        match (&self.after, &row.after) {
            (Some(keys), Some(after)) => {
                text.push_str(",\"before\":{");
                put_fields(text, &self.before, &row.before, true);
                text.push_str("},\"after\":{");
                put_fields(text, keys, after, true);
                text.push('}');
            }
            _ => put_fields(text, &self.before, &row.before, self.pose.is_empty()),
        }
        text.push('}');
    }

    /// What comes after the last row.
    pub fn end(&self) -> &'static str {
        if self.is_csv { "" } else { "\n  ]\n}\n" }
    }
}

fn put_fields(text: &mut String, keys: &[String], values: &[Value], mut first: bool) {
    for (key, value) in keys.iter().zip(values) {
        if !first {
            text.push(',');
        }
        first = false;
        // Keys are letters, digits and underscores.
        text.push('"');
        text.push_str(key);
        text.push_str("\":");
        match value {
            Value::Number(number) => text.push_str(&number.to_string()),
            other => text.push_str(&other.to_string()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{Columns, Row};
    use crate::data::heading;
    use serde_json::{Value, json};

    fn keys(words: &[&str]) -> Vec<String> {
        words.iter().map(|word| (*word).to_owned()).collect()
    }

    fn text(columns: &Columns, rows: &[Row]) -> String {
        let mut text = columns.start(heading("sweep"));
        for (place, row) in rows.iter().enumerate() {
            columns.put(&mut text, row, place == 0);
        }
        text + columns.end()
    }

    #[test]
    fn a_row_has_both_cars_side_by_side() {
        let row = || Row {
            pose: vec![json!(1.5)],
            before: vec![json!(2), Value::Null],
            after: Some(vec![json!(9), json!(3), json!("a, b")]),
        };
        let columns = |is_csv| {
            let after = Some(keys(&["rack_mm", "toe_deg", "stop"]));
            Columns::new(keys(&["travel_mm"]), keys(&["toe_deg", "stop"]), after, is_csv)
        };
        let head = "travel_mm,after_rack_mm,before_toe_deg,after_toe_deg,before_stop,after_stop\n";
        assert_eq!(text(&columns(true), &[row()]), format!("{head}1.5,9,2,3,,\"a, b\"\n"));
        let out: Value = serde_json::from_str(&text(&columns(false), &[row(), row()])).unwrap();
        assert_eq!(
            out["rows"][1],
            json!({
                "travel_mm": 1.5,
                "before": {"toe_deg": 2, "stop": null},
                "after": {"rack_mm": 9, "toe_deg": 3, "stop": "a, b"},
            })
        );
    }

    #[test]
    fn one_car_has_plain_keys() {
        let columns = |is_csv| Columns::new(keys(&["travel_mm"]), keys(&["toe_deg"]), None, is_csv);
        let row = || Row { pose: vec![json!(1)], before: vec![json!(2)], after: None };
        assert_eq!(text(&columns(true), &[row()]), "travel_mm,toe_deg\n1,2\n");
        let out: Value = serde_json::from_str(&text(&columns(false), &[row()])).unwrap();
        assert_eq!(out["rows"], json!([{"travel_mm": 1, "toe_deg": 2}]));
        let none: Value = serde_json::from_str(&text(&columns(false), &[])).unwrap();
        assert_eq!(none["rows"], json!([]));
    }
}
