//! The five standing views, fitted to the car and the rectangle.

use std::f64::consts::FRAC_PI_2;

use nalgebra::{Point3, Vector3};

use crate::camera::projection::{Pixel, ScreenRect, StageProjection};
use crate::camera::turntable::Turntable;
use crate::view::{StageView, WheelSlot};

/// A standing view.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum StandardView {
    /// From ahead, orthographic.
    Front,
    /// From the left, orthographic.
    Side,
    /// From above, orthographic.
    Plan,
    /// From ahead, left and above.
    #[default]
    ThreeQuarter,
    /// One corner, close up.
    Corner(WheelSlot),
}

impl StandardView {
    /// The five, in the order of their number keys 1 to 5.
    pub const ALL: [Self; 5] =
        [Self::Front, Self::Side, Self::Plan, Self::ThreeQuarter, Self::Corner(WheelSlot::FrontLeft)];

    /// What a button says.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::Front => "Front",
            Self::Side => "Side",
            Self::Plan => "Plan",
            Self::ThreeQuarter => "Three-quarter",
            Self::Corner(_) => "Corner",
        }
    }

    /// Azimuth, elevation and field of view, in radians.
    const fn angles(self) -> (f64, f64, f64) {
        match self {
            Self::Front => (0.0, 0.0, 0.0),
            Self::Side => (FRAC_PI_2, 0.0, 0.0),
            Self::Plan => (FRAC_PI_2, FRAC_PI_2, 0.0),
            Self::ThreeQuarter => (0.80, 0.38, 0.42),
            Self::Corner(WheelSlot::FrontLeft) => (0.36, 0.24, 0.34),
            Self::Corner(WheelSlot::FrontRight) => (-0.36, 0.24, 0.34),
            Self::Corner(WheelSlot::RearLeft) => (2.78, 0.24, 0.34),
            Self::Corner(WheelSlot::RearRight) => (-2.78, 0.24, 0.34),
        }
    }

    /// The camera that shows the car so, in a picture of the given width over
    /// height. An empty car is taken as a car-sized box.
    #[must_use]
    pub fn camera(self, car: &StageView, aspect: f64) -> Turntable {
        let (azimuth, elevation, field_of_view) = self.angles();
        let corners = match self {
            Self::Corner(place) => corner_box(car, place),
            _ => car_box(car),
        };
        // Room for dimensions and labels round the parts: drawing views carry more.
        let margin = match self {
            Self::Front => 1.42,
            Self::Side | Self::Plan => 1.3,
            Self::ThreeQuarter => 1.2,
            Self::Corner(_) => 1.28,
        };
        let camera = Turntable {
            focus: Point3::from((corners[0].coords + corners[7].coords) * 0.5),
            azimuth,
            elevation,
            height: 6.0,
            field_of_view,
        };
        fitted(camera, &corners, aspect.clamp(0.1, 10.0), margin)
    }
}

/// The camera moved along the picture and nearer or farther until the points fill it
/// but for the margin. What stands nearer looks larger, so this is found by looking
/// again; in an orthographic picture the first look is right already.
fn fitted(mut camera: Turntable, points: &[Point3<f64>], aspect: f64, margin: f64) -> Turntable {
    let rect = ScreenRect::new(0.0, 0.0, 1000.0 * aspect, 1000.0);
    for _ in 0..12 {
        let lens = StageProjection::new(camera, rect);
        let mut least = Pixel::new(f64::INFINITY, f64::INFINITY);
        let mut most = Pixel::new(f64::NEG_INFINITY, f64::NEG_INFINITY);
        for pixel in points.iter().filter_map(|point| lens.project(*point)) {
            least = least.inf(&pixel);
            most = most.sup(&pixel);
        }
        if least.x > most.x {
            // Everything stands behind the eye: step back and look again.
            camera.height *= 4.0;
            continue;
        }
        let off = least + (most - least) * 0.5 - rect.middle();
        let scale = camera.height / rect.height;
        camera = camera.panned(off.x * scale, -off.y * scale);
        let filled = ((most.y - least.y) / rect.height).max((most.x - least.x) / rect.width);
        camera.height *= (margin * filled).clamp(0.2, 5.0);
    }
    camera
}

