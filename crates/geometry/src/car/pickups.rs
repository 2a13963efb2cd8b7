//! The places of the named points of a corner or an axle.

use crate::car::hardpoint::Pickup;
use nalgebra::Vector3;

/// The named points of one corner; absent ones are `None`.
#[derive(Clone, Debug, PartialEq)]
pub struct Pickups([Option<Vector3<f64>>; Pickup::COUNT]);

impl Default for Pickups {
    fn default() -> Self {
        Pickups([None; Pickup::COUNT])
    }
}

impl FromIterator<(Pickup, Vector3<f64>)> for Pickups {
    fn from_iter<I: IntoIterator<Item = (Pickup, Vector3<f64>)>>(points: I) -> Self {
        let mut pickups = Pickups::default();
        points.into_iter().for_each(|(pickup, at)| pickups.set(pickup, at));
        pickups
    }
}

impl Pickups {
    /// The point, metres, if the corner has it.
    #[must_use]
    pub fn get(&self, pickup: Pickup) -> Option<Vector3<f64>> {
        self.0[pickup.index()]
    }

    /// Puts the point there.
    pub fn set(&mut self, pickup: Pickup, at: Vector3<f64>) {
        self.0[pickup.index()] = Some(at);
    }

    /// Takes the point away.
    pub fn remove(&mut self, pickup: Pickup) {
        self.0[pickup.index()] = None;
    }

    /// The points the corner has, in the order of [`Pickup::ALL`].
    pub fn iter(&self) -> impl Iterator<Item = (Pickup, Vector3<f64>)> + '_ {
        Pickup::ALL.iter().filter_map(|&pickup| Some((pickup, self.get(pickup)?)))
    }
}
