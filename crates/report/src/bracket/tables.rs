//! The first page: places, moves, distances and tolerances in numbers.

mod flow;

use super::spot::out_of_plane;
use super::{BracketSheet, FLAT, Tolerance, decimals, short};
use crate::drawing::Page;
use crate::plate::Plate;
use flow::{Column, Flow, Grid};
use nalgebra::Vector3;
use wheelpath_geometry::{Unit, fixed};

/// The one caution on the sheet.
const CAUTION: &str = "Geometry only. Strength, welds and edge distance are for a qualified person to \
                       judge; series rules apply.";
/// Under the distances, where some differ.
const STRAIGHT: &str = "Straight: from centre to centre through the air, with what one stands out of the plane over \
                        the other.";
/// All pairs of more moved holes than this would fill pages.
const PAIRED: usize = 6;

/// The pages with the tables.
pub(super) fn pages(sheet: &BracketSheet) -> Vec<Page> {
    let mut flow = Flow::new(sheet.paper.upright());
    flow.words(&short(&sheet.part), 6.0, true);
    flow.words(&sheet.under_title(), 3.2, false);
    flow.gap(2.0);
    flow.framed(CAUTION);
    flow.gap(2.0);
    for line in plate_words(sheet) {
        flow.words(&line, 3.0, false);
    }
    let plate = &sheet.plate;
    let unit = sheet.unit();
    places(sheet, &format!("Centres in the car's axes, {unit}"), ["X", "Y", "Z"], &|at| *at).draw(&mut flow);
    moves(sheet).draw(&mut flow);
    flow.gap(1.5);
    for hole in &sheet.holes {
        if let Some(tolerance) = &hole.tolerance {
            let headline = tolerance.headline(|length| sheet.at_most_with_unit(length));
            flow.words(&format!("{}: {headline}.", short(&hole.name)), 4.6, true);
            for line in tolerance.said(|length| sheet.at_most_with_unit(length)) {
                flow.words(&format!("{}.", short(&line)), 2.9, false);
            }
            flow.gap(1.0);
        }
    }
    for hole in &sheet.holes {
        let step = plate.along(&(hole.new - hole.old));
        if let Some(words) = out_of_plane(sheet, step.z) {
            flow.words(&format!("{}: {}.", short(&hole.name), lower(&words)), 3.2, true);
        }
    }
    for cut in sheet.cuts().into_iter().chain(sheet.doubts()) {
        flow.words(&format!("{cut}."), 3.2, true);
    }
    let (distances, level) = distances(sheet);
    distances.draw(&mut flow);
    if !level {
        flow.gap(1.0);
        flow.words(STRAIGHT, 2.9, false);
    }
    let title = format!("Centres in the plate's axes, {unit}; out is how far off the plane, toward you");
    places(sheet, &title, ["across", "up", "out"], &|at| plate.place(at)).draw(&mut flow);
    flow.pages()
}

fn lower(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or(String::new(), |first| first.to_lowercase().chain(letters).collect())
}

/// Which way the plate's axes run and where they start.
fn plate_words(sheet: &BracketSheet) -> Vec<String> {
    let (plate, lengths) = (&sheet.plate, sheet.lengths);
    let vector = |v: &Vector3<f64>, decimals: usize, factor: f64| {
        let numbers: Vec<String> = v.iter().map(|x| fixed(x * factor, decimals)).collect();
        format!("({})", numbers.join(", "))
    };
    let [u, v, normal] = plate.axes();
    vec![
        format!(
            "The plate is seen from {}: across runs {}, up runs {}, out toward you.",
            plate.seen_from(),
            Plate::way(&u),
            Plate::way(&v)
        ),
        format!(
            "In the car's axes, X forward, Y left, Z up: across {}, up {}, out {}.",
            vector(&u, 4, 1.0),
            vector(&v, 4, 1.0),
            vector(&normal, 4, 1.0)
        ),
        format!(
            "Across, up and out are 0 at {} {}.",
            vector(&plate.origin(), decimals(lengths), Unit::Length.shown(1.0, lengths)),
            sheet.unit()
        ),
    ]
}

