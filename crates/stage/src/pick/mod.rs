//! What the pointer is on.

pub(crate) mod gesture;
pub(crate) mod pick_lines;
pub mod pointer_input;

use nalgebra::{Point3, Vector3};

use crate::camera::projection::{Pixel, Ray, StageProjection};
use crate::pick::pick_lines::bones;
use crate::view::{StageView, WheelSlot, WheelView};

/// What was found under the pointer.
#[derive(Debug, Clone, PartialEq)]
pub enum Target {
    /// A handle of the selected point; its key.
    Handle {
        /// The handle's key.
        key: String,
        /// The point it belongs to.
        at: Point3<f64>,
    },
    /// A point that can be pulled; its key.
    Point {
        /// The point's key.
        key: String,
        /// Where it is.
        at: Point3<f64>,
    },
    /// A tyre.
    Tyre {
        /// Which wheel.
        place: WheelSlot,
        /// The point of the tyre under the pointer.
        at: Point3<f64>,
    },
    /// Some other part of the car; it can only be turned about.
    Part {
        /// The point of it under the pointer.
        at: Point3<f64>,
    },
    /// The ground.
    Ground {
        /// The point of it under the pointer.
        at: Point3<f64>,
    },
    /// Nothing.
    Nothing,
}

impl Target {
    /// The place in the car under the pointer.
    #[must_use]
    pub const fn at(&self) -> Option<Point3<f64>> {
        match self {
            Self::Handle { at, .. }
            | Self::Point { at, .. }
            | Self::Tyre { at, .. }
            | Self::Part { at }
            | Self::Ground { at } => Some(*at),
            Self::Nothing => None,
        }
    }
}

/// How near (px) the pointer must come to a point.
const GRIP: f64 = 9.0;
/// How far (m) off the ground still counts as the ground under the pointer.
const GROUND_REACH: f64 = 40.0;

/// What is under a pixel: a point before all else, since points are small; then the
/// nearest of tyres and parts; then the ground.
#[must_use]
pub fn under(car: &StageView, lens: &StageProjection, pixel: Pixel) -> Target {
    if let Some((point, _)) = point_under(car, lens, pixel) {
        return point;
    }
    let ray = lens.ray(pixel);
    let tyre = car
        .wheels
        .iter()
        .filter_map(|wheel| Some((wheel, tyre_distance(&ray, wheel)?)))
        .filter(|(_, distance)| !lens.is_cut(ray.at(*distance)))
        .min_by(|a, b| a.1.total_cmp(&b.1));
    let part = car
        .parts
        .iter()
        .flat_map(|part| bones(&part.kind))
        .filter_map(|(a, b, radius)| bone_distance(&ray, a, b, radius))
        .filter(|distance| !lens.is_cut(ray.at(*distance)))
        .min_by(f64::total_cmp);
    match (tyre, part) {
        // A part seen through the wheel's spokes or in front of the tyre.
        (Some((_, to_tyre)), Some(to_part)) if to_part < to_tyre => Target::Part { at: ray.at(to_part) },
        (Some((wheel, distance)), _) => Target::Tyre { place: wheel.place, at: ray.at(distance) },
        (None, Some(distance)) => Target::Part { at: ray.at(distance) },
        (None, None) => ray
            .meets_plane(car.ground.point, car.ground.normal)
            .filter(|at| (at - car.ground.point).norm() < GROUND_REACH)
            .map_or(Target::Nothing, |at| Target::Ground { at }),
    }
}

/// The point under a pixel, and how far from the pixel it is drawn, in pixels.
#[must_use]
pub fn point_under(car: &StageView, lens: &StageProjection, pixel: Pixel) -> Option<(Target, f64)> {
    car.points
        .iter()
        .filter(|point| !lens.is_cut(point.at))
        .filter_map(|point| {
            let away = (lens.project(point.at)? - pixel).norm();
            (away <= GRIP).then_some((point, away))
        })
        // Of two that cover each other, the one in front.
        .min_by(|a, b| {
            if (a.1 - b.1).abs() < 1.0 {
                lens.depth(a.0.at).total_cmp(&lens.depth(b.0.at))
            } else {
                a.1.total_cmp(&b.1)
            }
        })
        .map(|(point, away)| (Target::Point { key: point.key.clone(), at: point.at }, away))
}

