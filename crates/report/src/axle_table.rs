//! All readings of one axle as a table, grouped as in the catalogue.

use crate::number::Style;
use crate::table::{Align, Table};
use crate::wrap::wrap;
use wheelpath_geometry::{AxleValues, Reading, Scope, WheelValues, axle_readings, wheel_readings};

/// Widest line of a note.
const WIDTH: usize = 96;

/// The readings of one axle.
#[derive(Clone, Copy, Debug)]
pub struct AxleColumns<'a> {
    /// Left and right wheel.
    pub wheels: [&'a WheelValues; 2],
    /// The axle.
    pub axle: &'a AxleValues,
    /// Whether one beam carries both wheels, so that a rate has to say which motion it is of.
    pub moves_as_one: bool,
}

/// The table: a row a reading, columns left, right and axle, then why readings have no value.
#[must_use]
pub fn axle_table(title: &str, columns: &AxleColumns, style: &Style) -> String {
    let (table, absent) = rows(title, columns, style);
    table.text() + &absent.in_words()
}

/// The same axle before and after a change as one table: readings that differ as shown have two rows.
#[must_use]
pub fn axle_table_before_after(
    title: &str,
    before: &AxleColumns,
    after: &AxleColumns,
    style: &Style,
) -> String {
    let [(before, mut absent), (after, more)] = [before, after].map(|columns| rows(title, columns, style));
    absent.extend(more);
    before.beside(&after, 1).text() + &absent.in_words()
}

/// Why readings have no value: each reason with the names of its readings.
#[derive(Default)]
struct Absent(Vec<(&'static str, Vec<String>)>);

impl Absent {
    fn add(&mut self, reason: &'static str, name: String) {
        match self.0.iter_mut().find(|(known, _)| *known == reason) {
            Some((_, names)) if names.contains(&name) => {}
            Some((_, names)) => names.push(name),
            None => self.0.push((reason, vec![name])),
        }
    }

    fn extend(&mut self, more: Absent) {
        for (reason, names) in more.0 {
            names.into_iter().for_each(|name| self.add(reason, name));
        }
    }

    fn in_words(&self) -> String {
        let mut text = String::new();
        for (reason, names) in &self.0 {
            let reason = if reason.is_empty() { "no value at this pose" } else { reason };
            text += &wrap(&format!("— {reason}: {}", names.join("; ")), WIDTH, "  ");
            text.push('\n');
        }
        text
    }
}

fn rows(title: &str, columns: &AxleColumns, style: &Style) -> (Table, Absent) {
    let mut table = Table::new(&[
        (title, Align::Left),
        ("left", Align::Right),
        ("right", Align::Right),
        ("axle", Align::Right),
        ("", Align::Left),
    ]);
    let mut absent = Absent::default();
    let mut group = None;
    for reading in wheel_readings().iter().chain(axle_readings()) {
        let values = values(columns, reading);
        let missing = values.iter().filter(|value| value.is_none()).count();
        // What only some beams have is no lack of others.
        if reading.is_of_beams() && missing == values.len() {
            continue;
        }
        if group != Some(reading.group) {
            group = Some(reading.group);
            table.heading(reading.group.label());
        }
        let name = style.name_on(reading, columns.moves_as_one);
        if missing > 0 {
            let one = match (missing < values.len(), values.first()) {
                (true, Some(None)) => format!("{name} (left)"),
                (true, _) => format!("{name} (right)"),
                _ => name.clone(),
            };
            absent.add(reading.absent, one);
        }
        let mut cells = vec![format!("  {name}")];
        if reading.scope == Scope::Axle {
            cells.extend([String::new(), String::new()]);
        }
        cells.extend(values.iter().map(|&value| style.number(reading, value)));
        if reading.scope == Scope::Wheel {
            cells.push(String::new());
        }
        cells.push(if missing < values.len() { style.unit(reading).to_owned() } else { String::new() });
        table.row(cells);
    }
    (table, absent)
}

fn values(columns: &AxleColumns, reading: &Reading) -> Vec<Option<f64>> {
    match reading.scope {
        Scope::Wheel => columns.wheels.iter().map(|values| values.get(reading)).collect(),
        Scope::Axle => vec![columns.axle.get(reading)],
    }
}

#[cfg(test)]
mod tests {
    use super::{AxleColumns, axle_table};
    use crate::number::Style;
    use wheelpath_geometry::{
        AXLE_READINGS, AxleValues, WHEEL_READINGS, WheelValues, axle_readings, reading, wheel_readings,
    };

    #[test]
    fn every_reading_has_a_row_and_every_dash_a_reason() {
        let mut left = WheelValues([0.1; WHEEL_READINGS]);
        let right = WheelValues([0.2; WHEEL_READINGS]);
        let caster = reading("caster").unwrap();
        left.0[caster.index] = f64::NAN;
        let mut axle = AxleValues([0.3; AXLE_READINGS]);
        let squat = reading("anti_squat").unwrap();
        axle.0[squat.index] = f64::NAN;
        let text = axle_table(
            "Front axle",
            &AxleColumns { wheels: [&left, &right], axle: &axle, moves_as_one: false },
            &Style::default(),
        );
        for reading in wheel_readings().iter().chain(axle_readings()) {
            let rows = text.lines().filter(|line| line.trim_start().starts_with(reading.name)).count();
            assert!(rows >= 1, "{} has no row in\n{text}", reading.name);
        }
        let row = |name: &str| {
            let line = text.lines().find(|line| line.starts_with(&format!("  {name}"))).unwrap();
            line.split_whitespace().map(str::to_owned).collect::<Vec<_>>()
        };
        assert_eq!(row("Caster angle"), ["Caster", "angle", "—", "11.46", "°"]);
        assert_eq!(row("Anti-squat"), ["Anti-squat", "—"]);
        assert_eq!(row("Track "), ["Track", "300.0", "mm"]);
        let notes: Vec<_> = text.lines().filter(|line| line.starts_with('—')).collect();
        assert!(
            notes.iter().any(|n| n.contains(caster.absent) && n.ends_with("Caster angle (left)")),
            "{notes:?}"
        );
        assert!(notes.iter().any(|n| n.contains("Anti-squat")), "{notes:?}");
    }

    /// A beam's rates say which motion they are of; an axle whose wheels move on their own has neither those
    /// words nor the rows.
    #[test]
    fn rates_of_a_beam_say_their_motion() {
        let mut wheel = WheelValues([0.1; WHEEL_READINGS]);
        let axle = AxleValues([0.3; AXLE_READINGS]);
        let table = |wheel: &WheelValues, moves_as_one| {
            let columns = AxleColumns { wheels: [wheel, wheel], axle: &axle, moves_as_one };
            axle_table("Rear axle", &columns, &Style::default())
        };
        let beam = table(&wheel, true);
        for name in
            ["Bump steer, in heave", "Bump steer, in roll", "Bump steer, by one wheel", "Anti-lift, in heave"]
        {
            assert!(beam.contains(&format!("  {name}  ")), "{name} in\n{beam}");
        }
        assert!(beam.contains("Third spring movement per heave  "), "{beam}");
        for one in wheel_readings().iter().filter(|one| one.is_of_beams()) {
            wheel.0[one.index] = f64::NAN;
        }
        let own = table(&wheel, false);
        for words in [", in heave", ", in roll", "one wheel", "Beam axle"] {
            assert!(!own.contains(words), "{words} in\n{own}");
        }
    }
}
