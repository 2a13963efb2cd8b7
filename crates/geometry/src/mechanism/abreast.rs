//! One small step of many poses of one body side by side.
//!
//! The poses are near one another and nearly right; one order of elimination serves for all of them.

use super::constraint::{Constraint, FixedLength};
use super::elimination::{Elimination, Solved};
use super::equations::{Equations, Row};
use super::rows::{Anchor, Frame, Rows, Situation};
use super::{Input, Mechanism, Pose, Twist};
use crate::number::lanes::{LANES, Lanes, Vectors};
use crate::number::real::cross_matrix;
use nalgebra::{Matrix3, Vector3};

/// Poses of a body in lanes.
#[derive(Clone, Debug)]
pub(crate) struct Poses {
    /// Origins, metres.
    pub origin: Vectors,
    /// Columns of the rotations.
    pub axes: [Vectors; 3],
}

impl Poses {
    /// No pose in any lane yet.
    pub const NONE: Poses = Poses { origin: Vectors::ZERO, axes: [Vectors::ZERO; 3] };

    /// The pose in a lane.
    #[inline(always)]
    pub fn at(&self, lane: usize) -> Pose<f64> {
        let [x, y, z] = &self.axes;
        let car_from_body = Matrix3::from_columns(&[x.at(lane), y.at(lane), z.at(lane)]);
        Pose { origin: self.origin.at(lane), car_from_body }
    }

    /// Puts a pose in a lane.
    #[inline(always)]
    pub fn set(&mut self, lane: usize, pose: &Pose<f64>) {
        self.origin.set(lane, &pose.origin);
        for (axis, column) in self.axes.iter_mut().zip(0..3) {
            axis.set(lane, &pose.car_from_body.column(column).into_owned());
        }
    }
}

/// Velocities of a body in lanes.
#[derive(Clone, Debug)]
pub(crate) struct Twists {
    /// Of the origin.
    pub v: Vectors,
    /// Angular.
    pub w: Vectors,
}

impl Twists {
    /// No movement.
    pub const NONE: Twists = Twists { v: Vectors::ZERO, w: Vectors::ZERO };

    /// The velocity in a lane.
    #[inline(always)]
    pub fn at(&self, lane: usize) -> Twist<f64> {
        Twist { v: self.v.at(lane), w: self.w.at(lane) }
    }

    /// Puts a velocity in a lane.
    #[inline(always)]
    pub fn set(&mut self, lane: usize, twist: &Twist<f64>) {
        self.v.set(lane, &twist.v);
        self.w.set(lane, &twist.w);
    }
}

/// What a step says beside the new poses.
#[derive(Clone, Debug)]
pub(crate) struct Stepped {
    /// Velocity per unit travel, as of before the step.
    pub by_travel: Twists,
    /// Velocity per unit of the steering input, as of before the step.
    pub by_steer: Twists,
    /// Square of the step's length, metres and radians together.
    pub moved: Lanes,
    /// The smallest ratio of a pivot to what it was near by: positive as long as the assembly is the
    /// same.
    pub pivots: Lanes,
}

impl Stepped {
    /// Nothing yet.
    pub const NONE: Stepped = Stepped {
        by_travel: Twists::NONE,
        by_steer: Twists::NONE,
        moved: [f64::NAN; LANES],
        pivots: [f64::NAN; LANES],
    };
}

/// Their steering inputs.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Steered<'a> {
    /// One for all.
    Alike(f64),
    /// Each its own.
    Each(&'a Lanes),
}

impl Steered<'_> {
    #[inline(always)]
    fn at(self, lane: usize) -> f64 {
        match self {
            Steered::Alike(steer) => steer,
            Steered::Each(steers) => steers[lane],
        }
    }
}

/// A rod between the first body and a point that stands on the car or goes with the steering: that point
/// and the end on the body.
fn to_body(rod: &FixedLength<f64>) -> Option<(&Anchor<f64>, &Anchor<f64>)> {
    match (rod.from.frame, rod.to.frame) {
        (Frame::Car | Frame::Steering, Frame::Body(0)) => Some((&rod.from, &rod.to)),
        (Frame::Body(0), Frame::Car | Frame::Steering) => Some((&rod.to, &rod.from)),
        _ => None,
    }
}

impl FixedLength<f64> {
    /// The row of a rod to this end on the body from `fixed`: the place of its other end in a lane, and
    /// that end's movement per unit of the steering input.
    #[inline(always)]
    fn write_lanes(
        &self,
        end: &Vector3<f64>,
        poses: &Poses,
        row: &mut Row,
        fixed: impl Fn(usize) -> (Vector3<f64>, Vector3<f64>),
    ) {
        for lane in 0..LANES {
            let (fixed, velocity) = fixed(lane);
            let pose = poses.at(lane);
            let arm = pose.direction(end);
            let (residual, along) = self.row(&(pose.origin + arm - fixed));
            let turn = arm.cross(&along);
            row.residual[lane] = residual;
            row.jacobian[0][lane] = along.x;
            row.jacobian[1][lane] = along.y;
            row.jacobian[2][lane] = along.z;
            row.jacobian[3][lane] = turn.x;
            row.jacobian[4][lane] = turn.y;
            row.jacobian[5][lane] = turn.z;
            row.by_steer[lane] = -along.dot(&velocity);
        }
    }
}

