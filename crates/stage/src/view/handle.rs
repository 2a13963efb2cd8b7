//! Handles: what a point is pulled by. Where they appear on the screen, which one is under the pointer,
//! and how far a pull along one has gone.

use nalgebra::{Point3, Vector2, Vector3};

use crate::camera::projection::{Pixel, Ray, StageProjection};

/// A handle of a point.
#[derive(Debug, Clone, PartialEq)]
pub struct HandleView {
    /// Its key, handed back when it is picked or pulled.
    pub key: String,
    /// What it means, and how far it has been pulled: finished text.
    pub label: String,
    /// The point it belongs to.
    pub at: Point3<f64>,
    /// Unit direction; in a plane, the first of two.
    pub along: Vector3<f64>,
    /// In a plane, the unit direction square to the first.
    pub across: Option<Vector3<f64>>,
    /// Whether the arrow keys act along it.
    pub chosen: bool,
}

/// Length of an arrow that is square to the line of sight, in pixels.
const LENGTH: f64 = 62.0;
/// So much of it next to the point is left free for the point itself, in pixels.
const FREE: f64 = 12.0;
/// An arrow foreshortened to less than this is not offered, in pixels: along the line of sight a pixel
/// would be worth a long way.
const SHORTEST: f64 = 20.0;
/// Radius of a plate's ring, in pixels.
const RING: f64 = 40.0;
/// A ring narrower than this share of its width is not offered.
const OPEN: f64 = 0.2;
/// How near the pointer must come, in pixels.
const GRIP: f64 = 6.0;
/// Sine of the angle to the line of sight below which a line, or a plane, cannot be pulled along.
const PARALLEL: f64 = 0.05;

/// A handle as it appears on the screen.
#[derive(Debug, Clone, PartialEq)]
pub struct Mark {
    /// Its number among the handles.
    pub number: usize,
    /// Its shape.
    pub shape: MarkShape,
}

/// The shape of a handle on the screen.
#[derive(Debug, Clone, PartialEq)]
pub enum MarkShape {
    /// An arrow away from the point.
    Arrow {
        /// Where it starts, beside the point.
        from: Pixel,
        /// Where it points.
        tip: Pixel,
    },
    /// A ring about the point that lies in the plane.
    Ring(Vec<Pixel>),
}

impl Mark {
    /// Where its label likes to stand: beside what, and in which direction.
    #[must_use]
    pub fn label_at(&self) -> (Pixel, Vector2<f64>) {
        match &self.shape {
            MarkShape::Arrow { from, tip } => (*tip, tip - from),
            MarkShape::Ring(points) => {
                let lowest = points.iter().max_by(|a, b| a.y.total_cmp(&b.y)).copied();
                (lowest.unwrap_or_else(Pixel::origin), Vector2::new(0.0, 1.0))
            }
        }
    }

    /// Its lines.
    #[must_use]
    pub fn line(&self) -> Vec<Pixel> {
        match &self.shape {
            MarkShape::Arrow { from, tip } => vec![*from, *tip],
            MarkShape::Ring(points) => points.clone(),
        }
    }

    fn distance(&self, to: Pixel) -> f64 {
        let line = self.line();
        line.windows(2).map(|pair| from_segment(to, pair[0], pair[1])).fold(f64::INFINITY, f64::min)
    }
}

/// The handles that can be pulled in a picture.
#[must_use]
pub fn marks(handles: &[HandleView], lens: &StageProjection) -> Vec<Mark> {
    let mark = |(number, handle): (usize, &HandleView)| {
        let at = lens.project(handle.at).filter(|_| !lens.is_cut(handle.at))?;
        let scale = lens.metres_per_pixel(handle.at);
        let shape = match handle.across {
            None => arrow(handle, lens, at, scale)?,
            Some(across) => ring(handle, across, lens, scale)?,
        };
        Some(Mark { number, shape })
    };
    handles.iter().enumerate().filter_map(mark).collect()
}

fn arrow(handle: &HandleView, lens: &StageProjection, at: Pixel, scale: f64) -> Option<MarkShape> {
    let tip = lens.project(handle.at + handle.along * (LENGTH * scale))?;
    let along = tip - at;
    let length = along.norm();
    // Beside the middle of a picture with depth an arrow may run along its line of sight and still show.
    along_line(&lens.ray(at), handle.at, handle.along)?;
    (length > SHORTEST).then(|| MarkShape::Arrow { from: at + along * (FREE / length), tip })
}

