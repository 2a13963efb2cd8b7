//! What follows a wheel: rocker, damper, spring, anti-roll bar arm, and the ends of what reaches across
//! the axle. Each in closed form.

mod abreast;

pub(crate) use abreast::DrivenPartsBatch;

use crate::car::Component;
use crate::car::hardpoint::{Hardpoint, Link};
use crate::car::springing::{Spring, Springing};
use crate::driven::driven_motion::{DropLink, Moving, ValueAndRate};
use crate::linkage;
use crate::linkage::design::Design;
use crate::mechanism::hinged::{Arm, Swing, SwingPose};
use crate::mechanism::{Pose, Twist};
use crate::number::real::{Real, length};
use nalgebra::Vector3;

/// A point carried by a part of the corner.
#[derive(Clone, Copy, Debug)]
enum Mount<T: Real> {
    Body(Vector3<T>),
    /// On an arm, with the arm's joint on the upright.
    Arm(Arm<T>, Vector3<T>),
    Upright(Vector3<T>),
    Rocker(Vector3<T>),
}

/// A damper or spring: an eye that moves and one on the body.
#[derive(Clone, Copy, Debug)]
struct LinearElement<T: Real> {
    mover: Mount<T>,
    body_eye: Vector3<T>,
}

impl<T: Real> LinearElement<T> {
    /// Their distance.
    #[inline(always)]
    fn between(&self, eye: &Moving<T>) -> ValueAndRate<T> {
        let along = eye.at - self.body_eye;
        let value = length(&along);
        ValueAndRate { value, per_travel: along.dot(&eye.per_travel) / value }
    }
}

#[derive(Clone, Copy, Debug)]
struct Worked<T: Real> {
    mover: Mount<T>,
    swing: Swing<T>,
    /// +1 or -1: bump at design turns it in the positive sense.
    sense: T,
}

impl<T: Real> Worked<T> {
    #[inline(always)]
    fn turned(&self, pose: &SwingPose<T>) -> ValueAndRate<T> {
        ValueAndRate { value: pose.angle() * self.sense, per_travel: pose.rate * self.sense }
    }
}

/// The drop link of a T-bar.
#[derive(Clone, Copy, Debug)]
struct ToTBar<T: Real> {
    mover: Mount<T>,
    bar: Vector3<T>,
    length: T,
}

/// A part that could not follow: the rod named does not reach.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct CannotFollow(pub Link);

/// The followers of a wheel, ready to be placed.
#[derive(Clone, Debug)]
pub(crate) struct DrivenPartsModel<T: Real> {
    rocker: Option<Worked<T>>,
    damper: Option<LinearElement<T>>,
    spring: Option<LinearElement<T>>,
    bar: Option<Worked<T>>,
    drop_link: Option<ToTBar<T>>,
    third_spring: Option<Mount<T>>,
}

/// Everything that follows the upright at one pose.
pub(crate) struct DrivenParts<T: Real> {
    rocker_pose: Option<SwingPose<T>>,
    bar_pose: Option<SwingPose<T>>,
    pub rocker: Option<ValueAndRate<T>>,
    pub damper: Option<ValueAndRate<T>>,
    pub spring: Option<ValueAndRate<T>>,
    pub bar: Option<ValueAndRate<T>>,
    pub drop_link: Option<DropLink<T>>,
    pub third_spring_end: Option<Moving<T>>,
}

/// Followers that few corners have.
struct Rare<T: Real> {
    spring: Option<ValueAndRate<T>>,
    drop_link: Option<DropLink<T>>,
    third_spring_end: Option<Moving<T>>,
}

/// A rocker and where it stands.
type Standing<'a, T> = Option<(&'a Swing<T>, &'a SwingPose<T>)>;

fn mount<T: Real>(d: &Design<T>, carrier: Component, hardpoint: Hardpoint) -> Mount<T> {
    use Hardpoint as P;
    let at = d.point(hardpoint);
    let arm = |front, rear, joint| {
        let made = [front, rear, joint].map(|hardpoint| d.made(hardpoint));
        let arm = Arm::made([d.point(front), d.point(rear)], made, at);
        Mount::Arm(arm, linkage::on_upright(d, joint))
    };
    match carrier {
        Component::UpperWishbone => arm(P::UpperWishboneFront, P::UpperWishboneRear, P::UpperBallJoint),
        Component::LowerWishbone => arm(P::LowerWishboneFront, P::LowerWishboneRear, P::LowerBallJoint),
        Component::HArm => arm(P::HArmInnerFront, P::HArmInnerRear, P::HArmOuterFront),
        // An axle with knuckles, too, has its origin at the wheel centre here.
        Component::Upright | Component::Axle => Mount::Upright(at - d.centre),
        Component::Rocker => Mount::Rocker(at),
        // The check lets nothing else carry a moving eye.
        Component::Body | Component::Steering | Component::BarArm | Component::WattLever => Mount::Body(at),
    }
}

