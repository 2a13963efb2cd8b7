//! The whole car: four corners, two axles, one pose.

use crate::axle_motion::{AxleContext, AxleMotion, AxleReference};
use crate::car::Car;
use crate::corner_solver::{CornerSolver, SolvedCorner};
use crate::pickup::Pickup;
use crate::readings::{AxleValues, WheelValues, axle_values, wheel_values};
use crate::side::{End, Side, WheelAt};
use crate::stop::Stop;
use nalgebra::Vector3;

/// What is asked of a car: travel of each wheel (order of [`WheelAt::ALL`]) and front rack travel,
/// metres.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct CarPose {
    /// Travel of each wheel centre against the body, + bump.
    pub travel: [f64; 4],
    /// Travel of the front rack, + toward the left.
    pub rack: f64,
}

impl CarPose {
    /// Zero travel, straight ahead.
    pub const REFERENCE: CarPose = CarPose { travel: [0.0; 4], rack: 0.0 };

    /// All wheels at one travel, metres.
    #[must_use]
    pub fn heave(travel: f64) -> Self {
        CarPose { travel: [travel; 4], rack: 0.0 }
    }

    /// The rack at one travel, metres, wheels at zero travel.
    #[must_use]
    pub fn steered(rack: f64) -> Self {
        CarPose { rack, ..CarPose::REFERENCE }
    }

    /// Travel of that wheel.
    #[must_use]
    pub fn travel_of(&self, wheel: WheelAt) -> f64 {
        self.travel[wheel.index()]
    }
}

/// An axle ready to solve.
#[derive(Clone, Debug)]
pub struct AxleSolver {
    pub(crate) context: AxleContext,
    pub(crate) reference: AxleReference<f64>,
    pub(crate) corners: [CornerSolver; 2],
}

/// An axle solved at one pose.
#[derive(Clone, Copy, Debug)]
pub struct SolvedAxle {
    /// Left and right corner.
    pub corners: [SolvedCorner; 2],
    /// Both on their ground.
    pub motion: AxleMotion<f64>,
}

impl SolvedAxle {
    /// All readings of one wheel.
    #[must_use]
    pub fn wheel_values(&self, side: Side) -> WheelValues {
        wheel_values(self.motion.corner(side), self.motion.wheel(side))
    }

    /// All readings of the axle.
    #[must_use]
    pub fn axle_values(&self) -> AxleValues {
        axle_values(&self.motion)
    }
}

fn place(side: Side) -> usize {
    usize::from(side == Side::Right)
}

impl AxleSolver {
    /// Makes one axle of a car ready.
    ///
    /// # Errors
    /// The first corner that cannot be made ready.
    pub fn new(car: &Car, end: End) -> Result<Self, Stop> {
        let axle = car.axle(end);
        let rack_axis = axle.steering.rack().map(|rack| rack.axis);
        let corner = |side| {
            CornerSolver::new(axle.corner(side), side, rack_axis)
                .map_err(|stop| stop.at_wheel(WheelAt { end, side }))
        };
        let corners = [corner(Side::Left)?, corner(Side::Right)?];
        let share = car.brake_share_front;
        let context = AxleContext {
            end,
            wheelbase: car.wheelbase,
            centre_of_gravity_height: car.centre_of_gravity_height,
            brake_share: share.map(|front| if end == End::Front { front } else { 1.0 - front }),
            brakes: axle.brakes,
            drive: axle.drive,
            drives_alone: axle.drive.is_some() && (car.front.drive.is_some() != car.rear.drive.is_some()),
            half_tyre: [0.5 * axle.left.wheel.tyre_width, 0.5 * axle.right.wheel.tyre_width],
        };
        let reference = AxleReference::of(&corners[0].start().motion, &corners[1].start().motion);
        Ok(AxleSolver { context, reference, corners })
    }

    /// The corner on that side.
    #[must_use]
    pub fn corner(&self, side: Side) -> &CornerSolver {
        &self.corners[place(side)]
    }

    /// Front or rear.
    #[must_use]
    pub fn end(&self) -> End {
        self.context.end
    }

