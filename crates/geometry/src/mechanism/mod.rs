//! One solver for every linkage: rigid bodies, the constraints that hold them, drivers that move
//! them. A linkage is data for it.

mod abreast;
pub mod constraint;
mod elimination;
mod equations;
pub(crate) mod hinged;
mod lu;
mod pose;
mod rows;
mod steering_path;
pub(crate) mod stop;
mod swinging;
mod trace;

pub(crate) use abreast::{Poses, Steered, Stepped, Twists};
pub use constraint::{BallJoint, Constraint, FixedLength, Height, Hinge, Slider};
pub(crate) use elimination::Elimination;
pub(crate) use equations::Equations;
pub use lu::{Factors, PivotOrder};
pub use pose::{Pose, Twist};
pub use rows::{Anchor, Frame, Rows};
pub use steering_path::{CentreLink, SteeringPath};
pub use swinging::{Swinging, Swung};
pub(crate) use trace::{IN_LINE, NEARLY_IN_LINE, clear_of_line};
pub use trace::{PathLimit, Traced};

use crate::number::real::Real;
use nalgebra::Vector3;
use rows::Situation;

/// Most wheels one mechanism carries (a beam axle carries two).
pub const MAX_DRIVERS: usize = 2;

/// What moves a mechanism.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Input<T: Real> {
    /// Travel of each driven wheel centre, metres, + bump.
    pub travel: [T; MAX_DRIVERS],
    /// Steering input: rack travel, metres, + toward the left, or turn of the pitman arm, radians.
    pub steer: T,
}

impl<T: Real> Input<T> {
    /// One wheel's travel, metres, and the steering input.
    pub fn new(travel: T, steer: T) -> Self {
        Input { travel: [travel, T::zero()], steer }
    }
}

/// The count of freedoms does not come out: the mechanism is no mechanism.
#[derive(Clone, Copy, Debug, PartialEq, Eq, thiserror::Error)]
#[error(
    "{bodies} free bodies have {} freedoms, but {constraints} constraint equations and {drivers} \
     driven heights hold them",
    6 * bodies
)]
pub struct WrongFreedoms {
    /// Moving bodies.
    pub bodies: usize,
    /// Constraint equations.
    pub constraints: usize,
    /// Driven heights.
    pub drivers: usize,
}

/// `B` bodies with `N = 6 B` unknowns.
#[derive(Clone, Debug)]
pub struct Mechanism<T: Real, const B: usize, const N: usize> {
    constraints: Vec<(&'static str, Constraint<T>)>,
    drivers: Vec<Height<T>>,
    steering: SteeringPath<T>,
    swinging: Option<Swinging<T>>,
    design: [Pose<T>; B],
}

/// Result of closing a mechanism at one input.
#[derive(Clone, Copy, Debug)]
pub struct Closed<T: Real, const B: usize, const N: usize> {
    /// Where the bodies are.
    pub bodies: [Pose<T>; B],
    /// The equations' matrix at that pose, factored.
    pub factors: Factors<T, N>,
    by_steer: [T; N],
    /// Largest residual left, metres.
    pub residual: f64,
    /// Newton steps taken.
    pub steps: usize,
    /// Length of the whole correction, metres and radians together.
    pub(crate) moved: f64,
}

/// Newton did not close the mechanism.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct NotClosed {
    /// Largest residual when it gave up, metres.
    pub residual: f64,
    /// Name of the link that lacks most.
    pub worst: &'static str,
}

/// Residual below which a pose counts as closed, metres.
pub const CLOSED: f64 = 1e-12;
/// A step this long (metres, radians) has left the linkage.
const FAR: f64 = 1.0;
const MOST_STEPS: usize = 14;
/// After a step this small (metres, radians) Newton's next would be below rounding.
const LAST_STEP: f64 = 3e-8;

