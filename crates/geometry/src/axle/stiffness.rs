//! What springs and anti-roll bars make of an axle at its wheels.
//!
//! All of it is the second derivative of one energy over both wheels' travels, so that levers which
//! change with travel, springs that stand closer together than the wheels, and beams that join both
//! wheels need no formulas of their own. The energy's curvature along travel is the text-book's
//! `k r² + F dr/ds` for one spring and one wheel: see [`wheel_rate`].

use crate::axle::axle_solver::{AxleSolver, SolvedAxle, place};
use crate::axle::cross_axle::{CrossAxle, Wheels};
use crate::axle::wheel_carrier::{AxleState, Carried};
use crate::car::point_set::PointSet;
use crate::car::position::Side;
use crate::corner::corner_motion::CornerMotion;
use crate::corner::ground::Ground;
use crate::corner::on_ground::OnGround;
use crate::driven::driven_motion::ValueAndRate;
use crate::number::real::Real;
use nalgebra::{Matrix2, Vector2, Vector3};
use num_dual::Dual2_64;

/// Rate at a wheel along its travel, newtons per metre, and its growth with travel, newtons per square
/// metre: a spring of this `rate` (newtons per metre) pressed by `load` (newtons), whose shortening per
/// wheel travel is `ratio` with derivatives `ratio_rate` and `ratio_bend` to travel.
///
/// `k r² + F r'`, and its derivative `3 k r r' + F r''`, since the load itself grows by `k r`
/// (Milliken & Milliken, Race Car Vehicle Dynamics, ch. 16, from memory; the second follows).
#[must_use]
pub fn wheel_rate<T: Real>(rate: f64, load: T, ratio: T, ratio_rate: T, ratio_bend: T) -> [T; 2] {
    let rate = T::constant(rate);
    [
        rate * ratio * ratio + load * ratio_rate,
        T::constant(3.0) * rate * ratio * ratio_rate + load * ratio_bend,
    ]
}

/// What one spring of this `rate` (newtons per metre), pressed by `load` (newtons), adds to the rate at a wheel
/// along a motion of the axle, newtons per metre, and to its growth, newtons per square metre. `speed` is how fast
/// the motion presses the spring and how that changes along it, `lever` how far the wheel's own travel presses it,
/// with its first and second derivative along the motion.
///
/// The spring puts `F l` on the wheel, by virtual work: the derivative is `k p' l + F l'`, and the next one
/// `k p'' l + 2 k p' l' + F l''`.
pub(super) fn share_of_rate<T: Real>(rate: f64, load: T, speed: [T; 2], lever: [T; 3]) -> [T; 2] {
    let k = T::constant(rate);
    [
        k * speed[0] * lever[0] + load * lever[1],
        k * speed[1] * lever[0] + T::constant(2.0) * k * speed[0] * lever[1] + load * lever[2],
    ]
}

/// The spring's rate and how far it is pressed (metres shorter, or radians turned), up to a constant.
/// `None` where a corner has no spring of known rate.
pub(super) fn pressed<T: Real>(motion: &CornerMotion<T>) -> Option<(f64, [T; 2])> {
    let pressed = motion.pressed()?;
    Some((pressed.rate, [pressed.by.value, pressed.by.per_travel]))
}

/// Value, gradient and second derivatives of something over both wheels' travels.
#[derive(Clone, Copy, Debug)]
struct Curved {
    value: f64,
    gradient: Vector2<f64>,
    curvature: Matrix2<f64>,
}

/// The wheels for what hangs on their places alone: its derivatives come with the numbers.
fn as_wheels(motions: &[CornerMotion<Dual2_64>; 2]) -> Wheels<Dual2_64> {
    Wheels { own: *motions, crossed: None }
}

/// Three lines through a pose: along the left travel, along the right, along both.
type Lines = [[CornerMotion<Dual2_64>; 2]; 3];

fn curved(lines: &Lines, of: impl Fn(&[CornerMotion<Dual2_64>; 2]) -> Option<Dual2_64>) -> Option<Curved> {
    let [left, right, both] = [of(&lines[0])?, of(&lines[1])?, of(&lines[2])?];
    let mixed = 0.5 * (both.v2 - left.v2 - right.v2);
    Some(Curved {
        value: left.re,
        gradient: Vector2::new(left.v1, right.v1),
        curvature: Matrix2::new(left.v2, mixed, mixed, right.v2),
    })
}

/// An axle's stiffness at its contacts, in the design pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxleStiffness {
    /// Load on each spring in the design pose, newtons; zero where the car's mass or weight share is
    /// not known.
    pub loads: [f64; 2],
    /// Rate of the springs when both contacts rise together, newtons per metre, both wheels' loads
    /// added.
    pub heave: f64,
    /// Roll stiffness of the springs, newton metres per radian of body roll: the moment of the load that
    /// goes from one contact to the other.
    pub roll_of_springs: f64,
    /// The same of the anti-roll bar.
    pub roll_of_bar: f64,
    /// How roll and heave bear on each other, newtons per radian (or newton metres per metre): load that
    /// the axle loses as the body's left side rolls up about the middle of its contacts; zero where both
    /// sides are alike.
    pub heave_by_roll: f64,
    /// Distance between the contacts, metres.
    pub track: f64,
}

