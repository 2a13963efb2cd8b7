//! From the world to the screen and back, for one camera and one rectangle.

use nalgebra::{Point2, Point3, Vector3};

use crate::camera::turntable::Turntable;

/// A place on the screen in points of the panels, from the top left, y down.
pub type Pixel = Point2<f64>;

/// A rectangle on the screen in points of the panels.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ScreenRect {
    /// Left edge.
    pub left: f64,
    /// Top edge.
    pub top: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
}

impl ScreenRect {
    /// A rectangle by its edges and size; sizes below one pixel become one.
    #[must_use]
    pub fn new(left: f64, top: f64, width: f64, height: f64) -> Self {
        Self { left, top, width: width.max(1.0), height: height.max(1.0) }
    }

    /// Right edge.
    #[must_use]
    pub fn right(&self) -> f64 {
        self.left + self.width
    }

    /// Bottom edge.
    #[must_use]
    pub fn bottom(&self) -> f64 {
        self.top + self.height
    }

    /// Its middle.
    #[must_use]
    pub fn middle(&self) -> Pixel {
        Pixel::new(self.left + 0.5 * self.width, self.top + 0.5 * self.height)
    }

    /// Whether a pixel lies within.
    #[must_use]
    pub fn contains(&self, at: Pixel) -> bool {
        at.x >= self.left && at.x <= self.right() && at.y >= self.top && at.y <= self.bottom()
    }

    /// Width over height.
    #[must_use]
    pub fn aspect(&self) -> f64 {
        self.width / self.height
    }

    /// Whether two rectangles share more than an edge.
    #[must_use]
    pub fn overlaps(&self, other: &Self) -> bool {
        self.left < other.right()
            && other.left < self.right()
            && self.top < other.bottom()
            && other.top < self.bottom()
    }

    /// The same rectangle, smaller by a margin on every side.
    #[must_use]
    pub fn shrunk(&self, margin: f64) -> Self {
        Self::new(
            self.left + margin,
            self.top + margin,
            self.width - 2.0 * margin,
            self.height - 2.0 * margin,
        )
    }
}

/// A half-line of sight.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ray {
    /// Where it starts.
    pub origin: Point3<f64>,
    /// Unit direction, away from the eye.
    pub direction: Vector3<f64>,
}

impl Ray {
    /// The point so far along, in metres.
    #[must_use]
    pub fn at(&self, distance: f64) -> Point3<f64> {
        self.origin + self.direction * distance
    }

    /// Where it meets a plane in front of it, or none where it runs along it.
    #[must_use]
    pub fn meets_plane(&self, point: Point3<f64>, normal: Vector3<f64>) -> Option<Point3<f64>> {
        let slope = self.direction.dot(&normal);
        if slope.abs() < 1e-9 * normal.norm().max(1e-12) {
            return None;
        }
        let distance = (point - self.origin).dot(&normal) / slope;
        (distance > 0.0).then(|| self.at(distance))
    }
}

/// A camera looking into a rectangle of the screen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StageProjection {
    /// The camera.
    pub camera: Turntable,
    /// The rectangle it fills.
    pub rect: ScreenRect,
    /// Depth (m, as [`StageProjection::depth`]) behind which nothing is drawn or picked; none =
    /// everything is.
    pub cut: Option<f64>,
}

impl StageProjection {
    /// A camera looking into a rectangle, nothing cut off.
    #[must_use]
    pub const fn new(camera: Turntable, rect: ScreenRect) -> Self {
        Self { camera, rect, cut: None }
    }

    /// Whether a point lies behind the cut.
    #[must_use]
    pub fn is_cut(&self, at: Point3<f64>) -> bool {
        self.cut.is_some_and(|cut| self.depth(at) > cut)
    }

    /// Distance in front of the eye, along the middle line of sight.
    #[must_use]
    pub fn depth(&self, at: Point3<f64>) -> f64 {
        (self.camera.eye() - at).dot(&self.camera.toward_eye())
    }

    /// Metres a pixel covers at a point's depth.
    #[must_use]
    pub fn metres_per_pixel(&self, at: Point3<f64>) -> f64 {
        let at_focus = self.camera.height / self.rect.height;
        if self.camera.is_flat() {
            at_focus
        } else {
            at_focus * self.depth(at).max(1e-6) / self.camera.distance()
        }
    }

