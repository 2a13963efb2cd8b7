//! The rates of a beam axle's wheel, taken anew in another motion than heave.

use super::{absent, motion, springing, table::Reading, wheel_rate};
use crate::corner::corner_motion::CornerMotion;
use crate::corner::on_ground::OnGround;
use crate::number::real::Real;

/// The families whose readings are rates.
const FAMILIES: [&[Reading]; 3] = [motion::TABLE, springing::TABLE, wheel_rate::TABLE];
const FIRST: [usize; 3] = super::firsts(FAMILIES);
const COUNT: usize = FIRST[2] + wheel_rate::TABLE.len();

/// The rates of a corner in one motion; none where the corner moves on its own.
pub(super) struct Rates<T>(Option<[T; COUNT]>);

impl<T: Real> Rates<T> {
    /// Of a corner whose rates are per unit of that motion.
    #[inline(always)]
    pub fn of(corner: Option<&CornerMotion<T>>, wheel: &OnGround<T>) -> Self {
        Rates(corner.map(|corner| {
            let mut all = [absent(); COUNT];
            motion::values(corner, wheel, |i, value| all[FIRST[0] + i] = value);
            springing::values(corner, wheel, |i, value| all[FIRST[1] + i] = value);
            wheel_rate::values(corner, wheel, |i, value| all[FIRST[2] + i] = value);
            all
        }))
    }

    /// The rate that has this key in heave.
    #[inline(always)]
    pub fn get(&self, key: &str) -> T {
        let Some(all) = &self.0 else { return absent() };
        let place = FAMILIES.iter().flat_map(|table| table.iter()).position(|reading| reading.key == key);
        place.and_then(|place| all.get(place)).copied().unwrap_or_else(absent)
    }
}

#[cfg(test)]
mod tests {
    use super::super::{reading, wheel_readings};

    /// Each reading of a beam axle stands beside the one in heave that it takes anew, and says so.
    #[test]
    fn readings_of_beams_are_those_in_heave_over_again() {
        let mut seen = 0;
        for one in wheel_readings().iter().filter(|one| one.is_of_beams()) {
            let suffix = format!(
                "_{}",
                match one.motion.key() {
                    "roll" => "in_roll",
                    key => key,
                }
            );
            let key = one.key.strip_suffix(&suffix).unwrap_or_else(|| panic!("{} {suffix}", one.key));
            let heave = reading(key).unwrap();
            assert_eq!((heave.motion.key(), heave.unit), ("heave", one.unit), "{key}");
            assert!(one.name.starts_with(heave.name), "{} and {}", one.name, heave.name);
            assert_eq!(one.sign, heave.sign, "{key}");
            seen += 1;
        }
        assert_eq!(seen, 20);
    }
}
