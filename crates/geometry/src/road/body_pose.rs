//! How the body stands over the road.

use crate::corner::ground::Ground;
use nalgebra::Vector3;

/// The body over a level road, against the design pose: two heights and roll; pitch follows.
///
/// The heights are those of the two points of the body that are midway between the contacts of each
/// axle in the design pose.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct BodyPose {
    /// Ride-height change at the front axle, metres, + = body higher.
    pub front: f64,
    /// Ride-height change at the rear axle, metres, + = body higher.
    pub rear: f64,
    /// Roll about X, radians, + = left side up: what a left turn produces.
    pub roll: f64,
}

impl BodyPose {
    /// The design pose.
    pub const DESIGN: BodyPose = BodyPose { front: 0.0, rear: 0.0, roll: 0.0 };

    /// Both axles higher by `rise`, metres.
    #[must_use]
    pub fn raised(rise: f64) -> Self {
        BodyPose { front: rise, rear: rise, roll: 0.0 }
    }

    /// Rolled, radians, + = left side up.
    #[must_use]
    pub fn rolled(roll: f64) -> Self {
        BodyPose { roll, ..BodyPose::DESIGN }
    }
}

/// The two points of the body whose heights a [`BodyPose`] counts, metres: midway between the contacts
/// of the front and of the rear axle in the design pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Feet {
    pub front: Vector3<f64>,
    pub rear: Vector3<f64>,
}

impl Feet {
    /// The road under a body in this pose. `None` where no road is: a number that is not finite, or
    /// heights further apart than the axles.
    ///
    /// The body is turned in the order yaw, pitch, roll (ISO 8855), so that the road's normal in it is
    /// `(-sin p, sin r cos p, cos r cos p)` for pitch `p` and roll `r`.
    pub fn ground(&self, body: &BodyPose) -> Option<Ground<f64>> {
        let apart = self.front - self.rear;
        let (s, c) = body.roll.sin_cos();
        let across = s * apart.y + c * apart.z;
        let pitch = across.atan2(apart.x) - ((body.front - body.rear) / across.hypot(apart.x)).asin();
        self.pitched(pitch, body.roll, body.front)
    }

    fn pitched(&self, pitch: f64, roll: f64, front: f64) -> Option<Ground<f64>> {
        let (sp, cp) = pitch.sin_cos();
        let (sr, cr) = roll.sin_cos();
        let normal = Vector3::new(-sp, sr * cp, cr * cp);
        let height = normal.dot(&self.front) - front;
        (normal.iter().all(|x| x.is_finite()) && height.is_finite()).then_some(Ground { normal, height })
    }

    /// The pose of a body over this road.
    pub fn body(&self, ground: &Ground<f64>) -> BodyPose {
        BodyPose { front: ground.above(&self.front), rear: ground.above(&self.rear), roll: -ground.angle() }
    }

    /// Pitch of the body's X axis to the road in the design pose, radians: not quite nought where a
    /// cambered tyre's lowest point is higher in front than behind.
    fn design_pitch(&self) -> f64 {
        let apart = self.front - self.rear;
        apart.z.atan2(apart.x)
    }

    /// Pitch of the body over this road against the design pose, radians, + = nose down.
    pub fn pitch(&self, ground: &Ground<f64>) -> f64 {
        -ground.normal.x.asin() - self.design_pitch()
    }

    /// The pose of a body midway between both points raised by `rise` (metres), with this roll and
    /// pitch against the design pose (radians).
    pub fn pose(&self, rise: f64, roll: f64, pitch: f64) -> Option<BodyPose> {
        let ground = self.pitched(pitch + self.design_pitch(), roll, 0.0)?;
        let half = 0.5 * ground.normal.dot(&(self.front - self.rear));
        Some(BodyPose { front: rise + half, rear: rise - half, roll })
    }
}

#[cfg(test)]
mod tests {
    use super::{BodyPose, Feet};
    use nalgebra::Vector3;

    fn feet() -> Feet {
        Feet { front: Vector3::new(0.1, 0.002, -0.01), rear: Vector3::new(-2.5, -0.003, 0.02) }
    }

    #[test]
    fn a_body_and_its_road_say_the_same() {
        for (front, rear, roll) in [(0.0, 0.0, 0.0), (0.03, -0.04, 0.05), (-0.2, 0.3, -0.4)] {
            let body = BodyPose { front, rear, roll };
            let ground = feet().ground(&body).unwrap();
            assert!((ground.normal.norm() - 1.0).abs() < 1e-15);
            let back = feet().body(&ground);
            assert!((back.front - front).abs() < 1e-14, "{back:?}");
            assert!((back.rear - rear).abs() < 1e-14, "{back:?}");
            assert!((back.roll - roll).abs() < 1e-14, "{back:?}");
            let pitch = feet().pitch(&ground);
            let again = feet().pose(0.5 * (front + rear), roll, pitch).unwrap();
            assert!((again.front - front).abs() < 1e-14, "{again:?}");
            assert!((again.rear - rear).abs() < 1e-14, "{again:?}");
        }
        assert!(feet().pitch(&feet().ground(&BodyPose::DESIGN).unwrap()).abs() < 1e-16);
        assert!(feet().ground(&BodyPose { front: 3.0, rear: 0.0, roll: 0.0 }).is_none());
        assert!(feet().ground(&BodyPose { front: f64::NAN, rear: 0.0, roll: 0.0 }).is_none());
    }
}
