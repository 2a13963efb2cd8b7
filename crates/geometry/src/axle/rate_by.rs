//! How the wheel rates answer to a number that is changed.
//!
//! A wheel's rate is made of second derivatives along travel, so its own derivative is a third one, exact in
//! numbers that carry two derivatives along travel and one to the number. The load in the design pose follows from
//! the wheels' loads by the levers there, which answer to the number too.

use super::stiffness::{pressed, share_of_rate, wheel_rate};
use crate::axle::axle_solver::{AxleSolver, SolvedAxle};
use crate::change::changed::Changed;
use crate::corner::corner_motion::CornerMotion;
use crate::corner::ground::Ground;
use crate::driven::driven_motion::ValueAndRate;
use crate::number::real::Dual2OfDual;
use num_dual::Dual64;

type Motions = [CornerMotion<Dual2OfDual>; 2];

/// Values on both springs with gradients over both travels, left first.
struct OverTravels {
    value: [Dual64; 2],
    /// First by spring (or contact), then by travel.
    gradient: [[Dual64; 2]; 2],
}

impl OverTravels {
    /// From lines along the left and the right travel.
    fn of(
        lines: &[Motions; 2],
        of: impl Fn(&CornerMotion<Dual2OfDual>) -> Option<Dual2OfDual>,
    ) -> Option<Self> {
        let [left, right] = lines;
        let at = |i: usize| Some([of(&left[i])?, of(&right[i])?]);
        let both = [at(0)?, at(1)?];
        Some(OverTravels { value: both.map(|[one, _]| one.re), gradient: both.map(|one| one.map(|x| x.v1)) })
    }
}

/// The rate of the springs at one wheel, with its derivative to a number.
pub(crate) struct RateBy {
    /// Along its own travel; on a beam axle in heave.
    pub heave: ValueAndRate<Dual64>,
    /// On a beam axle in roll and by this wheel alone.
    pub as_one: Option<[ValueAndRate<Dual64>; 2]>,
}

impl AxleSolver {
    /// The rate of the springs at each wheel at a solved pose with its derivative to a number. `None` where the
    /// rate of a spring is not known.
    pub(crate) fn wheel_rates_by(&self, at: &SolvedAxle, changed: &Changed) -> Option<[RateBy; 2]> {
        let springs = self.springs.as_ref()?;
        let start = self.start();
        let along = |rates| self.motions_along_by(&start, rates, changed);
        let lines = [along([1.0, 0.0])?, along([0.0, 1.0])?];
        let spring = OverTravels::of(&lines, |motion| Some(pressed(motion)?.1[0]))?;
        let ground = Ground::<Dual2OfDual>::level();
        let gap = OverTravels::of(&lines, |motion| Some(ground.gap(motion)))?;
        // The springs' pull along each travel is that of the contact loads.
        let pull = [0, 1].map(|travel: usize| {
            gap.gradient[0][travel] * springs.wheel_loads[0]
                + gap.gradient[1][travel] * springs.wheel_loads[1]
        });
        let [[a, b], [c, d]] = spring.gradient;
        let determinant = a * d - b * c;
        let loads = [(d * pull[0] - c * pull[1]) / determinant, (a * pull[1] - b * pull[0]) / determinant];
        let load = |i: usize, rate: f64, pressed: Dual64| loads[i] + (pressed - spring.value[i]) * rate;
        let alone = |i: usize| {
            let mut rates = [0.0; 2];
            rates[i] = 1.0;
            let (rate, [value, ratio]) = pressed(&self.motions_along_by(at, rates, changed)?[i])?;
            let load = load(i, rate, value.re);
            let [value, per_travel] = wheel_rate(rate, load, ratio.re, ratio.v1, ratio.v2);
            Some(ValueAndRate { value, per_travel })
        };
        let shared = |wheel: usize, other: f64| {
            let mut rates = [other; 2];
            rates[wheel] = 1.0;
            let motions = self.motions_along_by(at, rates, changed)?;
            let mut sum = [Dual64::from_re(0.0); 2];
            for (i, motion) in motions.iter().enumerate() {
                let (rate, [by, own]) = pressed(motion)?;
                let lever = if i == wheel { own } else { motion.pressed_by_other()? };
                let load = load(i, rate, by.re);
                let share = share_of_rate(rate, load, [by.v1, by.v2], [lever.re, lever.v1, lever.v2]);
                sum = [sum[0] + share[0], sum[1] + share[1]];
            }
            Some(ValueAndRate { value: sum[0], per_travel: sum[1] })
        };
        let of = |i: usize| {
            if self.start().motion.left.as_one.is_none() {
                return Some(RateBy { heave: alone(i)?, as_one: None });
            }
            let as_one = Some([shared(i, -1.0)?, shared(i, 0.0)?]);
            Some(RateBy { heave: shared(i, 1.0)?, as_one })
        };
        Some([of(0)?, of(1)?])
    }
}
