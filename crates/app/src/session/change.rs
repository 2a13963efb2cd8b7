//! A change of geometry, carried out on a plain car, and its name in words.

use super::edit::{Axis, Change, WheelNumber, opposite, sides};
use nalgebra::Vector3;
use std::fmt::Write;
use wheelpath_geometry::{
    CamberBy, Car, Corner, LengthUnit, Link, Pickup, Side, ToeBy, Unit, Wheel, WheelAt, spin_axis_from_angles,
};

/// Further from the origin than this no point of a car stands, metres.
const FURTHEST: f64 = 50.0;

/// What a change is made to: changes of one thing in a row make one step of undo.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Target {
    Pickup(WheelAt, Pickup, bool),
    Link(WheelAt, Link, bool),
    Wheel(WheelAt, WheelNumber, bool),
    Whole,
}

impl Change {
    pub(super) fn target(&self) -> Target {
        match *self {
            Change::MovePickup { wheel, pickup, mirrored, .. }
            | Change::ResetPickup { wheel, pickup, mirrored } => Target::Pickup(wheel, pickup, mirrored),
            Change::SetLength { wheel, link, mirrored, .. } => Target::Link(wheel, link, mirrored),
            Change::SetWheel { wheel, number, mirrored, .. } => Target::Wheel(wheel, number, mirrored),
            Change::ResetCar | Change::Replace(_) => Target::Whole,
        }
    }

    /// Whether changes in a row make one step.
    pub(super) fn joins(&self) -> bool {
        !matches!(self, Change::ResetPickup { .. } | Change::ResetCar | Change::Replace(_))
    }
}

/// The car after a change; the reason where the change makes no sense at all.
pub(super) fn changed(car: &Car, original: &Car, change: &Change) -> Result<Car, String> {
    let mut to = car.clone();
    match change {
        Change::MovePickup { wheel, pickup, to: place, mirrored } => {
            let from = point(car, *wheel, *pickup)?;
            if !(place.iter().all(|x| x.is_finite()) && place.amax() < FURTHEST) {
                return Err(format!(
                    "{pickup}, {wheel}: a point cannot stand there. Coordinates in millimetres stay under {:.0} m.",
                    FURTHEST
                ));
            }
            to.corner_mut(*wheel).pickups.set(*pickup, *place);
            if *mirrored {
                let other = opposite(*wheel);
                let there = point(car, other, *pickup)?;
                // An exact mirror image stays one to the last bit; otherwise both move alike.
                let moved = if there == mirror(from) { mirror(*place) } else { there + mirror(place - from) };
                to.corner_mut(other).pickups.set(*pickup, moved);
            }
        }
        Change::ResetPickup { wheel, pickup, mirrored } => {
            for at in sides(*wheel, *mirrored) {
                to.corner_mut(at).pickups.set(*pickup, point(original, at, *pickup)?);
            }
        }
        Change::SetLength { wheel, link, length, mirrored } => {
            if !(length.is_finite() && *length > 0.0 && *length < FURTHEST) {
                return Err(format!("{link}, {wheel}: a length is more than nothing"));
            }
            let by = length - length_of(car.corner(*wheel), *link).ok_or_else(|| no_link(*wheel, *link))?;
            for at in sides(*wheel, *mirrored) {
                let was = length_of(car.corner(at), *link).ok_or_else(|| no_link(at, *link))?;
                set_length(to.corner_mut(at), *link, if at == *wheel { *length } else { was + by });
            }
        }
        Change::SetWheel { wheel, number, to: value, mirrored } => {
            if !(value.is_finite() && value.abs() < FURTHEST) {
                return Err(format!("{}, {wheel}: no number a wheel could have", number.label()));
            }
            for at in sides(*wheel, *mirrored) {
                let across = at != *wheel && *number == WheelNumber::Centre(Axis::Y);
                set_wheel(to.corner_mut(at), at.side, *number, if across { -value } else { *value });
            }
        }
        Change::ResetCar => to = original.clone(),
        Change::Replace(other) => to = (**other).clone(),
    }
    Ok(to)
}

fn point(car: &Car, at: WheelAt, pickup: Pickup) -> Result<Vector3<f64>, String> {
    car.corner(at).pickups.get(pickup).ok_or_else(|| format!("{at} has no {pickup}"))
}

fn no_link(at: WheelAt, link: Link) -> String {
    format!("{at} has no {link}")
}

fn mirror(v: Vector3<f64>) -> Vector3<f64> {
    Vector3::new(v.x, -v.y, v.z)
}

/// The length of a link in the design pose, metres, if the corner has it.
#[must_use]
pub fn length_of(corner: &Corner, link: Link) -> Option<f64> {
    let (inner, outer) = link.ends();
    let between = (corner.pickups.get(outer)? - corner.pickups.get(inner)?).norm();
    let given = corner.lengths.iter().find(|(one, _)| *one == link);
    Some(given.map_or(between, |(_, length)| *length))
}

