//! Tables of poses as CSV: a pose a row, travels and steering in columns by their headings.

use crate::fault::failure::LoadError;
use crate::fault::pose_fault::PoseFault;
use crate::fault::problem::Problem;
use crate::table::points::bare;
use crate::text::nearest::nearest;
use crate::text::place::Place;
use wheelpath_geometry::{End, INCH, Side, WheelPosition, excerpt};

/// What a column of a table of poses gives.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PoseQuantity {
    /// Travel, metres, of the wheels of that axle and that side; of all of them where neither is named.
    Travel {
        /// The axle, or both.
        end: Option<End>,
        /// The side, or both.
        side: Option<Side>,
    },
    /// Travel of the rack, metres.
    Rack,
    /// Turn of the pitman arm, radians.
    Pitman,
    /// Steering-wheel angle, radians.
    SteeringWheel,
}

impl PoseQuantity {
    /// Whether it is the travel of this wheel.
    #[must_use]
    pub fn moves(self, wheel: WheelPosition) -> bool {
        match self {
            PoseQuantity::Travel { end, side } => {
                end.is_none_or(|end| end == wheel.end) && side.is_none_or(|side| side == wheel.side)
            }
            _ => false,
        }
    }

    fn steers(self) -> bool {
        !matches!(self, PoseQuantity::Travel { .. })
    }

    fn meets(self, other: PoseQuantity) -> bool {
        (self.steers() && other.steers())
            || WheelPosition::ALL.into_iter().any(|wheel| self.moves(wheel) && other.moves(wheel))
    }
}

/// A column: what it gives, and how it is headed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PoseColumn {
    /// What it gives.
    pub quantity: PoseQuantity,
    /// Its heading as it stands in the file.
    pub heading: String,
}

/// A table of poses, in metres and radians.
#[derive(Clone, Debug, PartialEq)]
pub struct PoseTable {
    /// Its columns in their order.
    pub columns: Vec<PoseColumn>,
    /// The numbers row by row, as many a row as there are columns.
    numbers: Vec<f64>,
}

impl PoseTable {
    /// The rows in their order, a number for each column.
    pub fn rows(&self) -> impl ExactSizeIterator<Item = &[f64]> {
        self.numbers.chunks_exact(self.columns.len().max(1))
    }
}

/// Headings by which a nearest one is found.
const KNOWN: [&str; 18] = [
    "travel_mm",
    "left_travel_mm",
    "right_travel_mm",
    "front_travel_mm",
    "rear_travel_mm",
    "front_left_travel_mm",
    "front_right_travel_mm",
    "rear_left_travel_mm",
    "rear_right_travel_mm",
    "travel_in",
    "left_travel_in",
    "right_travel_in",
    "front_travel_in",
    "rear_travel_in",
    "rack_mm",
    "rack_in",
    "pitman_deg",
    "steering_wheel_deg",
];

/// Faults that are told of at once; a table that is wrong throughout is wrong in one way.
const MOST_FAULTS: usize = 20;

/// How a number of a column becomes metres or radians.
#[derive(Clone, Copy)]
enum Scale {
    Millimetres,
    Inches,
    Degrees,
}

impl Scale {
    fn core(self, value: f64) -> f64 {
        match self {
            // Dividing gives the double nearest to the decimal.
            Scale::Millimetres => value / 1e3,
            Scale::Inches => value * INCH,
            Scale::Degrees => value.to_radians(),
        }
    }
}

fn meaning(heading: &str) -> Option<(PoseQuantity, Scale)> {
    let heading = heading.to_lowercase();
    match heading.as_str() {
        "pitman_deg" => return Some((PoseQuantity::Pitman, Scale::Degrees)),
        "steering_wheel_deg" => return Some((PoseQuantity::SteeringWheel, Scale::Degrees)),
        _ => {}
    }
    let (name, scale) = match heading.rsplit_once('_')? {
        (name, "mm") => (name, Scale::Millimetres),
        (name, "in") => (name, Scale::Inches),
        _ => return None,
    };
    if name == "rack" {
        return Some((PoseQuantity::Rack, scale));
    }
    let whose = match name {
        "travel" => "",
        _ => name.strip_suffix("_travel")?,
    };
    let mut of = (None, None);
    for word in whose.split('_').filter(|_| !whose.is_empty()) {
        let end = End::BOTH.into_iter().find(|end| end.name() == word);
        let side = Side::BOTH.into_iter().find(|side| side.name() == word);
        match (end, side) {
            (Some(end), _) if of == (None, None) => of.0 = Some(end),
            (_, Some(side)) if of.1.is_none() => of.1 = Some(side),
            _ => return None,
        }
    }
    let (end, side) = of;
    Some((PoseQuantity::Travel { end, side }, scale))
}