fn rocker<T: Real>(d: &Design<T>) -> Option<Worked<T>> {
    let Some(Springing::Rocker { pushrod_on }) = d.springing else { return None };
    let outer = d.get(Hardpoint::PushrodOuter)?;
    let swing = Swing::new(
        d.get(Hardpoint::RockerPivot)?,
        d.get(Hardpoint::RockerAxis)?,
        d.get(Hardpoint::PushrodInner)?,
        outer,
        d.length(Link::Pushrod),
    );
    Some(Worked { mover: mount(d, pushrod_on, Hardpoint::PushrodOuter), swing, sense: T::one() })
}

fn damper<T: Real>(d: &Design<T>) -> Option<LinearElement<T>> {
    let carrier = match d.springing? {
        Springing::Rocker { .. } => Component::Rocker,
        Springing::Direct { on } => on,
        Springing::Strut => {
            d.get(Hardpoint::StrutTop)?;
            let body_eye = linkage::on_body(d, Hardpoint::StrutTop);
            return Some(LinearElement {
                mover: mount(d, Component::Upright, Hardpoint::StrutBottom),
                body_eye,
            });
        }
    };
    d.get(Hardpoint::DamperRocker)?;
    let body_eye = d.get(Hardpoint::DamperBody)?;
    Some(LinearElement { mover: mount(d, carrier, Hardpoint::DamperRocker), body_eye })
}

fn spring<T: Real>(d: &Design<T>) -> Option<LinearElement<T>> {
    let Some(Spring::Separate { on, .. }) = d.spring else { return None };
    d.get(Hardpoint::SpringMoving)?;
    let body_eye = d.get(Hardpoint::SpringBody)?;
    Some(LinearElement { mover: mount(d, on, Hardpoint::SpringMoving), body_eye })
}

fn bar<T: Real>(d: &Design<T>) -> Option<Worked<T>> {
    let carrier = d.drop_link_on?;
    let outer = d.get(Hardpoint::DropLinkOuter)?;
    let swing = Swing::new(
        d.get(Hardpoint::BarPivot)?,
        d.get(Hardpoint::BarAxis)?,
        d.get(Hardpoint::DropLinkBar)?,
        outer,
        d.length(Link::DropLink),
    );
    Some(Worked { mover: mount(d, carrier, Hardpoint::DropLinkOuter), swing, sense: T::one() })
}

/// The drop link of a bar that has no axis on this side: a T-bar's.
fn to_t_bar<T: Real>(d: &Design<T>) -> Option<ToTBar<T>> {
    let carrier = d.drop_link_on?;
    d.get(Hardpoint::DropLinkOuter)?;
    let bar = d.get(Hardpoint::DropLinkBar)?;
    Some(ToTBar { mover: mount(d, carrier, Hardpoint::DropLinkOuter), bar, length: d.length(Link::DropLink) })
}

impl<T: Real> DrivenPartsModel<T> {
    /// The followers of a corner that has all its points; `first` is the velocity of its upright per unit
    /// travel in the design pose.
    pub fn new(design: &Design<T>, first: &Twist<T>) -> Self {
        let bar = bar(design);
        let drop_link = if bar.is_none() { to_t_bar(design) } else { None };
        let on = design.third_spring_on.filter(|_| design.get(Hardpoint::ThirdSpringEnd).is_some());
        let mut model = DrivenPartsModel {
            rocker: rocker(design),
            damper: damper(design),
            spring: spring(design),
            bar,
            drop_link,
            third_spring: on.map(|on| mount(design, on, Hardpoint::ThirdSpringEnd)),
        };
        // Bump at design turns rocker and bar arm in the positive sense. The rod's end going up would not
        // do: an arm that stands upright goes neither up nor down.
        if let Ok(at_design) = model.followers(&Pose::design(design.centre), first) {
            let sense = |pose: Option<SwingPose<T>>| {
                T::constant(if pose.is_some_and(|pose| pose.rate.value() < 0.0) { -1.0 } else { 1.0 })
            };
            if let Some(rocker) = &mut model.rocker {
                rocker.sense = sense(at_design.rocker_pose);
            }
            if let Some(bar) = &mut model.bar {
                bar.sense = sense(at_design.bar_pose);
            }
        }
        model
    }

