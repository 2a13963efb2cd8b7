//! A sweep for people: one table, or a chart for each reading.

use crate::before_after::BeforeAfter;
use crate::beside_car::Proposed;
use crate::chart_of::{Across, along};
use crate::steer::{name_of, steering_wheel, unit_of};
use crate::sweep_arguments::{Over, SweepArguments, SweepFormat};
use crate::sweep_poses::Asked;
use wheelpath_geometry::{Car, Reading, Scope, Side, SweepPoint, Unit};
use wheelpath_report::{Align, Style, Table, WIDEST, fixed, wrap};

/// Columns wrap their names at this width.
const COLUMN: usize = 12;

/// Which columns of the pose there are.
struct PoseColumns {
    steered: bool,
    sides: &'static [&'static str],
}

impl PoseColumns {
    fn of(asked: &Asked<'_>, sweep: &[SweepPoint]) -> Self {
        let changes = |of: &dyn Fn(&SweepPoint) -> f64| {
            sweep.windows(2).any(|pair| of(&pair[0]).to_bits() != of(&pair[1]).to_bits())
        };
        let tabled = asked.table.is_some();
        let alike = sweep.iter().all(|p| p.pose.travel[0].to_bits() == p.pose.travel[1].to_bits());
        let steered = match asked.over {
            _ if tabled => changes(&|p| p.pose.steer),
            Over::Travel | Over::Roll => false,
            Over::Steer | Over::Grid => true,
        };
        let varied = match asked.over {
            _ if tabled => !steered || changes(&|p| p.pose.travel[0]) || changes(&|p| p.pose.travel[1]),
            over => over != Over::Steer,
        };
        let sides: &[&str] = match (varied, alike) {
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
    format!("{}, {} axle\n\n{table}{}", cars.names(), arguments.axle, reasons(sweeps, readings, style))
}

/// Why readings have no value at poses that are reached.
fn reasons(sweeps: &BeforeAfter<Vec<SweepPoint>>, readings: &[&Reading], style: &Style) -> String {
    let why = |reading: &Reading, point: &SweepPoint| {
        let values = point.result.as_ref().ok()?;
        match reading.scope {
            Scope::Wheel => {
                values.wheels.iter().any(|wheel| wheel.get(reading).is_none()).then_some(reading.absent)
            }
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
                Scope::Wheel => cells.extend(
                    [0, 1].map(|i| style.number(reading, values.and_then(|v| v.wheels.get(i)?.get(reading)))),
                ),
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
    (across, moves_as_one): (Across, bool),
    sweeps: &BeforeAfter<Vec<SweepPoint>>,
    readings: &[&Reading],
    style: &Style,
) -> String {
    let sweeps = sweeps.map(Vec::as_slice);
    let chart = |reading: &&Reading| along(&sweeps, (arguments.axle, moves_as_one), across, reading, style);
    let charts = readings.iter().map(chart);
    match arguments.format {
        SweepFormat::Svg => charts.map(|chart| chart.svg()).collect(),
        _ => charts.map(|chart| chart.text()).collect::<Vec<_>>().join("\n"),
    }
}
