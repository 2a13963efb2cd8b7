//! All readings of one axle as a table, grouped as in the catalogue.

use crate::number::Style;
use crate::table::{Align, Table};
use crate::wrap::wrap;
use wheelpath_geometry::{
    AxleValues, Group, Reading, Scope, WheelValues, axle_readings, first_readings, reading, wheel_readings,
};

/// Widest line of a note.
const WIDTH: usize = 96;

/// Wheels turned by less are straight ahead, radians: a tenth of a degree.
const STRAIGHT_AHEAD: f64 = 1.75e-3;

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

/// Which readings a table has.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Rows {
    /// Those asked for first.
    #[default]
    First,
    /// All that the axle has.
    All,
}

/// The table: a row a reading that the axle has, columns left, right and axle, then why others have no
/// value. Readings to the road have a row where they show another number than those to the body. With a
/// diameter in the style, toe stands as an angle and as a length over it, of one wheel and of both.
#[must_use]
pub fn axle_table(title: &str, columns: &AxleColumns, style: &Style, rows: Rows) -> String {
    let (table, absent) = lines(title, columns, style, &chosen(&[columns], style, rows));
    table.text() + &absent.in_words()
}

/// The same axle before and after a change as one table: readings that differ as shown have two rows.
#[must_use]
pub fn axle_table_before_after(
    title: &str,
    [before, after]: [&AxleColumns; 2],
    style: &Style,
    rows: Rows,
) -> String {
    let chosen = chosen(&[before, after], style, rows);
    let [(before, mut absent), (after, more)] =
        [before, after].map(|columns| lines(title, columns, style, &chosen));
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

/// The readings of a table, whether they have values or not.
struct Chosen {
    /// Each with whether it is said of the body and of the road alike.
    readings: Vec<(&'static Reading, bool)>,
    /// Whether they stand under the headings of their groups.
    grouped: bool,
}

/// The readings of a table of these columns.
fn chosen(columns: &[&AxleColumns], style: &Style, rows: Rows) -> Chosen {
    let all: Vec<&'static Reading> = match rows {
        Rows::First => first_readings().to_vec(),
        Rows::All => wheel_readings().iter().chain(axle_readings()).collect(),
    };
    let angle = Style { toe_over: None, ..*style };
    let shown = |columns: &AxleColumns, reading: &Reading| -> Vec<String> {
        values(columns, reading).into_iter().map(|value| angle.number(reading, value)).collect()
    };
    let same = |one: &Reading, other: &Reading| {
        columns.iter().all(|columns| shown(columns, one) == shown(columns, other))
    };
    let sides_differ = |reading: &Reading| {
        columns.iter().map(|columns| shown(columns, reading)).any(|sides| sides.first() != sides.last())
    };
    let is_said = |reading: &&Reading| {
        let by_another = reading.said_by().is_some_and(|other| same(other, reading));
        let of_no_use = rows == Rows::First && reading.is_of_unlike_sides() && !sides_differ(reading);
        !by_another && !of_no_use
    };
    let alike = |reading: &Reading| reading.to_road().is_none_or(|road| same(reading, road));
    let readings = all.into_iter().filter(is_said).map(|reading| (reading, alike(reading))).collect();
    Chosen { readings, grouped: rows == Rows::All }
}

fn lines(title: &str, columns: &AxleColumns, style: &Style, chosen: &Chosen) -> (Table, Absent) {
    let mut table = Table::new(&[
        (title, Align::Left),
        ("left", Align::Right),
        ("right", Align::Right),
        ("axle", Align::Right),
        ("", Align::Left),
    ]);
    let angle = Style { toe_over: None, ..*style };
    let mut absent = Absent::default();
    let mut group = None;
    let turned = reading("mean_steer")
        .and_then(|mean| columns.axle.get(mean))
        .is_some_and(|mean| mean.abs() > STRAIGHT_AHEAD);
    let steers = reading("inner_steer").is_some_and(|inner| columns.axle.get(inner).is_some());
    for &(reading, alike) in &chosen.readings {
        let values = values(columns, reading);
        let missing = values.iter().filter(|value| value.is_none()).count();
        // What no wheel has is not there, and its reason answers no question that the table raises.
        // A turn centre is there as soon as the wheels are turned, Ackermann soon after: why not here is worth a word.
        let comes_with_steer = match reading.group {
            Group::Turning => steers,
            Group::Ackermann => steers && turned,
            _ => false,
        };
        // A number that is only not told is there.
        let is_kept_back = match reading.scope {
            Scope::Wheel => columns.wheels.iter().any(|values| values.get(reading).is_some()),
            Scope::Axle => columns.axle.get(reading).is_some(),
        };
        if missing == values.len() && !comes_with_steer && !is_kept_back {
            continue;
        }
        let name = match reading.plain_name() {
            plain if alike && plain != reading.name => plain.into(),
            _ => reading.name_on(columns.moves_as_one),
        };
        if missing == values.len() {
            absent.add(reason(columns, reading), name.to_string());
        } else if missing > 0 {
            let side = if values.first() == Some(&None) { "left" } else { "right" };
            absent.add(reason(columns, reading), format!("{name} ({side})"));
        }
        if chosen.grouped && group != Some(reading.group) {
            group = Some(reading.group);
            table.heading(reading.group.label());
        }
        let mut cells = vec![format!("  {name}")];
        if reading.scope == Scope::Axle {
            cells.extend([String::new(), String::new()]);
        }
        cells.extend(values.iter().map(|&value| angle.number(reading, value)));
        if reading.scope == Scope::Wheel {
            cells.push(String::new());
        }
        cells.push(angle.unit(reading).to_owned());
        table.row(cells);
        if let Some(over) = style.toe_over.filter(|_| reading.key == "toe") {
            table.row(toe_as_a_length(reading, &values, over, style));
        }
    }
    (table, absent)
}

/// Toe of each wheel as a length over a diameter, and of both together in the axle's column.
fn toe_as_a_length(toe: &Reading, values: &[Option<f64>], over: f64, style: &Style) -> Vec<String> {
    let both: Option<f64> = values.iter().map(|toe| toe.map(|toe| over * toe.sin())).sum();
    let mut cells = vec![format!("  Toe over {} (axle: both wheels)", style.length(over))];
    cells.extend(values.iter().map(|&value| style.number(toe, value)));
    cells.push(style.toe_length(both.unwrap_or(f64::NAN)));
    cells.push(style.unit(toe).to_owned());
    cells
}

fn values(columns: &AxleColumns, reading: &Reading) -> Vec<Option<f64>> {
    match reading.scope {
        Scope::Wheel => columns.wheels.iter().map(|values| values.told(reading).ok()).collect(),
        Scope::Axle => vec![columns.axle.told(reading).ok()],
    }
}

/// Why the reading has no value.
fn reason(columns: &AxleColumns, reading: &Reading) -> &'static str {
    match reading.scope {
        Scope::Wheel => {
            let mut reasons = columns.wheels.iter().filter_map(|values| values.told(reading).err());
            reasons.next().unwrap_or(reading.absent)
        }
        Scope::Axle => columns.axle.told(reading).err().unwrap_or(reading.absent),
    }
}

