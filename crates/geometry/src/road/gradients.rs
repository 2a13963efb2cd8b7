//! How far the body rolls and lifts for each metre per second squared.

use super::body_pose::BodyPose;
use crate::car::static_loads::GRAVITY;

/// Steady accelerations of a car in a corner, and how the road is banked there.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Cornering {
    /// Horizontal, across the car, metres per second squared: speed squared over radius, + = in a left
    /// turn.
    pub lateral: f64,
    /// Longitudinal, along the road, metres per second squared, + = gaining speed.
    pub longitudinal: f64,
    /// Banking, radians, + = the road falls to the left: lowers the inside of a left turn.
    pub banking: f64,
}

/// What the road has to give a car, per kilogram, along its own axes: metres per second squared.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RoadAcceleration {
    /// Along the road across the car, + = to the left: what the tyres hold sideways.
    pub lateral: f64,
    /// Along the road ahead.
    pub longitudinal: f64,
    /// Along the road's normal: [`GRAVITY`] on a level road; what presses the car onto it.
    pub normal: f64,
}

impl Cornering {
    /// On a level road.
    #[must_use]
    pub fn level(lateral: f64, longitudinal: f64) -> Self {
        Cornering { lateral, longitudinal, banking: 0.0 }
    }

    /// The accelerations with gravity in the road's own axes: across it `a cos b - g sin b`, onto it
    /// `g cos b + a sin b` for a horizontal acceleration `a` and a banking `b`.
    ///
    /// The free body of a car on a banked curve: any text-book of mechanics, such as Meriam & Kraige,
    /// Engineering Mechanics: Dynamics, curvilinear motion (from memory).
    #[must_use]
    pub fn on_road(&self) -> RoadAcceleration {
        let (s, c) = self.banking.sin_cos();
        RoadAcceleration {
            lateral: self.lateral * c - GRAVITY * s,
            longitudinal: self.longitudinal,
            normal: GRAVITY * c + self.lateral * s,
        }
    }
}

/// Movements of the body per unit of acceleration: as measured on a car, or as estimated.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Gradients {
    /// Roll per lateral acceleration along the road, radians per m/s². + on any car that rolls outward.
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

    /// The body's pose at these accelerations; nothing of it says how far the body sinks where a banked
    /// road presses more than the weight.
    #[must_use]
    pub fn pose(&self, at: &Cornering) -> BodyPose {
        BodyPose {
            front: self.front * at.longitudinal,
            rear: self.rear * at.longitudinal,
            roll: self.roll * at.on_road().lateral,
        }
    }
}
