//! The sheet by which a bracket is drilled: where each moved pickup was, where it goes, how exactly.

pub(crate) mod asked;
pub(crate) mod record;

use crate::arguments::subcommands::{BracketArguments, Format};
use crate::beside_car::{Proposed, limits as limits_of, made, proposal};
use crate::bracket::asked::{asked, no_sheet};
use crate::bracket::record::{BracketOutput, HoleRow};
use crate::console::failure::{Complaint, Failure};
use crate::console::record::{csv, json};
use crate::console::streams::Console;
use crate::opened_car::ready;
use std::path::{Path, PathBuf};
use wheelpath_car_file::put_all;
use wheelpath_geometry::{Assembly, LengthUnit, Unit, shown_name};
use wheelpath_report::{Align, BracketSheet, NoSheet, Plate, Table, folded, moved_points, rounded_down};

pub(crate) fn run(arguments: &BracketArguments, io: &mut Console) -> Result<u8, Failure> {
    let (at_hand, solver) = ready(&arguments.car, io)?;
    let before = &at_hand.loaded.car;
    let (name, after, moved) = match &arguments.proposal {
        Some(word) => {
            let file = proposal(&at_hand, word, io)?;
            (
                file.proposal.name.clone(),
                made(before, &file.proposal, io)?,
                Some(moved_points(&file.proposal)),
            )
        }
        // Then a bracket is named, and its holes are where they are.
        None => {
            let (name, car) = ("as it is".to_owned(), before.clone());
            (name.clone(), Proposed { name, car, solver }, None)
        }
    };
    let lengths = arguments.output.units.lengths(io);
    let limits = limits_of(&at_hand, arguments.limits.as_deref())?;
    let holes = asked(arguments, &at_hand, &after.car, moved.as_deref())?;
    let (assembly, points) = (holes.assembly, holes.points.clone());
    let date = arguments.date.clone().unwrap_or_default();
    let made = BracketSheet::of(holes, before, (&after.car, &after.solver), &name, (&limits, lengths));
    let sheet = BracketSheet { date, paper: arguments.paper, ..made };
    let mut written = Vec::new();
    if let Some(path) = &arguments.file {
        written = write(&sheet, path, arguments.replace)?;
    }
    for doubt in sheet.doubts() {
        io.warn(
            &doubt,
            "the sheet says so too; look at the hole in brackets.ron, at the plane and at the move",
        )?;
    }
    let rows = || HoleRow::all_of(&sheet, assembly, &points);
    let text = match arguments.output.format {
        Format::Table => folded(&table(&sheet, assembly, (&written, arguments.bracket.is_some()), lengths)),
        Format::Json => json(&BracketOutput::of(&sheet, &written, rows()), lengths)?,
        Format::Csv => csv::<BracketOutput>(&rows(), lengths)?,
    };
    io.print(&text)?;
    Ok(0)
}

/// Writes the sheet as the ending of the file says; several pages of SVG are numbered. A template is there
/// whole or not at all: one that breaks off could be drilled by.
fn write(sheet: &BracketSheet, path: &Path, replace: bool) -> Result<Vec<PathBuf>, Failure> {
    let files = sheet.files(path).map_err(|no| match no {
        NoSheet::Sheet(fault) => Failure::Fault(vec![Complaint::new(fault.to_string(), "")]),
        other => no_sheet(&other),
    })?;
    put_all(&files, replace).map_err(|error| {
        let [why, hint] = error.of_pages("add --replace");
        Failure::wrong_use(why, hint)
    })?;
    Ok(files.into_iter().map(|(file, _)| file).collect())
}

fn table(
    sheet: &BracketSheet,
    assembly: Assembly,
    (written, is_named): (&[PathBuf], bool),
    lengths: LengthUnit,
) -> String {
    let decimals = if lengths == LengthUnit::Inch { 4 } else { 2 };
    let write = |value: f64| {
        let number = Unit::Length.shown(value, lengths);
        wheelpath_report::fixed(number, decimals)
    };
    let at_most = |value: f64| {
        format!("{} {}", write(rounded_down(value, lengths, decimals)), Unit::Length.symbol(lengths))
    };
    let how = if is_named { "name its bracket" } else { "ask for it with --of" };
    let mut text = format!(
        "{}, {}: {assembly}, the plate seen from {}\nThe other side has a sheet of its own, mirrored: {how}\n\n",
        sheet.car,
        sheet.proposal,
        sheet.plate.seen_from()
    );
    let mut table = Table::new(&[
        ("Hole", Align::Left),
        ("", Align::Left),
        ("X", Align::Right),
        ("Y", Align::Right),
        ("Z", Align::Right),
        ("", Align::Left),
    ]);
    let unit = Unit::Length.symbol(lengths).to_owned();
    let [u, v, _] = sheet.plate.axes();
    for hole in &sheet.holes {
        let row = |name: &str, what: &str, at: [f64; 3]| {
            let [x, y, z] = at.map(write);
            vec![name.to_owned(), what.to_owned(), x, y, z, unit.clone()]
        };
        table.row(row(&hole.name, "old", [hole.old.x, hole.old.y, hole.old.z]));
        table.row(row("", "new", [hole.new.x, hole.new.y, hole.new.z]));
    }
    text += &table.text();
    for hole in &sheet.holes {
        let by = sheet.plate.along(&(hole.new - hole.old));
        // A distance and the way it goes: a sign beside a direction is soon lost on the way to the bench.
        let toward = |by: f64, way: String| format!("{} {unit} {way}", write(by.abs()));
        let out = if by.z < 0.0 { "away from you" } else { "toward you" };
        text += &format!(
            "{}: in the plate {}, {}; {} {unit} out of it {out}\n",
            hole.name,
            toward(by.x, Plate::way_of(&u, by.x)),
            toward(by.y, Plate::way_of(&v, by.y)),
            write(by.z.abs())
        );
        match &hole.tolerance {
            Some(one) => {
                let headline = one.headline(at_most);
                text += &format!("  {}\n", headline.replacen("place within", "TO BE PLACED WITHIN", 1));
                for line in one.said(at_most) {
                    text += &format!("    {line}\n");
                }
            }
            None => text += "  no limit says how exactly it must be placed\n",
        }
        for reference in &sheet.references {
            let distance = (hole.new - reference.at).norm();
            text += &format!("  {} {unit} from {}\n", write(distance), reference.name);
        }
    }
    for cut in sheet.cuts() {
        text += &format!("{cut}\n");
    }
    for file in written {
        text += &format!("wrote {}\n", shown_name(&file.display().to_string()));
    }
    text += "Geometry only: strength, weld and edge distance are a qualified person's; series rules apply.\n";
    text
}
