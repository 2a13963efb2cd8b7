//! What `attitude`, `cornering` and `turn` say alike.

use crate::console::data::{Record, length, length_key, number, quantity};
use serde_json::Value;
use wheelpath_geometry::{BodyPose, Holding, LengthUnit, RoadContact, Standing, Unit, WheelPosition};
use wheelpath_report::{Align, Style, Table};

/// How a wheel that does not touch the road is held off it.
#[derive(Clone, Copy)]
pub(crate) struct Hanging {
    pub wheel: WheelPosition,
    /// Metres.
    pub gap: f64,
    /// What holds it; `None` where its travel was asked for.
    pub by: Option<Holding>,
}

impl Hanging {
    /// The wheels that hang off the road.
    pub fn of(standing: &Standing) -> Vec<Self> {
        let hanging = |wheel: WheelPosition| match standing.footing(wheel) {
            RoadContact::OnRoad => None,
            RoadContact::Hanging { gap, by } => Some(Hanging { wheel, gap, by: Some(by) }),
        };
        WheelPosition::ALL.into_iter().filter_map(hanging).collect()
    }

    pub fn in_words(&self, lengths: LengthUnit) -> String {
        let by = match self.by {
            Some(Holding::Damper) => ": its damper is fully extended",
            Some(Holding::Linkage) => ": its links go no further",
            None => "",
        };
        let gap = Unit::Length.write(self.gap, lengths);
        format!("The {} wheel hangs {gap} above the road{by}.\n", self.wheel)
    }
}

/// The gap under a wheel's tyre and what holds it, for programs.
pub(crate) fn put_gap(record: &mut Record, hanging: &[Hanging], wheel: WheelPosition, lengths: LengthUnit) {
    let here = hanging.iter().find(|one| one.wheel == wheel);
    record.insert(length_key("gap", lengths), length(here.map_or(0.0, |one| one.gap), lengths));
    let word = |by: Holding| match by {
        Holding::Damper => "damper",
        Holding::Linkage => "linkage",
    };
    record.insert("held_by".into(), here.and_then(|one| one.by).map(word).into());
}

/// The body over the road, in words.
pub(crate) fn body_in_words(body: &BodyPose, pitch: f64, lengths: LengthUnit) -> String {
    let length = |metres: f64| Unit::Length.write(metres, lengths);
    let degrees = |radians: f64| Unit::Degree.write(radians, lengths);
    format!(
        "ride height front {}, rear {}; roll {}; pitch {}",
        length(body.front),
        length(body.rear),
        degrees(body.roll),
        degrees(pitch)
    )
}

/// What the signs of the body's pose mean.
pub(crate) const BODY_SIGNS: &str =
    "Against the design pose; + = body higher, left side up, nose down; steer + = to the left";

/// The body over the road, for programs.
pub(crate) fn body_record(body: &BodyPose, pitch: f64, lengths: LengthUnit) -> Value {
    let mut record = Record::new();
    record.insert(length_key("front", lengths), length(body.front, lengths));
    record.insert(length_key("rear", lengths), length(body.rear, lengths));
    record.insert("roll_deg".into(), quantity(body.roll, Unit::Degree, lengths));
    record.insert("pitch_deg".into(), quantity(pitch, Unit::Degree, lengths));
    record.into()
}

/// A table with a column a wheel.
pub(crate) struct WheelTable(Table);

impl WheelTable {
    pub fn new(title: &str) -> Self {
        let mut columns = vec![(title.to_owned(), Align::Left)];
        columns.extend(WheelPosition::ALL.map(|at| (format!("{}\n{}", at.end, at.side), Align::Right)));
        columns.push((String::new(), Align::Left));
        WheelTable(Table::with_columns(columns))
    }

    pub fn heading(&mut self, words: &str) {
        self.0.heading(words);
    }

    /// A row of values inside (metres, radians, …); not-a-number shows as "—".
    pub fn row(&mut self, name: &str, values: [f64; 4], unit: Unit, lengths: LengthUnit) {
        self.written(name, values.map(|value| unit.write_number(value, lengths)), unit.symbol(lengths));
    }

    /// Toe of each wheel as a length over the diameter that the style has, below its row in degrees.
    pub fn toe_length(&mut self, toe: [f64; 4], style: &Style) {
        let Some(over) = style.toe_over else { return };
        let name = format!("Toe over {}, one wheel", style.length(over));
        let cells = toe.map(|toe| style.toe_length(over * toe.sin()));
        self.written(&name, cells, Unit::Length.symbol(style.lengths));
    }

    pub fn written(&mut self, name: &str, cells: [String; 4], unit: &str) {
        let mut row = vec![format!("  {name}")];
        row.extend(cells);
        row.push(unit.to_owned());
        self.0.row(row);
    }

    /// The table itself; its rows are named by their first cell.
    pub fn table(self) -> Table {
        self.0
    }
}

/// A number with its key, and the unit at its end; null where it is none.
pub(crate) fn put(record: &mut Record, key: &str, value: f64) {
    record.insert(key.to_owned(), number(value));
}
