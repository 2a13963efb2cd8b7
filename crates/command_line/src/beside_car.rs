//! What stands beside a car: its limits, brackets and proposals, in the folder of its name.

use crate::console::failure::{Complaint, Failure};
use crate::console::streams::Console;
use std::path::{Path, PathBuf};
use wheelpath_car_file::{LoadError, ProposalFile, load_limits, load_proposal, nearest};
use wheelpath_geometry::{
    Applied, Assembly, Bracket, BracketReference, Car, CarSolver, Change, Elsewhere, End, Finding,
    LengthUnit, Link, Parameter, Proposal, Requirement, Severity, Side, Spring, SpringNumber, Subject, Unit,
    Value, check_in, shown_name,
};
use wheelpath_project::{CompanionFolder, LIMITS, LoadedCar, proposal_names};

/// The limits: of a file that is named, or else those in the car's folder.
pub(crate) fn limits(car: &LoadedCar, named: Option<&Path>) -> Result<Vec<Requirement>, Failure> {
    let mut limits = match named {
        Some(path) => load_limits(path).map_err(|error| no_limits(error, car))?,
        None => {
            let own = wheelpath_project::limits(car).transpose()?;
            own.map_or_else(Vec::new, |file| file.limits().to_vec())
        }
    };
    // From here on the names are only shown.
    limits.iter_mut().for_each(|limit| limit.name = shown_name(&limit.name).into_owned());
    Ok(limits)
}

/// A bracket in the car's folder, by its name.
pub(crate) fn bracket(car: &LoadedCar, name: &str) -> Result<Bracket, Failure> {
    let Some(file) = wheelpath_project::brackets(car).transpose()? else {
        return Err(Failure::wrong_use(
            format!("there are no brackets for {}", car.loaded.car.name),
            "write them into brackets.ron in a folder beside the car that has its name, as demo-cars/alder/brackets.ron shows",
        ));
    };
    let known = || file.brackets().iter().map(|one| one.name.as_str());
    file.named(name).map(only_shown).ok_or_else(|| {
        let meant = nearest(name, known());
        let meant = meant.map_or_else(String::new, |name| format!("; did you mean {name:?}?"));
        let names: Vec<String> = known().map(|name| format!("{name:?}")).collect();
        Failure::wrong_use(
            format!("there is no bracket {name:?}{meant}"),
            format!("{} has {}", car.loaded.car.name, names.join(", ")),
        )
    })
}

/// A bracket whose names are only shown from here on.
fn only_shown(bracket: &Bracket) -> Bracket {
    let mut bracket = bracket.clone();
    bracket.name = shown_name(&bracket.name).into_owned();
    for reference in &mut bracket.references {
        if let BracketReference::Hole { name, .. } = reference {
            *name = shown_name(name).into_owned();
        }
    }
    bracket
}

/// A proposal: a file, or the name of one in the car's folder. Its name is only shown from here on. One that says that it
/// is for another car is warned of.
pub(crate) fn proposal(car: &LoadedCar, word: &Path, io: &mut Console) -> Result<ProposalFile, Failure> {
    let mut file = proposal_file(car, word)?;
    file.proposal.name = shown_name(&file.proposal.name).into_owned();
    let [of, name] = [&file.car, &car.loaded.car.name].map(|name| shown_name(name.trim()).into_owned());
    if of.to_lowercase() != name.to_lowercase() {
        io.warn(
            &format!(
                "{}: this proposal says that it is for the car {of}; it is made to {name}",
                word.display()
            ),
            &format!(
                "name a proposal of {name}, or the car {of}; if the proposal is meant for this car, write \
                 `car: {name:?}` in it"
            ),
        )?;
    }
    Ok(file)
}

fn proposal_file(car: &LoadedCar, word: &Path) -> Result<ProposalFile, Failure> {
    let name = word.to_string_lossy();
    // A folder is no proposal.
    if !word.exists() || word.is_dir() {
        if let Some(read) = wheelpath_project::proposal(car, &name) {
            return Ok(read?);
        }
        let known = proposal_names(car);
        let meant = nearest(&name, known.iter().map(String::as_str));
        let meant = meant.map_or_else(String::new, |name| format!("; did you mean {name}?"));
        let hint = if known.is_empty() {
            "give the path of a proposal; a car's own stand in a folder beside it that has its name"
                .to_owned()
        } else {
            format!("give the path of a proposal, or one of the car's own: {}", known.join(", "))
        };
        return Err(Failure::wrong_use(format!("there is no proposal {name}{meant}"), hint));
    }
    load_proposal(word).map_err(|error| no_file(error, word))
}