#[cfg(test)]
mod tests {
    use super::{AxleColumns, Rows, axle_table};
    use crate::number::Style;
    use wheelpath_geometry::{
        AXLE_READINGS, AxleValues, WHEEL_READINGS, WheelValues, axle_readings, reading, wheel_readings,
    };

    fn columns_of(left: f64, right: f64, axle: f64) -> ([WheelValues; 2], AxleValues) {
        let wheels = [left, right].map(|value| WheelValues([value; WHEEL_READINGS]));
        let mut axle = AxleValues([axle; AXLE_READINGS]);
        // The front wheels' ideal differs from what they do, as in a turn.
        axle.0[reading("outer_ideal").unwrap().index] = 0.2;
        (wheels, axle)
    }

    fn text_of(([left, right], axle): &([WheelValues; 2], AxleValues), style: &Style, rows: Rows) -> String {
        axle_table(
            "Front axle",
            &AxleColumns { wheels: [left, right], axle, moves_as_one: false },
            style,
            rows,
        )
    }

    fn row(text: &str, name: &str) -> Vec<String> {
        let line = text.lines().find(|line| line.starts_with(&format!("  {name}"))).unwrap();
        line.split_whitespace().map(str::to_owned).collect()
    }

    #[test]
    fn what_exists_has_a_row_and_every_dash_a_reason() {
        let mut values = columns_of(0.1, 0.2, 0.3);
        let caster = reading("caster").unwrap();
        values.0[0].0[caster.index] = f64::NAN;
        let squat = reading("anti_squat").unwrap();
        values.1.0[squat.index] = f64::NAN;
        let text = text_of(&values, &Style::default(), Rows::All);
        for reading in wheel_readings().iter().chain(axle_readings()) {
            // What another row says alike, or what is not there, has none.
            let rows = text.lines().filter(|line| line.starts_with(&format!("  {}  ", reading.plain_name())));
            let is_said = reading.said_by().is_some_and(|other| other.key != "caster");
            let wanted = reading.key != "anti_squat" && !is_said;
            assert_eq!(rows.count() > 0, wanted, "{}\n{text}", reading.name);
        }
        assert_eq!(row(&text, "Caster angle"), ["Caster", "angle", "—", "11.46", "°"]);
        assert_eq!(row(&text, "Track "), ["Track", "300.0", "mm"]);
        let notes: Vec<_> = text.lines().filter(|line| line.starts_with('—')).collect();
        assert!(
            notes.iter().any(|n| n.contains(caster.absent) && n.ends_with("Caster angle (left)")),
            "{notes:?}"
        );
        // What the axle does not have at all is not spoken of.
        assert!(!text.contains("Anti-squat") && !text.contains(squat.absent), "{text}");
    }

