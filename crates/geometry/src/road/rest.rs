//! The wheels held against the body: the plane the car comes to stand on.

use super::body_pose::BodyPose;
use super::stand::RoadSolver;
use crate::axle::car_solver::{CarPose, SolvedCar};
use crate::car::position::WheelPosition;
use crate::car::static_loads::StaticLoads;
use crate::corner::corner_motion::CornerMotion;
use crate::corner::ground::Ground;
use crate::corner::on_ground::{OnGround, reach};
use crate::mechanism::Factors;
use crate::mechanism::stop::{Stop, StopKind};
use nalgebra::Vector3;

/// On which tyres a car rests whose wheels do not give.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Support {
    /// On all four.
    Four,
    /// On three.
    Three {
        /// The wheel that hangs in the air.
        lifted: WheelPosition,
        /// The gap under it, metres.
        gap: f64,
    },
    /// The centre of gravity is over the diagonal between two tyres: the car rocks about it, and comes
    /// to rest with one or the other of the other two wheels in the air. The resting pose given is the
    /// first.
    Rocks {
        /// Either wheel that may hang, and the gap under it then, metres.
        lifted: [(WheelPosition, f64); 2],
        /// The ground in the second case, seen from the body.
        second: Ground<f64>,
    },
    /// The centre of gravity is outside the tyres: the car falls over the edge nearest to it. The
    /// resting pose given is the one before it does.
    Falls {
        /// How far outside the nearest support triangle it is, metres.
        outside: f64,
    },
}

/// A car resting on wheels that do not give.
#[derive(Clone, Copy, Debug)]
pub struct Resting {
    /// The body over the road.
    pub body: BodyPose,
    /// Pitch of the body about Y against the design pose, radians, + = nose down.
    pub pitch: f64,
    /// The road, seen from the body.
    pub ground: Ground<f64>,
    /// The car, every reading taken to that road.
    pub solved: SolvedCar,
    /// Gap under each tyre, metres, in the order of [`WheelPosition::ALL`].
    pub gaps: [f64; 4],
    /// On which tyres it rests.
    pub support: Support,
}

/// Gap that counts as none, metres.
const TOUCHING: f64 = 1e-12;
/// So near the diagonal, metres, the centre of gravity counts as over it.
const TIE: f64 = 1e-6;

/// The plane that three tyres touch, near a first guess. `None` where there is none: tyres in line.
fn plane_under(three: [&CornerMotion<f64>; 3]) -> Option<Ground<f64>> {
    // Normal along (-p, -q, 1).
    let (mut p, mut q, mut height) = (0.0, 0.0, 0.0);
    let mut ground = Ground::level();
    for step in 0..20 {
        let long = Vector3::new(-p, -q, 1.0);
        let length = long.norm();
        let normal = long / length;
        ground = Ground { normal, height };
        let turned = |axis: Vector3<f64>| -> Vector3<f64> { (normal * normal.dot(&axis) - axis) / length };
        let (by_p, by_q) = (turned(Vector3::x()), turned(Vector3::y()));
        let mut slope = [[0.0; 3]; 3];
        let mut lack = [0.0; 3];
        for (i, corner) in three.into_iter().enumerate() {
            let contact = OnGround::of(corner, normal).contact;
            lack[i] = normal.dot(&corner.wheel_centre) - reach(corner, &normal) - height;
            // The lowest point is where the height over the plane has its gradient.
            slope[i] = [by_p.dot(&contact), by_q.dot(&contact), -1.0];
        }
        let change = Factors::of(slope).solve(&lack);
        if !change.iter().all(|c| c.is_finite()) {
            return None;
        }
        if step > 0 && change.iter().all(|c| c.abs() < 1e-15) {
            break;
        }
        p -= change[0];
        q -= change[1];
        height -= change[2];
    }
    Some(ground).filter(|ground| ground.normal.z > 0.5)
}

/// One way to stand on three tyres.
#[derive(Clone, Copy)]
struct Tripod {
    lifted: usize,
    ground: Ground<f64>,
    gap: f64,
    /// Distance of the centre of gravity inside the triangle's nearest edge, metres; the edge opposite
    /// the wheel across from the lifted one is the diagonal.
    inside: f64,
    from_diagonal: f64,
}

/// The wheel across the car from this one.
fn across(wheel: usize) -> usize {
    3 - wheel
}

