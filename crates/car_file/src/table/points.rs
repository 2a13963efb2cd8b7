//! Point tables: the points of a car to and from CSV.

use crate::fault::failure::LoadError;
use crate::fault::problem::{Fault, Problem};
use crate::fault::table_fault::TableFault;
use crate::read::document::check_model;
use crate::read::fields::Diagnostics;
use crate::table::table_text::{Row, sheet};
use crate::table::table_units::in_other_units;
use crate::text::place::Place;
use crate::text::point_names::{TablePoint, Whose, meaning};
use crate::text::ron_value::{Quantity, Scale};
use crate::text::units_and_axes::{Axes, FileUnits};
use nalgebra::Vector3;
use std::fmt;
use wheelpath_geometry::{Assembly, Car, End, Finding, LengthUnit, Side, Subject, WheelPosition, excerpt};

/// How to take a point table. What the table itself says (in its headings, a comment
/// `# units: mm` or `# axes: x forward, y left, z up`, a column `corner`) must not say otherwise.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct TableOptions {
    /// What its lengths are counted in.
    pub units: Option<LengthUnit>,
    /// Its axes; vehicle axes (X forward, Y left, Z up) where nothing says otherwise.
    pub axes: Option<Axes>,
    /// The axle of rows that name none.
    pub end: Option<End>,
    /// The side of rows that name none.
    pub side: Option<Side>,
    /// Whether each point's mirror image is set on the other side too.
    pub mirror: bool,
}

/// A car with the points of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct Imported {
    /// The car with its points set.
    pub car: Car,
    /// What was set, in the order of the table.
    pub set: Vec<SetPoint>,
    /// Rows whose name is no point: nothing was done with them.
    pub unknown: Vec<UnknownName>,
    /// Points that the table gives but their corner or axle has no use for: nothing was done with them.
    pub unused: Vec<(Assembly, TablePoint)>,
    /// Points that their corner or axle uses but the table does not give: they stay where they were.
    pub missing: Vec<(Assembly, TablePoint)>,
    /// How many rows give the contact point of a tyre: it follows from wheel centre, spin axis and tyre radius, and
    /// is not set.
    pub follows: usize,
    /// Points that were the mirror image of one that was set, and are not any more: the table gives one side only.
    pub one_sided: Vec<(Assembly, TablePoint)>,
    /// What is doubtful about the car, though it can be solved.
    pub warnings: Vec<Problem>,
}

/// A point that was set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SetPoint {
    /// Whose it is.
    pub assembly: Assembly,
    /// Which point it is.
    pub point: TablePoint,
    /// Where it was, metres, if anywhere.
    pub from: Option<Vector3<f64>>,
    /// Where it is, metres.
    pub to: Vector3<f64>,
}

/// A name that is no point.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct UnknownName {
    /// Its line in the table.
    pub line: usize,
    /// The name.
    pub name: String,
    /// The key of the nearest point, if one is near.
    pub nearest: Option<&'static str>,
}

impl fmt::Display for UnknownName {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "line {}: {:?} is no point", self.line, self.name)?;
        self.nearest.map_or(Ok(()), |nearest| write!(f, "; did you mean {nearest}?"))
    }
}

/// Sets the points of a car from a table with the columns name, x, y and z, and perhaps corner;
/// `file` is its name in messages.
///
/// # Errors
/// The table has faults, or the car with its points cannot be: then all that could be found.
pub fn import_points(
    car: &Car,
    table: &str,
    file: &str,
    options: &TableOptions,
) -> Result<Imported, LoadError> {
    let table = bare(table);
    let mut notes = Diagnostics::new(file, table);
    let Rows { given, unknown, follows } = rows(table, options, &mut notes);
    if !notes.problems.is_empty() {
        return Err(LoadError::Faulty(notes.problems));
    }
    let mut imported = applied(car, &given, options.mirror);
    imported.unknown = unknown.into_iter().map(|(_, name)| name).collect();
    imported.follows = follows;
    let read = (table, file, options.mirror);
    imported.warnings = checked((&imported, options.units.unwrap_or_default()), read, &given)?;
    Ok(imported)
}

/// The text without the byte-order mark that spreadsheets put in front.
pub(crate) fn bare(table: &str) -> &str {
    table.trim_start_matches('\u{feff}')
}

