//! The keys of `compare`, `limits` and `bracket`.

use crate::schema::Beside;
use crate::schema::Kind::{Count, Degree, In, Length, Records, Text};

const UNIT: &str = "the unit in `unit`";

pub(crate) const ON_CHANGES: &[Beside] = &[
    Beside(
        "compare limits bracket",
        "rows",
        Records,
        "The rows: one a reading and place, a limit, or a hole.",
    ),
    Beside("compare", "limits", Records, "The verdict on each limit, for the car and for each proposal."),
    Beside("compare", "proposal", Text, "The proposal or other car; null in `limits` for the car as it is."),
    Beside("compare", "place", Text, "The wheel or axle."),
    Beside(
        "compare limits",
        "reading",
        Text,
        "Key of the reading; `lock`: the inner wheel at full lock; `distance`: between parts; `joint_reserve`: \
         what joints have left to their limits.",
    ),
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
    Beside("bracket", "files", Records, "The files written."),
    Beside("bracket", "seen_from", Text, "From where the plate is looked at."),
    Beside("bracket", "point", Text, "The pickup."),
    Beside("bracket", "of", Text, "Whose it is."),
    Beside("bracket", "old_x", Length, "Where it was, car axes; also old_y, old_z."),
    Beside("bracket", "old_y", Length, "Where it was."),
    Beside("bracket", "old_z", Length, "Where it was."),
    Beside("bracket", "new_x", Length, "Where it goes, car axes; also new_y, new_z."),
    Beside("bracket", "new_y", Length, "Where it goes."),
    Beside("bracket", "new_z", Length, "Where it goes."),
    Beside(
        "bracket",
        "move_across",
        Length,
        "The move in the plate, along its first axis: level where the plate has a level line.",
    ),
    Beside("bracket", "move_up", Length, "The move in the plate, along its second axis."),
    Beside("bracket", "move_out", Length, "The move out of the plate, toward the eye."),
    Beside(
        "bracket",
        "tolerance",
        Length,
        "How far off the hole may be in the plate, its links as they are, for the limits that hold to go on holding: the narrower of both cases below; at most 10 mm. Null where no limits are given.",
    ),
    Beside("bracket", "decided_by", Text, "The limit that says so; null where none does."),
    Beside("bracket", "tolerance_as_built", Length, "The same with nothing reset."),
    Beside("bracket", "decided_by_as_built", Text, "The limit that says so."),
    Beside(
        "bracket",
        "tolerance_realigned",
        Length,
        "The same with static toe reset by tie rod or toe link, and camber where the car states an adjuster for it.",
    ),
    Beside("bracket", "decided_by_realigned", Text, "The limit that says so."),
    Beside(
        "bracket",
        "toe_to_take_out_deg",
        Degree,
        "The most static toe to take out of one wheel with the hole off by tolerance_realigned; null where no link sets toe.",
    ),
    Beside(
        "bracket",
        "broken_already",
        Text,
        "Limits that are broken before the hole is off, parted by semicolons: they are not counted.",
    ),
    Beside("bracket", "not_judged", Text, "Limits of which that cannot be said: they are not counted."),
];
