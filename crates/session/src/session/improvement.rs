//! Which way a point would have to go for a reading: exact slopes of the car shown, in the pose shown.

use super::Session;
use crate::keep::{CarRevision, Kept};
use nalgebra::Vector3;
use std::sync::{Arc, Mutex, PoisonError};
use wheelpath_geometry::{
    Assembly, Axis, CarPose, ChangedOn, Hardpoint, Links, Reading, ScalarParameter, Scope, Sensitivity, Side,
};

/// Slopes below this share of one noticeable step a metre are none: the point has nothing to do with the
/// reading, and the rest is rounding.
const NOTHING: f64 = 1e-6;

/// Where a reading is wanted to go.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Goal {
    /// Nearer zero.
    #[default]
    Zero,
    /// Up.
    More,
    /// Down.
    Less,
}

impl Goal {
    /// All three.
    pub const ALL: [Goal; 3] = [Goal::Zero, Goal::More, Goal::Less];

    /// In words.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Goal::Zero => "toward zero",
            Goal::More => "up",
            Goal::Less => "down",
        }
    }
}

/// A reading and where it is wanted to go.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct WantedReading {
    /// The reading.
    pub reading: &'static Reading,
    /// Where to.
    pub aim: Goal,
}

/// The way on which a reading goes fastest where it is wanted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ImprovementDirection {
    /// What was wanted.
    pub wanted: WantedReading,
    /// The reading now, SI units and radians.
    pub value: f64,
    /// Unit direction for the point, in vehicle axes of the design pose.
    pub along: Vector3<f64>,
    /// What the reading changes by per metre on that way, SI units and radians: + = it rises.
    pub slope: f64,
    /// Whether the way keeps to the plate that carries the point.
    pub in_plate: bool,
}

/// What the slopes of a point depend on.
#[derive(Clone, Copy, Debug, PartialEq)]
struct SlopesOf {
    assembly: Assembly,
    hardpoint: Hardpoint,
    on: ChangedOn,
    revision: CarRevision,
    shown: CarPose,
}

/// The slopes asked for last: the panels and the stage ask for the same, once for every reading.
#[derive(Debug, Default)]
pub(super) struct Slopes(Mutex<Kept<SlopesOf, Option<[Sensitivity; 3]>>>);

impl Clone for Slopes {
    /// They are soon made anew.
    fn clone(&self) -> Self {
        Slopes::default()
    }
}

impl Slopes {
    fn of(
        &self,
        of: SlopesOf,
        make: impl FnOnce() -> Option<[Sensitivity; 3]>,
    ) -> Arc<Option<[Sensitivity; 3]>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).of(of, |_| true, |_| make())
    }
}

impl Session {
    /// Slopes of a reading to the three coordinates of a point, SI units and radians per metre, in the pose
    /// shown, links cut to the new distance between their ends; with the reading's value. Of a reading of
    /// wheels it is that of the point's own side, or of the left one for a point of the axle. `None` where
    /// the reading does not exist or has no slope here.
    #[must_use]
    pub fn slope(
        &self,
        assembly: Assembly,
        hardpoint: Hardpoint,
        reading: &'static Reading,
        mirrored: bool,
    ) -> Option<(f64, Vector3<f64>)> {
        let side = assembly.seen_at().side;
        let on = match assembly {
            Assembly::Corner(at) if !mirrored => ChangedOn::One(at.side),
            _ => ChangedOn::Both,
        };
        let at = self.shown().axle(assembly.end());
        let value = match reading.scope {
            Scope::Wheel => at.wheel_values(side).get(reading),
            Scope::Axle => at.axle_values().get(reading),
        }?;
        let mut slope = Vector3::zeros();
        for (axis, slopes) in self.slopes(assembly, hardpoint, on).as_ref().as_ref()?.iter().enumerate() {
            // Coordinates are counted on the left where both sides move: Y of the right one is minus that.
            let counted = if on == ChangedOn::Both && side == Side::Right && axis == 1 { -1.0 } else { 1.0 };
            slope[axis] = counted
                * match reading.scope {
                    Scope::Wheel => slopes.wheels[usize::from(side == Side::Right)].get(reading),
                    Scope::Axle => slopes.axle.get(reading),
                }?;
        }
        Some((value, slope))
    }

    /// Slopes of all readings to the three coordinates of a point.
    fn slopes(
        &self,
        assembly: Assembly,
        hardpoint: Hardpoint,
        on: ChangedOn,
    ) -> Arc<Option<[Sensitivity; 3]>> {
        let of = SlopesOf { assembly, hardpoint, on, revision: self.revision(), shown: self.shown().pose };
        self.slopes.of(of, || {
            let (solver, at) = (self.solver().axle(assembly.end()), self.shown().axle(assembly.end()));
            let to =
                |axis| solver.sensitivity(at, ScalarParameter::point(hardpoint, axis), on, Links::Remade);
            Some([to(Axis::X)?, to(Axis::Y)?, to(Axis::Z)?])
        })
    }

    /// The way of a point for each reading that it has to do with; within its plate where that is known.
    #[must_use]
    pub fn ways(
        &self,
        assembly: Assembly,
        hardpoint: Hardpoint,
        wanted: &[WantedReading],
        mirrored: bool,
    ) -> Vec<ImprovementDirection> {
        let plate = self.plate(assembly, hardpoint);
        let way = |wanted: &WantedReading| {
            let (value, slope) = self.slope(assembly, hardpoint, wanted.reading, mirrored)?;
            let slope = plate.map_or(slope, |normal| slope - normal * normal.dot(&slope));
            let size = slope.norm();
            if size.partial_cmp(&(NOTHING * super::noticeable(wanted.reading.unit)))?.is_le() {
                return None;
            }
            let up = match wanted.aim {
                Goal::More => 1.0,
                Goal::Less => -1.0,
                Goal::Zero if value > 0.0 => -1.0,
                Goal::Zero => 1.0,
            };
            Some(ImprovementDirection {
                wanted: *wanted,
                value,
                along: slope * (up / size),
                slope: up * size,
                in_plate: plate.is_some(),
            })
        };
        wanted.iter().filter_map(way).collect()
    }
}

#[cfg(test)]
mod tests;
