//! The camera as a turntable with Z up, in vehicle axes.
//!
//! One set of numbers covers perspective and drawing views: a field of view of
//! zero IS orthographic, so a move from one to the other is an ordinary move.

use std::f64::consts::{FRAC_PI_2, PI, TAU};

use nalgebra::{Matrix3, Point3, Vector3};

/// Below this field of view (rad) the picture counts as orthographic: the eye would
/// stand so far off that single-precision depth no longer tells parts apart.
pub const FLAT_BELOW: f64 = 0.03;

/// Visible heights the zoom stays within, in metres.
pub const HEIGHT_LIMITS: (f64, f64) = (0.02, 60.0);

/// Where the camera stands and how much it sees.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Turntable {
    /// The point in the middle of the picture.
    pub focus: Point3<f64>,
    /// Direction from the focus to the eye about Z, from X toward Y, in radians:
    /// 0 looks at the car's nose, π/2 at its left side.
    pub azimuth: f64,
    /// The same above the horizontal, in radians; π/2 looks straight down.
    pub elevation: f64,
    /// Height of the part of the world seen at the focus, in metres.
    pub height: f64,
    /// Vertical field of view in radians; 0 = orthographic.
    pub field_of_view: f64,
}

impl Turntable {
    /// Whether the picture is an orthographic one.
    #[must_use]
    pub fn is_flat(&self) -> bool {
        self.field_of_view < FLAT_BELOW
    }

    /// Unit vector from the focus toward the eye.
    #[must_use]
    pub fn toward_eye(&self) -> Vector3<f64> {
        let (sin_a, cos_a) = self.azimuth.sin_cos();
        let (sin_e, cos_e) = self.elevation.sin_cos();
        Vector3::new(cos_e * cos_a, cos_e * sin_a, sin_e)
    }

    /// Unit vector to the right of the picture. It stays defined looking straight
    /// down, which is why the frame is built from the angles and not from "up".
    #[must_use]
    pub fn right(&self) -> Vector3<f64> {
        let (sin_a, cos_a) = self.azimuth.sin_cos();
        Vector3::new(-sin_a, cos_a, 0.0)
    }

    /// Unit vector to the top of the picture.
    #[must_use]
    pub fn up(&self) -> Vector3<f64> {
        self.toward_eye().cross(&self.right())
    }

    /// Columns: right, up, toward the eye.
    #[must_use]
    pub fn car_from_picture(&self) -> Matrix3<f64> {
        Matrix3::from_columns(&[self.right(), self.up(), self.toward_eye()])
    }

    /// Distance from the focus to the eye. In an orthographic picture any distance
    /// shows the same; it is far enough to have the whole car in front.
    #[must_use]
    pub fn distance(&self) -> f64 {
        if self.is_flat() { FLAT_DISTANCE } else { 0.5 * self.height / (0.5 * self.field_of_view).tan() }
    }

    /// The eye.
    #[must_use]
    pub fn eye(&self) -> Point3<f64> {
        self.focus + self.toward_eye() * self.distance()
    }

    /// Turned about a point, which keeps its place in the picture.
    #[must_use]
    pub fn orbited(&self, d_azimuth: f64, d_elevation: f64, about: Point3<f64>) -> Self {
        let mut turned = *self;
        turned.azimuth = wrapped(self.azimuth + d_azimuth);
        turned.elevation = (self.elevation + d_elevation).clamp(-FRAC_PI_2, FRAC_PI_2);
        let rotation = turned.car_from_picture() * self.car_from_picture().transpose();
        turned.focus = about + rotation * (self.focus - about);
        turned
    }

    /// Nearer (factor below 1) or farther, with a point keeping its place in the
    /// picture.
    #[must_use]
    pub fn zoomed(&self, factor: f64, about: Point3<f64>) -> Self {
        let (least, most) = HEIGHT_LIMITS;
        let height = (self.height * factor).max(least).min(most);
        let actual = height / self.height;
        Self { focus: about + (self.focus - about) * actual, height, ..*self }
    }

    /// Moved along the picture's plane, in metres.
    #[must_use]
    pub fn panned(&self, right: f64, up: f64) -> Self {
        Self { focus: self.focus + self.right() * right + self.up() * up, ..*self }
    }

    /// Part of the way to another, `share` from 0 to 1: the shorter way round, and
    /// zooming evenly.
    #[must_use]
    pub fn toward(&self, other: &Self, share: f64) -> Self {
        if share >= 1.0 {
            return *other;
        }
        let mix = |a: f64, b: f64| a + (b - a) * share;
        Self {
            focus: self.focus + (other.focus - self.focus) * share,
            azimuth: wrapped(self.azimuth + wrapped(other.azimuth - self.azimuth) * share),
            elevation: mix(self.elevation, other.elevation),
            height: mix(self.height.ln(), other.height.ln()).exp(),
            field_of_view: mix(self.field_of_view, other.field_of_view),
        }
    }
}

