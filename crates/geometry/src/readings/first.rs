//! Which readings are asked for first, and which say the same of the body and of the road.

use super::table::Reading;
use super::{Scope, reading};
use std::sync::LazyLock;

/// What an engineer asks of an axle before anything else, in that order. A car that lacks one goes without
/// its row; readings to the road stand behind those to the body, and are said where they differ.
const FIRST: [&str; 25] = [
    "camber_to_body",
    "camber_to_road",
    "toe",
    "toe_to_road",
    "caster",
    "caster_to_road",
    "steering_axis_inclination",
    "steering_axis_inclination_to_road",
    "scrub_radius",
    "trail",
    "half_track",
    "track",
    "bump_steer",
    "camber_gain",
    "motion_ratio",
    "spring_motion_ratio",
    "wheel_rate",
    "roll_centre_height",
    "front_view_swing_arm_inverse",
    "side_view_swing_arm_inverse",
    "anti_dive",
    "anti_lift",
    "anti_squat",
    "ackermann_percent",
    "ackermann_error",
];

/// A reading to the body and the same to the road.
const TWINS: [[&str; 2]; 5] = [
    ["camber_to_body", "camber_to_road"],
    ["toe", "toe_to_road"],
    ["steer_angle", "steer_to_road"],
    ["caster", "caster_to_road"],
    ["steering_axis_inclination", "steering_axis_inclination_to_road"],
];

/// Readings that add nothing where both say the same: the second says what the first does, of the axle as a
/// whole or of the spring on a damper.
const SAID: [[&str; 2]; 3] = [
    ["motion_ratio", "spring_motion_ratio"],
    ["motion_ratio_in_roll", "spring_motion_ratio_in_roll"],
    ["motion_ratio_one_wheel", "spring_motion_ratio_one_wheel"],
];

static FIRST_READINGS: LazyLock<Vec<&'static Reading>> =
    LazyLock::new(|| FIRST.iter().filter_map(|key| reading(key)).collect());

/// The readings asked for first, in the order in which they are shown.
#[must_use]
pub fn first_readings() -> &'static [&'static Reading] {
    &FIRST_READINGS
}

impl Reading {
    /// Whether it is among those asked for first.
    #[must_use]
    pub fn is_first(&self) -> bool {
        first_readings().iter().any(|one| one.key == self.key)
    }

    /// The reading that says the same where this one shows the same number: of one to the road that to the
    /// body, of a spring on its damper that of the damper.
    #[must_use]
    pub fn said_by(&self) -> Option<&'static Reading> {
        let pairs = TWINS.iter().chain(&SAID);
        pairs.into_iter().find(|[_, second]| *second == self.key).and_then(|[first, _]| reading(first))
    }

    /// The same reading to the road.
    #[must_use]
    pub fn to_road(&self) -> Option<&'static Reading> {
        TWINS.iter().find(|[body, _]| *body == self.key).and_then(|[_, road]| reading(road))
    }

    /// The name where body and road need not be told apart.
    #[must_use]
    pub fn plain_name(&self) -> &'static str {
        self.name.strip_suffix(" to the body").unwrap_or(self.name)
    }

    /// Whether it is worth a row among those asked for first only where left and right differ.
    #[must_use]
    pub fn is_of_unlike_sides(&self) -> bool {
        self.scope == Scope::Wheel && self.key == "half_track"
    }
}

#[cfg(test)]
mod tests {
    use super::{FIRST, SAID, TWINS};
    use crate::readings::reading;

    #[test]
    fn all_that_is_named_exists() {
        let named = FIRST.iter().chain(TWINS.iter().flatten()).chain(SAID.iter().flatten());
        for key in named {
            assert!(reading(key).is_some(), "{key}");
        }
        let camber = reading("camber_to_body").unwrap();
        assert_eq!(camber.plain_name(), "Camber");
        assert_eq!(camber.to_road().map(|road| road.key), Some("camber_to_road"));
        assert_eq!(camber.to_road().and_then(|road| road.said_by()), Some(camber));
    }
}