/// Where every hole was and goes, in three coordinates.
fn places(
    sheet: &BracketSheet,
    title: &str,
    axes: [&str; 3],
    seen: &dyn Fn(&Vector3<f64>) -> Vector3<f64>,
) -> Grid {
    let mut columns = vec![Column::words("Hole", 49.0), Column::number("Ø", 15.0)];
    for when in ["old", "new"] {
        columns.extend(axes.map(|axis| Column::number(&format!("{when} {axis}"), 21.0)));
    }
    let mut grid = Grid::new(title, columns);
    let diameter = |diameter: Option<f64>| diameter.map_or("—".to_owned(), |metres| sheet.length(metres));
    let three = |at: &Vector3<f64>| seen(at).iter().map(|x| sheet.length(*x)).collect::<Vec<_>>();
    for hole in &sheet.holes {
        let mut row = vec![short(&hole.name), diameter(hole.diameter)];
        row.extend(three(&hole.old));
        row.extend(three(&hole.new));
        grid.row(row);
    }
    for hole in &sheet.references {
        let mut row = vec![short(&hole.name), diameter(hole.diameter)];
        row.extend(three(&hole.at));
        row.extend(["stays".to_owned(), String::new(), String::new()]);
        grid.row(row);
    }
    grid
}

/// The moves, and how exactly they must be met.
fn moves(sheet: &BracketSheet) -> Grid {
    let columns = vec![
        Column::words("Hole", 49.0),
        Column::number("across", 17.0),
        Column::number("up", 17.0),
        Column::number("out", 17.0),
        Column::number("in the plane", 21.0),
        Column::number("place within", 21.0),
        Column::words("decided by", 48.0),
    ];
    let mut grid =
        Grid::new(&format!("Moves from old to new along the plate's axes, {}", sheet.unit()), columns);
    for hole in &sheet.holes {
        let step = sheet.plate.along(&(hole.new - hole.old));
        let (within, by) = hole.tolerance.as_ref().map(Tolerance::narrower).map_or(
            ("—".to_owned(), "not given".to_owned()),
            |placing| {
                let by = placing.decided_by.as_deref().map_or("no limit: or more".to_owned(), short);
                (sheet.at_most(placing.within), by)
            },
        );
        grid.row(vec![
            short(&hole.name),
            sheet.signed(step.x),
            sheet.signed(step.y),
            sheet.signed(step.z),
            sheet.length(step.x.hypot(step.y)),
            within,
            by,
        ]);
    }
    grid
}

/// From each moved hole to each that is measured from, then between moved ones; and whether all centres
/// stand level.
fn distances(sheet: &BracketSheet) -> (Grid, bool) {
    let references = sheet.references.iter().map(|hole| (&hole.name, hole.at, hole.at)).collect::<Vec<_>>();
    let mut pairs = Vec::new();
    for hole in &sheet.holes {
        for (name, old, new) in &references {
            pairs.push((&hole.name, *name, hole.old - old, hole.new - new));
        }
    }
    if sheet.holes.len() <= PAIRED {
        for (index, one) in sheet.holes.iter().enumerate() {
            for other in sheet.holes.iter().skip(index + 1) {
                pairs.push((&one.name, &other.name, one.old - other.old, one.new - other.new));
            }
        }
    }
    let in_plane = |step: &Vector3<f64>| {
        let along = sheet.plate.along(step);
        along.x.hypot(along.y)
    };
    // Where the centres stand at different heights, a rule laid from one to the other shows more.
    let level = pairs
        .iter()
        .all(|(_, _, old, new)| [old, new].iter().all(|step| (step.norm() - in_plane(step)).abs() < FLAT));
    let mut columns = vec![
        Column::words("From", 49.0),
        Column::words("to", if level { 66.0 } else { 49.0 }),
        Column::number("old", 25.0),
        Column::number("new", 25.0),
        Column::number("change", 25.0),
    ];
    if !level {
        columns[2..].iter_mut().for_each(|column| column.width = 16.0);
        columns.push(Column::number("old, straight", 22.0));
        columns.push(Column::number("new, straight", 23.0));
    }
    let mut grid = Grid::new(&format!("Distances between centres in the plane, {}", sheet.unit()), columns);
    for (from, to, old, new) in &pairs {
        let (before, after) = (in_plane(old), in_plane(new));
        let mut row = vec![
            short(from),
            short(to),
            sheet.length(before),
            sheet.length(after),
            sheet.signed(after - before),
        ];
        if !level {
            row.extend([sheet.length(old.norm()), sheet.length(new.norm())]);
        }
        grid.row(row);
    }
    (grid, level)
}
