//! The body's lean from springs, bars, masses and roll centres: a linear estimate, with all that goes
//! into it.
//!
//! Roll: Gillespie, Fundamentals of Vehicle Dynamics, ch. 6, and Milliken & Milliken, Race Car Vehicle
//! Dynamics, ch. 18 (both from memory): the mass at its height leans about the axis through both roll
//! centres against the roll stiffness of springs and bars, its own weight helping.

use super::gradients::{Cornering, Gradients};
use super::stiffness::AxleStiffness;

/// Gravity, metres per second squared (standard value).
pub const GRAVITY: f64 = 9.806_65;

/// What an estimate leaves out, in words, for whoever shows it.
pub const LEFT_OUT: &[&str] = &[
    "everything is linear about the design pose",
    "the tyres are rigid, and no mass is unsprung",
    "roll and heave of an axle do not bear on each other",
    "lateral forces do not lift the body",
];

/// What one axle brings to an estimate, in the design pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxleIngredients {
    /// Springs and anti-roll bar at the contacts.
    pub stiffness: AxleStiffness,
    /// Height of the roll centre over the road, metres.
    pub roll_centre_height: f64,
    /// Its longitudinal force as a share of the whole, and the forward movement per rise of the point
    /// where that force acts; in braking. `None` where the share is not known.
    pub braking: Option<(f64, f64)>,
    /// The same in driving.
    pub driving: Option<(f64, f64)>,
}

/// All that an estimate stands on.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Ingredients {
    /// Mass of the car, kilograms.
    pub mass: f64,
    /// Share of the weight at the front, 0 to 1.
    pub weight_share_front: f64,
    /// Height of the centre of gravity, metres.
    pub centre_of_gravity_height: f64,
    /// Wheelbase, metres.
    pub wheelbase: f64,
    /// Front and rear axle.
    pub axles: [AxleIngredients; 2],
}

/// What one axle's springs and links do in the estimate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxleEstimate {
    /// Roll stiffness of springs and anti-roll bar, newton metres per radian.
    pub roll_stiffness: f64,
    /// Share of the whole car's roll stiffness, 0 to 1.
    pub roll_stiffness_share: f64,
    /// Load that goes from the inner to the outer wheel through the links, newtons per m/s² lateral.
    pub transfer_by_links: f64,
    /// The same through springs and bar.
    pub transfer_by_springs: f64,
    /// Load gained by the axle, newtons per m/s² longitudinal.
    pub transfer_longitudinal: f64,
    /// Share of that load change which the links carry past the springs; `None` where the axle's share
    /// of the longitudinal force is not known: then nothing is taken to be carried.
    pub carried: Option<f64>,
}

impl AxleEstimate {
    /// All load that goes from the inner to the outer wheel, newtons per m/s² lateral.
    #[must_use]
    pub fn transfer(&self) -> f64 {
        self.transfer_by_links + self.transfer_by_springs
    }
}

/// A linear estimate of how the body leans. What it leaves out: [`LEFT_OUT`].
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Estimate {
    /// What it stands on.
    pub from: Ingredients,
    /// Front and rear axle.
    pub axles: [AxleEstimate; 2],
    /// Height of the axis through both roll centres below the centre of gravity, metres.
    pub roll_axis_height: f64,
    /// Height of the centre of gravity over that axis, metres.
    pub roll_lever: f64,
    /// Roll stiffness of all springs and bars, newton metres per radian.
    pub roll_stiffness: f64,
    /// How the body moves per unit of acceleration.
    pub gradients: Gradients,
}

/// The springs do not hold the body up against its own leaning weight.
#[derive(Clone, Copy, Debug, PartialEq, thiserror::Error)]
#[error(
    "the springs' and bars' roll stiffness of {stiffness:.0} N·m/rad is less than the {needed:.0} N·m/rad \
     by which the car's own weight tips it: the car falls over"
)]
pub struct FallsOver {
    /// Roll stiffness of springs and bars, newton metres per radian.
    pub stiffness: f64,
    /// What the weight takes, newton metres per radian.
    pub needed: f64,
}

impl Ingredients {
    /// The estimate, for gaining speed or for braking as `longitudinal` (m/s²) says.
    ///
    /// # Errors
    /// Springs too soft to hold the body upright.
    pub fn estimate(&self, longitudinal: f64) -> Result<Estimate, FallsOver> {
        let shares = [self.weight_share_front, 1.0 - self.weight_share_front];
        let [front, rear] = &self.axles;
        let roll_axis_height = shares[0] * front.roll_centre_height + shares[1] * rear.roll_centre_height;
        let roll_lever = self.centre_of_gravity_height - roll_axis_height;
        let stiffness = |axle: &AxleIngredients| axle.stiffness.roll();
        let whole = stiffness(front) + stiffness(rear);
        let tipping = self.mass * GRAVITY * roll_lever;
        // Not-a-number falls over too.
        if (whole - tipping).is_nan() || whole <= tipping {
            return Err(FallsOver { stiffness: whole, needed: tipping });
        }
        let roll = self.mass * roll_lever / (whole - tipping);
        let moved = self.mass * self.centre_of_gravity_height / self.wheelbase;
        let axle = |i: usize| {
            let from = &self.axles[i];
            let transfer_longitudinal = if i == 0 { -moved } else { moved };
            let acts = if longitudinal < 0.0 { from.braking } else { from.driving };
            let by_links = acts.map(|(share, slope)| share * self.mass * slope);
            AxleEstimate {
                roll_stiffness: stiffness(from),
                roll_stiffness_share: stiffness(from) / whole,
                transfer_by_links: self.mass * shares[i] * from.roll_centre_height / from.stiffness.track,
                transfer_by_springs: stiffness(from) * roll / from.stiffness.track,
                transfer_longitudinal,
                carried: by_links.map(|load| -load / transfer_longitudinal),
            }
        };
        let axles = [axle(0), axle(1)];
        let rise = |i: usize| {
            let from = &self.axles[i];
            let on_springs = axles[i].transfer_longitudinal * (1.0 - axles[i].carried.unwrap_or(0.0));
            -on_springs / from.stiffness.heave
        };
        let gradients = Gradients { roll, front: rise(0), rear: rise(1) };
        Ok(Estimate { from: *self, axles, roll_axis_height, roll_lever, roll_stiffness: whole, gradients })
    }
}

impl Estimate {
    /// Load on each tyre at these accelerations, newtons, order of
    /// [`WheelAt::ALL`](crate::WheelAt::ALL); negative where the estimate would lift the wheel.
    #[must_use]
    pub fn loads(&self, at: &Cornering) -> [f64; 4] {
        let weight = self.from.mass * GRAVITY;
        let shares = [self.from.weight_share_front, 1.0 - self.from.weight_share_front];
        let wheel = |i: usize, side: f64| {
            let axle = &self.axles[i];
            let half = 0.5 * (weight * shares[i] + axle.transfer_longitudinal * at.longitudinal);
            // In a left turn the right wheels gain.
            half - side * axle.transfer() * at.lateral
        };
        [wheel(0, 1.0), wheel(0, -1.0), wheel(1, 1.0), wheel(1, -1.0)]
    }
}
