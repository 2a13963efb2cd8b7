//! What a map is asked for.

use crate::session::Session;
use nalgebra::Vector3;
use wheelpath_geometry::{
    Assembly, Car, Hardpoint, LengthUnit, Limited, PoseRange, Quantity, Reading, Requirement, Scope,
    Travelling, WheelPosition,
};
use wheelpath_studies::{MapOf, Patch};

/// Travels between its ends.
const POSES: usize = 51;

/// A map that is asked for.
#[derive(Clone, Debug)]
pub struct Asked {
    /// The car, with the point in the middle of the patch: pulling it makes no other map.
    pub car: Car,
    /// The corner.
    pub wheel: WheelPosition,
    /// The point.
    pub hardpoint: Hardpoint,
    /// The part of the plane.
    pub patch: Patch,
    /// A reading of the wheel.
    pub reading: &'static Reading,
    /// First and last wheel travel, metres.
    pub travel: [f64; 2],
    /// In what lengths are shown.
    pub lengths: LengthUnit,
    /// The limit that says from where to where, and within what.
    pub limit: Option<Requirement>,
}

impl PartialEq for Asked {
    fn eq(&self, other: &Self) -> bool {
        let (one, two) = (self.car.axle(self.wheel.end), other.car.axle(other.wheel.end));
        // What the wheel's travel depends on; the other side is another matter.
        let same_corner = one.corner(self.wheel.side) == two.corner(other.wheel.side);
        same_corner
            && one.steering == two.steering
            && one.third_spring == two.third_spring
            && self.wheel == other.wheel
            && self.hardpoint == other.hardpoint
            && self.patch == other.patch
            && self.reading.key == other.reading.key
            && self.travel == other.travel
            && self.lengths == other.lengths
            && self.limit == other.limit
    }
}

impl Asked {
    /// A map about the place where the car that is compared with has a point, in the plane of two unit
    /// directions square to each other that goes through the point as it stands; `half` its width each way,
    /// metres.
    ///
    /// # Errors
    /// In words, why there is none.
    pub fn of(
        session: &Session,
        wheel: WheelPosition,
        hardpoint: Hardpoint,
        reading: &'static Reading,
        [u, v]: [Vector3<f64>; 2],
        half: f64,
    ) -> Result<Self, &'static str> {
        let car = session.solver_car();
        if car.axle(wheel.end).is_beam() {
            return Err("a beam axle's wheels move together: there is no map of one of them");
        }
        if reading.scope != Scope::Wheel {
            return Err("this reading is the axle's: a map is of one wheel over its travel");
        }
        let assembly = Assembly::Corner(wheel);
        let now = assembly.hardpoints(car).get(hardpoint).ok_or("this corner has no such point")?;
        let was = assembly.hardpoints(session.original()).get(hardpoint).unwrap_or(now);
        let normal = u.cross(&v);
        let centre = was + normal * normal.dot(&(now - was));
        let mut car = car.clone();
        car.axle_mut(wheel.end).corner_mut(wheel.side).hardpoints.set(hardpoint, centre);
        let limit = session.beside().limits.iter().find(|limit| is_of(limit, wheel, reading)).cloned();
        let lengths = session.units();
        // Where no limit says otherwise, what rates are said for, up and down.
        let usual = [-lengths.stretch(), lengths.stretch()];
        let travel = match limit.as_ref().map(|limit| limit.of) {
            Some(Limited::Reading { over: PoseRange::Travel { from, to, .. }, .. }) if from < to => {
                [from, to]
            }
            _ => usual,
        };
        let patch = Patch { centre, u, v, half: [half, half] };
        Ok(Asked { car, wheel, hardpoint, patch, reading, travel, lengths, limit })
    }

    /// As a study takes it, with so many columns and rows.
    #[must_use]
    pub fn study(&self, count: usize) -> MapOf<'_> {
        MapOf {
            car: &self.car,
            wheel: self.wheel,
            hardpoint: self.hardpoint,
            patch: self.patch,
            count: [count, count],
            reading: self.reading,
            travel: self.travel,
            poses: POSES,
        }
    }

    /// Whether another map is of the same thing, the car apart.
    #[must_use]
    pub fn is_like(&self, other: &Self) -> bool {
        self.wheel == other.wheel
            && self.hardpoint == other.hardpoint
            && self.reading.key == other.reading.key
            && self.patch == other.patch
    }
}

/// Whether a limit says what this reading of this wheel may do in the design pose or over travel alone.
fn is_of(limit: &Requirement, wheel: WheelPosition, reading: &Reading) -> bool {
    let Limited::Reading { reading: of, end, side, taken, over } = limit.of else { return false };
    let over = match over {
        PoseRange::Travel { wheels, .. } => {
            matches!(wheels, Travelling::Both) || wheels == Travelling::One(wheel.side)
        }
        PoseRange::Design => taken == Quantity::Value,
        _ => false,
    };
    of.key == reading.key && end == wheel.end && side.is_none_or(|side| side == wheel.side) && over
}
