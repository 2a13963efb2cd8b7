//! What a car gives as it is, and what it gives with proposals made: as one table, one record, or rows
//! with both in them.

use crate::beside_car::Proposed;
use crate::console::data::Record;
use crate::console::failure::{Complaint, Failure};
use crate::console::field::{Among, Field, LeftOut, RECORDS};
use crate::console::key_docs::KeyDocs;
use crate::console::record::{Declared, Held, Keyed, Put, map_of, record};
use crate::console::streams::Console;
use serde_json::Value;
use std::collections::{HashMap, VecDeque};
use std::marker::PhantomData;
use wheelpath_geometry::LengthUnit;
use wheelpath_report::Table;

/// One thing of the car as it is, and of the car with proposals made, where there are any.
pub(crate) struct BeforeAfter<T> {
    pub before: T,
    pub after: Option<T>,
}

impl<T> BeforeAfter<T> {
    pub fn iter(&self) -> impl Iterator<Item = &T> {
        std::iter::once(&self.before).chain(&self.after)
    }

    pub fn map<'a, U>(&'a self, mut of: impl FnMut(&'a T) -> U) -> BeforeAfter<U> {
        BeforeAfter { before: of(&self.before), after: self.after.as_ref().map(of) }
    }

    /// That of the car asked about in the end: with the proposals made, where there are any.
    pub fn last(&self) -> &T {
        self.after.as_ref().unwrap_or(&self.before)
    }

    /// With what belongs to the same car.
    pub fn with<'a, U>(&'a self, other: &'a BeforeAfter<U>) -> BeforeAfter<(&'a T, &'a U)> {
        let after = self.after.as_ref().zip(other.after.as_ref());
        BeforeAfter { before: (&self.before, &other.before), after }
    }
}

impl BeforeAfter<Proposed> {
    /// What each of the two cars gives. What is doubtful about the second car alone is said with the
    /// name of its proposals; so is that it does not come where the first does.
    pub fn each<T>(
        &self,
        io: &mut Console,
        mut of: impl FnMut(&Proposed, &mut Console) -> Result<T, Failure>,
    ) -> Result<BeforeAfter<T>, Failure> {
        let Some(changed) = &self.after else {
            return Ok(BeforeAfter { before: of(&self.before, io)?, after: None });
        };
        let before = of(&self.before, io);
        io.speak_of(Some(&changed.name));
        let after = of(changed, io);
        io.speak_of(None);
        match (before, after) {
            (Ok(before), Ok(after)) => Ok(BeforeAfter { before, after: Some(after) }),
            (Ok(_), Err(Failure::Fault(complaints))) => {
                let name = &changed.name;
                let said = |one: Complaint| Complaint {
                    message: format!("the pose is reached before {name}, but not after it: {}", one.message),
                    ..one
                };
                Err(Failure::Fault(complaints.into_iter().map(said).collect()))
            }
            (Err(Failure::Fault(mut complaints)), Ok(_)) => {
                complaints.push(Complaint::new(
                    format!("the pose is not reached before {}, but it is after it", changed.name),
                    "to see it, make the changes in a car file and ask about that",
                ));
                Err(Failure::Fault(complaints))
            }
            (Err(failure), _) | (_, Err(failure)) => Err(failure),
        }
    }

    /// The car's name, with a line over it where proposals are made.
    pub fn names(&self) -> String {
        let name = &self.before.name;
        match &self.after {
            None => name.clone(),
            Some(after) => format!("{name} before and after {}\n{name}", after.name),
        }
    }

    /// What every output starts with after its heading: whose it is.
    pub fn car_names(&self) -> Among<CarNames> {
        let proposal = LeftOut(self.after.as_ref().map(|after| after.name.clone()));
        Among(CarNames { car: self.before.name.clone(), proposal })
    }
}

