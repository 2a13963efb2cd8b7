//! A named set of changes to a car: small enough to read, and never a copy of the car.

use crate::car::Car;
use crate::car::hardpoint::Hardpoint;
use crate::car::parameter::Parameter;
use crate::car::position::{End, Side};
use crate::change::assembly::Assembly;
use crate::change::selection::Selection;
use crate::change::value::{SAME, Value};
use crate::number::unit::LengthUnit;
use nalgebra::Vector3;
use std::fmt::Write;
use thiserror::Error;

/// A named set of changes to a car.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Proposal {
    /// Its name.
    pub name: String,
    /// What it is for.
    pub about: Option<String>,
    /// The changes, in the order in which they are made.
    pub changes: Vec<Change>,
}

/// One change of a car.
#[derive(Clone, Debug, PartialEq)]
pub enum Change {
    /// A thing is now something else.
    Set {
        /// The assembly, or both sides of an axle.
        of: Selection,
        /// The parameter.
        parameter: Parameter,
        /// What it was on the car that the proposal was made for.
        was: Value,
        /// What it is to be.
        now: Value,
        /// Half of the last digit that each number of `was` is written with, metres, radians or plain, along
        /// the vehicle's axes; of a single number the first. Zeros where no file says it.
        was_within: [f64; 3],
    },
    /// Shims under a bracket: points go the same way by the same thickness.
    Shim {
        /// The assembly, or both sides of an axle.
        of: Selection,
        /// Which points.
        points: Vec<Hardpoint>,
        /// Unit direction in vehicle axes.
        along: Vector3<f64>,
        /// How thick, metres; negative takes shims out.
        thickness: f64,
    },
}

/// A car with a proposal made.
#[derive(Clone, Debug, PartialEq)]
pub struct Applied {
    /// The car.
    pub car: Car,
    /// What was not as the proposal says it was, to the digits that it is written with.
    pub elsewhere: Vec<Elsewhere>,
}

/// A thing that is not as a proposal says it was.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Elsewhere {
    /// Place of the change in the proposal.
    pub change: usize,
    /// The assembly.
    pub assembly: Assembly,
    /// The parameter.
    pub parameter: Parameter,
    /// What the proposal says it was.
    pub was: Value,
    /// What it is; of a link whose length follows from its points, their distance.
    pub found: Value,
    /// What it became: moved by as much as the proposal says, from where it stands.
    pub made: Value,
}

/// Why a proposal cannot be made on a car.
#[derive(Clone, Debug, PartialEq, Error)]
#[error("proposal \"{proposal}\", change {}: {}", change + 1, self.reason())]
pub struct CannotApply {
    /// The proposal's name.
    pub proposal: String,
    /// Place of the change in the proposal.
    pub change: usize,
    /// The assembly.
    pub assembly: Assembly,
    /// The parameter.
    pub parameter: Parameter,
    /// Whether the assembly has it, and it cannot take the value.
    pub is_there: bool,
}

impl CannotApply {
    fn reason(&self) -> String {
        let CannotApply { assembly, parameter, .. } = self;
        if self.is_there {
            format!("{parameter}, {assembly}, cannot take that value")
        } else {
            format!("the {assembly} has no {parameter}")
        }
    }
}

/// One parameter of one assembly that a change changes.
struct Part {
    assembly: Assembly,
    parameter: Parameter,
    how: How,
}

/// How a thing changes.
enum How {
    /// From this, to within so much, to that.
    Set { was: Value, now: Value, was_within: [f64; 3] },
    /// By this much.
    By(Vector3<f64>),
}

impl Change {
    /// A thing that is now something else; `was` is what it was, to its last digit.
    #[must_use]
    pub fn set(of: Selection, parameter: Parameter, was: Value, now: Value) -> Change {
        Change::Set { of, parameter, was, now, was_within: [0.0; 3] }
    }

    /// Each thing it changes, with how.
    fn parts(&self) -> Vec<Part> {
        let of_sides = |of: Selection| of.assemblies().into_iter().enumerate();
        match self {
            Change::Set { of, parameter, was, now, was_within } => of_sides(*of)
                .map(|(n, assembly)| {
                    let there = |value: Value| if n == 0 { value } else { value.mirrored() };
                    let how = How::Set { was: there(*was), now: there(*now), was_within: *was_within };
                    Part { assembly, parameter: *parameter, how }
                })
                .collect(),
            Change::Shim { of, points, along, thickness } => of_sides(*of)
                .flat_map(|(n, assembly)| {
                    let sign = if n == 0 { 1.0 } else { -1.0 };
                    let by = Vector3::new(along.x, sign * along.y, along.z) * *thickness;
                    let part = move |&hardpoint: &Hardpoint| Part {
                        assembly,
                        parameter: Parameter::Point(hardpoint),
                        how: How::By(by),
                    };
                    points.iter().map(part)
                })
                .collect(),
        }
    }