fn ring(handle: &HandleView, across: Vector3<f64>, lens: &StageProjection, scale: f64) -> Option<MarkShape> {
    let at = lens.project(handle.at)?;
    let open = lens.ray(at).direction.dot(&handle.along.cross(&across)).abs();
    if open < OPEN {
        return None;
    }
    let steps = 48_i32;
    let point = |step: i32| {
        let (sin, cos) = (f64::from(step) / f64::from(steps) * std::f64::consts::TAU).sin_cos();
        lens.project(handle.at + (handle.along * cos + across * sin) * (RING * scale))
    };
    (0..=steps).map(point).collect::<Option<Vec<Pixel>>>().map(MarkShape::Ring)
}

/// The handle under a pixel, by its number, and how far from the pixel it is drawn, in pixels.
#[must_use]
pub fn nearest(handles: &[HandleView], lens: &StageProjection, pixel: Pixel) -> Option<(usize, f64)> {
    let near = marks(handles, lens).into_iter().map(|mark| (mark.number, mark.distance(pixel)));
    near.filter(|(_, distance)| *distance <= GRIP).min_by(|a, b| a.1.total_cmp(&b.1))
}

fn from_segment(at: Pixel, a: Pixel, b: Pixel) -> f64 {
    let along = b - a;
    let share = ((at - a).dot(&along) / along.norm_squared().max(1e-12)).clamp(0.0, 1.0);
    (at - (a + along * share)).norm()
}

/// How far from its point the pointer stands along a handle (metres; the second only in a plane); `None`
/// where the line or the plane is seen from its end.
#[must_use]
pub fn amounts(handle: &HandleView, lens: &StageProjection, pixel: Pixel) -> Option<[f64; 2]> {
    let ray = lens.ray(pixel);
    match handle.across {
        None => along_line(&ray, handle.at, handle.along).map(|along| [along, 0.0]),
        Some(across) => in_plane(&ray, handle.at, handle.along, across),
    }
}

/// How far along a line, from a point of it in a unit direction, the place is that a line of sight comes
/// nearest to, metres; `None` where both run nearly the same way.
#[must_use]
pub fn along_line(ray: &Ray, point: Point3<f64>, direction: Vector3<f64>) -> Option<f64> {
    let same = ray.direction.dot(&direction);
    let square = 1.0 - same * same;
    if square < PARALLEL * PARALLEL {
        return None;
    }
    let from = ray.origin - point;
    Some((from.dot(&direction) - from.dot(&ray.direction) * same) / square)
}