/// Distance along a ray to a tyre, taken as a cylinder with its hole closed by the rim.
#[must_use]
pub fn tyre_distance(ray: &Ray, wheel: &WheelView) -> Option<f64> {
    let axis = wheel.spin_axis.try_normalize(1e-12)?;
    let half = 0.5 * wheel.width;
    let from = ray.origin - wheel.centre;
    let (along_from, along_dir) = (from.dot(&axis), ray.direction.dot(&axis));
    let (across_from, across_dir) = (from - axis * along_from, ray.direction - axis * along_dir);
    let mut hits: Vec<f64> = Vec::new();
    // The tread: |across_from + t·across_dir| = radius.
    let a = across_dir.norm_squared();
    if a > 1e-12 {
        let b = across_from.dot(&across_dir);
        let c = across_from.norm_squared() - wheel.radius * wheel.radius;
        let root = b * b - a * c;
        if root >= 0.0 {
            let t = (-b - root.sqrt()) / a;
            if (along_from + t * along_dir).abs() <= half {
                hits.push(t);
            }
        }
    }
    // The two faces.
    if along_dir.abs() > 1e-12 {
        for face in [-half, half] {
            let t = (face - along_from) / along_dir;
            if (across_from + across_dir * t).norm() <= wheel.radius {
                hits.push(t);
            }
        }
    }
    hits.into_iter().filter(|t| *t > 0.0).min_by(f64::total_cmp)
}

/// Distance along a ray to where it passes within a radius of a line segment.
#[must_use]
pub fn bone_distance(ray: &Ray, a: Point3<f64>, b: Point3<f64>, radius: f64) -> Option<f64> {
    let along = b - a;
    let from = ray.origin - a;
    let (d_d, d_a, a_a) = (1.0, ray.direction.dot(&along), along.norm_squared());
    let (d_f, a_f) = (ray.direction.dot(&from), along.dot(&from));
    let determinant = d_d * a_a - d_a * d_a;
    // Share of the way along the segment that comes nearest to the ray.
    let share =
        if determinant.abs() < 1e-12 { 0.0 } else { ((a_f * d_d - d_a * d_f) / determinant).clamp(0.0, 1.0) };
    let near = a + along * share;
    let distance = ray.direction.dot(&(near - ray.origin));
    (distance > 0.0 && (ray.at(distance) - near).norm() <= radius).then_some(distance - radius)
}

/// Whether a tyre stands between the eye and a point.
#[must_use]
pub fn hidden_by_tyre(car: &StageView, lens: &StageProjection, at: Point3<f64>) -> bool {
    let Some(pixel) = lens.project(at) else {
        return false;
    };
    let ray = lens.ray(pixel);
    let to_point = (at - ray.origin).dot(&ray.direction);
    car.wheels.iter().filter_map(|wheel| tyre_distance(&ray, wheel)).any(|to_tyre| to_tyre < to_point)
}

/// How far a wheel has to travel so that a point of its tyre grabbed before comes
/// under the pointer: the pointer's height over the grabbed point, in the upright
/// plane through it that faces the eye. None looking straight down.
#[must_use]
pub fn travel_under(lens: &StageProjection, grabbed: Point3<f64>, pointer: Pixel) -> Option<f64> {
    let eye = lens.camera.toward_eye();
    let facing = Vector3::new(eye.x, eye.y, 0.0);
    // Nearly from above a pixel would be worth a large travel: no pull there.
    if facing.norm() < 0.25 {
        return None;
    }
    let at = lens.ray(pointer).meets_plane(grabbed, facing)?;
    Some(at.z - grabbed.z)
}

