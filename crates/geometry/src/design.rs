//! A corner's numbers as the equations take them: plain, or one of them with a derivative.

use crate::car::{Carrier, Corner, Springing};
use crate::pickup::{Link, Pickup};
use crate::real::{Real, length, lift};
use crate::side::Side;
use nalgebra::Vector3;

/// One number of a corner that can be changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Parameter {
    /// A coordinate of a point in the design pose: 0 = X, 1 = Y, 2 = Z.
    Pickup(Pickup, usize),
    /// The length of a link, its end points' places kept.
    Length(Link),
    /// A coordinate of the wheel centre in the design pose.
    WheelCentre(usize),
    /// The tyre's radius.
    TyreRadius,
    /// Thickness of shims between upright and upper ball joint; + moves the joint inboard on the
    /// upright, so that the wheel's top goes outboard.
    UpperShim,
}

/// A corner over any number.
#[derive(Clone, Debug)]
pub(crate) struct Design<T: Real> {
    pub side: Side,
    pub steered: bool,
    pub rack_axis: Vector3<T>,
    points: [Vector3<T>; Pickup::COUNT],
    has: [bool; Pickup::COUNT],
    pub centre: Vector3<T>,
    pub spin_axis: Vector3<T>,
    pub tyre_radius: T,
    /// Change of a link's length against what the points give.
    stretch: [T; Link::COUNT],
    pub shim: T,
    pub springing: Option<Springing>,
    pub drop_link_on: Option<Carrier>,
}

impl<T: Real> Design<T> {
    /// The corner with constant numbers; `rack_axis` is `None` where the axle is not steered.
    pub fn of(corner: &Corner, side: Side, rack_axis: Option<Vector3<f64>>) -> Self {
        let mut points = [Vector3::zeros(); Pickup::COUNT];
        let mut has = [false; Pickup::COUNT];
        for (pickup, at) in corner.pickups.iter() {
            points[pickup.index()] = lift(&at);
            has[pickup.index()] = true;
        }
        let mut design = Design {
            side,
            steered: rack_axis.is_some(),
            rack_axis: rack_axis.map_or_else(Vector3::zeros, |axis| lift(&axis)),
            points,
            has,
            centre: lift(&corner.wheel.centre),
            spin_axis: lift(&corner.wheel.spin_axis),
            tyre_radius: T::constant(corner.wheel.tyre_radius),
            stretch: [T::zero(); Link::COUNT],
            shim: T::zero(),
            springing: corner.springing,
            drop_link_on: corner.drop_link_on,
        };
        for &(link, given) in &corner.lengths {
            design.stretch[link.index()] = T::constant(given) - design.between(link);
        }
        design
    }

    /// The point, if the corner has it.
    pub fn get(&self, pickup: Pickup) -> Option<Vector3<T>> {
        self.has[pickup.index()].then(|| self.points[pickup.index()])
    }

    /// The point; the origin where the corner lacks it (a model is built only from checked corners).
    pub fn point(&self, pickup: Pickup) -> Vector3<T> {
        self.points[pickup.index()]
    }

    fn between(&self, link: Link) -> T {
        let (inner, outer) = link.ends();
        length(&(self.point(outer) - self.point(inner)))
    }

    /// The length of a link, metres.
    pub fn length(&self, link: Link) -> T {
        self.between(link) + self.stretch[link.index()]
    }

    /// The link that holds toe.
    pub fn toe_link(&self) -> Link {
        if self.steered { Link::TieRod } else { Link::ToeLink }
    }

    /// Adds to one number.
    pub fn add(&mut self, parameter: Parameter, change: T) {
        match parameter {
            Parameter::Pickup(pickup, axis) => self.points[pickup.index()][axis] += change,
            Parameter::Length(link) => self.stretch[link.index()] += change,
            Parameter::WheelCentre(axis) => self.centre[axis] += change,
            Parameter::TyreRadius => self.tyre_radius += change,
            Parameter::UpperShim => self.shim += change,
        }
    }

    /// Adds to one number, the lengths of the links that end there kept.
    pub fn add_with_lengths_held(&mut self, parameter: Parameter, change: T) {
        let before: Vec<T> = Link::ALL.iter().map(|&link| self.length(link)).collect();
        self.add(parameter, change);
        if let Parameter::Pickup(..) = parameter {
            for (&link, before) in Link::ALL.iter().zip(before) {
                let (inner, outer) = link.ends();
                if self.has[inner.index()] && self.has[outer.index()] {
                    self.stretch[link.index()] = before - self.between(link);
                }
            }
        }
    }

    /// The same numbers as constants of another kind.
    pub fn lifted<U: Real>(&self) -> Design<U> {
        let c = |x: T| U::constant(x.value());
        Design {
            side: self.side,
            steered: self.steered,
            rack_axis: self.rack_axis.map(c),
            points: self.points.map(|p| p.map(c)),
            has: self.has,
            centre: self.centre.map(c),
            spin_axis: self.spin_axis.map(c),
            tyre_radius: c(self.tyre_radius),
            stretch: self.stretch.map(c),
            shim: c(self.shim),
            springing: self.springing,
            drop_link_on: self.drop_link_on,
        }
    }

    /// Whether the pose of the points is the pose of the links.
    pub fn fits(&self) -> bool {
        self.shim.value() == 0.0 && self.stretch.iter().all(|s| s.value() == 0.0)
    }

    /// The same corner with its adjustments (lengths, shim) only partly made.
    pub fn partly(&self, share: f64) -> Self {
        let mut part = self.clone();
        let share = T::constant(share);
        part.shim *= share;
        for s in &mut part.stretch {
            *s *= share;
        }
        part
    }
}