impl AxleStiffness {
    /// Roll stiffness of springs and bar, newton metres per radian of body roll.
    #[must_use]
    pub fn roll(&self) -> f64 {
        self.roll_of_springs + self.roll_of_bar
    }
}

/// The springs of an axle and what presses them in the design pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Springs {
    rates: [f64; 2],
    /// Load on each wheel in the design pose, newtons.
    pub(super) wheel_loads: [f64; 2],
    /// Load in the design pose, newtons.
    loads: [f64; 2],
    /// How far pressed in the design pose, on the scale of [`pressed`].
    at_design: [f64; 2],
}

impl AxleSolver {
    fn lines(&self, at: &SolvedAxle) -> Option<Lines> {
        let along = |rates| self.motions_along(at, rates);
        Some([along([1.0, 0.0])?, along([0.0, 1.0])?, along([1.0, 1.0])?])
    }

    /// The springs, pressed in the design pose by `wheel_loads` at the contacts (newtons). `None` where
    /// a spring or its rate is not known.
    pub(crate) fn springs_under(&self, wheel_loads: [f64; 2]) -> Option<Springs> {
        if [&self.axle.left, &self.axle.right].iter().any(|corner| corner.spring.is_none()) {
            return None;
        }
        let lines = self.lines(&self.start())?;
        let spring = |i: usize| pressed(&lines[0][i]).map(|(rate, _)| rate);
        let rates = [spring(0)?, spring(1)?];
        let pressing = |i: usize| curved(&lines, |motions| Some(pressed(&motions[i])?.1[0]));
        let (left, right) = (pressing(0)?, pressing(1)?);
        let ground = Ground::<Dual2_64>::level();
        let gap = |i: usize| curved(&lines, |motions| Some(ground.gap(&motions[i])));
        let [on_left, on_right] = [gap(0)?, gap(1)?];
        // The springs' pull along each travel is that of the contact loads.
        let pull = on_left.gradient * wheel_loads[0] + on_right.gradient * wheel_loads[1];
        let loads = Matrix2::from_columns(&[left.gradient, right.gradient]).try_inverse()? * pull;
        let sound = loads.iter().all(|load| load.is_finite());
        sound.then_some(Springs {
            rates,
            wheel_loads,
            loads: [loads.x, loads.y],
            at_design: [left.value, right.value],
        })
    }

    /// The axle's stiffness at its contacts in the design pose, its wheels carrying `wheel_loads`
    /// (newtons). `None` where a spring or its rate is not known. An anti-roll bar without a rate counts
    /// for nothing.
    #[must_use]
    pub fn stiffness(&self, wheel_loads: [f64; 2]) -> Option<AxleStiffness> {
        let springs = self.springs_under(wheel_loads)?;
        let start = self.start();
        let lines = self.lines(&start)?;
        let ground = Ground::<Dual2_64>::level();
        let mut of_springs = Matrix2::zeros();
        let mut over_ground = Matrix2::zeros();
        let mut sideways = Vector2::zeros();
        for i in 0..2 {
            let spring = curved(&lines, |motions| Some(pressed(&motions[i])?.1[0]))?;
            of_springs += spring.gradient * spring.gradient.transpose() * springs.rates[i];
            of_springs += spring.curvature * springs.loads[i];
            let gap = curved(&lines, |motions| Some(ground.gap(&motions[i])))?;
            // The contact's own way over the ground bends too.
            of_springs -= gap.curvature * wheel_loads[i];
            over_ground.set_row(i, &gap.gradient.transpose());
            // A contact that goes sideways with travel takes its load along.
            let aside = curved(&lines, |motions| Some(OnGround::of(&motions[i], ground.normal).contact.y))?;
            sideways += aside.gradient * wheel_loads[i];
        }
        if let Some(rate) = self.axle.third_spring.and_then(|third| third.rate) {
            // Nothing says how much of the weight it carries: none in the design pose.
            let third = curved(&lines, |motions| Some(as_wheels(motions).third_spring()?.value))?;
            of_springs += third.gradient * third.gradient.transpose() * rate;
        }
        let across = CrossAxle::<Dual2_64>::of(
            &self.axle,
            &PointSet::of(&self.axle.hardpoints, &self.axle.lengths),
            self.across.senses(),
        );
        let twisted = |motions: &[CornerMotion<Dual2_64>; 2]| {
            let wheels = as_wheels(motions);
            Some(across.twist(&wheels, &across.t_bar(&wheels).ok()?)?.value)
        };
        let rate = self.axle.anti_roll_bar.and_then(|bar| bar.rate);
        let twist = rate.and_then(|rate| Some((rate, curved(&lines, twisted)?)));
        let of_bar = twist.map_or_else(Matrix2::zeros, |(rate, twist)| {
            (twist.gradient * twist.gradient.transpose() + twist.curvature * twist.value) * rate
        });
        let travel = over_ground.try_inverse()?;
        let at_contacts = |stiffness: Matrix2<f64>| travel.transpose() * stiffness * travel;
        let contact = |i: usize| -> Vector3<f64> {
            let corner = if i == 0 { &start.motion.left } else { &start.motion.right };
            OnGround::of(corner, Vector3::z()).contact
        };
        let track = contact(0).y - contact(1).y;
        // Rolling by one radian brings one contact nearer by half the track and the other further off.
        let roll = Vector2::new(0.5 * track, -0.5 * track);
        let both = Vector2::new(1.0, 1.0);
        let along = |stiffness: Matrix2<f64>, way: Vector2<f64>| way.dot(&(at_contacts(stiffness) * way));
        let crossed = both.dot(&(at_contacts(of_springs + of_bar) * roll)) + sideways.dot(&(travel * both));
        Some(AxleStiffness {
            loads: springs.loads,
            heave: along(of_springs, both),
            roll_of_springs: along(of_springs, roll) + sideways.dot(&(travel * roll)),
            roll_of_bar: along(of_bar, roll),
            heave_by_roll: crossed,
            track,
        })
    }

