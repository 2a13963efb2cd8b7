//! How far a car's wheels and rack go: the ranges that sliders, curves and cycles use.

use wheelpath_geometry::{Car, CarSolver, End, Side, SolvedAxle, WheelAt};

/// Travel without damper stops, metres.
const USUAL: f64 = 0.06;
/// Step of the search for a damper's stop, metres.
const STEP: f64 = 0.004;
/// Furthest travel shown, metres.
const FURTHEST: f64 = 0.2;

/// Ranges of motion, from the car as loaded: axes stay put while points are pulled.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reach {
    /// Droop and bump where the dampers (or the linkage) stop, metres, front and rear.
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
            [-1.0, 1.0].map(|way| {
                let side = |side| to_stop(car, solver, WheelAt { end, side }, way);
                let (left, right) = (side(Side::Left), side(Side::Right));
                if left.abs() < right.abs() { left } else { right }
            })
        });
        let [right, left] = car.front.steering.stops();
        let limits = solver.axle(End::Front).steer_limits(Side::Left);
        let limit = |stop: f64, limit: &Option<wheelpath_geometry::Stop>| {
            limit.as_ref().map_or(stop.abs(), |limit| limit.steer.abs().min(stop.abs()))
        };
        let steer = [-limit(right, &limits[0]), limit(left, &limits[1])];
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

fn to_stop(car: &Car, solver: &CarSolver, at: WheelAt, way: f64) -> f64 {
    let axle = solver.axle(at.end);
    let stops = car.corner(at).damper;
    let furthest = if stops.is_some() { FURTHEST } else { USUAL };
    let beyond = |solved: &SolvedAxle| {
        let length = solved.motion.corner(at.side).damper.map(|damper| damper.value);
        stops.zip(length).is_some_and(|(stops, length)| length < stops.shortest || length > stops.longest)
    };
    let mut here = axle.start();
    // Both wheels together: on a beam axle one alone would twist it.
    let to = |here: &SolvedAxle, travel: f64| axle.follow(here, [way * travel; 2], 0.0);
    let (mut good, mut bad) = (0.0, None);
    while good < furthest && bad.is_none() {
        let next = good + STEP;
        match to(&here, next) {
            Ok(solved) if !beyond(&solved) => {
                good = next;
                here = solved;
            }
            _ => bad = Some(next),
        }
    }
    let mut bad = bad.unwrap_or(good);
    while bad - good > 1e-5 {
        let middle = 0.5 * (good + bad);
        match to(&here, middle) {
            Ok(solved) if !beyond(&solved) => {
                good = middle;
                here = solved;
            }
            _ => bad = middle,
        }
    }
    way * good
}
