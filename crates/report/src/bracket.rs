//! The bracket sheet: where holes of a plate were, where they go, and a full-size template to drill by.

mod clip;
mod doubts;
mod dxf;
mod heading;
mod label;
mod of_bracket;
mod spot;
mod strip;
mod tables;
mod template;
mod tiles;

pub use of_bracket::{NoSheet, PointOf, SheetHoles, moved_points};

use crate::drawing::{Anchor, Drawing, Paper};
use crate::plate::Plate;
use nalgebra::Vector3;
use thiserror::Error;
use wheelpath_geometry::{LengthUnit, Unit, fixed, signed};

/// Decimals of a length on the sheet: a hundredth of a millimetre or a thousandth of an inch, the finest a
/// drill jig is set to.
fn decimals(lengths: LengthUnit) -> usize {
    match lengths {
        LengthUnit::Millimetre => 2,
        LengthUnit::Inch => 3,
    }
}

/// Less than this out of the plane is a plate that is not quite flat, metres. Common practice, no source.
const FLAT: f64 = 0.000_05;
/// The most that is printed of a name or title.
const LONGEST: usize = 140;

/// How exactly a hole must be placed, its links as they are.
#[derive(Clone, Debug, PartialEq)]
pub struct Tolerance {
    /// Where static toe is then brought back by its link.
    pub realigned: Placing,
    /// Where nothing is reset.
    pub as_built: Placing,
    /// The most static toe that has to be taken out of one wheel, radians, where the hole is off by as much as
    /// `realigned` allows; `None` where no link sets toe.
    pub toe_to_take_out: Option<f64>,
    /// Names of limits that are broken before the hole is off at all, and so decide nothing.
    pub broken: Vec<String>,
    /// Names of limits of which that cannot be said.
    pub open: Vec<String>,
}

/// How far off a hole may be in one case.
#[derive(Clone, Debug, PartialEq)]
pub struct Placing {
    /// This far, metres.
    pub within: f64,
    /// Name of the limit that decides that; `None` where none does and the hole may be further off.
    pub decided_by: Option<String>,
}

impl Tolerance {
    /// The narrower of the two cases.
    #[must_use]
    pub fn narrower(&self) -> &Placing {
        if self.realigned.within < self.as_built.within { &self.realigned } else { &self.as_built }
    }

    /// How exactly it is to be placed, to stand large; a limit that is broken already stands beside the number, and
    /// where no other limit decides there is no number. `length` writes a length with its unit.
    #[must_use]
    pub fn headline(&self, length: impl Fn(f64) -> String) -> String {
        let broken = self.broken.join(", ");
        let within = length(self.narrower().within);
        match (broken.is_empty(), &self.narrower().decided_by) {
            (true, _) => format!("place within {within}"),
            (false, Some(_)) => format!("place within {within}, with {broken} failing already"),
            (false, None) => {
                format!("no number: {broken} failing already, mend that before the hole is drilled")
            }
        }
    }

    fn realigned_in_words(&self, within: impl Fn(&Placing) -> String) -> String {
        match self.toe_to_take_out {
            Some(toe) => format!(
                "Realigned (links as they are, static toe reset): {}, with up to {}° of toe to take out",
                within(&self.realigned),
                fixed(toe.to_degrees(), 2)
            ),
            None => "Realigned: the same, no link sets toe here".to_owned(),
        }
    }

    /// What stands under the number: each case, and what decides nothing. `length` writes a length with its unit.
    #[must_use]
    pub fn said(&self, length: impl Fn(f64) -> String) -> Vec<String> {
        let within = |placing: &Placing| match &placing.decided_by {
            Some(limit) => format!("within {} for {limit} to hold", length(placing.within)),
            None if self.broken.is_empty() => {
                format!("{} or more: no limit fails by less", length(placing.within))
            }
            None => format!("{} or more: no other limit fails by less", length(placing.within)),
        };
        let mut all = Vec::new();
        if !self.broken.is_empty() {
            all.push(format!("Failing already, so not counted: {}", self.broken.join(", ")));
        }
        // Where the headline has no number, none stands under it.
        let is_without_number = !self.broken.is_empty() && self.narrower().decided_by.is_none();
        if !is_without_number {
            all.push(format!("As built (links as they are, nothing reset): {}", within(&self.as_built)));
            all.push(self.realigned_in_words(within));
        }
        if !self.open.is_empty() {
            all.push(format!("Cannot be judged, so not counted: {}", self.open.join(", ")));
        }
        all
    }
}

/// A hole that goes somewhere else. Car axes, metres.
#[derive(Clone, Debug, PartialEq)]
pub struct MovedHole {
    /// In words.
    pub name: String,
    /// Its centre before.
    pub old: Vector3<f64>,
    /// Its centre after.
    pub new: Vector3<f64>,
    /// Its diameter, if known.
    pub diameter: Option<f64>,
    /// How exactly it must be placed, if known.
    pub tolerance: Option<Tolerance>,
}

