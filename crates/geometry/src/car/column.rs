//! A steering column: what its Cardan joints make of a turn of the steering wheel.
//!
//! A joint bent by β turns its driven shaft by `tan A = tan θ / cos β` for the driving yoke's θ, counted
//! from the plane of the bend. Written as a small angle beside θ it needs no counting of turns, and its
//! inverse is of the same form.

use crate::car::steering::{CardanJoint, Column};
use crate::number::real::Real;

/// How far the driven shaft is ahead, where the yokes stand at this angle; `cos` is of the bend, over it
/// for the way back.
fn ahead<T: Real>(angle: T, driving: f64, driven: f64) -> T {
    let (sin, cos) = angle.sin_cos();
    let c = T::constant;
    (sin * cos * c(driving - driven)).atan2(cos * cos * c(driven) + sin * sin * c(driving))
}

impl CardanJoint {
    /// Turn of the driven shaft for a turn of the driving one, both from straight ahead, radians, over any
    /// number of turns.
    #[must_use]
    pub fn driven_at<T: Real>(&self, driving: T) -> T {
        let cos = self.bend.cos();
        let phase = T::constant(self.phase);
        driving + ahead(phase + driving, 1.0, cos) - ahead(phase, 1.0, cos)
    }

    /// Turn of the driving shaft for a turn of the driven one, radians.
    #[must_use]
    pub fn driving_at<T: Real>(&self, driven: T) -> T {
        let cos = self.bend.cos();
        let lead = ahead(T::constant(self.phase), 1.0, cos);
        let yoke = T::constant(self.phase) + lead + driven;
        driven + lead + ahead(yoke, cos, 1.0)
    }

    /// Turn of the driven shaft per turn of the driving one, at a turn of the driving one.
    #[must_use]
    pub fn ratio_at<T: Real>(&self, driving: T) -> T {
        let bend = self.bend.cos();
        let cos = (T::constant(self.phase) + driving).sin_cos().1;
        T::constant(bend) / (T::one() - cos * cos * T::constant(1.0 - bend * bend))
    }
}

impl Column {
    /// Turn of the shaft that enters rack or box at a steering-wheel angle, radians, + = left.
    #[must_use]
    pub fn shaft_at<T: Real>(&self, wheel: T) -> T {
        self.joints.iter().flatten().fold(wheel, |turn, joint| joint.driven_at(turn))
    }

    /// Steering-wheel angle at a turn of the shaft that enters rack or box, radians, + = left.
    #[must_use]
    pub fn wheel_at<T: Real>(&self, shaft: T) -> T {
        self.joints.iter().flatten().rev().fold(shaft, |turn, joint| joint.driving_at(turn))
    }

    /// Turn of the shaft that enters rack or box per turn of the steering wheel, at a steering-wheel angle.
    #[must_use]
    pub fn ratio_at<T: Real>(&self, wheel: T) -> T {
        let from = (wheel, T::one());
        let all = self
            .joints
            .iter()
            .flatten()
            .fold(from, |(turn, ratio), joint| (joint.driven_at(turn), ratio * joint.ratio_at(turn)));
        all.1
    }
}
