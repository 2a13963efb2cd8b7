//! An edit of geometry, carried out on a plain car as the changes it ends in, and its name in words.

use super::Guide;
use super::car_edit::CarEdit;
use nalgebra::Vector3;
use std::fmt::Write;
use wheelpath_geometry::{
    Assembly, Axis, Car, Change, Hardpoint, LengthUnit, Parameter, Proposal, Selection, Unit, Value,
};
use wheelpath_report::significant;

/// Nearer than this two places or lengths are the same, metres.
const SAME: f64 = 1e-12;

/// The cars that an edit has to do with.
#[derive(Clone, Copy)]
pub(super) struct Cars<'a> {
    /// As it stands.
    pub now: &'a Car,
    /// As it was when the step of undo began.
    pub start: &'a Car,
    /// As it was loaded.
    pub original: &'a Car,
}

/// The car after an edit; the reason where the edit makes no sense at all.
pub(super) fn changed(cars: Cars<'_>, edit: &CarEdit, lengths: LengthUnit) -> Result<Car, String> {
    let (on, proposal) = ends_in(cars, edit, lengths)?;
    Ok(proposal.applied(on).map_err(|cannot| cannot.to_string())?.car)
}

/// The changes that an edit ends in, and the car that they are made on.
fn ends_in<'a>(cars: Cars<'a>, edit: &CarEdit, lengths: LengthUnit) -> Result<(&'a Car, Proposal), String> {
    let of = |changes| Proposal { changes, ..Proposal::new("") };
    Ok(match edit {
        CarEdit::Set { assembly, parameter, to, mirrored } => {
            let to = set(cars.now, (*assembly, *parameter), *to, *mirrored, lengths)?;
            (cars.now, of(changes(cars.now, *parameter, to)?))
        }
        CarEdit::Pull { assembly, hardpoint, guide, by, mirrored } => {
            let to = pulled(cars, (*assembly, *hardpoint), (guide, *by), *mirrored, lengths)?;
            (cars.start, of(changes(cars.start, Parameter::Point(*hardpoint), to)?))
        }
        CarEdit::Reset { assembly, parameter, mirrored } => {
            let mut to = Vec::new();
            for one in assembly.with_mirrored(*mirrored) {
                to.push((one, value(cars.original, one, *parameter)?));
            }
            (cars.now, of(changes(cars.now, *parameter, to)?))
        }
        CarEdit::Propose { proposal, on_top: true } => (cars.now, (**proposal).clone()),
        CarEdit::Propose { proposal, on_top: false } => (cars.original, (**proposal).clone()),
        CarEdit::ResetCar => (cars.original, of(Vec::new())),
    })
}

/// The changes that bring a parameter to these values.
fn changes(car: &Car, parameter: Parameter, to: Vec<(Assembly, Value)>) -> Result<Vec<Change>, String> {
    let one = |(assembly, now)| {
        let was = value(car, assembly, parameter)?;
        Ok(Change::set(Selection::One(assembly), parameter, was, now))
    };
    to.into_iter().map(one).collect()
}

fn value(car: &Car, assembly: Assembly, parameter: Parameter) -> Result<Value, String> {
    parameter.value(car, assembly).ok_or_else(|| match parameter {
        Parameter::Length(link) => format!("{assembly} has no {link}"),
        _ => format!("{assembly} has no {parameter}"),
    })
}

/// The value that a parameter is set to, and, where it is mirrored, the value of the other side's.
fn set(
    car: &Car,
    (assembly, parameter): (Assembly, Parameter),
    to: Value,
    mirrored: bool,
    lengths: LengthUnit,
) -> Result<Vec<(Assembly, Value)>, String> {
    value(car, assembly, parameter)?;
    if let Some(wrong) = parameter.range().refusal(to, lengths) {
        return Err(format!("{parameter}, {assembly}: {wrong}"));
    }
    let mut all = vec![(assembly, to)];
    if let Some(other) = assembly.opposite().filter(|_| mirrored) {
        all.push((other, followed(car, [assembly, other], parameter, to)?));
    }
    Ok(all)
}

/// What the other side's parameter becomes where this side's is set: an exact mirror image stays one to the last
/// bit; on unlike sides a place and a length change by as much as this side's, and a number is the same.
fn followed(
    car: &Car,
    [assembly, other]: [Assembly; 2],
    parameter: Parameter,
    to: Value,
) -> Result<Value, String> {
    let (was, there) = (value(car, assembly, parameter)?, value(car, other, parameter)?);
    Ok(match (was, to, there, parameter) {
        (Value::Place(was), Value::Place(to), Value::Place(there), _) => {
            Value::Place(if there == mirror(was) { mirror(to) } else { there + mirror(to - was) })
        }
        (_, Value::Number(to), _, Parameter::Length(link)) => {
            match [assembly, other].map(|one| one.length(car, link)) {
                [Some(here), Some(there)] if (here - there).abs() > SAME => {
                    Value::Number(there + (to - here))
                }
                _ => Value::Number(to),
            }
        }
        _ => to.mirrored(),
    })
}

