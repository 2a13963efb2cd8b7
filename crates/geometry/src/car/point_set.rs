//! Named points and the lengths of the links between them, over any number.

use crate::car::Pickups;
use crate::car::hardpoint::{Link, Pickup};
use crate::number::real::{Real, length, lift};
use nalgebra::Vector3;

/// Points of a corner, or of an axle as a whole, in the design pose.
#[derive(Clone, Debug)]
pub(crate) struct PointSet<T: Real> {
    points: [Vector3<T>; Pickup::COUNT],
    /// Where each point was when the part was made that is to have it: elsewhere than the point where that has
    /// been moved since, the part kept.
    made: [Vector3<T>; Pickup::COUNT],
    has: [bool; Pickup::COUNT],
    /// Change of a link's length against what the points give.
    stretch: [T; Link::COUNT],
}

impl<T: Real> PointSet<T> {
    /// With constant numbers.
    pub fn of(pickups: &Pickups, lengths: &[(Link, f64)]) -> Self {
        let mut set = PointSet {
            points: [Vector3::zeros(); Pickup::COUNT],
            made: [Vector3::zeros(); Pickup::COUNT],
            has: [false; Pickup::COUNT],
            stretch: [T::zero(); Link::COUNT],
        };
        for (pickup, at) in pickups.iter() {
            set.points[pickup.index()] = lift(&at);
            set.made[pickup.index()] = lift(&at);
            set.has[pickup.index()] = true;
        }
        for &(link, given) in lengths {
            set.stretch[link.index()] = T::constant(given) - set.between(link);
        }
        set
    }

    /// The same where parts were made to have points that now stand elsewhere.
    pub fn with_parts_made_at(mut self, made_at: &[(Pickup, Vector3<f64>)]) -> Self {
        for (pickup, at) in made_at {
            self.made[pickup.index()] = lift(at);
        }
        self
    }

    pub fn has(&self, pickup: Pickup) -> bool {
        self.has[pickup.index()]
    }

    /// Whether both ends of a link are there.
    pub fn has_link(&self, link: Link) -> bool {
        let (inner, outer) = link.ends();
        self.has(inner) && self.has(outer)
    }

    /// The point, if it is there.
    pub fn get(&self, pickup: Pickup) -> Option<Vector3<T>> {
        self.has(pickup).then(|| self.points[pickup.index()])
    }

    /// The point; the origin where there is none (a model is built only from what was checked).
    pub fn point(&self, pickup: Pickup) -> Vector3<T> {
        self.points[pickup.index()]
    }

    /// Where the point was when the part was made that is to have it.
    pub fn made(&self, pickup: Pickup) -> Vector3<T> {
        self.made[pickup.index()]
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
    pub fn add_to_point(&mut self, pickup: Pickup, axis: usize, change: T) {
        self.points[pickup.index()][axis] += change;
        self.made[pickup.index()][axis] += change;
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
