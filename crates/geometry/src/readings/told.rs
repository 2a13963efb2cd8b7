//! What a person is told of a reading whose bare number would mislead; data has every number.

use super::table::{Group, Reading};
use super::{AxleValues, reading};
use crate::number::unit::Unit;

/// Ideal difference between the front wheels below which a percentage of it says nothing about Ackermann, radians
/// (0.05°): a wheel's static toe is as large, so that the wheels differ by their toe. Common practice, no source.
const NO_DIFFERENCE: f64 = 8.726_646_259_971_648e-4;

/// Why Ackermann's percentages are not told near straight ahead.
const TOO_STRAIGHT: &str =
    "so near straight ahead the wheels differ by their toe: the ideal difference between them is below 0.05°";

impl AxleValues {
    /// The value as a person is told it.
    ///
    /// # Errors
    /// Why there is none: the reading does not exist here, or it is a percentage of an ideal difference between
    /// the front wheels of less than 0.05°.
    pub fn told(&self, asked: &Reading) -> Result<f64, &'static str> {
        let value = self.get(asked).ok_or(asked.absent)?;
        let of = |key| reading(key).and_then(|reading| self.get(reading));
        let is_percentage_at_a_pose = asked.group == Group::Ackermann
            && asked.unit == Unit::Percent
            && asked.key != "ackermann_arm_line";
        let ideal = || of("outer_ideal").or_else(|| of("outer_ideal_contact"));
        let difference = of("inner_steer").zip(ideal()).map(|(inner, ideal)| (inner - ideal).abs());
        match difference {
            Some(difference) if is_percentage_at_a_pose && difference < NO_DIFFERENCE => Err(TOO_STRAIGHT),
            _ => Ok(value),
        }
    }
}
