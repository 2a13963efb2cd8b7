//! From the tree to an axis: a direction, or a second point. `Direction(x, y, z)` and `Point(x, y, z)` say which
//! it is; three bare numbers are what the key took before there were these words.

use crate::fault::problem::Fault;
use crate::read::fields::Diagnostics;
use crate::text::axis_form::{DIRECTION, POINT};
use crate::text::tree::{Kind, Node};
use crate::text::units_and_axes::Measures;
use nalgebra::Vector3;

/// How far along a direction its second point is put, metres.
const REACH: f64 = 0.1;
/// Three bare numbers of a second point that are all this small, in the file's unit, are a direction.
const NO_PLACE: f64 = 1.5;
/// Three bare numbers of a direction this long are a point, if they point so far aside, radians.
const A_PLACE: f64 = 20.0;
const ASIDE: f64 = 0.35;

/// What kind of axis is written.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Form {
    Bare,
    Direction,
    Point,
}

/// The three numbers of an axis, in the file's axes, and what they are.
fn three(node: &Node, what: &str, notes: &mut Diagnostics<'_>) -> Option<(Form, [f64; 3])> {
    let form = match node.name.as_deref() {
        None => Form::Bare,
        Some(DIRECTION) => Form::Direction,
        Some(POINT) => Form::Point,
        Some(_) => {
            notes.wrong_shape(node, what, "Direction(x, y, z) or Point(x, y, z)");
            return None;
        }
    };
    let Kind::Row(row) = &node.kind else {
        notes.wrong_shape(node, what, "three numbers (x, y, z)");
        return None;
    };
    // `Point(x, y, z)` and `Point((x, y, z))` say the same.
    let numbers = match row.as_slice() {
        [point] if form != Form::Bare => notes.triple(point, what)?,
        row => notes.row_of_three(node, row, what)?,
    };
    Some((form, numbers))
}

/// The second point of an axis, metres; `from` is its first, if that is known.
pub(crate) fn second_point(
    node: &Node,
    what: &str,
    from: Option<Vector3<f64>>,
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<Vector3<f64>> {
    let (form, numbers) = three(node, what, notes)?;
    let small = numbers.iter().all(|number| number.abs() <= NO_PLACE);
    if form == Form::Bare && small {
        let fault = Fault::AxisOfOtherKind { what: what.to_owned(), numbers, found: "a direction" };
        notes.add(node.span.start, fault);
        return None;
    }
    if form != Form::Direction {
        return Some(measures.point(numbers));
    }
    let along = unit(measures.axes.to_vehicle(numbers), node, what, notes)?;
    Some(from? + along * REACH)
}

/// A direction of any length, as a unit vector; `from` is the axis' first point, if it has one and that is known.
/// Three bare numbers that would point far aside from what is usual there are taken for a point.
pub(crate) fn direction(
    node: &Node,
    what: &str,
    (from, usual): (Option<Vector3<f64>>, Option<Vector3<f64>>),
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<Vector3<f64>> {
    let (form, numbers) = three(node, what, notes)?;
    let along = measures.axes.to_vehicle(numbers);
    match form {
        Form::Point => match from {
            Some(from) => unit(measures.point(numbers) - from, node, what, notes),
            None => {
                notes.wrong_shape(node, what, "a direction, Direction(x, y, z)");
                None
            }
        },
        Form::Bare if along.norm() > A_PLACE && usual.is_some_and(|usual| along.angle(&usual) > ASIDE) => {
            let fault = Fault::AxisOfOtherKind { what: what.to_owned(), numbers, found: "a point" };
            notes.add(node.span.start, fault);
            None
        }
        Form::Bare | Form::Direction => unit(along, node, what, notes),
    }
}

fn unit(along: Vector3<f64>, node: &Node, what: &str, notes: &mut Diagnostics<'_>) -> Option<Vector3<f64>> {
    let unit = along.try_normalize(0.0).filter(|unit| unit.iter().all(|c| c.is_finite()));
    if unit.is_none() {
        let fault = Fault::NoDirection { what: what.to_owned(), why: "its length is zero" };
        notes.add(node.span.start, fault);
    }
    unit
}
