//! A wheel and what follows it: steering axis, rocker, damper, anti-roll bar arm.

mod abreast;

pub(crate) use abreast::FollowersAbreast;

use crate::car::{Carrier, LinkageKind};
use crate::corner_motion::{CornerMotion, Followed, Reference, SteeringAxis};
use crate::design::Design;
use crate::follower::{Arm, Swing, SwingPose};
use crate::linkage;
use crate::mechanism::{Pose, Twist};
use crate::pickup::{Link, Pickup};
use crate::real::{Real, length};
use crate::springing::Springing;
use nalgebra::Vector3;
use std::hint::select_unpredictable as choose;

/// A point carried by a part of the corner.
#[derive(Clone, Copy, Debug)]
enum Mount<T: Real> {
    Body(Vector3<T>),
    /// On an arm, with the arm's joint on the upright.
    Arm(Arm<T>, Vector3<T>),
    Upright(Vector3<T>),
    Rocker(Vector3<T>),
}

/// The damper and what works it.
#[derive(Clone, Copy, Debug)]
struct Damper<T: Real> {
    mover: Mount<T>,
    body_eye: Vector3<T>,
}

#[derive(Clone, Copy, Debug)]
struct Worked<T: Real> {
    mover: Mount<T>,
    swing: Swing<T>,
}

/// Where the steering axis is to be had from.
#[derive(Clone, Copy, Debug)]
enum AxisFrom<T: Real> {
    /// Two points of the upright, lower then upper.
    Balls(Vector3<T>, Vector3<T>),
    /// A point of the upright and one of the body.
    TopMount(Vector3<T>, Vector3<T>),
    /// The screw axis of the upright as the tie rod's or toe link's inner end moves.
    Screw,
    /// The wheel does not steer on its own.
    None,
}

/// A part that could not follow: the rod named does not reach.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct CannotFollow(pub Link);

/// A wheel over any number. Its upright is any body whose origin is the wheel centre.
#[derive(Clone, Debug)]
pub(crate) struct WheelModel<T: Real> {
    pub design: Design<T>,
    axis: AxisFrom<T>,
    toe_outer: Option<Vector3<T>>,
    rocker: Option<Worked<T>>,
    damper: Option<Damper<T>>,
    bar: Option<Worked<T>>,
    bar_sense: T,
}

/// Everything that follows the upright at one pose.
struct Followers<T: Real> {
    rocker: Option<SwingPose<T>>,
    damper: Option<Followed<T>>,
    bar_pose: Option<SwingPose<T>>,
    bar: Option<Followed<T>>,
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
    let point = origin + twist.w.cross(&twist.v) * (T::one() / (rate * rate));
    (point, twist.w * (up / rate))
}

