//! Puts the points of a table into a car file, or makes a proposal of them.

pub(crate) mod proposal;
pub(crate) mod record;

use crate::arguments::subcommands::{ImportArguments, ImportFormat};
use crate::check::counted;
use crate::console::failure::{Complaint, Failure};
use crate::console::record::json;
use crate::console::streams::Console;
use crate::import::record::ImportOutput;
use crate::opened_car::opened;
use wheelpath_car_file::{
    Assembly, Imported, SetPoint, TableOptions, TablePoint, import_points, save_new, system_words,
};
use wheelpath_geometry::{LengthUnit, Unit, shown_name};
use wheelpath_project::demo_cars;
use wheelpath_report::{Align, Table, folded};

pub(crate) fn run(arguments: &ImportArguments, io: &mut Console) -> Result<u8, Failure> {
    let car = opened(&arguments.car, io)?;
    io.count_in(car.units());
    let table = std::fs::read_to_string(&arguments.points).map_err(|error| {
        Failure::wrong_use(
            format!("cannot read {}: {}", arguments.points.display(), system_words(&error)),
            "give the path of a table saved as CSV, UTF-8 text",
        )
    })?;
    let options = TableOptions {
        units: arguments.units,
        axes: arguments.axes,
        end: arguments.axle,
        side: arguments.side,
        mirror: arguments.mirror,
    };
    let file = arguments.points.display().to_string();
    if let Some(name) = &arguments.as_proposal {
        return proposal::run(arguments, &car, (&table, &file), (&options, name), io);
    }
    let imported = import_points(&car.loaded.car, &table, &file, &options)?;
    let templates = demo_cars()?;
    let left_over = car.loaded.document.not_measured(&imported, &templates);
    doubts(arguments, (&imported, &left_over), &file, io)?;
    if imported.set.is_empty() {
        return Err(Failure::Fault(vec![Complaint::new(
            format!("{file}: no row names a point of {}", car.loaded.car.name),
            "`wheelpath points` lists the names",
        )]));
    }
    if let Some(new) = &arguments.save {
        save_new(&car.loaded.document.after_import(&imported, &templates), &imported.car, new)?;
    }
    let text = match arguments.format {
        ImportFormat::Table => folded(&words(arguments, (&imported, &left_over), io.lengths())),
        ImportFormat::Json => {
            let output = ImportOutput::of(&imported, &left_over, arguments.save.as_deref());
            json(&output, io.lengths())?
        }
    };
    io.print(&text)?;
    // A name like none of the car's is a row for something else; one like a point's was meant for it.
    let misspelt = imported.unknown.iter().filter(|name| name.nearest.is_some()).count();
    let left_out = misspelt + imported.unused.len();
    if left_out > 0 {
        let rows = if left_out == 1 { "row that names a point was" } else { "rows that name points were" };
        io.complain(&format!("error: {file}: {left_out} {rows} left out; the other points were set\n"))?;
    }
    Ok(u8::from(left_out > 0))
}

pub(crate) type Named = (Assembly, TablePoint);

fn list_of(points: &[Named]) -> String {
    let name = |(assembly, point): &Named| format!("{assembly} {}", point.key());
    points.iter().map(name).collect::<Vec<_>>().join(", ")
}

/// Says that a table gives one side of what was alike on both sides.
pub(crate) fn say_one_sided(one_sided: &[Named], file: &str, io: &mut Console) -> Result<(), Failure> {
    if one_sided.is_empty() {
        return Ok(());
    }
    io.warn(
        &format!(
            "{file}: one side only: {} stood as the mirror image of a point of the table, and {} where it was",
            list_of(one_sided),
            if one_sided.len() == 1 { "stays" } else { "each stays" }
        ),
        "give --mirror to set the other side too; without it the car is no longer alike on both sides",
    )
}

/// Everything in the table that was not understood or not used.
fn doubts(
    arguments: &ImportArguments,
    (imported, left_over): (&Imported, &[Named]),
    file: &str,
    io: &mut Console,
) -> Result<(), Failure> {
    let unknown = imported.unknown.iter().map(|name| {
        (format!("{file}: {name}"), "the row was left out; `wheelpath points` lists the names".to_owned())
    });
    io.say_all("warning", unknown)?;
    let unused = imported.unused.iter().map(|(assembly, point)| {
        (format!("{file}: {assembly} has no use for {}", point.label()), "the row was left out".to_owned())
    });
    io.say_all("warning", unused)?;
    say_one_sided(&imported.one_sided, file, io)?;
    if !left_over.is_empty() {
        io.warn(
            &format!("{file}: not in the table and never measured: {}", list_of(left_over)),
            if arguments.save.is_some() {
                "these points stay where the demo car or stand-in has them; the new file lists them in \
                 `left_over`, and `check` names them until they are measured or taken out of that list"
            } else {
                "these points stay where the demo car or stand-in has them"
            },
        )?;
    }
    let see = match &arguments.save {
        Some(new) => format!("wheelpath check {}", new.display()),
        None => "--format json".to_owned(),
    };
    io.warn_of_car(&imported.warnings, &see)?;
    Ok(())
}

fn has_moved(set: &SetPoint) -> bool {
    set.from.is_none_or(|from| (set.to - from).norm() > 1e-9)
}

fn words(
    arguments: &ImportArguments,
    (imported, left_over): (&Imported, &[Named]),
    lengths: LengthUnit,
) -> String {
    let columns = ["Point", "from X", "Y", "Z", "to X", "Y", "Z"];
    let mut table = Table::with_columns(
        columns
            .iter()
            .map(|c| ((*c).to_owned(), if *c == "Point" { Align::Left } else { Align::Right }))
            .collect(),
    );
    let number = |metres: f64| Unit::Length.write_number(metres, lengths);
    let moved: Vec<&SetPoint> = imported.set.iter().filter(|set| has_moved(set)).collect();
    for set in &moved {
        let mut row = vec![format!("{} {}", set.assembly, set.point.label())];
        match set.from {
            Some(from) => row.extend([from.x, from.y, from.z].map(number)),
            None => row.extend(["—", "—", "—"].map(str::to_owned)),
        }
        row.extend([set.to.x, set.to.y, set.to.z].map(number));
        table.row(row);
    }
    let mut text = format!("{} set, {} of them moved\n", counted(imported.set.len(), "point"), moved.len());
    if !moved.is_empty() {
        text += &format!("\nX forward, Y left, Z up; {}\n\n{}", Unit::Length.symbol(lengths), table.text());
    }
    let own = imported.missing.len() - left_over.len();
    if own > 0 {
        let stay =
            if own == 1 { "stays where the car file has it" } else { "stay where the car file has them" };
        text += &format!("\n{} of these corners and axles not in the table: {stay}\n", counted(own, "point"));
    }
    if imported.follows > 0 {
        text += &format!(
            "\n{} of a contact point not read: it follows from wheel centre, spin axis and tyre radius\n",
            counted(imported.follows, "row")
        );
    }
    text += &match &arguments.save {
        Some(new) => format!("\nwrote {}\n", shown_name(&new.display().to_string())),
        None => "\nnothing was written; --save NEW writes a car file\n".to_owned(),
    };
    text
}
