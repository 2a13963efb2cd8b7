//! The catalogue of readings: every number the tool shows, with its name, unit, sign, definition and
//! formula, and the one expression that computes it.

#[macro_use]
mod table;

mod ackermann;
mod across;
mod beam;
mod chosen;
mod find;
mod first;
mod in_roll;
mod motion;
mod one_wheel;
mod pitch;
mod place;
mod roll;
mod solved_axle;
mod springing;
mod steer_motion;
mod steering_axis;
mod steering_wheel;
mod told;
mod turning;
mod wheel_angles;
mod wheel_rate;

pub use find::{reading_called, readings_beginning};
pub use first::first_readings;
pub use table::{Group, MotionOf, Reading, Scope};
pub use told::{FARTHEST_TOLD, NEARLY_PARALLEL};

pub(crate) use chosen::Chosen;

use crate::axle::axle_motion::AxleMotion;
use crate::corner::corner_motion::CornerMotion;
use crate::corner::on_ground::OnGround;
use crate::number::real::Real;
use std::sync::LazyLock;

/// How many readings one wheel has.
pub const WHEEL_READINGS: usize = wheel_angles::TABLE.len()
    + steering_axis::TABLE.len()
    + place::TABLE.len()
    + motion::TABLE.len()
    + steer_motion::TABLE.len()
    + springing::TABLE.len()
    + wheel_rate::TABLE.len()
    + in_roll::TABLE.len()
    + one_wheel::TABLE.len();

/// How many readings one axle has.
pub const AXLE_READINGS: usize = roll::TABLE.len()
    + across::TABLE.len()
    + steering_wheel::TABLE.len()
    + ackermann::TABLE.len()
    + turning::TABLE.len()
    + pitch::TABLE.len();

/// The families of a wheel's readings.
const WHEEL_TABLES: [&[Reading]; 9] = [
    wheel_angles::TABLE,
    steering_axis::TABLE,
    place::TABLE,
    motion::TABLE,
    steer_motion::TABLE,
    springing::TABLE,
    wheel_rate::TABLE,
    in_roll::TABLE,
    one_wheel::TABLE,
];

static WHEEL: LazyLock<Vec<Reading>> = LazyLock::new(|| numbered(&WHEEL_TABLES));

/// The families of an axle's readings.
const AXLE_TABLES: [&[Reading]; 6] =
    [roll::TABLE, across::TABLE, steering_wheel::TABLE, ackermann::TABLE, turning::TABLE, pitch::TABLE];

static AXLE: LazyLock<Vec<Reading>> = LazyLock::new(|| numbered(&AXLE_TABLES));

fn numbered(tables: &[&[Reading]]) -> Vec<Reading> {
    let mut all: Vec<Reading> = tables.concat();
    for (index, reading) in all.iter_mut().enumerate() {
        reading.index = index;
    }
    all
}

/// The readings of a wheel, in the order of their values.
#[must_use]
pub fn wheel_readings() -> &'static [Reading] {
    &WHEEL
}

/// The readings of an axle, in the order of their values.
#[must_use]
pub fn axle_readings() -> &'static [Reading] {
    &AXLE
}

/// The reading with this key, of a wheel or an axle; a key that a reading had before is still known.
#[must_use]
pub fn reading(key: &str) -> Option<&'static Reading> {
    let known = |key: &str| WHEEL.iter().chain(AXLE.iter()).find(|reading| reading.key == key);
    let before = || match key.strip_prefix("ackermann_percent") {
        Some("") => known("ackermann_inner"),
        Some(base) => known(&format!("ackermann{base}")),
        None => None,
    };
    known(key).or_else(before)
}

/// Values of all readings of a wheel, SI units and radians; not-a-number where a reading does not exist.
#[derive(Clone, Copy, Debug)]
pub struct WheelValues<T: Real = f64>(pub [T; WHEEL_READINGS]);

/// Values of all readings of an axle, SI units and radians; not-a-number where a reading does not exist.
#[derive(Clone, Copy, Debug)]
pub struct AxleValues<T: Real = f64>(pub [T; AXLE_READINGS]);

impl WheelValues {
    /// The value; `None` where the reading does not exist here, or is not a wheel's.
    #[must_use]
    pub fn get(&self, reading: &Reading) -> Option<f64> {
        let value = (reading.scope == Scope::Wheel).then(|| self.0.get(reading.index))?;
        value.copied().filter(|value| value.is_finite())
    }
}

impl AxleValues {
    /// The value; `None` where the reading does not exist here, or is not an axle's.
    #[must_use]
    pub fn get(&self, reading: &Reading) -> Option<f64> {
        let value = (reading.scope == Scope::Axle).then(|| self.0.get(reading.index))?;
        value.copied().filter(|value| value.is_finite())
    }
}

/// Where the families of a wheel's readings begin among them.
const FIRST_OF_WHEEL: [usize; 9] = firsts(WHEEL_TABLES);

/// Where the families of an axle's readings begin among them.
const FIRST_OF_AXLE: [usize; 6] = firsts(AXLE_TABLES);

/// The family of the wheel's reading at this place among them.
pub(crate) fn family_of(index: usize) -> usize {
    FIRST_OF_WHEEL.partition_point(|&first| first <= index).saturating_sub(1)
}