impl<T: Real, const B: usize, const N: usize> Mechanism<T, B, N> {
    /// A mechanism in its design pose.
    ///
    /// # Errors
    /// When the equations and drivers do not add up to the bodies' freedoms.
    pub fn new(
        design: [Pose<T>; B],
        constraints: Vec<(&'static str, Constraint<T>)>,
        drivers: Vec<Height<T>>,
        steering: SteeringPath<T>,
    ) -> Result<Self, WrongFreedoms> {
        let equations: usize = constraints.iter().map(|(_, c)| c.count()).sum();
        if N != 6 * B || equations + drivers.len() != N || drivers.len() > MAX_DRIVERS {
            return Err(WrongFreedoms { bodies: B, constraints: equations, drivers: drivers.len() });
        }
        Ok(Mechanism { constraints, drivers, steering, swinging: None, design })
    }

    /// The same with a part that swings with the first body.
    #[must_use]
    pub fn with_swinging(mut self, part: Swinging<T>) -> Self {
        self.swinging = Some(part);
        self
    }

    /// How many drivers it has.
    pub fn drivers(&self) -> usize {
        self.drivers.len()
    }

    /// How the tie rods' inner ends move.
    pub fn steering(&self) -> &SteeringPath<T> {
        &self.steering
    }

    /// The swinging part for a pose of the first body.
    pub fn swung(&self, bodies: &[Pose<T>; B]) -> Option<Swung<T>> {
        let part = self.swinging.as_ref()?;
        Some(part.at(bodies.first()?))
    }

    /// How far the parts without unknowns of their own (the idler arm of a steering box, a lever) are from
    /// the line of the rod that turns them, 0 to 1, and which is the nearest: at 0 it could go on in either
    /// of two ways, and the determinant does not see it.
    pub fn openness(&self, bodies: &[Pose<T>; B], input: &Input<T>) -> (f64, &'static str) {
        let idler = (self.steering.openness(input.steer), "centre link and idler arm");
        let lever = self.swinging.as_ref().zip(bodies.first());
        let lever = (lever.map_or(1.0, |(part, body)| part.openness(body)), "Watt linkage");
        if lever.0 < idler.0 { lever } else { idler }
    }

    /// Coordinates in the swinging part of a point given in the design pose.
    pub fn swing_local(&self, design: &Vector3<T>) -> Option<Vector3<T>> {
        self.swinging.as_ref().map(|part| part.local(design))
    }

    /// The bodies in the design pose.
    pub fn design(&self) -> &[Pose<T>; B] {
        &self.design
    }

    /// Residuals and gradients at a pose.
    #[inline]
    pub fn rows(&self, bodies: &[Pose<T>; B], input: &Input<T>) -> Rows<T, N> {
        let situation =
            Situation { bodies, steering: &self.steering, steer: input.steer, swung: self.swung(bodies) };
        let mut rows = Rows::empty();
        // The count was checked when the mechanism was made: there is room for every row.
        for (_, constraint) in &self.constraints {
            let _ = constraint.write(&situation, &mut rows);
        }
        for (driver, &travel) in self.drivers.iter().zip(&input.travel) {
            let _ = driver.write(travel, &situation, &mut rows);
        }
        rows
    }

    /// One Newton step: the moved bodies, the factored matrix, and how far it went.
    #[inline]
    fn step(&self, bodies: &[Pose<T>; B], rows: &Rows<T, N>) -> ([Pose<T>; B], Factors<T, N>, f64) {
        let factors = Factors::of(rows.jacobian);
        let correction = factors.solve(&rows.residual);
        let mut moved = *bodies;
        let mut size = 0.0;
        for (b, body) in moved.iter_mut().enumerate() {
            let c = &correction[6 * b..6 * b + 6];
            let shift = -Vector3::new(c[0], c[1], c[2]);
            let turn = -Vector3::new(c[3], c[4], c[5]);
            *body = body.moved(&shift, &turn);
            size += shift.map(T::value).norm_squared() + turn.map(T::value).norm_squared();
        }
        (moved, factors, size.sqrt())
    }

    /// Closes the mechanism by Newton from a pose near by.
    ///
    /// # Errors
    /// When it does not converge, with the link that lacks most.
    pub fn close(&self, start: &[Pose<T>; B], input: &Input<T>) -> Result<Closed<T, B, N>, NotClosed> {
        let mut bodies = *start;
        let mut moved = 0.0;
        let mut steps = 0;
        let mut rows = self.rows(&bodies, input);
        loop {
            let (next, _, size) = self.step(&bodies, &rows);
            steps += 1;
            if steps > MOST_STEPS || size.is_nan() || size > FAR {
                return Err(self.lacking(&rows));
            }
            bodies = next.map(|body| body.straightened());
            moved += size;
            rows = self.rows(&bodies, input);
            let residual = largest(&rows.residual);
            // Where the equations bend sharply, as near a small lever's dead point, the error left by a small
            // step can still be seen; the next takes it away.
            if size < LAST_STEP && residual <= CLOSED {
                let factors = Factors::of(rows.jacobian);
                return Ok(Closed { bodies, factors, by_steer: rows.by_steer, residual, steps, moved });
            }
        }
    }

    /// The equations at a pose that something else has closed; `None` where it is not closed.
    pub(crate) fn taken(&self, bodies: &[Pose<T>; B], input: &Input<T>) -> Option<Closed<T, B, N>> {
        let rows = self.rows(bodies, input);
        let residual = largest(&rows.residual);
        let factors = Factors::of(rows.jacobian);
        let closed =
            Closed { bodies: *bodies, factors, by_steer: rows.by_steer, residual, steps: 1, moved: 0.0 };
        // Written so that not-a-number is not closed.
        (residual <= CLOSED).then_some(closed)
    }

    /// The equations at a pose that is closed already (in value): one step carries the derivatives
    /// into the pose, then the matrix is taken there.
    pub fn carry(&self, bodies: &[Pose<T>; B], input: &Input<T>) -> Closed<T, B, N> {
        let rows = self.rows(bodies, input);
        let (bodies, _, moved) = self.step(bodies, &rows);
        let rows = self.rows(&bodies, input);
        let factors = Factors::of(rows.jacobian);
        let residual = largest(&rows.residual);
        Closed { bodies, factors, by_steer: rows.by_steer, residual, steps: 1, moved }
    }

    fn lacking(&self, rows: &Rows<T, N>) -> NotClosed {
        let mut worst = NotClosed { residual: 0.0, worst: "" };
        let mut row = 0;
        for (name, constraint) in &self.constraints {
            for _ in 0..constraint.count() {
                let here = rows.residual[row].value().abs();
                if here.is_nan() || here > worst.residual {
                    worst = NotClosed { residual: here, worst: name };
                }
                row += 1;
            }
        }
        worst
    }

    /// The names of the links that carry a load when nothing outside pushes: those in line at a
    /// dead point.
    pub(crate) fn in_line(&self, factors: &Factors<T, N>) -> Vec<&'static str> {
        // Inverse iteration on the transposed matrix finds its near null vector.
        let mut load = [T::zero(); N];
        for (i, x) in load.iter_mut().enumerate() {
            *x = T::constant(1.0 + 0.37 * f64::from(u8::try_from(i).unwrap_or(0)));
        }
        for _ in 0..4 {
            load = factors.solve_transposed(&load);
            let size = largest(&load);
            if !(size > 0.0 && size.is_finite()) {
                return Vec::new();
            }
            load = load.map(|x| x * T::constant(1.0 / size));
        }
        let mut names = Vec::new();
        let mut row = 0;
        for (name, constraint) in &self.constraints {
            let carries = (row..row + constraint.count()).any(|r| load[r].value().abs() > 0.2);
            // A hinge between bodies passes on what the links carry.
            if carries && !constraint.is_hinge_between_bodies() {
                names.push(*name);
            }
            row += constraint.count();
        }
        names
    }
}

