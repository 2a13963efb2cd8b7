//! What a point is pulled along: an axis of the car, a link that ends there, the plane of its plate.

use super::notice::About;
use super::{CarEdit, Session};
use nalgebra::Vector3;
use wheelpath_geometry::{Assembly, Axis, Car, Hardpoint, LengthUnit, Link, Unit};
use wheelpath_report::Plate;

/// One of a point's handles.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Handle {
    /// Along an axis of the car.
    Axis(Axis),
    /// Along a link that ends at the point; + = longer.
    Link(Link),
    /// In the plane of the plate that carries the point.
    Plate,
}

impl Handle {
    /// What it means, in words.
    #[must_use]
    pub fn label(self) -> String {
        match self {
            Handle::Axis(Axis::X) => "X forward".into(),
            Handle::Axis(Axis::Y) => "Y left".into(),
            Handle::Axis(Axis::Z) => "Z up".into(),
            Handle::Link(link) => format!("along the {link}"),
            Handle::Plate => "in the plate".into(),
        }
    }

    /// A name for programs.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Handle::Axis(axis) => axis.letter(),
            Handle::Link(link) => link.key(),
            Handle::Plate => "plate",
        }
    }

    /// The one with this [`key`](Self::key).
    #[must_use]
    pub fn from_key(key: &str) -> Option<Self> {
        let axis = Axis::ALL.into_iter().find(|axis| axis.letter() == key).map(Handle::Axis);
        let plate = (key == Handle::Plate.key()).then_some(Handle::Plate);
        axis.or(plate).or_else(|| Link::from_key(key).map(Handle::Link))
    }
}

/// A handle with its directions in the design pose.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Guide {
    /// Which handle.
    pub handle: Handle,
    /// Unit direction; in a plate, that of u.
    pub along: Vector3<f64>,
    /// In a plate, the unit direction of v, square to that of u.
    pub across: Option<Vector3<f64>>,
}

impl Guide {
    /// A guide in the plane square to a unit normal: u forward as far as that goes (to the left in a
    /// plate that stands across the car), v square to it, upward, or else to the left.
    #[must_use]
    pub fn in_plate(normal: Vector3<f64>) -> Self {
        let start = if normal.x.abs() < 0.9 { Vector3::x() } else { Vector3::y() };
        let along = (start - normal * normal.dot(&start)).normalize();
        let across = normal.cross(&along);
        let across = if across[across.iamax()] < 0.0 { -across } else { across };
        Guide { handle: Handle::Plate, along, across: Some(across) }
    }

    /// Where it leads by these distances (metres; the second only counts in a plate).
    #[must_use]
    pub fn shift(&self, [along, across]: [f64; 2]) -> Vector3<f64> {
        self.along * along + self.across.map_or_else(Vector3::zeros, |direction| direction * across)
    }

    /// How far a displacement goes along it, metres.
    #[must_use]
    pub fn amounts(&self, by: Vector3<f64>) -> [f64; 2] {
        [self.along.dot(&by), self.across.map_or(0.0, |direction| direction.dot(&by))]
    }

    /// Distances along it in words: "along the tie rod −1.5 mm".
    #[must_use]
    pub fn in_words(&self, [along, across]: [f64; 2], lengths: LengthUnit) -> String {
        let by = |metres: f64| Unit::Length.write_change(0.0, metres, lengths);
        match self.handle {
            Handle::Axis(axis) => format!("{} {}", axis.letter(), by(along)),
            Handle::Link(_) => format!("{} {}", self.handle.label(), by(along)),
            Handle::Plate => format!("{}: across {}, up {}", self.handle.label(), by(along), by(across)),
        }
    }
}

/// How a plate is said to lie.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum PlateBy {
    /// Square to this direction, of any length but zero.
    Normal(Vector3<f64>),
    /// Through three points of the car, as designed.
    Points([(Assembly, Hardpoint); 3]),
    /// Not known any more.
    Forgotten,
}

impl Session {
    /// The handles of a point: the axes, its links, its plate where that is known.
    #[must_use]
    pub fn handles(&self, assembly: Assembly, hardpoint: Hardpoint) -> Vec<Guide> {
        let axes = Axis::ALL.into_iter().map(Handle::Axis);
        let links = Link::ALL.iter().copied().map(Handle::Link);
        let all = axes.chain(links).chain([Handle::Plate]);
        all.filter_map(|handle| self.guide(assembly, hardpoint, handle)).collect()
    }

