//! Edits of a car's geometry, as values. Each ends in the changes that a proposal is made of.

use super::edit::Bound;
use super::{Guide, Handle};
use nalgebra::Vector3;
use wheelpath_geometry::{Assembly, Hardpoint, Parameter, Proposal, Value};

/// An edit of the car's geometry. It can be undone.
#[derive(Clone, Debug, PartialEq)]
pub enum CarEdit {
    /// Sets a parameter to a value.
    Set {
        /// The corner, or the axle.
        assembly: Assembly,
        /// The parameter.
        parameter: Parameter,
        /// What it is to be.
        to: Value,
        /// Whether the other side follows: a place and a length by the same change, mirrored, a number as the same
        /// number. An axle has no other side.
        mirrored: bool,
    },
    /// Pulls a point along one of its handles.
    Pull {
        /// The corner, or the axle.
        assembly: Assembly,
        /// The point.
        hardpoint: Hardpoint,
        /// The handle.
        guide: Guide,
        /// How far since this step of undo began, metres; the second only counts in a plate.
        by: [f64; 2],
        /// Whether the other side moves by the mirrored amount.
        mirrored: bool,
    },
    /// Puts a parameter back to what it is on the original car.
    Reset {
        /// The corner, or the axle.
        assembly: Assembly,
        /// The parameter.
        parameter: Parameter,
        /// Whether the other side's goes back too.
        mirrored: bool,
    },
    /// Puts the whole car back as it was loaded.
    ResetCar,
    /// Makes a proposal.
    Propose {
        /// The proposal.
        proposal: Box<Proposal>,
        /// Whether it is made on the car as it stands, else on the original.
        on_top: bool,
    },
}

/// What an edit is made to: edits of one thing in a row make one step of undo.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Target {
    Parameter(Assembly, Parameter, bool),
    Pull(Assembly, Hardpoint, Handle, bool),
    Bound(usize, Bound),
    Whole,
}

impl CarEdit {
    /// Puts a point somewhere else in the design pose, metres.
    #[must_use]
    pub fn move_point(assembly: Assembly, hardpoint: Hardpoint, to: Vector3<f64>, mirrored: bool) -> Self {
        CarEdit::Set { assembly, parameter: Parameter::Point(hardpoint), to: Value::Place(to), mirrored }
    }

    /// Sets a parameter that is a number: metres, radians or plain.
    #[must_use]
    pub fn set_number(assembly: Assembly, parameter: Parameter, to: f64, mirrored: bool) -> Self {
        CarEdit::Set { assembly, parameter, to: Value::Number(to), mirrored }
    }

    pub(super) fn target(&self) -> Target {
        match *self {
            CarEdit::Set { assembly, parameter, mirrored, .. }
            | CarEdit::Reset { assembly, parameter, mirrored } => {
                Target::Parameter(assembly, parameter, mirrored)
            }
            CarEdit::Pull { assembly, hardpoint, guide, mirrored, .. } => {
                Target::Pull(assembly, hardpoint, guide.handle, mirrored)
            }
            CarEdit::ResetCar | CarEdit::Propose { .. } => Target::Whole,
        }
    }

    /// Whether edits in a row make one step.
    pub(super) fn joins(&self) -> bool {
        matches!(self, CarEdit::Set { .. } | CarEdit::Pull { .. })
    }

    /// Whether it begins anew from the original, so that no proposal is open after it.
    pub(super) fn begins_anew(&self) -> bool {
        matches!(self, CarEdit::ResetCar | CarEdit::Propose { on_top: false, .. })
    }
}
