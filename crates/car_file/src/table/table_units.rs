//! Whether the points of a table are counted in other units than it is read in.

use crate::fault::table_fault::TableFault;
use nalgebra::Vector3;

/// Points nearer to the origin than this say nothing, metres.
const NEAR: f64 = 0.05;
/// A point has moved by less than this share of its distance, beside the change of units.
const MOVED: f64 = 0.1;
/// Fewer points than these say nothing.
const FEWEST: usize = 3;

/// How many times too near or too far, in words, and what is probably the matter where it is too near and too far.
const FACTORS: [(f64, &str, [&str; 2]); 3] = [
    (25.4, "25.4", ["are these inches?", "are these millimetres, read as inches?"]),
    (1000.0, "1000", ["are these metres?", "are these micrometres, or is a decimal point lost?"]),
    (10.0, "10", ["are these centimetres?", "is a decimal point lost?"]),
];

/// What is the matter where more than half of the points that the car had are the same but for one factor: where
/// each stood, and where the table has it.
pub(crate) fn in_other_units(
    moved: impl Iterator<Item = (Vector3<f64>, Vector3<f64>)>,
) -> Option<TableFault> {
    let pairs: Vec<_> = moved.filter(|(from, _)| from.norm() > NEAR).collect();
    let all = pairs.len();
    for (times, factor, questions) in FACTORS {
        let ways = [(times, "nearer to"), (1.0 / times, "further from")];
        for ((by, way), question) in ways.into_iter().zip(questions) {
            let odd = pairs.iter().filter(|(from, to)| (from - to * by).norm() < MOVED * from.norm()).count();
            if odd >= FEWEST && 2 * odd > all {
                return Some(TableFault::OtherUnits { odd, all, factor, way, question });
            }
        }
    }
    None
}
