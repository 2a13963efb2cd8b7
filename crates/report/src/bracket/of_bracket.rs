//! What stands on the sheet of a bracket beside a car, the sheet made of it, and the files that it is written to.

use super::{BracketFault, BracketSheet, MovedHole, Placing, ReferenceHole, Tolerance};
use crate::drawing::Paper;
use crate::plate::{Plate, PlateFault};
use std::path::{Path, PathBuf};
use thiserror::Error;
use wheelpath_geometry::{
    Assembly, Bracket, BracketReference, Car, CarSolver, Change, Hardpoint, LengthUnit, Parameter, Proposal,
    Requirement, Selection,
};
use wheelpath_studies::{Hole, tolerance};

/// A point and the assembly that it belongs to.
pub type PointOf = (Assembly, Hardpoint);

/// What stands on a sheet: the holes of one plate.
#[derive(Clone, Debug)]
pub struct SheetHoles {
    /// The assembly whose pickups they are.
    pub assembly: Assembly,
    /// The pickups.
    pub points: Vec<Hardpoint>,
    /// The plate that they are drilled in.
    pub plate: Plate,
    /// The holes that stay and are measured from.
    pub references: Vec<ReferenceHole>,
    /// The heading of the sheet.
    pub part: String,
    /// The diameter of the holes, metres, where it is known.
    pub diameter: Option<f64>,
}

