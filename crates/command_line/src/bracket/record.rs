//! The holes of a bracket, for programs.

use crate::console::field::Words;
use crate::console::quantity::{Degree, Length};
use crate::console::record::{Output, record};
use std::path::PathBuf;
use wheelpath_geometry::{Assembly, Hardpoint};
use wheelpath_report::{BracketSheet, MovedHole, Tolerance};

record! {
    /// The sheet of a bracket.
    pub(crate) struct BracketOutput {
        /// Name of the car; null where the file has a fault.
        car: String,
        /// Name of the proposal; `as it is` where a bracket is asked for without one.
        proposal: String,
        /// The files written.
        files: Words,
        /// From where the plate is looked at.
        seen_from: String,
        /// The rows: one a reading and place, a limit, or a hole.
        rows: Vec<HoleRow>,
    }
}

impl Output for BracketOutput {
    const NAME: &'static str = "bracket";
    type Row = HoleRow;
}

record! {
    /// A hole: where it was, where it goes, how exactly.
    pub(crate) struct HoleRow {
        /// The pickup.
        point: &'static str,
        /// Whose it is.
        of: &'static str,
        /// Where it was, car axes; also old_y, old_z.
        old_x: Length,
        /// Where it was.
        old_y: Length,
        /// Where it was.
        old_z: Length,
        /// Where it goes, car axes; also new_y, new_z.
        new_x: Length,
        /// Where it goes.
        new_y: Length,
        /// Where it goes.
        new_z: Length,
        /// The move in the plate, along its first axis: level where the plate has a level line.
        move_across: Length,
        /// The move in the plate, along its second axis.
        move_up: Length,
        /// The move out of the plate, toward the eye.
        move_out: Length,
        /// How far off the hole may be in the plate, its links as they are, for the limits that hold to go on holding: the
        /// narrower of both cases below; at most 10 mm. Null where no limits are given.
        tolerance: Option<Length>,
        /// The limit that says so; null where none does.
        decided_by: Option<String>,
        /// The same with nothing reset.
        tolerance_as_built: Option<Length>,
        /// The limit that says so.
        decided_by_as_built: Option<String>,
        /// The same with static toe reset by tie rod or toe link, and camber where the car states an adjuster for it.
        tolerance_realigned: Option<Length>,
        /// The limit that says so.
        decided_by_realigned: Option<String>,
        /// The most static toe to take out of one wheel with the hole off by tolerance_realigned; null where no link sets
        /// toe.
        toe_to_take_out: Option<Degree>,
        /// Limits that fail before the hole is off, parted by semicolons: they are not counted.
        broken_already: Option<String>,
        /// Limits of which that cannot be said: they are not counted.
        not_judged: Option<String>,
    }
}

impl BracketOutput {
    pub fn of(sheet: &BracketSheet, written: &[PathBuf], rows: Vec<HoleRow>) -> Self {
        BracketOutput {
            car: sheet.car.clone(),
            proposal: sheet.proposal.clone(),
            files: Words::of(written.iter().map(|path| path.display())),
            seen_from: sheet.plate.seen_from(),
            rows,
        }
    }
}

impl HoleRow {
    /// A row a hole; `points` are the pickups of the sheet's holes.
    pub fn all_of(sheet: &BracketSheet, assembly: Assembly, points: &[Hardpoint]) -> Vec<Self> {
        let holes = sheet.holes.iter().zip(points);
        holes.map(|(hole, point)| HoleRow::of(sheet, assembly, hole, *point)).collect()
    }

    fn of(sheet: &BracketSheet, assembly: Assembly, hole: &MovedHole, point: Hardpoint) -> Self {
        let by = sheet.plate.along(&(hole.new - hole.old));
        let tolerance = hole.tolerance.as_ref();
        let cases = [
            tolerance.map(Tolerance::narrower),
            tolerance.map(|one| &one.as_built),
            tolerance.map(|one| &one.realigned),
        ];
        let [narrower, as_built, realigned] = cases.map(|case| case.map(|one| Length(one.within)));
        let [by_narrower, by_as_built, by_realigned] =
            cases.map(|case| case.and_then(|one| one.decided_by.clone()));
        let joined = |of: fn(&Tolerance) -> &[String]| tolerance.map(|one| of(one).join("; "));
        HoleRow {
            point: point.key(),
            of: assembly.key(),
            old_x: Length(hole.old.x),
            old_y: Length(hole.old.y),
            old_z: Length(hole.old.z),
            new_x: Length(hole.new.x),
            new_y: Length(hole.new.y),
            new_z: Length(hole.new.z),
            move_across: Length(by.x),
            move_up: Length(by.y),
            move_out: Length(by.z),
            tolerance: narrower,
            decided_by: by_narrower,
            tolerance_as_built: as_built,
            decided_by_as_built: by_as_built,
            tolerance_realigned: realigned,
            decided_by_realigned: by_realigned,
            toe_to_take_out: tolerance.and_then(|one| one.toe_to_take_out).map(Degree),
            broken_already: joined(|one| &one.broken),
            not_judged: joined(|one| &one.open),
        }
    }
}