/// Distance of the eye from the focus in orthographic pictures, in metres.
pub const FLAT_DISTANCE: f64 = 40.0;

/// The same direction, within (−π, π].
fn wrapped(angle: f64) -> f64 {
    let turned = angle.rem_euclid(TAU);
    if turned > PI { turned - TAU } else { turned }
}

/// A move from one camera to another.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Move {
    from: Turntable,
    to: Turntable,
    elapsed: f64,
    duration: f64,
}

impl Move {
    /// A move taking so many seconds; 0 arrives at once.
    #[must_use]
    pub const fn new(from: Turntable, to: Turntable, duration: f64) -> Self {
        Self { from, to, elapsed: 0.0, duration }
    }

    /// Where the camera is so many seconds later, and whether it has arrived.
    ///
    /// A step is taken as a twentieth of a second at most: the first frame after a
    /// rest reports the whole rest as its length, and the move would be skipped.
    pub fn advance(&mut self, seconds: f64) -> (Turntable, bool) {
        self.elapsed += seconds.clamp(0.0, 0.05);
        if self.elapsed >= self.duration {
            return (self.to, true);
        }
        let share = self.elapsed / self.duration;
        let eased = share * share * (3.0 - 2.0 * share);
        (self.from.toward(&self.to, eased), false)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const NEAR: f64 = 1e-9;

    fn three_quarter() -> Turntable {
        Turntable {
            focus: Point3::new(-1.2, 0.1, 0.3),
            azimuth: 0.7,
            elevation: 0.4,
            height: 2.5,
            field_of_view: 0.5,
        }
    }

    #[test]
    fn front_side_and_plan_look_along_the_axes() {
        let mut camera = three_quarter();
        camera.elevation = 0.0;
        camera.azimuth = 0.0;
        assert!((camera.right() - Vector3::y()).norm() < NEAR);
        assert!((camera.up() - Vector3::z()).norm() < NEAR);
        camera.azimuth = FRAC_PI_2;
        assert!((camera.right() + Vector3::x()).norm() < NEAR);
        camera.elevation = FRAC_PI_2;
        assert!((camera.toward_eye() - Vector3::z()).norm() < NEAR);
        assert!((camera.right() + Vector3::x()).norm() < NEAR);
        assert!((camera.up() + Vector3::y()).norm() < NEAR);
    }

    #[test]
    fn the_picture_frame_is_right_handed_everywhere() {
        for elevation in [-FRAC_PI_2, -0.3, 0.0, 1.0, FRAC_PI_2] {
            for azimuth in [-3.0, -1.0, 0.0, 2.0, PI] {
                let camera = Turntable { azimuth, elevation, ..three_quarter() };
                assert!((camera.car_from_picture().determinant() - 1.0).abs() < NEAR);
            }
        }
    }

    #[test]
    fn orbit_stops_at_the_poles() {
        let up = three_quarter().orbited(0.0, 9.0, Point3::origin());
        assert!((up.elevation - FRAC_PI_2).abs() < NEAR);
        let down = up.orbited(0.0, -9.0, Point3::origin());
        assert!((down.elevation + FRAC_PI_2).abs() < NEAR);
    }

    #[test]
    fn zoom_stays_within_its_limits_and_still_holds_its_point() {
        let camera = three_quarter();
        let about = Point3::new(0.0, 0.7, 0.3);
        let far = camera.zoomed(1e6, about);
        assert!((far.height - HEIGHT_LIMITS.1).abs() < NEAR);
        let back = far.zoomed(camera.height / far.height, about);
        assert!((back.focus - camera.focus).norm() < 1e-7);
    }

    #[test]
    fn a_move_goes_the_shorter_way_and_arrives_exactly() {
        let from = Turntable { azimuth: 3.0, ..three_quarter() };
        let to = Turntable { azimuth: -3.0, field_of_view: 0.0, ..three_quarter() };
        let half = from.toward(&to, 0.5);
        assert!((half.azimuth.abs() - PI).abs() < NEAR);
        let mut going = Move::new(from, to, 0.3);
        let mut steps = 0;
        let arrived = loop {
            let (camera, done) = going.advance(3600.0);
            steps += 1;
            if done {
                break camera;
            }
        };
        assert_eq!(arrived, to);
        assert!(steps >= 6, "a long rest must not skip the move");
    }
}
