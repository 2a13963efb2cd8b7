//! Points where they stand in a pose.

use crate::session::Owner;
use nalgebra::{Point3, Vector3};
use wheelpath_geometry::{CarSolver, Pickup, SolvedCar};

/// Points of a corner, or of an axle as a whole, where they stand in a pose.
pub(in crate::adapter) struct Posed {
    pub owner: Owner,
    points: [Option<Vector3<f64>>; Pickup::COUNT],
}

impl Posed {
    pub fn of(solver: &CarSolver, solved: &SolvedCar, owner: Owner) -> Self {
        let mut points = [None; Pickup::COUNT];
        let all = match owner {
            Owner::Corner(at) => solver.points(solved, at),
            Owner::Axle(end) => solver.axle_points(solved, end),
        };
        for (pickup, place) in all {
            points[pickup.index()] = Some(place);
        }
        Posed { owner, points }
    }

    pub fn vector(&self, pickup: Pickup) -> Option<Vector3<f64>> {
        self.points[pickup.index()]
    }

    pub fn get(&self, pickup: Pickup) -> Option<Point3<f64>> {
        self.vector(pickup).map(Point3::from)
    }

    /// Those of some points that are there.
    pub fn all(&self, pickups: &[Pickup]) -> Vec<Point3<f64>> {
        pickups.iter().filter_map(|&pickup| self.get(pickup)).collect()
    }
}