    /// A beam's rates say which motion they are of; an axle whose wheels move on their own has neither those
    /// words nor the rows.
    #[test]
    fn rates_of_a_beam_say_their_motion() {
        let mut wheel = WheelValues([0.1; WHEEL_READINGS]);
        let axle = AxleValues([0.3; AXLE_READINGS]);
        let table = |wheel: &WheelValues, moves_as_one| {
            let columns = AxleColumns { wheels: [wheel, wheel], axle: &axle, moves_as_one };
            axle_table("Rear axle", &columns, &Style::default(), Rows::All)
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

    #[test]
    fn readings_to_the_road_have_rows_where_they_differ() {
        let mut values = columns_of(0.1, 0.1, 0.3);
        let alike = text_of(&values, &Style::default(), Rows::First);
        assert_eq!(row(&alike, "Camber"), ["Camber", "5.73", "5.73", "°"]);
        assert!(!alike.contains("to the road") && !alike.contains("to the body"), "{alike}");
        let road = reading("camber_to_road").unwrap();
        values.0[1].0[road.index] = 0.05;
        let unlike = text_of(&values, &Style::default(), Rows::First);
        assert_eq!(row(&unlike, "Camber to the body")[4..], ["5.73", "5.73", "°"]);
        assert_eq!(row(&unlike, "Camber to the road")[4..], ["5.73", "2.86", "°"]);
        // Alike sides have one half track, which the track tells.
        assert!(!alike.contains("Half track") && row(&alike, "Track").len() == 3, "{alike}");
    }

    #[test]
    fn toe_stands_as_an_angle_and_as_a_length_of_one_wheel_and_of_both() {
        let style = Style { toe_over: Some(0.6), ..Style::default() };
        let values = columns_of(30_f64.to_radians(), -0.1_f64.to_radians(), 0.3);
        let text = text_of(&values, &style, Rows::First);
        assert_eq!(row(&text, "Toe  "), ["Toe", "30.00", "−0.10", "°"]);
        // 600 mm · sin 30° = 300 mm, 600 mm · sin 0.1° = 1.05 mm.
        let length = ["(axle:", "both", "wheels)", "300.00", "−1.05", "298.95", "mm"];
        assert_eq!(row(&text, "Toe over 600.0 mm")[4..], length);
    }
}
