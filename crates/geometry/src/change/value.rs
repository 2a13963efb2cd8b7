//! What a parameter of a car is: a place, a number, or left to follow from the points.

use crate::number::unit::{LengthUnit, Unit};
use nalgebra::Vector3;

/// Differences below this, metres or radians, are rounding.
pub(crate) const SAME: f64 = 1e-12;

/// What a thing is: a place, a number, or left to follow from the points.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Value {
    /// A point, metres.
    Place(Vector3<f64>),
    /// A number: metres, radians, or plain.
    Number(f64),
    /// The length of a link is the distance between its points.
    FromPoints,
}

impl Value {
    pub(crate) fn is_finite(self) -> bool {
        match self {
            Value::Place(at) => at.iter().all(|x| x.is_finite()),
            Value::Number(number) => number.is_finite(),
            Value::FromPoints => true,
        }
    }

    /// Whether it is the other but for rounding.
    #[must_use]
    pub fn is(self, other: Value) -> bool {
        match (self, other) {
            (Value::Place(a), Value::Place(b)) => (a - b).amax() <= SAME,
            (Value::Number(a), Value::Number(b)) => (a - b).abs() <= SAME.max(a.abs() * 1e-15),
            (a, b) => a == b,
        }
    }

    /// As it is on the other side of the car: a place has its Y negated.
    #[must_use]
    pub fn mirrored(self) -> Value {
        match self {
            Value::Place(at) => Value::Place(Vector3::new(at.x, -at.y, at.z)),
            other => other,
        }
    }

    /// In words, with its unit.
    #[must_use]
    pub fn written(self, unit: Unit, lengths: LengthUnit) -> String {
        self.written_to(unit, lengths, unit.decimals(lengths))
    }

    /// In words, with its unit and so many decimals.
    #[must_use]
    pub fn written_to(self, unit: Unit, lengths: LengthUnit, decimals: usize) -> String {
        match self {
            Value::Place(at) => {
                let [x, y, z] = [at.x, at.y, at.z].map(|c| unit.write_number_to(c, lengths, decimals));
                format!("({x}, {y}, {z}) {}", unit.symbol(lengths))
            }
            Value::Number(number) => unit.write_to(number, lengths, decimals),
            Value::FromPoints => "the distance between its points".to_owned(),
        }
    }
}
