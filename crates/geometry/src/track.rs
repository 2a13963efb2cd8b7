//! The quick way along a dense sweep of one corner.
//!
//! Position and velocity of the last two poses give the next one by Hermite extrapolation so well
//! that a single Newton step closes it, and the step's own matrix gives the velocities. Where the
//! extrapolation is not that good, the guarded way of [`CornerSolver::follow`] takes over: both give
//! the same poses.

use crate::corner_motion::CornerMotion;
use crate::corner_solver::{CornerSolver, SolvedCorner};
use crate::mechanism::{Input, PivotOrder, Pose, Traced, Twist};
use crate::real::cross_matrix;
use crate::stop::Stop;
use nalgebra::{Matrix3, Vector3};

/// A step this small leaves an error of its square, and moves no velocity that can be seen.
const NEAR: f64 = 1e-11;
/// After a step this small the next is below [`NEAR`] on any linkage of a car's size.
const NEARLY: f64 = 1e-7;

/// A pose with its velocity per unit of travel.
#[derive(Clone, Copy)]
struct Node {
    travel: f64,
    pose: Pose<f64>,
    velocity: Vector3<f64>,
    spin: Matrix3<f64>,
}

impl Node {
    #[inline]
    fn new(travel: f64, pose: &Pose<f64>, by_travel: &Twist<f64>) -> Self {
        Node {
            travel,
            pose: *pose,
            velocity: by_travel.v,
            spin: cross_matrix(&by_travel.w) * pose.car_from_body,
        }
    }

    fn of(solved: &SolvedCorner) -> Self {
        Node::new(solved.travel(), solved.upright(), &solved.motion.by_travel)
    }
}

/// Cubic through two nodes' values and slopes, continued to `travel`.
#[inline]
fn predict(a: &Node, b: &Node, travel: f64) -> Pose<f64> {
    let width = b.travel - a.travel;
    let s = (travel - a.travel) / width;
    let (s2, s3) = (s * s, s * s * s);
    let (ha, hb) = (2.0 * s3 - 3.0 * s2 + 1.0, 3.0 * s2 - 2.0 * s3);
    let (ka, kb) = ((s3 - 2.0 * s2 + s) * width, (s3 - s2) * width);
    let pose = Pose {
        origin: a.pose.origin * ha + b.pose.origin * hb + a.velocity * ka + b.velocity * kb,
        car_from_body: a.pose.car_from_body * ha + b.pose.car_from_body * hb + a.spin * ka + b.spin * kb,
    };
    // Straightened before the step, or the step would see the stretch as a gap to close.
    pose.straightened()
}

/// The last two poses of a sweep.
struct Track<'a> {
    solver: &'a CornerSolver,
    steer: f64,
    sign: i8,
    order: PivotOrder<6>,
    before: Node,
    last: Node,
}

impl Track<'_> {
    /// The motion at the next travel; `None` where the extrapolation is not to be trusted.
    #[inline]
    fn next(&mut self, travel: f64) -> Option<CornerMotion<f64>> {
        // Beyond a few widths the cubic is a guess. Not-a-number goes the guarded way too.
        let width = (self.last.travel - self.before.travel).abs();
        let within = (travel - self.last.travel).abs() <= 4.0 * width;
        if !within {
            return None;
        }
        let model = &self.solver.model;
        let input = Input::new(travel, self.steer);
        let mut near =
            model.mechanism.step_near(&predict(&self.before, &self.last, travel), &input, &self.order);
        if near.moved > NEAR && near.moved < NEARLY {
            near = model.mechanism.step_near(&near.body, &input, &self.order);
        }
        let trusted = near.moved <= NEAR && near.sign == self.sign;
        if !trusted {
            return None;
        }
        let pose = &near.body;
        let motion = model.wheel.motion(pose, near.by_travel, near.by_steer, &self.solver.reference).ok()?;
        if (travel - self.last.travel).abs() > 0.0 {
            self.before = self.last;
            self.last = Node::new(travel, pose, &near.by_travel);
        }
        Some(motion)
    }

    /// The last pose, closed in the guarded way.
    fn solved(&self) -> Option<SolvedCorner> {
        let model = &self.solver.model;
        let input = Input::new(self.last.travel, self.steer);
        let closed = model.mechanism.close(&[self.last.pose], &input).ok()?;
        let motion = model.motion(&closed, &self.solver.reference).ok()?;
        Some(SolvedCorner { traced: Traced { input, closed }, motion })
    }
}

