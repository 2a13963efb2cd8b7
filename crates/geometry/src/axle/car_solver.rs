//! The whole car: four corners, two axles, one pose.

use crate::axle::axle_solver::{AxleSolver, SolvedAxle};
use crate::axle::rear_line::RearLine;
use crate::car::Car;
use crate::car::hardpoint::Hardpoint;
use crate::car::position::{End, WheelPosition};
use crate::corner::corner_motion::CornerMotion;
use crate::corner::corner_solver::CornerSolver;
use crate::mechanism::stop::Stop;
use nalgebra::Vector3;

/// What is asked of a car: travel of each wheel (order of [`WheelPosition::ALL`]), metres, and the front
/// axle's steering input.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct CarPose {
    /// Travel of each wheel centre against the body, + bump.
    pub travel: [f64; 4],
    /// Steering input of the front axle: travel of the rack, metres, + toward the left, or turn of the
    /// pitman arm, radians, right-handed about its upward axis.
    pub steer: f64,
}

impl CarPose {
    /// Zero travel, straight ahead.
    pub const REFERENCE: CarPose = CarPose { travel: [0.0; 4], steer: 0.0 };

    /// All wheels at one travel, metres.
    #[must_use]
    pub fn heave(travel: f64) -> Self {
        CarPose { travel: [travel; 4], steer: 0.0 }
    }

    /// At one steering input, wheels at zero travel.
    #[must_use]
    pub fn steered(steer: f64) -> Self {
        CarPose { steer, ..CarPose::REFERENCE }
    }

    /// Travel of that wheel.
    #[must_use]
    pub fn travel_of(&self, wheel: WheelPosition) -> f64 {
        self.travel[wheel.index()]
    }
}

/// A car ready to solve.
#[derive(Clone, Debug)]
pub struct CarSolver {
    axles: [AxleSolver; 2],
}

/// A car solved at one pose.
#[derive(Clone, Copy, Debug)]
pub struct SolvedCar {
    /// The pose.
    pub pose: CarPose,
    /// Front and rear axle.
    pub axles: [SolvedAxle; 2],
}

impl SolvedCar {
    /// The axle at that end.
    #[must_use]
    pub fn axle(&self, end: End) -> &SolvedAxle {
        &self.axles[usize::from(end == End::Rear)]
    }

    /// The front axle told where its rear wheels stand now.
    pub(crate) fn with_rear_line(mut self) -> Self {
        let line = RearLine::of(&self.axle(End::Rear).motion);
        self.axles[0].motion.context.rear_line = Some(line);
        self
    }

    /// The motion of that wheel.
    #[must_use]
    pub fn wheel(&self, at: WheelPosition) -> &CornerMotion<f64> {
        self.axle(at.end).motion.corner(at.side)
    }
}

impl CarSolver {
    /// Makes a car ready: every corner closed in its design pose, alignment set.
    ///
    /// # Errors
    /// What keeps the first bad corner of each axle from being solved.
    pub fn new(car: &Car) -> Result<Self, Vec<Stop>> {
        match (AxleSolver::new(car, End::Front), AxleSolver::new(car, End::Rear)) {
            (Ok(front), Ok(rear)) => {
                let line = RearLine::of(&rear.start().motion);
                Ok(CarSolver { axles: [front.ahead_of(line), rear] })
            }
            (front, rear) => Err([front.err(), rear.err()].into_iter().flatten().collect()),
        }
    }

    /// The axle at that end.
    #[must_use]
    pub fn axle(&self, end: End) -> &AxleSolver {
        &self.axles[usize::from(end == End::Rear)]
    }

    /// That corner; `None` on a beam axle, which is solved as a whole.
    #[must_use]
    pub fn corner(&self, at: WheelPosition) -> Option<&CornerSolver> {
        self.axle(at.end).corner(at.side)
    }

    /// The car at zero travel, straight ahead.
    #[must_use]
    pub fn start(&self) -> SolvedCar {
        SolvedCar { pose: CarPose::REFERENCE, axles: [self.axles[0].start(), self.axles[1].start()] }
    }

    /// Solves at a pose, coming from the reference pose. Rear steering stays centred.
    ///
    /// # Errors
    /// The limit met on the way.
    pub fn solve(&self, pose: &CarPose) -> Result<SolvedCar, Stop> {
        let t = &pose.travel;
        let axles = [self.axles[0].solve([t[0], t[1]], pose.steer)?, self.axles[1].solve([t[2], t[3]], 0.0)?];
        Ok(SolvedCar { pose: *pose, axles })
    }

    /// Follows from a solved pose to another in a straight line.
    ///
    /// # Errors
    /// The limit met on the way.
    pub fn follow(&self, from: &SolvedCar, pose: &CarPose) -> Result<SolvedCar, Stop> {
        let t = &pose.travel;
        let axles = [
            self.axles[0].follow(&from.axles[0], [t[0], t[1]], pose.steer)?,
            self.axles[1].follow(&from.axles[1], [t[2], t[3]], 0.0)?,
        ];
        Ok(SolvedCar { pose: *pose, axles })
    }

    /// Where the points of an axle as a whole stand, metres.
    #[must_use]
    pub fn axle_points(&self, solved: &SolvedCar, end: End) -> Vec<(Hardpoint, Vector3<f64>)> {
        self.axle(end).own_points(solved.axle(end))
    }

    /// Where every named point of a corner stands, metres.
    #[must_use]
    pub fn points(&self, solved: &SolvedCar, at: WheelPosition) -> Vec<(Hardpoint, Vector3<f64>)> {
        self.axle(at.end).points(solved.axle(at.end), at.side)
    }
}