/// What is doubtful about a car with points of a table: its text, its name, and whether its points are mirrored.
pub(crate) fn checked(
    (imported, lengths): (&Imported, LengthUnit),
    (table, file, mirror): (&str, &str, bool),
    given: &[Given],
) -> Result<Vec<Problem>, LoadError> {
    let locate = |finding: &Finding| Place::of(table, byte_of(finding, given, mirror));
    let mut checked = check_model((&imported.car, lengths), file, locate, |_, _| false);
    let (Ok(problems) | Err(problems)) = &mut checked;
    problems.iter_mut().for_each(|problem| name_row_of(problem, given));
    // All the rest follows from it.
    if let Some(fault) = in_other_units(imported.set.iter().filter_map(|set| Some((set.from?, set.to)))) {
        let (file, place) = (file.to_owned(), Place::START);
        problems.insert(0, Problem { file, place, wheel: None, fault: Fault::Table(fault) });
    }
    checked.map_err(LoadError::Faulty)
}

/// A problem that may be of either side is of that side whose row the table has.
fn name_row_of(problem: &mut Problem, given: &[Given]) {
    let Fault::Model(finding) = &mut problem.fault else { return };
    let (Some(end), None) = (finding.end, finding.side) else { return };
    let points = points_of(finding.subject);
    let has = |side: Side| {
        let assembly = Assembly::corner(end, side);
        given.iter().any(|given| given.assembly == assembly && points.contains(&given.point))
    };
    finding.side = match Side::BOTH.map(has) {
        [true, false] => Some(Side::Left),
        [false, true] => Some(Side::Right),
        _ => None,
    };
    problem.wheel = finding.side.map(|side| WheelPosition { end, side });
}

/// The rows of a table.
pub(crate) struct Rows {
    /// Each point once.
    pub given: Vec<Given>,
    /// Names that are no points, and the byte where the row starts.
    pub unknown: Vec<(usize, UnknownName)>,
    /// How many rows give a contact point.
    pub follows: usize,
}

/// What `points` writes beside the points: it follows from them and cannot be set.
const FOLLOWS: &str = "contact_point";

/// Whether a name is that of a contact point, with or without words about its corner.
fn is_contact(name: &str) -> bool {
    name.to_lowercase().replace([' ', '-'], "_").ends_with(FOLLOWS)
}

/// Takes a table apart; what is wrong with it is noted.
pub(crate) fn rows(table: &str, options: &TableOptions, notes: &mut Diagnostics<'_>) -> Rows {
    let sheet = sheet(table, notes);
    let units = match (sheet.units, options.units) {
        (Some(said), Some(asked)) if said != asked => {
            let fault = TableFault::UnitsDiffer { first: said.symbol(), second: asked.symbol() };
            notes.add(0, Fault::Table(fault));
            None
        }
        (None, None) => {
            notes.add(0, Fault::Table(TableFault::NoUnits));
            None
        }
        (said, asked) => said.or(asked),
    };
    if let (Some(said), Some(asked)) = (sheet.axes, options.axes)
        && said != asked
    {
        let fault = TableFault::AxesDiffer { in_table: said.to_string(), asked: asked.to_string() };
        notes.add(0, Fault::Table(fault));
    }
    let axes = sheet.axes.or(options.axes).unwrap_or(Axes::VEHICLE);
    let mut given: Vec<Given> = Vec::new();
    let (mut unknown, mut follows) = (Vec::new(), 0);
    sheet.each_row(notes, |row, notes| match meaning(row.name) {
        Ok((point, whose)) => {
            let at = axes.point_to_vehicle(row.at, units.unwrap_or_default());
            given.extend(placed(row, point, whose, at, options, &given, notes));
        }
        Err(_) if is_contact(row.name) => follows += 1,
        Err(nearest) => {
            let name = UnknownName { line: row.line, name: excerpt(row.name).into_owned(), nearest };
            unknown.push((row.byte, name));
        }
    });
    Rows { given, unknown, follows }
}

/// A point of a corner or an axle, from a row.
pub(crate) struct Given {
    pub assembly: Assembly,
    pub point: TablePoint,
    at: Vector3<f64>,
    pub byte: usize,
    line: usize,
}

