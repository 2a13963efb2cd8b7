//! Ways: arrows at a point that say where a reading goes when the point goes there. Nothing is pulled by
//! them.

use nalgebra::{Point3, Vector2, Vector3};

use crate::camera::projection::{Pixel, StageProjection};

/// A way at a point.
#[derive(Debug, Clone, PartialEq)]
pub struct WayView {
    /// Key of the reading: decides the colour.
    pub reading: String,
    /// What it says: finished text.
    pub label: String,
    /// The point.
    pub at: Point3<f64>,
    /// Unit direction.
    pub along: Vector3<f64>,
    /// Length of the arrow where it is square to the line of sight, in pixels.
    pub length: f64,
}

/// So much next to the point is left free for the point and the handles' tails, in pixels.
const FREE: f64 = 9.0;
/// An arrow foreshortened to less than this shows as a ring: it runs along the line of sight.
const SHORTEST: f64 = 16.0;

/// A way as it appears on the screen.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WayMark {
    /// Its number among the ways.
    pub number: usize,
    /// Where the arrow starts, beside the point.
    pub from: Pixel,
    /// Where it points; where it starts if it runs along the line of sight.
    pub tip: Pixel,
}

impl WayMark {
    /// Whether it runs along the line of sight.
    #[must_use]
    pub fn is_end_on(&self) -> bool {
        self.from == self.tip
    }

    /// Where its label likes to stand: beside what, and in which direction.
    #[must_use]
    pub fn label_at(&self) -> (Pixel, Vector2<f64>) {
        let along = self.tip - self.from;
        (self.tip, if along.norm() > 1e-9 { along } else { Vector2::new(1.0, -1.0) })
    }
}

/// The ways that are seen in a picture.
#[must_use]
pub fn marks(ways: &[WayView], lens: &StageProjection) -> Vec<WayMark> {
    let mark = |(number, way): (usize, &WayView)| {
        let at = lens.project(way.at).filter(|_| !lens.is_cut(way.at))?;
        let tip = lens.project(way.at + way.along * (way.length * lens.metres_per_pixel(way.at)))?;
        let along = tip - at;
        let length = along.norm();
        if length < SHORTEST {
            return Some(WayMark { number, from: at, tip: at });
        }
        Some(WayMark { number, from: at + along * (FREE / length), tip })
    };
    ways.iter().enumerate().filter_map(mark).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::camera::projection::ScreenRect;
    use crate::camera::turntable::Turntable;

    fn way(along: Vector3<f64>) -> WayView {
        let at = Point3::new(0.1, 0.25, 0.2);
        WayView { reading: "bump_steer".into(), label: "w".into(), at, along, length: 80.0 }
    }

    #[test]
    fn an_arrow_has_its_length_and_one_along_the_line_of_sight_is_a_ring() {
        let focus = Point3::new(0.0, 0.4, 0.3);
        let camera = Turntable { focus, azimuth: 0.0, elevation: 0.0, height: 1.0, field_of_view: 0.0 };
        let lens = StageProjection::new(camera, ScreenRect::new(100.0, 50.0, 1000.0, 700.0));
        let all = [way(Vector3::x()), way(Vector3::y()), way(-Vector3::z())];
        let found = marks(&all, &lens);
        let point = lens.project(all[0].at).unwrap();
        assert!(found[0].is_end_on());
        for mark in &found[1..] {
            assert!(((mark.tip - point).norm() - 80.0).abs() < 1e-9);
            assert!(((mark.from - point).norm() - FREE).abs() < 1e-9);
        }
        // Down in the car is down on the screen.
        assert!(found[2].tip.y > point.y + 79.0);
    }
}