impl Mechanism<f64, 1, 6> {
    /// Whether its poses can go side by side: one driver, the height of the body's own origin.
    pub(crate) fn goes_abreast(&self) -> bool {
        match self.drivers.as_slice() {
            [driver] => driver.point.frame == Frame::Body(0) && driver.point.at == Vector3::zeros(),
            _ => false,
        }
    }

    /// Height of the body's origin at zero travel, metres.
    pub(crate) fn height(&self) -> f64 {
        self.drivers.first().map_or(0.0, |driver| driver.design)
    }

    /// The order of elimination that is best at a pose.
    pub(crate) fn elimination(&self, at: &Pose<f64>, input: &Input<f64>) -> Option<Elimination> {
        Elimination::of(&self.rows(&[*at], input))
    }

    #[inline(always)]
    fn write_abreast(&self, poses: &Poses, steer: Steered<'_>, equations: &mut Equations) {
        let mut first = 0;
        for (_, constraint) in &self.constraints {
            let count = constraint.count();
            // Five equations in all: counted when the mechanism was made.
            let Some(rows) = equations.0.get_mut(first..first + count) else { return };
            match (constraint, rows) {
                (Constraint::FixedLength(rod), [row]) if to_body(rod).is_some() => {
                    if let Some((fixed, end)) = to_body(rod) {
                        self.write_rod(rod, fixed, &end.at, poses, steer, row);
                    }
                }
                (_, rows) => self.write_one_by_one(constraint, poses, steer, rows),
            }
            first += count;
        }
    }

    #[inline(always)]
    fn write_rod(
        &self,
        rod: &FixedLength<f64>,
        fixed: &Anchor<f64>,
        end: &Vector3<f64>,
        poses: &Poses,
        steer: Steered<'_>,
        row: &mut Row,
    ) {
        match (fixed.frame, steer) {
            (Frame::Steering, Steered::Each(steers)) => rod.write_lanes(
                end,
                poses,
                row,
                #[inline(always)]
                |lane| self.steering.place(&fixed.at, steers[lane]),
            ),
            (Frame::Steering, Steered::Alike(steer)) => {
                let place = self.steering.place(&fixed.at, steer);
                rod.write_lanes(end, poses, row, |_| place);
            }
            _ => rod.write_lanes(end, poses, row, |_| (fixed.at, Vector3::zeros())),
        }
    }

    fn write_one_by_one(
        &self,
        constraint: &Constraint<f64>,
        poses: &Poses,
        steer: Steered<'_>,
        rows: &mut [Row],
    ) {
        for lane in 0..LANES {
            let (bodies, steer) = ([poses.at(lane)], steer.at(lane));
            let swung = self.swung(&bodies);
            let situation = Situation { bodies: &bodies, steering: &self.steering, steer, swung };
            let mut one = Rows::<f64, 6>::empty();
            let _ = constraint.write(&situation, &mut one);
            for (i, row) in rows.iter_mut().enumerate() {
                row.residual[lane] = one.residual[i];
                row.by_steer[lane] = one.by_steer[i];
                for (column, x) in row.jacobian.iter_mut().zip(&one.jacobian[i]) {
                    column[lane] = *x;
                }
            }
        }
    }

    /// One step of every pose. Their heights must be the asked ones already.
    #[inline(always)]
    pub(crate) fn step_abreast<const SIDES: usize>(
        &self,
        poses: &mut Poses,
        steer: Steered<'_>,
        order: &Elimination,
        equations: &mut Equations,
        stepped: &mut Stepped,
    ) {
        self.write_abreast(poses, steer, equations);
        let mut solved = Solved::<SIDES>::none();
        order.solve(equations, &mut solved);
        let [x, y, a, b, c] = solved.named(order, 0);
        for lane in 0..LANES {
            let shift = Vector3::new(x[lane], y[lane], 0.0);
            let turn = Vector3::new(a[lane], b[lane], c[lane]);
            let pose = poses.at(lane);
            // The step is so small that a turn needs no sine.
            let car_from_body = pose.car_from_body - cross_matrix(&turn) * pose.car_from_body;
            poses.set(lane, &Pose { origin: pose.origin - shift, car_from_body });
            stepped.moved[lane] = shift.dot(&shift) + turn.dot(&turn);
            stepped.pivots[lane] = solved.pivots[lane];
        }
        if SIDES > 1 {
            let [x, y, a, b, c] = solved.named(order, 1);
            for lane in 0..LANES {
                let v = Vector3::new(x[lane], y[lane], 1.0);
                let w = Vector3::new(a[lane], b[lane], c[lane]);
                stepped.by_travel.set(lane, &Twist { v, w });
            }
        }
        if SIDES > 2 {
            let [x, y, a, b, c] = solved.named(order, 2);
            for lane in 0..LANES {
                let v = Vector3::new(x[lane], y[lane], 0.0);
                let w = Vector3::new(a[lane], b[lane], c[lane]);
                stepped.by_steer.set(lane, &Twist { v, w });
            }
        }
    }
}
