//! What `import` made of a table, for programs.

use crate::check::record::ProblemRecord;
use crate::console::field::{Among, LeftOut};
use crate::console::quantity::Length;
use crate::console::record::{NoRow, Output, record};
use crate::import::Named;
use crate::points::record::AtRecord;
use std::path::Path;
use wheelpath_car_file::{Assembly, Imported, SetPoint, UnknownName};
use wheelpath_geometry::{Car, Change, LengthUnit, Proposal, Value};

record! {
    /// A table put into a car.
    pub(crate) struct ImportOutput {
        /// Name of the car; null where the file has a fault.
        car: String,
        /// The car file or proposal written; null where none was.
        saved: Option<String>,
        /// Points that were set.
        set: Vec<SetRecord>,
        /// Rows whose name is no point.
        unknown: Vec<UnknownRecord>,
        /// Points of the table that their corner has no use for.
        unused: Vec<PointRecord>,
        /// Points that their corner uses but the table lacks: they stay.
        missing: Vec<PointRecord>,
        /// Those of the missing that nobody measured: a demo car's or stand-in's.
        left_over: Vec<PointRecord>,
        /// Points that were the mirror image of one that was set, and stay.
        one_sided: Vec<PointRecord>,
        /// Rows of a contact point: it follows from the wheel, and is not set.
        contact_points: usize,
        /// What is doubtful about the file.
        warnings: Vec<ProblemRecord>,
    }
}

/// Whatever the car counts in.
const ALWAYS_IN: Option<LengthUnit> = Some(LengthUnit::Millimetre);

impl Output for ImportOutput {
    const NAME: &'static str = "import";
    const ALWAYS_IN: Option<LengthUnit> = ALWAYS_IN;
    type Row = NoRow;
}

record! {
    /// A table made a proposal.
    pub(crate) struct ImportedProposalOutput {
        /// Name of the car; null where the file has a fault.
        car: String,
        /// Name of the proposal made of the table; only with --as-proposal.
        proposal: String,
        /// The car file or proposal written; null where none was.
        saved: String,
        /// Points that were set.
        set: Vec<ProposedRecord>,
    }
}

impl Output for ImportedProposalOutput {
    const NAME: &'static str = "import";
    const ALWAYS_IN: Option<LengthUnit> = ALWAYS_IN;
    type Row = NoRow;
}

record! {
    /// A point, and whose.
    pub(crate) struct PointRecord {
        /// The wheel whose point it is; the key is left out of a point of an axle.
        wheel: LeftOut<&'static str>,
        /// front or rear.
        axle: LeftOut<&'static str>,
        /// A point of the car file, or wheel_centre.
        point: &'static str,
    }
}

record! {
    /// Where a point was.
    pub(crate) struct FromRecord {
        /// Where the point was; null where it was not.
        from_x: Option<Length>,
        /// Where the point was; null where it was not.
        from_y: Option<Length>,
        /// Where the point was; null where it was not.
        from_z: Option<Length>,
    }
}

record! {
    /// A point that was set.
    pub(crate) struct SetRecord {
        of: Among<PointRecord>,
        from: Among<FromRecord>,
        to: Among<AtRecord>,
    }
}

record! {
    /// A point that a proposal moves.
    pub(crate) struct ProposedRecord {
        /// Whose point a proposal moves: a wheel, an axle, or front_both, rear_both.
        of: &'static str,
        /// A point of the car file, or wheel_centre.
        point: &'static str,
        from: Among<FromRecord>,
        to: Among<AtRecord>,
    }
}

record! {
    /// A row whose name is no point.
    pub(crate) struct UnknownRecord {
        /// Line in the file, from 1.
        line: usize,
        /// The name in the table.
        name: String,
        /// The nearest point, if one is near.
        nearest: Option<&'static str>,
    }
}

impl ImportOutput {
    pub fn of(imported: &Imported, left_over: &[Named], saved: Option<&Path>) -> Self {
        let list = |points: &[Named]| points.iter().map(PointRecord::of).collect();
        ImportOutput {
            car: imported.car.name.clone(),
            saved: saved.map(|new| new.display().to_string()),
            set: imported.set.iter().map(SetRecord::of).collect(),
            unknown: imported.unknown.iter().map(UnknownRecord::of).collect(),
            unused: list(&imported.unused),
            missing: list(&imported.missing),
            left_over: list(left_over),
            one_sided: list(&imported.one_sided),
            contact_points: imported.follows,
            warnings: imported.warnings.iter().map(ProblemRecord::of).collect(),
        }
    }
}

impl ImportedProposalOutput {
    pub fn of(proposal: &Proposal, car: &Car, path: &Path) -> Self {
        ImportedProposalOutput {
            car: car.name.clone(),
            proposal: proposal.name.clone(),
            saved: path.display().to_string(),
            set: proposal.changes.iter().filter_map(ProposedRecord::of).collect(),
        }
    }
}

impl PointRecord {
    fn of((assembly, point): &Named) -> Self {
        PointRecord::named(*assembly, point.key())
    }

    fn named(assembly: Assembly, point: &'static str) -> Self {
        let key = Some(assembly.key());
        let (wheel, axle) = if assembly.side().is_some() { (key, None) } else { (None, key) };
        PointRecord { wheel: LeftOut(wheel), axle: LeftOut(axle), point }
    }
}

impl FromRecord {
    fn of(from: Option<[f64; 3]>) -> Among<Self> {
        let [from_x, from_y, from_z] = from.map_or([None; 3], |at| at.map(|x| Some(Length(x))));
        Among(FromRecord { from_x, from_y, from_z })
    }
}

impl SetRecord {
    fn of(set: &SetPoint) -> Self {
        SetRecord {
            of: Among(PointRecord::named(set.assembly, set.point.key())),
            from: FromRecord::of(set.from.map(|from| [from.x, from.y, from.z])),
            to: Among(AtRecord::of([set.to.x, set.to.y, set.to.z])),
        }
    }
}

impl ProposedRecord {
    /// Of a change that moves a point.
    fn of(change: &Change) -> Option<Self> {
        let Change::Set { of, parameter, was: Value::Place(was), now: Value::Place(now), .. } = change else {
            return None;
        };
        Some(ProposedRecord {
            of: of.key(),
            point: parameter.key(),
            from: FromRecord::of(Some([was.x, was.y, was.z])),
            to: Among(AtRecord::of([now.x, now.y, now.z])),
        })
    }
}

impl UnknownRecord {
    fn of(unknown: &UnknownName) -> Self {
        UnknownRecord { line: unknown.line, name: unknown.name.clone(), nearest: unknown.nearest }
    }
}
