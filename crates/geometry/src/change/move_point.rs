//! A point moved in the design pose, and what becomes of links and parts that end there.

use crate::car::Car;
use crate::car::hardpoint::{Hardpoint, Link};
use crate::change::assembly::Assembly;
use crate::linkage::links::Links;
use nalgebra::Vector3;

impl Assembly {
    /// Moves a point in the design pose to another place, metres. Returns `false`, and does nothing, where the
    /// assembly has no such point or the place is not finite.
    pub fn move_point(self, car: &mut Car, hardpoint: Hardpoint, to: Vector3<f64>, links: Links) -> bool {
        let Some(from) = self.point(car, hardpoint).filter(|_| to.iter().all(|x| x.is_finite())) else {
            return false;
        };
        let ending = |link: &&Link| link.ends().0 == hardpoint || link.ends().1 == hardpoint;
        let joined: Vec<Link> = Link::ALL.iter().filter(ending).copied().collect();
        let before: Vec<Option<f64>> = joined.iter().map(|&link| self.between_ends(car, link)).collect();
        self.hardpoints_mut(car).set(hardpoint, to);
        for (link, before) in joined.into_iter().zip(before) {
            let Some((before, after)) = before.zip(self.between_ends(car, link)) else { continue };
            let stated = self.lengths(car).iter().find(|(one, _)| *one == link).map(|(_, length)| *length);
            match (links, stated) {
                (Links::Kept, None) => self.set_length(car, link, Some(before)),
                // What is stated is a difference to what is drawn, such as turns of a rod end.
                (Links::Remade, Some(stated)) => self.set_length(car, link, Some(stated + after - before)),
                (Links::Kept, Some(_)) | (Links::Remade, None) => {}
            }
        }
        let Some(wheel) = self.wheel() else { return true };
        let made_at = &mut car.corner_mut(wheel).made_at;
        match (links, made_at.iter_mut().find(|(one, _)| *one == hardpoint)) {
            (Links::Kept, None) => made_at.push((hardpoint, from)),
            (Links::Remade, Some((_, made))) => *made += to - from,
            (Links::Kept, Some(_)) | (Links::Remade, None) => {}
        }
        true
    }
}
