//! What a person is told of a reading whose bare number would mislead; data has every number.

use super::table::{Group, Reading};
use super::{AxleValues, WheelValues, reading};
use crate::number::unit::Unit;

/// Ideal difference between the front wheels below which a percentage of it says nothing about Ackermann, radians
/// (0.05°): a wheel's static toe is as large, so that the wheels differ by their toe. Common practice, no source.
const NO_DIFFERENCE: f64 = 8.726_646_259_971_648e-4;

/// Why Ackermann's percentages are not told near straight ahead.
const TOO_STRAIGHT: &str =
    "so near straight ahead the wheels differ by their toe: the ideal difference between them is below 0.05°";

/// A point further off than this, metres, is told as none: the next digit of a coordinate moves it by as much.
/// Common practice, no source.
pub const FARTHEST_TOLD: f64 = 100.0;

/// Why a crossing of lines so far away is not told.
pub const NEARLY_PARALLEL: &str = "the lines that meet there are nearly parallel: it lies over 100 m away";

/// Why a screw axis so far away is not told.
const HARDLY_TURNS: &str = "the upright hardly turns with travel: its screw axis lies over 100 m away";

/// The coordinates of points that run away, with why they are not told then: where one is too large, none of its
/// point is told.
const POINTS: [(&[&str], &str); 4] = [
    (&["roll_centre_height", "roll_centre_lateral"], NEARLY_PARALLEL),
    (&["front_view_instant_centre_y", "front_view_instant_centre_z"], NEARLY_PARALLEL),
    (&["side_view_instant_centre_x", "side_view_instant_centre_z"], NEARLY_PARALLEL),
    (&["screw_point_x", "screw_point_y", "screw_point_z", "screw_pitch"], HARDLY_TURNS),
];

/// Why the reading is not told where it belongs to a point too far away.
fn too_far(asked: &Reading, get: impl Fn(&Reading) -> Option<f64>) -> Option<&'static str> {
    let (keys, why) = POINTS.iter().find(|(keys, _)| keys.contains(&asked.key))?;
    let far = |key: &&str| reading(key).and_then(&get).is_some_and(|at| at.abs() > FARTHEST_TOLD);
    keys.iter().any(far).then_some(*why)
}

impl WheelValues {
    /// The value as a person is told it.
    ///
    /// # Errors
    /// Why there is none: the reading does not exist here, or it belongs to an instant centre or a screw axis over
    /// 100 m away.
    pub fn told(&self, asked: &Reading) -> Result<f64, &'static str> {
        let value = self.get(asked).ok_or(asked.absent)?;
        too_far(asked, |reading| self.get(reading)).map_or(Ok(value), Err)
    }
}

impl AxleValues {
    /// The value as a person is told it.
    ///
    /// # Errors
    /// Why there is none: the reading does not exist here, or it is a percentage of an ideal difference between
    /// the front wheels of less than 0.05°, or the roll centre lies over 100 m away.
    pub fn told(&self, asked: &Reading) -> Result<f64, &'static str> {
        let value = self.get(asked).ok_or(asked.absent)?;
        if let Some(why) = too_far(asked, |reading| self.get(reading)) {
            return Err(why);
        }
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

#[cfg(test)]
mod tests {
    use super::{FARTHEST_TOLD, HARDLY_TURNS, NEARLY_PARALLEL};
    use crate::{AXLE_READINGS, AxleValues, WHEEL_READINGS, WheelValues, reading};

    /// A point over 100 m away has no coordinate that is told; the numbers themselves stay.
    #[test]
    fn a_point_far_away_is_told_as_none() {
        let index = |key: &str| reading(key).unwrap().index;
        let mut axle = AxleValues([0.3; AXLE_READINGS]);
        let height = reading("roll_centre_height").unwrap();
        axle.0[index("roll_centre_lateral")] = -FARTHEST_TOLD;
        assert_eq!(axle.told(height), Ok(0.3));
        axle.0[index("roll_centre_lateral")] = -FARTHEST_TOLD * 1.001;
        assert_eq!(axle.told(height), Err(NEARLY_PARALLEL));
        assert_eq!(axle.get(height), Some(0.3));
        assert_eq!(axle.told(reading("roll_centre_mean_height").unwrap()), Ok(0.3));

        let mut wheel = WheelValues([0.3; WHEEL_READINGS]);
        wheel.0[index("side_view_instant_centre_x")] = 101.0;
        wheel.0[index("screw_point_y")] = -101.0;
        let told = |key: &str| wheel.told(reading(key).unwrap());
        assert_eq!(told("side_view_instant_centre_z"), Err(NEARLY_PARALLEL));
        assert_eq!(told("screw_pitch"), Err(HARDLY_TURNS));
        assert_eq!(told("front_view_instant_centre_z"), Ok(0.3));
        wheel.0[index("side_view_instant_centre_x")] = f64::NAN;
        let absent = reading("side_view_instant_centre_x").unwrap();
        assert_eq!(wheel.told(absent), Err(absent.absent));
    }
}