/// Hands over one family of a wheel's readings on a ground, each with its place among all of them.
#[inline(always)]
pub(crate) fn family_values<const FAMILY: usize, T: Real>(
    corner: &CornerMotion<T>,
    wheel: &OnGround<T>,
    mut put: impl FnMut(usize, T),
) {
    let put = |i, value| put(FIRST_OF_WHEEL[FAMILY] + i, value);
    // Rates are those in heave: where the wheels do not move each other, the corner's own.
    let heave;
    let moving = if matches!(FAMILY, 3 | 5) && corner.as_one.is_some() {
        heave = corner.in_heave();
        &heave
    } else {
        corner
    };
    match FAMILY {
        0 => wheel_angles::values(corner, wheel, put),
        1 => steering_axis::values(corner, wheel, put),
        2 => place::values(corner, wheel, put),
        3 => motion::values(moving, wheel, put),
        4 => steer_motion::values(corner, wheel, put),
        5 => springing::values(moving, wheel, put),
        6 => wheel_rate::values(corner, wheel, put),
        7 => in_roll::values(corner, wheel, put),
        _ => one_wheel::values(corner, wheel, put),
    }
}

/// Hands over all readings of a wheel on a ground, each with its place among them.
#[inline(always)]
pub(crate) fn each_wheel_value<T: Real>(
    corner: &CornerMotion<T>,
    wheel: &OnGround<T>,
    mut put: impl FnMut(usize, T),
) {
    family_values::<0, T>(corner, wheel, &mut put);
    family_values::<1, T>(corner, wheel, &mut put);
    family_values::<2, T>(corner, wheel, &mut put);
    family_values::<3, T>(corner, wheel, &mut put);
    family_values::<4, T>(corner, wheel, &mut put);
    family_values::<5, T>(corner, wheel, &mut put);
    family_values::<6, T>(corner, wheel, &mut put);
    family_values::<7, T>(corner, wheel, &mut put);
    family_values::<8, T>(corner, wheel, &mut put);
}

/// The place of each family's first reading among those of its scope.
const fn firsts<const N: usize>(tables: [&[Reading]; N]) -> [usize; N] {
    let mut firsts = [0; N];
    let mut family = 1;
    while family < N {
        firsts[family] = firsts[family - 1] + tables[family - 1].len();
        family += 1;
    }
    firsts
}

/// All readings of a wheel on a ground.
pub fn wheel_values<T: Real>(corner: &CornerMotion<T>, wheel: &OnGround<T>) -> WheelValues<T> {
    let mut all = [T::zero(); WHEEL_READINGS];
    each_wheel_value(corner, wheel, |i, value| all[i] = value);
    WheelValues(all)
}

/// All readings of an axle.
#[inline]
pub fn axle_values<T: Real>(axle: &AxleMotion<T>) -> AxleValues<T> {
    let mut all = [T::zero(); AXLE_READINGS];
    for family in 0..FIRST_OF_AXLE.len() {
        axle_family_values(family, axle, |i, value| all[i] = value);
    }
    AxleValues(all)
}

/// Hands over one family of an axle's readings, each with its place among all of them.
#[inline]
fn axle_family_values<T: Real>(family: usize, axle: &AxleMotion<T>, mut put: impl FnMut(usize, T)) {
    let put = |i, value| put(FIRST_OF_AXLE[family] + i, value);
    match family {
        0 => roll::values(axle, put),
        1 => across::values(axle, put),
        2 => steering_wheel::values(axle, put),
        3 => ackermann::values(axle, put),
        4 => turning::values(axle, put),
        _ => pitch::values(axle, put),
    }
}

/// The value of a reading that does not exist at this pose.
#[inline(always)]
fn absent<T: Real>() -> T {
    T::constant(f64::NAN)
}

#[cfg(test)]
mod tests {
    use super::{axle_readings, reading, reading_called, wheel_readings};
    use crate::number::unit::LengthUnit;
    use std::collections::HashSet;

    #[test]
    fn every_reading_is_said_in_full_and_once() {
        let mut keys = HashSet::new();
        let mut names = HashSet::new();
        for reading in wheel_readings().iter().chain(axle_readings()) {
            assert!(keys.insert(reading.key), "{} stands twice", reading.key);
            assert!(names.insert(reading.name), "{} stands twice", reading.name);
            for text in [reading.name, reading.sign, reading.definition, reading.formula, reading.source] {
                assert!(!text.trim().is_empty(), "{} lacks a text", reading.key);
            }
            assert!(reading.key.bytes().all(|b| b.is_ascii_lowercase() || b == b'_' || b.is_ascii_digit()));
        }
    }

    /// The unit is appended to a key in data: a key that ends in it would say it twice.
    #[test]
    fn no_key_says_its_unit_itself() {
        for one in wheel_readings().iter().chain(axle_readings()) {
            for lengths in LengthUnit::BOTH {
                let unit = one.unit.key_suffix(lengths);
                let says = |part: &str| one.key.ends_with(part) || one.key.contains(&format!("{part}_"));
                assert!(unit.is_empty() || !says(unit), "{}{unit}", one.key);
                // As it stands in data it is known too.
                let found = reading_called(&format!("{}{unit}", one.key)).unwrap();
                assert_eq!(found.key, one.key);
            }
        }
    }

    #[test]
    fn keys_of_before_are_still_read() {
        for (before, now) in [
            ("ackermann_percent", "ackermann_inner"),
            ("ackermann_percent_contact", "ackermann_contact"),
            ("ackermann_percent_outer", "ackermann_outer"),
            ("ackermann_percent_mean", "ackermann_mean"),
            ("ackermann_percent_crossing", "ackermann_crossing"),
            ("ackermann_percent_arm_line", "ackermann_arm_line"),
        ] {
            assert_eq!(reading(before).unwrap().key, now);
        }
        assert!(reading("ackermann_percent_").is_none() && reading("toe_percent").is_none());
    }
}
