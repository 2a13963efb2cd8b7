//! One axle in the design pose.

use crate::car::carrier::Component;
use crate::car::corner::Corner;
use crate::car::hardpoint::Link;
use crate::car::hardpoints::Hardpoints;
use crate::car::part::Part;
use crate::car::position::Side;
use crate::car::springing::{AntiRollBar, ThirdSpring};
use crate::car::steering::{Column, Steering};

/// Where a torque is reacted: decides the line for anti-dive, anti-lift and anti-squat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum TorqueReaction {
    /// By the upright (outboard brakes).
    Upright,
    /// By the body (inboard brakes, sprung final drive).
    Body,
}

/// One axle.
#[derive(Clone, Debug, PartialEq)]
pub struct Axle {
    /// How it is steered.
    pub steering: Steering,
    /// Where the brakes are.
    pub brakes: TorqueReaction,
    /// Where the drive torque is reacted; `None` for an undriven axle.
    pub drive: Option<TorqueReaction>,
    /// The left corner.
    pub left: Corner,
    /// The right corner.
    pub right: Corner,
    /// Points of the axle as a whole: those for which [`Hardpoint::is_of_axle`](crate::Hardpoint::is_of_axle).
    pub hardpoints: Hardpoints,
    /// Lengths of the axle's own links that do not follow from the points, metres.
    pub lengths: Vec<(Link, f64)>,
    /// Radii of the axle's own parts, metres.
    pub radii: Vec<(Part, f64)>,
    /// The part that carries the lever of a Watt's linkage, if the axle has one: body or upright (the
    /// axle).
    pub watt_lever_on: Option<Component>,
    /// The anti-roll bar; an axle with drop links but without a word on it has a bar of the U kind.
    pub anti_roll_bar: Option<AntiRollBar>,
    /// A spring across the axle.
    pub third_spring: Option<ThirdSpring>,
    /// Cardan joints between steering wheel and rack or box.
    pub column: Column,
}

impl Axle {
    /// An axle of two corners with nothing between them but the steering.
    #[must_use]
    pub fn new(steering: Steering, left: Corner, right: Corner) -> Axle {
        Axle {
            steering,
            brakes: TorqueReaction::Upright,
            drive: None,
            left,
            right,
            hardpoints: Hardpoints::default(),
            lengths: Vec::new(),
            radii: Vec::new(),
            watt_lever_on: None,
            anti_roll_bar: None,
            third_spring: None,
            column: Column::default(),
        }
    }

    /// The corner on that side.
    #[must_use]
    pub fn corner(&self, side: Side) -> &Corner {
        match side {
            Side::Left => &self.left,
            Side::Right => &self.right,
        }
    }

    /// The corner on that side.
    pub fn corner_mut(&mut self, side: Side) -> &mut Corner {
        match side {
            Side::Left => &mut self.left,
            Side::Right => &mut self.right,
        }
    }
}
