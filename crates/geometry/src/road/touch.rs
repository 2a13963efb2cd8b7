//! The quick way of a wheel to the road near by: the tyre's touch stands in place of the wheel centre's
//! height among the linkage's own equations, so that one Newton closes links and contact together.

use crate::axle::axle_motion::AxleMotion;
use crate::axle::axle_solver::{AxleSolver, SolvedAxle};
use crate::axle::cross_axle::Wheels;
use crate::axle::wheel_carrier::{AxleState, Carried};
use crate::corner::corner_solver::{CornerSolver, SolvedCorner};
use crate::corner::ground::Ground;
use crate::mechanism::{Input, PivotOrder, Pose, Traced, clear_of_line};
use nalgebra::Vector3;

/// Furthest the wheel travels or the steering moves this way, metres and radians.
const NEAR: f64 = 0.010;
/// After a step this small (metres, radians) Newton's next would be below rounding.
const LAST_STEP: f64 = 1e-7;
const MOST_STEPS: usize = 4;

impl CornerSolver {
    /// The corner with its tyre on a ground near by; `None` where the guarded way must be taken.
    fn touching(&self, from: &SolvedCorner, steer: f64, ground: &Ground<f64>) -> Option<SolvedCorner> {
        let steer = if self.steered() { steer } else { 0.0 };
        let turn = steer - from.steer();
        let at = &from.motion;
        let arm = |centre: &Vector3<f64>, spin_axis: &Vector3<f64>| {
            let n = &ground.normal;
            let down = (spin_axis * spin_axis.dot(n) - n).normalize();
            let arm = down * (at.tyre_radius - at.tyre_shoulder) - n * at.tyre_shoulder;
            (ground.above(centre) + arm.dot(n), arm)
        };
        // Along the tangent to where the gap would close.
        let (gap, reach) = arm(&at.wheel_centre, &at.spin_axis);
        let rate = at.by_travel.at(&reach).dot(&ground.normal);
        let by_steer = at.by_steer.map_or(0.0, |twist| twist.at(&reach).dot(&ground.normal));
        let travel = -(gap + by_steer * turn) / rate;
        // Not-a-number is not near either.
        if !(travel.abs() < NEAR && turn.abs() < NEAR) {
            return None;
        }
        let (mut v, mut w) = (at.by_travel.v * travel, at.by_travel.w * travel);
        if let Some(twist) = at.by_steer {
            v += twist.v * turn;
            w += twist.w * turn;
        }
        let mechanism = &self.model.mechanism;
        let design = &self.model.wheel.design;
        let mut pose: Pose<f64> = from.upright().moved(&v, &w);
        let input = |pose: &Pose<f64>| Input::new(pose.origin.z - design.centre.z, steer);
        // The touch stands where the height stood, and good pivots stay good.
        let order = PivotOrder::of(&from.traced.closed.factors);
        let mut corrected = 0.0;
        for _ in 0..MOST_STEPS {
            let mut rows = mechanism.rows(&[pose], &input(&pose));
            let (gap, reach) = arm(&pose.origin, &pose.direction(&design.spin_axis));
            let (n, turn) = (ground.normal, reach.cross(&ground.normal));
            rows.residual[5] = gap;
            rows.jacobian[5] = [n.x, n.y, n.z, turn.x, turn.y, turn.z];
            let (c, sign) = order.solve(&rows.jacobian, &rows.residual.map(|lack| [-lack, 0.0, 0.0]));
            if sign == 0 {
                return None;
            }
            let part = |from: usize| Vector3::new(c[from][0], c[from + 1][0], c[from + 2][0]);
            let (shift, turn) = (part(0), part(3));
            pose = pose.moved(&shift, &turn).straightened();
            let size = (shift.norm_squared() + turn.norm_squared()).sqrt();
            corrected += size;
            if size < LAST_STEP {
                break;
            }
        }
        let closed = mechanism.taken(&[pose], &input(&pose))?;
        let moved = (v.norm_squared() + w.norm_squared()).sqrt();
        let same = closed.factors.sign() == from.traced.closed.factors.sign();
        if !(same && corrected <= 0.25 * moved + 1e-9) {
            return None;
        }
        let inner = mechanism.openness(&closed.bodies, &input(&pose)).0;
        let open = self.model.openness(&closed).0.min(inner);
        if !clear_of_line(open, moved) {
            return None;
        }
        let motion = self.model.motion(&closed, &self.reference).ok()?;
        Some(SolvedCorner { traced: Traced { input: input(&pose), closed }, motion })
    }
}

impl AxleSolver {
    /// The axle with both tyres on a ground near by, and their travels; `None` where the guarded way
    /// must be taken.
    pub(super) fn touching(
        &self,
        from: &SolvedAxle,
        steer: f64,
        ground: &Ground<f64>,
    ) -> Option<(SolvedAxle, [f64; 2])> {
        let (Carried::Independent(corners), AxleState::Independent(from)) = (&self.carried, &from.state)
        else {
            return None;
        };
        let left = corners[0].touching(&from[0], steer, ground)?;
        let right = corners[1].touching(&from[1], steer, ground)?;
        let wheels = Wheels { own: [left.motion, right.motion], crossed: None };
        let across = &self.across;
        let motion = AxleMotion::on(self.context, &wheels, steer, self.reference, across, *ground).ok()?;
        let travel = [left.travel(), right.travel()];
        Some((SolvedAxle { state: AxleState::Independent([left, right]), motion }, travel))
    }
}