/// A hole that stays and is measured from. Car axes, metres.
#[derive(Clone, Debug, PartialEq)]
pub struct ReferenceHole {
    /// In words.
    pub name: String,
    /// Its centre.
    pub at: Vector3<f64>,
    /// Its diameter, if known.
    pub diameter: Option<f64>,
}

/// All that a bracket sheet says.
#[derive(Clone, Debug, PartialEq)]
pub struct BracketSheet {
    /// The plate or bracket, the heading of the sheet.
    pub part: String,
    /// The car's name.
    pub car: String,
    /// What is proposed, in words.
    pub proposal: String,
    /// The day, as it is to be printed.
    pub date: String,
    /// The plate's plane and the face that is drawn.
    pub plate: Plate,
    /// What moves; at least one.
    pub holes: Vec<MovedHole>,
    /// What stays.
    pub references: Vec<ReferenceHole>,
    /// What is printed on.
    pub paper: Paper,
    /// In what lengths are printed.
    pub lengths: LengthUnit,
}

/// A new hole beside another.
struct Near<'a> {
    hole: &'a MovedHole,
    /// What the other is, in words.
    name: String,
    /// How far apart their centres are in the plane, metres.
    apart: f64,
    /// Centres nearer than this cut, metres; `None` where a diameter is not known.
    reach: Option<f64>,
    /// The smaller of the two diameters, metres.
    narrower: Option<f64>,
}

/// Why there is no sheet.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum BracketFault {
    /// Nothing moves.
    #[error("no hole moves: name at least one with its old and new place")]
    NoHole,
    /// A number is not one.
    #[error("the {what} of hole {name:?} is not a number: give finite metres")]
    NotANumber {
        /// Which hole.
        name: String,
        /// Which of its numbers.
        what: &'static str,
    },
    /// A diameter of nothing or less.
    #[error(
        "hole {name:?} has a diameter of {}: leave it out where it is not known",
        Unit::Length.write_to(*.diameter, *.lengths, decimals(*.lengths))
    )]
    NoDiameter {
        /// Which hole.
        name: String,
        /// As given, metres.
        diameter: f64,
        /// In what it is said.
        lengths: LengthUnit,
    },
    /// Too many sheets of paper.
    #[error(
        "the holes spread over {} by {}, {sheets} sheets of paper at full size and at most {most} are made: \
         leave out reference holes that are far away, or plot the DXF",
        Unit::Length.write_to(*.across, *.lengths, 0),
        Unit::Length.write_to(*.up, *.lengths, 0)
    )]
    TooLarge {
        /// Along u, metres.
        across: f64,
        /// Along v, metres.
        up: f64,
        /// How many sheets that takes.
        sheets: f64,
        /// How many are made.
        most: u32,
        /// In what lengths are said.
        lengths: LengthUnit,
    },
}

impl BracketSheet {
    /// What every new hole would cut into, in words: its own old hole, another hole, a reference hole. Of holes
    /// whose diameter is not known nothing is said.
    #[must_use]
    pub fn cuts(&self) -> Vec<String> {
        let cut = |near: &Near| {
            let words = format!(
                "{}: the new hole cuts into {}, {} between their centres",
                near.hole.name,
                near.name,
                self.with_unit(near.apart)
            );
            near.reach.filter(|reach| near.apart < *reach).map(|_| words)
        };
        self.near().iter().filter_map(cut).collect()
    }

