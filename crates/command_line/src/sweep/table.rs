//! A sweep for people: one table, or a chart for each reading.

use crate::arguments::sweep::{Over, SweepArguments, SweepFormat};
use crate::before_after::BeforeAfter;
use crate::beside_car::Proposed;
use crate::chart_of::{Across, along};
use crate::console::steer::{name_of, steering_wheel, unit_of};
use crate::sweep::held::{Told, held_in_words};
use crate::sweep::poses::Asked;
use wheelpath_car_file::PoseQuantity;
use wheelpath_geometry::{AxlePose, Car, Reading, Scope, Side, SweepPoint, Unit};
use wheelpath_report::{Align, Chart, Style, Table, WIDEST, fixed, wrap};

/// Columns wrap their names at this width.
const COLUMN: usize = 12;

/// Which columns of the pose there are.
struct PoseColumns {
    steered: bool,
    sides: &'static [&'static str],
}

impl PoseColumns {
    fn of(asked: &Asked<'_>, sweep: &[SweepPoint]) -> Self {
        let alike = sweep.iter().all(|p| p.pose.travel[0].to_bits() == p.pose.travel[1].to_bits());
        let (steered, travels, apart) = match (&asked.table, asked.over) {
            // A table of poses comes back with the columns that it was given.
            (Some(file), _) => {
                let sides = file.table.columns.iter().map(|column| match column.quantity {
                    PoseQuantity::Travel { side, .. } => Some(side.is_some()),
                    _ => None,
                });
                let sides: Vec<Option<bool>> = sides.collect();
                (sides.contains(&None), sides.iter().any(Option::is_some), sides.contains(&Some(true)))
            }
            (None, Over::Travel | Over::Roll) => (false, true, false),
            (None, Over::Steer) => (true, false, false),
            (None, Over::Grid) => (true, true, false),
        };
        let sides: &[&str] = match (travels, alike && !apart) {
            (false, _) => &[],
            (true, true) => &[""],
            (true, false) => &[" left", " right"],
        };
        PoseColumns { steered, sides }
    }

    fn count(&self) -> usize {
        self.sides.len() + if self.steered { 2 } else { 0 }
    }
}

/// The table of a sweep, before and after proposals where there are any.
pub(crate) fn table(
    asked: &Asked<'_>,
    cars: &BeforeAfter<Proposed>,
    sweeps: &BeforeAfter<Vec<SweepPoint>>,
    readings: &[&Reading],
    style: &Style,
) -> String {
    let arguments = asked.arguments;
    let columns = PoseColumns::of(asked, &sweeps.before);
    let both = cars.with(sweeps);
    let tables = both.map(|(one, sweep)| table_of(arguments, &one.car, sweep, &columns, readings, style));
    let table = tables.table(columns.count()).text();
    let told = Told { steer: columns.steered, travel: [!columns.sides.is_empty(); 2] };
    let held = held(arguments, cars, sweeps, told, style);
    format!("{}, {} axle{held}\n\n{table}{}", cars.names(), arguments.axle, reasons(sweeps, readings, style))
}

/// What is held and told nowhere else, of each car where they differ.
fn held(
    arguments: &SweepArguments,
    cars: &BeforeAfter<Proposed>,
    sweeps: &BeforeAfter<Vec<SweepPoint>>,
    told: Told,
    style: &Style,
) -> String {
    let words = cars.with(sweeps).map(|(one, sweep)| {
        let poses: Vec<AxlePose> = sweep.iter().map(|point| point.pose).collect();
        held_in_words((&one.car, arguments.axle), &poses, told, style.lengths)
    });
    words.words(["", "; after"])
}

