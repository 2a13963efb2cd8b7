//! How far the joints at the links' ends swing.

use crate::axle::axle_solver::{AxleSolver, SolvedAxle};
use crate::axle::cross_axle::TBarMotion;
use crate::car::hardpoint::{Hardpoint, Link};
use crate::car::position::{Side, WheelPosition};
use crate::car::{Component, Hardpoints};
use crate::range::exceeded::Exceeded;
use nalgebra::{Matrix3, Vector3};
use std::borrow::Cow;
use std::cell::OnceCell;
use std::f64::consts::FRAC_PI_2;

/// Right-handed unit axes through three points that are not in line.
fn axes([a, b, c]: [Vector3<f64>; 3]) -> Option<Matrix3<f64>> {
    let x = (b - a).try_normalize(1e-9)?;
    let z = x.cross(&(c - a)).try_normalize(1e-9)?;
    Some(Matrix3::from_columns(&[x, z.cross(&x), z]))
}

/// Angle between two directions, radians; exact for small ones too.
fn angle(a: &Vector3<f64>, b: &Vector3<f64>) -> f64 {
    a.cross(b).norm().atan2(a.dot(b))
}

/// The wishbone that a link is a leg of.
fn wishbone_of(link: Link) -> Option<Component> {
    match link {
        Link::UpperFrontLeg | Link::UpperRearLeg => Some(Component::UpperWishbone),
        Link::LowerFrontLeg | Link::LowerRearLeg => Some(Component::LowerWishbone),
        _ => None,
    }
}

impl AxleSolver {
    /// Swing of the joint at a point, radians: the angle by which the link that ends there has turned
    /// from its direction in the design pose, seen from the part that holds the joint. Of several links
    /// at one point the one that has turned most counts. `None` where no link ends, or where the part
    /// that holds the joint is not known.
    ///
    /// What a bearing allows of it depends on how it stands in its housing: this is geometry only.
    #[must_use]
    pub fn joint_swing(&self, at: &SolvedAxle, side: Side, joint: Hardpoint) -> Option<f64> {
        self.standing(at, side).swing(joint)
    }

    /// Angle that counts against the limit of the joint at a point, radians. With a bolt or stud
    /// ([`Corner::joint_axes`](crate::Corner::joint_axes)) it is the misalignment on it, which turning about
    /// the bolt does not change:
    ///
    /// - of a rod, which may turn about itself: `|90° - angle(rod, bolt)|`;
    /// - of a wishbone, whose bearing cannot: the angle between the bolt and where the wishbone has carried
    ///   the bolt's direction, its bearing being set square to the bolt in the design pose.
    ///
    /// Without a bolt it is [`joint_swing`](Self::joint_swing).
    #[must_use]
    pub fn joint_angle(&self, at: &SolvedAxle, side: Side, joint: Hardpoint) -> Option<f64> {
        self.standing(at, side).angle(joint)
    }

    /// The [`joint_angle`](Self::joint_angle) of every joint at a link's end, radians.
    #[must_use]
    pub fn joint_angles(&self, at: &SolvedAxle, side: Side) -> Vec<(Hardpoint, f64)> {
        let standing = self.standing(at, side);
        let angle = |&joint: &Hardpoint| Some((joint, standing.angle(joint)?));
        Hardpoint::ALL.iter().filter_map(angle).collect()
    }

    /// Rotation of a part from its design pose; `None` where it cannot be told from the points.
    #[must_use]
    pub fn turn_of(&self, at: &SolvedAxle, side: Side, part: Component) -> Option<Matrix3<f64>> {
        self.standing(at, side).turned(part)
    }

    /// The parts of one side at a solved pose.
    pub(crate) fn standing<'a>(
        &'a self,
        at: &'a SolvedAxle,
        side: Side,
    ) -> Standing<'a, impl Fn(Hardpoint) -> Option<Vector3<f64>>> {
        let now: Hardpoints = self.points(at, side).into_iter().collect();
        Standing {
            solver: self,
            side,
            now: move |hardpoint| now.get(hardpoint),
            upright: self.upright(at, side).car_from_body,
            axle: self.axle_turn(at),
            steer: at.steer(),
            t_bar: at.motion.t_bar.as_ref(),
            own: Cow::Owned(self.own_points(at).into_iter().collect()),
            wishbones: Default::default(),
        }
    }
}

/// Where the parts of one side of an axle stand at one pose, in as far as its joints need to know.
pub(crate) struct Standing<'a, N> {
    pub solver: &'a AxleSolver,
    pub side: Side,
    /// Where a point of that side stands.
    pub now: N,
    /// Rotation of the upright from its design pose.
    pub upright: Matrix3<f64>,
    /// Rotation of an axle with knuckles from its design pose.
    pub axle: Option<Matrix3<f64>>,
    /// The steering input.
    pub steer: f64,
    /// The anti-roll bar, where it is a T-bar.
    pub t_bar: Option<&'a TBarMotion<f64>>,
    /// The points of the axle as a whole.
    pub own: Cow<'a, Hardpoints>,
    /// Turns of the upper and the lower wishbone, once they have been asked for: several joints ask.
    pub wishbones: [OnceCell<Option<Matrix3<f64>>>; 2],
}

