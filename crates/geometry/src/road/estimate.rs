//! The body's roll from springs, bars, masses and roll centres: a linear estimate, with all that goes
//! into it.
//!
//! Roll: Gillespie, Fundamentals of Vehicle Dynamics, ch. 6, and Milliken & Milliken, Race Car Vehicle
//! Dynamics, ch. 18 (both from memory): the mass at its height leans about the axis through both roll
//! centres against the roll stiffness of springs and bars, its own weight helping.

use super::body_pose::BodyPose;
use super::gradients::{Cornering, Gradients};
use crate::axle::stiffness::AxleStiffness;
use crate::car::static_loads::GRAVITY;

/// What an estimate leaves out, in words, for whoever shows it.
pub const LEFT_OUT: &[&str] = &[
    "everything is linear about the design pose",
    "the tyres are rigid, and no mass is unsprung",
    "lateral forces do not lift the body",
];

/// What one axle brings to an estimate, in the design pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RollModelInputs {
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
    /// Load on each tyre in the design pose, newtons, order of [`WheelPosition::ALL`](crate::WheelPosition::ALL).
    pub static_loads: [f64; 4],
    /// Front and rear axle.
    pub axles: [RollModelInputs; 2],
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

/// A linear estimate of how the body rolls. What it leaves out: [`LEFT_OUT`].
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
    /// How the body moves per unit of acceleration on a level road; all that it does is in
    /// [`Estimate::pose`].
    pub gradients: Gradients,
}

/// The springs do not hold the body up against its own rolling weight.
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
        let shares = self.shares();
        let [front, rear] = &self.axles;
        let roll_axis_height = shares[0] * front.roll_centre_height + shares[1] * rear.roll_centre_height;
        let roll_lever = self.centre_of_gravity_height - roll_axis_height;
        let whole = front.stiffness.roll() + rear.stiffness.roll();
        let moved = self.mass * self.centre_of_gravity_height / self.wheelbase;
        let axle = |i: usize| {
            let from = &self.axles[i];
            let transfer_longitudinal = if i == 0 { -moved } else { moved };
            let acts = if longitudinal < 0.0 { from.braking } else { from.driving };
            let by_links = acts.map(|(share, slope)| share * self.mass * slope);
            AxleEstimate {
                roll_stiffness: from.stiffness.roll(),
                roll_stiffness_share: from.stiffness.roll() / whole,
                transfer_by_links: self.mass * shares[i] * from.roll_centre_height / from.stiffness.track,
                transfer_by_springs: 0.0,
                transfer_longitudinal,
                carried: by_links.map(|load| -load / transfer_longitudinal),
            }
        };
        let mut estimate = Estimate {
            from: *self,
            axles: [axle(0), axle(1)],
            roll_axis_height,
            roll_lever,
            roll_stiffness: whole,
            gradients: Gradients::default(),
        };
        estimate.stands(&Cornering::default())?;
        let in_bend = estimate.pose(&Cornering::level(1.0, 0.0));
        let in_line = estimate.pose(&Cornering::level(0.0, 1.0));
        estimate.gradients = Gradients { roll: in_bend.roll, front: in_line.front, rear: in_line.rear };
        for i in 0..2 {
            let track = self.axles[i].stiffness.track;
            estimate.axles[i].transfer_by_springs = self.spring_moment(i, &in_bend) / track;
        }
        Ok(estimate)
    }

    /// Front and rear share of the weight.
    fn shares(&self) -> [f64; 2] {
        [self.weight_share_front, 1.0 - self.weight_share_front]
    }

    /// Moment of the load that springs and bar of an axle take from its left to its right wheel, newton
    /// metres, as the body moves.
    fn spring_moment(&self, axle: usize, body: &BodyPose) -> f64 {
        let stiffness = &self.axles[axle].stiffness;
        let rise = if axle == 0 { body.front } else { body.rear };
        stiffness.roll() * body.roll + stiffness.heave_by_roll * rise
    }
}