impl<T: Real, const B: usize, const N: usize> Closed<T, B, N> {
    /// Twist of a body for one unit of the travel of wheel `driver`, the others and the steering held.
    #[inline]
    pub fn by_travel(&self, driver: usize, drivers: usize, body: usize) -> Twist<T> {
        let mut right = [T::zero(); N];
        right[N - drivers + driver] = T::one();
        self.twist(&right, body)
    }

    /// Twist of a body for one unit of the steering input, the wheels' heights held.
    #[inline]
    pub fn by_steer(&self, body: usize) -> Twist<T> {
        self.twist(&self.by_steer.map(|x| -x), body)
    }

    /// Turn of the fastest body, radians, for a metre more of the equation in this row: large where
    /// that equation hardly holds anything.
    pub(crate) fn turn_by_row(&self, row: usize) -> f64 {
        let mut right = [T::zero(); N];
        right[row] = T::one();
        let turn = |body| self.twist(&right, body).w.map(T::value).norm();
        (0..B).map(turn).fold(0.0, f64::max)
    }

    #[inline]
    fn twist(&self, right: &[T; N], body: usize) -> Twist<T> {
        let x = self.factors.solve(right);
        let x = &x[6 * body..6 * body + 6];
        Twist { v: Vector3::new(x[0], x[1], x[2]), w: Vector3::new(x[3], x[4], x[5]) }
    }
}

#[inline]
fn largest<T: Real, const N: usize>(values: &[T; N]) -> f64 {
    values.iter().fold(0.0, |most, x| {
        let here = x.value().abs();
        // Not-a-number must win, or it would hide.
        if here <= most { most } else { here }
    })
}

#[cfg(test)]
mod tests;