/// The assembly of a row's point; `None` where it is in doubt, which is noted, or repeats an earlier row.
fn placed(
    row: &Row<'_>,
    point: TablePoint,
    in_name: Whose,
    at: Vector3<f64>,
    options: &TableOptions,
    before: &[Given],
    notes: &mut Diagnostics<'_>,
) -> Option<Given> {
    let in_column = if row.corner.is_empty() { Some(Whose::default()) } else { Whose::of_words(row.corner) };
    let Some(in_column) = in_column else {
        notes.add(
            row.byte,
            Fault::Table(TableFault::UnknownCorner { found: excerpt(row.corner).into_owned() }),
        );
        return None;
    };
    let chosen = Whose { end: options.end, side: options.side };
    let whose = in_name.or(in_column).or(chosen);
    let name = excerpt(row.name).into_owned();
    // A point of the axle as a whole has no side, whatever the rows around it say.
    let (assembly, doubt) = if point.is_of_axle() {
        (whose.end.map(Assembly::Axle), TableFault::NoAxle { name })
    } else {
        (whose.wheel().map(Assembly::from), TableFault::NoCorner { name })
    };
    let Some(assembly) = assembly else {
        notes.add(row.byte, Fault::Table(doubt));
        return None;
    };
    if let Some(earlier) = before.iter().find(|given| given.assembly == assembly && given.point == point) {
        if earlier.at != at {
            let fault = TableFault::GivenTwice { assembly, name: point.label(), line: earlier.line };
            notes.add(row.byte, Fault::Table(fault));
        }
        return None;
    }
    Some(Given { assembly, point, at, byte: row.byte, line: row.line })
}

pub(crate) fn applied(car: &Car, given: &[Given], mirror: bool) -> Imported {
    let mut imported = Imported {
        car: car.clone(),
        set: Vec::new(),
        unknown: Vec::new(),
        unused: Vec::new(),
        missing: Vec::new(),
        follows: 0,
        one_sided: Vec::new(),
        warnings: Vec::new(),
    };
    for row in given {
        imported.put(row.assembly, row.point, row.at);
        let Some(side) = row.assembly.side() else { continue };
        let other = Assembly::corner(row.assembly.end(), side.other());
        // A row for the other side itself says more than a mirror image.
        if mirror && !given.iter().any(|given| given.assembly == other && given.point == row.point) {
            imported.put(other, row.point, Vector3::new(row.at.x, -row.at.y, row.at.z));
        }
    }
    for assembly in Assembly::ALL {
        if imported.set.iter().any(|set| set.assembly == assembly) {
            let is_set =
                |point: &TablePoint| imported.set.iter().any(|s| s.assembly == assembly && s.point == *point);
            let missing = points_in_use(car, assembly).into_iter().filter(|point| !is_set(point));
            imported.missing.extend(missing.map(|point| (assembly, point)).collect::<Vec<_>>());
        }
    }
    imported.one_sided = imported.set.iter().filter_map(|set| imported.without_its_twin(car, set)).collect();
    imported
}

/// Two places nearer than this are one, metres: points of a file are written to less.
const SAME: f64 = 1e-9;

impl Imported {
    /// The point on the other side, if it was the mirror image of this one in the car as it was and is not any more.
    fn without_its_twin(&self, before: &Car, set: &SetPoint) -> Option<(Assembly, TablePoint)> {
        let other = set.assembly.opposite()?;
        // What the table says of the other side is meant.
        if self.set.iter().any(|one| (one.assembly, one.point) == (other, set.point)) {
            return None;
        }
        let mirror = |at: Vector3<f64>| Vector3::new(at.x, -at.y, at.z);
        let (was, is) = (set.point.place(before, other)?, set.point.place(&self.car, other)?);
        let was_twin = (was - mirror(set.from?)).norm() <= SAME;
        (was_twin && (is - mirror(set.to)).norm() > SAME).then_some((other, set.point))
    }

