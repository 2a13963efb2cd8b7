//! Where a slow turn has its centre: on the rear wheels' line, at the mean curvature of what the two
//! front wheels ask for.

use crate::axle::axle_motion::AxleMotion;
use crate::axle::rear_line::RearLine;
use crate::car::position::Side;
use crate::number::real::Real;
use nalgebra::{Vector2, Vector3};

/// Mean curvature times wheelbase below which the turn centre is too far to tell: the tangent of a mean
/// steer angle of a twentieth of a degree.
const STRAIGHT: f64 = 8.7e-4;

impl<T: Real> RearLine<T> {
    /// The line of a rear axle as it stands.
    #[must_use]
    pub fn of(rear: &AxleMotion<T>) -> Self {
        let half = T::constant(0.5);
        RearLine {
            middle: (rear.left_on_ground.contact + rear.right_on_ground.contact) * half,
            along: (rear.left.spin_axis_left() + rear.right.spin_axis_left()) * half,
        }
    }

    /// The line square to the car through this point, for an axle whose rear wheels are not known.
    fn square_at(middle: Vector3<T>) -> Self {
        RearLine { middle, along: Vector3::new(T::zero(), T::one(), T::zero()) }
    }
}

impl RearLine {
    fn lifted<T: Real>(&self) -> RearLine<T> {
        RearLine { middle: self.middle.map(T::constant), along: self.along.map(T::constant) }
    }
}

/// Why a front axle has no turn centre.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum NoTurnCentre {
    /// The axle is a rear axle, or its wheels do not steer.
    NotSteered,
    /// The wheels ask for too little a turn.
    Straight,
    /// One wheel asks for a turn the other way, and for a sharper one than the mean of both.
    Opposed,
}

impl NoTurnCentre {
    /// The reason as a clause for a person.
    #[must_use]
    pub fn reason(self) -> &'static str {
        match self {
            NoTurnCentre::NotSteered => "the front wheels do not steer",
            NoTurnCentre::Straight => "the steer is too small for a turn centre",
            NoTurnCentre::Opposed => {
                "the front wheels point opposite ways: one asks for a turn the other way, and for a sharper one \
                 than the mean of both, so there is no turn centre"
            }
        }
    }
}

/// What the front wheels ask for in a slow turn, in plan on the ground.
///
/// Each front wheel's axis crosses the rear wheels' line somewhere: one over the distance of that crossing
/// from the middle between the rear wheels is the curvature of the path that the wheel asks of the middle.
/// The turn has the mean of both curvatures. Curvatures pass smoothly through straight ahead; the crossings
/// themselves run to infinity there and come back on the other side, so their mean is no centre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SlowTurn<T: Real> {
    /// The middle between the rear wheels' contacts: forward and left of the foot of the body's origin,
    /// metres.
    pub middle: Vector2<T>,
    /// Unit direction of the rear wheels' line, toward the left.
    pub along: Vector2<T>,
    /// Curvature that the left and the right front wheel ask for, per metre, + = a turn to the left.
    pub asked: [T; 2],
    /// How far the front wheel centres, on average, are ahead of that line, metres.
    pub base: T,
}

impl<T: Real> SlowTurn<T> {
    /// The mean of what both wheels ask for, per metre, + = a turn to the left.
    #[inline]
    pub fn curvature(&self) -> T {
        (self.asked[0] + self.asked[1]) * T::constant(0.5)
    }

    /// The point of the rear wheels' line about which the middle between them moves with this curvature.
    #[inline]
    pub fn about(&self, curvature: T) -> Vector2<T> {
        self.middle + self.along * (T::one() / curvature)
    }

    /// The turn centre: forward and left of the foot of the body's origin, metres.
    #[inline]
    pub fn centre(&self) -> Vector2<T> {
        self.about(self.curvature())
    }

    /// Toward which side it turns.
    #[inline]
    pub fn toward(&self) -> Side {
        if self.curvature().value() < 0.0 { Side::Right } else { Side::Left }
    }

    /// Curvature that the wheel on the outside asks for, counted into the turn, per metre; `None` where that wheel
    /// stands too nearly straight ahead for a circle of its own, or points against the turn.
    #[inline]
    pub fn asked_by_outer(&self) -> Option<T> {
        let outer = match self.toward() {
            Side::Left => self.asked[1],
            Side::Right => -self.asked[0],
        };
        (outer.value() * self.base.value() >= STRAIGHT).then_some(outer)
    }
}

impl<T: Real> AxleMotion<T> {
    /// The rear wheels' line: of the rear axle where this one knows it, else square to the car, a wheelbase
    /// behind the mean of these wheel centres in the reference pose.
    pub fn rear_line(&self) -> RearLine<T> {
        match &self.context.rear_line {
            Some(line) => line.lifted(),
            None => {
                let x = self.reference.axle_x - T::constant(self.context.wheelbase);
                RearLine::square_at(self.centre_plane_on_ground(x))
            }
        }
    }

    /// The point of the ground in the body's centre plane at this forward place.
    pub(crate) fn centre_plane_on_ground(&self, x: T) -> Vector3<T> {
        let normal = &self.ground.normal;
        let contact = &self.left_on_ground.contact;
        let z = contact.z + (contact.y * normal.y - (x - contact.x) * normal.x) / normal.z;
        Vector3::new(x, T::zero(), z)
    }

    /// A point or direction of the body in plan on the ground: forward and left.
    #[inline]
    pub(crate) fn plan(&self, v: &Vector3<T>) -> Vector2<T> {
        Vector2::new(v.dot(&self.ground.forward()), v.dot(&self.ground.left()))
    }

    /// The slow turn that the wheels of a front axle ask for.
    ///
    /// # Errors
    /// Why there is none.
    #[inline]
    pub fn slow_turn(&self) -> Result<SlowTurn<T>, NoTurnCentre> {
        if self.context.end != crate::car::position::End::Front || !self.left.steered {
            return Err(NoTurnCentre::NotSteered);
        }
        let line = self.rear_line();
        let (middle, along) = (self.plan(&line.middle), self.plan(&line.along));
        let along = along * (T::one() / along.dot(&along).sqrt());
        // W + u a = middle + s along: the crossing is at s, and its curvature is 1 / s.
        let perp = |p: &Vector2<T>, q: &Vector2<T>| p.x * q.y - p.y * q.x;
        let from_middle = |side: Side| self.plan(&self.corner(side).wheel_centre) - middle;
        let asked = Side::BOTH.map(|side| {
            let axis = self.plan(&self.corner(side).spin_axis_left());
            perp(&along, &axis) / perp(&from_middle(side), &axis)
        });
        let base = perp(&((from_middle(Side::Left) + from_middle(Side::Right)) * T::constant(0.5)), &along);
        let turn = SlowTurn { middle, along, asked, base };
        let mean = turn.curvature().value();
        // Written so that not-a-number is no turn.
        let turns = (mean * base.value()).abs() >= STRAIGHT;
        let against = asked.iter().map(|one| -one.value() * mean.signum()).fold(f64::NEG_INFINITY, f64::max);
        if !turns {
            Err(NoTurnCentre::Straight)
        } else if against > mean.abs() {
            Err(NoTurnCentre::Opposed)
        } else {
            Ok(turn)
        }
    }
}
