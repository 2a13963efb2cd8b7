//! Two corners, the ground between them, and what reaches across.

use crate::axle::cross_axle::{Between, CrossAxle, TBarMotion, Wheels};
use crate::axle::rear_line::RearLine;
use crate::car::position::{End, Side};
use crate::car::steering::Column;
use crate::car::{Car, TorqueReaction};
use crate::corner::corner_motion::CornerMotion;
use crate::corner::ground::Ground;
use crate::corner::on_ground::OnGround;
use crate::driven::driven_parts::CannotFollow;
use crate::mechanism::Twist;
use crate::number::real::Real;

/// What an axle's readings need to know of the rest of the car.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxleContext {
    /// Front or rear.
    pub end: End,
    /// Wheelbase, metres.
    pub wheelbase: f64,
    /// Height of the centre of gravity, metres.
    pub centre_of_gravity_height: Option<f64>,
    /// This axle's share of the braking force, 0 to 1.
    pub brake_share: Option<f64>,
    /// Where brake torque is reacted.
    pub brakes: TorqueReaction,
    /// Where drive torque is reacted; `None` for an undriven axle.
    pub drive: Option<TorqueReaction>,
    /// Whether it is the only driven axle.
    pub drives_alone: bool,
    /// Whether one beam carries both wheels.
    pub beam: bool,
    /// Half the tyre's width, left and right, metres.
    pub half_tyre: [f64; 2],
    /// What is between the steering wheel and the wheels; `None` where nothing steers.
    pub steered_by: Option<SteeringGear>,
    /// The rear wheels' line; `None` of an axle on its own, which takes the wheelbase for it, and of a rear
    /// axle.
    pub rear_line: Option<RearLine>,
}

/// What is between the steering wheel and the steering input.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SteeringGear {
    /// Turn of the shaft that enters rack or box per unit of the steering input, radians per metre of rack
    /// travel or per radian of the pitman arm, + = left turn.
    pub shaft_per_input: f64,
    /// The column above.
    pub column: Column,
}

impl AxleContext {
    /// Of one axle of a car.
    pub(crate) fn of(car: &Car, end: End) -> Self {
        let axle = car.axle(end);
        let share = car.brake_share_front;
        let gear = SteeringGear { shaft_per_input: axle.steering.shaft_at(1.0), column: axle.column };
        AxleContext {
            end,
            wheelbase: car.wheelbase,
            centre_of_gravity_height: car.centre_of_gravity_height,
            brake_share: share.map(|front| if end == End::Front { front } else { 1.0 - front }),
            brakes: axle.brakes,
            drive: axle.drive,
            drives_alone: axle.drive.is_some() && (car.front.drive.is_some() != car.rear.drive.is_some()),
            beam: axle.is_beam(),
            half_tyre: [0.5 * axle.left.wheel.tyre_width, 0.5 * axle.right.wheel.tyre_width],
            steered_by: axle.steering.steers().then_some(gear),
            rear_line: None,
        }
    }
}

/// An axle as it stands and moves.
#[derive(Clone, Copy, Debug)]
pub struct AxleMotion<T: Real> {
    /// The rest of the car.
    pub context: AxleContext,
    /// Left corner.
    pub left: CornerMotion<T>,
    /// Right corner.
    pub right: CornerMotion<T>,
    /// The ground: the one both tyres touch, unless it was put [`over`](Self::over) another.
    pub ground: Ground<T>,
    /// Left wheel on that ground.
    pub left_on_ground: OnGround<T>,
    /// Right wheel on that ground.
    pub right_on_ground: OnGround<T>,
    /// The axle in its reference pose.
    pub reference: AxleReference<T>,
    /// Steering input: rack travel, metres, or turn of the pitman arm, radians.
    pub steer: f64,
    /// The anti-roll bar, where it is a T-bar.
    pub t_bar: Option<TBarMotion<T>>,
    /// Twist of the anti-roll bar of either kind, radians, + = left wheel further toward bump.
    pub bar_twist: Option<Between<T>>,
    /// Length of the third spring, metres.
    pub third_spring: Option<Between<T>>,
}

/// Distances of an axle in its reference pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct AxleReference<T: Real> {
    /// Lateral distance between the steering axes at the ground, metres; not-a-number where the wheels
    /// do not steer on their own.
    pub pivot_distance: T,
    /// Lateral distance between the contact points, metres.
    pub contact_distance: T,
    /// Lateral place of the left and the right contact point on the ground that both tyres touch, metres.
    pub contact_y: [T; 2],
    /// Mean forward place of the wheel centres, metres.
    pub axle_x: T,
    /// One over the distance behind the axle at which the steering arms' lines meet the centre plane,
    /// mean of both sides, per metre: it passes smoothly through straight arms.
    pub arm_line_inverse: T,
}

