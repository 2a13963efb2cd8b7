//! A corner's numbers as the equations take them: plain, or one of them with a derivative.

use crate::car::hardpoint::{Hardpoint, Link};
use crate::car::parameter::{Parameter, ScalarParameter, WheelNumber};
use crate::car::point_set::PointSet;
use crate::car::position::Side;
use crate::car::springing::{Spring, Springing};
use crate::car::steering::{SteerInput, Steering, SteeringArm};
use crate::car::{Component, Corner, LinkageKind};
use crate::linkage::links::Links;
use crate::linkage::spec::CamberMoves;
use crate::mechanism::{CentreLink, SteeringPath};
use crate::number::real::{Real, lift};
use nalgebra::Vector3;

/// A corner over any number.
#[derive(Clone, Debug)]
pub(crate) struct Design<T: Real> {
    pub side: Side,
    pub linkage: LinkageKind,
    pub steered: bool,
    /// What the steering input counts.
    pub steer_input: SteerInput,
    pub steering: SteeringPath<T>,
    pub set: PointSet<T>,
    pub centre: Vector3<T>,
    pub spin_axis: Vector3<T>,
    pub tyre_radius: T,
    pub tyre_shoulder: T,
    pub camber_adjuster: T,
    pub springing: Option<Springing>,
    pub spring: Option<Spring>,
    pub drop_link_on: Option<Component>,
    pub third_spring_on: Option<Component>,
}

/// The way of the tie rods' inner ends; of a toe link's inner end along Y where nothing steers.
pub(crate) fn path_of<T: Real>(steering: &Steering) -> SteeringPath<T> {
    match steering {
        Steering::Fixed => SteeringPath::Slide { axis: lift(&Vector3::y()) },
        Steering::Rack(rack) => SteeringPath::Slide { axis: lift(&rack.axis) },
        Steering::Box(one) => {
            let arm = |arm: &SteeringArm| [lift(&arm.pivot), lift(&arm.axis), lift(&arm.ball)];
            SteeringPath::CentreLink(CentreLink::new(arm(&one.pitman), arm(&one.idler)))
        }
    }
}

impl<T: Real> Design<T> {
    /// The corner with constant numbers.
    pub fn of(corner: &Corner, side: Side, steering: &Steering, third_spring_on: Option<Component>) -> Self {
        Design {
            side,
            linkage: corner.linkage,
            steered: steering.steers() && corner.linkage.spec().can_steer(),
            steer_input: steering.input(),
            steering: path_of(steering),
            set: PointSet::of(&corner.hardpoints, &corner.lengths).with_parts_made_at(&corner.made_at),
            centre: lift(&corner.wheel.centre),
            spin_axis: lift(&corner.wheel.spin_axis),
            tyre_radius: T::constant(corner.wheel.tyre_radius),
            tyre_shoulder: T::constant(corner.wheel.tyre_shoulder_radius),
            camber_adjuster: T::zero(),
            springing: corner.springing,
            spring: corner.spring,
            drop_link_on: corner.drop_link_on,
            third_spring_on,
        }
    }

    /// The point, if the corner has it.
    pub fn get(&self, hardpoint: Hardpoint) -> Option<Vector3<T>> {
        self.set.get(hardpoint)
    }

    /// The point; the origin where the corner lacks it (a model is built only from checked corners).
    pub fn point(&self, hardpoint: Hardpoint) -> Vector3<T> {
        self.set.point(hardpoint)
    }

    /// Where the point was when the part was made that is to have it: see [`Corner::made_at`].
    pub fn made(&self, hardpoint: Hardpoint) -> Vector3<T> {
        self.set.made(hardpoint)
    }

    /// What the camber adjuster moves, where there is one.
    pub fn camber_moves(&self) -> Option<CamberMoves> {
        self.linkage.spec().camber.map(|adjuster| adjuster.moves)
    }

    /// The length of a link, metres.
    pub fn length(&self, link: Link) -> T {
        let adjusts = self.camber_moves() == Some(CamberMoves::Length(link));
        let adjusted = if adjusts { self.camber_adjuster } else { T::zero() };
        self.set.length(link) + adjusted
    }

    /// The link that holds toe, where one does.
    pub fn toe_link(&self) -> Option<Link> {
        let link = if self.steered { Link::TieRod } else { Link::ToeLink };
        self.linkage.has_toe_link().then_some(link)
    }

    /// Adds to one number; where it is a point's, its links and parts kept as they are or made to it.
    pub fn change(&mut self, parameter: ScalarParameter, change: T, links: Links) {
        match (parameter, links) {
            (ScalarParameter::Coordinate(Parameter::Point(hardpoint), axis), Links::Kept) => {
                self.set.with_links_kept(|set| set.add_to_point(hardpoint, axis, change));
            }
            _ => self.add(parameter, change),
        }
    }

    /// Adds to one number; links and parts are made to it. A number that the equations of a corner do not have
    /// changes nothing.
    pub fn add(&mut self, parameter: ScalarParameter, change: T) {
        match parameter {
            ScalarParameter::Coordinate(Parameter::Point(hardpoint), axis) => {
                self.set.add_to_point(hardpoint, axis, change);
            }
            ScalarParameter::Coordinate(Parameter::WheelCentre, axis) => self.centre[axis.index()] += change,
            ScalarParameter::Number(Parameter::Length(link)) => self.set.add_to_length(link, change),
            ScalarParameter::Number(Parameter::Wheel(WheelNumber::TyreRadius)) => self.tyre_radius += change,
            ScalarParameter::CamberAdjuster => self.camber_adjuster += change,
            ScalarParameter::Coordinate(..) | ScalarParameter::Number(_) => {}
        }
    }

    /// The same numbers as constants of another kind.
    pub fn lifted<U: Real>(&self) -> Design<U> {
        let c = |x: T| U::constant(x.value());
        Design {
            side: self.side,
            linkage: self.linkage,
            steered: self.steered,
            steer_input: self.steer_input,
            steering: self.steering.lifted(),
            set: self.set.lifted(),
            centre: self.centre.map(c),
            spin_axis: self.spin_axis.map(c),
            tyre_radius: c(self.tyre_radius),
            tyre_shoulder: c(self.tyre_shoulder),
            camber_adjuster: c(self.camber_adjuster),
            springing: self.springing,
            spring: self.spring,
            drop_link_on: self.drop_link_on,
            third_spring_on: self.third_spring_on,
        }
    }

    /// Whether the pose of the points is the pose of the links.
    pub fn fits(&self) -> bool {
        self.camber_adjuster.value() == 0.0 && self.set.fits()
    }

    /// The same corner with its adjustments (lengths, camber adjuster) only partly made.
    pub fn partly(&self, share: f64) -> Self {
        let share = T::constant(share);
        let mut part = Design { set: self.set.partly(share), ..self.clone() };
        part.camber_adjuster *= share;
        part
    }
}