/// Why readings have no value at poses that are reached.
fn reasons(sweeps: &BeforeAfter<Vec<SweepPoint>>, readings: &[&Reading], style: &Style) -> String {
    let why = |reading: &Reading, point: &SweepPoint| {
        let values = point.result.as_ref().ok()?;
        match reading.scope {
            Scope::Wheel => values.wheels.iter().find_map(|wheel| wheel.told(reading).err()),
            Scope::Axle => values.axle.told(reading).err(),
        }
    };
    let points = || sweeps.before.iter().chain(sweeps.after.iter().flatten());
    let mut said = String::new();
    for reading in readings {
        let mut reasons: Vec<&str> = points().filter_map(|point| why(reading, point)).collect();
        reasons.sort_unstable();
        reasons.dedup();
        for reason in reasons.into_iter().filter(|reason| !reason.is_empty()) {
            said += &(wrap(&format!("— {reason}: {}", style.name(reading)), WIDEST, "  ") + "\n");
        }
    }
    if said.is_empty() { said } else { format!("\n{said}") }
}

fn table_of(
    arguments: &SweepArguments,
    car: &Car,
    sweep: &[SweepPoint],
    shown: &PoseColumns,
    readings: &[&Reading],
    style: &Style,
) -> Table {
    let length_unit = Unit::Length.symbol(style.lengths);
    let input = car.axle(arguments.axle).steering.input();
    let mut columns = Vec::new();
    if shown.steered {
        let name = name_of(input).replace(' ', "\n");
        columns.push(format!("{name}\n{}", unit_of(input).symbol(style.lengths)));
        columns.push("steering\nwheel\n°".to_owned());
    }
    columns.extend(shown.sides.iter().map(|side| format!("travel{side}\n{length_unit}")));
    for reading in readings {
        let name = wrap(&style.name_on(reading, car.axle(arguments.axle).is_beam()), COLUMN, "");
        let unit = style.unit(reading);
        match reading.scope {
            Scope::Wheel => columns.extend(Side::BOTH.map(|side| format!("{name}\n{side} {unit}"))),
            Scope::Axle => columns.push(format!("{name}\n{unit}")),
        }
    }
    let mut table = Table::with_columns(columns.into_iter().map(|name| (name, Align::Right)).collect());
    for point in sweep {
        let mut cells = Vec::new();
        if shown.steered {
            cells.push(unit_of(input).write_number(point.pose.steer, style.lengths));
            cells.push(fixed(steering_wheel(car, arguments.axle, point.pose.steer), 1));
        }
        let travels = point.pose.travel.iter().take(shown.sides.len());
        cells.extend(travels.map(|&t| Unit::Length.write_number(t, style.lengths)));
        let values = point.result.as_ref().ok();
        for reading in readings {
            match reading.scope {
                Scope::Wheel => cells.extend([0, 1].map(|i| {
                    style.number(reading, values.and_then(|v| v.wheels.get(i)?.told(reading).ok()))
                })),
                Scope::Axle => {
                    cells.push(style.number(reading, values.and_then(|v| v.axle.told(reading).ok())))
                }
            }
        }
        table.row(cells);
    }
    table
}

/// A chart a reading, as characters or, of one reading, as a figure.
pub(crate) fn charts(
    arguments: &SweepArguments,
    (across, cars): (Across, &BeforeAfter<Proposed>),
    sweeps: &BeforeAfter<Vec<SweepPoint>>,
    readings: &[&Reading],
    style: &Style,
) -> String {
    let moves_as_one = cars.before.car.axle(arguments.axle).is_beam();
    let held = held(arguments, cars, sweeps, across.into(), style);
    let sweeps = sweeps.map(Vec::as_slice);
    let chart = |reading: &&Reading| {
        let chart = along(&sweeps, (arguments.axle, moves_as_one), across, reading, style);
        Chart { title: format!("{}{held}", chart.title), ..chart }
    };
    let charts = readings.iter().map(chart);
    match arguments.format {
        SweepFormat::Svg => charts.map(|chart| chart.svg()).collect(),
        _ => charts.map(|chart| chart.text()).collect::<Vec<_>>().join("\n"),
    }
}
