//! A wishbone: turns about the line through its inner pickups, its ball joint shows how far.

use crate::mechanism::Twist;
use crate::number::real::{Real, length, unit};
use nalgebra::Vector3;

/// A wishbone with a point carried on it.
#[derive(Clone, Copy, Debug)]
pub struct Arm<T: Real> {
    base: Vector3<T>,
    /// The rear inner pickup where it was when the arm was made.
    made_base: Vector3<T>,
    axis: Vector3<T>,
    at_design: [Vector3<T>; 3],
    carried: Vector3<T>,
}

/// A wishbone as it stands.
#[derive(Clone, Copy, Debug)]
pub struct ArmPose<T: Real> {
    /// Distance of the ball joint from the hinge: not the design's where a leg's length was stated.
    radius: T,
    outward: Vector3<T>,
    square: Vector3<T>,
}

impl<T: Real> Arm<T> {
    /// The arm in the design pose: inner pickups, ball joint, and a point it carries.
    #[cfg(test)]
    pub fn new(front: Vector3<T>, rear: Vector3<T>, ball: Vector3<T>, carried: Vector3<T>) -> Self {
        Arm::made([front, rear], [front, rear, ball], carried)
    }

    /// The arm whose inner pickups stand here, front then rear; it was made with front and rear inner pickup and
    /// ball joint where `made` has them, and carries a point given as it stood then.
    pub fn made(inner: [Vector3<T>; 2], made: [Vector3<T>; 3], carried: Vector3<T>) -> Self {
        let [front, rear] = inner;
        let [made_front, made_base, ball] = made;
        let made_axis = unit(&(made_front - made_base));
        let as_made = Arm {
            base: made_base,
            made_base,
            axis: made_axis,
            at_design: [made_axis; 3],
            carried: Vector3::zeros(),
        };
        let pose = as_made.pose(&ball);
        let mut arm = Arm { at_design: [made_axis, pose.outward, pose.square], ..as_made };
        arm.carried = arm.local(&carried);
        Arm { base: rear, axis: unit(&(front - rear)), ..arm }
    }

    #[inline(always)]
    fn square_part(&self, point: &Vector3<T>) -> Vector3<T> {
        let from_base = point - self.base;
        from_base - self.axis * self.axis.dot(&from_base)
    }

    /// The arm that reaches to this ball joint.
    #[inline(always)]
    pub fn pose(&self, ball: &Vector3<T>) -> ArmPose<T> {
        let out = self.square_part(ball);
        let radius = length(&out);
        let outward = out * (T::one() / radius);
        ArmPose { radius, outward, square: self.axis.cross(&outward) }
    }

    /// The carried point, car coordinates.
    #[inline(always)]
    pub fn point(&self, pose: &ArmPose<T>) -> Vector3<T> {
        let c = &self.carried;
        self.base + self.axis * c.x + pose.outward * c.y + pose.square * c.z
    }

    /// Coordinates along hinge, outward and square of a point given as it stood when the arm was made, from the
    /// base.
    pub fn local(&self, made: &Vector3<T>) -> Vector3<T> {
        let from_base = made - self.made_base;
        let [axis, outward, square] = self.at_design;
        Vector3::new(from_base.dot(&axis), from_base.dot(&outward), from_base.dot(&square))
    }

    /// Base, directions along hinge, outward and square for this place of the ball joint, and the
    /// arm's turn per movement of the ball joint.
    #[inline(always)]
    pub fn basis(&self, ball: &Vector3<T>) -> (Vector3<T>, [Vector3<T>; 3], Vector3<T>) {
        let pose = self.pose(ball);
        (self.base, [self.axis, pose.outward, pose.square], pose.square * (T::one() / pose.radius))
    }

    /// Velocity of the carried point for a velocity of the ball joint.
    #[inline(always)]
    pub fn velocity(&self, pose: &ArmPose<T>, ball_velocity: &Vector3<T>) -> Vector3<T> {
        let rate = pose.square.dot(ball_velocity) / pose.radius;
        let turn = Twist { v: Vector3::zeros(), w: self.axis * rate };
        turn.at(&(self.point(pose) - self.base))
    }
}