    /// The axle with the rate of the springs at each wheel beside the rest of its motion; on a beam axle, whose
    /// wheels share the springs, in heave, in roll and by one wheel. As it was where the rate of a spring is
    /// not known.
    #[must_use]
    pub fn rated(&self, at: &SolvedAxle) -> SolvedAxle {
        self.with_rates(*at)
    }

    pub(super) fn with_rates(&self, mut rated: SolvedAxle) -> SolvedAxle {
        match (&self.carried, &rated.state) {
            (Carried::Independent(corners), AxleState::Independent(solved)) => {
                let along_own = |side| {
                    let i = place(side);
                    corners[i].motion_along(solved[i].upright(), &solved[i].traced.input, 1.0)
                };
                if let Some(rates) = self.wheel_rates(along_own) {
                    let [left, right] = rates.map(Some);
                    rated.motion.left.wheel_rate = left;
                    rated.motion.right.wheel_rate = right;
                }
            }
            _ => {
                let rates = Side::BOTH.map(|side| self.shared_rates(&rated, side));
                for (corner, rates) in
                    [&mut rated.motion.left, &mut rated.motion.right].into_iter().zip(rates)
                {
                    let (Some([heave, roll, alone]), Some(as_one)) = (rates, &mut corner.as_one) else {
                        continue;
                    };
                    corner.wheel_rate = Some(heave);
                    as_one.wheel_rate_in_roll = Some(roll);
                    as_one.wheel_rate_one_wheel = Some(alone);
                }
            }
        }
        rated
    }

    /// Rate of the springs at one wheel of a beam axle, per its own travel: in heave, in roll, and with the
    /// other wheel held. `None` where the rate of a spring is not known.
    ///
    /// A wheel's load from the springs is the sum of their forces, each times how far this wheel's travel
    /// presses that spring: virtual work. The rate is its derivative along the motion.
    fn shared_rates(&self, at: &SolvedAxle, side: Side) -> Option<[ValueAndRate<f64>; 3]> {
        let springs = self.springs.as_ref()?;
        let wheel = place(side);
        let along = |other: f64| {
            let mut speeds = [other; 2];
            speeds[wheel] = 1.0;
            let motions = self.motions_along(at, speeds)?;
            let mut rate = ValueAndRate { value: 0.0, per_travel: 0.0 };
            for (i, motion) in motions.iter().enumerate() {
                let (k, [by, by_own]) = pressed(motion)?;
                let lever = if i == wheel { by_own } else { motion.pressed_by_other()? };
                let load = springs.loads[i] + k * (by.re - springs.at_design[i]);
                let [value, per_travel] =
                    share_of_rate(k, load, [by.v1, by.v2], [lever.re, lever.v1, lever.v2]);
                rate.value += value;
                rate.per_travel += per_travel;
            }
            Some(rate)
        };
        Some([along(1.0)?, along(-1.0)?, along(0.0)?])
    }

    /// The rate of each wheel's spring, given each wheel's motion along its own travel. `None` where the
    /// rate of a spring is not known.
    pub(crate) fn wheel_rates(
        &self,
        along_own: impl Fn(Side) -> Option<CornerMotion<Dual2_64>>,
    ) -> Option<[ValueAndRate<f64>; 2]> {
        let springs = self.springs.as_ref()?;
        let of = |side: Side| {
            let i = place(side);
            let (rate, [value, ratio]) = pressed(&along_own(side)?)?;
            let load = springs.loads[i] + rate * (value.re - springs.at_design[i]);
            let [value, per_travel] = wheel_rate(rate, load, ratio.re, ratio.v1, ratio.v2);
            Some(ValueAndRate { value, per_travel })
        };
        Some([of(Side::Left)?, of(Side::Right)?])
    }
}
