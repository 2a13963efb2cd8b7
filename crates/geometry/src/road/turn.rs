//! The slow turn: its centre, the path of each tyre, and how each scrubs against it.

use super::body_pose::BodyPose;
use super::stand::{RoadSolver, Standing};
use crate::axle::turn_centre::NoTurnCentre;
use crate::car::position::{End, Side, WheelPosition};
use crate::mechanism::stop::Stop;
use nalgebra::Vector2;

/// Mean steer of the rear wheels below which they do not steer, radians.
const STEERS: f64 = 1e-6;

/// On which line the centre of a turn is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum CentreBy {
    /// On the line of the rear axle, square to the car.
    RearAxleLine,
    /// On the mean axis of the rear wheels, which steer too.
    RearWheelsLine,
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
    /// On which line it is; on that line it is at the mean curvature of what the front wheels ask for:
    /// [`SlowTurn`](crate::SlowTurn).
    pub by: CentreBy,
    /// Distance of the turn centre from the middle between the rear contacts, metres.
    pub radius: f64,
    /// Each wheel, in the order of [`WheelPosition::ALL`].
    pub wheels: [TurningWheel; 4],
    /// Diameter of the circle of the outermost front contact, metres: the kerb-to-kerb turning circle.
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
    /// The slow turn there, or why it has no centre.
    pub turn: Result<Turn, NoTurnCentre>,
}

/// A wheel on the road in plan.
struct Track {
    contact: Vector2<f64>,
    heading: Vector2<f64>,
    steer: f64,
}

fn track(standing: &Standing, wheel: WheelPosition) -> Track {
    let on = standing.solved.axle(wheel.end).motion.wheel(wheel.side);
    let (ahead, left) = (standing.ground.forward(), standing.ground.left());
    let plan = |v: &nalgebra::Vector3<f64>| Vector2::new(v.dot(&ahead), v.dot(&left));
    let heading = plan(&on.forward);
    Track { contact: plan(&on.contact), heading, steer: heading.y.atan2(heading.x) }
}

/// Furthest distance from a point in plan to a tyre, the tyre taken as a cylinder.
fn reach(standing: &Standing, wheel: WheelPosition, half_width: f64, centre: Vector2<f64>) -> f64 {
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

impl RoadSolver<'_> {
    /// The slow turn at a steering input, the body in its design pose; or why it has no centre.
    ///
    /// # Errors
    /// The limit a linkage meets.
    pub fn turn(&self, steer: f64) -> Result<Result<Turn, NoTurnCentre>, Stop> {
        Ok(self.turn_of(self.stand(&BodyPose::DESIGN, steer)?))
    }

    /// The slow turn of a car that stands steered.
    ///
    /// # Errors
    /// Why it has no turn centre.
    pub fn turn_of(&self, standing: Standing) -> Result<Turn, NoTurnCentre> {
        let asked = standing.solved.axle(End::Front).motion.slow_turn()?;
        let (centre, toward) = (asked.centre(), asked.toward());
        let tracks = WheelPosition::ALL.map(|wheel| track(&standing, wheel));
        let [_, _, rl, rr] = &tracks;
        let steers = (0.5 * (rl.steer + rr.steer)).abs() >= STEERS;
        let by = if steers { CentreBy::RearWheelsLine } else { CentreBy::RearAxleLine };
        let wheel = |at: WheelPosition| {
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
        let wheels = WheelPosition::ALL.map(wheel);
        let [a, b, ..] = &wheels;
        Ok(Turn {
            toward,
            centre,
            by,
            radius: asked.curvature().recip().abs(),
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
            let at = |side| track(&standing, WheelPosition { end: End::Front, side }).steer;
            let wheels = Side::BOTH.map(at);
            Ok(Lock { steer, wheels, turn: self.turn_of(standing) })
        };
        let [right, left] = self.car.front.steering.stops();
        Ok([lock(right)?, lock(left)?])
    }
}