fn set_length(corner: &mut Corner, link: Link, length: f64) {
    match corner.lengths.iter_mut().find(|(one, _)| *one == link) {
        Some((_, given)) => *given = length,
        None => {
            corner.lengths.push((link, length));
            corner.lengths.sort_by_key(|(link, _)| *link);
        }
    }
}

/// Static camber and toe of a wheel, radians, as its spin axis has them.
#[must_use]
pub fn static_angles(wheel: &Wheel, side: Side) -> (f64, f64) {
    let a = wheel.spin_axis * side.sign();
    (-wheel.spin_axis.z.clamp(-1.0, 1.0).asin(), -side.sign() * (-a.x).atan2(a.y))
}

/// A number of a wheel in the design pose, metres or radians.
#[must_use]
pub fn wheel_number(corner: &Corner, side: Side, number: WheelNumber) -> f64 {
    let (camber, toe) = static_angles(&corner.wheel, side);
    match number {
        WheelNumber::Centre(axis) => corner.wheel.centre[axis.index()],
        WheelNumber::TyreRadius => corner.wheel.tyre_radius,
        WheelNumber::Camber => match corner.alignment.camber {
            CamberBy::Adjuster(wanted) => wanted,
            CamberBy::Points => camber,
        },
        WheelNumber::Toe => match corner.alignment.toe {
            ToeBy::TieRodLength(wanted) => wanted,
            ToeBy::Points => toe,
        },
    }
}

fn set_wheel(corner: &mut Corner, side: Side, number: WheelNumber, to: f64) {
    let (camber, toe) = static_angles(&corner.wheel, side);
    match number {
        WheelNumber::Centre(axis) => corner.wheel.centre[axis.index()] = to,
        WheelNumber::TyreRadius => corner.wheel.tyre_radius = to,
        WheelNumber::Camber => match &mut corner.alignment.camber {
            CamberBy::Adjuster(wanted) => *wanted = to,
            CamberBy::Points => corner.wheel.spin_axis = spin_axis_from_angles(side, to, toe),
        },
        WheelNumber::Toe => match &mut corner.alignment.toe {
            ToeBy::TieRodLength(wanted) => *wanted = to,
            ToeBy::Points => corner.wheel.spin_axis = spin_axis_from_angles(side, camber, to),
        },
    }
}

/// What a step did, in words.
pub(super) fn name_of(before: &Car, after: &Car, change: &Change) -> String {
    let place = |wheel: &WheelAt, mirrored: &bool| {
        if *mirrored { format!("{} both", wheel.end) } else { wheel.to_string() }
    };
    match change {
        Change::MovePickup { wheel, pickup, mirrored, .. } => {
            let of = |car: &Car| car.corner(*wheel).pickups.get(*pickup).unwrap_or_default();
            let by = of(after) - of(before);
            let mut said = format!("{pickup}, {}: ", place(wheel, mirrored));
            let mut moved = false;
            for axis in Axis::ALL {
                let here = by[axis.index()];
                if here.abs() > 5e-6 {
                    let gap = if moved { ", " } else { "" };
                    let _ = write!(said, "{gap}{} {}", axis.letter(), signed(Unit::Length, here));
                    moved = true;
                }
            }
            if moved { said } else { format!("{said}not moved") }
        }
        Change::ResetPickup { wheel, pickup, mirrored } => {
            format!("{pickup}, {}: back to the original", place(wheel, mirrored))
        }
        Change::SetLength { wheel, link, mirrored, .. } => {
            let of = |car: &Car| length_of(car.corner(*wheel), *link).unwrap_or_default();
            let by = signed(Unit::Length, of(after) - of(before));
            format!("{link}, {}: length {by}", place(wheel, mirrored))
        }
        Change::SetWheel { wheel, number, mirrored, .. } => {
            let of = |car: &Car| wheel_number(car.corner(*wheel), wheel.side, *number);
            let unit = if number.is_angle() { Unit::Degree } else { Unit::Length };
            format!(
                "{}, {}: {}",
                number.label(),
                place(wheel, mirrored),
                signed(unit, of(after) - of(before))
            )
        }
        Change::ResetCar => "whole car back to the original".into(),
        Change::Replace(_) => "unsaved changes taken up".into(),
    }
}

/// A difference in writing, with + where it is more.
#[must_use]
pub fn signed(unit: Unit, value: f64) -> String {
    let written = unit.write(value, LengthUnit::Millimetre);
    let nothing = unit.write(0.0, LengthUnit::Millimetre);
    if value > 0.0 && written != nothing { format!("+{written}") } else { written }
}
