//! Points where they stand in a pose.

use nalgebra::{Point3, Vector3};
use wheelpath_geometry::{Assembly, CarSolver, Hardpoint, SolvedCar};

/// Points of a corner, or of an axle as a whole, where they stand in a pose.
pub(in crate::adapter) struct Posed {
    pub assembly: Assembly,
    points: [Option<Vector3<f64>>; Hardpoint::COUNT],
}

impl Posed {
    pub fn of(solver: &CarSolver, solved: &SolvedCar, assembly: Assembly) -> Self {
        let mut points = [None; Hardpoint::COUNT];
        let all = match assembly {
            Assembly::Corner(at) => solver.points(solved, at),
            Assembly::Axle(end) => solver.axle_points(solved, end),
        };
        for (hardpoint, place) in all {
            points[hardpoint.index()] = Some(place);
        }
        Posed { assembly, points }
    }

    pub fn vector(&self, hardpoint: Hardpoint) -> Option<Vector3<f64>> {
        self.points[hardpoint.index()]
    }

    pub fn get(&self, hardpoint: Hardpoint) -> Option<Point3<f64>> {
        self.vector(hardpoint).map(Point3::from)
    }

    /// Those of some points that are there.
    pub fn all(&self, hardpoints: &[Hardpoint]) -> Vec<Point3<f64>> {
        hardpoints.iter().filter_map(|&hardpoint| self.get(hardpoint)).collect()
    }
}