impl BeforeAfter<Table> {
    /// One table; rows are paired by their first `keys` cells.
    pub fn table(&self, keys: usize) -> Table {
        self.after.as_ref().map_or_else(|| self.before.clone(), |after| self.before.beside(after, keys))
    }
}

impl BeforeAfter<String> {
    /// Words of both cars; once where they are the same.
    pub fn words(&self, lead: [&str; 2]) -> String {
        match &self.after {
            Some(after) if *after != self.before => {
                format!("{}{}{}{after}", lead[0], self.before, lead[1])
            }
            _ => self.before.clone(),
        }
    }
}

record! {
    /// Whose an output is.
    pub(crate) struct CarNames {
        /// Name of the car; null where the file has a fault.
        car: String,
        /// With --proposal: the proposals that were made, as one.
        proposal: LeftOut<String>,
    }
}

/// The keys of the car as it is, and those of the car with proposals made.
const BOTH: [&str; 2] = ["before", "after"];

/// Says the keys under which both cars stand in rows: in JSON, and before each key in CSV.
pub(crate) fn declare_rows_of_both(docs: &mut KeyDocs) {
    declare_both(docs);
    for (which, words) in BOTH.into_iter().zip([
        "With --proposal, CSV: the key for the car as it is.",
        "With --proposal, CSV: the key with the proposals made.",
    ]) {
        docs.key(format!("{which}_<key>"), "of that key", words);
    }
}

/// Says the keys under which both cars stand in JSON.
fn declare_both(docs: &mut KeyDocs) {
    let [before, after] = BOTH;
    let words = "With --proposal, JSON: the keys of the car as it is; in `rows`, of the row. Null where only the \
                 other car has the row.";
    docs.key(before.to_owned(), RECORDS, words);
    let words = "With --proposal, JSON: the same keys with the proposals made. Where these change the steering \
                 gear, its own rack or pitman arm and steering wheel too.";
    docs.key(after.to_owned(), RECORDS, words);
}

/// The keys of the record itself where there is one car; else under `before` and `after`.
impl<R: Declared> Field for BeforeAfter<R> {
    fn declare(_: &str, _: &str, docs: &mut KeyDocs) {
        R::declare(docs);
        declare_both(docs);
    }

    fn put(&self, _: &str, lengths: LengthUnit, put: &mut Put<'_>) {
        let Some(after) = &self.after else { return self.before.entries(lengths, put) };
        let [was, is] = BOTH;
        put(format_args!("{was}"), Held::Record(&self.before));
        put(format_args!("{is}"), Held::Record(after));
    }
}

/// A row of one car, or of two in one: then every key but those that name the row stands once for each.
pub(crate) struct Paired<R> {
    keys: Record,
    of: PhantomData<R>,
}

impl<R> Keyed for Paired<R> {
    fn entries(&self, _: LengthUnit, put: &mut Put<'_>) {
        self.keys.iter().for_each(|(key, value)| put(format_args!("{key}"), Held::Value(value)));
    }
}

impl<R: Declared> Declared for Paired<R> {
    fn declare(docs: &mut KeyDocs) {
        R::declare(docs);
        declare_rows_of_both(docs);
    }
}

impl<R: Declared> BeforeAfter<Vec<R>> {
    /// The rows of one car as they are. Of two, those that have the same values under the keys of `same` as one
    /// row: first those, then for every other key its value before and after; nested in JSON.
    pub fn paired(
        &self,
        same: &[&str],
        nested: bool,
        lengths: LengthUnit,
    ) -> Result<Vec<Paired<R>>, Failure> {
        let maps = |rows: &[R]| rows.iter().map(|row| map_of(row, lengths)).collect::<Result<Vec<_>, _>>();
        let after = self.after.as_deref().map(maps).transpose()?;
        let rows = BeforeAfter { before: maps(&self.before)?, after }.rows(same, nested);
        Ok(rows.into_iter().map(|keys| Paired { keys, of: PhantomData }).collect())
    }
}