/// A cell without blanks and quotation marks, and where in its line it starts, in characters from 1.
struct Cell<'t> {
    text: &'t str,
    column: usize,
}

/// The cells of a line; a separator between quotation marks is none.
fn cells(line: &str, separator: char) -> Vec<Cell<'_>> {
    let mut cells = Vec::new();
    let (mut start, mut column, mut quoted) = (0, 1, false);
    let mut here = 0;
    let mut take = |from: usize, to: usize, column: usize| {
        let whole = line.get(from..to).unwrap_or_default();
        let blanks = whole.chars().take_while(|c| c.is_whitespace()).count();
        cells.push(Cell { text: whole.trim().trim_matches('"').trim(), column: column + blanks });
    };
    for (at, c) in line.char_indices() {
        here += 1;
        match c {
            '"' => quoted = !quoted,
            _ if c == separator && !quoted => {
                take(start, at, column);
                start = at + c.len_utf8();
                column = here + 1;
            }
            _ => {}
        }
    }
    take(start, line.len(), column);
    cells
}

/// What is wrong with a table.
struct Faults<'t> {
    file: &'t str,
    all: Vec<Problem>,
}

impl Faults<'_> {
    fn add(&mut self, line: usize, column: usize, fault: PoseFault) {
        let (file, place) = (self.file.to_owned(), Place { line, column });
        self.all.push(Problem { file, place, wheel: None, fault: fault.into() });
    }

    fn end(self, table: PoseTable) -> Result<PoseTable, LoadError> {
        if self.all.is_empty() { Ok(table) } else { Err(LoadError::Faulty(self.all)) }
    }
}

