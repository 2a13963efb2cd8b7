//! The one place where f64 vehicle axes (Z up) become f32 drawing axes (Y up), and
//! where screen lengths change precision.
//!
//! X stays X, Z becomes Y, and Y becomes −Z: a rotation, so nothing is mirrored.

use bevy::math::{Mat3, Quat, Vec3};
use bevy::prelude::Transform;
use bevy_egui::egui;
use nalgebra::{Matrix3, Point3, Vector3};

use crate::camera::projection::{Pixel, ScreenRect};
use crate::camera::turntable::Turntable;
use crate::solids::Solid;
use crate::theme::Rgb;

/// A colour for egui.
#[must_use]
pub const fn colour(rgb: Rgb) -> egui::Color32 {
    egui::Color32::from_rgb(rgb.0, rgb.1, rgb.2)
}

/// A length or angle for drawing.
#[expect(clippy::cast_possible_truncation, reason = "drawing is in single precision")]
#[must_use]
pub const fn single(value: f64) -> f32 {
    value as f32
}

/// A direction or displacement.
#[must_use]
pub fn vector(v: Vector3<f64>) -> Vec3 {
    Vec3::new(single(v.x), single(v.z), single(-v.y))
}

/// A point.
#[must_use]
pub fn point(p: Point3<f64>) -> Vec3 {
    vector(p.coords)
}

/// A rotation given by three orthonormal axes. The drawn shape's own axes are turned
/// like the world's, so that its Z axis stays the car shape's Z axis.
#[must_use]
pub fn rotation(axes: &Matrix3<f64>) -> Quat {
    let column = |n: usize| vector(axes.column(n).into_owned());
    // Drawn local axes: x = own x, y = own z, z = −own y.
    Quat::from_mat3(&Mat3::from_cols(column(0), column(2), -column(1)))
}

/// Where a solid stands.
#[must_use]
pub fn transform(solid: &Solid) -> Transform {
    Transform {
        translation: point(solid.centre),
        rotation: rotation(&solid.axes),
        scale: Vec3::new(single(solid.scale.x), single(solid.scale.z), single(solid.scale.y)),
    }
}

/// Where a camera stands: it looks along its own −Z with +Y to the top.
#[must_use]
pub fn camera_transform(camera: &Turntable) -> Transform {
    Transform {
        translation: point(camera.eye()),
        rotation: Quat::from_mat3(&Mat3::from_cols(
            vector(camera.right()),
            vector(camera.up()),
            vector(camera.toward_eye()),
        )),
        scale: Vec3::ONE,
    }
}

/// A pixel for the painter.
#[must_use]
pub fn pos(at: Pixel) -> egui::Pos2 {
    egui::pos2(single(at.x), single(at.y))
}

/// A rectangle for the painter.
#[must_use]
pub fn rect(rect: &ScreenRect) -> egui::Rect {
    egui::Rect::from_min_size(
        egui::pos2(single(rect.left), single(rect.top)),
        egui::vec2(single(rect.width), single(rect.height)),
    )
}

/// A rectangle from the painter.
#[must_use]
pub fn screen_rect(rect: egui::Rect) -> ScreenRect {
    ScreenRect::new(
        f64::from(rect.left()),
        f64::from(rect.top()),
        f64::from(rect.width()),
        f64::from(rect.height()),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solids::shape::Shape;
    use crate::solids::{Paint, axes_along};
    use crate::view::Emphasis;

    const NEAR: f32 = 1e-6;

    #[test]
    fn up_is_up_and_nothing_is_mirrored() {
        let (x, y, z) = (vector(Vector3::x()), vector(Vector3::y()), vector(Vector3::z()));
        assert!((z - Vec3::Y).length() < NEAR);
        assert!((x - Vec3::X).length() < NEAR);
        assert!((x.cross(y) - z).length() < NEAR);
    }

    #[test]
    fn a_drawn_solid_point_is_where_the_car_says() {
        let axes = axes_along(Vector3::new(0.3, 1.0, -0.2), Vector3::z());
        let solid = Solid {
            shape: Shape::Cylinder,
            centre: Point3::new(-0.4, 0.7, 0.25),
            axes,
            scale: Vector3::new(0.02, 0.03, 0.4),
            paint: Paint::Seam,
            emphasis: Emphasis::Plain,
        };
        let own = Vector3::new(0.6, -0.8, 0.5);
        let in_car = solid.centre + axes * own.component_mul(&solid.scale);
        let drawn = transform(&solid).transform_point(vector(own));
        assert!((drawn - point(in_car)).length() < NEAR);
    }

    #[test]
    fn the_drawn_camera_looks_at_its_focus() {
        let camera = Turntable {
            focus: Point3::new(-1.0, 0.2, 0.3),
            azimuth: 0.8,
            elevation: 0.35,
            height: 2.0,
            field_of_view: 0.5,
        };
        let drawn = camera_transform(&camera);
        let to_focus = (point(camera.focus) - drawn.translation).normalize();
        assert!((drawn.forward().as_vec3() - to_focus).length() < 1e-5);
        assert!((drawn.right().as_vec3() - vector(camera.right())).length() < 1e-5);
    }
}
