//! What the tests share that hold our numbers against `outside/`, where SciPy and MuJoCo solved the same
//! cars: names of readings there and here, tolerances, and the largest differences seen.

use serde_json::Value;
use std::collections::BTreeMap;
use std::path::Path;
use wheelpath_geometry::{CornerMotion, OnGround, WheelValues, reading};

/// A file of `outside/`.
///
/// # Panics
/// When it is not there or is no JSON.
#[must_use]
pub fn stored(name: &str) -> Value {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("outside").join(name);
    let text = std::fs::read_to_string(&path).unwrap_or_else(|error| panic!("{}: {error}", path.display()));
    serde_json::from_str(&text).unwrap_or_else(|error| panic!("{}: {error}", path.display()))
}

/// A list of numbers.
///
/// # Panics
/// When it is something else.
#[must_use]
pub fn numbers(value: &Value) -> Vec<f64> {
    let number = |x: &Value| x.as_f64().unwrap_or_else(|| panic!("{x} is no number"));
    value.as_array().unwrap_or_else(|| panic!("{value} is no list")).iter().map(number).collect()
}

/// The entries of an object.
///
/// # Panics
/// When it is something else.
pub fn entries(value: &Value) -> impl Iterator<Item = (&str, &Value)> {
    let object = value.as_object().unwrap_or_else(|| panic!("{value} is no object"));
    object.iter().map(|(name, value)| (name.as_str(), value))
}

/// The tolerance a file states for a name, by its ending; points are lengths.
#[must_use]
pub fn tolerance(file: &Value, name: &str) -> f64 {
    let stated = &file["meta"]["tolerance"];
    let endings = ["_deg_per_m", "_deg_per_rad", "_deg", "_per_m", "_m"];
    let ending = endings.into_iter().find(|end| name.ends_with(end));
    let key = match ending {
        Some(ending) => ending,
        None if name.ends_with("percent") => "percent",
        None => "other ratios",
    };
    stated[key].as_f64().unwrap_or(0.0)
}

/// One reading of a wheel by its name there, in its unit there; `None` for a name that is not known or
/// a reading that does not exist here.
#[must_use]
pub fn wheel_reading(
    name: &str,
    motion: &CornerMotion<f64>,
    wheel: &OnGround<f64>,
    values: &WheelValues,
) -> Option<f64> {
    let get = |key: &str| values.get(reading(key)?);
    let degrees = |key: &str| get(key).map(f64::to_degrees);
    let twist = &motion.by_travel;
    let patch = wheel.contact_velocity(motion);
    match name {
        "camber_deg" => degrees("camber_to_road"),
        "steer_deg" => degrees("steer_angle"),
        "toe_deg" => degrees("toe"),
        "caster_deg" => degrees("caster"),
        "steering_axis_inclination_deg" => degrees("steering_axis_inclination"),
        "scrub_radius_m" => get("scrub_radius"),
        "trail_m" => get("trail"),
        "wheel_centre_offset_lateral_m" => get("wheel_centre_offset_lateral"),
        "wheel_centre_offset_longitudinal_m" => get("wheel_centre_offset_longitudinal"),
        "virtual_caster_deg" => degrees("virtual_caster"),
        "virtual_steering_axis_inclination_deg" => degrees("virtual_steering_axis_inclination"),
        "virtual_scrub_radius_m" => get("virtual_scrub_radius"),
        "virtual_trail_m" => get("virtual_trail"),
        "half_track_m" => get("half_track"),
        "wheelbase_change_m" => get("recession"),
        "damper_length_m" => get("damper_length"),
        "spring_length_m" => get("spring_length"),
        "rocker_angle_deg" => degrees("rocker_angle"),
        "bar_arm_angle_deg" => degrees("bar_arm_angle"),
        "bump_steer_deg_per_m" => degrees("bump_steer"),
        "camber_gain_deg_per_m" => degrees("camber_gain"),
        "motion_ratio" => get("motion_ratio"),
        "spring_ratio" => get("spring_motion_ratio"),
        "rocker_rate_deg_per_m" => degrees("rocker_rate"),
        "bar_arm_rate_deg_per_m" => degrees("bar_arm_rate"),
        "front_view_swing_arm_w_x_per_m" => {
            get("front_view_swing_arm_inverse").map(|x| x * motion.side.sign())
        }
        "side_view_swing_arm_w_y_per_m" => get("side_view_swing_arm_inverse"),
        "spin_w_z_per_m" => Some(twist.w.z),
        "wheel_centre_v_x" => get("recession_gain").map(|x| -x),
        "wheel_centre_v_y" => Some(twist.v.y),
        "contact_v_x_over_v_z" => get("contact_slope_side"),
        "contact_v_y_over_v_z" => Some(patch.y / patch.z),
        "steer_gain_deg_per_m" => degrees("steer_gain"),
        // Radians per radian here: degrees per radian there.
        "steer_gain_deg_per_rad" => degrees("steer_gain_pitman"),
        _ => None,
    }
}

/// Largest difference under each name, and the tolerance stated for it.
#[derive(Debug, Default)]
pub struct Disagreement {
    /// By name.
    pub largest: BTreeMap<String, (f64, f64)>,
    /// How many numbers or points were compared.
    pub compared: usize,
}

impl Disagreement {
    /// One difference.
    pub fn note(&mut self, name: &str, difference: f64, tolerance: f64) {
        let seen = self.largest.entry(name.to_owned()).or_insert((0.0, tolerance));
        // Written so that not-a-number stays.
        seen.0 = if difference <= seen.0 { seen.0 } else { difference };
        self.compared += 1;
    }

    /// Names whose largest difference is beyond their tolerance, or not a number.
    #[must_use]
    pub fn beyond(&self) -> Vec<&str> {
        let beyond =
            self.largest.iter().filter(|(_, (difference, limit))| difference.is_nan() || difference > limit);
        beyond.map(|(name, _)| name.as_str()).collect()
    }

    /// Fails where anything is beyond its tolerance.
    ///
    /// # Panics
    /// Then.
    pub fn assert_none(&self, what: &str) {
        let beyond: Vec<_> = self.beyond().into_iter().map(|name| (name, self.largest[name])).collect();
        assert!(beyond.is_empty(), "{what}: {beyond:?}");
        assert!(self.compared > 0, "{what}: nothing was compared");
    }
}
