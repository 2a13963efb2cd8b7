//! A wheel: its steering axis, what follows it, and where all its points stand.

use crate::car::Component;
use crate::car::hardpoint::{Hardpoint, Link};
use crate::corner::corner_motion::{CornerMotion, Reference, SteeringAxis};
pub(crate) use crate::driven::driven_parts::CannotFollow;
use crate::driven::driven_parts::{DrivenParts, DrivenPartsModel, still};
use crate::linkage;
use crate::linkage::design::Design;
use crate::linkage::spec::AxisBy;
use crate::mechanism::{Pose, Twist};
use crate::number::real::{Real, length};
use nalgebra::Vector3;
use std::cell::OnceCell;
use std::hint::select_unpredictable as choose;

/// Where the steering axis is to be had from.
#[derive(Clone, Copy, Debug)]
pub(crate) enum AxisFrom<T: Real> {
    /// Two points of the upright, lower then upper.
    Balls(Vector3<T>, Vector3<T>),
    /// A point of the upright and one of the body.
    TopMount(Vector3<T>, Vector3<T>),
    /// The screw axis of the upright as the tie rod's or toe link's inner end moves.
    Screw,
    /// The wheel does not steer on its own.
    None,
}

/// A wheel over any number. Its upright is any body whose origin is the wheel centre.
#[derive(Clone, Debug)]
pub(crate) struct WheelModel<T: Real> {
    pub design: Design<T>,
    pub axis: AxisFrom<T>,
    pub toe_outer: Option<Vector3<T>>,
    pub followers: DrivenPartsModel<T>,
}

/// Slower than this (radians per metre) a steered upright does not turn.
const STEERS: f64 = 1e-6;

/// The instantaneous screw axis of a twist, upward: its point nearest the body's origin and its
/// direction; not-a-number where the body does not turn.
#[inline(always)]
pub(crate) fn screw_axis<T: Real>(twist: &Twist<T>, origin: &Vector3<T>) -> (Vector3<T>, Vector3<T>) {
    let rate = length(&twist.w);
    // Not-a-number counts as not turning.
    let rate = choose(rate.value() >= STEERS, rate, T::constant(f64::NAN));
    let up = choose(twist.w.z.value() < 0.0, -T::one(), T::one());
    let per_rate = T::one() / rate;
    let point = origin + twist.w.cross(&twist.v) * (per_rate * per_rate);
    (point, twist.w * (up * per_rate))
}

/// The steering axis through two points of the upright.
#[inline(always)]
pub(crate) fn between_balls<T: Real>(
    lower: &Vector3<T>,
    upper: &Vector3<T>,
    upright: &Pose<T>,
    by_travel: &Twist<T>,
) -> SteeringAxis<T> {
    let (lower, upper) = (upright.direction(lower), upright.direction(upper));
    let along = upper - lower;
    SteeringAxis { point: upright.origin + lower, along, rate: Some(by_travel.w.cross(&along)) }
}

/// The steering axis from a point of the upright to one of the body.
#[inline(always)]
pub(crate) fn to_top_mount<T: Real>(
    lower: &Vector3<T>,
    top: &Vector3<T>,
    upright: &Pose<T>,
    by_travel: &Twist<T>,
) -> SteeringAxis<T> {
    let arm = upright.direction(lower);
    let point = upright.origin + arm;
    SteeringAxis { point, along: top - point, rate: Some(-by_travel.at(&arm)) }
}

/// The steering axis of separate links; not-a-number where they do not turn the wheel.
#[inline(always)]
pub(crate) fn about_screw<T: Real>(upright: &Pose<T>, by_steer: &Twist<T>) -> SteeringAxis<T> {
    let (point, along) = screw_axis(by_steer, &upright.origin);
    SteeringAxis { point, along, rate: None }
}

impl<T: Real> WheelModel<T> {
    /// The model of a wheel whose corner has all its points; `first` is the velocity of its upright per
    /// unit travel in the design pose.
    pub fn new(design: Design<T>, first: &Twist<T>) -> Self {
        let on_upright = |hardpoint| linkage::on_upright(&design, hardpoint);
        let axis = match design.linkage.spec().axis {
            AxisBy::Joints { lower, upper } => AxisFrom::Balls(on_upright(lower), on_upright(upper)),
            AxisBy::TopMount { lower, top } => {
                AxisFrom::TopMount(on_upright(lower), linkage::on_body(&design, top))
            }
            AxisBy::Screw => AxisFrom::Screw,
            AxisBy::None => AxisFrom::None,
        };
        let toe_outer = design.toe_link().map(|link| on_upright(link.ends().1));
        let followers = DrivenPartsModel::new(&design, first);
        WheelModel { axis, toe_outer, followers, design }
    }

    /// Leverage of pushrod and drop link at design, 0 to 1: zero is a dead point.
    pub fn leverages(&self) -> [(Link, Option<f64>); 2] {
        self.followers.leverages(&self.design)
    }

    #[inline(always)]
    fn steering_axis(
        &self,
        upright: &Pose<T>,
        by_travel: &Twist<T>,
        by_steer: Option<&Twist<T>>,
    ) -> Option<SteeringAxis<T>> {
        match &self.axis {
            AxisFrom::Balls(lower, upper) => Some(between_balls(lower, upper, upright, by_travel)),
            AxisFrom::TopMount(lower, top) => Some(to_top_mount(lower, top, upright, by_travel)),
            AxisFrom::Screw => by_steer
                .map(|by_steer| about_screw(upright, by_steer))
                .filter(|axis| axis.along.x.value().is_finite()),
            AxisFrom::None => None,
        }
    }

