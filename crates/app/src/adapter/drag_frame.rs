//! From where a point is pulled to in the pose shown, to where that is in the design pose.

use super::parts::Posed;
use nalgebra::{Matrix3, Vector3};
use wheelpath_geometry::{Assembly, Hardpoint};
use wheelpath_session::Session;

/// A point that is being pulled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pulled {
    /// Whose it is.
    pub assembly: Assembly,
    /// Which point.
    pub hardpoint: Hardpoint,
    /// Where it stood in the pose when the pull began, metres.
    posed: Vector3<f64>,
    /// Where it stood in the design pose.
    design: Vector3<f64>,
    /// Turns a shift in the pose into one in the design pose.
    design_from_pose: Matrix3<f64>,
}

impl Pulled {
    /// Takes hold of a point of the car shown; `None` where its assembly has no such point.
    #[must_use]
    pub fn begin(session: &Session, assembly: Assembly, hardpoint: Hardpoint) -> Option<Self> {
        let (car, shown) = (session.solver_car(), session.shown());
        let posed = Posed::of(session.solver(), shown, assembly).vector(hardpoint)?;
        let (end, side) = (assembly.end(), assembly.seen_at().side);
        let turned = assembly
            .carrier(car, hardpoint)
            .and_then(|part| session.solver().axle(end).turn_of(shown.axle(end), side, part));
        Some(Pulled {
            assembly,
            hardpoint,
            posed,
            design: assembly.hardpoints(car).get(hardpoint)?,
            design_from_pose: turned.map_or_else(Matrix3::identity, |turned| turned.transpose()),
        })
    }

    /// Where the point stood in the pose when the pull began, metres.
    #[must_use]
    pub fn posed(&self) -> Vector3<f64> {
        self.posed
    }

    /// A direction of the design pose as the part that carries the point is turned in the pose.
    #[must_use]
    pub fn in_pose(&self, direction: Vector3<f64>) -> Vector3<f64> {
        self.design_from_pose.transpose() * direction
    }

    /// Where the point stood in the design pose when the pull began, metres.
    #[must_use]
    pub fn design_before(&self) -> Vector3<f64> {
        self.design
    }

    /// Where the point goes in the design pose, metres, when it is pulled to a place in the pose.
    #[must_use]
    pub fn design_place(&self, to: Vector3<f64>) -> Vector3<f64> {
        self.design + self.design_from_pose * (to - self.posed)
    }
}
