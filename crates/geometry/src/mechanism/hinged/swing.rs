//! A rocker or a bar arm: turns about a fixed axis, a rod of fixed length from its tip to a moving
//! point says how far.

use crate::number::real::{Real, length, unit};
use nalgebra::Vector3;
use std::hint::select_unpredictable as choose;

/// A hinged part worked by a rod.
#[derive(Clone, Copy, Debug)]
pub struct Swing<T: Real> {
    pivot: Vector3<T>,
    axis: Vector3<T>,
    along: T,
    radius: T,
    outward: Vector3<T>,
    square: Vector3<T>,
    rod: T,
    /// Which of the two closings is the design's.
    branch: f64,
}

/// A hinged part as it stands: turn from the design pose, and its rate.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SwingPose<T: Real> {
    /// Cosine of the turn.
    pub cos: T,
    /// Sine of the turn, right-handed about the axis.
    pub sin: T,
    /// Rate of turn, radians per unit of the moving point's velocity.
    pub rate: T,
}

impl<T: Real> SwingPose<T> {
    /// The turn, radians.
    #[inline(always)]
    pub fn angle(&self) -> T {
        self.sin.atan2(self.cos)
    }
}

impl<T: Real> Swing<T> {
    /// The part in the design pose. `axis_to` is a second point on the axis, `tip` the rod's end on
    /// the part, `mover` the rod's other end, `rod` its length.
    pub fn new(pivot: Vector3<T>, axis_to: Vector3<T>, tip: Vector3<T>, mover: Vector3<T>, rod: T) -> Self {
        let axis = unit(&(axis_to - pivot));
        let from_pivot = tip - pivot;
        let along = axis.dot(&from_pivot);
        let out = from_pivot - axis * along;
        let outward = unit(&out);
        let square = axis.cross(&outward);
        // At design the turn is zero, so the root with sin = 0 is the one to keep.
        let branch = if square.dot(&(mover - pivot)).value() > 0.0 { -1.0 } else { 1.0 };
        Swing { pivot, axis, along, radius: length(&out), outward, square, rod, branch }
    }

    /// Share of the rod's length that turns the part at design, 0 to 1: zero is a dead point, the rod in
    /// one plane with the axis and the tip, or along the axis.
    pub fn leverage(&self, mover: &Vector3<T>) -> f64 {
        let m = mover - self.pivot;
        let tip = self.axis * self.along + self.outward * self.radius;
        (self.square.dot(&m) / length(&(m - tip))).value().abs()
    }

    /// Where the part stands for a moving point and its velocity; `None` where the rod cannot reach
    /// or pulls in line with the axis.
    #[inline(always)]
    pub fn pose(&self, mover: &Vector3<T>, velocity: &Vector3<T>) -> Option<SwingPose<T>> {
        let pose = self.pose_if_any(mover, velocity);
        pose.rate.value().is_finite().then_some(pose)
    }

    /// The same with a rate that is not finite, whatever the rest, where there is no pose.
    #[inline(always)]
    pub fn pose_if_any(&self, mover: &Vector3<T>, velocity: &Vector3<T>) -> SwingPose<T> {
        let center = self.pivot + self.axis * self.along;
        let to_mover = mover - center;
        let a = self.radius * self.outward.dot(&to_mover);
        let b = self.radius * self.square.dot(&to_mover);
        let c =
            (self.radius * self.radius + to_mover.dot(&to_mover) - self.rod * self.rod) * T::constant(0.5);
        let h = a * a + b * b;
        let rest = h - c * c;
        // No root where the rod does not reach, nor where it only just does; none of not-a-number.
        let rest = choose(rest.value() > 0.0, rest, T::constant(f64::NAN));
        let root = rest.sqrt() * T::constant(self.branch);
        let cos = (a * c - b * root) / h;
        let sin = (b * c + a * root) / h;
        let rate = self.by_mover(cos, sin, mover).dot(velocity);
        SwingPose { cos, sin, rate }
    }

    /// Turn per movement of the rod's other end, at a turn given by its cosine and sine.
    #[inline(always)]
    fn by_mover(&self, cos: T, sin: T, mover: &Vector3<T>) -> Vector3<T> {
        let tip =
            self.pivot + self.axis * self.along + (self.outward * cos + self.square * sin) * self.radius;
        let rod = tip - mover;
        let lever = rod.dot(&self.axis.cross(&(tip - self.pivot)));
        rod * (T::one() / lever)
    }

    /// Coordinates along axis, outward and square of a point given in the design pose, from the pivot.
    pub fn local(&self, design: &Vector3<T>) -> Vector3<T> {
        let r = design - self.pivot;
        Vector3::new(r.dot(&self.axis), r.dot(&self.outward), r.dot(&self.square))
    }

    /// Pivot, directions along axis, outward and square for this place of the rod's other end, and the
    /// part's turn per its movement; not-a-number where the rod does not reach.
    pub fn basis(&self, mover: &Vector3<T>) -> (Vector3<T>, [Vector3<T>; 3], Vector3<T>) {
        let Some(pose) = self.pose(mover, &Vector3::zeros()) else {
            let none = Vector3::repeat(T::constant(f64::NAN));
            return (none, [none; 3], none);
        };
        let outward = self.outward * pose.cos + self.square * pose.sin;
        let square = self.square * pose.cos - self.outward * pose.sin;
        (self.pivot, [self.axis, outward, square], self.by_mover(pose.cos, pose.sin, mover))
    }

    /// Sine of the angle between rod and tip, 0 to 1: zero where they come into line and the rod
    /// reaches no further.
    pub fn openness(&self, pose: &SwingPose<T>, mover: &Vector3<T>) -> f64 {
        let center = self.pivot + self.axis * self.along;
        let out = (self.outward * pose.cos + self.square * pose.sin) * self.radius;
        let rod = center + out - mover;
        let lever = rod.dot(&self.axis.cross(&out));
        (lever / (self.radius * length(&rod))).value().abs()
    }

    /// A point of the part (given in the design pose), car coordinates.
    #[inline(always)]
    pub fn point(&self, pose: &SwingPose<T>, design: &Vector3<T>) -> Vector3<T> {
        let r = design - self.pivot;
        let along = self.axis * self.axis.dot(&r);
        let out = r - along;
        self.pivot + along + out * pose.cos + self.axis.cross(&out) * pose.sin
    }

    /// Velocity of a point of the part that stands at `at`.
    #[inline(always)]
    pub fn velocity(&self, pose: &SwingPose<T>, at: &Vector3<T>) -> Vector3<T> {
        self.axis.cross(&(at - self.pivot)) * pose.rate
    }
}