impl CornerSolver {
    /// Solves at every travel of a list, metres, at one steering input, and hands each motion over with
    /// its place in the list.
    ///
    /// # Errors
    /// The limit at which the sweep ends; the travels before it have been handed over.
    pub fn sweep_travel(
        &self,
        travels: &[f64],
        steer: f64,
        mut each: impl FnMut(usize, &CornerMotion<f64>),
    ) -> Result<(), Stop> {
        let mut track: Option<Track<'_>> = None;
        let mut last: Option<SolvedCorner> = None;
        for (i, &travel) in travels.iter().enumerate() {
            if let Some(motion) = track.as_mut().and_then(|track| track.next(travel)) {
                each(i, &motion);
                continue;
            }
            if let Some(track) = track.take() {
                last = track.solved();
            }
            let solved = match &last {
                Some(from) => self.follow(from, travel, steer)?,
                None => self.solve(travel, steer)?,
            };
            each(i, &solved.motion);
            track = last.filter(|from| (from.travel() - travel).abs() > 0.0).map(|from| Track {
                solver: self,
                steer: solved.steer(),
                sign: solved.traced.closed.factors.sign(),
                order: PivotOrder::of(&solved.traced.closed.factors),
                before: Node::of(&from),
                last: Node::of(&solved),
            });
            last = Some(solved);
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::{Node, PivotOrder, Track};
    use crate::car::{Corner, LinkageKind, Pickups, Wheel, spin_axis_from_angles};
    use crate::corner_solver::CornerSolver;
    use crate::pickup::Pickup;
    use crate::side::Side;
    use crate::steering::{Rack, Steering};
    use nalgebra::Vector3;

    fn corner() -> Corner {
        use Pickup as P;
        let mut pickups = Pickups::default();
        for (pickup, x, y, z) in [
            (P::UpperWishboneFront, 0.11, 0.28, 0.33),
            (P::UpperWishboneRear, -0.15, 0.28, 0.32),
            (P::UpperBallJoint, -0.015, 0.65, 0.39),
            (P::LowerWishboneFront, 0.13, 0.23, 0.13),
            (P::LowerWishboneRear, -0.16, 0.24, 0.135),
            (P::LowerBallJoint, 0.01, 0.68, 0.15),
            (P::TieRodInner, 0.09, 0.24, 0.17),
            (P::TieRodOuter, 0.10, 0.69, 0.19),
        ] {
            pickups.set(pickup, Vector3::new(x, y, z));
        }
        let wheel = Wheel {
            centre: Vector3::new(0.0, 0.71, 0.27),
            spin_axis: spin_axis_from_angles(Side::Left, -0.03, 0.0),
            tyre_radius: 0.27,
            tyre_width: 0.19,
            tyre_shoulder_radius: 0.0,
            rim_radius: 0.165,
        };
        Corner::new(LinkageKind::DoubleWishbone, wheel, pickups)
    }

    /// The quick way gives a pose up to the guarded one when its assembly is not the one followed.
    #[test]
    fn another_assembly_is_not_trusted() {
        let axis = Vector3::y();
        let rack = Rack { axis, travel_per_turn: 0.08, stop_left: 0.04, stop_right: 0.04 };
        let solver = CornerSolver::new(&corner(), Side::Left, &Steering::Rack(rack), None).unwrap();
        let (before, last) = (solver.start(), solver.solve(1e-4, 0.0).unwrap());
        let factors = &last.traced.closed.factors;
        let track = |sign| Track {
            solver: &solver,
            steer: 0.0,
            sign,
            order: PivotOrder::of(factors),
            before: Node::of(before),
            last: Node::of(&last),
        };
        assert!(track(factors.sign()).next(2e-4).is_some());
        assert!(track(-factors.sign()).next(2e-4).is_none());
    }
}