    /// The things it changes.
    pub fn touched(&self) -> impl Iterator<Item = (Assembly, Parameter)> {
        self.parts().into_iter().map(|part| (part.assembly, part.parameter))
    }

    /// In words: what goes where by how much.
    #[must_use]
    pub fn said(&self, lengths: LengthUnit) -> String {
        match self {
            Change::Set { of, parameter, was, now, .. } => {
                let unit = parameter.unit();
                let change = match (was, now) {
                    (Value::Place(was), Value::Place(now)) => {
                        let mut said = String::new();
                        for (letter, by) in ["X", "Y", "Z"].iter().zip((now - was).iter()) {
                            let number = unit.write(*by, lengths);
                            if by.abs() > 1e-9 {
                                let gap = if said.is_empty() { "" } else { ", " };
                                let plus = if *by > 0.0 { "+" } else { "" };
                                let _ = write!(said, "{gap}{letter} {plus}{number}");
                            }
                        }
                        said
                    }
                    _ => format!("{} to {}", was.written(unit, lengths), now.written(unit, lengths)),
                };
                format!("{parameter}, {of}: {change}")
            }
            Change::Shim { of, points, along, thickness } => {
                let names: Vec<String> = points.iter().map(ToString::to_string).collect();
                let [x, y, z] = [along.x, along.y, along.z].map(|c| format!("{c:.3}").replace('-', "−"));
                let by = crate::number::unit::Unit::Length.write(*thickness, lengths);
                format!("shim {by} along ({x}, {y}, {z}) under {}, {of}", names.join(" and "))
            }
        }
    }
}

impl Proposal {
    /// An empty proposal.
    #[must_use]
    pub fn new(name: &str) -> Proposal {
        Proposal { name: name.to_owned(), about: None, changes: Vec::new() }
    }

    /// The changes that make one car of another, as far as they are [`Parameter`]s. What both sides of an axle
    /// do alike is said once.
    #[must_use]
    pub fn between(name: &str, from: &Car, to: &Car) -> Proposal {
        let mut proposal = Proposal::new(name);
        for end in End::BOTH {
            let [left, right] = Side::BOTH.map(|side| Assembly::corner(end, side));
            for parameter in Parameter::all(left) {
                let of = |assembly| changed(parameter, from, to, assembly);
                let mut put = |of, (was, now)| proposal.changes.push(Change::set(of, parameter, was, now));
                match (of(left), of(right)) {
                    (Some(l), Some(r)) if l.0.mirrored().is(r.0) && l.1.mirrored().is(r.1) => {
                        put(Selection::Both(end), l);
                    }
                    (l, r) => {
                        if let Some(l) = l {
                            put(Selection::One(left), l);
                        }
                        if let Some(r) = r {
                            put(Selection::One(right), r);
                        }
                    }
                }
            }
            let axle = Assembly::Axle(end);
            for parameter in Parameter::all(axle) {
                if let Some((was, now)) = changed(parameter, from, to, axle) {
                    proposal.changes.push(Change::set(Selection::One(axle), parameter, was, now));
                }
            }
        }
        proposal
    }

    /// The car with all changes made, in order. A thing that is as the proposal says it was, to the digits
    /// that it is written with, becomes what the proposal says it is to be. Any other is moved by as much as
    /// the proposal says, from where it stands, and is listed. A coordinate that a change leaves alone stays.
    /// The length of a link that follows from its points counts as their distance.
    ///
    /// # Errors
    /// The first change of something that the car does not have.
    pub fn applied(&self, car: &Car) -> Result<Applied, CannotApply> {
        let mut after = car.clone();
        let mut elsewhere = Vec::new();
        for (change, one) in self.changes.iter().enumerate() {
            for Part { assembly, parameter, how } in one.parts() {
                let cannot = |is_there| CannotApply {
                    proposal: self.name.clone(),
                    change,
                    assembly,
                    parameter,
                    is_there,
                };
                let found = parameter.value(&after, assembly).ok_or_else(|| cannot(false))?;
                let to = match (how, found) {
                    (How::Set { was, now, was_within }, _) => {
                        let stands = Standing { found, drawn: drawn(parameter, assembly, [&after, car]) };
                        if stands.agrees(was, was_within) {
                            stands.set(was, now)
                        } else {
                            let (found, made) = (stands.in_numbers(), stands.moved(was, now));
                            elsewhere.push(Elsewhere { change, assembly, parameter, was, found, made });
                            made
                        }
                    }
                    (How::By(by), Value::Place(at)) => Value::Place(at + by),
                    (How::By(_), _) => return Err(cannot(true)),
                };
                if !parameter.set(&mut after, assembly, to) {
                    return Err(cannot(true));
                }
            }
        }
        Ok(Applied { car: after, elsewhere })
    }