    /// Where a point appears, or none where it stands behind the eye.
    #[must_use]
    pub fn project(&self, at: Point3<f64>) -> Option<Pixel> {
        if !self.camera.is_flat() && self.depth(at) < 1e-3 {
            return None;
        }
        let offset = at - self.camera.focus;
        let scale = 1.0 / self.metres_per_pixel(at);
        let middle = self.rect.middle();
        Some(Pixel::new(
            middle.x + offset.dot(&self.camera.right()) * scale,
            middle.y - offset.dot(&self.camera.up()) * scale,
        ))
    }

    /// The line of sight through a pixel.
    #[must_use]
    pub fn ray(&self, at: Pixel) -> Ray {
        let scale = self.camera.height / self.rect.height;
        let off = at - self.rect.middle();
        let on_focus_plane =
            self.camera.focus + self.camera.right() * (off.x * scale) - self.camera.up() * (off.y * scale);
        if self.camera.is_flat() {
            let direction = -self.camera.toward_eye();
            Ray { origin: on_focus_plane - direction * self.camera.distance(), direction }
        } else {
            let origin = self.camera.eye();
            Ray { origin, direction: (on_focus_plane - origin).normalize() }
        }
    }

    /// The point under a pixel at the depth of another point.
    #[must_use]
    pub fn under_pixel(&self, at: Pixel, depth_of: Point3<f64>) -> Point3<f64> {
        self.ray(at).meets_plane(depth_of, self.camera.toward_eye()).unwrap_or(depth_of)
    }

    /// The camera panned so that a grabbed point appears under a pixel.
    #[must_use]
    pub fn panned_to(&self, grabbed: Point3<f64>, pointer: Pixel) -> Turntable {
        let Some(now) = self.project(grabbed) else {
            return self.camera;
        };
        let scale = self.metres_per_pixel(grabbed);
        self.camera.panned((now.x - pointer.x) * scale, (pointer.y - now.y) * scale)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lens(field_of_view: f64) -> StageProjection {
        StageProjection {
            camera: Turntable {
                focus: Point3::new(-1.0, 0.2, 0.3),
                azimuth: 0.8,
                elevation: 0.35,
                height: 2.0,
                field_of_view,
            },
            rect: ScreenRect::new(300.0, 40.0, 900.0, 600.0),
            cut: None,
        }
    }

    const POINT: Point3<f64> = Point3::new(-0.3, 0.75, 0.1);

    #[test]
    fn the_ray_through_a_projection_passes_the_point() {
        for fov in [0.0, 0.5] {
            let lens = lens(fov);
            let pixel = lens.project(POINT).expect("in front");
            let ray = lens.ray(pixel);
            let along = (POINT - ray.origin).dot(&ray.direction);
            assert!((ray.at(along) - POINT).norm() < 1e-9, "fov {fov}");
        }
    }

    #[test]
    fn the_focus_is_in_the_middle() {
        for fov in [0.0, 0.5] {
            let lens = lens(fov);
            let pixel = lens.project(lens.camera.focus).expect("in front");
            assert!((pixel - lens.rect.middle()).norm() < 1e-9);
        }
    }

    #[test]
    fn zoom_and_orbit_keep_the_point_under_the_pointer() {
        for fov in [0.0, 0.5] {
            let lens = lens(fov);
            let before = lens.project(POINT).expect("in front");
            for camera in [
                lens.camera.zoomed(0.6, POINT),
                lens.camera.zoomed(1.7, POINT),
                lens.camera.orbited(0.3, -0.2, POINT),
            ] {
                let after = StageProjection { camera, ..lens }.project(POINT).expect("in front");
                assert!((after - before).norm() < 1e-7, "fov {fov}");
            }
        }
    }

    #[test]
    fn pan_brings_the_grabbed_point_under_the_pointer() {
        for fov in [0.0, 0.5] {
            let lens = lens(fov);
            let pointer = Pixel::new(420.0, 510.0);
            let camera = lens.panned_to(POINT, pointer);
            let after = StageProjection { camera, ..lens }.project(POINT).expect("in front");
            assert!((after - pointer).norm() < 1e-7, "fov {fov}");
        }
    }

    #[test]
    fn flat_and_nearly_flat_pictures_agree() {
        let flat = lens(0.0).project(POINT).expect("in front");
        let nearly = lens(0.0301).project(POINT).expect("in front");
        assert!((flat - nearly).norm() < 6.0, "no jump at the change over");
    }

    #[test]
    fn nothing_behind_the_eye_is_projected() {
        let lens = lens(0.5);
        let behind = lens.camera.eye() + lens.camera.toward_eye();
        assert!(lens.project(behind).is_none());
    }
}
