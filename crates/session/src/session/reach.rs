//! How far a car's wheels and rack go: the ranges that sliders, curves and cycles use.

use crate::between::between;
use wheelpath_geometry::{Car, CarSolver, End, Side, Travelling};

/// Travel without damper stops, metres.
const USUAL: f64 = 0.06;
/// Furthest travel shown, metres.
const FURTHEST: f64 = 0.2;

/// Ranges of motion, from the car as loaded: axes stay put while points are pulled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// Droop and bump of both wheels where dampers, joints or the linkage end, metres, front and rear.
    pub stops: [[f64; 2]; 2],
    /// Furthest steering input, negative then positive (rack travel to the right and left, metres, or
    /// turn of the pitman arm, radians); zero where nothing steers.
    pub steer: [f64; 2],
}

impl Reach {
    /// Finds the ranges of a car.
    #[must_use]
    pub fn of(car: &Car, solver: &CarSolver) -> Self {
        let stops = End::BOTH.map(|end| {
            let dampers = Side::BOTH.map(|side| car.axle(end).corner(side).damper);
            let furthest = if dampers.iter().any(Option::is_some) { FURTHEST } else { USUAL };
            // Both wheels together: on a beam axle one alone would twist it.
            let ends = solver.axle(end).travel_reach(Travelling::Both, 0.0);
            ends.map_or([0.0; 2], |ends| ends.map(|end| between(tidy(end.at), -furthest, furthest)))
        });
        let steers = car.front.steering.steers();
        let ends = solver.axle(End::Front).steer_reach([0.0; 2]).ok().filter(|_| steers);
        let steer = ends.map_or([0.0; 2], |ends| ends.map(|end| tidy(end.at)));
        Reach { stops, steer }
    }

    /// Droop and bump at an axle, rounded outward to 10 mm, metres: the axis of a curve.
    #[must_use]
    pub fn travel(&self, end: End) -> [f64; 2] {
        let [droop, bump] = self.stops[usize::from(end == End::Rear)];
        [(droop * 100.0).floor() / 100.0, (bump * 100.0).ceil() / 100.0]
    }

    /// Droop and bump that all of the car's wheels have, metres: the range of a cycle.
    #[must_use]
    pub fn common_travel(&self) -> [f64; 2] {
        let [front, rear] = self.stops;
        [front[0].max(rear[0]), front[1].min(rear[1])]
    }
}

/// Without what the search leaves behind the sixth decimal: a stop at 30 mm is no stop at 30.000001 mm.
fn tidy(at: f64) -> f64 {
    (at * 1e6).round() * 1e-6
}
