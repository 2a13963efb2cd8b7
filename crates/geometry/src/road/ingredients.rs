//! What a car brings to the estimate of its lean, and what it lacks for one.

use super::estimate::{AxleIngredients, Estimate, FallsOver, GRAVITY, Ingredients};
use super::gradients::Cornering;
use super::mid_corner::MidCorner;
use super::stand::RoadSolver;
use crate::car::{Car, Reacted};
use crate::readings::reading;
use crate::side::{End, Side, WheelAt};
use crate::stop::Stop;
use std::fmt;

/// A number of the car that an estimate needs.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Lacking {
    /// The mass.
    Mass,
    /// The front axle's share of the weight.
    WeightShare,
    /// The height of the centre of gravity.
    CentreOfGravityHeight,
    /// A corner's spring: none is given, or its place is not followed.
    Spring(WheelAt),
    /// A roll centre, which stands nowhere.
    RollCentre(End),
}

impl fmt::Display for Lacking {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Lacking::Mass => write!(f, "the car's mass is not given"),
            Lacking::WeightShare => write!(f, "the front wheels' share of the weight is not given"),
            Lacking::CentreOfGravityHeight => {
                write!(f, "the height of the centre of gravity is not given")
            }
            Lacking::Spring(wheel) => write!(f, "{wheel}: no spring with a rate on the damper is given"),
            Lacking::RollCentre(end) => write!(f, "the {end} axle has no roll centre"),
        }
    }
}

/// Why a car's lean cannot be estimated.
#[derive(Clone, Debug, PartialEq)]
pub enum NoEstimate {
    /// Numbers are missing.
    Lacking(Vec<Lacking>),
    /// The car does not stand up.
    FallsOver(FallsOver),
    /// The pose it comes to cannot be reached.
    Stop(Stop),
}

impl fmt::Display for NoEstimate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NoEstimate::Lacking(all) => {
                write!(f, "the lean cannot be estimated: ")?;
                for (i, one) in all.iter().enumerate() {
                    write!(f, "{}{one}", if i == 0 { "" } else { "; " })?;
                }
                write!(f, ". Give these, or the roll and ride-height gradients themselves")
            }
            NoEstimate::FallsOver(falls) => write!(f, "{falls}"),
            NoEstimate::Stop(stop) => write!(f, "{stop}"),
        }
    }
}

impl std::error::Error for NoEstimate {}

impl Car {
    /// Load on each wheel of an axle in the design pose, newtons, both sides alike; `None` where mass or
    /// weight share is not given.
    #[must_use]
    pub fn wheel_loads(&self, end: End) -> Option<[f64; 2]> {
        let front = self.weight_share_front?;
        let share = if end == End::Front { front } else { 1.0 - front };
        Some([0.5 * self.mass? * GRAVITY * share; 2])
    }
}

impl RoadSolver<'_> {
    /// What the car brings to an estimate.
    ///
    /// # Errors
    /// What it lacks.
    pub fn ingredients(&self) -> Result<Ingredients, Vec<Lacking>> {
        let mut lacking = Vec::new();
        let mut given = |value: Option<f64>, what| {
            value.unwrap_or_else(|| {
                lacking.push(what);
                f64::NAN
            })
        };
        let mass = given(self.car.mass, Lacking::Mass);
        let weight_share_front = given(self.car.weight_share_front, Lacking::WeightShare);
        let centre_of_gravity_height =
            given(self.car.centre_of_gravity_height, Lacking::CentreOfGravityHeight);
        let mut axles = Vec::with_capacity(2);
        for end in End::BOTH {
            match self.axle_ingredients(end) {
                Ok(axle) => axles.push(axle),
                Err(mut what) => lacking.append(&mut what),
            }
        }
        match axles.as_slice() {
            &[front, rear] if lacking.is_empty() => Ok(Ingredients {
                mass,
                weight_share_front,
                centre_of_gravity_height,
                wheelbase: self.car.wheelbase,
                axles: [front, rear],
            }),
            _ => Err(lacking),
        }
    }

    fn axle_ingredients(&self, end: End) -> Result<AxleIngredients, Vec<Lacking>> {
        let solver = self.solver.axle(end);
        // Loads only add to a rate: springs that are missing are told even without them.
        let loads = self.car.wheel_loads(end).unwrap_or([0.0; 2]);
        let Some(stiffness) = solver.stiffness(loads) else {
            let start = solver.start();
            let missing = |side: &Side| start.motion.corner(*side).pressed().is_none();
            let wheel = |side| Lacking::Spring(WheelAt { end, side });
            return Err(Side::BOTH.into_iter().filter(missing).map(wheel).collect());
        };
        let start = solver.start();
        let height = reading("roll_centre_height").and_then(|reading| start.axle_values().get(reading));
        let Some(roll_centre_height) = height else { return Err(vec![Lacking::RollCentre(end)]) };
        let slope = |reacted: Reacted| start.motion.pitch_slope(reacted);
        let axle = self.car.axle(end);
        let share = self.car.brake_share_front;
        let share = share.map(|front| if end == End::Front { front } else { 1.0 - front });
        let alone = self.car.front.drive.is_some() != self.car.rear.drive.is_some();
        let driving = match axle.drive {
            Some(reacted) if alone => Some((1.0, slope(reacted))),
            None if alone => Some((0.0, 0.0)),
            _ => None,
        };
        Ok(AxleIngredients {
            stiffness,
            roll_centre_height,
            braking: share.map(|share| (share, slope(axle.brakes))),
            driving,
        })
    }

    /// An estimate of how the body leans, for gaining speed or braking as `longitudinal` (m/s²) says.
    ///
    /// # Errors
    /// What the car lacks, or that it would fall over.
    pub fn estimate(&self, longitudinal: f64) -> Result<Estimate, NoEstimate> {
        let ingredients = self.ingredients().map_err(NoEstimate::Lacking)?;
        ingredients.estimate(longitudinal).map_err(NoEstimate::FallsOver)
    }

    /// The car in a steady bend, its lean estimated from springs, bars and masses, with that estimate.
    ///
    /// # Errors
    /// What the car lacks for an estimate, or the limit a linkage meets.
    pub fn mid_corner_by_estimate(
        &self,
        at: &Cornering,
        steer: f64,
    ) -> Result<(MidCorner, Estimate), NoEstimate> {
        let estimate = self.estimate(at.longitudinal)?;
        let car = self.mid_corner(at, steer, &estimate.gradients).map_err(NoEstimate::Stop)?;
        Ok((car, estimate))
    }
}
