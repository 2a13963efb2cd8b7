//! What is wrong or doubtful about the parts' radii.

use super::{BEYOND_A_CAR, Finding, Found, Severity, Subject, is_size};
use crate::car::Axle;
use crate::car::part::Part;
use crate::car::position::{End, Side};
use crate::number::unit::LengthUnit;

/// Looks over the radii of an axle and of its corners.
pub(super) fn check(axle: &Axle, end: End, found: &mut Found) {
    let pieces = axle.pieces();
    for side in [Some(Side::Left), Some(Side::Right), None] {
        let radii = side.map_or(&axle.radii, |side| &axle.corner(side).radii);
        for &(part, radius) in radii {
            let there = pieces.iter().any(|piece| (piece.part, piece.side) == (part, side));
            let (severity, message, hint) = match (is_size(radius) && radius <= BEYOND_A_CAR, there) {
                (false, _) => (
                    Severity::Fault,
                    none_of_a_part(part, radius, found.lengths),
                    "give a positive radius, or leave it out",
                ),
                (true, false) => (
                    Severity::Warning,
                    format!("{part}: a radius is given, but there is no such part"),
                    "remove it, or add the part",
                ),
                (true, true) => continue,
            };
            let subject = Subject::Radius(part);
            found.push(Finding {
                severity,
                end: Some(end),
                side,
                subject,
                message,
                hint: hint.to_owned(),
                out: 0.0,
                likeliest: None,
            });
        }
    }
}

fn none_of_a_part(part: Part, radius: f64, lengths: LengthUnit) -> String {
    format!("{part}: its radius is {} and must lie between 0 and 50 m", lengths.say(radius, 1))
}
