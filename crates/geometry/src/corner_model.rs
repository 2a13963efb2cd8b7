//! A corner made ready to solve: the upright's mechanism and what follows it.

use crate::car::{Carrier, Springing};
use crate::corner_motion::{CornerMotion, Followed, Reference};
use crate::design::Design;
use crate::follower::{Arm, Swing, SwingPose};
use crate::linkage::double_wishbone;
use crate::mechanism::{Closed, Input, Mechanism, Pose, Twist, WrongFreedoms};
use crate::on_ground::OnGround;
use crate::pickup::{Link, Pickup};
use crate::real::{Real, length, up};
use crate::side::Side;
use nalgebra::Vector3;

/// A point carried by a part of the corner.
#[derive(Clone, Copy, Debug)]
enum Mount<T: Real> {
    Upper(Arm<T>),
    Lower(Arm<T>),
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

/// A part that could not follow: the rod named does not reach.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct CannotFollow(pub Link);

/// One corner over any number.
#[derive(Clone, Debug)]
pub(crate) struct CornerModel<T: Real> {
    pub side: Side,
    pub steered: bool,
    pub mechanism: Mechanism<T, 1, 6>,
    spin_axis: Vector3<T>,
    pub tyre_radius: T,
    lower_ball: Vector3<T>,
    upper_ball: Vector3<T>,
    tie_outer: Vector3<T>,
    rocker: Option<Worked<T>>,
    damper: Option<Damper<T>>,
    bar: Option<Worked<T>>,
    bar_sense: T,
    design: Design<T>,
}

/// Everything that follows the upright at one pose.
struct Followers<T: Real> {
    rocker: Option<SwingPose<T>>,
    damper: Option<Followed<T>>,
    bar_pose: Option<SwingPose<T>>,
    bar: Option<Followed<T>>,
}

impl<T: Real> CornerModel<T> {
    /// Builds the model of a corner that has all its points.
    pub fn new(design: Design<T>) -> Result<Self, WrongFreedoms> {
        let mechanism = double_wishbone::mechanism(&design)?;
        let toe = design.toe_link().ends();
        let mut model = CornerModel {
            side: design.side,
            steered: design.steered,
            mechanism,
            spin_axis: design.spin_axis,
            tyre_radius: design.tyre_radius,
            lower_ball: design.point(Pickup::LowerBallJoint) - design.centre,
            upper_ball: double_wishbone::upper_ball_on_upright(&design),
            tie_outer: design.point(toe.1) - design.centre,
            rocker: None,
            damper: None,
            bar: None,
            bar_sense: T::one(),
            design,
        };
        model.rocker = model.make_rocker();
        model.damper = model.make_damper();
        model.bar = model.make_bar();
        model.bar_sense = T::constant(model.bar_sense_at_design());
        Ok(model)
    }

    /// Bump at design turns the bar's arm in the positive sense. Its end going up would not do: an arm
    /// that stands upright goes neither up nor down.
    fn bar_sense_at_design(&self) -> f64 {
        if self.bar.is_none() {
            return 1.0;
        }
        let zero = Input::new(T::zero(), T::zero());
        let closed = self.mechanism.carry(self.mechanism.design(), &zero);
        let followers = self.followers(&closed.bodies[0], &closed.by_travel(0, 1, 0)).ok();
        let rate = followers.and_then(|f| f.bar).map(|bar| bar.per_travel.value());
        if rate.is_some_and(|rate| rate < 0.0) { -1.0 } else { 1.0 }
    }

    fn mount(&self, carrier: Carrier, pickup: Pickup) -> Mount<T> {
        use Pickup as P;
        let d = &self.design;
        let at = d.point(pickup);
        match carrier {
            Carrier::UpperWishbone => Mount::Upper(Arm::new(
                d.point(P::UpperWishboneFront),
                d.point(P::UpperWishboneRear),
                d.point(P::UpperBallJoint),
                at,
            )),
            Carrier::LowerWishbone => Mount::Lower(Arm::new(
                d.point(P::LowerWishboneFront),
                d.point(P::LowerWishboneRear),
                d.point(P::LowerBallJoint),
                at,
            )),
            Carrier::Upright => Mount::Upright(at - d.centre),
            Carrier::Rocker => Mount::Rocker(at),
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
        let carrier = match self.design.springing? {
            Springing::Rocker { .. } => Carrier::Rocker,
            Springing::Direct { on } => on,
        };
        self.design.get(Pickup::DamperRocker)?;
        let body_eye = self.design.get(Pickup::DamperBody)?;
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
    #[inline]
    fn carried(
        &self,
        mount: &Mount<T>,
        upright: &Pose<T>,
        twist: &Twist<T>,
        rocker: Option<(&Swing<T>, &SwingPose<T>)>,
    ) -> Option<(Vector3<T>, Vector3<T>)> {
        let on_upright = |in_body: &Vector3<T>| {
            let arm = upright.direction(in_body);
            (upright.origin + arm, twist.at(&arm))
        };
        Some(match mount {
            Mount::Upright(at) => on_upright(at),
            Mount::Upper(arm) | Mount::Lower(arm) => {
                let ball = if matches!(mount, Mount::Upper(_)) { &self.upper_ball } else { &self.lower_ball };
                let (ball, velocity) = on_upright(ball);
                let pose = arm.pose(&ball);
                (arm.point(&pose), arm.velocity(&pose, &velocity))
            }
            Mount::Rocker(design) => {
                let (swing, pose) = rocker?;
                let at = swing.point(pose, design);
                (at, swing.velocity(pose, &at))
            }
        })
    }

    #[inline]
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
            let along = eye - damper.body_eye;
            let value = length(&along);
            Some(Followed { value, per_travel: along.dot(&velocity) / value })
        });
        let mut bar = None;
        let mut bar_pose = None;
        if let Some(worked) = &self.bar {
            let pose = self
                .carried(&worked.mover, upright, twist, rocker_pose)
                .and_then(|(at, velocity)| worked.swing.pose(&at, &velocity))
                .ok_or(CannotFollow(Link::DropLink))?;
            bar_pose = Some(pose);
            bar = Some(Followed {
                value: pose.angle() * self.bar_sense,
                per_travel: pose.rate * self.bar_sense,
            });
        }
        Ok(Followers { rocker: rocker.map(|(_, pose)| pose), damper, bar_pose, bar })
    }