    /// Leverage of pushrod and drop link at design, 0 to 1: zero is a dead point.
    pub fn leverages(&self, design: &Design<T>) -> [(Link, Option<f64>); 2] {
        let of = |worked: &Option<Worked<T>>, outer| {
            worked.as_ref().map(|w| w.swing.leverage(&design.point(outer)))
        };
        [
            (Link::Pushrod, of(&self.rocker, Hardpoint::PushrodOuter)),
            (Link::DropLink, of(&self.bar, Hardpoint::DropLinkOuter)),
        ]
    }

    /// Where everything stands for a pose and velocity of the upright.
    #[inline(always)]
    pub fn followers(&self, upright: &Pose<T>, twist: &Twist<T>) -> Result<DrivenParts<T>, CannotFollow> {
        let mut rocker_pose = None;
        if let Some(worked) = &self.rocker {
            let pose = carried(&worked.mover, upright, twist, None)
                .and_then(|mover| worked.swing.pose(&mover.at, &mover.per_travel))
                .ok_or(CannotFollow(Link::Pushrod))?;
            rocker_pose = Some(pose);
        }
        let rocker = self.rocker.as_ref().zip(rocker_pose.as_ref());
        let standing = rocker.map(|(worked, pose)| (&worked.swing, pose));
        let damper = self.damper.as_ref().and_then(|eyes| between(eyes, upright, twist, standing));
        let mut bar_pose = None;
        if let Some(worked) = &self.bar {
            let pose = carried(&worked.mover, upright, twist, standing)
                .and_then(|mover| worked.swing.pose(&mover.at, &mover.per_travel))
                .ok_or(CannotFollow(Link::DropLink))?;
            bar_pose = Some(pose);
        }
        let bar = self.bar.as_ref().zip(bar_pose.as_ref()).map(|(worked, pose)| worked.turned(pose));
        let mut rare = Rare { spring: None, drop_link: None, third_spring_end: None };
        if self.spring.is_some() || self.drop_link.is_some() || self.third_spring.is_some() {
            rare = self.rare(upright, twist, standing);
        }
        let Rare { spring, drop_link, third_spring_end } = rare;
        let rocker = rocker.map(|(worked, pose)| worked.turned(pose));
        Ok(DrivenParts { rocker_pose, bar_pose, rocker, damper, spring, bar, drop_link, third_spring_end })
    }

    /// What few corners have, out of the way of those that have it not.
    #[inline(never)]
    fn rare(&self, upright: &Pose<T>, twist: &Twist<T>, rocker: Standing<'_, T>) -> Rare<T> {
        let spring = self.spring.as_ref().and_then(|eyes| between(eyes, upright, twist, rocker));
        let drop_link = self.drop_link.as_ref().and_then(|link| {
            let outer = carried(&link.mover, upright, twist, rocker)?;
            Some(DropLink { outer, bar: link.bar, length: link.length })
        });
        let third_spring_end =
            self.third_spring.as_ref().and_then(|mover| carried(mover, upright, twist, rocker));
        Rare { spring, drop_link, third_spring_end }
    }

