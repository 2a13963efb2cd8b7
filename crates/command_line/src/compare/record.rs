//! A car beside others, for programs.

use crate::compare::{Column, places};
use crate::console::field::{Among, Under};
use crate::console::pose::PoseRecord;
use crate::console::quantity::{InUnitOfRow, UnitOfRow};
use crate::console::record::{Output, record};
use crate::limits::record::LimitRecord;
use wheelpath_geometry::{LengthUnit, Requirement};

record! {
    /// A car beside others.
    pub(crate) struct CompareOutput {
        /// Name of the car; null where the file has a fault.
        car: String,
        /// The pose: the travel of each wheel, rack or pitman arm, steering wheel.
        pose: Under<PoseRecord>,
        /// The rows: one a reading and place, a limit, or a hole.
        rows: Vec<CompareRow>,
        /// The verdict on each limit, for the car and for each proposal.
        limits: Vec<ComparedLimitRecord>,
    }
}

impl Output for CompareOutput {
    const NAME: &'static str = "compare";
    type Row = CompareRow;
}

record! {
    /// A reading of the car and of another.
    pub(crate) struct CompareRow {
        /// The proposal or other car; null in `limits` for the car as it is.
        proposal: String,
        /// The wheel or axle.
        place: &'static str,
        /// Key of the reading; `lock`: the inner wheel at full lock; `distance`: between parts; `joint_margin`: what
        /// joints have left to their limits.
        reading: &'static str,
        /// Unit of the values of this row, as at the end of keys; empty for plain numbers.
        unit: UnitOfRow,
        /// The car as it is.
        before: Option<InUnitOfRow>,
        /// With the proposal, or the other car.
        after: Option<InUnitOfRow>,
        /// After less before.
        change: Option<InUnitOfRow>,
    }
}

record! {
    /// The verdict on a limit, of the car or of another.
    pub(crate) struct ComparedLimitRecord {
        /// The proposal or other car; null in `limits` for the car as it is.
        proposal: Option<String>,
        limit: Among<LimitRecord>,
    }
}

impl CompareRow {
    /// A row for each reading of each car it is compared with.
    pub fn all_of(columns: &[Column]) -> Vec<Self> {
        let Some((before, after)) = columns.split_first() else { return Vec::new() };
        let mut rows = Vec::new();
        for one in after {
            for (at, reading) in places() {
                let (was, is) = (at.value(&before.solved, reading), at.value(&one.solved, reading));
                let value = |value: f64| InUnitOfRow(value, reading.unit);
                rows.push(CompareRow {
                    proposal: one.name.clone(),
                    place: at.key(),
                    reading: reading.key,
                    unit: UnitOfRow(reading.unit),
                    before: was.map(value),
                    after: is.map(value),
                    change: is.zip(was).map(|(is, was)| value(is - was)),
                });
            }
        }
        rows
    }
}

impl ComparedLimitRecord {
    /// Each limit of each car, the car as it is first.
    pub fn all_of(columns: &[Column], limits: &[Requirement], lengths: LengthUnit) -> Vec<Self> {
        let of = |(place, one): (usize, &Column)| {
            let row = |(limit, verdict)| ComparedLimitRecord {
                proposal: (place > 0).then(|| one.name.clone()),
                limit: Among(LimitRecord::of(&one.car, limit, verdict, lengths)),
            };
            limits.iter().zip(&one.verdicts).map(row).collect::<Vec<_>>()
        };
        columns.iter().enumerate().flat_map(of).collect()
    }
}
