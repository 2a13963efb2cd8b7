//! The ground under one axle: the line in front view that both tyres touch.

use crate::corner_motion::CornerMotion;
use crate::real::Real;
use nalgebra::Vector3;

/// The ground under an axle, seen from the body.
#[derive(Clone, Copy, Debug)]
pub struct Ground<T: Real> {
    /// Its angle about X, radians, + = the ground's left side is up: the body has rolled to its left.
    pub angle: T,
    /// Its unit normal, up.
    pub normal: Vector3<T>,
}

impl<T: Real> Ground<T> {
    /// Parallel to the body's XY plane.
    pub fn level() -> Self {
        Ground { angle: T::zero(), normal: crate::real::up() }
    }

    /// At this angle about X.
    pub fn tilted(angle: T) -> Self {
        let (s, c) = angle.sin_cos();
        Ground { angle, normal: Vector3::new(T::zero(), -s, c) }
    }

    /// The ground that both tyres of an axle touch, parallel to X.
    ///
    /// A tyre's lowest point stands `R sqrt(1 - (n·a)²)` below its centre, so the angle is the root
    /// of one smooth equation; Newton from level converges in a few steps on any car.
    pub fn under(left: &CornerMotion<T>, right: &CornerMotion<T>) -> Self {
        let mut angle = T::zero();
        for _ in 0..8 {
            let (s, c) = angle.sin_cos();
            let normal = Vector3::new(T::zero(), -s, c);
            let turned = Vector3::new(T::zero(), -c, -s);
            let mut height = T::zero();
            let mut slope = T::zero();
            for (corner, sign) in [(left, 1.0), (right, -1.0)] {
                let sign = T::constant(sign);
                let rise = corner.spin_axis.dot(&normal);
                let reach = (T::one() - rise * rise).sqrt();
                height += sign * (corner.wheel_centre.dot(&normal) - corner.tyre_radius * reach);
                slope += sign
                    * (corner.wheel_centre.dot(&turned)
                        + corner.tyre_radius * rise * corner.spin_axis.dot(&turned) / reach);
            }
            let step = height / slope;
            angle -= step;
            // One more step after the value has settled carries the derivative.
            if step.value().abs() < 1e-17 {
                break;
            }
        }
        Ground::tilted(angle)
    }
}
