//! A direction as it is written.

use crate::read::car::Heading;
use crate::text::axis_form::DIRECTION;
use crate::text::ron_value::RonValue;
use nalgebra::Vector3;

/// A direction of any length says it: as long as it says the same, it stays as it is written. `written` is what
/// the old file says.
pub(crate) fn direction(now: &Vector3<f64>, written: Option<Vector3<f64>>, heading: &Heading) -> RonValue {
    if written == Some(*now) { RonValue::Keep } else { RonValue::direction(DIRECTION, now, heading.axes) }
}
