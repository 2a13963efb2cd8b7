//! The shapes solids are made of. A shape is built once; a pose only moves it.

use std::f64::consts::{PI, TAU};

use nalgebra::{Rotation3, Vector3};

use crate::solids::surface::{Surface, coil, outline_round, plate, revolved};

/// A shape in its own axes (Z along its axis, or across a plate).
#[derive(Debug, Clone, PartialEq)]
pub enum Shape {
    /// Cylinder of radius 1 from z = −½ to ½, with chamfered ends; stretched in place.
    Cylinder,
    /// The same narrowing from radius 1 at z = −½ to 0.62 at ½: a tapered leg.
    Taper,
    /// Ball of radius 1.
    Ball,
    /// A block with edges of length 1.
    Block,
    /// A coil of radius 1 from z = 0 to 1.
    Coil,
    /// A tyre about Z, in metres.
    Tyre {
        /// Outer radius.
        radius: f64,
        /// Width.
        width: f64,
        /// Radius of the rim it sits on.
        rim_radius: f64,
    },
    /// A wheel about Z with its outer face toward +Z, in metres.
    Rim {
        /// Radius.
        radius: f64,
        /// Width of the tyre it carries.
        width: f64,
    },
    /// The convex plate round circles in its XY plane, in metres.
    Plate {
        /// Circles it goes round: centre and radius.
        circles: Vec<((f64, f64), f64)>,
        /// Thickness.
        thickness: f64,
    },
}

/// Lengths closer than this (m) count as the same shape: far above the solver's
/// closure, far below anything drawn.
const SAME: f64 = 1e-6;

impl Shape {
    /// Whether two shapes may share one mesh.
    #[must_use]
    pub fn matches(&self, other: &Self) -> bool {
        let near = |a: f64, b: f64| (a - b).abs() < SAME;
        match (self, other) {
            (
                Self::Tyre { radius, width, rim_radius },
                Self::Tyre { radius: r, width: w, rim_radius: rim },
            ) => near(*radius, *r) && near(*width, *w) && near(*rim_radius, *rim),
            (Self::Rim { radius, width }, Self::Rim { radius: r, width: w }) => {
                near(*radius, *r) && near(*width, *w)
            }
            (Self::Plate { circles, thickness }, Self::Plate { circles: other, thickness: t }) => {
                near(*thickness, *t)
                    && circles.len() == other.len()
                    && circles
                        .iter()
                        .zip(other)
                        .all(|(a, b)| near(a.0.0, b.0.0) && near(a.0.1, b.0.1) && near(a.1, b.1))
            }
            _ => self == other,
        }
    }

    /// Its surface.
    #[must_use]
    pub fn surface(&self) -> Surface {
        match self {
            Self::Cylinder => revolved(
                &[(0.0, -0.5), (0.86, -0.5), (1.0, -0.488), (1.0, 0.488), (0.86, 0.5), (0.0, 0.5)],
                20,
            ),
            Self::Taper => {
                revolved(&[(0.0, -0.5), (0.9, -0.5), (1.0, -0.49), (0.62, 0.49), (0.56, 0.5), (0.0, 0.5)], 20)
            }
            Self::Ball => {
                let profile: Vec<(f64, f64)> = (0..=10)
                    .map(|step| {
                        let angle = PI * (f64::from(step) / 10.0 - 0.5);
                        (angle.cos().max(0.0), angle.sin())
                    })
                    .collect();
                revolved(&profile, 20)
            }
            Self::Block => plate(&[(-0.5, -0.5), (0.5, -0.5), (0.5, 0.5), (-0.5, 0.5)], 1.0, 0.06),
            Self::Coil => coil(6.5, 0.16),
            Self::Tyre { radius, width, rim_radius } => {
                revolved(&tyre_profile(*radius, *width, *rim_radius), 72)
            }
            Self::Rim { radius, width } => rim(*radius, *width),
            Self::Plate { circles, thickness } => {
                plate(&outline_round(circles), *thickness, 0.18 * thickness)
            }
        }
    }
}

