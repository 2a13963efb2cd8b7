//! A flat plate on a car: its plane, its own axes, and from where it is looked at.

use nalgebra::Vector3;
use thiserror::Error;
use wheelpath_geometry::{Assembly, Bracket, BracketPlane, Car, Hardpoint};

/// A plate's normal this near to vertical makes it level: horizontal lines run every way in it.
const LEVEL: f64 = 0.017_452_406_437_283_51; // sin 1°
/// Three points closer to a line than this share of their longest distance fix no plane: a tenth of a
/// millimetre in one of them would turn it by degrees.
const IN_LINE: f64 = 0.01;
/// Least share of a unit direction that is worth a word: sin 15°.
const WORTH_A_WORD: f64 = 0.258_819_045_102_520_74;

/// The plane of a plate, looked at from the tip of its normal. Car axes (ISO 8855), metres.
///
/// With the normal toward the eye, u runs to the right on paper and v up it: u × v = normal. u is
/// horizontal, so v is the steepest way up. On a level plate (within 1°), which has no steepest way, v
/// is forward.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Plate {
    origin: Vector3<f64>,
    u: Vector3<f64>,
    v: Vector3<f64>,
    normal: Vector3<f64>,
}

/// Why there is no plane.
#[derive(Clone, Copy, Debug, PartialEq, Error)]
pub enum PlateFault {
    /// Not three places.
    #[error("the plate's point {0} is not a place: give three finite numbers in metres")]
    NotAPlace(usize),
    /// The three points lie on one line, or nearly.
    #[error(
        "the plate's three points lie in line to within {:.3} mm over {:.1} mm: take one that stands \
         further off", .off * 1e3, .over * 1e3
    )]
    InLine {
        /// How far the third is off the line through the two furthest apart, metres.
        off: f64,
        /// How far apart those two are, metres.
        over: f64,
    },
    /// A point of the plane that the car does not have.
    #[error("the plate's plane is to go through the {1} of {0}, which the car does not have: name another")]
    NoPoint(Assembly, Hardpoint),
    /// The normal has no direction.
    #[error("the plate's normal has length 0, so it gives no direction: give one such as 0, 1, 0")]
    NoNormal,
}

impl Plate {
    /// The plane through a point, seen from the tip of a normal of any length.
    ///
    /// # Errors
    /// [`PlateFault::NotAPlace`] for numbers that are not finite, [`PlateFault::NoNormal`].
    pub fn with_normal(origin: Vector3<f64>, normal: Vector3<f64>) -> Result<Plate, PlateFault> {
        if !finite(&origin) {
            return Err(PlateFault::NotAPlace(1));
        }
        // Scaled first: the square of a very long or very short one would be no number.
        let longest = normal.amax();
        let normal = (normal / longest).try_normalize(0.0);
        let normal = normal.filter(|_| longest.is_finite() && longest > 0.0).filter(finite);
        let normal = normal.ok_or(PlateFault::NoNormal)?;
        let horizontal = Vector3::z().cross(&normal);
        let (u, v) = if horizontal.norm() > LEVEL {
            let u = horizontal.normalize();
            (u, normal.cross(&u))
        } else {
            let forward = Vector3::x();
            let v = (forward - normal * normal.dot(&forward)).normalize();
            (v.cross(&normal), v)
        };
        Ok(Plate { origin, u, v, normal })
    }

    /// The plane through three points, the first its origin, seen from where they turn left.
    ///
    /// # Errors
    /// [`PlateFault::NotAPlace`] for numbers that are not finite, [`PlateFault::InLine`] where the points
    /// are nearer to a line than a hundredth of their longest distance.
    pub fn through(points: [Vector3<f64>; 3]) -> Result<Plate, PlateFault> {
        if let Some(index) = points.iter().position(|point| !finite(point)) {
            return Err(PlateFault::NotAPlace(index + 1));
        }
        let [a, b, c] = points;
        let over = (b - a).norm().max((c - b).norm()).max((a - c).norm());
        if !over.is_finite() {
            return Err(PlateFault::NotAPlace(1));
        }
        let normal = ((b - a) / over).cross(&((c - a) / over));
        let off = normal.norm() * over;
        // Written so that not-a-number, from three equal points, fails.
        if off > over * IN_LINE {
            Plate::with_normal(a, normal)
        } else {
            Err(PlateFault::InLine { off: if off.is_finite() { off } else { 0.0 }, over })
        }
    }

