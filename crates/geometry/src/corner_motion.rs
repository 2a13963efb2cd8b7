//! One corner at one pose, with its exact first derivatives: what every reading is made from.

use crate::mechanism::Twist;
use crate::real::{Real, up};
use crate::side::Side;
use crate::springing::Spring;
use nalgebra::Vector3;

/// A length or angle and its rate per unit wheel travel.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Followed<T: Real> {
    /// The value.
    pub value: T,
    /// Its derivative to wheel travel, steering held.
    pub per_travel: T,
}

/// A point as it stands and moves.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Moving<T: Real> {
    /// Its place, metres.
    pub at: Vector3<T>,
    /// Its velocity per unit wheel travel, steering held.
    pub per_travel: Vector3<T>,
}

/// The drop link of a T-bar on one side.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DropLink<T: Real> {
    /// Its outer end.
    pub outer: Moving<T>,
    /// The place of its end on the crossbar in the design pose, metres.
    pub bar: Vector3<T>,
    /// Its length, metres.
    pub length: T,
}

/// How far a spring is pressed, and what it answers with.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pressed<T: Real> {
    /// Its rate, newtons per metre; newton metres per radian of a torsion bar.
    pub rate: f64,
    /// How far pressed, metres shorter or radians turned, up to a constant; and its rate per unit wheel
    /// travel, + = bump presses it.
    pub by: Followed<T>,
}

/// A corner as it stands and moves.
#[derive(Clone, Copy, Debug)]
pub struct CornerMotion<T: Real> {
    /// Its side.
    pub side: Side,
    /// Whether the axle's steering steers it.
    pub steered: bool,
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
    /// Velocity of the upright, at the wheel centre, per unit wheel travel, steering held.
    pub by_travel: Twist<T>,
    /// Velocity of the upright per unit of the steering input, wheel-centre height held; where nothing
    /// steers, per unit movement toward the left of a toe link's inner end.
    pub by_steer: Option<Twist<T>>,
    /// What springs it, and how stiff that is.
    pub spring_kind: Option<Spring>,
    /// Turn of the rocker from the design pose, radians, + = the way bump turns it at design.
    pub rocker: Option<Followed<T>>,
    /// Damper length, metres.
    pub damper: Option<Followed<T>>,
    /// Length of a spring that stands apart from the damper, metres.
    pub spring: Option<Followed<T>>,
    /// Turn of the anti-roll bar's arm from the design pose, radians, + = the way bump turns it at design.
    pub bar: Option<Followed<T>>,
    /// Rate of the spring at the wheel, newtons per metre; only where it was asked for:
    /// [`AxleSolver::rated`](crate::AxleSolver::rated).
    pub wheel_rate: Option<Followed<T>>,
    /// The drop link, where it hangs on a T-bar.
    pub drop_link: Option<DropLink<T>>,
    /// This side's end of a third spring.
    pub third_spring_end: Option<Moving<T>>,
    /// The reference pose (zero travel, straight ahead).
    pub reference: Reference<T>,
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
        crate::real::unit(&self.along)
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
    pub fn spring_length(&self) -> Option<Followed<T>> {
        match self.spring_kind? {
            Spring::OnDamper { .. } => self.damper,
            Spring::Separate { .. } => self.spring,
            Spring::TorsionBar { .. } => None,
        }
    }

    /// The spring's rate and how far it is pressed; `None` where the corner has no spring of known rate,
    /// or nothing that works it.
    #[inline(always)]
    pub fn pressed(&self) -> Option<Pressed<T>> {
        let shortened =
            |length: Followed<T>| Followed { value: -length.value, per_travel: -length.per_travel };
        match self.spring_kind? {
            Spring::OnDamper { rate } | Spring::Separate { rate, .. } => {
                Some(Pressed { rate, by: shortened(self.spring_length()?) })
            }
            Spring::TorsionBar { rate } => Some(Pressed { rate, by: self.rocker? }),
        }
    }

    /// The spin axis pointing to +Y on either side.
    #[inline(always)]
    pub fn spin_axis_left(&self) -> Vector3<T> {
        self.spin_axis * self.sign()
    }
}