/// Half a tyre's cross-section, mirrored: bead, sidewall bulging a little beyond the
/// tread, rounded shoulder, crowned tread with two grooves.
///
/// The crown matters: the reading's contact point belongs to the middle circle, so a
/// flat tread would stand in the ground by several millimetres at common cambers.
fn tyre_profile(radius: f64, width: f64, rim_radius: f64) -> Vec<(f64, f64)> {
    let half = 0.5 * width;
    let wall = (radius - rim_radius).max(1e-3);
    let crown = 0.045 * half;
    let groove = (0.05 * wall).min(0.006);
    let at = |share_r: f64, share_z: f64| (rim_radius + wall * share_r, half * share_z);
    let tread = |share_z: f64| (radius - crown * share_z * share_z, half * share_z);
    let cut = |share_z: f64| {
        let (r, z) = tread(share_z);
        (r - groove, z)
    };
    // From the middle of the tread outward and down to the bead.
    let upper = [
        tread(0.0),
        tread(0.27),
        cut(0.28),
        cut(0.33),
        tread(0.34),
        tread(0.55),
        tread(0.76),
        at(0.955, 0.865),
        at(0.90, 0.935),
        at(0.80, 0.98),
        at(0.62, 1.0),
        at(0.40, 0.985),
        at(0.30, 0.965),
        at(0.285, 0.935),
        at(0.16, 0.90),
        at(0.04, 0.84),
        at(0.0, 0.80),
    ];
    let mut profile: Vec<(f64, f64)> = upper.iter().rev().map(|&(r, z)| (r, -z)).collect();
    profile.extend(upper.iter().skip(1));
    profile
}

/// A rim with a barrel, a lip and five pairs of spokes.
fn rim(radius: f64, width: f64) -> Surface {
    let half = 0.40 * width;
    let barrel = 0.94 * radius;
    let skin = 0.03 * radius;
    // Closed section: outside up, lip, inside down.
    let mut surface = revolved(
        &[
            (barrel - skin, -half),
            (radius * 1.012, -half),
            (radius * 1.012, -0.9 * half),
            (barrel, -0.8 * half),
            (barrel, 0.8 * half),
            (radius * 1.012, 0.9 * half),
            (radius * 1.03, half),
            (0.955 * radius, 1.02 * half),
            (barrel - skin, 0.86 * half),
            (barrel - skin, -half),
        ],
        60,
    );
    let face = 0.62 * half;
    let hub = 0.24 * radius;
    let depth = 0.16 * half + 0.008;
    surface.append(
        &revolved(
            &[
                (0.0, -depth),
                (hub * 0.9, -depth),
                (hub, -0.6 * depth),
                (hub, 0.6 * depth),
                (hub * 0.88, depth),
                (hub * 0.42, depth),
                (hub * 0.38, 0.55 * depth),
                (0.0, 0.55 * depth),
            ],
            30,
        ),
        &Rotation3::identity(),
        Vector3::new(0.0, 0.0, face),
    );
    let long = barrel - skin * 0.5;
    let spoke = plate(
        &[
            (0.6 * hub, -0.075 * radius),
            (long, -0.042 * radius),
            (long, 0.042 * radius),
            (0.6 * hub, 0.075 * radius),
        ],
        depth,
        0.25 * depth,
    );
    for number in 0..7 {
        surface.append(
            &spoke,
            &Rotation3::from_axis_angle(&Vector3::z_axis(), TAU * f64::from(number) / 7.0),
            Vector3::new(0.0, 0.0, face),
        );
    }
    surface
}

#[cfg(test)]
mod tests {
    use super::*;

    const TYRE: Shape = Shape::Tyre { radius: 0.26, width: 0.2, rim_radius: 0.165 };

    #[test]
    fn every_shape_has_a_surface_that_looks_outward() {
        let plate = Shape::Plate {
            circles: vec![((0.0, 0.0), 0.02), ((0.1, 0.0), 0.01), ((0.0, 0.1), 0.01)],
            thickness: 0.01,
        };
        let rim = Shape::Rim { radius: 0.165, width: 0.2 };
        for shape in [Shape::Cylinder, Shape::Taper, Shape::Ball, Shape::Block, plate, rim] {
            let surface = shape.surface();
            assert!(surface.triangles.len() > 10, "{shape:?}");
            assert!(surface.signed_volume() > 0.0, "{shape:?} is inside out");
            assert_eq!(surface.positions.len(), surface.normals.len());
        }
    }

    #[test]
    fn the_tyre_reaches_its_radius_and_width_and_no_farther() {
        let surface = TYRE.surface();
        let reach =
            |of: fn(&nalgebra::Point3<f64>) -> f64| surface.positions.iter().map(of).fold(0.0, f64::max);
        assert!((reach(|p| p.x.hypot(p.y)) - 0.26).abs() < 1e-9);
        assert!((reach(|p| p.z.abs()) - 0.1).abs() < 1e-9);
    }

    #[test]
    fn shapes_match_within_a_micrometre_only() {
        let slightly = Shape::Tyre { radius: 0.26 + 1e-9, width: 0.2, rim_radius: 0.165 };
        let larger = Shape::Tyre { radius: 0.261, width: 0.2, rim_radius: 0.165 };
        assert!(TYRE.matches(&slightly));
        assert!(!TYRE.matches(&larger));
        assert!(!Shape::Ball.matches(&Shape::Block));
    }
}