    /// The wheel's motion for a pose and velocities of its upright.
    #[inline(always)]
    pub fn motion(
        &self,
        upright: &Pose<T>,
        by_travel: Twist<T>,
        by_steer: Twist<T>,
        reference: &Reference<T>,
    ) -> Result<CornerMotion<T>, CannotFollow> {
        self.motion_beside((upright, &by_travel), upright, by_travel, by_steer, reference)
    }

    /// The same where what the upright drives elsewhere stands on another body: on the axle of a knuckle. Its pose and
    /// velocity are given as those of a body whose origin is at the wheel centre in the design pose.
    #[inline(always)]
    pub fn motion_beside(
        &self,
        (carrier, moving): (&Pose<T>, &Twist<T>),
        upright: &Pose<T>,
        by_travel: Twist<T>,
        by_steer: Twist<T>,
        reference: &Reference<T>,
    ) -> Result<CornerMotion<T>, CannotFollow> {
        let followers = self.followers.followers(carrier, moving)?;
        let mut motion = self.upright_motion(upright, by_travel, by_steer, reference);
        motion.rocker = followers.rocker;
        motion.damper = followers.damper;
        motion.spring = followers.spring;
        motion.bar = followers.bar;
        motion.drop_link = followers.drop_link;
        motion.third_spring_end = followers.third_spring_end;
        Ok(motion)
    }

    /// The same without what follows the wheel.
    #[inline(always)]
    pub fn upright_motion(
        &self,
        upright: &Pose<T>,
        by_travel: Twist<T>,
        by_steer: Twist<T>,
        reference: &Reference<T>,
    ) -> CornerMotion<T> {
        let by_steer = self.toe_outer.is_some().then_some(by_steer);
        CornerMotion {
            side: self.design.side,
            steered: self.design.steered,
            steer_input: self.design.steer_input,
            wheel_centre: upright.origin,
            spin_axis: upright.direction(&self.design.spin_axis),
            tyre_radius: self.design.tyre_radius,
            tyre_shoulder: self.design.tyre_shoulder,
            steering_axis: self.steering_axis(upright, &by_travel, by_steer.as_ref()),
            toe_link_outer: self.toe_outer.as_ref().map(|at| upright.point(at)),
            by_travel,
            by_steer,
            spring_kind: self.design.spring,
            rocker: None,
            damper: None,
            spring: None,
            bar: None,
            wheel_rate: None,
            as_one: None,
            drop_link: None,
            third_spring_end: None,
            reference: *reference,
        }
    }

    /// How far pushrod and drop link are from the line of their levers, 0 to 1, the nearer of them.
    pub fn openness(&self, upright: &Pose<T>) -> (f64, Link) {
        self.followers.openness(upright)
    }

    /// Where every point of the corner stands, car coordinates.
    pub fn points(&self, upright: &Pose<T>, steer: T) -> Result<Vec<(Hardpoint, Vector3<T>)>, CannotFollow> {
        self.points_beside(upright, upright, steer)
    }

    /// The same where what the upright drives elsewhere stands on another body: see
    /// [`motion_beside`](Self::motion_beside).
    pub fn points_beside(
        &self,
        carrier: &Pose<T>,
        upright: &Pose<T>,
        steer: T,
    ) -> Result<Vec<(Hardpoint, Vector3<T>)>, CannotFollow> {
        // Asked first, since one that cannot follow is said.
        let followers = OnceCell::from(Some(self.followers.followers(carrier, &still())?));
        let place = |&hardpoint: &Hardpoint| {
            Some((hardpoint, self.place(hardpoint, [carrier, upright], steer, &followers)?))
        };
        let mut points = Vec::with_capacity(Hardpoint::COUNT);
        points.extend(Hardpoint::ALL.iter().filter_map(place));
        Ok(points)
    }

    /// Where a point of the corner stands, car coordinates: the same where only some are wanted; `None` where the
    /// corner has no such point, or what carries it cannot follow.
    pub fn places(&self, upright: &Pose<T>, steer: T) -> impl Fn(Hardpoint) -> Option<Vector3<T>> {
        let followers = OnceCell::new();
        move |hardpoint| self.place(hardpoint, [upright; 2], steer, &followers)
    }

    fn place(
        &self,
        hardpoint: Hardpoint,
        [carrier, upright]: [&Pose<T>; 2],
        steer: T,
        followers: &OnceCell<Option<DrivenParts<T>>>,
    ) -> Option<Vector3<T>> {
        let d = &self.design;
        let design = d.get(hardpoint)?;
        Some(match linkage::carrier(d.linkage, hardpoint) {
            Some(Component::Upright) => upright.point(&linkage::on_upright(d, hardpoint)),
            Some(Component::Axle) => carrier.point(&(design - d.centre)),
            Some(Component::Steering) => d.steering.place(&design, steer).0,
            Some(_) => linkage::on_body(d, hardpoint),
            None => {
                let follow = || self.followers.followers(carrier, &still()).ok();
                self.followers.place(hardpoint, &design, carrier, followers.get_or_init(follow).as_ref()?)
            }
        })
    }
}
