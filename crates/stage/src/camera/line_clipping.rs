//! What of a line can be seen: in front of the eye, and within a rectangle.

use nalgebra::Point3;

use crate::camera::projection::{Pixel, ScreenRect, StageProjection};

/// Nearest distance (m) before the eye that is drawn.
const NEAREST: f64 = 0.01;

/// The ends on the screen of the part of a line that lies before the eye.
#[must_use]
pub fn visible_part(lens: &StageProjection, a: Point3<f64>, b: Point3<f64>) -> Option<(Pixel, Pixel)> {
    if lens.camera.is_flat() {
        return Some((lens.project(a)?, lens.project(b)?));
    }
    let (depth_a, depth_b) = (lens.depth(a), lens.depth(b));
    if depth_a < NEAREST && depth_b < NEAREST {
        return None;
    }
    let cut = |p: Point3<f64>, q: Point3<f64>, depth_p: f64, depth_q: f64| {
        if depth_p >= NEAREST { p } else { p + (q - p) * ((NEAREST - depth_p) / (depth_q - depth_p)) }
    };
    let (near_a, near_b) = (cut(a, b, depth_a, depth_b), cut(b, a, depth_b, depth_a));
    Some((lens.project(near_a)?, lens.project(near_b)?))
}

/// The part of a line within a rectangle (Liang and Barsky's clipping).
#[must_use]
pub fn clipped(a: Pixel, b: Pixel, rect: &ScreenRect) -> Option<(Pixel, Pixel)> {
    let along = b - a;
    let (mut enters, mut leaves) = (0.0_f64, 1.0_f64);
    for (speed, room) in [
        (-along.x, a.x - rect.left),
        (along.x, rect.right() - a.x),
        (-along.y, a.y - rect.top),
        (along.y, rect.bottom() - a.y),
    ] {
        if speed.abs() < 1e-12 {
            if room < 0.0 {
                return None;
            }
        } else if speed < 0.0 {
            enters = enters.max(room / speed);
        } else {
            leaves = leaves.min(room / speed);
        }
    }
    (enters <= leaves).then(|| (a + along * enters, a + along * leaves))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::camera::turntable::Turntable;

    #[test]
    fn a_line_is_cut_at_the_rectangle() {
        let rect = ScreenRect::new(0.0, 0.0, 100.0, 50.0);
        let (a, b) = clipped(Pixel::new(-50.0, 25.0), Pixel::new(150.0, 25.0), &rect).expect("crosses");
        assert!((a.x - 0.0).abs() < 1e-9 && (b.x - 100.0).abs() < 1e-9);
        assert!(clipped(Pixel::new(-5.0, 60.0), Pixel::new(150.0, 60.0), &rect).is_none());
        let inside = (Pixel::new(5.0, 6.0), Pixel::new(7.0, 8.0));
        assert_eq!(clipped(inside.0, inside.1, &rect), Some(inside));
    }

    #[test]
    fn a_line_through_the_eye_shows_its_part_in_front() {
        let lens = StageProjection {
            camera: Turntable {
                focus: Point3::origin(),
                azimuth: 0.0,
                elevation: 0.0,
                height: 1.0,
                field_of_view: 0.6,
            },
            rect: ScreenRect::new(0.0, 0.0, 800.0, 600.0),
            cut: None,
        };
        let behind = lens.camera.eye() + lens.camera.toward_eye() * 3.0;
        let off = Point3::new(0.0, 0.3, 0.0);
        assert!(lens.project(behind).is_none());
        assert!(visible_part(&lens, off, behind).is_some());
        assert!(visible_part(&lens, behind, behind + lens.camera.toward_eye()).is_none());
    }
}