/// The steer angle (rad, + = left) by which a wheel has to turn so that a point of
/// its tyre grabbed before follows the pointer sideways.
///
/// Near the middle of the tyre, seen from where it turns away from the pointer, no
/// angle follows it; there the tyre's radius is the lever, so that a pull to the
/// right of the picture still turns the wheel evenly.
#[must_use]
pub fn steer_under(lens: &StageProjection, wheel: &WheelView, grabbed: Point3<f64>, pointer: Pixel) -> f64 {
    let at = lens.under_pixel(pointer, grabbed);
    let right = lens.camera.right();
    let moved = (at - grabbed).dot(&right);
    let arm = grabbed - wheel.centre;
    // Movement to the picture's right per radian of left turn.
    let lever = Vector3::new(-arm.y, arm.x, 0.0).dot(&right);
    let least = 0.35 * wheel.radius.max(0.05);
    if lever.abs() < least { moved / if lever < 0.0 { -least } else { least } } else { moved / lever }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::camera::projection::ScreenRect;
    use crate::camera::turntable::Turntable;
    use crate::view::{Emphasis, PointView};

    fn wheel() -> WheelView {
        WheelView {
            place: WheelSlot::FrontLeft,
            centre: Point3::new(0.0, 0.75, 0.26),
            spin_axis: Vector3::y(),
            radius: 0.26,
            width: 0.2,
            rim_radius: 0.165,
            contact: Point3::new(0.0, 0.75, 0.0),
            steers: true,
        }
    }

    fn lens(azimuth: f64, elevation: f64, field_of_view: f64) -> StageProjection {
        StageProjection {
            camera: Turntable {
                focus: Point3::new(0.0, 0.4, 0.26),
                azimuth,
                elevation,
                height: 1.5,
                field_of_view,
            },
            rect: ScreenRect::new(0.0, 0.0, 1200.0, 800.0),
            cut: None,
        }
    }

    #[test]
    fn a_ray_meets_tread_and_face_where_they_are() {
        let onto_tread = Ray { origin: Point3::new(2.0, 0.75, 0.26), direction: -Vector3::x() };
        assert!((tyre_distance(&onto_tread, &wheel()).expect("hits") - 1.74).abs() < 1e-9);
        let onto_face = Ray { origin: Point3::new(0.1, 2.0, 0.3), direction: -Vector3::y() };
        assert!((tyre_distance(&onto_face, &wheel()).expect("hits") - 1.15).abs() < 1e-9);
        let past = Ray { origin: Point3::new(0.3, 2.0, 0.3), direction: -Vector3::y() };
        assert!(tyre_distance(&past, &wheel()).is_none());
        let away = Ray { origin: Point3::new(2.0, 0.75, 0.26), direction: Vector3::x() };
        assert!(tyre_distance(&away, &wheel()).is_none());
    }

    #[test]
    fn a_point_goes_before_the_tyre_round_it() {
        let mut car = StageView { wheels: vec![wheel()], ..StageView::default() };
        let lens = lens(0.6, 0.3, 0.4);
        let pixel = lens.project(wheel().centre).expect("in front");
        assert!(matches!(under(&car, &lens, pixel), Target::Tyre { .. }));
        car.points.push(PointView {
            key: "upper".into(),
            name: "Upper ball joint".into(),
            at: wheel().centre,
            emphasis: Emphasis::Plain,
        });
        assert!(matches!(under(&car, &lens, pixel), Target::Point { .. }));
        let sky = under(&car, &lens, Pixel::new(5.0, 5.0));
        assert!(!matches!(sky, Target::Tyre { .. } | Target::Point { .. }));
    }

    #[test]
    fn a_pulled_tyre_follows_the_pointer() {
        for fov in [0.0, 0.45] {
            for elevation in [0.0, 0.5] {
                let lens = lens(0.7, elevation, fov);
                let grabbed = Point3::new(0.1, 0.85, 0.4);
                let lifted = grabbed + Vector3::z() * 0.037;
                let pointer = lens.project(lifted).expect("in front");
                let travel = travel_under(&lens, grabbed, pointer).expect("not from above");
                assert!((travel - 0.037).abs() < 1e-9, "{travel}");
            }
        }
        assert!(travel_under(&lens(0.0, 1.57, 0.0), Point3::origin(), Pixel::new(0.0, 0.0)).is_none());
    }

    #[test]
    fn a_turned_tyre_follows_the_pointer() {
        // From the front, the tread ahead of the wheel centre is grabbed: pulling it
        // to the car's left, the picture's right, turns left.
        let lens = lens(0.0, 0.0, 0.0);
        let grabbed = wheel().centre + Vector3::new(0.26, 0.0, 0.0);
        let pointer = lens.project(grabbed + Vector3::y() * 0.02).expect("in front");
        let steer = steer_under(&lens, &wheel(), grabbed, pointer);
        assert!((steer - 0.02 / 0.26).abs() < 1e-9, "{steer}");
        // From behind, grabbing the rear of the tread and pulling it to the car's
        // left turns right.
        let behind =
            StageProjection { camera: Turntable { azimuth: std::f64::consts::PI, ..lens.camera }, ..lens };
        let rear = wheel().centre - Vector3::new(0.26, 0.0, 0.0);
        let pointer = behind.project(rear + Vector3::y() * 0.02).expect("in front");
        assert!(steer_under(&behind, &wheel(), rear, pointer) < 0.0);
    }

    #[test]
    fn a_rod_is_hit_within_its_radius_only() {
        let ray = Ray { origin: Point3::new(1.0, 0.0, 0.0), direction: -Vector3::x() };
        let rod = |z: f64| bone_distance(&ray, Point3::new(0.0, -1.0, z), Point3::new(0.0, 1.0, z), 0.01);
        assert!((rod(0.0).expect("hits") - 0.99).abs() < 1e-9);
        assert!(rod(0.011).is_none());
    }
}