    /// A handle of a point, in the car whose results are shown; `None` where the point has none such.
    #[must_use]
    pub fn guide(&self, assembly: Assembly, hardpoint: Hardpoint, handle: Handle) -> Option<Guide> {
        let at = place(&self.solver_car, assembly, hardpoint)?;
        match handle {
            Handle::Axis(axis) => {
                let mut along = Vector3::zeros();
                along[axis.index()] = 1.0;
                Some(Guide { handle, along, across: None })
            }
            Handle::Link(link) => {
                let (inner, outer) = link.ends();
                let other = match hardpoint {
                    _ if hardpoint == inner => outer,
                    _ if hardpoint == outer => inner,
                    _ => return None,
                };
                let along = (at - place(&self.solver_car, assembly, other)?).try_normalize(1e-9)?;
                Some(Guide { handle, along, across: None })
            }
            Handle::Plate => self.plate(assembly, hardpoint).map(Guide::in_plate),
        }
    }

    /// Unit normal of the plate that carries a point, where it was given.
    #[must_use]
    pub fn plate(&self, assembly: Assembly, hardpoint: Hardpoint) -> Option<Vector3<f64>> {
        self.plates.get(&(assembly, hardpoint)).copied()
    }

    /// How far along a handle a point stands from where the original car has it, metres.
    #[must_use]
    pub fn pulled(&self, assembly: Assembly, hardpoint: Hardpoint, guide: &Guide) -> [f64; 2] {
        let by = place(&self.car, assembly, hardpoint).zip(place(&self.original, assembly, hardpoint));
        by.map_or([0.0; 2], |(now, was)| guide.amounts(now - was))
    }

    /// What puts a point so far along a handle from where the original car has it, metres.
    #[must_use]
    pub fn pull(
        &self,
        assembly: Assembly,
        hardpoint: Hardpoint,
        guide: Guide,
        to: [f64; 2],
        mirrored: bool,
    ) -> CarEdit {
        let change = |by| CarEdit::Pull { assembly, hardpoint, guide, by, mirrored };
        let start = self.history.before(change([0.0; 2]).target()).map_or(&self.car, |before| &before.car);
        let from = place(start, assembly, hardpoint).zip(place(&self.original, assembly, hardpoint));
        let from = from.map_or([0.0; 2], |(now, was)| guide.amounts(now - was));
        change([to[0] - from[0], to[1] - from[1]])
    }

    pub(super) fn set_plate(
        &mut self,
        assembly: Assembly,
        hardpoint: Hardpoint,
        by: PlateBy,
        mirrored: bool,
    ) {
        let normal = match by {
            PlateBy::Normal(normal) => normal.try_normalize(1e-9).filter(|n| n.iter().all(|x| x.is_finite())),
            PlateBy::Points(three) => self.through(three),
            PlateBy::Forgotten => {
                for of in assembly.with_mirrored(mirrored) {
                    self.plates.remove(&(of, hardpoint));
                }
                return;
            }
        };
        let Some(normal) = normal else {
            let (text, remedy) = match by {
                PlateBy::Points(_) => {
                    ("these three points stand in a line: no one plate", "choose one off that line")
                }
                _ => ("a plate's normal needs a direction", "type it as X, Y, Z, such as 0, 1, 0"),
            };
            return self.refuse(About::Hardpoint(assembly, hardpoint), text.into(), remedy.into());
        };
        for of in assembly.with_mirrored(mirrored) {
            let across = if of == assembly { normal } else { Vector3::new(normal.x, -normal.y, normal.z) };
            self.plates.insert((of, hardpoint), across);
        }
    }

    /// Unit normal of the plane through three points as designed.
    fn through(&self, three: [(Assembly, Hardpoint); 3]) -> Option<Vector3<f64>> {
        let [a, b, c] = three.map(|(assembly, hardpoint)| place(&self.car, assembly, hardpoint));
        let [_, _, normal] = Plate::through([a?, b?, c?]).ok()?.axes();
        Some(normal)
    }
}

fn place(car: &Car, assembly: Assembly, hardpoint: Hardpoint) -> Option<Vector3<f64>> {
    assembly.hardpoints(car).get(hardpoint)
}

/// A distance in whole steps (metres); as it is where there is no step.
#[must_use]
pub fn snapped(distance: f64, step: f64) -> f64 {
    if step > 0.0 { (distance / step).round() * step } else { distance }
}

#[cfg(test)]
mod tests;
