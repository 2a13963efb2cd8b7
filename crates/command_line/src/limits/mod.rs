//! Whether a car, or a car with proposals made, keeps its limits.

pub(crate) mod record;

use crate::arguments::subcommands::{Format, LimitsArguments};
use crate::beside_car::{combined, limits as limits_of};
use crate::console::failure::Failure;
use crate::console::record::{csv, json};
use crate::console::steer::steer_in_words;
use crate::console::streams::Console;
use crate::limits::record::{LimitRecord, LimitsOutput};
use crate::opened_car::ready;
use wheelpath_geometry::{
    BarKind, Car, CarPose, End, LengthUnit, Limited, Requirement, Side, Unit, WheelPosition,
};
use wheelpath_report::{Align, Table, folded, wrap};
use wheelpath_studies::{Outcome, Place, Verdict, verdicts};

pub(crate) fn run(arguments: &LimitsArguments, io: &mut Console) -> Result<u8, Failure> {
    let (at_hand, solver) = ready(&arguments.car, io)?;
    let limits = limits_of(&at_hand, arguments.limits.as_deref())?;
    if limits.is_empty() {
        return Err(Failure::wrong_use(
            format!("there are no limits for {}", arguments.car.display()),
            "write them into limits.ron in a folder beside the car that has its name, as demo-cars/alder/limits.ron shows, or name a file with --limits",
        ));
    }
    let as_it_is = &at_hand.loaded.car;
    let (name, car, solver) = match combined(&at_hand, &arguments.proposal.words(), io)? {
        Some(one) => (format!("{} + {}", as_it_is.name, one.name), one.car, one.solver),
        None => (as_it_is.name.clone(), as_it_is.clone(), solver),
    };
    let found = verdicts(&car, &solver, &limits);
    let lengths = arguments.output.units.lengths(io);
    let broken = found.iter().filter(|verdict| verdict.outcome == Outcome::Fail).count();
    let text = match arguments.output.format {
        Format::Table => folded(&format!(
            "{name}: {broken} of {} limits fail\n\n{}\nA limit is a wish, not a proof of safety: geometry only.\n",
            limits.len(),
            table(&car, &limits, &found, lengths)
        )),
        Format::Json => {
            let rows = records(&car, &limits, &found, lengths);
            json(&LimitsOutput { car: name, failed: broken, broken, rows }, lengths)?
        }
        Format::Csv => csv::<LimitsOutput>(&records(&car, &limits, &found, lengths), lengths)?,
    };
    io.print(&text)?;
    code_of(&found, io)
}

/// Says how many limits do not pass and returns the exit code: 1 where one fails, or cannot be said to
/// pass since not every pose is reached.
pub(crate) fn code_of<'v>(
    verdicts: impl IntoIterator<Item = &'v Verdict>,
    io: &mut Console,
) -> Result<u8, Failure> {
    let outcomes: Vec<&Outcome> = verdicts.into_iter().map(|verdict| &verdict.outcome).collect();
    let count = |of: fn(&Outcome) -> bool| outcomes.iter().filter(|outcome| of(outcome)).count();
    let broken = count(|outcome| *outcome == Outcome::Fail);
    let open = count(|outcome| matches!(outcome, Outcome::Open(_)));
    let mut said = Vec::new();
    if broken > 0 {
        said.push(counted(broken, "limit fails", "limits fail"));
    }
    if open > 0 {
        said.push(format!("{} open: not every pose is reached", counted(open, "limit is", "limits are")));
    }
    if said.is_empty() {
        return Ok(0);
    }
    io.complain(&format!("error: {}\n", said.join("; ")))?;
    Ok(1)
}

fn counted(count: usize, one: &str, many: &str) -> String {
    format!("{count} {}", if count == 1 { one } else { many })
}

/// The side whose travel alone counts for a distance or a joint.
fn own_side(car: &Car, place: Place) -> Option<Side> {
    let axle = car.axle(place.end());
    if axle.is_beam() || axle.bar_kind() == Some(BarKind::T) {
        return None;
    }
    match place {
        Place::Parts([one, other]) => one.side.filter(|_| one.side == other.side),
        Place::Joint(wheel, _) => Some(wheel.side),
    }
}

/// What of a pose a limit is about: the travel of its own axle, or of one side of it, and the steering where
/// it is turned.
fn in_brief(car: &Car, end: End, side: Option<Side>, pose: &CarPose, lengths: LengthUnit) -> String {
    let [left, right] = Side::BOTH.map(|at| pose.travel_of(WheelPosition { end, side: side.unwrap_or(at) }));
    let write = |travel: f64| Unit::Length.write(travel, lengths);
    let mut said = if write(left) == write(right) {
        format!("travel {}", write(left))
    } else {
        format!("travel {} left, {} right", write(left), write(right))
    };
    if pose.steer.abs() > 0.0 {
        said = format!("{said}; {}", steer_in_words(car, End::Front, pose.steer, lengths));
    }
    said
}

pub(crate) fn word(outcome: &Outcome) -> &'static str {
    match outcome {
        Outcome::Pass => "pass",
        Outcome::Fail => "fail",
        Outcome::Open(_) => "open",
    }
}

/// The limit's name; on an axle that moves as one also the motion that its reading is a rate of.
pub(crate) fn name_on(limit: &Requirement, car: &Car) -> String {
    let motion = match &limit.of {
        Limited::Reading { reading, end, .. } => reading.unsaid_motion(&limit.name, car.axle(*end).is_beam()),
        _ => "",
    };
    format!("{}{motion}", limit.name)
}

fn table(car: &Car, limits: &[Requirement], found: &[Verdict], lengths: LengthUnit) -> String {
    let mut table = Table::new(&[
        ("Limit", Align::Left),
        ("bounds", Align::Right),
        ("worst", Align::Right),
        ("margin", Align::Right),
        ("", Align::Left),
        ("where", Align::Left),
    ]);
    let mut notes = String::new();
    for (limit, verdict) in limits.iter().zip(found) {
        let write = |value: f64| limit.write(value, lengths);
        let place = verdict.worst.map_or_else(String::new, |worst| {
            let whose = match (worst.place, worst.wheel) {
                (Some(place), _) => format!("{place}: "),
                (None, Some(wheel)) => format!("{wheel}: "),
                (None, None) => String::new(),
            };
            let first = limit.of.ends().first().copied().unwrap_or(End::Front);
            let end = worst.place.map_or(first, |place| place.end());
            let side = worst.place.and_then(|place| own_side(car, place));
            format!("{whose}{}", in_brief(car, end, side, &worst.pose, lengths))
        });
        table.row(vec![
            name_on(limit, car),
            limit.bounds_in_words(lengths),
            verdict.worst.map_or_else(|| "—".into(), |worst| write(worst.value)),
            verdict.worst.map_or_else(|| "—".into(), |worst| limit.write_margin(worst.value, lengths)),
            word(&verdict.outcome).to_owned(),
            place,
        ]);
        if let Some(why) = verdict.why(lengths) {
            notes += &wrap(&format!("{}: {why}.", name_on(limit, car)), 96, "  ");
            notes.push('\n');
        }
    }
    format!("{}{notes}", table.text())
}

fn records(car: &Car, limits: &[Requirement], found: &[Verdict], lengths: LengthUnit) -> Vec<LimitRecord> {
    limits.iter().zip(found).map(|(limit, verdict)| LimitRecord::of(car, limit, verdict, lengths)).collect()
}
