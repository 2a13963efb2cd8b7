//! Rows of poses of one car or two: solved in parts, written as they come, and counted.

use crate::before_after::BeforeAfter;
use crate::beside_car::Proposed;
use crate::console::failure::Failure;
use crate::console::streams::Console;
use crate::in_parts::in_parts;
use crate::tally::Tally;
use std::ops::Range;

/// Some rows as text, and what their poses come to.
pub(crate) struct Part {
    pub text: String,
    pub tallies: BeforeAfter<Tally>,
}

/// Solves the rows of `count` poses, a part at a time, and prints them between `start` and `end`; returns what all poses
/// come to.
pub(crate) fn print_rows(
    cars: &BeforeAfter<Proposed>,
    count: usize,
    [start, end]: &[String; 2],
    part: impl Fn(Range<usize>) -> Result<Part, Failure> + Sync,
    io: &mut Console,
) -> Result<BeforeAfter<Tally>, Failure> {
    io.print(start)?;
    let mut tallies = cars.map(|_| Tally::default());
    let take = |part: Result<Part, Failure>| {
        let part = part?;
        io.print(&part.text)?;
        tallies.merge(part.tallies);
        Ok(())
    };
    in_parts(count, part, take)?;
    io.print(end)?;
    Ok(tallies)
}