/// Why there is no sheet of a bracket.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum NoSheet {
    /// The car lacks a point of the bracket.
    #[error("the bracket {bracket:?} names the {hardpoint} of {assembly}, which {car} does not have")]
    NoSuchPoint {
        /// The bracket's name.
        bracket: String,
        /// The car's name.
        car: String,
        /// The assembly.
        assembly: Assembly,
        /// The point.
        hardpoint: Hardpoint,
    },
    /// Nothing that is moved stands on the bracket.
    #[error("the proposal moves nothing that stands on {bracket:?}")]
    NothingMoved {
        /// The bracket's name.
        bracket: String,
        /// What stands on it, by keys.
        on_it: String,
        /// The assembly.
        assembly: Assembly,
    },
    /// What the bracket is measured from is moved.
    #[error("{hardpoint}, {assembly}, from which {bracket:?} is measured, is moved itself")]
    ReferenceMoved {
        /// The bracket's name.
        bracket: String,
        /// The assembly.
        assembly: Assembly,
        /// The point.
        hardpoint: Hardpoint,
    },
    /// There is no plane.
    #[error(transparent)]
    Plate(#[from] PlateFault),
    /// The sheet cannot be drawn.
    #[error(transparent)]
    Sheet(#[from] BracketFault),
    /// The ending of the file is none that a sheet can be written as.
    #[error("{} has no ending that a sheet can be written as", .0.display())]
    Ending(PathBuf),
}

impl NoSheet {
    /// What to do about it; empty where the reason says it.
    #[must_use]
    pub fn hint(&self) -> String {
        match self {
            NoSheet::NoSuchPoint { .. } => {
                "take it out of brackets.ron; `wheelpath points` lists what there is".to_owned()
            }
            NoSheet::NothingMoved { on_it, assembly, .. } => {
                format!("on it stand {on_it}, {assembly}; leave the proposal out to see them as they are")
            }
            NoSheet::ReferenceMoved { .. } => "give the bracket in brackets.ron a hole that stays".to_owned(),
            NoSheet::Ending(_) => "end the file's name in .pdf, .svg or .dxf".to_owned(),
            NoSheet::Plate(_) | NoSheet::Sheet(_) => String::new(),
        }
    }
}

/// Every point that a proposal moves, with its assembly.
#[must_use]
pub fn moved_points(proposal: &Proposal) -> Vec<PointOf> {
    let mut moved = Vec::new();
    for (assembly, parameter) in proposal.changes.iter().flat_map(Change::touched) {
        if let Parameter::Point(hardpoint) = parameter
            && !moved.contains(&(assembly, hardpoint))
        {
            moved.push((assembly, hardpoint));
        }
    }
    moved
}

impl SheetHoles {
    /// What stands on the sheet of a bracket of this car: those of its points that are `moved`, or all of them
    /// where that is `None`. The plate is as the car has it, whatever moves on it.
    ///
    /// # Errors
    /// The car lacks a point of the bracket, nothing on it is moved, what it is measured from is, or it has no
    /// plane.
    pub fn on_bracket(
        bracket: &Bracket,
        car: &Car,
        moved: Option<&[PointOf]>,
    ) -> Result<SheetHoles, NoSheet> {
        let assembly = bracket.of;
        let name = || bracket.name.clone();
        if let Some(&(assembly, hardpoint)) = bracket.lacking(car).first() {
            return Err(NoSheet::NoSuchPoint { bracket: name(), car: car.name.clone(), assembly, hardpoint });
        }
        let is_moved = |point: PointOf| moved.is_some_and(|moved| moved.contains(&point));
        let mut points = bracket.points.clone();
        if moved.is_some() {
            points.retain(|hardpoint| is_moved((assembly, *hardpoint)));
        }
        if points.is_empty() {
            let keys: Vec<&str> = bracket.points.iter().map(|hardpoint| hardpoint.key()).collect();
            return Err(NoSheet::NothingMoved { bracket: name(), on_it: keys.join(", "), assembly });
        }
        let mut references = Vec::new();
        for one in &bracket.references {
            references.push(match one {
                BracketReference::Hole { name, at, diameter } => {
                    ReferenceHole { name: name.clone(), at: *at, diameter: *diameter }
                }
                BracketReference::Point(assembly, hardpoint) if is_moved((*assembly, *hardpoint)) => {
                    let (assembly, hardpoint) = (*assembly, *hardpoint);
                    return Err(NoSheet::ReferenceMoved { bracket: name(), assembly, hardpoint });
                }
                BracketReference::Point(assembly, hardpoint) => ReferenceHole {
                    name: hardpoint.to_string(),
                    at: assembly.point(car, *hardpoint).unwrap_or_default(),
                    diameter: None,
                },
            });
        }
        let plate = Plate::of_bracket(bracket, car)?;
        Ok(SheetHoles { assembly, points, plate, references, part: name(), diameter: bracket.hole_diameter })
    }
}

impl BracketSheet {
    /// The sheet for what of these holes differs between two versions of a car, the second ready to solve, under
    /// this name; on A4, without a date, in these lengths. How exactly each hole must be placed is as the limits
    /// say.
    #[must_use]
    pub fn of(
        holes: SheetHoles,
        before: &Car,
        (after, solver): (&Car, &CarSolver),
        proposal: &str,
        (limits, lengths): (&[Requirement], LengthUnit),
    ) -> BracketSheet {
        let hole = |hardpoint: &Hardpoint| {
            let at = |car: &Car| holes.assembly.point(car, *hardpoint).unwrap_or_default();
            MovedHole {
                name: hardpoint.to_string(),
                old: at(before),
                new: at(after),
                diameter: holes.diameter,
                tolerance: tolerance_of(after, solver, limits, &holes, *hardpoint),
            }
        };
        BracketSheet {
            holes: holes.points.iter().map(hole).collect(),
            part: holes.part,
            car: before.name.clone(),
            proposal: proposal.to_owned(),
            date: String::new(),
            plate: holes.plate,
            references: holes.references,
            paper: Paper::A4,
            lengths,
        }
    }

    /// The files that the sheet is written to, with what they hold, as the ending of the file says: PDF, SVG
    /// (its pages numbered) or DXF.
    ///
    /// # Errors
    /// The ending is another, or the sheet cannot be drawn.
    pub fn files(&self, path: &Path) -> Result<Vec<(PathBuf, Vec<u8>)>, NoSheet> {
        let ending = path.extension().map(|end| end.to_string_lossy().to_lowercase()).unwrap_or_default();
        Ok(match ending.as_str() {
            "pdf" => vec![(path.to_owned(), self.drawing()?.pdf())],
            "dxf" => vec![(path.to_owned(), self.dxf()?.into_bytes())],
            "svg" => {
                let stem = path.file_stem().map(|stem| stem.to_string_lossy().into_owned());
                let stem = stem.unwrap_or_default();
                let page = |(number, text): (usize, String)| {
                    (path.with_file_name(format!("{stem}-{number}.svg")), text.into_bytes())
                };
                (1..).zip(self.drawing()?.svgs()).map(page).collect()
            }
            _ => return Err(NoSheet::Ending(path.to_owned())),
        })
    }
}

/// How exactly the hole must be placed, as far as limits that pass say so.
fn tolerance_of(
    after: &Car,
    solver: &CarSolver,
    limits: &[Requirement],
    holes: &SheetHoles,
    hardpoint: Hardpoint,
) -> Option<Tolerance> {
    let [u, v, _] = holes.plate.axes();
    let hole = Hole { of: Selection::One(holes.assembly), hardpoint, plane: [u, v] };
    let found = tolerance(after, solver, limits, &hole).filter(|_| !limits.is_empty())?;
    let name = |place: usize| limits.get(place).map(|limit| limit.name.clone());
    let names = |places: &[usize]| places.iter().filter_map(|place| name(*place)).collect();
    let placing = |one: &wheelpath_studies::Placing| Placing {
        within: one.radius,
        decided_by: one.decided_by.and_then(name),
    };
    Some(Tolerance {
        realigned: placing(&found.realigned),
        as_built: placing(&found.as_built),
        toe_to_take_out: found.toe_to_take_out,
        broken: names(&found.broken),
        open: names(&found.open),
    })
}