fn no_limits(error: LoadError, car: &LoadedCar) -> Failure {
    match error {
        LoadError::Unreadable { .. } => {
            let own = car.folder().map_or_else(
                || "without --limits the demo car has its own".to_owned(),
                |CompanionFolder { folder, .. }| {
                    let own = folder.join(LIMITS);
                    format!("without --limits those in {} are taken, if it is there", own.display())
                },
            );
            Failure::wrong_use(error.to_string(), format!("give the path of a file of limits; {own}"))
        }
        other => other.into(),
    }
}

fn no_file(error: LoadError, path: &Path) -> Failure {
    match error {
        LoadError::Unreadable { .. } => {
            let hint = format!("see that {} can be read, and is a proposal", path.display());
            Failure::wrong_use(error.to_string(), hint)
        }
        other => other.into(),
    }
}

/// A car with proposals made, ready to solve.
pub(crate) struct Proposed {
    pub name: String,
    pub car: Car,
    pub solver: CarSolver,
}

/// The car with all these proposals made, each on what the ones before it have made, under their names;
/// `None` where there are none.
pub(crate) fn combined(
    at_hand: &LoadedCar,
    words: &[PathBuf],
    io: &mut Console,
) -> Result<Option<Proposed>, Failure> {
    let files = words.iter().map(|word| proposal(at_hand, word, io)).collect::<Result<Vec<_>, _>>()?;
    let mut all: Option<Proposed> = None;
    for file in &files {
        let on = all.as_ref().map_or(&at_hand.loaded.car, |before| &before.car);
        let mut next = made(on, &file.proposal, io)?;
        if let Some(before) = all {
            next.name = format!("{} + {}", before.name, next.name);
        }
        all = Some(next);
    }
    Ok(all)
}

/// What a thing is, what the proposal says it was, and what it became, with as many decimals as tell the first
/// two apart.
fn told_apart(one: &Elsewhere, unit: Unit) -> [String; 3] {
    let mm = LengthUnit::Millimetre;
    let usual = unit.decimals(mm);
    let written = |decimals: usize| [one.found, one.was, one.made].map(|v| v.written_to(unit, mm, decimals));
    let apart = (usual..usual + 9).map(written).find(|[found, was, _]| found != was);
    apart.unwrap_or_else(|| written(usual))
}

/// Whether one value is the other in other units: inches, centimetres or metres for millimetres, or the other way
/// round.
fn is_in_other_units(one: Value, other: Value) -> bool {
    let [one, other] = [one, other].map(|value| match value {
        Value::Place(at) => at.norm(),
        Value::Number(number) => number.abs(),
        Value::FromPoints => 0.0,
    });
    // As near as the digits of a number that was written in the larger unit let it be.
    let is_times = |factor: f64| one > 0.0 && (other / one / factor - 1.0).abs() < 5e-3;
    [25.4, 10.0, 1000.0].into_iter().any(|factor| is_times(factor) || is_times(1.0 / factor))
}

/// Whose a finding is, before its message.
fn whose(finding: &Finding) -> String {
    let words: Vec<&str> =
        [finding.end.map(End::name), finding.side.map(Side::name)].into_iter().flatten().collect();
    if words.is_empty() { String::new() } else { format!("{}: ", words.join(" ")) }
}

/// What to do about a fault of a car with a proposal made. The length of a link is the proposal's or the car's.
fn hint_beside(finding: &Finding, proposal: &Proposal) -> String {
    let Subject::Link(link) = finding.subject else { return finding.hint.clone() };
    if proposal
        .changes
        .iter()
        .flat_map(Change::touched)
        .any(|(_, parameter)| parameter == Parameter::Length(link))
    {
        return "correct `now` in the proposal, or write `now: FromPoints` there to have the distance of its points"
            .to_owned();
    }
    finding.hint.replace("leave it out", "leave it out of the car file")
}

/// The links that an assembly has on this car, by their keys.
fn links_of(car: &Car, assembly: Assembly) -> String {
    let has = |link: &&Link| assembly.between_ends(car, **link).is_some();
    let keys: Vec<&str> = Link::ALL.iter().filter(has).map(|link| link.key()).collect();
    if keys.is_empty() { "no links of its own".to_owned() } else { keys.join(", ") }
}