    fn joined(&self, corners: [SolvedCorner; 2]) -> SolvedAxle {
        let [left, right] = corners;
        SolvedAxle {
            corners,
            motion: AxleMotion::new(self.context, left.motion, right.motion, self.reference),
        }
    }

    /// The axle at zero travel, straight ahead.
    #[must_use]
    pub fn start(&self) -> SolvedAxle {
        self.joined([*self.corners[0].start(), *self.corners[1].start()])
    }

    /// Solves from the reference pose: rack first, then travel (left, right), metres.
    ///
    /// # Errors
    /// The limit met on the way.
    pub fn solve(&self, travel: [f64; 2], rack: f64) -> Result<SolvedAxle, Stop> {
        let at = |side: Side| {
            let stop = |stop: Stop| stop.at_wheel(WheelAt { end: self.context.end, side });
            self.corner(side).solve(travel[place(side)], rack).map_err(stop)
        };
        Ok(self.joined([at(Side::Left)?, at(Side::Right)?]))
    }

    /// Follows in a straight line from a solved pose.
    ///
    /// # Errors
    /// The limit met on the way.
    pub fn follow(&self, from: &SolvedAxle, travel: [f64; 2], rack: f64) -> Result<SolvedAxle, Stop> {
        let at = |side: Side| {
            let i = place(side);
            let stop = |stop: Stop| stop.at_wheel(WheelAt { end: self.context.end, side });
            self.corners[i].follow(&from.corners[i], travel[i], rack).map_err(stop)
        };
        Ok(self.joined([at(Side::Left)?, at(Side::Right)?]))
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

    /// That corner.
    #[must_use]
    pub fn corner(&self, at: WheelAt) -> &SolvedCorner {
        &self.axle(at.end).corners[place(at.side)]
    }
}

impl CarSolver {
    /// Makes a car ready: every corner closed in its design pose, alignment set.
    ///
    /// # Errors
    /// What keeps the first bad corner of each axle from being solved.
    pub fn new(car: &Car) -> Result<Self, Vec<Stop>> {
        match (AxleSolver::new(car, End::Front), AxleSolver::new(car, End::Rear)) {
            (Ok(front), Ok(rear)) => Ok(CarSolver { axles: [front, rear] }),
            (front, rear) => Err([front.err(), rear.err()].into_iter().flatten().collect()),
        }
    }

    /// The axle at that end.
    #[must_use]
    pub fn axle(&self, end: End) -> &AxleSolver {
        &self.axles[usize::from(end == End::Rear)]
    }

    /// That corner.
    #[must_use]
    pub fn corner(&self, at: WheelAt) -> &CornerSolver {
        self.axle(at.end).corner(at.side)
    }

    /// The car at zero travel, straight ahead.
    #[must_use]
    pub fn start(&self) -> SolvedCar {
        SolvedCar { pose: CarPose::REFERENCE, axles: [self.axles[0].start(), self.axles[1].start()] }
    }

    /// Solves at a pose, coming from the reference pose. A rear rack stays centred.
    ///
    /// # Errors
    /// The limit met on the way.
    pub fn solve(&self, pose: &CarPose) -> Result<SolvedCar, Stop> {
        let t = &pose.travel;
        let axles = [self.axles[0].solve([t[0], t[1]], pose.rack)?, self.axles[1].solve([t[2], t[3]], 0.0)?];
        Ok(SolvedCar { pose: *pose, axles })
    }

    /// Follows from a solved pose to another in a straight line.
    ///
    /// # Errors
    /// The limit met on the way.
    pub fn follow(&self, from: &SolvedCar, pose: &CarPose) -> Result<SolvedCar, Stop> {
        let t = &pose.travel;
        let axles = [
            self.axles[0].follow(&from.axles[0], [t[0], t[1]], pose.rack)?,
            self.axles[1].follow(&from.axles[1], [t[2], t[3]], 0.0)?,
        ];
        Ok(SolvedCar { pose: *pose, axles })
    }

    /// Where every named point of a corner stands, metres.
    #[must_use]
    pub fn points(&self, solved: &SolvedCar, at: WheelAt) -> Vec<(Pickup, Vector3<f64>)> {
        self.corner(at).points(solved.corner(at))
    }
}