    /// The plane of a bracket on a car.
    ///
    /// # Errors
    /// [`PlateFault::NoPoint`] where the car has not what the plane goes through; else as of
    /// [`Plate::through`] and [`Plate::with_normal`].
    pub fn of_bracket(bracket: &Bracket, car: &Car) -> Result<Plate, PlateFault> {
        let of = bracket.of;
        let at = |hardpoint: Hardpoint| of.point(car, hardpoint).ok_or(PlateFault::NoPoint(of, hardpoint));
        match bracket.plane {
            BracketPlane::Points([a, b, c]) => Plate::through([at(a)?, at(b)?, at(c)?]),
            BracketPlane::Places(places) => Plate::through(places),
            BracketPlane::Normal(normal) => {
                let first = bracket.points.first().copied().unwrap_or(Hardpoint::ALL[0]);
                Plate::with_normal(at(first)?, normal)
            }
        }
    }

    /// The same plane and origin seen from the other face.
    #[must_use]
    pub fn turned(&self) -> Plate {
        Plate::with_normal(self.origin, -self.normal).unwrap_or(*self)
    }

    /// The same plane seen from the face that looks along a direction, car axes.
    #[must_use]
    pub fn facing(&self, direction: Vector3<f64>) -> Plate {
        if self.normal.dot(&direction) < 0.0 { self.turned() } else { *self }
    }

    /// Where u and v are zero, car axes, metres.
    #[must_use]
    pub fn origin(&self) -> Vector3<f64> {
        self.origin
    }

    /// Unit axes u, v and normal, car axes.
    #[must_use]
    pub fn axes(&self) -> [Vector3<f64>; 3] {
        [self.u, self.v, self.normal]
    }

    /// A move given in car axes along u, v and the normal, metres.
    #[must_use]
    pub fn along(&self, step: &Vector3<f64>) -> Vector3<f64> {
        Vector3::new(self.u.dot(step), self.v.dot(step), self.normal.dot(step))
    }

    /// A place given in car axes: u, v, and how far it stands out of the plane toward the eye, metres.
    #[must_use]
    pub fn place(&self, point: &Vector3<f64>) -> Vector3<f64> {
        self.along(&(point - self.origin))
    }

    /// From where the plate is looked at, after "seen from": "the left of the car and above".
    #[must_use]
    pub fn seen_from(&self) -> String {
        let names = [
            ["the front of the car", "the rear of the car"],
            ["the left of the car", "the right of the car"],
            ["above the car", "below the car"],
        ];
        let short = [["the front", "the rear"], ["the left", "the right"], ["above", "below"]];
        words(&self.normal, &names, &short, " and from ")
    }

    /// Which way a step of this length along a direction goes: against it where the length is negative.
    #[must_use]
    pub fn way_of(direction: &Vector3<f64>, step: f64) -> String {
        Plate::way(&(direction * 1_f64.copysign(step)))
    }

    /// Which way a direction in car axes points: "rearward and up".
    #[must_use]
    pub fn way(direction: &Vector3<f64>) -> String {
        let names = [["forward", "rearward"], ["left", "right"], ["up", "down"]];
        words(direction, &names, &names, " and ")
    }
}

fn finite(vector: &Vector3<f64>) -> bool {
    vector.iter().all(|x| x.is_finite())
}

/// The word for the longest component of a unit vector, then for the next if it counts.
fn words(unit: &Vector3<f64>, first: &[[&str; 2]; 3], second: &[[&str; 2]; 3], and: &str) -> String {
    let mut order = [0, 1, 2];
    order.sort_by(|&a, &b| unit[b].abs().total_cmp(&unit[a].abs()));
    let word = |names: &[[&str; 2]; 3], axis: usize| names[axis][usize::from(unit[axis] < 0.0)].to_owned();
    let mut said = word(first, order[0]);
    if unit[order[1]].abs() > WORTH_A_WORD {
        said += and;
        said += &word(second, order[1]);
    }
    said
}

#[cfg(test)]
mod tests;