/// Where a line of sight meets the plane of two unit directions square to each other, counted along both
/// from a point of it, metres; `None` where it runs nearly in the plane.
#[must_use]
pub fn in_plane(
    ray: &Ray,
    point: Point3<f64>,
    along: Vector3<f64>,
    across: Vector3<f64>,
) -> Option<[f64; 2]> {
    let normal = along.cross(&across);
    if ray.direction.dot(&normal).abs() < PARALLEL {
        return None;
    }
    let at = ray.meets_plane(point, normal)? - point;
    Some([at.dot(&along), at.dot(&across)])
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::camera::projection::ScreenRect;
    use crate::camera::turntable::Turntable;

    fn lens(azimuth: f64, elevation: f64, field_of_view: f64) -> StageProjection {
        let focus = Point3::new(0.0, 0.4, 0.3);
        let camera = Turntable { focus, azimuth, elevation, height: 1.0, field_of_view };
        StageProjection::new(camera, ScreenRect::new(100.0, 50.0, 1000.0, 700.0))
    }

    fn handle(along: Vector3<f64>, across: Option<Vector3<f64>>) -> HandleView {
        let at = Point3::new(0.1, 0.25, 0.2);
        HandleView { key: "h".into(), label: "h".into(), at, along, across, chosen: false }
    }

    #[test]
    fn the_nearest_place_on_a_line_is_square_to_both() {
        // The foot of the common perpendicular of two skew lines, by its definition.
        let ray =
            Ray { origin: Point3::new(2.0, -0.3, 1.1), direction: Vector3::new(-2.0, 0.4, -0.7).normalize() };
        let (point, direction) = (Point3::new(0.1, 0.2, 0.3), Vector3::new(0.2, 1.0, -0.1).normalize());
        let foot = point + direction * along_line(&ray, point, direction).unwrap();
        let other = ray.at((foot - ray.origin).dot(&ray.direction));
        let between = foot - other;
        assert!(between.dot(&direction).abs() < 1e-12 && between.dot(&ray.direction).abs() < 1e-12);
        assert!(between.norm() > 0.01, "they do not meet");
    }

    #[test]
    fn what_is_seen_from_its_end_is_not_pulled() {
        let ray = Ray { origin: Point3::new(2.0, 0.0, 0.0), direction: -Vector3::x() };
        let slant = |degrees: f64| {
            let (sin, cos) = degrees.to_radians().sin_cos();
            Vector3::new(cos, sin, 0.0)
        };
        let origin = Point3::origin();
        assert_eq!(along_line(&ray, origin, slant(0.0)), None);
        assert_eq!(along_line(&ray, origin, slant(2.8)), None);
        assert!(along_line(&ray, origin, slant(3.0)).is_some());
        assert_eq!(in_plane(&ray, origin, slant(2.8), Vector3::z()), None);
        assert!(in_plane(&ray, origin, slant(3.0), Vector3::z()).is_some());
        // Behind the eye there is no place under the pointer.
        assert_eq!(in_plane(&ray, Point3::new(3.0, 0.0, 0.0), Vector3::y(), Vector3::z()), None);
    }

    #[test]
    fn the_place_under_the_pointer_comes_back() {
        let along = Vector3::new(0.3, 0.9, 0.2).normalize();
        let across = along.cross(&Vector3::z()).normalize();
        for field_of_view in [0.0, 0.5] {
            let lens = lens(0.9, 0.4, field_of_view);
            let line = handle(along, None);
            let at = lens.project(line.at + along * 0.0123).unwrap();
            let [far, _] = amounts(&line, &lens, at).unwrap();
            assert!((far - 0.0123).abs() < 1e-12, "{far}");
            let plate = handle(along, Some(across));
            let at = lens.project(plate.at + along * 0.0123 - across * 0.02).unwrap();
            let [u, v] = amounts(&plate, &lens, at).unwrap();
            assert!((u - 0.0123).abs() < 1e-12 && (v + 0.02).abs() < 1e-12, "{u} {v}");
        }
    }

    #[test]
    fn an_arrow_is_found_along_its_length_and_leaves_the_point_free() {
        let lens = lens(0.0, 0.0, 0.0);
        let all = [handle(Vector3::x(), None), handle(Vector3::y(), None), handle(Vector3::z(), None)];
        // From straight in front the axis toward the eye is not offered.
        assert_eq!(marks(&all, &lens).iter().map(|mark| mark.number).collect::<Vec<_>>(), [1, 2]);
        let point = lens.project(all[0].at).unwrap();
        assert_eq!(nearest(&all, &lens, point), None);
        for (mark, number) in marks(&all, &lens).iter().zip([1, 2]) {
            let MarkShape::Arrow { from, tip } = mark.shape else { panic!("{mark:?}") };
            assert!(((tip - point).norm() - LENGTH).abs() < 1e-9);
            assert_eq!(
                nearest(&all, &lens, from + (tip - from) * 0.7).map(|(number, _)| number),
                Some(number)
            );
            let beside = Vector2::new(tip.y - from.y, from.x - tip.x).normalize() * (GRIP + 1.0);
            assert_eq!(nearest(&all, &lens, from + (tip - from) * 0.7 + beside), None);
        }
    }

    #[test]
    fn a_ring_lies_in_its_plane() {
        let lens = lens(0.9, 0.4, 0.5);
        let plate = [handle(Vector3::x(), Some(Vector3::z()))];
        let MarkShape::Ring(points) = &marks(&plate, &lens)[0].shape else { panic!("a ring") };
        for at in points {
            let [u, v] = amounts(&plate[0], &lens, *at).unwrap();
            assert!((u.hypot(v) - RING * lens.metres_per_pixel(plate[0].at)).abs() < 1e-9);
            assert_eq!(nearest(&plate, &lens, *at).map(|(number, _)| number), Some(0));
        }
        // Edge on there is none.
        let edge = self::lens(0.0, 0.0, 0.0);
        assert!(marks(&plate, &edge).is_empty());
    }
}