impl RoadSolver<'_> {
    /// The centre of gravity in the body, metres: over the place about which the static loads of the
    /// tyres balance. Where the share of the front wheels is not known: in the middle of the wheelbase;
    /// where the loads of left and right are not: midway between the wheels; where the height is not: on
    /// the ground of the design pose.
    #[must_use]
    pub fn centre_of_gravity(&self) -> Vector3<f64> {
        let front = self.weight_share_front().unwrap_or(0.5);
        let mut foot = self.feet.front * front + self.feet.rear * (1.0 - front);
        if self.car.static_loads != StaticLoads::Unknown
            && let Some(shares) = self.car.load_shares()
        {
            let start = self.solver.start();
            let contacts = WheelPosition::ALL
                .map(|at| OnGround::of(start.axle(at.end).motion.corner(at.side), Vector3::z()).contact);
            let balance: Vector3<f64> =
                contacts.iter().zip(shares).map(|(contact, share)| contact * share).sum();
            (foot.x, foot.y) = (balance.x, balance.y);
        }
        foot + Vector3::z() * self.car.centre_of_gravity_height.unwrap_or(0.0)
    }

    /// Lays the car down on wheels held at these travels (order of [`WheelPosition::ALL`], metres) with this
    /// steering input: on all four tyres where they lie in a plane, else on the three whose triangle
    /// holds the centre of gravity.
    ///
    /// # Errors
    /// The limit a linkage meets on its way to these travels, or tyres that make no triangle.
    pub fn rest(&self, travel: [f64; 4], steer: f64) -> Result<Resting, Stop> {
        let solved = self.solver.solve(&CarPose { travel, ..CarPose::steered(steer) })?;
        let corners = WheelPosition::ALL.map(|at| solved.axle(at.end).motion.corner(at.side));
        let tripods = self.tripods(&corners);
        let holds = |t: &&Tripod| t.gap > -TOUCHING;
        // The triangle the centre of gravity is deepest in; the first of two alike.
        let chosen = tripods.iter().filter(holds).fold(None, |best: Option<&Tripod>, t| match best {
            Some(best) if t.inside <= best.inside + TIE => Some(best),
            _ => Some(t),
        });
        let Some(chosen) = chosen else {
            let links = vec!["the tyres make no triangle on a plane"];
            return Err(Stop::new(StopKind::CannotAssemble, 0.0, 0.0, links, 0.0));
        };
        let other = tripods.iter().filter(holds).find(|t| t.lifted == across(chosen.lifted));
        let wheel = |t: &Tripod| (WheelPosition::ALL[t.lifted], t.gap);
        let support = match other {
            _ if chosen.inside < -TIE => Support::Falls { outside: -chosen.inside },
            _ if chosen.gap < TOUCHING => Support::Four,
            Some(other) if chosen.from_diagonal.abs() <= TIE => {
                Support::Rocks { lifted: [wheel(chosen), wheel(other)], second: other.ground }
            }
            _ => Support::Three { lifted: wheel(chosen).0, gap: chosen.gap },
        };
        let ground = chosen.ground;
        let mut solved = solved;
        for axle in &mut solved.axles {
            axle.motion = axle.motion.over(ground);
        }
        let solved = solved.with_rear_line();
        let gap = |at: WheelPosition| {
            let gap = ground.gap(solved.axle(at.end).motion.corner(at.side));
            // The three that carry touch by construction: what is left there is rounding.
            if gap.abs() < TOUCHING { 0.0 } else { gap }
        };
        let gaps = WheelPosition::ALL.map(gap);
        let (body, pitch) = (self.feet.body(&ground), self.feet.pitch(&ground));
        Ok(Resting { body, pitch, ground, solved, gaps, support })
    }

    fn tripods(&self, corners: &[&CornerMotion<f64>; 4]) -> Vec<Tripod> {
        let centre = self.centre_of_gravity();
        let tripod = |lifted: usize| {
            let carrying: Vec<usize> = (0..4).filter(|&i| i != lifted).collect();
            let &[a, b, c] = carrying.as_slice() else { return None };
            let ground = plane_under([corners[a], corners[b], corners[c]])?;
            let plan = |point: &Vector3<f64>| ground.road_from_body(point).xy();
            let at = |i: usize| plan(&OnGround::of(corners[i], ground.normal).contact);
            let centre = plan(&centre);
            // Distance of the centre of gravity from the edge between two, toward the third.
            let from_edge = |i: usize, j: usize, third: usize| {
                let along = (at(j) - at(i)).normalize();
                let off = |p: nalgebra::Vector2<f64>| along.perp(&(p - at(i)));
                off(centre) * off(at(third)).signum()
            };
            let opposite = across(lifted);
            let edge = |third: usize| {
                let rest: Vec<usize> = carrying.iter().copied().filter(|&i| i != third).collect();
                let &[i, j] = rest.as_slice() else { return f64::NAN };
                from_edge(i, j, third)
            };
            let inside = carrying.iter().map(|&third| edge(third)).fold(f64::INFINITY, f64::min);
            let gap = ground.gap(corners[lifted]);
            Some(Tripod { lifted, ground, gap, inside, from_diagonal: edge(opposite) })
        };
        (0..4).filter_map(tripod).collect()
    }

    /// The front axle's share of the weight, 0 to 1, where the car says it.
    #[must_use]
    pub fn weight_share_front(&self) -> Option<f64> {
        self.car.front_share()
    }
}
