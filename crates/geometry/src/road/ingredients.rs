//! What a car brings to the estimate of its roll, and what it lacks for one.

use super::estimate::{Estimate, FallsOver, Ingredients, RollModelInputs};
use super::gradients::Cornering;
use super::mid_corner::MidCorner;
use super::stand::RoadSolver;
use crate::car::TorqueReaction;
use crate::car::position::{End, Side, WheelPosition};
use crate::mechanism::stop::Stop;
use crate::readings::reading;
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
    Spring(WheelPosition),
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

/// Why a car's roll cannot be estimated.
#[derive(Clone, Debug, PartialEq)]
pub enum NoEstimate {
    /// Numbers are missing.
    Lacking(Vec<Lacking>),
    /// The car does not stand up.
    FallsOver(FallsOver),
    /// The road is banked so far against the corner that nothing presses the car onto it.
    LeavesRoad,
    /// The pose it comes to cannot be reached.
    Stop(Stop),
}

impl fmt::Display for NoEstimate {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            NoEstimate::Lacking(all) => {
                write!(f, "the roll cannot be estimated: ")?;
                for (i, one) in all.iter().enumerate() {
                    write!(f, "{}{one}", if i == 0 { "" } else { "; " })?;
                }
                write!(f, ". Give these, or the roll and ride-height gradients themselves")
            }
            NoEstimate::FallsOver(falls) => write!(f, "{falls}"),
            NoEstimate::LeavesRoad => f.write_str(
                "the car would leave the road: on this banking the lateral acceleration lifts it as much as its weight presses it down",
            ),
            NoEstimate::Stop(stop) => write!(f, "{stop}"),
        }
    }
}

impl std::error::Error for NoEstimate {}

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
        let mass = given(self.car.whole_mass(), Lacking::Mass);
        let weight_share_front = given(self.car.front_share(), Lacking::WeightShare);
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
                static_loads: self.car.static_wheel_loads().unwrap_or([f64::NAN; 4]),
                axles: [front, rear],
            }),
            _ => Err(lacking),
        }
    }

    fn axle_ingredients(&self, end: End) -> Result<RollModelInputs, Vec<Lacking>> {
        let solver = self.solver.axle(end);
        // Loads only add to a rate: springs that are missing are told even without them.
        let loads = self.car.wheel_loads(end).unwrap_or([0.0; 2]);
        let Some(stiffness) = solver.stiffness(loads) else {
            let start = solver.start();
            let missing = |side: &Side| start.motion.corner(*side).pressed().is_none();
            let wheel = |side| Lacking::Spring(WheelPosition { end, side });
            return Err(Side::BOTH.into_iter().filter(missing).map(wheel).collect());
        };
        let start = solver.start();
        let height = reading("roll_centre_height").and_then(|reading| start.axle_values().get(reading));
        let Some(roll_centre_height) = height else { return Err(vec![Lacking::RollCentre(end)]) };
        let slope = |reacted: TorqueReaction| start.motion.pitch_slope(reacted);
        let axle = self.car.axle(end);
        let share = self.car.brake_share_front;
        let share = share.map(|front| if end == End::Front { front } else { 1.0 - front });
        let alone = self.car.front.drive.is_some() != self.car.rear.drive.is_some();
        let driving = match axle.drive {
            Some(reacted) if alone => Some((1.0, slope(reacted))),
            None if alone => Some((0.0, 0.0)),
            _ => None,
        };
        Ok(RollModelInputs {
            stiffness,
            roll_centre_height,
            braking: share.map(|share| (share, slope(axle.brakes))),
            driving,
        })
    }

    /// What has to be assumed for an estimate, each a sentence without its stop.
    #[must_use]
    pub fn assumed(&self, at: &Cornering) -> Vec<String> {
        let mut assumed: Vec<String> =
            self.car.static_loads.assumption().map(str::to_owned).into_iter().collect();
        assumed.push("each axle takes the share of the lateral force that it has of the weight".into());
        for end in End::BOTH {
            let axle = self.car.axle(end);
            match axle.anti_roll_bar.map(|bar| bar.rate) {
                Some(Some(_)) => {
                    assumed.push(format!("the {end} anti-roll bar carries no load in the design pose"));
                }
                Some(None) => {
                    assumed.push(format!("the {end} anti-roll bar's rate is not given: it is taken as 0"));
                }
                None if axle.bar_kind().is_some() => {
                    assumed.push(format!("the {end} anti-roll bar's rate is not given: it is taken as 0"));
                }
                None => {}
            }
            if axle.third_spring.is_some_and(|third| third.rate.is_some()) {
                assumed.push(format!("the {end} third spring carries no load in the design pose"));
            }
        }
        let alone = self.car.front.drive.is_some() != self.car.rear.drive.is_some();
        if at.longitudinal < 0.0 && self.car.brake_share_front.is_none() {
            assumed.push("the front's share of the braking is not given: links carry none of it".into());
        }
        if at.longitudinal > 0.0 && !alone {
            assumed.push("not exactly one axle is driven: links carry none of the driving force".into());
        }
        assumed
    }

    /// An estimate of how the body rolls, for gaining speed or braking as `longitudinal` (m/s²) says.
    ///
    /// # Errors
    /// What the car lacks, or that it would fall over.
    pub fn estimate(&self, longitudinal: f64) -> Result<Estimate, NoEstimate> {
        let ingredients = self.ingredients().map_err(NoEstimate::Lacking)?;
        ingredients.estimate(longitudinal).map_err(NoEstimate::FallsOver)
    }

    /// The car cornering steadily, its roll estimated from springs, bars and masses, with that estimate.
    ///
    /// # Errors
    /// What the car lacks for an estimate, or the limit a linkage meets.
    pub fn mid_corner_by_estimate(
        &self,
        at: &Cornering,
        steer: f64,
    ) -> Result<(MidCorner, Estimate), NoEstimate> {
        let estimate = self.estimate(at.longitudinal)?;
        let normal = at.on_road().normal;
        if normal.is_nan() || normal <= 0.0 {
            return Err(NoEstimate::LeavesRoad);
        }
        estimate.stands(at).map_err(NoEstimate::FallsOver)?;
        let body = estimate.pose(at);
        let car = self.mid_corner_with(at, steer, &estimate.gradients, &body).map_err(NoEstimate::Stop)?;
        Ok((car, estimate))
    }
}