impl<N: Fn(Hardpoint) -> Option<Vector3<f64>>> Standing<'_, N> {
    /// The joints of that side that swing further than they can by more than `found`, radians, each put at the end
    /// of a list.
    pub fn beyond(&self, found: f64, list: &mut Vec<Exceeded>) {
        for &(joint, limit) in &self.solver.axle.corner(self.side).joint_limits {
            let beyond = self.angle(joint).map_or(0.0, |angle| angle - limit);
            if beyond > found {
                let wheel = WheelPosition { end: self.solver.end(), side: self.side };
                list.push(Exceeded::Joint { wheel, joint, limit, beyond });
            }
        }
    }

    fn angle(&self, joint: Hardpoint) -> Option<f64> {
        let (corner, now) = (self.solver.axle.corner(self.side), &self.now);
        let Some((_, axis)) = corner.joint_axes.iter().find(|(of, _)| *of == joint) else {
            return self.swing(joint);
        };
        let bolt = self.turned(corner.carrier(joint)?)? * axis;
        over_links(joint, |link| match wishbone_of(link) {
            Some(wishbone) => Some(angle(&bolt, &(self.turned(wishbone)? * axis))),
            None => {
                let (inner, outer) = link.ends();
                Some((angle(&(now(outer)? - now(inner)?), &bolt) - FRAC_PI_2).abs())
            }
        })
    }

    fn swing(&self, joint: Hardpoint) -> Option<f64> {
        let (corner, now) = (self.solver.axle.corner(self.side), &self.now);
        let turned = self.turned(corner.carrier(joint)?)?;
        over_links(joint, |link| {
            let (inner, outer) = link.ends();
            let before = corner.hardpoints.get(outer)? - corner.hardpoints.get(inner)?;
            Some(angle(&(turned * before), &(now(outer)? - now(inner)?)))
        })
    }

    fn turned(&self, part: Component) -> Option<Matrix3<f64>> {
        use Hardpoint as P;
        let now = &self.now;
        let of_three = |[a, b, c]: [Hardpoint; 3]| {
            let before = &self.solver.axle.corner(self.side).hardpoints;
            let before = axes([before.get(a)?, before.get(b)?, before.get(c)?])?;
            Some(axes([now(a)?, now(b)?, now(c)?])? * before.transpose())
        };
        match part {
            Component::Body => Some(Matrix3::identity()),
            Component::Steering => self.steering_turn(),
            Component::Upright => Some(self.upright),
            Component::Axle => self.axle,
            Component::UpperWishbone => {
                let points = [P::UpperWishboneFront, P::UpperWishboneRear, P::UpperBallJoint];
                *self.wishbones[0].get_or_init(|| of_three(points))
            }
            Component::LowerWishbone => {
                let points = [P::LowerWishboneFront, P::LowerWishboneRear, P::LowerBallJoint];
                *self.wishbones[1].get_or_init(|| of_three(points))
            }
            Component::HArm => of_three([P::HArmInnerFront, P::HArmInnerRear, P::HArmOuterFront]),
            Component::Rocker => of_three([P::RockerPivot, P::RockerAxis, P::PushrodInner]),
            Component::BarArm if self.solver.across.t_bar.is_some() => self.solver.across.turned(self.t_bar),
            Component::BarArm => of_three([P::BarPivot, P::BarAxis, P::DropLinkBar]),
            Component::WattLever => self.lever_turn(),
        }
    }

    /// A rack does not turn; a centre link does as it swings.
    fn steering_turn(&self) -> Option<Matrix3<f64>> {
        let Some(one) = self.solver.axle.steering.steering_box() else { return Some(Matrix3::identity()) };
        let three = [one.pitman.ball, one.idler.ball, one.pitman.ball + one.pitman.axis];
        let [Some(a), Some(b), Some(c)] = three.map(|point| self.solver.steered_to(self.steer, &point))
        else {
            return None;
        };
        Some(axes([a, b, c])? * axes(three)?.transpose())
    }

    /// Of the Watt lever, from its axis and one end.
    fn lever_turn(&self) -> Option<Matrix3<f64>> {
        let three = [Hardpoint::WattPivot, Hardpoint::WattAxis, Hardpoint::WattLeverLeft];
        let [Some(a), Some(b), Some(c)] = three.map(|hardpoint| self.own.get(hardpoint)) else { return None };
        let [Some(d), Some(e), Some(f)] = three.map(|hardpoint| self.solver.axle.hardpoints.get(hardpoint))
        else {
            return None;
        };
        Some(axes([a, b, c])? * axes([d, e, f])?.transpose())
    }
}

/// The greatest value over the links that end at a joint.
fn over_links(joint: Hardpoint, value: impl Fn(Link) -> Option<f64>) -> Option<f64> {
    let ends_there = |link: &&Link| <[Hardpoint; 2]>::from(link.ends()).contains(&joint);
    Link::ALL.iter().filter(ends_there).filter_map(|&link| value(link)).reduce(f64::max)
}
