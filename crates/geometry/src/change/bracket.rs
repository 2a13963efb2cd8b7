//! A plate on the car: its plane, the pickups that stand on it, and the holes that one measures from.

use crate::car::Car;
use crate::car::hardpoint::Hardpoint;
use crate::change::owner::Owner;
use nalgebra::Vector3;

/// A bracket or plate on which pickups of one corner, or of an axle as a whole, stand. Vehicle axes,
/// metres.
#[derive(Clone, Debug, PartialEq)]
pub struct Bracket {
    /// Its name.
    pub name: String,
    /// What there is to say of it.
    pub about: Option<String>,
    /// Whose its points are.
    pub of: Owner,
    /// Where its plane lies and from which face it is looked at.
    pub plane: BracketPlane,
    /// The pickups on it; at least one.
    pub points: Vec<Hardpoint>,
    /// Diameter of their holes, if known.
    pub hole_diameter: Option<f64>,
    /// Holes that stay when pickups move.
    pub references: Vec<BracketReference>,
}

/// The plane of a bracket.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum BracketPlane {
    /// Through three points of the bracket's owner, seen from where they turn left.
    Points([Hardpoint; 3]),
    /// Through three places, seen from where they turn left.
    Places([Vector3<f64>; 3]),
    /// Through the bracket's first point, seen from the tip of a unit normal.
    Normal(Vector3<f64>),
}

/// A hole that one measures from.
#[derive(Clone, Debug, PartialEq)]
pub enum BracketReference {
    /// A point of the car.
    Point(Owner, Hardpoint),
    /// A hole that is no point of the car.
    Hole {
        /// Its name.
        name: String,
        /// Its centre.
        at: Vector3<f64>,
        /// Its diameter, if known.
        diameter: Option<f64>,
    },
}

impl Bracket {
    /// The points that it names and the car does not have, each once.
    #[must_use]
    pub fn lacking(&self, car: &Car) -> Vec<(Owner, Hardpoint)> {
        let own = self.points.iter().map(|&hardpoint| (self.of, hardpoint));
        let plane: &[Hardpoint] = match &self.plane {
            BracketPlane::Points(points) => points,
            BracketPlane::Places(_) | BracketPlane::Normal(_) => &[],
        };
        let plane = plane.iter().map(|&hardpoint| (self.of, hardpoint));
        let references = self.references.iter().filter_map(|one| match one {
            BracketReference::Point(owner, hardpoint) => Some((*owner, *hardpoint)),
            BracketReference::Hole { .. } => None,
        });
        let mut lacking = Vec::new();
        for (owner, hardpoint) in own.chain(plane).chain(references) {
            if owner.point(car, hardpoint).is_none() && !lacking.contains(&(owner, hardpoint)) {
                lacking.push((owner, hardpoint));
            }
        }
        lacking
    }
}
