//! The keys of `compare`, `limits` and `bracket`.

use crate::schema::KeyDoc;
use crate::schema::Kind::{Count, Degree, In, Length, Records, Text};

const UNIT: &str = "the unit in `unit`";

pub(crate) const ON_CHANGES: &[KeyDoc] = &[
    KeyDoc(
        "compare limits bracket",
        "rows",
        Records,
        "The rows: one a reading and place, a limit, or a hole.",
    ),
    KeyDoc("compare", "limits", Records, "The verdict on each limit, for the car and for each proposal."),
    KeyDoc("compare", "proposal", Text, "The proposal or other car; null in `limits` for the car as it is."),
    KeyDoc("compare", "place", Text, "The wheel or axle."),
    KeyDoc(
        "compare limits",
        "reading",
        Text,
        "Key of the reading; `lock`: the inner wheel at full lock; `distance`: between parts; `joint_margin`: \
         what joints have left to their limits.",
    ),
    KeyDoc(
        "compare limits",
        "unit",
        Text,
        "Unit of the values of this row, as at the end of keys; empty for plain numbers.",
    ),
    KeyDoc("compare", "before", In(UNIT), "The car as it is."),
    KeyDoc("compare", "after", In(UNIT), "With the proposal, or the other car."),
    KeyDoc("compare", "change", In(UNIT), "After less before."),
    KeyDoc("limits", "failed", Count, "How many limits fail."),
    KeyDoc("limits", "broken", Count, "The same as `failed`, by its older name."),
    KeyDoc("compare limits", "limit", Text, "Name of the limit."),
    KeyDoc("compare limits", "least", In(UNIT), "Lower bound; null for none."),
    KeyDoc("compare limits", "most", In(UNIT), "Upper bound; null for none."),
    KeyDoc(
        "compare limits",
        "worst",
        In(UNIT),
        "The value that is nearest to a bound, or furthest beyond one.",
    ),
    KeyDoc("compare limits", "margin", In(UNIT), "How far it is within the bounds; negative beyond one."),
    KeyDoc("compare limits", "reserve", In(UNIT), "The same as `margin`, by its older name."),
    KeyDoc(
        "compare limits",
        "verdict",
        Text,
        "pass, fail, or open: not every pose is reached, or nothing to read.",
    ),
    KeyDoc("compare limits", "why", Text, "Why the verdict is open; else null."),
    KeyDoc("compare limits", "wheel", Text, "The wheel of the worst value; null for an axle's."),
    KeyDoc("bracket", "files", Records, "The files written."),
    KeyDoc("bracket", "seen_from", Text, "From where the plate is looked at."),
    KeyDoc("bracket", "point", Text, "The pickup."),
    KeyDoc("bracket", "of", Text, "Whose it is."),
    KeyDoc("bracket", "old_x", Length, "Where it was, car axes; also old_y, old_z."),
    KeyDoc("bracket", "old_y", Length, "Where it was."),
    KeyDoc("bracket", "old_z", Length, "Where it was."),
    KeyDoc("bracket", "new_x", Length, "Where it goes, car axes; also new_y, new_z."),
    KeyDoc("bracket", "new_y", Length, "Where it goes."),
    KeyDoc("bracket", "new_z", Length, "Where it goes."),
    KeyDoc(
        "bracket",
        "move_across",
        Length,
        "The move in the plate, along its first axis: level where the plate has a level line.",
    ),
    KeyDoc("bracket", "move_up", Length, "The move in the plate, along its second axis."),
    KeyDoc("bracket", "move_out", Length, "The move out of the plate, toward the eye."),
    KeyDoc(
        "bracket",
        "tolerance",
        Length,
        "How far off the hole may be in the plate, its links as they are, for the limits that hold to go on holding: the narrower of both cases below; at most 10 mm. Null where no limits are given.",
    ),
    KeyDoc("bracket", "decided_by", Text, "The limit that says so; null where none does."),
    KeyDoc("bracket", "tolerance_as_built", Length, "The same with nothing reset."),
    KeyDoc("bracket", "decided_by_as_built", Text, "The limit that says so."),
    KeyDoc(
        "bracket",
        "tolerance_realigned",
        Length,
        "The same with static toe reset by tie rod or toe link, and camber where the car states an adjuster for it.",
    ),
    KeyDoc("bracket", "decided_by_realigned", Text, "The limit that says so."),
    KeyDoc(
        "bracket",
        "toe_to_take_out_deg",
        Degree,
        "The most static toe to take out of one wheel with the hole off by tolerance_realigned; null where no link sets toe.",
    ),
    KeyDoc(
        "bracket",
        "broken_already",
        Text,
        "Limits that fail before the hole is off, parted by semicolons: they are not counted.",
    ),
    KeyDoc("bracket", "not_judged", Text, "Limits of which that cannot be said: they are not counted."),
];