impl Estimate {
    /// Whether springs and bars hold the body upright on this road.
    ///
    /// # Errors
    /// They are too soft for that.
    pub fn stands(&self, at: &Cornering) -> Result<(), FallsOver> {
        let (stiffness, needed) = self.upright(at);
        // Not-a-number falls over too.
        if (stiffness - needed).is_nan() || stiffness <= needed {
            return Err(FallsOver { stiffness, needed });
        }
        Ok(())
    }

    /// Roll stiffness with both axles free to lift, and what the weight takes of it, newton metres per
    /// radian.
    fn upright(&self, at: &Cornering) -> (f64, f64) {
        let freed = |axle: &RollModelInputs| {
            axle.stiffness.roll() - axle.stiffness.heave_by_roll.powi(2) / axle.stiffness.heave
        };
        let stiffness = self.from.axles.iter().map(freed).sum();
        (stiffness, self.from.mass * at.on_road().normal * self.roll_lever)
    }

    /// How the body moves from the design pose at these accelerations.
    ///
    /// Equilibrium of the body on its springs: for each axle `k z + c r = -dN`, and about the axis along
    /// the car `sum of c z + (K - m n h) r = m a h - (n / g - 1) M`, with rises `z`, roll `r`, heave and roll
    /// stiffness `k` and `K`, what joins them `c`, lever `h`, normal and lateral acceleration `n` and `a`,
    /// loads gained `dN`, and `M` the moment by which the static loads of the left wheels are more than
    /// those of the right: it grows as the road presses.
    #[must_use]
    pub fn pose(&self, at: &Cornering) -> BodyPose {
        let on_road = at.on_road();
        let from = &self.from;
        let gained = [0, 1].map(|i: usize| self.axle_gain(i, at) - self.carried_by_links(i, at));
        let (stiffness, needed) = self.upright(at);
        let leftward: f64 = (0..2)
            .map(|i: usize| {
                let [left, right] = [from.static_loads[2 * i], from.static_loads[2 * i + 1]];
                0.5 * (left - right) * from.axles[i].stiffness.track
            })
            .sum();
        let of = |i: usize| {
            let stiffness = &from.axles[i].stiffness;
            (stiffness.heave, stiffness.heave_by_roll)
        };
        let lifted: f64 = (0..2)
            .map(|i| {
                let (heave, crossed) = of(i);
                crossed * gained[i] / heave
            })
            .sum();
        let moment = from.mass * on_road.lateral * self.roll_lever
            - (on_road.normal / GRAVITY - 1.0) * leftward
            + lifted;
        let roll = moment / (stiffness - needed);
        let rise = |i: usize| {
            let (heave, crossed) = of(i);
            -(gained[i] + crossed * roll) / heave
        };
        BodyPose { front: rise(0), rear: rise(1), roll }
    }

    /// Load that an axle gains against the design pose, newtons.
    fn axle_gain(&self, axle: usize, at: &Cornering) -> f64 {
        let pressed = self.from.mass * self.from.shares()[axle] * (at.on_road().normal - GRAVITY);
        pressed + self.axles[axle].transfer_longitudinal * at.longitudinal
    }

    /// What of that the links carry past the springs, newtons.
    fn carried_by_links(&self, axle: usize, at: &Cornering) -> f64 {
        let axle = &self.axles[axle];
        axle.transfer_longitudinal * at.longitudinal * axle.carried.unwrap_or(0.0)
    }

    /// Load on each tyre at these accelerations, newtons, order of
    /// [`WheelPosition::ALL`](crate::WheelPosition::ALL); negative where the estimate would lift the wheel.
    #[must_use]
    pub fn loads(&self, at: &Cornering) -> [f64; 4] {
        let body = self.pose(at);
        let lateral = at.on_road().lateral;
        let wheel = |i: usize, side: f64, place: usize| {
            let by_springs = self.from.spring_moment(i, &body) / self.from.axles[i].stiffness.track;
            let transfer = by_springs + self.axles[i].transfer_by_links * lateral;
            // In a left turn the right wheels gain.
            self.from.static_loads[place] + 0.5 * self.axle_gain(i, at) - side * transfer
        };
        [wheel(0, 1.0, 0), wheel(0, -1.0, 1), wheel(1, 1.0, 2), wheel(1, -1.0, 3)]
    }
}
