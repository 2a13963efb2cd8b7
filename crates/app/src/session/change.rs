//! A change of geometry, carried out on a plain car, and its name in words.

use super::edit::{Bound, Change, WheelNumber};
use super::{Guide, Handle};
use nalgebra::Vector3;
use std::fmt::Write;
use wheelpath_geometry::{
    Assembly, Axis, Car, Corner, Hardpoint, LengthUnit, Link, Side, Unit, Wheel, WheelNumber as Kept,
    WheelPosition,
};
use wheelpath_report::significant;

/// Further from the origin than this no point of a car stands, metres.
const FURTHEST: f64 = 50.0;

/// Nearer than this to its place in the original a pulled point is back there, metres.
const BACK: f64 = 1e-12;

/// What a change is made to: changes of one thing in a row make one step of undo.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Target {
    Hardpoint(Assembly, Hardpoint, bool),
    Pull(Assembly, Hardpoint, Handle, bool),
    Link(Assembly, Link, bool),
    Wheel(WheelPosition, WheelNumber, bool),
    Bound(usize, Bound),
    Whole,
}

impl Change {
    pub(super) fn target(&self) -> Target {
        match *self {
            Change::MoveHardpoint { assembly, hardpoint, mirrored, .. }
            | Change::ResetHardpoint { assembly, hardpoint, mirrored } => {
                Target::Hardpoint(assembly, hardpoint, mirrored)
            }
            Change::Pull { assembly, hardpoint, guide, mirrored, .. } => {
                Target::Pull(assembly, hardpoint, guide.handle, mirrored)
            }
            Change::SetLength { assembly, link, mirrored, .. } => Target::Link(assembly, link, mirrored),
            Change::SetWheel { wheel, number, mirrored, .. } => Target::Wheel(wheel, number, mirrored),
            Change::ResetCar | Change::Propose { .. } => Target::Whole,
        }
    }

    /// Whether changes in a row make one step.
    pub(super) fn joins(&self) -> bool {
        !matches!(self, Change::ResetHardpoint { .. } | Change::ResetCar | Change::Propose { .. })
    }
}

/// The car after a change; the reason where the change makes no sense at all. `start` is the car in
/// which the step began.
pub(super) fn changed(car: &Car, start: &Car, original: &Car, change: &Change) -> Result<Car, String> {
    let mut to = car.clone();
    match change {
        Change::MoveHardpoint { assembly, hardpoint, to: place, mirrored } => {
            to = moved(car, (*assembly, *hardpoint), *place, *mirrored)?;
        }
        Change::Pull { assembly, hardpoint, guide, by, mirrored } => {
            to = pulled(start, original, (*assembly, *hardpoint), (guide, *by), *mirrored)?;
        }
        Change::ResetHardpoint { assembly, hardpoint, mirrored } => {
            for of in assembly.with_mirrored(*mirrored) {
                of.hardpoints_mut(&mut to).set(*hardpoint, point(original, of, *hardpoint)?);
            }
        }
        Change::SetLength { assembly, link, length, mirrored } => {
            if !(length.is_finite() && *length > 0.0 && *length < FURTHEST) {
                return Err(format!("{link}, {assembly}: a length is more than nothing"));
            }
            let was = |of: Assembly| of.length(car, *link).ok_or_else(|| format!("{of} has no {link}"));
            let by = length - was(*assembly)?;
            for of in assembly.with_mirrored(*mirrored) {
                let length = if of == *assembly { *length } else { was(of)? + by };
                of.set_length(&mut to, *link, Some(length));
            }
        }
        Change::SetWheel { wheel, number, to: value, mirrored } => {
            if !(value.is_finite() && value.abs() < FURTHEST) {
                return Err(format!("{}, {wheel}: no number a wheel could have", number.label()));
            }
            let sides = Assembly::from(*wheel).with_mirrored(*mirrored);
            for at in sides.into_iter().filter_map(Assembly::wheel) {
                let across = at != *wheel && *number == WheelNumber::Centre(Axis::Y);
                set_wheel(to.corner_mut(at), at.side, *number, if across { -value } else { *value });
            }
        }
        Change::Propose { proposal, on_top } => {
            let on = if *on_top { car } else { original };
            to = proposal.applied(on).map_err(|cannot| cannot.to_string())?.car;
        }
        Change::ResetCar => to = original.clone(),
    }
    Ok(to)
}

/// The car with a point somewhere else, and the other side's moved by the mirrored amount.
fn moved(
    car: &Car,
    (assembly, hardpoint): (Assembly, Hardpoint),
    place: Vector3<f64>,
    mirrored: bool,
) -> Result<Car, String> {
    let from = point(car, assembly, hardpoint)?;
    if !(place.iter().all(|x| x.is_finite()) && place.amax() < FURTHEST) {
        return Err(format!(
            "{hardpoint}, {assembly}: a point cannot stand there. Coordinates in millimetres stay under {:.0} m.",
            FURTHEST
        ));
    }
    let mut to = car.clone();
    assembly.hardpoints_mut(&mut to).set(hardpoint, place);
    if let Some(other) = assembly.opposite().filter(|_| mirrored) {
        let there = point(car, other, hardpoint)?;
        // An exact mirror image stays one to the last bit; otherwise both move alike.
        let moved = if there == mirror(from) { mirror(place) } else { there + mirror(place - from) };
        other.hardpoints_mut(&mut to).set(hardpoint, moved);
    }
    Ok(to)
}

