//! The keys of every output of a car before and after proposals.

use crate::schema::KeyDoc;
use crate::schema::Kind::{In, Records, Text};

/// The outputs that take `--proposal` and show both cars.
const BOTH: &str = "readings sweep points attitude cornering turn sensitivity clearances";

pub(crate) const BEFORE_AFTER: &[KeyDoc] = &[
    KeyDoc(BOTH, "proposal", Text, "With --proposal: the proposals that were made, as one."),
    KeyDoc(
        BOTH,
        "before",
        Records,
        "With --proposal, JSON: the keys of the car as it is; in `rows`, of the row. Null where only the other car \
         has the row.",
    ),
    KeyDoc(
        BOTH,
        "after",
        Records,
        "With --proposal, JSON: the same keys with the proposals made. Where these change the steering gear, its \
         own rack or pitman arm and steering wheel too.",
    ),
    KeyDoc(BOTH, "before_<key>", In("of that key"), "With --proposal, CSV: the key for the car as it is."),
    KeyDoc(BOTH, "after_<key>", In("of that key"), "With --proposal, CSV: the key with the proposals made."),
];