    fn put(&mut self, assembly: Assembly, point: TablePoint, to: Vector3<f64>) {
        if !usable_points(&self.car, assembly).contains(&point) {
            self.unused.push((assembly, point));
            return;
        }
        let from = match (point, assembly.wheel()) {
            (TablePoint::WheelCentre, Some(wheel)) => {
                Some(std::mem::replace(&mut self.car.corner_mut(wheel).wheel.centre, to))
            }
            (TablePoint::WheelCentre, None) => return,
            (TablePoint::Hardpoint(hardpoint), _) => {
                let hardpoints = assembly.hardpoints_mut(&mut self.car);
                let from = hardpoints.get(hardpoint);
                hardpoints.set(hardpoint, to);
                from
            }
        };
        self.set.push(SetPoint { assembly, point, from, to });
    }
}

/// The points for which the assembly has a use.
fn usable_points(car: &Car, assembly: Assembly) -> Vec<TablePoint> {
    let needs = assembly.needs(car.axle(assembly.end()));
    let centre = assembly.side().map(|_| TablePoint::WheelCentre);
    centre.into_iter().chain(needs.into_iter().map(|need| TablePoint::Hardpoint(need.hardpoint))).collect()
}

/// The points that the assembly uses: not those of links that it might have and has not.
fn points_in_use(car: &Car, assembly: Assembly) -> Vec<TablePoint> {
    let needs = assembly.needs(car.axle(assembly.end()));
    let must = |point: &TablePoint| match *point {
        TablePoint::WheelCentre => true,
        TablePoint::Hardpoint(hardpoint) => {
            assembly.hardpoints(car).get(hardpoint).is_some()
                || needs.iter().any(|need| need.hardpoint == hardpoint && need.must)
        }
    };
    usable_points(car, assembly).into_iter().filter(must).collect()
}

/// The points of a table that tell of this: the point itself, or the ends of a link.
fn points_of(subject: Subject) -> Vec<TablePoint> {
    match subject {
        Subject::Hardpoint(hardpoint) => vec![TablePoint::Hardpoint(hardpoint)],
        Subject::Link(link) => {
            let (inner, outer) = link.ends();
            vec![TablePoint::Hardpoint(outer), TablePoint::Hardpoint(inner)]
        }
        Subject::Wheel(_) => vec![TablePoint::WheelCentre],
        _ => Vec::new(),
    }
}

/// The row a finding is about: its point's, or an end of its link's; else the start. A row speaks for the other side
/// where it is mirrored, or where the finding has no side.
fn byte_of(finding: &Finding, given: &[Given], mirror: bool) -> usize {
    let points = points_of(finding.subject);
    let of = |point: &TablePoint, side: Option<Side>| {
        given
            .iter()
            .find(|g| Some(g.assembly.end()) == finding.end && g.assembly.side() == side && g.point == *point)
    };
    let here = points.iter().find_map(|point| of(point, finding.side));
    let mirrored = || points.iter().find_map(|point| of(point, finding.side.map(Side::other)));
    let either = || {
        let sides = Side::BOTH.into_iter().filter(|_| finding.side.is_none());
        sides
            .flat_map(|side| points.iter().map(move |point| (point, side)))
            .find_map(|(p, side)| of(p, Some(side)))
    };
    let mirrored = || if mirror { mirrored() } else { None };
    here.or_else(mirrored).or_else(either).map_or(0, |given| given.byte)
}

/// All points of a car as CSV: corner (or front, rear for an axle as a whole), name, and x, y, z in these
/// units, which stand in the headings.
#[must_use]
pub fn points_table(car: &Car, units: LengthUnit, axes: Axes) -> String {
    let mut table = String::new();
    if axes != Axes::VEHICLE {
        table.push_str(&format!("# axes: {axes}\n"));
    }
    let unit = units.symbol();
    table.push_str(&format!("corner,name,x_{unit},y_{unit},z_{unit}\n"));
    for assembly in Assembly::ALL {
        let centre = assembly.wheel().map(|wheel| (TablePoint::WheelCentre, car.corner(wheel).wheel.centre));
        let hardpoints =
            assembly.hardpoints(car).iter().map(|(hardpoint, at)| (TablePoint::Hardpoint(hardpoint), at));
        for (point, at) in centre.into_iter().chain(hardpoints) {
            let [x, y, z] = axes
                .from_vehicle(&at)
                .map(|core| Quantity { core, scale: Scale::Length(units, 1.0) }.written());
            table.push_str(&format!("{},{},{x},{y},{z}\n", assembly.key(), point.key()));
        }
    }
    table
}
