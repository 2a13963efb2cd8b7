//! The slow turn: its centre, the path of each tyre, and how each scrubs against it.

use super::body_pose::BodyPose;
use super::stand::{RoadSolver, Standing};
use crate::side::{End, Side, WheelAt};
use crate::stop::Stop;
use nalgebra::Vector2;

/// Steer of front against rear below which the turn centre is too far to tell, radians (a twentieth of
/// a degree).
const STRAIGHT: f64 = 8.7e-4;
/// Mean steer of the rear wheels below which they do not steer, radians.
const STEERS: f64 = 1e-6;

/// How the centre of a turn was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum CentreBy {
    /// On the line of the rear axle, midway between the points where the front wheels' axes cross it.
    RearAxleLine,
    /// Where the squares of the distances to all four wheels' axes add up to least: rear wheels that
    /// steer.
    LeastSquares,
}

/// One wheel in a slow turn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TurningWheel {
    /// Steer angle to the road, radians, + = to the left.
    pub steer: f64,
    /// Distance of the contact from the turn centre along the road, metres.
    pub radius: f64,
    /// Angle from the contact's path to the wheel's heading, radians, + = the wheel points to the left
    /// of where it goes. Zero where the wheel's axis passes through the turn centre.
    pub scrub: f64,
    /// Distance from the turn centre to the tyre's furthest point in plan, the tyre taken as a cylinder,
    /// metres.
    pub reach: f64,
}

/// A car in a slow turn.
#[derive(Clone, Debug)]
pub struct Turn {
    /// The car as it stands.
    pub standing: Standing,
    /// Toward which side it turns.
    pub toward: Side,
    /// The turn centre on the road, metres: forward and left of the foot of the body's origin.
    pub centre: Vector2<f64>,
    /// How it was found.
    pub by: CentreBy,
    /// Distance of the turn centre from the middle between the rear contacts, metres.
    pub radius: f64,
    /// Each wheel, in the order of [`WheelAt::ALL`].
    pub wheels: [TurningWheel; 4],
    /// Diameter of the circle of the outermost front contact, metres: the kerb circle.
    pub kerb_circle: f64,
    /// Diameter of the circle of the tyres' furthest point, metres: the least a wall-to-wall circle can
    /// be. The body's overhang, which the car does not tell, comes on top.
    pub wall_circle_of_tyres: f64,
}

/// One end of the steering.
#[derive(Clone, Debug)]
pub struct Lock {
    /// The stop, as a steering input.
    pub steer: f64,
    /// Steer angles to the road of the front wheels there, left and right, radians, + = to the left.
    pub wheels: [f64; 2],
    /// The slow turn there; `None` where the wheels stand too near straight ahead for one.
    pub turn: Option<Turn>,
}

/// A wheel on the road in plan.
struct Track {
    contact: Vector2<f64>,
    heading: Vector2<f64>,
    steer: f64,
}

fn track(standing: &Standing, wheel: WheelAt) -> Track {
    let on = standing.solved.axle(wheel.end).motion.wheel(wheel.side);
    let (ahead, left) = (standing.ground.forward(), standing.ground.left());
    let plan = |v: &nalgebra::Vector3<f64>| Vector2::new(v.dot(&ahead), v.dot(&left));
    let heading = plan(&on.forward);
    Track { contact: plan(&on.contact), heading, steer: heading.y.atan2(heading.x) }
}

/// Furthest distance from a point in plan to a tyre, the tyre taken as a cylinder.
fn reach(standing: &Standing, wheel: WheelAt, half_width: f64, centre: Vector2<f64>) -> f64 {
    let axle = &standing.solved.axle(wheel.end).motion;
    let (corner, on) = (axle.corner(wheel.side), axle.wheel(wheel.side));
    let (ahead, left) = (standing.ground.forward(), standing.ground.left());
    let plan = |v: &nalgebra::Vector3<f64>| Vector2::new(v.dot(&ahead), v.dot(&left));
    let (along, upward) = (on.forward, on.forward.cross(&corner.spin_axis));
    let at = |edge: f64, angle: f64| {
        let (s, c) = angle.sin_cos();
        let point = corner.wheel_centre
            + corner.spin_axis * (edge * half_width)
            + (along * c + upward * s) * corner.tyre_radius;
        (plan(&point) - centre).norm()
    };
    // A coarse look round the edge, then ever finer about its best.
    let furthest = |edge: f64| {
        let mut best = (0.0, at(edge, 0.0));
        let mut stride = 0.25;
        for _ in 0..24 {
            let middle: f64 = best.0;
            for i in -13_i8..=13 {
                let angle = middle + stride * f64::from(i);
                let here = at(edge, angle);
                if here > best.1 {
                    best = (angle, here);
                }
            }
            stride *= 0.25;
        }
        best.1
    };
    furthest(1.0).max(furthest(-1.0))
}