/// The cells of a line up to the last that is not empty: spreadsheets put separators at the end of rows.
fn used(cells: &[Cell<'_>]) -> usize {
    cells.len() - cells.iter().rev().take_while(|cell| cell.text.is_empty()).count()
}

/// Reads a table of poses; `file` is its name in messages.
///
/// # Errors
/// All faults of the table, with line and column; the first twenty where there are more.
pub fn parse_poses(text: &str, file: &str) -> Result<PoseTable, LoadError> {
    let mut faults = Faults { file, all: Vec::new() };
    let mut table = PoseTable { columns: Vec::new(), numbers: Vec::new() };
    let mut lines = (1..)
        .zip(bare(text).lines())
        .filter(|(_, line)| !line.trim().is_empty() && !line.trim_start().starts_with('#'));
    let Some((head_line, head)) = lines.next() else {
        faults.add(1, 1, PoseFault::Empty);
        return faults.end(table);
    };
    let separator = [',', ';', '\t'].into_iter().max_by_key(|one| (head.matches(*one).count(), *one == ','));
    let separator = separator.unwrap_or(',');
    let mut scales = Vec::new();
    let headings = cells(head, separator);
    for cell in headings.iter().take(used(&headings)) {
        let heading = cell.text.to_owned();
        let Some((quantity, scale)) = meaning(&heading) else {
            let nearest = nearest(&heading, KNOWN);
            faults.add(
                head_line,
                cell.column,
                PoseFault::UnknownColumn { found: excerpt(&heading).into_owned(), nearest },
            );
            continue;
        };
        if let Some(first) = table.columns.iter().find(|one| one.quantity.meets(quantity)) {
            let first = first.heading.clone();
            faults.add(head_line, cell.column, PoseFault::SameTwice { first, second: heading.clone() });
        }
        table.columns.push(PoseColumn { quantity, heading });
        scales.push(scale);
    }
    if !faults.all.is_empty() {
        return faults.end(table);
    }
    for (line, row) in lines {
        let cells = cells(row, separator);
        let (filled, columns) = (used(&cells), table.columns.len());
        if let Some(beyond) = cells.get(columns).filter(|_| filled > columns) {
            faults.add(line, beyond.column, PoseFault::RowTooLong { cells: filled, columns });
        } else if filled > 0 {
            let end = row.trim_end().chars().count() + 1;
            for (place, (column, scale)) in table.columns.iter().zip(&scales).enumerate() {
                let cell = cells.get(place);
                let at = cell.map_or(end, |cell| cell.column);
                match number(cell.map_or("", |cell| cell.text), &column.heading) {
                    Ok(value) => table.numbers.push(scale.core(value)),
                    Err(fault) => faults.add(line, at, fault),
                }
            }
        }
        if faults.all.len() >= MOST_FAULTS {
            break;
        }
    }
    if faults.all.is_empty() && table.numbers.is_empty() {
        faults.add(head_line, 1, PoseFault::NoRows);
    }
    faults.end(table)
}

fn number(cell: &str, heading: &str) -> Result<f64, PoseFault> {
    let (column, found) = (excerpt(heading).into_owned(), excerpt(cell).into_owned());
    if cell.is_empty() {
        return Err(PoseFault::NoCell { column });
    }
    if cell.contains(',') {
        return Err(PoseFault::DecimalComma { column, found });
    }
    match cell.replace('\u{2212}', "-").parse::<f64>() {
        Ok(value) if value.is_finite() => Ok(value),
        _ => Err(PoseFault::NotANumber { column, found }),
    }
}

#[cfg(test)]
mod tests {
    use super::{PoseQuantity, parse_poses};
    use crate::fault::failure::LoadError;
    use wheelpath_geometry::{End, Side};

    #[test]
    fn columns_stand_in_any_order_and_either_unit() {
        let text = "\u{feff}# a lap\n\"rack_mm\"; right_travel_in; Left_Travel_mm;\n\n-20; 1; \u{2212}3.5;;\n0;0;1e1\n";
        let table = parse_poses(text, "poses.csv").unwrap();
        let of = |side| PoseQuantity::Travel { end: None, side: Some(side) };
        let quantities: Vec<_> = table.columns.iter().map(|column| column.quantity).collect();
        assert_eq!(quantities, [PoseQuantity::Rack, of(Side::Right), of(Side::Left)]);
        let rows: Vec<&[f64]> = table.rows().collect();
        assert_eq!(rows, [[-0.02, 0.0254, -0.0035], [0.0, 0.0, 0.01]]);
        let one = parse_poses("front_left_travel_mm,steering_wheel_deg\n1,180\n", "x").unwrap();
        let front_left = PoseQuantity::Travel { end: Some(End::Front), side: Some(Side::Left) };
        assert_eq!(one.columns[0].quantity, front_left);
        assert!((one.rows().next().unwrap()[1] - std::f64::consts::PI).abs() < 1e-15);
    }

    #[track_caller]
    fn check(text: &str, expected: &[&str]) {
        let Err(LoadError::Faulty(problems)) = parse_poses(text, "poses.csv") else {
            panic!("{text} passes")
        };
        let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
        assert_eq!(said.len(), expected.len(), "{said:?}");
        for (said, expected) in said.iter().zip(expected) {
            assert!(said.contains(expected), "{said} does not say {expected}");
        }
        assert!(problems.iter().all(|problem| !problem.hint().is_empty()));
    }

    #[test]
    fn faults_have_line_and_column() {
        check("", &["poses.csv:1:1: the table of poses is empty"]);
        check("travel_mm\n", &["poses.csv:1:1: the table has headings but no poses"]);
        check(
            "travel_mm, rak_mm,wind\n1,2,3\n",
            &[
                "poses.csv:1:12: there is no column \"rak_mm\" in a table of poses; did you mean rack_mm?",
                "1:19: ",
            ],
        );
        check(
            "travel_mm,left_travel_mm\n1,2\n",
            &["poses.csv:1:11: the columns travel_mm and left_travel_mm"],
        );
        check("rack_mm,pitman_deg\n1,2\n", &["1:9: the columns rack_mm and pitman_deg"]);
        check(
            "travel_mm,rack_mm\n1,2\n3,4,5\n",
            &["poses.csv:3:5: the row has 3 cells, but there are 2 columns"],
        );
        check(
            "travel_mm;rack_mm\n1;2\n3;4,5\n",
            &["poses.csv:3:3: rack_mm is \"4,5\", with a decimal comma"],
        );
        check("travel_mm,rack_mm\n1,\"2,5\"\n", &["2:3: rack_mm is \"2,5\", with a decimal comma"]);
        check(
            "travel_mm,rack_mm\n1\nten,NaN\n",
            &["2:2: the row has no rack_mm", "3:1: travel_mm is", "3:5: "],
        );
        check(&format!("travel_mm\n{}", "x\n".repeat(1000)), &["not a number"; 20]);
    }

    #[test]
    fn odd_text_is_never_a_panic() {
        for text in
            ["\"", "é;ü\n\"", "travel_mm\n\"1", ",,,\n,,,", "travel_mm\r\n1\r\n", "#", "travel_mm\n\u{2028}"]
        {
            let _ = parse_poses(text, "x");
        }
    }
}