impl BeforeAfter<Vec<Record>> {
    /// The rows of one car as they are. Of two, those that have the same values under the keys of `same`
    /// as one row: first those, then for every other key its value before and after.
    pub fn rows(self, same: &[&str], nested: bool) -> Vec<Record> {
        let Some(after) = self.after else { return self.before };
        let name = |row: &Record| -> Vec<Value> {
            same.iter().map(|key| row.get(*key).cloned().unwrap_or_default()).collect()
        };
        let mut waiting: HashMap<String, VecDeque<usize>> = HashMap::new();
        for (place, row) in after.iter().enumerate() {
            waiting.entry(Value::Array(name(row)).to_string()).or_default().push_back(place);
        }
        let mut pairs: Vec<(Option<&Record>, Option<&Record>)> = Vec::new();
        let mut met = vec![false; after.len()];
        for row in &self.before {
            let pair = waiting.get_mut(&Value::Array(name(row)).to_string()).and_then(VecDeque::pop_front);
            if let Some(met) = pair.and_then(|place| met.get_mut(place)) {
                *met = true;
            }
            pairs.push((Some(row), pair.and_then(|place| after.get(place))));
        }
        pairs.extend(after.iter().zip(&met).filter(|(_, met)| !**met).map(|(row, _)| (None, Some(row))));
        pairs.into_iter().map(|(before, after)| joined(before, after, same, nested)).collect()
    }
}

/// One row of two; a row that is missing has nothing under its keys.
fn joined(before: Option<&Record>, after: Option<&Record>, same: &[&str], nested: bool) -> Record {
    let mut record = Record::new();
    let Some(either) = before.or(after) else { return record };
    let shared = |key: &str| same.contains(&key);
    record.extend(
        either.iter().filter(|(key, _)| shared(key)).map(|(key, value)| (key.clone(), value.clone())),
    );
    let own = |of: Option<&Record>| -> Option<Record> {
        Some(
            of?.iter()
                .filter(|(key, _)| !shared(key))
                .map(|(key, value)| (key.clone(), value.clone()))
                .collect(),
        )
    };
    let (before, after) = (own(before), own(after));
    if nested {
        record.extend(BOTH.map(str::to_owned).into_iter().zip([before.into(), after.into()]));
        return record;
    }
    let (before, after) = (before.unwrap_or_default(), after.unwrap_or_default());
    let only_after = after.keys().filter(|key| !before.contains_key(*key));
    for key in before.keys().chain(only_after) {
        for (which, of) in BOTH.into_iter().zip([&before, &after]) {
            record.insert(format!("{which}_{key}"), of.get(key).cloned().unwrap_or_default());
        }
    }
    record
}

#[cfg(test)]
mod tests {
    use super::BeforeAfter;
    use crate::console::data::{Record, csv};
    use serde_json::json;

    fn record(value: &serde_json::Value) -> Record {
        value.as_object().unwrap().clone()
    }

    #[test]
    fn rows_of_two_cars_are_paired_by_what_names_them() {
        let before =
            vec![record(&json!({"place": "a", "toe_deg": 1})), record(&json!({"place": "b", "toe_deg": 2}))];
        let after =
            vec![record(&json!({"place": "b", "toe_deg": 3})), record(&json!({"place": "c", "toe_deg": 4}))];
        let both = || BeforeAfter { before: before.clone(), after: Some(after.clone()) };
        let expected = "place,before_toe_deg,after_toe_deg\na,1,\nb,2,3\nc,,4\n";
        assert_eq!(csv(&both().rows(&["place"], false)).unwrap(), expected);
        let nested = both().rows(&["place"], true);
        assert_eq!(
            nested[1],
            record(&json!({"place": "b", "before": {"toe_deg": 2}, "after": {"toe_deg": 3}}))
        );
        assert!(nested[2]["before"].is_null());
        let alone = BeforeAfter { before: before.clone(), after: None };
        assert_eq!(alone.rows(&["place"], true), before);
    }
}
