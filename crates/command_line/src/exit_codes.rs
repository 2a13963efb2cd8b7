//! Which exit code each subcommand ends with, for scripts.

use crate::console::record::record;
use wheelpath_report::{Align, Table, wrap};

/// What the codes mean.
pub(crate) const CODES: &str = "0 fine; 1 the car has a fault, a limit fails, or what was asked for is not reached; 2 wrong use, or this \
machine or build cannot do it.";

/// Subcommands and when they end with 1, beside a car file with a fault, which every one ends on.
pub(crate) const ENDS_WITH_1: [(&str, &str); 14] = [
    ("check", "the car has a fault; warnings alone end with 0"),
    ("readings", "the pose cannot be reached; one beyond a stop is a warning, and ends with 0"),
    ("points", "the pose cannot be reached"),
    ("picture", "the pose cannot be reached"),
    ("sensitivity", "the pose cannot be reached"),
    ("sweep", "some of the poses cannot be reached"),
    ("clearances", "parts overlap, a joint goes beyond its limit, or some of the poses cannot be reached"),
    ("attitude", "a linkage ends before the pose, or the car falls over"),
    (
        "cornering",
        "the car lacks what the estimate needs, would fall over or leave the road, or a wheel would lift",
    ),
    ("turn", "a linkage ends before the steering does"),
    (
        "compare",
        "a proposal or the other car breaks a limit or leaves one open, or the pose cannot be reached",
    ),
    ("limits", "a limit fails, or is open: not every pose is reached"),
    ("bracket", "the proposal cannot be made; holes that cut into one another are said, and end with 0"),
    (
        "import",
        "a row cannot be read, or names a point misspelt or of another linkage; the other points are set all the same",
    ),
];

/// The codes for people.
pub(crate) fn in_words() -> String {
    let mut table = Table::new(&[("Subcommand", Align::Left), ("ends with 1 where", Align::Left)]);
    for (subcommand, when) in ENDS_WITH_1 {
        table.row(vec![subcommand.to_owned(), when.to_owned()]);
    }
    format!("Exit codes: {}\n\n{}", wrap(CODES, 84, "  "), table.text())
}

record! {
    /// When a subcommand ends with 1, for programs.
    pub(crate) struct ExitCodeRecord {
        /// The subcommand.
        subcommand: &'static str,
        /// When it ends with exit code 1.
        ends_with_1_where: &'static str,
    }
}

/// The codes for programs: a row a subcommand.
pub(crate) fn records() -> Vec<ExitCodeRecord> {
    let record = |(subcommand, ends_with_1_where)| ExitCodeRecord { subcommand, ends_with_1_where };
    ENDS_WITH_1.into_iter().map(record).collect()
}
