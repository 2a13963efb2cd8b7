//! All readings at one pose.

pub(crate) mod record;

use crate::arguments::subcommands::{Format, ReadingsArguments};
use crate::before_after::BeforeAfter;
use crate::beside_car::Proposed;
use crate::console::failure::Failure;
use crate::console::pose::{Solved, pose_in_words};
use crate::console::record::{csv, json};
use crate::console::streams::Console;
use crate::opened_car::ready;
use crate::readings::record::{ReadingsOutput, ReadingsRecord, ReadingsRow};
use wheelpath_geometry::{Car, End, Side, SolvedCar};
use wheelpath_report::{AxleColumns, Rows, Style, axle_table, axle_table_before_after, folded};

pub(crate) fn run(arguments: &ReadingsArguments, io: &mut Console) -> Result<u8, Failure> {
    let format = arguments.output.format;
    if arguments.toe.given() && format != Format::Table {
        return Err(toe_in_tables_only());
    }
    let (at_hand, solver) = ready(&arguments.car, io)?;
    let cars = arguments.proposal.cars(&at_hand, solver, io)?;
    let solved = cars.each(io, |one, io| arguments.pose.solve(&one.car, &one.solver, io))?;
    let both = cars.with(&solved);
    let lengths = arguments.output.units.lengths(io);
    let text = match format {
        Format::Table => {
            let rows = if arguments.all { Rows::All } else { Rows::First };
            folded(&tables_of(&cars, &solved, &arguments.toe.style(lengths), rows))
        }
        Format::Json => {
            let both = both.map(|(one, solved)| ReadingsRecord::of(&one.car, solved));
            json(&ReadingsOutput { names: cars.car_names(), cars: both }, lengths)?
        }
        Format::Csv => {
            let rows = solved.map(|solved| ReadingsRow::all_of(&solved.car));
            csv::<ReadingsOutput>(&rows.paired(&["place"], false, lengths)?, lengths)?
        }
    };
    io.print(&text)?;
    Ok(0)
}

pub(crate) fn toe_in_tables_only() -> Failure {
    Failure::wrong_use(
        "--toe-over-mm is for tables and charts; json and csv have toe as an angle, in toe_deg",
        "leave it out, or ask for a table",
    )
}

/// A table an axle, for people.
pub(crate) fn tables(car: &Car, solved: &SolvedCar, style: &Style, rows: Rows) -> String {
    let heading = format!("{}: {}", car.name, pose_in_words(car, &solved.pose, style.lengths));
    titled(&heading, &BeforeAfter { before: solved, after: None }, &with_toe(style, car), rows)
}

/// A table an axle, before and after proposals where there are any.
fn tables_of(
    cars: &BeforeAfter<Proposed>,
    solved: &BeforeAfter<Solved>,
    style: &Style,
    rows: Rows,
) -> String {
    let pose = cars.with(solved).map(|(one, at)| pose_in_words(&one.car, &at.car.pose, style.lengths));
    let heading = format!("{}: {}", cars.names(), pose.words(["before: ", "\nafter: "]));
    titled(&heading, &solved.map(|one| &one.car), &with_toe(style, &cars.before.car), rows)
}

/// With toe as a length too, over the tyre's diameter where no other is given.
fn with_toe(style: &Style, car: &Car) -> Style {
    style.with_toe_over(car.tyre_diameter())
}

fn titled(heading: &str, solved: &BeforeAfter<&SolvedCar>, style: &Style, rows: Rows) -> String {
    let mut text = format!("{heading}\n");
    for end in End::BOTH {
        let title = match end {
            End::Front => "Front axle",
            End::Rear => "Rear axle",
        };
        let values = solved.map(|car| {
            let axle = car.axle(end);
            (Side::BOTH.map(|side| axle.wheel_values(side)), axle.axle_values(), axle.motion.context.beam)
        });
        let columns = values.map(|([left, right], axle, beam)| AxleColumns {
            wheels: [left, right],
            axle,
            moves_as_one: *beam,
        });
        text.push('\n');
        text += &match &columns.after {
            None => axle_table(title, &columns.before, style, rows),
            Some(after) => axle_table_before_after(title, [&columns.before, after], style, rows),
        };
    }
    if rows == Rows::First {
        text += "\n`wheelpath readings CAR --all` shows the other readings too\n";
    }
    text
}