    /// The things that both proposals change: made one after the other, their moves add up.
    #[must_use]
    pub fn overlap(&self, other: &Proposal) -> Vec<(Assembly, Parameter)> {
        let mine: Vec<_> = self.changes.iter().flat_map(Change::touched).collect();
        let mut both: Vec<_> =
            other.changes.iter().flat_map(Change::touched).filter(|one| mine.contains(one)).collect();
        both.sort_by_key(|(assembly, parameter)| (assembly.end(), assembly.side(), *parameter));
        both.dedup();
        both
    }

    /// What this proposal becomes when it is to make `to` of `from`: name, words and shims stay, and the rest
    /// says what is still to do.
    ///
    /// # Errors
    /// As [`applied`](Self::applied), for the shims.
    pub fn revised(&self, from: &Car, to: &Car) -> Result<Proposal, CannotApply> {
        let shims = self.changes.iter().filter(|change| matches!(change, Change::Shim { .. }));
        let mut revised = Proposal { changes: shims.cloned().collect(), ..self.clone() };
        let shimmed = revised.applied(from)?.car;
        revised.changes.extend(Proposal::between("", &shimmed, to).changes);
        Ok(revised)
    }

    /// One proposal that does what these do one after the other.
    ///
    /// # Errors
    /// As [`applied`](Self::applied).
    pub fn combined(name: &str, car: &Car, all: &[&Proposal]) -> Result<Proposal, CannotApply> {
        let mut after = car.clone();
        for one in all {
            after = one.applied(&after)?.car;
        }
        Ok(Proposal::between(name, car, &after))
    }
}

/// A thing as it stands when a change is made.
struct Standing {
    found: Value,
    /// Of a link, the distance of its points now and before the proposal, metres.
    drawn: Option<[f64; 2]>,
}

/// The distance of a link's points on each car.
fn drawn(parameter: Parameter, assembly: Assembly, cars: [&Car; 2]) -> Option<[f64; 2]> {
    let Parameter::Length(link) = parameter else { return None };
    let [now, before] = cars.map(|car| assembly.between_ends(car, link));
    Some([now?, before?])
}

impl Standing {
    /// The number of a length: stated, or the distance of its points now.
    fn number(&self, value: Value) -> Option<f64> {
        match value {
            Value::Number(number) => Some(number),
            Value::FromPoints => self.drawn.map(|[now, _]| now),
            Value::Place(_) => None,
        }
    }

    /// As found; a length that follows from its points as their distance.
    fn in_numbers(&self) -> Value {
        self.number(self.found).map_or(self.found, Value::Number)
    }

    /// Whether it is as the proposal says it was, to within so much.
    fn agrees(&self, was: Value, within: [f64; 3]) -> bool {
        // A distance that ends in a five may be written either way.
        let near = |a: f64, b: f64, within: f64| (a - b).abs() <= SAME.max(within * (1.0 + 1e-6));
        match (self.found, was) {
            (Value::Place(here), Value::Place(was)) => (0..3).all(|i| near(here[i], was[i], within[i])),
            // Written of the car as it was: a change before this one may have moved its points.
            (Value::FromPoints, Value::Number(was)) => {
                self.drawn.is_some_and(|drawn| drawn.iter().any(|here| near(*here, was, within[0])))
            }
            (Value::Number(here), Value::Number(was)) => near(here, was, within[0].max(here.abs() * 1e-15)),
            (here, Value::FromPoints) => {
                here == was || self.number(here).zip(self.number(was)).is_some_and(|(a, b)| near(a, b, 0.0))
            }
            _ => false,
        }
    }

    /// What becomes of it where it is as the proposal says it was.
    fn set(&self, was: Value, now: Value) -> Value {
        match (self.found, was, now) {
            (Value::Place(here), Value::Place(was), Value::Place(now)) => Value::Place(here.zip_zip_map(
                &was,
                &now,
                |here, was, now| if (now - was).abs() > 0.0 { now } else { here },
            )),
            _ if was == now => self.found,
            _ => now,
        }
    }

    /// What becomes of it where it is not: moved by as much. What is to follow from its points does so.
    fn moved(&self, was: Value, now: Value) -> Value {
        match (self.found, was, now) {
            (Value::Place(here), Value::Place(was), Value::Place(now)) => Value::Place(here + (now - was)),
            _ if was == now => self.found,
            (_, _, Value::FromPoints) => now,
            (here, ..) => match [here, was, now].map(|value| self.number(value)) {
                [Some(here), Some(was), Some(now)] => Value::Number(here + (now - was)),
                _ => now,
            },
        }
    }
}

/// What a thing was and is, where it differs by more than rounding.
fn changed(parameter: Parameter, from: &Car, to: &Car, assembly: Assembly) -> Option<(Value, Value)> {
    let (was, now) = (parameter.value(from, assembly)?, parameter.value(to, assembly)?);
    (!was.is(now)).then_some((was, now))
}
