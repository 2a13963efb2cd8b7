//! How the body rises and falls as the front wheels are steered.

use super::settle::at_dampers;
use super::stand::RoadSolver;
use crate::car::position::{End, Side};
use crate::corner::on_ground::OnGround;
use crate::mechanism::stop::Stop;
use crate::number::real::up;

/// What was held while the wheels were steered.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum HeldBy {
    /// The length of the damper: the spring's load stays.
    Damper,
    /// The wheel centre's height against the body: the corner has no damper.
    WheelCentre,
}

/// Rise of the body over each front wheel at one steering input.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SteerRise {
    /// The steering input.
    pub steer: f64,
    /// How much higher the body stands over the left and the right wheel than straight ahead, metres,
    /// + = body lifted.
    pub corners: [f64; 2],
    /// What was held at each.
    pub held: [HeldBy; 2],
}

impl SteerRise {
    /// Rise of the middle of the axle, metres: what caster and inclination do to both wheels alike.
    #[must_use]
    pub fn mean(&self) -> f64 {
        0.5 * (self.corners[0] + self.corners[1])
    }

    /// Left minus right, metres: what tips the body and shifts load across the diagonal.
    #[must_use]
    pub fn difference(&self) -> f64 {
        self.corners[0] - self.corners[1]
    }
}

impl RoadSolver<'_> {
    /// Rise and fall of the body over the front wheels along a list of steering inputs, each wheel by
    /// itself on the road and its spring neither shorter nor longer than straight ahead.
    ///
    /// # Errors
    /// The limit a linkage meets.
    pub fn rise_with_steer(&self, steers: &[f64]) -> Result<Vec<SteerRise>, Stop> {
        let solver = self.solver.axle(End::Front);
        let start = solver.start();
        let damper = |side: Side| start.motion.corner(side).damper.map(|damper| damper.value);
        let lengths = Side::BOTH.map(damper);
        let held = lengths.map(|length| if length.is_some() { HeldBy::Damper } else { HeldBy::WheelCentre });
        let lowest = |axle: &crate::axle::axle_solver::SolvedAxle, side: Side| {
            OnGround::of(axle.motion.corner(side), up()).contact.z
        };
        let design = Side::BOTH.map(|side| lowest(&start, side));
        let mut here = (start, [0.0; 2]);
        let mut rises = Vec::with_capacity(steers.len());
        for &steer in steers {
            here = at_dampers(solver, (&here.0, here.1), steer, lengths)?;
            let rise = |side: Side| design[usize::from(side == Side::Right)] - lowest(&here.0, side);
            rises.push(SteerRise { steer, corners: Side::BOTH.map(rise), held });
        }
        Ok(rises)
    }
}
