//! A car beside what proposals make of it, or beside another car: readings and limits before and after.

pub(crate) mod record;

use crate::arguments::subcommands::{CompareArguments, Format};
use crate::beside_car::{Proposed, combined, limits as limits_of, made, proposal};
use crate::compare::record::{CompareOutput, CompareRow, ComparedLimitRecord};
use crate::console::failure::Failure;
use crate::console::field::Under;
use crate::console::pose::{PoseRecord, pose_in_words};
use crate::console::record::{csv, json};
use crate::console::streams::Console;
use crate::limits::{code_of, name_on, word};
use crate::opened_car::ready;
use std::path::Path;
use wheelpath_geometry::{
    Car, End, LengthUnit, Reading, Requirement, Scope, SolvedCar, WheelPosition, axle_readings, shown_name,
    wheel_readings,
};
use wheelpath_report::{Align, Table, WIDEST, folded, wrap};
use wheelpath_studies::{Verdict, verdicts};

/// A car as one of the columns.
pub(crate) struct Column {
    name: String,
    car: Car,
    solved: SolvedCar,
    verdicts: Vec<Verdict>,
}

pub(crate) fn run(arguments: &CompareArguments, io: &mut Console) -> Result<u8, Failure> {
    let (at_hand, solver) = ready(&arguments.car, io)?;
    let limits = limits_of(&at_hand, arguments.limits.as_deref())?;
    let base = &at_hand.loaded.car;
    if arguments.proposals.is_empty() && arguments.with.is_none() {
        return Err(Failure::wrong_use(
            "there is nothing to compare the car with",
            "name a proposal, several, or another car with --with",
        ));
    }
    let mut others: Vec<Proposed> = Vec::new();
    if arguments.combined {
        others.extend(combined(&at_hand, &arguments.proposals, io)?);
    } else {
        for word in &arguments.proposals {
            others.push(made(base, &proposal(&at_hand, word, io)?.proposal, io)?);
        }
    }
    if let Some(path) = &arguments.with {
        let (other, solver) = ready(path, io)?;
        others.push(Proposed { name: other.loaded.car.name.clone(), car: other.loaded.car, solver });
    }
    let first = Proposed { name: base.name.clone(), car: base.clone(), solver };
    let mut columns = Vec::new();
    let mut all: Vec<Proposed> = std::iter::once(first).chain(others).collect();
    // Two cars of one name are told apart by their files.
    if let Some(path) = &arguments.with
        && let [car, .., other] = all.as_mut_slice()
        && car.name == other.name
    {
        let file = |path: &Path| shown_name(&path.display().to_string()).into_owned();
        car.name = file(&arguments.car);
        other.name = file(path);
    }
    for Proposed { name, car, solver } in all {
        let solved = arguments.pose.solve(&car, &solver, io)?.car;
        let verdicts = verdicts(&car, &solver, &limits);
        columns.push(Column { name, car, solved, verdicts });
    }
    let lengths = arguments.output.units.lengths(io);
    let text = match arguments.output.format {
        Format::Table => folded(&tables(&columns, &limits, arguments.all, lengths)),
        Format::Json => {
            let output = CompareOutput {
                car: columns[0].name.clone(),
                pose: Under(PoseRecord::of(base, &columns[0].solved.pose)),
                rows: CompareRow::all_of(&columns),
                limits: ComparedLimitRecord::all_of(&columns, &limits, lengths),
            };
            json(&output, lengths)?
        }
        Format::Csv => csv::<CompareOutput>(&CompareRow::all_of(&columns), lengths)?,
    };
    io.print(&text)?;
    // What the car itself breaks is not the proposals' doing.
    code_of(columns.iter().skip(1).flat_map(|column| &column.verdicts), io)
}

/// Where a reading is taken.
#[derive(Clone, Copy)]
pub(crate) enum At {
    Wheel(WheelPosition),
    Axle(End),
}

impl At {
    fn key(self) -> &'static str {
        match self {
            At::Wheel(wheel) => wheel.key(),
            At::Axle(end) => end.name(),
        }
    }

    fn end(self) -> End {
        match self {
            At::Wheel(wheel) => wheel.end,
            At::Axle(end) => end,
        }
    }

    fn words(self) -> String {
        match self {
            At::Wheel(wheel) => wheel.to_string(),
            At::Axle(end) => format!("{end} axle"),
        }
    }

    fn value(self, solved: &SolvedCar, reading: &Reading) -> Option<f64> {
        match self {
            At::Wheel(at) => solved.axle(at.end).wheel_values(at.side).get(reading),
            At::Axle(end) => solved.axle(end).axle_values().get(reading),
        }
    }

    /// The value as a person is told it.
    ///
    /// # Errors
    /// Why there is none.
    fn told(self, solved: &SolvedCar, reading: &Reading) -> Result<f64, &'static str> {
        match self {
            At::Wheel(at) => solved.axle(at.end).wheel_values(at.side).told(reading),
            At::Axle(end) => solved.axle(end).axle_values().told(reading),
        }
    }
}

