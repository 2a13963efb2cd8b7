//! What an edit did: the readings that moved most against the original.

use super::Session;
use wheelpath_geometry::{End, Reading, Side, Unit, axle_readings, wheel_readings};

/// A reading that moved.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moved {
    /// Which reading.
    pub reading: &'static Reading,
    /// At which end.
    pub end: End,
    /// On which side; `None` where both moved alike or the reading is the axle's.
    pub side: Option<Side>,
    /// Whether that axle moves as one, so that a rate is said with its motion.
    pub as_one: bool,
    /// Its value in the original, SI units and radians.
    pub from: f64,
    /// Its value now.
    pub to: f64,
    /// The change in steps that would be noticed: see [`noticeable`].
    pub weight: f64,
}

impl Moved {
    /// What moved, and where: "Bump steer, in heave, rear left".
    #[must_use]
    pub fn title(&self) -> String {
        let place = self.side.map_or_else(|| self.end.to_string(), |side| format!("{} {side}", self.end));
        format!("{}, {place}", self.reading.name_on(self.as_one))
    }
}

/// A change of a reading that one would just notice, SI units and radians.
#[must_use]
pub fn noticeable(unit: Unit) -> f64 {
    match unit {
        Unit::Degree => 0.05_f64.to_radians(),
        Unit::Length => 1e-3,
        Unit::PerMetre => 0.02,
        Unit::DegreePerMetre => 1.0_f64.to_radians(),
        Unit::DegreePerRackTravel => 5.0_f64.to_radians(),
        Unit::Ratio | Unit::DegreePerDegree | Unit::PerTravel => 0.01,
        Unit::Percent => 0.01,
        Unit::Metre => 0.05,
        Unit::SpringRate => 500.0,
        Unit::SpringRateGain => 10_000.0,
        Unit::TorsionRate => 50.0,
    }
}

/// Coordinates that run off to infinity on any car, and say nothing their inverse does not.
fn runs_away(reading: &Reading) -> bool {
    reading.key.contains("instant_centre") || reading.key.starts_with("screw_")
}

impl Session {
    /// The readings that moved most in the pose shown, most first.
    #[must_use]
    pub fn moved_most(&self, count: usize) -> Vec<Moved> {
        let Some(original) = self.baseline_values() else { return Vec::new() };
        let mut all = Vec::new();
        for end in End::BOTH {
            let as_one = self.car().axle(end).is_beam();
            for reading in wheel_readings().iter().filter(|reading| !runs_away(reading)) {
                let of = |side| {
                    let from = original.get(end, side, reading)?;
                    let to = self.values().get(end, side, reading)?;
                    let weight = (to - from).abs() / noticeable(reading.unit);
                    Some(Moved { reading, end, side: Some(side), as_one, from, to, weight })
                };
                match (of(Side::Left), of(Side::Right)) {
                    (Some(left), Some(right)) if (left.weight - right.weight).abs() < 0.02 => {
                        all.push(Moved { side: None, ..left });
                    }
                    (left, right) => all.extend(left.into_iter().chain(right)),
                }
            }
            for reading in axle_readings() {
                let pair = original.axle(end, reading).zip(self.values().axle(end, reading));
                all.extend(pair.map(|(from, to)| {
                    let weight = (to - from).abs() / noticeable(reading.unit);
                    Moved { reading, end, side: None, as_one, from, to, weight }
                }));
            }
        }
        all.retain(|moved| moved.weight > 0.05);
        all.sort_by(|a, b| b.weight.total_cmp(&a.weight));
        all.truncate(count);
        all
    }
}
