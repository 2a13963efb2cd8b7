//! A plate being described.

use nalgebra::Vector3;
use wheelpath_geometry::{Assembly, Hardpoint};

/// A plate being described, before it is set.
#[derive(Clone, Debug, Default)]
pub struct PlateDraft {
    /// The point whose plate it is.
    pub(in crate::panels) of: Option<(Assembly, Hardpoint)>,
    pub(in crate::panels) normal: Vector3<f64>,
    pub(in crate::panels) through: [Option<(Assembly, Hardpoint)>; 3],
    /// Whether a plate is being described at present.
    pub(in crate::panels) open: bool,
}
