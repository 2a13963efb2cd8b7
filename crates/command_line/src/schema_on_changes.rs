//! The keys of `compare` and `limits`.

use crate::schema::Beside;
use crate::schema::Kind::{Count, In, Records, Text};

const UNIT: &str = "the unit in `unit`";

pub(crate) const ON_CHANGES: &[Beside] = &[
    Beside("compare limits", "rows", Records, "The rows: one a reading and place, or one a limit."),
    Beside("compare", "limits", Records, "The verdict on each limit, for the car and for each proposal."),
    Beside("compare", "proposal", Text, "The proposal or other car; null in `limits` for the car as it is."),
    Beside("compare", "place", Text, "The wheel or axle."),
    Beside("compare limits", "reading", Text, "Key of the reading; `lock` for the inner wheel at full lock."),
    Beside(
        "compare limits",
        "unit",
        Text,
        "Unit of the values of this row, as at the end of keys; empty for plain numbers.",
    ),
    Beside("compare", "before", In(UNIT), "The car as it is."),
    Beside("compare", "after", In(UNIT), "With the proposal, or the other car."),
    Beside("compare", "change", In(UNIT), "After less before."),
    Beside("limits", "broken", Count, "How many limits are broken."),
    Beside("compare limits", "limit", Text, "Name of the limit."),
    Beside("compare limits", "least", In(UNIT), "Lower bound; null for none."),
    Beside("compare limits", "most", In(UNIT), "Upper bound; null for none."),
    Beside(
        "compare limits",
        "worst",
        In(UNIT),
        "The value that is nearest to a bound, or furthest beyond one.",
    ),
    Beside("compare limits", "reserve", In(UNIT), "How far it is within the bounds; negative beyond one."),
    Beside(
        "compare limits",
        "verdict",
        Text,
        "kept, broken, or open: not every pose is reached, or nothing to read.",
    ),
    Beside("compare limits", "why", Text, "Why the verdict is open; else null."),
    Beside("compare limits", "wheel", Text, "The wheel of the worst value; null for an axle's."),
];
