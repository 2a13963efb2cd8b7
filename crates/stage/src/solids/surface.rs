//! Triangle surfaces as plain numbers, and the ways to make them: turning a profile
//! about an axis, and giving an outline thickness. Local axes are Z-up like the
//! car's; metres, or unit-sized for shapes that are stretched in place.

use std::f64::consts::TAU;

use nalgebra::{Point3, Rotation3, Vector3};

/// A triangle surface with a normal at each corner.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Surface {
    /// Corners.
    pub positions: Vec<Point3<f64>>,
    /// Unit normals, one a corner, pointing outward.
    pub normals: Vec<Vector3<f64>>,
    /// Corner numbers, three a triangle, anticlockwise seen from outside.
    pub triangles: Vec<[u32; 3]>,
}

impl Surface {
    fn corner(&mut self, position: Point3<f64>, normal: Vector3<f64>) -> u32 {
        let number = u32::try_from(self.positions.len()).unwrap_or(u32::MAX);
        self.positions.push(position);
        self.normals.push(normal);
        number
    }

    /// A flat four-sided face; corners anticlockwise seen from outside.
    fn quad(&mut self, corners: [Point3<f64>; 4]) {
        let normal = (corners[1] - corners[0])
            .cross(&(corners[2] - corners[0]))
            .try_normalize(1e-15)
            .unwrap_or_else(Vector3::z);
        let n = corners.map(|corner| self.corner(corner, normal));
        self.triangles.push([n[0], n[1], n[2]]);
        self.triangles.push([n[0], n[2], n[3]]);
    }

    /// Adds another surface, turned and then moved.
    pub fn append(&mut self, other: &Self, rotation: &Rotation3<f64>, shift: Vector3<f64>) {
        let first = u32::try_from(self.positions.len()).unwrap_or(u32::MAX);
        self.positions.extend(other.positions.iter().map(|p| rotation * p + shift));
        self.normals.extend(other.normals.iter().map(|n| rotation * n));
        self.triangles.extend(other.triangles.iter().map(|t| t.map(|n| n + first)));
    }

    /// Six times the enclosed volume; positive where the faces look outward.
    #[must_use]
    pub fn signed_volume(&self) -> f64 {
        self.triangles
            .iter()
            .map(|t| {
                let [a, b, c] = t.map(|n| self.positions[n as usize].coords);
                a.dot(&b.cross(&c))
            })
            .sum()
    }
}

/// Edges of a profile sharper than this (rad) stay sharp.
const CREASE: f64 = 0.7;

/// A piece of a profile between two of its (radius, height) points.
type ProfileLine = ((f64, f64), (f64, f64));

/// A profile of (radius, height) turned about Z. The profile runs with the outside
/// on its RIGHT going up, that is from the lower to the upper end of an outer face.
#[must_use]
pub fn revolved(profile: &[(f64, f64)], segments: u32) -> Surface {
    let mut surface = Surface::default();
    let lines: Vec<ProfileLine> = profile
        .windows(2)
        .filter(|w| (w[1].0 - w[0].0).hypot(w[1].1 - w[0].1) > 1e-12)
        .map(|w| (w[0], w[1]))
        .collect();
    let normal_of = |line: &ProfileLine| {
        let (r, z) = (line.1.0 - line.0.0, line.1.1 - line.0.1);
        let length = r.hypot(z);
        (z / length, -r / length)
    };
    for (number, line) in lines.iter().enumerate() {
        let own = normal_of(line);
        let joined = |other: Option<&ProfileLine>| {
            let Some(other) = other.map(&normal_of) else {
                return own;
            };
            let cosine = own.0 * other.0 + own.1 * other.1;
            if cosine < CREASE.cos() {
                return own;
            }
            let (r, z) = (own.0 + other.0, own.1 + other.1);
            let length = r.hypot(z);
            (r / length, z / length)
        };
        let lower = joined(number.checked_sub(1).and_then(|n| lines.get(n)));
        let upper = joined(lines.get(number + 1));
        let ring = |surface: &mut Surface, at: (f64, f64), normal: (f64, f64)| -> Vec<u32> {
            (0..=segments)
                .map(|step| {
                    let angle = TAU * f64::from(step) / f64::from(segments);
                    let (sin, cos) = angle.sin_cos();
                    surface.corner(
                        Point3::new(at.0 * cos, at.0 * sin, at.1),
                        Vector3::new(normal.0 * cos, normal.0 * sin, normal.1),
                    )
                })
                .collect()
        };
        let low = ring(&mut surface, line.0, lower);
        let high = ring(&mut surface, line.1, upper);
        for step in 0..segments as usize {
            if line.0.0 > 1e-12 {
                surface.triangles.push([low[step], low[step + 1], high[step + 1]]);
            }
            if line.1.0 > 1e-12 {
                surface.triangles.push([low[step], high[step + 1], high[step]]);
            }
        }
    }
    surface
}