    /// How far pushrod and drop link are from the line of their levers, 0 to 1, the nearer of them.
    pub fn openness(&self, upright: &Pose<T>) -> (f64, Link) {
        let Ok(followers) = self.followers(upright, &still()) else { return (0.0, Link::Pushrod) };
        let standing = self.standing(&followers);
        let of = |worked: &Worked<T>, pose: &SwingPose<T>, standing: Standing<'_, T>| {
            carried(&worked.mover, upright, &still(), standing)
                .map_or(0.0, |mover| worked.swing.openness(pose, &mover.at))
        };
        let rocker = self.rocker.as_ref().zip(followers.rocker_pose.as_ref());
        let bar = self.bar.as_ref().zip(followers.bar_pose.as_ref());
        let rocker = rocker.map_or(1.0, |(worked, pose)| of(worked, pose, None));
        let bar = bar.map_or(1.0, |(worked, pose)| of(worked, pose, standing));
        if bar < rocker { (bar, Link::DropLink) } else { (rocker, Link::Pushrod) }
    }

    fn standing<'a>(&'a self, followers: &'a DrivenParts<T>) -> Standing<'a, T> {
        self.rocker.as_ref().zip(followers.rocker_pose.as_ref()).map(|(worked, pose)| (&worked.swing, pose))
    }

    /// Where a point stands that springing carries, given its place in the design pose. The T-bar's end
    /// of a drop link is left there: it hangs on both sides.
    pub fn place(
        &self,
        hardpoint: Hardpoint,
        design: &Vector3<T>,
        upright: &Pose<T>,
        followers: &DrivenParts<T>,
    ) -> Vector3<T> {
        use Hardpoint as P;
        let standing = self.standing(followers);
        let mover = match hardpoint {
            P::PushrodOuter => self.rocker.as_ref().map(|worked| &worked.mover),
            P::DamperRocker => self.damper.as_ref().map(|eyes| &eyes.mover),
            P::SpringMoving => self.spring.as_ref().map(|eyes| &eyes.mover),
            P::DropLinkOuter => {
                let to_t_bar = self.drop_link.as_ref().map(|link| &link.mover);
                self.bar.as_ref().map(|worked| &worked.mover).or(to_t_bar)
            }
            P::ThirdSpringEnd => self.third_spring.as_ref(),
            P::PushrodInner => return standing.map_or(*design, |(swing, pose)| swing.point(pose, design)),
            P::DropLinkBar => {
                let bar = self.bar.as_ref().zip(followers.bar_pose.as_ref());
                return bar.map_or(*design, |(worked, pose)| worked.swing.point(pose, design));
            }
            _ => None,
        };
        mover.and_then(|mover| carried(mover, upright, &still(), standing)).map_or(*design, |mover| mover.at)
    }
}

/// No velocity.
pub(crate) fn still<T: Real>() -> Twist<T> {
    Twist { v: Vector3::zeros(), w: Vector3::zeros() }
}

/// Length between two eyes, and its rate.
#[inline(always)]
fn between<T: Real>(
    eyes: &LinearElement<T>,
    upright: &Pose<T>,
    twist: &Twist<T>,
    rocker: Standing<'_, T>,
) -> Option<ValueAndRate<T>> {
    Some(eyes.between(&carried(&eyes.mover, upright, twist, rocker)?))
}

/// Place and velocity of a carried point; `None` for a point of a rocker that there is not.
#[inline(always)]
fn carried<T: Real>(
    mount: &Mount<T>,
    upright: &Pose<T>,
    twist: &Twist<T>,
    rocker: Standing<'_, T>,
) -> Option<Moving<T>> {
    Some(match mount {
        Mount::Body(at) => Moving { at: *at, per_travel: Vector3::zeros() },
        Mount::Upright(at) => on_upright(at, upright, twist),
        Mount::Arm(arm, joint) => on_arm(arm, joint, upright, twist),
        Mount::Rocker(design) => {
            let (swing, pose) = rocker?;
            on_rocker(design, swing, pose)
        }
    })
}

/// A point of the upright.
#[inline(always)]
fn on_upright<T: Real>(at: &Vector3<T>, upright: &Pose<T>, twist: &Twist<T>) -> Moving<T> {
    let arm = upright.direction(at);
    Moving { at: upright.origin + arm, per_travel: twist.at(&arm) }
}

/// The point that an arm carries.
#[inline(always)]
fn on_arm<T: Real>(arm: &Arm<T>, joint: &Vector3<T>, upright: &Pose<T>, twist: &Twist<T>) -> Moving<T> {
    let ball = on_upright(joint, upright, twist);
    let pose = arm.pose(&ball.at);
    Moving { at: arm.point(&pose), per_travel: arm.velocity(&pose, &ball.per_travel) }
}

/// A point of the rocker, given in the design pose.
#[inline(always)]
fn on_rocker<T: Real>(design: &Vector3<T>, swing: &Swing<T>, pose: &SwingPose<T>) -> Moving<T> {
    let at = swing.point(pose, design);
    Moving { at, per_travel: swing.velocity(pose, &at) }
}