    /// Every new hole beside its own old one, other holes and those that stay; not beside the same hole.
    fn near(&self) -> Vec<Near<'_>> {
        let mut all = Vec::new();
        for (n, hole) in self.holes.iter().enumerate() {
            let own = ("its old hole".to_owned(), hole.old, hole.diameter);
            let others = self.holes.iter().enumerate().filter(|(other, _)| *other != n);
            let others = others.flat_map(|(other, one)| {
                let old = (format!("the old hole of {}", one.name), one.old, one.diameter);
                let new = (format!("the new hole of {}", one.name), one.new, one.diameter);
                // Two new holes are told of once.
                std::iter::once(old).chain((other > n).then_some(new))
            });
            let stay =
                self.references.iter().map(|one| (format!("the hole {}", one.name), one.at, one.diameter));
            for (name, at, diameter) in std::iter::once(own).chain(others).chain(stay) {
                let apart = self.plate.along(&(hole.new - at)).xy().norm();
                // In the same place it is the same hole.
                if apart > 1e-6 {
                    let reach = hole.diameter.zip(diameter).map(|(one, other)| 0.5 * (one + other));
                    let narrower = hole.diameter.zip(diameter).map(|(one, other)| one.min(other));
                    all.push(Near { hole, name, apart, reach, narrower });
                }
            }
        }
        all
    }

    /// The sheet: first the tables, then the template in the plate's plane at full size.
    ///
    /// # Errors
    /// What [`BracketFault`] says.
    pub fn drawing(&self) -> Result<Drawing, BracketFault> {
        self.check()?;
        let mut tables = tables::pages(self);
        let template = template::pages(self, tables.len())?;
        let count = tables.len() + template.len();
        for (index, page) in tables.iter_mut().enumerate() {
            let corner = (page.width - heading::MARGIN, page.height - heading::MARGIN - 1.0);
            page.text(corner, 2.9, Anchor::End, false, &format!("Page {} of {count}", index + 1));
        }
        let title = format!("{}: {}", short(&self.car), short(&self.part));
        let pages = tables.into_iter().chain(template).collect();
        Ok(Drawing { title, pages })
    }

    /// The template as an R12 DXF, in the sheet's lengths, u across and v up; layers OLD, NEW, REFERENCE, CHECK.
    ///
    /// # Errors
    /// What [`BracketFault`] says, size of paper aside.
    pub fn dxf(&self) -> Result<String, BracketFault> {
        self.check()?;
        Ok(dxf::written(self))
    }

    fn check(&self) -> Result<(), BracketFault> {
        if self.holes.is_empty() {
            return Err(BracketFault::NoHole);
        }
        for hole in &self.holes {
            number(&hole.name, "old place", hole.old.iter())?;
            number(&hole.name, "new place", hole.new.iter())?;
            let tolerance = hole.tolerance.iter();
            let numbers = tolerance.flat_map(|one| {
                [&one.realigned.within, &one.as_built.within].into_iter().chain(one.toe_to_take_out.iter())
            });
            number(&hole.name, "tolerance", numbers)?;
            diameter(&hole.name, hole.diameter, self.lengths)?;
        }
        for hole in &self.references {
            number(&hole.name, "place", hole.at.iter())?;
            diameter(&hole.name, hole.diameter, self.lengths)?;
        }
        Ok(())
    }

    /// What lengths are printed in.
    fn unit(&self) -> &'static str {
        Unit::Length.symbol(self.lengths)
    }

    /// A length as a number.
    fn length(&self, metres: f64) -> String {
        Unit::Length.write_number_to(metres, self.lengths, decimals(self.lengths))
    }

    /// A length that is not to be exceeded, as a number: rounded down, never up.
    fn at_most(&self, metres: f64) -> String {
        self.length(rounded_down(metres, self.lengths, decimals(self.lengths)))
    }

    /// The same with its unit.
    fn at_most_with_unit(&self, metres: f64) -> String {
        self.with_unit(rounded_down(metres, self.lengths, decimals(self.lengths)))
    }

    /// A length with its unit.
    fn with_unit(&self, metres: f64) -> String {
        Unit::Length.write_to(metres, self.lengths, decimals(self.lengths))
    }

    /// A length as a number with its sign: "+" too, none where it rounds to nothing.
    fn signed(&self, metres: f64) -> String {
        signed(Unit::Length.shown(metres, self.lengths), decimals(self.lengths))
    }

    /// Car, proposal and date, as far as they are given.
    fn under_title(&self) -> String {
        let said = [&self.car, &self.proposal, &self.date].map(|words| short(words));
        let said: Vec<String> = said.into_iter().filter(|words| !words.is_empty()).collect();
        said.join(" · ")
    }
}

/// A length, metres, that is not more than this one and has so many decimals in its unit: as a tolerance is written
/// down.
#[must_use]
pub fn rounded_down(metres: f64, lengths: LengthUnit, decimals: usize) -> f64 {
    let digits = i32::try_from(decimals).unwrap_or(12).min(12);
    let steps = Unit::Length.shown(1.0, lengths) * 10_f64.powi(digits);
    // What is a whole number of steps but for rounding is that number.
    (metres * steps + 1e-6).floor() / steps
}

fn number<'a>(
    name: &str,
    what: &'static str,
    mut all: impl Iterator<Item = &'a f64>,
) -> Result<(), BracketFault> {
    // A car is no bigger than a kilometre, and squares of these are still numbers.
    if all.all(|x| x.is_finite() && x.abs() < 1e3) {
        Ok(())
    } else {
        Err(BracketFault::NotANumber { name: name.to_owned(), what })
    }
}

fn diameter(name: &str, diameter: Option<f64>, lengths: LengthUnit) -> Result<(), BracketFault> {
    number(name, "diameter", diameter.iter())?;
    match diameter {
        Some(diameter) if diameter <= 0.0 => {
            Err(BracketFault::NoDiameter { name: name.to_owned(), diameter, lengths })
        }
        _ => Ok(()),
    }
}

/// Words on one line, cut where they are too many.
fn short(words: &str) -> String {
    let words: Vec<&str> = words.split_whitespace().collect();
    let words = words.join(" ");
    if words.chars().count() <= LONGEST {
        return words;
    }
    words.chars().take(LONGEST - 1).chain(['…']).collect()
}

#[cfg(test)]
mod tests;