/// A convex outline in the XY plane (anticlockwise) given thickness along Z, with
/// chamfered edges so that light catches them.
#[must_use]
pub fn plate(outline: &[(f64, f64)], thickness: f64, chamfer: f64) -> Surface {
    let mut surface = Surface::default();
    let count = outline.len();
    if count < 3 {
        return surface;
    }
    let (cx, cy) = outline.iter().fold((0.0, 0.0), |sum, p| (sum.0 + p.0, sum.1 + p.1));
    let scale = 1.0 / outline.iter().map(|_| 1.0).sum::<f64>();
    let (cx, cy) = (cx * scale, cy * scale);
    let inner: Vec<(f64, f64)> = outline
        .iter()
        .map(|&(x, y)| {
            let (dx, dy) = (x - cx, y - cy);
            let length = dx.hypot(dy).max(1e-12);
            let share = 1.0 - (chamfer / length).min(0.5);
            (cx + dx * share, cy + dy * share)
        })
        .collect();
    let half = 0.5 * thickness;
    let edge = (half - chamfer).max(0.2 * half);
    let at = |p: (f64, f64), z: f64| Point3::new(p.0, p.1, z);
    for (number, &a) in outline.iter().enumerate() {
        let next = (number + 1) % count;
        let b = outline[next];
        surface.quad([at(a, -edge), at(b, -edge), at(b, edge), at(a, edge)]);
        surface.quad([at(a, edge), at(b, edge), at(inner[next], half), at(inner[number], half)]);
        surface.quad([at(inner[number], -half), at(inner[next], -half), at(b, -edge), at(a, -edge)]);
    }
    for (z, up) in [(half, true), (-half, false)] {
        let normal = if up { Vector3::z() } else { -Vector3::z() };
        let numbers: Vec<u32> = inner.iter().map(|&p| surface.corner(at(p, z), normal)).collect();
        for pair in numbers[1..].windows(2) {
            let triangle = if up { [numbers[0], pair[0], pair[1]] } else { [numbers[0], pair[1], pair[0]] };
            surface.triangles.push(triangle);
        }
    }
    surface
}

/// The convex outline round circles in the plane (centre, radius), anticlockwise:
/// what a rocker's plate round its joints looks like.
#[must_use]
pub fn outline_round(circles: &[((f64, f64), f64)]) -> Vec<(f64, f64)> {
    let steps = 14_u32;
    let mut points: Vec<(f64, f64)> = circles
        .iter()
        .flat_map(|&((x, y), radius)| {
            (0..steps).map(move |step| {
                let angle = TAU * f64::from(step) / f64::from(steps);
                (x + radius * angle.cos(), y + radius * angle.sin())
            })
        })
        .collect();
    points.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let turn =
        |o: (f64, f64), a: (f64, f64), b: (f64, f64)| (a.0 - o.0) * (b.1 - o.1) - (a.1 - o.1) * (b.0 - o.0);
    // Andrew's monotone chain: lower side, then upper.
    let mut hull: Vec<(f64, f64)> = Vec::new();
    for pass in 0..2 {
        let floor = hull.len() + 1;
        let ordered: Box<dyn Iterator<Item = &(f64, f64)>> =
            if pass == 0 { Box::new(points.iter()) } else { Box::new(points.iter().rev()) };
        for &point in ordered {
            while hull.len() > floor && turn(hull[hull.len() - 2], hull[hull.len() - 1], point) <= 1e-15 {
                hull.pop();
            }
            hull.push(point);
        }
        hull.pop();
    }
    hull
}

/// A wire of a given radius wound about Z from height 0 to 1, at radius 1.
#[must_use]
pub fn coil(turns: f64, wire: f64) -> Surface {
    let mut surface = Surface::default();
    let (around, along) = (8_u32, 132_u32);
    let mut previous: Vec<u32> = Vec::new();
    for step in 0..=along {
        let share = f64::from(step) / f64::from(along);
        let (sin, cos) = (TAU * turns * share).sin_cos();
        let outward = Vector3::new(cos, sin, 0.0);
        let centre = Point3::new(cos, sin, share);
        let ring: Vec<u32> = (0..=around)
            .map(|turn| {
                let (s, c) = (TAU * f64::from(turn) / f64::from(around)).sin_cos();
                let normal = outward * c + Vector3::z() * s;
                surface.corner(centre + outward * (c * wire) + Vector3::z() * (s * wire * 0.2), normal)
            })
            .collect();
        for n in 0..previous.len().saturating_sub(1) {
            surface.triangles.push([previous[n], ring[n], ring[n + 1]]);
            surface.triangles.push([previous[n], ring[n + 1], previous[n + 1]]);
        }
        previous = ring;
    }
    surface
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::f64::consts::PI;

    #[test]
    fn a_turned_cylinder_has_its_volume_and_looks_outward() {
        let surface = revolved(&[(0.0, 0.0), (1.0, 0.0), (1.0, 2.0), (0.0, 2.0)], 96);
        let volume = surface.signed_volume() / 6.0;
        assert!((volume - 2.0 * PI).abs() < 0.01, "{volume}");
        for (position, normal) in surface.positions.iter().zip(&surface.normals) {
            assert!((normal.norm() - 1.0).abs() < 1e-9);
            let outward = position.coords - Vector3::new(0.0, 0.0, 1.0);
            assert!(outward.dot(normal) > -1e-9);
        }
    }

    #[test]
    fn a_plate_looks_outward() {
        let square = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (0.0, 1.0)];
        let surface = plate(&square, 0.1, 0.01);
        let volume = surface.signed_volume() / 6.0;
        assert!(volume > 0.09 && volume < 0.1, "{volume}");
    }

    #[test]
    fn a_coil_looks_outward() {
        let surface = coil(5.0, 0.1);
        for triangle in &surface.triangles {
            let [a, b, c] = triangle.map(|n| surface.positions[n as usize]);
            let face = (b - a).cross(&(c - a));
            assert!(face.dot(&surface.normals[triangle[0] as usize]) > -1e-9);
        }
    }

    #[test]
    fn the_outline_round_circles_is_convex_and_holds_them() {
        let circles = [((0.0, 0.0), 1.0), ((4.0, 0.0), 0.5), ((1.0, 3.0), 0.5)];
        let hull = outline_round(&circles);
        assert!(hull.len() > 8);
        for n in 0..hull.len() {
            let (a, b) = (hull[n], hull[(n + 1) % hull.len()]);
            for ((x, y), _) in circles {
                assert!((b.0 - a.0) * (y - a.1) - (b.1 - a.1) * (x - a.0) > 0.0);
            }
        }
    }
}
