//! One corner at one pose, with its exact first derivatives: what every reading is made from.

use crate::car::position::Side;
use crate::car::springing::Spring;
use crate::car::steering::SteerInput;
use crate::driven::driven_motion::{DrivenMotion, DropLink, Moving, SpringState, ValueAndRate};
use crate::mechanism::Twist;
use crate::number::real::{Real, up};
use nalgebra::Vector3;

/// A corner as it stands and moves.
#[derive(Clone, Copy, Debug)]
pub struct CornerMotion<T: Real> {
    /// Its side.
    pub side: Side,
    /// Whether the axle's steering steers it.
    pub steered: bool,
    /// What the steering input counts.
    pub steer_input: SteerInput,
    /// Wheel centre, metres.
    pub wheel_centre: Vector3<T>,
    /// Unit spin axis pointing outboard.
    pub spin_axis: Vector3<T>,
    /// Tyre radius, metres.
    pub tyre_radius: T,
    /// Radius of the tread's round cross-section, metres; zero for a disc.
    pub tyre_shoulder: T,
    /// The steering axis; `None` where the wheel does not steer on its own.
    pub steering_axis: Option<SteeringAxis<T>>,
    /// Outer end of the tie rod or toe link, metres, where there is one.
    pub toe_link_outer: Option<Vector3<T>>,
    /// Velocity of the upright, at the wheel centre, per unit of its own travel, steering held, and on an axle
    /// that moves as one the other wheel too.
    pub by_travel: Twist<T>,
    /// Velocity of the upright per unit of the steering input, wheel-centre height held; where nothing
    /// steers, per unit movement toward the left of a toe link's inner end.
    pub by_steer: Option<Twist<T>>,
    /// What springs it, and how stiff that is.
    pub spring_kind: Option<Spring>,
    /// Turn of the rocker from the design pose, radians, + = the way bump turns it at design.
    pub rocker: Option<ValueAndRate<T>>,
    /// Damper length, metres.
    pub damper: Option<ValueAndRate<T>>,
    /// Length of a spring that stands apart from the damper, metres.
    pub spring: Option<ValueAndRate<T>>,
    /// Turn of the anti-roll bar's arm from the design pose, radians, + = the way bump turns it at design.
    pub bar: Option<ValueAndRate<T>>,
    /// Rate of the springs at the wheel, newtons per metre, on a beam axle in heave; only where it was asked
    /// for: [`AxleSolver::rated`](crate::AxleSolver::rated).
    pub wheel_rate: Option<ValueAndRate<T>>,
    /// How the other wheel's travel moves this one; `None` where each wheel moves on its own.
    pub as_one: Option<AsOne<T>>,
    /// The drop link, where it hangs on a T-bar.
    pub drop_link: Option<DropLink<T>>,
    /// This side's end of a third spring.
    pub third_spring_end: Option<Moving<T>>,
    /// The reference pose (zero travel, straight ahead).
    pub reference: Reference<T>,
}

/// How the travel of the other wheel moves one, on an axle that moves as one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AsOne<T: Real> {
    /// Velocity of the upright, at this wheel's centre, per unit travel of the other wheel, its own held.
    pub by_other: Twist<T>,
    /// Turn of the rocker per the same, radians per metre.
    pub rocker: Option<T>,
    /// Growth of the damper's length per the same.
    pub damper: Option<T>,
    /// Growth of the length of a spring that stands apart, per the same.
    pub spring: Option<T>,
    /// Turn of the anti-roll bar's arm per the same, radians per metre.
    pub bar: Option<T>,
    /// Rate of the springs at the wheel in roll, newtons per metre; only where it was asked for.
    pub wheel_rate_in_roll: Option<ValueAndRate<T>>,
    /// The same with this wheel travelling alone, the other held.
    pub wheel_rate_one_wheel: Option<ValueAndRate<T>>,
}

impl<T: Real> AsOne<T> {
    /// From one wheel's motion per unit of the other wheel's travel.
    pub(crate) fn of(crossed: &CornerMotion<T>) -> Self {
        let rate = |followed: Option<ValueAndRate<T>>| followed.map(|followed| followed.per_travel);
        AsOne {
            by_other: crossed.by_travel,
            rocker: rate(crossed.rocker),
            damper: rate(crossed.damper),
            spring: rate(crossed.spring),
            bar: rate(crossed.bar),
            wheel_rate_in_roll: None,
            wheel_rate_one_wheel: None,
        }
    }
}

/// The line a wheel steers about.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SteeringAxis<T: Real> {
    /// A point of it, metres: the lower ball joint where there is one.
    pub point: Vector3<T>,
    /// Its direction, upward; not of length one.
    pub along: Vector3<T>,
    /// Rate of `along` per unit wheel travel; `None` for the screw axis of separate links.
    pub rate: Option<Vector3<T>>,
}

impl<T: Real> SteeringAxis<T> {
    /// Its upper end, metres: the upper ball joint or the strut's top mount where there is one.
    pub fn upper(&self) -> Vector3<T> {
        self.point + self.along
    }

    /// Its unit direction.
    #[inline(always)]
    pub fn direction(&self) -> Vector3<T> {
        crate::number::real::unit(&self.along)
    }
}

