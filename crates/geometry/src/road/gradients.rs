//! How far the body leans and lifts for each metre per second squared.

use super::body_pose::BodyPose;

/// Steady accelerations of a car in a bend, along the road's axes.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Cornering {
    /// Lateral, metres per second squared, + = in a left turn.
    pub lateral: f64,
    /// Longitudinal, metres per second squared, + = gaining speed.
    pub longitudinal: f64,
}

/// Movements of the body per unit of acceleration: as measured on a car, or as estimated.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Gradients {
    /// Roll per lateral acceleration, radians per m/s². + on any car that leans outward.
    pub roll: f64,
    /// Ride-height change at the front axle per longitudinal acceleration, metres per m/s².
    pub front: f64,
    /// Ride-height change at the rear axle per longitudinal acceleration, metres per m/s².
    pub rear: f64,
}

impl Gradients {
    /// Roll alone, radians per m/s².
    #[must_use]
    pub fn of_roll(roll: f64) -> Self {
        Gradients { roll, ..Gradients::default() }
    }

    /// With ride-height changes at both axles, metres per m/s² of longitudinal acceleration.
    #[must_use]
    pub fn with_ride_heights(self, front: f64, rear: f64) -> Self {
        Gradients { front, rear, ..self }
    }

    /// With pitch about the middle of the wheelbase (metres), radians per m/s² of longitudinal
    /// acceleration, + = nose down: negative on any car that dives in braking.
    #[must_use]
    pub fn with_pitch(self, pitch: f64, wheelbase: f64) -> Self {
        let half = 0.5 * wheelbase * pitch;
        Gradients { front: -half, rear: half, ..self }
    }

    /// The body's pose at these accelerations.
    #[must_use]
    pub fn pose(&self, at: &Cornering) -> BodyPose {
        BodyPose {
            front: self.front * at.longitudinal,
            rear: self.rear * at.longitudinal,
            roll: self.roll * at.lateral,
        }
    }
}
