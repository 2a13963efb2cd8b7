//! The body held over the road, every wheel brought down to it.

use super::body_pose::{BodyPose, Feet};
use super::settle::{RoadContact, Settled, settle};
use crate::axle::axle_solver::{AxleSolver, SolvedAxle};
use crate::axle::car_solver::{CarPose, CarSolver, SolvedCar};
use crate::car::Car;
use crate::car::position::{End, Side, WheelPosition};
use crate::car::springing::DamperStops;
use crate::corner::ground::Ground;
use crate::corner::on_ground::OnGround;
use crate::mechanism::stop::{Stop, StopKind};
use crate::number::real::up;
use crate::range::exceeded::{Exceeded, exceeded};
use nalgebra::Vector3;

/// Axles nearer to each other than this, metres, make no car that stands.
const SHORTEST_BASE: f64 = 0.01;

/// A car ready to be put on a road.
#[derive(Clone, Debug)]
pub struct RoadSolver<'a> {
    pub(super) car: &'a Car,
    pub(super) solver: &'a CarSolver,
    pub(super) feet: Feet,
    design: SolvedCar,
    stops: [[Option<DamperStops>; 2]; 2],
}

/// A car standing on a road.
#[derive(Clone, Debug)]
pub struct Standing {
    /// The body over the road.
    pub body: BodyPose,
    /// Pitch of the body about Y against the design pose, radians, + = nose down.
    pub pitch: f64,
    /// The road, seen from the body.
    pub ground: Ground<f64>,
    /// The car, every reading taken to that road. Its pose holds the travels and the steering input.
    pub solved: SolvedCar,
    /// How each wheel stands, in the order of [`WheelPosition::ALL`].
    pub feet: [RoadContact; 4],
    /// Stops that the pose goes beyond: a damper shorter than fully compressed, a rack past its end.
    pub exceeded: Vec<Exceeded>,
}

impl Standing {
    /// How that wheel stands.
    #[must_use]
    pub fn footing(&self, wheel: WheelPosition) -> RoadContact {
        self.feet[wheel.index()]
    }

    /// The wheels that hang free, with the gap below each, metres.
    pub fn hanging(&self) -> impl Iterator<Item = (WheelPosition, f64)> + '_ {
        let gap = |wheel: WheelPosition| match self.footing(wheel) {
            RoadContact::OnRoad => None,
            RoadContact::Hanging { gap, .. } => Some((wheel, gap)),
        };
        WheelPosition::ALL.into_iter().filter_map(gap)
    }

    /// Travel of that wheel against the body, metres, + bump.
    #[must_use]
    pub fn travel(&self, wheel: WheelPosition) -> f64 {
        self.solved.pose.travel_of(wheel)
    }

    /// Contact point of a wheel in the body, metres: the tyre's lowest point toward the road.
    #[must_use]
    pub fn contact(&self, wheel: WheelPosition) -> Vector3<f64> {
        self.solved.axle(wheel.end).motion.wheel(wheel.side).contact
    }
}

/// The point midway between an axle's contacts in its reference pose, on a ground level with the body.
fn foot(axle: &SolvedAxle) -> Vector3<f64> {
    let contact = |side| OnGround::of(axle.motion.corner(side), up()).contact;
    (contact(Side::Left) + contact(Side::Right)) * 0.5
}

impl<'a> RoadSolver<'a> {
    /// Makes a car ready; `solver` is that of the same car.
    #[must_use]
    pub fn new(car: &'a Car, solver: &'a CarSolver) -> Self {
        let design = solver.start();
        let feet = Feet { front: foot(design.axle(End::Front)), rear: foot(design.axle(End::Rear)) };
        let stops = End::BOTH.map(|end| Side::BOTH.map(|side| car.axle(end).corner(side).damper));
        RoadSolver { car, solver, feet, design, stops }
    }

    /// The pose of a body whose point midway between the axles is raised by `rise` (metres, against
    /// the design pose), with this roll and pitch (radians, against the design
    /// pose, right-handed about X and Y: + = left side
    /// up, + = nose down). `None` where that is no pose.
    #[must_use]
    pub fn body_at(&self, rise: f64, roll: f64, pitch: f64) -> Option<BodyPose> {
        self.feet.pose(rise, roll, pitch)
    }

    /// The road under a body in this pose, seen from the body; `None` where that is no pose.
    #[must_use]
    pub fn ground_under(&self, body: &BodyPose) -> Option<Ground<f64>> {
        self.feet.ground(body)
    }

    /// The body over a road.
    #[must_use]
    pub fn body_over(&self, ground: &Ground<f64>) -> BodyPose {
        self.feet.body(ground)
    }

    /// Stands the car with its body in this pose, coming from the design pose: every wheel travels
    /// until its tyre touches the road, or hangs free where its droop ends before that. `steer` is the
    /// front axle's steering input.
    ///
    /// # Errors
    /// The limit a linkage meets on its way toward bump or in steering, or a pose that is none.
    pub fn stand(&self, body: &BodyPose, steer: f64) -> Result<Standing, Stop> {
        let start = SolvedCar { pose: CarPose { ..CarPose::REFERENCE }, axles: self.design.axles };
        self.stand_near(&start, body, steer)
    }

    /// The same, coming from a car that stands already: quicker where that is near.
    ///
    /// # Errors
    /// As [`stand`](Self::stand).
    pub fn stand_from(&self, from: &Standing, body: &BodyPose, steer: f64) -> Result<Standing, Stop> {
        self.stand_near(&from.solved, body, steer)
    }

    fn stand_near(&self, from: &SolvedCar, body: &BodyPose, steer: f64) -> Result<Standing, Stop> {
        let no_pose = || {
            let (kind, what) = match (self.feet.front - self.feet.rear).xy().norm() {
                apart if apart < SHORTEST_BASE => {
                    (StopKind::NoMechanism, vec!["the front and the rear wheels stand in one place"])
                }
                _ => (StopKind::NotFinite, Vec::new()),
            };
            Stop::new(kind, 0.0, 0.0, what, 0.0)
        };
        let ground = self.feet.ground(body).filter(|_| steer.is_finite()).ok_or_else(no_pose)?;
        let front = self.settled(from, End::Front, steer, &ground)?;
        let rear = self.settled(from, End::Rear, 0.0, &ground)?;
        Ok(self.standing(*body, ground, [front, rear], steer))
    }

    fn settled(&self, from: &SolvedCar, end: End, steer: f64, ground: &Ground<f64>) -> Result<Settled, Stop> {
        let solver: &AxleSolver = self.solver.axle(end);
        let travel = Side::BOTH.map(|side| from.pose.travel_of(WheelPosition { end, side }));
        let stops = self.stops[usize::from(end == End::Rear)];
        settle(solver, (from.axle(end), travel), steer, ground, stops)
    }

    fn standing(&self, body: BodyPose, ground: Ground<f64>, axles: [Settled; 2], steer: f64) -> Standing {
        let [front, rear] = axles;
        let travel = [front.travel[0], front.travel[1], rear.travel[0], rear.travel[1]];
        let pose = CarPose { travel, ..CarPose::steered(steer) };
        let solved = SolvedCar { pose, axles: [front.axle, rear.axle] }.with_rear_line();
        Standing {
            body,
            pitch: self.feet.pitch(&ground),
            ground,
            feet: [front.feet[0], front.feet[1], rear.feet[0], rear.feet[1]],
            exceeded: exceeded(self.car, &solved),
            solved,
        }
    }
}
