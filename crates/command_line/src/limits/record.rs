//! Limits and their verdicts, for programs.

use crate::clearances::record::PairRecord;
use crate::console::field::{Among, LeftOut};
use crate::console::pose::PoseRecord;
use crate::console::quantity::{InUnitOfRow, UnitOfRow};
use crate::console::record::{Output, record};
use crate::limits::word;
use wheelpath_geometry::{Car, LengthUnit, Requirement, WheelPosition};
use wheelpath_studies::{Place, Verdict};

record! {
    /// The verdict on each limit.
    pub(crate) struct LimitsOutput {
        /// Name of the car; null where the file has a fault.
        car: String,
        /// How many limits fail.
        failed: usize,
        /// The same as `failed`, by its older name.
        broken: usize,
        /// The rows: one a reading and place, a limit, or a hole.
        rows: Vec<LimitRecord>,
    }
}

impl Output for LimitsOutput {
    const NAME: &'static str = "limits";
    type Row = LimitRecord;
}

record! {
    /// One limit and its verdict.
    pub(crate) struct LimitRecord {
        /// Name of the limit.
        limit: String,
        /// Key of the reading; `lock`: the inner wheel at full lock; `distance`: between parts; `joint_margin`: what
        /// joints have left to their limits.
        reading: &'static str,
        /// Unit of the values of this row, as at the end of keys; empty for plain numbers.
        unit: UnitOfRow,
        /// Lower bound; null for none.
        least: Option<InUnitOfRow>,
        /// Upper bound; null for none.
        most: Option<InUnitOfRow>,
        /// The value that is nearest to a bound, or furthest beyond one.
        worst: Option<InUnitOfRow>,
        /// How far it is within the bounds; negative beyond one.
        margin: Option<InUnitOfRow>,
        /// The same as `margin`, by its older name.
        reserve: Option<InUnitOfRow>,
        /// pass, fail, or open: not every pose is reached, or nothing to read.
        verdict: &'static str,
        /// Why the verdict is open; else null.
        why: Option<String>,
        /// The wheel of the worst value; null for an axle's.
        wheel: Option<&'static str>,
        parts: LeftOut<Among<PairRecord>>,
        /// The joint: a point of the car file.
        joint: LeftOut<&'static str>,
        pose: LeftOut<Among<PoseRecord>>,
    }
}

impl LimitRecord {
    pub fn of(car: &Car, limit: &Requirement, verdict: &Verdict, lengths: LengthUnit) -> Self {
        let unit = limit.unit();
        let value = |value: f64| InUnitOfRow(value, unit);
        let worst = verdict.worst;
        let (parts, joint) = match worst.and_then(|worst| worst.place) {
            Some(Place::Parts(parts)) => (Some(Among(PairRecord::of(&parts))), None),
            Some(Place::Joint(_, joint)) => (None, Some(joint.key())),
            None => (None, None),
        };
        LimitRecord {
            limit: limit.name.clone(),
            reading: limit.of.key(),
            unit: UnitOfRow(unit),
            least: limit.least.map(value),
            most: limit.most.map(value),
            worst: worst.map(|worst| value(worst.value)),
            margin: worst.map(|worst| value(worst.margin)),
            reserve: worst.map(|worst| value(worst.margin)),
            verdict: word(&verdict.outcome),
            why: verdict.why(lengths),
            wheel: worst.and_then(|worst| worst.wheel).map(WheelPosition::key),
            parts: LeftOut(parts),
            joint: LeftOut(joint),
            pose: LeftOut(worst.map(|worst| Among(PoseRecord::of(car, &worst.pose)))),
        }
    }
}
