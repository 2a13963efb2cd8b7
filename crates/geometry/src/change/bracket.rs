//! A plate on the car: its plane, the pickups that stand on it, and the holes that one measures from.

use crate::car::Car;
use crate::car::hardpoint::Hardpoint;
use crate::change::assembly::Assembly;
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
    pub of: Assembly,
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
    /// Through three points of the bracket's assembly, seen from where they turn left.
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
    Point(Assembly, Hardpoint),
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
    pub fn lacking(&self, car: &Car) -> Vec<(Assembly, Hardpoint)> {
        let own = self.points.iter().map(|&hardpoint| (self.of, hardpoint));
        let plane: &[Hardpoint] = match &self.plane {
            BracketPlane::Points(points) => points,
            BracketPlane::Places(_) | BracketPlane::Normal(_) => &[],
        };
        let plane = plane.iter().map(|&hardpoint| (self.of, hardpoint));
        let references = self.references.iter().filter_map(|one| match one {
            BracketReference::Point(assembly, hardpoint) => Some((*assembly, *hardpoint)),
            BracketReference::Hole { .. } => None,
        });
        let mut lacking = Vec::new();
        for (assembly, hardpoint) in own.chain(plane).chain(references) {
            if assembly.point(car, hardpoint).is_none() && !lacking.contains(&(assembly, hardpoint)) {
                lacking.push((assembly, hardpoint));
            }
        }
        lacking
    }
}