/// Where a point is that is pulled so far along a guide on the car in which the step began.
fn pulled(
    cars: Cars<'_>,
    (assembly, hardpoint): (Assembly, Hardpoint),
    (guide, by): (&Guide, [f64; 2]),
    mirrored: bool,
    lengths: LengthUnit,
) -> Result<Vec<(Assembly, Value)>, String> {
    let parameter = Parameter::Point(hardpoint);
    let from = value(cars.start, assembly, parameter)?;
    let Value::Place(place) = from else { return Ok(Vec::new()) };
    if by.iter().all(|distance| distance.abs() < SAME) {
        return Ok(Vec::new());
    }
    let to = Value::Place(place + guide.shift(by));
    let mut all = set(cars.start, (assembly, parameter), to, mirrored, lengths)?;
    // Pulled back to where the original car has it, it is there to the last bit.
    for (one, now) in &mut all {
        let was = value(cars.original, *one, parameter)?;
        if let (Value::Place(there), Value::Place(here)) = (was, *now)
            && (here - there).amax() < SAME
        {
            *now = was;
        }
    }
    Ok(all)
}

fn mirror(v: Vector3<f64>) -> Vector3<f64> {
    Vector3::new(v.x, -v.y, v.z)
}

/// What a step did, in words.
pub(super) fn name_of(before: &Car, after: &Car, edit: &CarEdit, lengths: LengthUnit) -> String {
    let on = |assembly: Assembly, mirrored: bool| match assembly {
        Assembly::Corner(at) if mirrored => format!("{} both", at.end),
        _ => assembly.to_string(),
    };
    match edit {
        CarEdit::Set { assembly, parameter, mirrored, .. } => {
            let by = difference(before, after, (*assembly, *parameter), lengths);
            match parameter {
                Parameter::Length(link) => format!("{link}, {}: length {by}", on(*assembly, *mirrored)),
                _ => format!("{parameter}, {}: {by}", on(*assembly, *mirrored)),
            }
        }
        CarEdit::Pull { assembly, hardpoint, guide, mirrored, .. } => {
            let of = |car: &Car| assembly.point(car, *hardpoint).unwrap_or_default();
            let by = guide.amounts(of(after) - of(before));
            format!("{hardpoint}, {}: {}", on(*assembly, *mirrored), guide.in_words(by, lengths))
        }
        CarEdit::Reset { assembly, parameter, mirrored } => {
            format!("{parameter}, {}: back to the original", on(*assembly, *mirrored))
        }
        CarEdit::Propose { proposal, on_top: false } => format!("proposal: {}", proposal.name),
        CarEdit::Propose { proposal, on_top: true } => format!("proposal added: {}", proposal.name),
        CarEdit::ResetCar => "whole car back to the original".into(),
    }
}

/// By how much a parameter differs between two cars, in words.
fn difference(
    before: &Car,
    after: &Car,
    (assembly, parameter): (Assembly, Parameter),
    lengths: LengthUnit,
) -> String {
    let unit = parameter.unit();
    let [was, now] = [before, after].map(|car| parameter.value(car, assembly));
    match (parameter, was, now) {
        (_, Some(Value::Place(was)), Some(Value::Place(now))) => moved(now - was, lengths),
        (Parameter::Length(_), Some(_), Some(Value::FromPoints)) => "follows from its points".into(),
        (Parameter::Length(link), ..) => {
            let [was, now] = [before, after].map(|car| assembly.length(car, link).unwrap_or_default());
            unit.write_change(was, now, lengths)
        }
        (_, Some(Value::Number(was)), Some(Value::Number(now))) => unit.write_change(was, now, lengths),
        _ => String::new(),
    }
}

/// How far a place has moved along each axis, in words.
fn moved(by: Vector3<f64>, lengths: LengthUnit) -> String {
    let mut said = String::new();
    for axis in Axis::ALL {
        let here = by[axis.index()];
        if here.abs() > 5e-6 {
            let gap = if said.is_empty() { "" } else { ", " };
            let change = Unit::Length.write_change(0.0, here, lengths);
            let _ = write!(said, "{gap}{} {change}", axis.letter());
        }
    }
    if said.is_empty() { "not moved".into() } else { said }
}

/// A small difference in writing, to three digits that count, with + where it is more; of a number as a
/// person is shown it.
#[must_use]
pub fn signed_finely(unit: Unit, shown: f64, lengths: LengthUnit) -> String {
    let number = significant(shown, 3);
    let sign = if shown > 0.0 { "+" } else { "" };
    unit.with_symbol(format!("{sign}{number}"), lengths)
}
