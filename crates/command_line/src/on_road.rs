//! What `attitude`, `cornering` and `turn` say alike.

use crate::console::quantity::{Degree, Length};
use crate::console::record::record;
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

record! {
    /// How a wheel touches the road, or hangs off it, for programs.
    pub(crate) struct GapRecord {
        /// Gap between tyre and road; 0 where it touches.
        gap: Length,
        /// What holds a hanging wheel off the road: damper or linkage; null where it touches or its travel was asked for.
        held_by: Option<&'static str>,
    }
}

impl GapRecord {
    pub fn of(hanging: &[Hanging], wheel: WheelPosition) -> Self {
        let here = hanging.iter().find(|one| one.wheel == wheel);
        let word = |by: Holding| match by {
            Holding::Damper => "damper",
            Holding::Linkage => "linkage",
        };
        GapRecord {
            gap: Length(here.map_or(0.0, |one| one.gap)),
            held_by: here.and_then(|one| one.by).map(word),
        }
    }
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

record! {
    /// The body over the road, for programs.
    pub(crate) struct BodyRecord {
        /// Ride-height change at the front axle, + body higher.
        front: Length,
        /// Ride-height change at the rear axle, + body higher.
        rear: Length,
        /// Roll of the body, + left side up.
        roll: Degree,
        /// Pitch of the body, + nose down.
        pitch: Degree,
    }
}

impl BodyRecord {
    pub fn of(body: &BodyPose, pitch: f64) -> Self {
        BodyRecord {
            front: Length(body.front),
            rear: Length(body.rear),
            roll: Degree(body.roll),
            pitch: Degree(pitch),
        }
    }
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