impl<T: Real> AxleReference<T> {
    /// From both corners in their reference pose.
    pub fn of(left: &CornerMotion<T>, right: &CornerMotion<T>) -> Self {
        let half = T::constant(0.5);
        let level = Ground::level();
        let shared = Ground::under(left, right);
        let wheel = |corner: &CornerMotion<T>| OnGround::of(corner, level.normal);
        let none = T::constant(f64::NAN);
        let pivot = |corner: &CornerMotion<T>| {
            corner.steering_axis.map_or(none, |axis| wheel(corner).meets_ground(&axis.point, &axis.along).y)
        };
        let axle_x = (left.wheel_centre.x + right.wheel_centre.x) * half;
        // In plan, from the steering axis (at the arm's own height) through the tie rod's outer end.
        let arm_line = |corner: &CornerMotion<T>| {
            let (Some(axis), Some(end)) = (corner.steering_axis, corner.toe_link_outer) else { return none };
            let arm = end - wheel(corner).meets_level(&axis.point, &axis.along, &end);
            arm.y / ((axle_x - end.x) * arm.y + end.y * arm.x)
        };
        AxleReference {
            pivot_distance: pivot(left) - pivot(right),
            contact_distance: wheel(left).contact.y - wheel(right).contact.y,
            contact_y: [left, right].map(|corner| OnGround::of(corner, shared.normal).contact.y),
            axle_x,
            arm_line_inverse: (arm_line(left) + arm_line(right)) * half,
        }
    }
}

impl<T: Real> AxleMotion<T> {
    /// Both wheels on their common ground.
    pub(crate) fn new(
        context: AxleContext,
        wheels: &Wheels<T>,
        steer: f64,
        reference: AxleReference<T>,
        across: &CrossAxle<T>,
    ) -> Result<Self, CannotFollow> {
        let [left, right] = wheels.own;
        let ground = Ground::under(&left, &right);
        AxleMotion::on(context, wheels, steer, reference, across, ground)
    }

    /// Both wheels on a ground that is given.
    pub(crate) fn on(
        context: AxleContext,
        wheels: &Wheels<T>,
        steer: f64,
        reference: AxleReference<T>,
        across: &CrossAxle<T>,
        ground: Ground<T>,
    ) -> Result<Self, CannotFollow> {
        let [mut left, mut right] = wheels.own;
        // Changes count from the reference pose on its own ground, not on one level with the body.
        left.reference.contact_y = reference.contact_y[0];
        right.reference.contact_y = reference.contact_y[1];
        let t_bar = across.t_bar(wheels)?;
        Ok(AxleMotion {
            context,
            left_on_ground: OnGround::of(&left, ground.normal),
            right_on_ground: OnGround::of(&right, ground.normal),
            left,
            right,
            ground,
            reference,
            steer,
            bar_twist: across.twist(wheels, &t_bar),
            t_bar,
            third_spring: wheels.third_spring(),
        })
    }

    /// The same axle over another ground, which its tyres need not touch.
    #[must_use]
    pub fn over(&self, ground: Ground<T>) -> Self {
        AxleMotion {
            left_on_ground: OnGround::of(&self.left, ground.normal),
            right_on_ground: OnGround::of(&self.right, ground.normal),
            ground,
            ..*self
        }
    }

    /// The corner on that side.
    pub fn corner(&self, side: Side) -> &CornerMotion<T> {
        match side {
            Side::Left => &self.left,
            Side::Right => &self.right,
        }
    }

    /// Velocity of that wheel's upright, at the wheel centre, per unit of both wheels' travel together: on
    /// a beam axle not that of its own travel alone.
    pub fn in_heave(&self, side: Side) -> Twist<T> {
        self.corner(side).in_heave().by_travel
    }

    /// Forward movement per rise, along the ground and off it, of the point at which an axle's
    /// longitudinal force acts, both wheels travelling together, mean of both sides: the contact where the
    /// upright takes the torque, the wheel centre where the body does.
    pub fn pitch_slope(&self, reacted: TorqueReaction) -> T {
        let of = |side: Side| {
            let twist = self.in_heave(side);
            let u = match reacted {
                TorqueReaction::Upright => {
                    twist.at(&(self.wheel(side).contact - self.corner(side).wheel_centre))
                }
                TorqueReaction::Body => twist.v,
            };
            u.dot(&self.ground.forward()) / u.dot(&self.ground.normal)
        };
        (of(Side::Left) + of(Side::Right)) * T::constant(0.5)
    }

    /// The wheel on that side, on the ground.
    pub fn wheel(&self, side: Side) -> &OnGround<T> {
        match side {
            Side::Left => &self.left_on_ground,
            Side::Right => &self.right_on_ground,
        }
    }
}