/// The point whose distances to the lines through `contact` square to `heading` have least squares.
fn nearest_to_axes(tracks: &[Track; 4]) -> Option<Vector2<f64>> {
    let mut matrix = nalgebra::Matrix2::zeros();
    let mut right = Vector2::zeros();
    for track in tracks {
        let h = track.heading;
        matrix += h * h.transpose();
        right += h * h.dot(&track.contact);
    }
    Some(matrix.try_inverse()? * right)
}

impl RoadSolver<'_> {
    /// The slow turn at a steering input, the body in its design pose; `None` where the car goes too
    /// nearly straight to have a turn centre.
    ///
    /// # Errors
    /// The limit a linkage meets.
    pub fn turn(&self, steer: f64) -> Result<Option<Turn>, Stop> {
        Ok(self.turn_of(self.stand(&BodyPose::DESIGN, steer)?))
    }

    /// The slow turn of a car that stands steered; `None` where it goes too nearly straight.
    #[must_use]
    pub fn turn_of(&self, standing: Standing) -> Option<Turn> {
        let tracks = WheelAt::ALL.map(|wheel| track(&standing, wheel));
        let [fl, fr, rl, rr] = &tracks;
        let rear_steer = 0.5 * (rl.steer + rr.steer);
        let mean = 0.5 * (fl.steer + fr.steer) - rear_steer;
        // Not-a-number is no turn either.
        if mean.abs().is_nan() || mean.abs() < STRAIGHT {
            return None;
        }
        let rear_middle = (rl.contact + rr.contact) * 0.5;
        let (centre, by) = if rear_steer.abs() < STEERS {
            // The axis of a wheel: contact + s (-heading.y, heading.x).
            let crossing =
                |t: &Track| t.contact.y + (t.contact.x - rear_middle.x) * t.heading.x / t.heading.y;
            let y = 0.5 * (crossing(fl) + crossing(fr));
            (Vector2::new(rear_middle.x, y), CentreBy::RearAxleLine)
        } else {
            (nearest_to_axes(&tracks)?, CentreBy::LeastSquares)
        };
        let toward = if mean > 0.0 { Side::Left } else { Side::Right };
        let wheel = |at: WheelAt| {
            let track = &tracks[at.index()];
            let from = track.contact - centre;
            let path = Vector2::new(-from.y, from.x) * toward.sign();
            TurningWheel {
                steer: track.steer,
                radius: from.norm(),
                scrub: path.perp(&track.heading).atan2(path.dot(&track.heading)),
                reach: reach(&standing, at, 0.5 * self.car.corner(at).wheel.tyre_width, centre),
            }
        };
        let wheels = WheelAt::ALL.map(wheel);
        let [a, b, ..] = &wheels;
        Some(Turn {
            toward,
            centre,
            by,
            radius: (rear_middle - centre).norm(),
            kerb_circle: 2.0 * a.radius.max(b.radius),
            wall_circle_of_tyres: 2.0 * wheels.iter().map(|w| w.reach).fold(0.0, f64::max),
            wheels,
            standing,
        })
    }

    /// What the steering comes to at its stops, the negative one first (a rack's right end), the body in its
    /// design pose.
    ///
    /// # Errors
    /// The limit a linkage meets before the stop.
    pub fn locks(&self) -> Result<[Lock; 2], Stop> {
        let lock = |steer: f64| {
            let standing = self.stand(&BodyPose::DESIGN, steer)?;
            let at = |side| track(&standing, WheelAt { end: End::Front, side }).steer;
            let wheels = Side::BOTH.map(at);
            Ok(Lock { steer, wheels, turn: self.turn_of(standing) })
        };
        let [right, left] = self.car.front.steering.stops();
        Ok([lock(right)?, lock(left)?])
    }
}