/// The steering axis through two points of the upright.
#[inline(always)]
fn between_balls<T: Real>(
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
fn to_top_mount<T: Real>(
    lower: &Vector3<T>,
    top: &Vector3<T>,
    upright: &Pose<T>,
    by_travel: &Twist<T>,
) -> SteeringAxis<T> {
    let arm = upright.direction(lower);
    let point = upright.origin + arm;
    SteeringAxis { point, along: top - point, rate: Some(-by_travel.at(&arm)) }
}

/// The steering axis of separate links.
#[inline(always)]
fn about_screw<T: Real>(upright: &Pose<T>, by_steer: &Twist<T>) -> SteeringAxis<T> {
    let (point, along) = screw_axis(by_steer, &upright.origin);
    SteeringAxis { point, along, rate: None }
}

/// Length of a vector, and its rate from the vector's.
#[inline(always)]
fn distance<T: Real>(along: &Vector3<T>, velocity: &Vector3<T>) -> Followed<T> {
    let value = length(along);
    Followed { value, per_travel: along.dot(velocity) / value }
}

/// Place and velocity of a point of the upright.
#[inline(always)]
fn on_upright<T: Real>(at: &Vector3<T>, upright: &Pose<T>, twist: &Twist<T>) -> (Vector3<T>, Vector3<T>) {
    let arm = upright.direction(at);
    (upright.origin + arm, twist.at(&arm))
}

/// Place and velocity of the point that an arm carries.
#[inline(always)]
fn on_arm<T: Real>(
    arm: &Arm<T>,
    joint: &Vector3<T>,
    upright: &Pose<T>,
    twist: &Twist<T>,
) -> (Vector3<T>, Vector3<T>) {
    let (ball, velocity) = on_upright(joint, upright, twist);
    let pose = arm.pose(&ball);
    (arm.point(&pose), arm.velocity(&pose, &velocity))
}

/// Place and velocity of a point of the rocker, given in the design pose.
#[inline(always)]
fn on_rocker<T: Real>(
    design: &Vector3<T>,
    swing: &Swing<T>,
    pose: &SwingPose<T>,
) -> (Vector3<T>, Vector3<T>) {
    let at = swing.point(pose, design);
    (at, swing.velocity(pose, &at))
}

impl<T: Real> WheelModel<T> {
    /// The model of a wheel whose corner has all its points; `first` is the velocity of its upright per
    /// unit travel in the design pose.
    pub fn new(design: Design<T>, first: &Twist<T>) -> Self {
        let on_upright = |pickup| linkage::on_upright(&design, pickup);
        let axis = match design.linkage {
            LinkageKind::DoubleWishbone => {
                AxisFrom::Balls(on_upright(Pickup::LowerBallJoint), on_upright(Pickup::UpperBallJoint))
            }
            LinkageKind::Strut => AxisFrom::TopMount(
                on_upright(Pickup::LowerBallJoint),
                linkage::on_body(&design, Pickup::StrutTop),
            ),
            LinkageKind::FiveLink => AxisFrom::Screw,
            LinkageKind::TrailingArm | LinkageKind::HArm | LinkageKind::BeamAxle => AxisFrom::None,
        };
        let toe_outer = design.toe_link().map(|link| on_upright(link.ends().1));
        let mut model = WheelModel {
            axis,
            toe_outer,
            rocker: None,
            damper: None,
            bar: None,
            bar_sense: T::one(),
            design,
        };
        model.rocker = model.make_rocker();
        model.damper = model.make_damper();
        model.bar = model.make_bar();
        model.bar_sense = T::constant(model.bar_sense_at_design(first));
        model
    }

    /// Bump at design turns the bar's arm in the positive sense. Its end going up would not do: an arm
    /// that stands upright goes neither up nor down.
    fn bar_sense_at_design(&self, first: &Twist<T>) -> f64 {
        let followers = self.followers(&Pose::design(self.design.centre), first).ok();
        let rate = followers.and_then(|f| f.bar).map(|bar| bar.per_travel.value());
        if rate.is_some_and(|rate| rate < 0.0) { -1.0 } else { 1.0 }
    }

    fn mount(&self, carrier: Carrier, pickup: Pickup) -> Mount<T> {
        use Pickup as P;
        let d = &self.design;
        let at = d.point(pickup);
        let arm = |front, rear, joint| {
            let arm = Arm::new(d.point(front), d.point(rear), d.point(joint), at);
            Mount::Arm(arm, linkage::on_upright(d, joint))
        };
        match carrier {
            Carrier::UpperWishbone => arm(P::UpperWishboneFront, P::UpperWishboneRear, P::UpperBallJoint),
            Carrier::LowerWishbone => arm(P::LowerWishboneFront, P::LowerWishboneRear, P::LowerBallJoint),
            Carrier::HArm => arm(P::HArmInnerFront, P::HArmInnerRear, P::HArmOuterFront),
            Carrier::Upright => Mount::Upright(at - d.centre),
            Carrier::Rocker => Mount::Rocker(at),
            // The check lets nothing else carry a moving eye.
            Carrier::Body | Carrier::Steering | Carrier::BarArm | Carrier::WattLever => Mount::Body(at),
        }
    }

    fn make_rocker(&self) -> Option<Worked<T>> {
        let Some(Springing::Rocker { pushrod_on }) = self.design.springing else { return None };
        let d = &self.design;
        let outer = d.get(Pickup::PushrodOuter)?;
        let swing = Swing::new(
            d.get(Pickup::RockerPivot)?,
            d.get(Pickup::RockerAxis)?,
            d.get(Pickup::PushrodInner)?,
            outer,
            d.length(Link::Pushrod),
        );
        Some(Worked { mover: self.mount(pushrod_on, Pickup::PushrodOuter), swing })
    }

    fn make_damper(&self) -> Option<Damper<T>> {
        let d = &self.design;
        let carrier = match d.springing? {
            Springing::Rocker { .. } => Carrier::Rocker,
            Springing::Direct { on } => on,
            Springing::Strut => {
                d.get(Pickup::StrutTop)?;
                let body_eye = linkage::on_body(d, Pickup::StrutTop);
                return Some(Damper { mover: self.mount(Carrier::Upright, Pickup::StrutBottom), body_eye });
            }
        };
        d.get(Pickup::DamperRocker)?;
        let body_eye = d.get(Pickup::DamperBody)?;
        Some(Damper { mover: self.mount(carrier, Pickup::DamperRocker), body_eye })
    }

    fn make_bar(&self) -> Option<Worked<T>> {
        let d = &self.design;
        let carrier = d.drop_link_on?;
        let outer = d.get(Pickup::DropLinkOuter)?;
        let swing = Swing::new(
            d.get(Pickup::BarPivot)?,
            d.get(Pickup::BarAxis)?,
            d.get(Pickup::DropLinkBar)?,
            outer,
            d.length(Link::DropLink),
        );
        Some(Worked { mover: self.mount(carrier, Pickup::DropLinkOuter), swing })
    }

    /// Leverage of pushrod and drop link at design, 0 to 1: zero is a dead point.
    pub fn leverages(&self) -> [(Link, Option<f64>); 2] {
        let of = |worked: &Option<Worked<T>>, outer| {
            worked.as_ref().map(|w| w.swing.leverage(&self.design.point(outer)))
        };
        [
            (Link::Pushrod, of(&self.rocker, Pickup::PushrodOuter)),
            (Link::DropLink, of(&self.bar, Pickup::DropLinkOuter)),
        ]
    }

    /// Place and velocity of a carried point; `None` for a point of a rocker that there is not.
    #[inline(always)]
    fn carried(
        &self,
        mount: &Mount<T>,
        upright: &Pose<T>,
        twist: &Twist<T>,
        rocker: Option<(&Swing<T>, &SwingPose<T>)>,
    ) -> Option<(Vector3<T>, Vector3<T>)> {
        Some(match mount {
            Mount::Body(at) => (*at, Vector3::zeros()),
            Mount::Upright(at) => on_upright(at, upright, twist),
            Mount::Arm(arm, joint) => on_arm(arm, joint, upright, twist),
            Mount::Rocker(design) => {
                let (swing, pose) = rocker?;
                on_rocker(design, swing, pose)
            }
        })
    }

    #[inline(always)]
    fn followers(&self, upright: &Pose<T>, twist: &Twist<T>) -> Result<Followers<T>, CannotFollow> {
        let mut rocker = None;
        if let Some(worked) = &self.rocker {
            let pose = self
                .carried(&worked.mover, upright, twist, None)
                .and_then(|(at, velocity)| worked.swing.pose(&at, &velocity))
                .ok_or(CannotFollow(Link::Pushrod))?;
            rocker = Some((&worked.swing, pose));
        }
        let rocker_pose = rocker.as_ref().map(|(swing, pose)| (*swing, pose));
        let damper = self.damper.as_ref().and_then(|damper| {
            let (eye, velocity) = self.carried(&damper.mover, upright, twist, rocker_pose)?;
            Some(distance(&(eye - damper.body_eye), &velocity))
        });
        let mut bar = None;
        let mut bar_pose = None;
        if let Some(worked) = &self.bar {
            let pose = self
                .carried(&worked.mover, upright, twist, rocker_pose)
                .and_then(|(at, velocity)| worked.swing.pose(&at, &velocity))
                .ok_or(CannotFollow(Link::DropLink))?;
            bar_pose = Some(pose);
            bar = Some(self.bar_turn(&pose));
        }
        Ok(Followers { rocker: rocker.map(|(_, pose)| pose), damper, bar_pose, bar })
    }

    /// Turn of the bar's arm in its own sense.
    #[inline(always)]
    fn bar_turn(&self, pose: &SwingPose<T>) -> Followed<T> {
        Followed { value: pose.angle() * self.bar_sense, per_travel: pose.rate * self.bar_sense }
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
            AxisFrom::Screw => by_steer.map(|by_steer| about_screw(upright, by_steer)),
            AxisFrom::None => None,
        }
    }

    /// The wheel's motion for a pose and velocities of its upright.
    pub fn motion(
        &self,
        upright: &Pose<T>,
        by_travel: Twist<T>,
        by_steer: Twist<T>,
        reference: &Reference<T>,
    ) -> Result<CornerMotion<T>, CannotFollow> {
        let followers = self.followers(upright, &by_travel)?;
        let (damper, bar) = (followers.damper, followers.bar);
        let mut motion = self.motion_with(upright, by_travel, by_steer, damper, bar, reference);
        motion.steering_axis = motion.steering_axis.filter(|axis| axis.along.x.value().is_finite());
        Ok(motion)
    }

    /// The same with what follows it given; a steering axis that there is not is not-a-number.
    #[inline(always)]
    fn motion_with(
        &self,
        upright: &Pose<T>,
        by_travel: Twist<T>,
        by_steer: Twist<T>,
        damper: Option<Followed<T>>,
        bar: Option<Followed<T>>,
        reference: &Reference<T>,
    ) -> CornerMotion<T> {
        let by_steer = self.toe_outer.is_some().then_some(by_steer);
        CornerMotion {
            side: self.design.side,
            steered: self.design.steered,
            wheel_centre: upright.origin,
            spin_axis: upright.direction(&self.design.spin_axis),
            tyre_radius: self.design.tyre_radius,
            tyre_shoulder: self.design.tyre_shoulder,
            steering_axis: self.steering_axis(upright, &by_travel, by_steer.as_ref()),
            toe_link_outer: self.toe_outer.as_ref().map(|at| upright.point(at)),
            by_travel,
            by_steer,
            damper,
            bar,
            wheel_rate: None,
            reference: *reference,
        }
    }

    /// How far pushrod and drop link are from the line of their levers, 0 to 1, the nearer of them.
    pub fn openness(&self, upright: &Pose<T>) -> f64 {
        let still = Twist { v: Vector3::zeros(), w: Vector3::zeros() };
        let Ok(followers) = self.followers(upright, &still) else { return 0.0 };
        let rocker = self.rocker.as_ref().zip(followers.rocker.as_ref());
        let of = |worked: &Worked<T>, pose: &SwingPose<T>| {
            let rocker = rocker.map(|(worked, pose)| (&worked.swing, pose));
            self.carried(&worked.mover, upright, &still, rocker)
                .map_or(0.0, |(at, _)| worked.swing.openness(pose, &at))
        };
        let bar = self.bar.as_ref().zip(followers.bar_pose.as_ref());
        rocker.map_or(1.0, |(w, pose)| of(w, pose)).min(bar.map_or(1.0, |(w, pose)| of(w, pose)))
    }

    /// Where every point of the corner stands, car coordinates.
    pub fn points(&self, upright: &Pose<T>, steer: T) -> Result<Vec<(Pickup, Vector3<T>)>, CannotFollow> {
        use Pickup as P;
        let d = &self.design;
        let still = Twist { v: Vector3::zeros(), w: Vector3::zeros() };
        let followers = self.followers(upright, &still)?;
        let rocker = self.rocker.as_ref().zip(followers.rocker.as_ref()).map(|(w, pose)| (&w.swing, pose));
        let carried = |mount: &Mount<T>, design: Vector3<T>| {
            self.carried(mount, upright, &still, rocker).map_or(design, |(at, _)| at)
        };
        let mut points = Vec::with_capacity(Pickup::COUNT);
        for &pickup in Pickup::ALL {
            let Some(design) = d.get(pickup) else { continue };
            let at = match linkage::carrier(pickup) {
                Some(Carrier::Upright) => upright.point(&linkage::on_upright(d, pickup)),
                Some(Carrier::Steering) => d.steering.place(&design, steer).0,
                Some(_) => linkage::on_body(d, pickup),
                None => match pickup {
                    P::PushrodOuter => self.rocker.as_ref().map_or(design, |w| carried(&w.mover, design)),
                    P::PushrodInner => rocker.map_or(design, |(swing, pose)| swing.point(pose, &design)),
                    P::DamperRocker => self.damper.as_ref().map_or(design, |d| carried(&d.mover, design)),
                    P::DropLinkOuter => self.bar.as_ref().map_or(design, |w| carried(&w.mover, design)),
                    P::DropLinkBar => match (&self.bar, &followers.bar_pose) {
                        (Some(bar), Some(pose)) => bar.swing.point(pose, &design),
                        _ => design,
                    },
                    _ => design,
                },
            };
            points.push((pickup, at));
        }
        Ok(points)
    }
}
