//! Named points and the lengths of the links between them, over any number.

use crate::car::Hardpoints;
use crate::car::axis::Axis;
use crate::car::hardpoint::{Hardpoint, Link};
use crate::number::real::{Real, length, lift};
use nalgebra::Vector3;

/// Points of a corner, or of an axle as a whole, in the design pose.
#[derive(Clone, Debug)]
pub(crate) struct PointSet<T: Real> {
    points: [Vector3<T>; Hardpoint::COUNT],
    /// Where each point was when the part was made that is to have it: elsewhere than the point where that has
    /// been moved since, the part kept.
    made: [Vector3<T>; Hardpoint::COUNT],
    has: [bool; Hardpoint::COUNT],
    /// Change of a link's length against what the points give.
    stretch: [T; Link::COUNT],
}

impl<T: Real> PointSet<T> {
    /// With constant numbers.
    pub fn of(hardpoints: &Hardpoints, lengths: &[(Link, f64)]) -> Self {
        let mut set = PointSet {
            points: [Vector3::zeros(); Hardpoint::COUNT],
            made: [Vector3::zeros(); Hardpoint::COUNT],
            has: [false; Hardpoint::COUNT],
            stretch: [T::zero(); Link::COUNT],
        };
        for (hardpoint, at) in hardpoints.iter() {
            set.points[hardpoint.index()] = lift(&at);
            set.made[hardpoint.index()] = lift(&at);
            set.has[hardpoint.index()] = true;
        }
        for &(link, given) in lengths {
            set.stretch[link.index()] = T::constant(given) - set.between(link);
        }
        set
    }

    /// The same where parts were made to have points that now stand elsewhere.
    pub fn with_parts_made_at(mut self, made_at: &[(Hardpoint, Vector3<f64>)]) -> Self {
        for (hardpoint, at) in made_at {
            self.made[hardpoint.index()] = lift(at);
        }
        self
    }

    pub fn has(&self, hardpoint: Hardpoint) -> bool {
        self.has[hardpoint.index()]
    }

    /// Whether both ends of a link are there.
    pub fn has_link(&self, link: Link) -> bool {
        let (inner, outer) = link.ends();
        self.has(inner) && self.has(outer)
    }

    /// The point, if it is there.
    pub fn get(&self, hardpoint: Hardpoint) -> Option<Vector3<T>> {
        self.has(hardpoint).then(|| self.points[hardpoint.index()])
    }

    /// The point; the origin where there is none (a model is built only from what was checked).
    pub fn point(&self, hardpoint: Hardpoint) -> Vector3<T> {
        self.points[hardpoint.index()]
    }

    /// Where the point was when the part was made that is to have it.
    pub fn made(&self, hardpoint: Hardpoint) -> Vector3<T> {
        self.made[hardpoint.index()]
    }

    fn between(&self, link: Link) -> T {
        let (inner, outer) = link.ends();
        length(&(self.point(outer) - self.point(inner)))
    }

    /// The length of a link, metres.
    pub fn length(&self, link: Link) -> T {
        self.between(link) + self.stretch[link.index()]
    }

    /// Moves a point; links and parts are made to it.
    pub fn add_to_point(&mut self, hardpoint: Hardpoint, axis: Axis, change: T) {
        self.points[hardpoint.index()][axis.index()] += change;
        self.made[hardpoint.index()][axis.index()] += change;
    }

    pub fn add_to_length(&mut self, link: Link, change: T) {
        self.stretch[link.index()] += change;
    }

    /// Does something to the points, links and parts kept as they are.
    pub fn with_links_kept(&mut self, change: impl FnOnce(&mut Self)) {
        let made = self.made;
        let before: Vec<T> = Link::ALL.iter().map(|&link| self.length(link)).collect();
        change(self);
        self.made = made;
        for (&link, before) in Link::ALL.iter().zip(before) {
            if self.has_link(link) {
                self.stretch[link.index()] = before - self.between(link);
            }
        }
    }

    /// The same numbers as constants of another kind.
    pub fn lifted<U: Real>(&self) -> PointSet<U> {
        let c = |x: T| U::constant(x.value());
        let [points, made] = [self.points, self.made].map(|all| all.map(|p| p.map(c)));
        PointSet { points, made, has: self.has, stretch: self.stretch.map(c) }
    }

    /// Whether every link is as long as its points are apart, and every part made to where they are.
    pub fn fits(&self) -> bool {
        let as_made = |(at, made): (&Vector3<T>, &Vector3<T>)| {
            at.iter().zip(made.iter()).all(|(a, b)| (a.value() - b.value()).abs() <= 0.0)
        };
        self.stretch.iter().all(|s| s.value() == 0.0) && self.points.iter().zip(&self.made).all(as_made)
    }

    /// The same points with this share of the stretches, and of what parts were made to elsewhere.
    pub fn partly(&self, share: T) -> Self {
        let mut part = self.clone();
        for s in &mut part.stretch {
            *s *= share;
        }
        for (made, at) in part.made.iter_mut().zip(&self.points) {
            *made = at + (*made - at) * share;
        }
        part
    }
}