/// The car in which a step began, with a point pulled so far along a guide.
fn pulled(
    start: &Car,
    original: &Car,
    (assembly, hardpoint): (Assembly, Hardpoint),
    (guide, by): (&Guide, [f64; 2]),
    mirrored: bool,
) -> Result<Car, String> {
    let from = point(start, assembly, hardpoint)?;
    if by.iter().all(|distance| distance.abs() < BACK) {
        return Ok(start.clone());
    }
    let mut to = moved(start, (assembly, hardpoint), from + guide.shift(by), mirrored)?;
    // Pulled back to where the original car has it, it is there to the last bit.
    for of in assembly.with_mirrored(mirrored) {
        let (now, was) = (point(&to, of, hardpoint)?, point(original, of, hardpoint)?);
        if (now - was).amax() < BACK {
            of.hardpoints_mut(&mut to).set(hardpoint, was);
        }
    }
    Ok(to)
}

fn point(car: &Car, assembly: Assembly, hardpoint: Hardpoint) -> Result<Vector3<f64>, String> {
    assembly.hardpoints(car).get(hardpoint).ok_or_else(|| format!("{assembly} has no {hardpoint}"))
}

fn mirror(v: Vector3<f64>) -> Vector3<f64> {
    Vector3::new(v.x, -v.y, v.z)
}

/// Static camber and toe of a wheel, radians, as its spin axis has them.
#[must_use]
pub fn static_angles(wheel: &Wheel, side: Side) -> (f64, f64) {
    wheelpath_geometry::static_angles(&wheel.spin_axis, side)
}

/// A coordinate of the wheel centre, or a number that is kept elsewhere.
fn kept(number: WheelNumber) -> Result<Axis, Kept> {
    match number {
        WheelNumber::Centre(axis) => Ok(axis),
        WheelNumber::TyreRadius => Err(Kept::TyreRadius),
        WheelNumber::Camber => Err(Kept::Camber),
        WheelNumber::Toe => Err(Kept::Toe),
    }
}

/// A number of a wheel in the design pose, metres or radians.
#[must_use]
pub fn wheel_number(corner: &Corner, side: Side, number: WheelNumber) -> f64 {
    match kept(number) {
        Ok(axis) => corner.wheel.centre[axis.index()],
        Err(number) => number.of(corner, side),
    }
}

fn set_wheel(corner: &mut Corner, side: Side, number: WheelNumber, to: f64) {
    match kept(number) {
        Ok(axis) => corner.wheel.centre[axis.index()] = to,
        Err(number) => number.set(corner, side, to),
    }
}

/// What a step did, in words.
pub(super) fn name_of(before: &Car, after: &Car, change: &Change, lengths: LengthUnit) -> String {
    let place = |assembly: Assembly, mirrored: bool| match assembly {
        Assembly::Corner(at) if mirrored => format!("{} both", at.end),
        _ => assembly.to_string(),
    };
    match change {
        Change::MoveHardpoint { assembly, hardpoint, mirrored, .. } => {
            let of = |car: &Car| assembly.hardpoints(car).get(*hardpoint).unwrap_or_default();
            let by = of(after) - of(before);
            let mut said = format!("{hardpoint}, {}: ", place(*assembly, *mirrored));
            let mut moved = false;
            for axis in Axis::ALL {
                let here = by[axis.index()];
                if here.abs() > 5e-6 {
                    let gap = if moved { ", " } else { "" };
                    let _ = write!(
                        said,
                        "{gap}{} {}",
                        axis.letter(),
                        Unit::Length.write_change(0.0, here, lengths)
                    );
                    moved = true;
                }
            }
            if moved { said } else { format!("{said}not moved") }
        }
        Change::Pull { assembly, hardpoint, guide, mirrored, .. } => {
            let of = |car: &Car| assembly.hardpoints(car).get(*hardpoint).unwrap_or_default();
            let by = guide.amounts(of(after) - of(before));
            format!("{hardpoint}, {}: {}", place(*assembly, *mirrored), guide.in_words(by, lengths))
        }
        Change::ResetHardpoint { assembly, hardpoint, mirrored } => {
            format!("{hardpoint}, {}: back to the original", place(*assembly, *mirrored))
        }
        Change::SetLength { assembly, link, mirrored, .. } => {
            let of = |car: &Car| assembly.length(car, *link).unwrap_or_default();
            let by = Unit::Length.write_change(of(before), of(after), lengths);
            format!("{link}, {}: length {by}", place(*assembly, *mirrored))
        }
        Change::SetWheel { wheel, number, mirrored, .. } => {
            let of = |car: &Car| wheel_number(car.corner(*wheel), wheel.side, *number);
            let unit = if number.is_angle() { Unit::Degree } else { Unit::Length };
            format!(
                "{}, {}: {}",
                number.label(),
                place(Assembly::Corner(*wheel), *mirrored),
                unit.write_change(of(before), of(after), lengths)
            )
        }
        Change::Propose { proposal, on_top: false } => format!("proposal: {}", proposal.name),
        Change::Propose { proposal, on_top: true } => format!("proposal added: {}", proposal.name),
        Change::ResetCar => "whole car back to the original".into(),
    }
}

/// A small difference in writing, to three digits that count, with + where it is more; of a number as a
/// person is shown it.
#[must_use]
pub fn signed_finely(unit: Unit, shown: f64, lengths: LengthUnit) -> String {
    let number = significant(shown, 3);
    let sign = if shown > 0.0 { "+" } else { "" };
    unit.with_symbol(format!("{sign}{number}"), lengths)
}