fn places() -> impl Iterator<Item = (At, &'static Reading)> {
    let of = |scope| match scope {
        Scope::Wheel => wheel_readings().iter(),
        Scope::Axle => axle_readings().iter(),
    };
    let wheels = WheelPosition::ALL.into_iter().map(|at| (At::Wheel(at), Scope::Wheel));
    let axles = End::BOTH.into_iter().map(|end| (At::Axle(end), Scope::Axle));
    wheels.chain(axles).flat_map(move |(at, scope)| of(scope).map(move |reading| (at, reading)))
}

/// Whether two values read differently on paper.
fn shows(reading: &Reading, a: Option<f64>, b: Option<f64>, lengths: LengthUnit) -> bool {
    let write = |value: Option<f64>| reading.unit.write_number(value.unwrap_or(f64::NAN), lengths);
    write(a) != write(b)
}

fn tables(columns: &[Column], limits: &[Requirement], all: bool, lengths: LengthUnit) -> String {
    let Some((before, after)) = columns.split_first() else { return String::new() };
    let names: Vec<&str> = after.iter().map(|one| one.name.as_str()).collect();
    let mut text = format!(
        "{} beside {}\n{}\n\n",
        before.name,
        names.join(", "),
        pose_in_words(&before.car, &before.solved.pose, lengths)
    );
    let mut heads = vec![("Reading".to_owned(), Align::Left), (before.name.clone(), Align::Right)];
    for one in after {
        heads.push((one.name.clone(), Align::Right));
        heads.push(("change".to_owned(), Align::Right));
    }
    heads.push((String::new(), Align::Left));
    let mut table = Table::with_columns(heads);
    let mut place = String::new();
    let mut same = 0;
    let mut reasons: Vec<String> = Vec::new();
    for (at, reading) in places() {
        let told = |one: &Column| at.told(&one.solved, reading);
        let was = told(before).ok();
        let differs = after.iter().any(|one| shows(reading, was, told(one).ok(), lengths));
        let exists = columns.iter().any(|one| at.value(&one.solved, reading).is_some());
        // What only beam axles have is not the same on others: it is not there.
        if !exists && reading.is_of_beams() {
            continue;
        }
        if !differs && !all {
            same += 1;
            continue;
        }
        if place != at.words() {
            place = at.words();
            table.heading(&place);
        }
        let write = |value: Option<f64>| reading.unit.write_number(value.unwrap_or(f64::NAN), lengths);
        let name = reading.name_on(before.car.axle(at.end()).is_beam());
        let mut row = vec![format!("  {name}"), write(was)];
        for one in after {
            let is = told(one).ok();
            row.push(write(is));
            let change = is.zip(was).map(|(is, was)| reading.unit.write_number_of_change(was, is, lengths));
            row.push(change.unwrap_or_else(|| "—".into()));
        }
        row.push(reading.unit.symbol(lengths).to_owned());
        table.row(row);
        // Why there is a dash, where another car has a number or the number is kept back.
        for why in columns.iter().filter_map(|one| told(one).err()).filter(|why| exists && !why.is_empty()) {
            let said = format!("— {why}: {name}");
            if !reasons.contains(&said) {
                reasons.push(said);
            }
        }
    }
    text += &table.text();
    for reason in reasons {
        text += &(wrap(&reason, WIDEST, "  ") + "\n");
    }
    if same > 0 {
        text +=
            &format!("{same} other readings are the same at this pose as far as shown (--all shows them)\n");
    }
    if !limits.is_empty() {
        text.push('\n');
        text += &limit_table(columns, limits, lengths);
    }
    text
}

fn limit_table(columns: &[Column], limits: &[Requirement], lengths: LengthUnit) -> String {
    let mut heads = vec![("Limit, worst value".to_owned(), Align::Left), ("bounds".to_owned(), Align::Right)];
    for one in columns {
        heads.push((one.name.clone(), Align::Right));
        heads.push((String::new(), Align::Left));
    }
    let mut table = Table::with_columns(heads);
    for (place, limit) in limits.iter().enumerate() {
        let car = columns.first().map(|one| &one.car);
        let name = car.map_or_else(|| limit.name.clone(), |car| name_on(limit, car));
        let mut row = vec![name, limit.bounds_in_words(lengths)];
        for verdict in columns.iter().filter_map(|one| one.verdicts.get(place)) {
            row.push(verdict.worst.map_or_else(|| "—".into(), |w| limit.write(w.value, lengths)));
            row.push(word(&verdict.outcome).to_owned());
        }
        table.row(row);
    }
    table.text()
}