    /// The corner's motion at a closed pose.
    pub fn motion(
        &self,
        closed: &Closed<T, 1, 6>,
        reference: &Reference<T>,
    ) -> Result<CornerMotion<T>, CannotFollow> {
        self.motion_of(&closed.bodies[0], closed.by_travel(0, 1, 0), closed.by_rack(0), reference)
    }

    /// The corner's motion for a pose and velocities of its upright.
    #[inline]
    pub fn motion_of(
        &self,
        upright: &Pose<T>,
        by_travel: Twist<T>,
        by_rack: Twist<T>,
        reference: &Reference<T>,
    ) -> Result<CornerMotion<T>, CannotFollow> {
        let followers = self.followers(upright, &by_travel)?;
        Ok(CornerMotion {
            side: self.side,
            wheel_centre: upright.origin,
            spin_axis: upright.direction(&self.spin_axis),
            tyre_radius: self.tyre_radius,
            lower_ball: upright.point(&self.lower_ball),
            upper_ball: upright.point(&self.upper_ball),
            toe_link_outer: upright.point(&self.tie_outer),
            by_travel,
            by_rack: self.steered.then_some(by_rack),
            damper: followers.damper,
            bar: followers.bar,
            reference: *reference,
        })
    }

    /// How far pushrod and drop link are from the line of their levers, 0 to 1, the nearer of them.
    pub fn openness(&self, closed: &Closed<T, 1, 6>) -> f64 {
        let upright = &closed.bodies[0];
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

    /// What changes are counted from, at the closed reference pose.
    pub fn reference(&self, closed: &Closed<T, 1, 6>) -> Result<Reference<T>, CannotFollow> {
        let here = closed.bodies[0].origin;
        let unset = Reference { wheel_centre: here, contact_y: T::zero() };
        let motion = self.motion(closed, &unset)?;
        let contact = OnGround::of(&motion, up()).contact;
        Ok(Reference { wheel_centre: here, contact_y: contact.y })
    }

    /// Where every point of the corner stands, car coordinates.
    pub fn points(
        &self,
        closed: &Closed<T, 1, 6>,
        input: &Input<T>,
    ) -> Result<Vec<(Pickup, Vector3<T>)>, CannotFollow> {
        use Pickup as P;
        let upright = &closed.bodies[0];
        let still = Twist { v: Vector3::zeros(), w: Vector3::zeros() };
        let followers = self.followers(upright, &still)?;
        let rocker = self.rocker.as_ref().zip(followers.rocker.as_ref()).map(|(w, pose)| (&w.swing, pose));
        let carried = |mount: &Mount<T>, design: Vector3<T>| {
            self.carried(mount, upright, &still, rocker).map_or(design, |(at, _)| at)
        };
        let mut points = Vec::with_capacity(Pickup::COUNT);
        for &pickup in Pickup::ALL {
            let Some(design) = self.design.get(pickup) else { continue };
            let at = match pickup {
                P::UpperBallJoint => upright.point(&self.upper_ball),
                P::LowerBallJoint => upright.point(&self.lower_ball),
                P::TieRodOuter | P::ToeLinkOuter => upright.point(&self.tie_outer),
                P::TieRodInner => design + self.design.rack_axis * input.rack,
                P::PushrodOuter => self.rocker.as_ref().map_or(design, |w| carried(&w.mover, design)),
                P::PushrodInner => rocker.map_or(design, |(swing, pose)| swing.point(pose, &design)),
                P::DamperRocker => self.damper.as_ref().map_or(design, |d| carried(&d.mover, design)),
                P::DropLinkOuter => self.bar.as_ref().map_or(design, |w| carried(&w.mover, design)),
                P::DropLinkBar => match (&self.bar, &followers.bar_pose) {
                    (Some(bar), Some(pose)) => bar.swing.point(pose, &design),
                    _ => design,
                },
                _ => design,
            };
            points.push((pickup, at));
        }
        Ok(points)
    }
}