/// The eight corners of a box round points; the first and last are opposite.
fn box_round(points: &[Point3<f64>]) -> [Point3<f64>; 8] {
    let mut least = Vector3::repeat(f64::INFINITY);
    let mut most = Vector3::repeat(f64::NEG_INFINITY);
    for point in points {
        least = least.inf(&point.coords);
        most = most.sup(&point.coords);
    }
    if points.is_empty() || !(most - least).iter().all(|length| length.is_finite()) {
        least = Vector3::new(-3.0, -0.8, 0.0);
        most = Vector3::new(0.3, 0.8, 0.7);
    }
    std::array::from_fn(|corner| {
        Point3::new(
            if corner & 1 == 0 { least.x } else { most.x },
            if corner & 2 == 0 { least.y } else { most.y },
            if corner & 4 == 0 { least.z } else { most.z },
        )
    })
}

fn car_box(car: &StageView) -> [Point3<f64>; 8] {
    let mut points: Vec<Point3<f64>> = car.points.iter().map(|point| point.at).collect();
    for wheel in &car.wheels {
        points.push(wheel.centre + Vector3::new(wheel.radius, 0.0, wheel.radius));
        points.push(wheel.centre - Vector3::new(wheel.radius, 0.0, wheel.radius));
        points.push(wheel.centre + wheel.spin_axis * (0.5 * wheel.width));
        points.push(wheel.contact);
    }
    box_round(&points)
}

/// The middle of a car and how far it reaches from there, metres, half a metre at least; an empty car is taken
/// as car-sized.
pub(crate) fn extent(car: &StageView) -> (Point3<f64>, f64) {
    let [least, .., most] = car_box(car);
    let half = (most - least) * 0.5;
    (least + half, half.norm().max(0.5))
}

fn corner_box(car: &StageView, place: WheelSlot) -> [Point3<f64>; 8] {
    let Some(wheel) = car.wheel(place).or_else(|| car.wheels.first()) else {
        return car_box(car);
    };
    let inboard = -wheel.place.side();
    // What stands beside the wheel counts too: a strut is higher than its tyre.
    let beside = |at: &Point3<f64>| {
        at.y * wheel.place.side() > 0.45 * wheel.centre.y.abs()
            && (at.x - wheel.centre.x).abs() < 1.2 * wheel.radius
    };
    let mut points: Vec<Point3<f64>> = car.points.iter().map(|point| point.at).filter(beside).collect();
    points.extend([
        wheel.contact,
        wheel.centre + wheel.spin_axis * (0.5 * wheel.width),
        wheel.centre + Vector3::new(wheel.radius, 0.0, wheel.radius * 1.15),
        wheel.centre + Vector3::new(-wheel.radius, 0.0, 0.0),
        wheel.centre + Vector3::new(0.0, inboard * wheel.centre.y.abs() * 0.55, 0.0),
    ]);
    box_round(&points)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_view_holds_the_whole_box() {
        let car = StageView::default();
        for (width, height) in [(1280.0, 720.0), (500.0, 900.0)] {
            let rect = ScreenRect::new(0.0, 0.0, width, height);
            for view in StandardView::ALL {
                let camera = view.camera(&car, rect.aspect());
                let lens = StageProjection::new(camera, rect);
                for corner in car_box(&car) {
                    let pixel = lens.project(corner).expect("in front of the eye");
                    assert!(rect.contains(pixel), "{view:?} cuts {corner} off at {pixel}");
                }
            }
        }
    }

    #[test]
    fn drawing_views_are_orthographic() {
        let car = StageView::default();
        for view in [StandardView::Front, StandardView::Side, StandardView::Plan] {
            assert!(view.camera(&car, 1.6).is_flat());
        }
        assert!(!StandardView::ThreeQuarter.camera(&car, 1.6).is_flat());
    }
}