/// What changes are counted from.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reference<T: Real> {
    /// Wheel centre, metres.
    pub wheel_centre: Vector3<T>,
    /// Lateral place of the contact point, the ground parallel to the body's XY plane, metres.
    pub contact_y: T,
}

impl<T: Real> CornerMotion<T> {
    /// What the upright drives.
    #[inline(always)]
    pub(crate) fn driven(&self) -> DrivenMotion<T> {
        DrivenMotion {
            rocker: self.rocker,
            damper: self.damper,
            spring: self.spring,
            bar: self.bar,
            drop_link: self.drop_link,
            third_spring_end: self.third_spring_end,
        }
    }

    /// The same corner driving this.
    #[inline(always)]
    #[must_use]
    pub(crate) fn driving(self, driven: DrivenMotion<T>) -> Self {
        let DrivenMotion { rocker, damper, spring, bar, drop_link, third_spring_end } = driven;
        CornerMotion { rocker, damper, spring, bar, drop_link, third_spring_end, ..self }
    }

    /// +1 left, -1 right.
    #[inline(always)]
    pub fn sign(&self) -> T {
        T::constant(self.side.sign())
    }

    /// Turn of the wheel to the left per unit of the steering input, wheel-centre height held; `None`
    /// where it is not steered.
    #[inline(always)]
    pub fn steer_gain(&self) -> Option<T> {
        let twist = self.by_steer.as_ref().filter(|_| self.steered)?;
        let forward = self.spin_axis_left().cross(&up());
        let rate = twist.w.cross(&self.spin_axis_left()).cross(&up());
        Some((forward.x * rate.y - forward.y * rate.x) / (forward.x * forward.x + forward.y * forward.y))
    }

    /// Length of the spring: of one that stands apart, or of the damper that carries it, metres; `None`
    /// for a torsion bar and where the spring is not known.
    #[inline(always)]
    pub fn spring_length(&self) -> Option<ValueAndRate<T>> {
        match self.spring_kind? {
            Spring::OnDamper { .. } => self.damper,
            Spring::Separate { .. } => self.spring,
            Spring::TorsionBar { .. } => None,
        }
    }

    /// The spring's rate and how far it is pressed; `None` where the corner has no spring of known rate,
    /// or nothing that works it.
    #[inline(always)]
    pub fn pressed(&self) -> Option<SpringState<T>> {
        let shortened =
            |length: ValueAndRate<T>| ValueAndRate { value: -length.value, per_travel: -length.per_travel };
        match self.spring_kind? {
            Spring::OnDamper { rate } | Spring::Separate { rate, .. } => {
                Some(SpringState { rate, by: shortened(self.spring_length()?) })
            }
            Spring::TorsionBar { rate } => Some(SpringState { rate, by: self.rocker? }),
        }
    }

    /// The same corner with its rates per unit travel of both wheels together: where each wheel moves on its
    /// own, as it is.
    #[inline]
    #[must_use]
    pub fn in_heave(&self) -> Self {
        self.as_one.as_ref().map_or(*self, |as_one| self.with_other(as_one, T::one()))
    }

    /// The same corner with its rates per unit of its own travel, the other wheel travelling as far the other
    /// way; `None` where each wheel moves on its own, since that makes no difference there.
    #[must_use]
    pub fn in_roll(&self) -> Option<Self> {
        let as_one = self.as_one.as_ref()?;
        let corner = self.with_other(as_one, -T::one());
        Some(CornerMotion { wheel_rate: as_one.wheel_rate_in_roll, ..corner })
    }

    /// The same corner with its rates per unit of its own travel, the other wheel held; `None` where each
    /// wheel moves on its own.
    #[must_use]
    pub fn one_wheel(&self) -> Option<Self> {
        let wheel_rate = self.as_one.as_ref()?.wheel_rate_one_wheel;
        Some(CornerMotion { wheel_rate, ..*self })
    }

    /// Rates per unit of its own travel with the other wheel travelling `weight` times as far.
    #[inline]
    fn with_other(&self, as_one: &AsOne<T>, weight: T) -> Self {
        let rate = |own: Option<ValueAndRate<T>>, other: Option<T>| {
            let (own, other) = own.zip(other)?;
            Some(ValueAndRate { per_travel: own.per_travel + other * weight, ..own })
        };
        let (own, other) = (&self.by_travel, &as_one.by_other);
        CornerMotion {
            by_travel: Twist { v: own.v + other.v * weight, w: own.w + other.w * weight },
            rocker: rate(self.rocker, as_one.rocker),
            damper: rate(self.damper, as_one.damper),
            spring: rate(self.spring, as_one.spring),
            bar: rate(self.bar, as_one.bar),
            ..*self
        }
    }

    /// How far the spring is pressed per unit travel of the other wheel; `None` where that does not move it.
    pub(crate) fn pressed_by_other(&self) -> Option<T> {
        let as_one = self.as_one.as_ref()?;
        match self.spring_kind? {
            Spring::OnDamper { .. } => as_one.damper.map(|rate| -rate),
            Spring::Separate { .. } => as_one.spring.map(|rate| -rate),
            Spring::TorsionBar { .. } => as_one.rocker,
        }
    }

    /// The spin axis pointing to +Y on either side.
    #[inline(always)]
    pub fn spin_axis_left(&self) -> Vector3<T> {
        self.spin_axis * self.sign()
    }
}
