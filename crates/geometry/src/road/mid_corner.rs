//! The car in the middle of a corner, as its tyres show themselves to the road.

use super::body_pose::BodyPose;
use super::gradients::{Cornering, Gradients};
use super::stand::{RoadSolver, Standing};
use crate::car::position::WheelPosition;
use crate::mechanism::stop::Stop;

/// How one wheel stands to the road, radians.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ToRoad {
    /// Camber, + = top outboard.
    pub camber: f64,
    /// Inclination, + = top to the right on either side.
    pub inclination: f64,
    /// Steer angle, + = to the left.
    pub steer: f64,
    /// Toe, + = toe-in.
    pub toe: f64,
}

impl Standing {
    /// How a wheel stands to the road.
    #[must_use]
    pub fn to_road(&self, wheel: WheelPosition) -> ToRoad {
        let on = self.solved.axle(wheel.end).motion.wheel(wheel.side);
        let side = wheel.side.sign();
        let (camber, steer) = (on.camber(), on.steer());
        ToRoad { camber, inclination: -side * camber, steer, toe: -side * steer }
    }
}

/// A car in the middle of a corner.
#[derive(Clone, Debug)]
pub struct MidCorner {
    /// The accelerations.
    pub at: Cornering,
    /// How the body moves for them, per unit.
    pub gradients: Gradients,
    /// The car on the road.
    pub standing: Standing,
    /// What each tyre shows to the road, in the order of [`WheelPosition::ALL`].
    pub wheels: [ToRoad; 4],
}

impl RoadSolver<'_> {
    /// The car cornering steadily, steered by `steer`, its body rolling by these gradients.
    ///
    /// # Errors
    /// The limit a linkage meets.
    pub fn mid_corner(&self, at: &Cornering, steer: f64, gradients: &Gradients) -> Result<MidCorner, Stop> {
        self.mid_corner_with(at, steer, gradients, &gradients.pose(at))
    }

    /// The same with the body in this pose.
    pub(super) fn mid_corner_with(
        &self,
        at: &Cornering,
        steer: f64,
        gradients: &Gradients,
        body: &BodyPose,
    ) -> Result<MidCorner, Stop> {
        let standing = self.stand(body, steer)?;
        let wheels = WheelPosition::ALL.map(|wheel| standing.to_road(wheel));
        Ok(MidCorner { at: *at, gradients: *gradients, standing, wheels })
    }
}
