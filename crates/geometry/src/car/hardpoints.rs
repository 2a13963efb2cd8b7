//! The places of the named points of a corner or an axle.

use crate::car::hardpoint::Hardpoint;
use nalgebra::Vector3;

/// The named points of one corner; absent ones are `None`.
#[derive(Clone, Debug, PartialEq)]
pub struct Hardpoints([Option<Vector3<f64>>; Hardpoint::COUNT]);

impl Default for Hardpoints {
    fn default() -> Self {
        Hardpoints([None; Hardpoint::COUNT])
    }
}

impl FromIterator<(Hardpoint, Vector3<f64>)> for Hardpoints {
    fn from_iter<I: IntoIterator<Item = (Hardpoint, Vector3<f64>)>>(points: I) -> Self {
        let mut hardpoints = Hardpoints::default();
        points.into_iter().for_each(|(hardpoint, at)| hardpoints.set(hardpoint, at));
        hardpoints
    }
}

impl Hardpoints {
    /// The point, metres, if the corner has it.
    #[must_use]
    pub fn get(&self, hardpoint: Hardpoint) -> Option<Vector3<f64>> {
        self.0[hardpoint.index()]
    }

    /// Puts the point there.
    pub fn set(&mut self, hardpoint: Hardpoint, at: Vector3<f64>) {
        self.0[hardpoint.index()] = Some(at);
    }

    /// Takes the point away.
    pub fn remove(&mut self, hardpoint: Hardpoint) {
        self.0[hardpoint.index()] = None;
    }

    /// The points the corner has, in the order of [`Hardpoint::ALL`].
    pub fn iter(&self) -> impl Iterator<Item = (Hardpoint, Vector3<f64>)> + '_ {
        Hardpoint::ALL.iter().filter_map(|&hardpoint| Some((hardpoint, self.get(hardpoint)?)))
    }
}