/// What to write instead of a parameter that an assembly does not have.
fn instead_of(parameter: Parameter, car: &Car, assembly: Assembly) -> String {
    let axle = car.axle(assembly.end());
    let is_box = axle.steering.steering_box().is_some();
    match parameter {
        Parameter::Steering(_) if assembly.side().is_some() => {
            format!("steering belongs to the axle: write of: {}", assembly.end().name())
        }
        Parameter::Steering(_) if is_box => {
            "this axle has a steering box: it has ratio, stop_left_deg and stop_right_deg".to_owned()
        }
        Parameter::Steering(_) if axle.steering.steers() => {
            "this axle has a rack: it has travel_per_turn, stop_left and stop_right".to_owned()
        }
        Parameter::Steering(_) => "this axle does not steer".to_owned(),
        Parameter::Wheel(_) | Parameter::WheelCentre if assembly.side().is_none() => {
            let end = assembly.end().name();
            format!("it belongs to a wheel: write of: {end}_left, {end}_right or {end}_both")
        }
        Parameter::Spring(SpringNumber::SpringRate | SpringNumber::TorsionBarRate) => {
            let spring = assembly.side().and_then(|side| axle.corner(side).spring);
            let has = match spring {
                Some(Spring::TorsionBar { .. }) => "it has a torsion bar: write spring_rate_nm_per_deg",
                Some(_) => "it has a spring: write spring_rate_n_per_mm",
                None => "the car file states no `spring` there: add one to it first",
            };
            has.to_owned()
        }
        Parameter::Spring(_) => "the car file states no such rate: add it there first".to_owned(),
        _ => "the proposal is for another car, or needs a change".to_owned(),
    }
}

/// So many warnings of a car with a proposal made are said in full.
const SAID: usize = 3;

/// Warns of what is doubtful about a car with a proposal made and was not before.
fn warn_of_new(
    before: &[Finding],
    after: &[Finding],
    proposal: &Proposal,
    io: &mut Console,
) -> Result<(), Failure> {
    // What was doubtful before is, by another number, still the same.
    let is_number = |letter: char| letter.is_ascii_digit() || matches!(letter, '.' | '-' | '−');
    let words = |finding: &Finding| finding.message.replace(is_number, "");
    let same = |one: &Finding, other: &Finding| {
        (one.end, one.side, one.subject) == (other.end, other.side, other.subject)
            && words(one) == words(other)
    };
    let mut new: Vec<&Finding> = Vec::new();
    for now in after {
        // Of both sides alike the same is said once.
        let is_said = new.iter().any(|said| said.message == now.message && whose(said) == whose(now));
        if !is_said && !before.iter().any(|was| same(now, was)) {
            new.push(now);
        }
    }
    for finding in new.iter().take(SAID) {
        let message = format!("{}: {}{}", proposal.name, whose(finding), finding.message);
        io.warn(&message, &hint_beside(finding, proposal))?;
    }
    if let Some(more) = new.len().checked_sub(SAID).filter(|more| *more > 0) {
        let message = format!("{}: and {more} more that were not doubtful before", proposal.name);
        io.warn(&message, "look at the numbers of the proposal first: one wrong number has many of these")?;
    }
    Ok(())
}

/// The car with a proposal made; what is not as the proposal says it was is warned of.
pub(crate) fn made(car: &Car, proposal: &Proposal, io: &mut Console) -> Result<Proposed, Failure> {
    let cannot = |message: String, hint: &str| Failure::Fault(vec![Complaint::new(message, hint)]);
    let Applied { car: after, elsewhere } = proposal.applied(car).map_err(|error| match error.parameter {
        Parameter::Length(_) => {
            let links = links_of(car, error.assembly);
            cannot(error.to_string(), &format!("name a link of the {}; it has {links}", error.assembly))
        }
        parameter => cannot(error.to_string(), &instead_of(parameter, car, error.assembly)),
    })?;
    for one in &elsewhere {
        let unit = one.parameter.unit();
        let [found, was, now] = told_apart(one, unit);
        let message = format!(
            "{}: {}, {}, is {found}, not {was} as the proposal says",
            proposal.name, one.parameter, one.assembly
        );
        let hint = match one.made {
            Value::FromPoints => "it follows from its points now, as the proposal says".to_owned(),
            _ => format!("it is moved by the same amount from where it is, to {now}"),
        };
        let hint = if is_in_other_units(one.was, one.found) { hint + "; are the units right?" } else { hint };
        io.warn(&message, &hint)?;
    }
    let findings = check_in(&after, io.lengths());
    let faults: Vec<Complaint> = findings
        .iter()
        .filter(|finding| finding.severity == Severity::Fault)
        .map(|finding| {
            let message = format!("{}: {}{}", proposal.name, whose(finding), finding.message);
            Complaint::new(message, hint_beside(finding, proposal))
        })
        .collect();
    if !faults.is_empty() {
        return Err(Failure::Fault(faults));
    }
    warn_of_new(&check_in(car, io.lengths()), &findings, proposal, io)?;
    let solver = CarSolver::new(&after)?;
    Ok(Proposed { name: proposal.name.clone(), car: after, solver })
}
