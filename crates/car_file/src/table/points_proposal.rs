//! A table of moved points as a proposal.

use crate::fault::failure::LoadError;
use crate::fault::problem::{Fault, Problem};
use crate::fault::table_fault::TableFault;
use crate::read::fields::Diagnostics;
use crate::table::points::{TableOptions, applied, bare, checked, rows};
use crate::text::point_names::TablePoint;
use wheelpath_geometry::{Assembly, Car, Proposal};

/// A proposal made of a table.
#[derive(Clone, Debug, PartialEq)]
pub struct PointsProposal {
    /// A move for each point of the table that does not stand where the car has it; one for both sides
    /// where they move alike.
    pub proposal: Proposal,
    /// What is doubtful about the car with these moves, though it can be solved.
    pub warnings: Vec<Problem>,
    /// Points that are the mirror image of one that is moved, and would not be any more.
    pub one_sided: Vec<(Assembly, TablePoint)>,
}

/// The points of a table that differ from the car's, as a proposal of this name; `file` is the table's name
/// in messages. What an import would leave out with a warning is a fault here: a proposal that
/// forgot a row would be a wrong one.
///
/// # Errors
/// The table has faults, names a point that the car has not, or moves nothing; or the car so changed cannot
/// be: then all that could be found, each with its line.
pub fn propose_points(
    car: &Car,
    table: &str,
    file: &str,
    options: &TableOptions,
    name: &str,
) -> Result<PointsProposal, LoadError> {
    let table = bare(table);
    let mut notes = Diagnostics::new(file, table);
    let read = rows(table, options, &mut notes);
    for (byte, row) in &read.unknown {
        let fault = TableFault::NoPoint { found: row.name.clone(), nearest: row.nearest };
        notes.add(*byte, Fault::Table(fault));
    }
    let imported = applied(car, &read.given, options.mirror);
    let added = imported.set.iter().filter(|set| set.from.is_none()).map(|set| (set.assembly, set.point));
    for (assembly, point) in imported.unused.iter().copied().chain(added) {
        let row = read.given.iter().find(|given| {
            given.point == point
                && (given.assembly == assembly || Some(given.assembly) == assembly.opposite())
        });
        let fault = TableFault::NotInCar { assembly, name: point.label() };
        notes.add(row.map_or(0, |row| row.byte), Fault::Table(fault));
    }
    let faulty = |mut problems: Vec<Problem>| {
        problems.sort_by_key(|problem| problem.place);
        Err(LoadError::Faulty(problems))
    };
    if !notes.problems.is_empty() {
        return faulty(notes.problems);
    }
    let proposal = Proposal::between(name, car, &imported.car);
    if proposal.changes.is_empty() {
        notes.add(0, Fault::Table(TableFault::NothingMoves));
        return faulty(notes.problems);
    }
    let text = (table, file, options.mirror);
    let warnings = checked((&imported, options.units.unwrap_or_default()), text, &read.given)?;
    Ok(PointsProposal { proposal, warnings, one_sided: imported.one_sided })
}
