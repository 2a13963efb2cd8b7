//! Whether a car keeps a limit, and where it comes nearest to breaking it.

mod fit;

pub use fit::{FIT_STEERS, FIT_TRAVELS};

use crate::clearance::PartName;
use crate::least::golden_cuts;
use std::fmt;
use wheelpath_geometry::{
    AxlePose, Car, CarPose, CarSolver, End, Hardpoint, LengthUnit, Limited, NoEstimate, PoseRange, Quantity,
    Reading, Requirement, RoadSolver, Scope, Side, SteadyCorner, Stop, SweepValues, WheelPosition,
    over_steer, over_travel, spaced,
};

/// Poses along a path before the worst of them is sought more closely.
const POSES: usize = 51;
/// Halvings (by the golden section) of the stretch about the worst pose: below a micrometre of travel.
const HALVINGS: usize = 24;

/// Whether a limit passes.
#[derive(Clone, Debug)]
pub struct Verdict {
    /// Pass, fail, or open.
    pub outcome: Outcome,
    /// Where it is worst.
    pub worst: Option<Worst>,
    /// The first limit that a linkage meets on the way, where not every pose is reached.
    pub stop: Option<Stop>,
}

impl Verdict {
    /// Why the limit is open, with lengths in this unit; `None` where it passes or fails.
    #[must_use]
    pub fn why(&self, lengths: LengthUnit) -> Option<String> {
        let Outcome::Open(why) = &self.outcome else { return None };
        let Some(stop) = &self.stop else { return Some(why.clone()) };
        Some(why.replace(&stop.to_string(), &stop.in_words(lengths)))
    }
}

/// What came of a limit.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// Every pose is reached and within the bounds.
    Pass,
    /// Some pose is beyond a bound.
    Fail,
    /// Not every pose is reached, and those that are, are within; or the reading does not exist.
    Open(String),
}

/// The pose where a limit is worst.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Worst {
    /// The value there, SI units and radians.
    pub value: f64,
    /// How far within the bounds; negative beyond.
    pub margin: f64,
    /// The pose.
    pub pose: CarPose,
    /// At which wheel; `None` for what belongs to an axle or the car.
    pub wheel: Option<WheelPosition>,
    /// Which parts come so near, or which joint has so little left; `None` for other limits.
    pub place: Option<Place>,
}

/// What of the car a worst value belongs to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Place {
    /// Two parts.
    Parts([PartName; 2]),
    /// A joint of a wheel.
    Joint(WheelPosition, Hardpoint),
}

impl Place {
    /// On which axle.
    #[must_use]
    pub fn end(&self) -> End {
        match self {
            Place::Parts([one, _]) => one.end,
            Place::Joint(wheel, _) => wheel.end,
        }
    }
}

impl fmt::Display for Place {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Place::Parts([one, other]) if (one.end, one.side) == (other.end, other.side) => {
                write!(f, "{one} and {}", other.what)
            }
            Place::Parts([one, other]) => write!(f, "{one} and {other}"),
            Place::Joint(wheel, joint) => write!(f, "{wheel} {joint}"),
        }
    }
}

/// The verdict on each limit.
#[must_use]
pub fn verdicts(car: &Car, solver: &CarSolver, limits: &[Requirement]) -> Vec<Verdict> {
    limits.iter().map(|limit| verdict(car, solver, limit)).collect()
}

/// The verdict on one limit.
#[must_use]
pub fn verdict(car: &Car, solver: &CarSolver, limit: &Requirement) -> Verdict {
    match limit.of {
        Limited::Lock => lock(car, solver, limit),
        Limited::Distance { between, travel, .. } => fit::distance(car, solver, limit, between, travel),
        Limited::JointMargin { travel, .. } => fit::joints(car, solver, limit, travel),
        Limited::Reading { reading, end, taken, over: PoseRange::SteadyCorner(bend), .. } => {
            in_bend(car, solver, limit, &Asked { reading, end, taken }, &bend)
        }
        Limited::Reading { reading, end, taken, over, .. } => {
            along(car, solver, limit, &Asked { reading, end, taken }, over)
        }
    }
}

struct Asked {
    reading: &'static Reading,
    end: End,
    taken: Quantity,
}

/// Whose values count: `None` is the axle.
fn whose(limit: &Requirement) -> Vec<Option<WheelPosition>> {
    let wheels = limit.of.wheels();
    if wheels.is_empty() { vec![None] } else { wheels.into_iter().map(Some).collect() }
}

fn value(values: &SweepValues, reading: &Reading, wheel: Option<WheelPosition>) -> Option<f64> {
    match (wheel, reading.scope) {
        (Some(at), Scope::Wheel) => values.wheels[usize::from(at.side == Side::Right)].get(reading),
        (_, Scope::Axle) => values.axle.get(reading),
        _ => None,
    }
}

/// What keeps the worst of the poses looked at.
#[derive(Default)]
struct Seeking {
    worst: Option<Worst>,
    /// Place of the worst on the path.
    place: usize,
}

impl Seeking {
    fn look(&mut self, place: usize, found: Worst) {
        if self.worst.is_none_or(|worst| found.margin < worst.margin) {
            (self.worst, self.place) = (Some(found), place);
        }
    }
}

fn car_pose(end: End, pose: &AxlePose) -> CarPose {
    let [left, right] = pose.travel;
    match end {
        End::Front => CarPose { travel: [left, right, 0.0, 0.0], steer: pose.steer },
        End::Rear => CarPose { travel: [0.0, 0.0, left, right], steer: 0.0 },
    }
}

fn along(car: &Car, solver: &CarSolver, limit: &Requirement, asked: &Asked, over: PoseRange) -> Verdict {
    let axle = solver.axle(asked.end);
    let [right, left] = car.axle(asked.end).steering.stops();
    let poses: Vec<AxlePose> = match over {
        PoseRange::Design | PoseRange::SteadyCorner(_) => over_steer([0.0; 2], &[0.0]),
        PoseRange::Travel { from, to, wheels } => over_travel(wheels, &spaced(from, to, POSES), 0.0),
        PoseRange::Steer => over_steer([0.0; 2], &spaced(right, left, POSES)),
    };
    let design = axle.sweep(&over_steer([0.0; 2], &[0.0]));
    let base = |wheel| match asked.taken {
        Quantity::Value => Some(0.0),
        Quantity::Change => {
            let values = design.first().and_then(|point| point.result.as_ref().ok())?;
            value(values, asked.reading, wheel)
        }
    };
    let at = |pose: &AxlePose, values: &SweepValues, wheel| -> Option<Worst> {
        let value = value(values, asked.reading, wheel)? - base(wheel)?;
        let pose = car_pose(asked.end, pose);
        Some(Worst { value, margin: limit.margin(value), pose, wheel, place: None })
    };
    let swept = axle.sweep(&poses);
    let mut stop = None;
    let mut lacking = 0;
    let mut seeking: Vec<(Option<WheelPosition>, Seeking)> =
        whose(limit).into_iter().map(|wheel| (wheel, Seeking::default())).collect();
    for (place, point) in swept.iter().enumerate() {
        match &point.result {
            Ok(values) => {
                for (wheel, seeking) in &mut seeking {
                    match at(&point.pose, values, *wheel) {
                        Some(found) => seeking.look(place, found),
                        None => lacking += 1,
                    }
                }
            }
            Err(met) => stop = stop.or_else(|| Some(met.clone())),
        }
    }
    let solve = |pose: &AxlePose, wheel| {
        let point = axle.sweep(std::slice::from_ref(pose));
        at(pose, point.first()?.result.as_ref().ok()?, wheel)
    };
    for (wheel, seeking) in &mut seeking {
        closer(&poses, *wheel, seeking, &solve);
    }
    let worst = seeking
        .into_iter()
        .filter_map(|(_, seeking)| seeking.worst)
        .min_by(|a, b| a.margin.total_cmp(&b.margin));
    concluded(worst, stop, lacking > 0, &asked.reading.name_on(car.axle(asked.end).is_beam()))
}

/// Seeks between the neighbours of the worst pose on a path.
fn closer(
    poses: &[AxlePose],
    wheel: Option<WheelPosition>,
    seeking: &mut Seeking,
    solve: &impl Fn(&AxlePose, Option<WheelPosition>) -> Option<Worst>,
) {
    let place = seeking.place;
    let (Some(from), Some(to)) =
        (poses.get(place.saturating_sub(1)), poses.get(place + 1).or_else(|| poses.last()))
    else {
        return;
    };
    if seeking.worst.is_none() || from == to {
        return;
    }
    let between = |share: f64| {
        let mix = |a: f64, b: f64| a + (b - a) * share;
        AxlePose {
            travel: [0, 1].map(|i: usize| mix(from.travel[i], to.travel[i])),
            steer: mix(from.steer, to.steer),
        }
    };
    golden_cuts([0.0, 1.0], HALVINGS, |share| {
        let found = solve(&between(share), wheel)?;
        seeking.look(place, found);
        Some(found.margin)
    });
}

fn concluded(worst: Option<Worst>, stop: Option<Stop>, lacking: bool, reading: &str) -> Verdict {
    let outcome = match (&worst, &stop) {
        (Some(worst), _) if worst.margin < 0.0 => Outcome::Fail,
        (_, Some(stop)) => Outcome::Open(format!("not every pose is reached: {stop}")),
        (None, None) => Outcome::Open(format!("this car has no {reading}")),
        (Some(_), None) if lacking => Outcome::Open(format!("{reading} does not exist in every pose")),
        (Some(_), None) => Outcome::Pass,
    };
    Verdict { outcome, worst, stop }
}

fn in_bend(
    car: &Car,
    solver: &CarSolver,
    limit: &Requirement,
    asked: &Asked,
    bend: &SteadyCorner,
) -> Verdict {
    let name = &asked.reading.name_on(car.axle(asked.end).is_beam());
    let road = RoadSolver::new(car, solver);
    if bend.at.on_road().normal <= 0.0 {
        let outcome = Outcome::Open(NoEstimate::LeavesRoad.to_string());
        return Verdict { outcome, worst: None, stop: None };
    }
    let solved = match &bend.gradients {
        Some(gradients) => road.mid_corner(&bend.at, bend.steer, gradients).map_err(NoEstimate::Stop),
        None => road.mid_corner_by_estimate(&bend.at, bend.steer).map(|(car, _)| car),
    };
    let corner = match solved {
        Ok(corner) => corner,
        Err(NoEstimate::Stop(stop)) => return concluded(None, Some(stop), false, name),
        Err(no) => return Verdict { outcome: Outcome::Open(no.to_string()), worst: None, stop: None },
    };
    let of = |axle: &wheelpath_geometry::SolvedAxle| SweepValues {
        wheels: Side::BOTH.map(|side| axle.wheel_values(side)),
        axle: axle.axle_values(),
    };
    let here = of(corner.standing.solved.axle(asked.end));
    let start = of(solver.start().axle(asked.end));
    let mut seeking = Seeking::default();
    let mut lacking = false;
    for wheel in whose(limit) {
        let base = match asked.taken {
            Quantity::Value => Some(0.0),
            Quantity::Change => value(&start, asked.reading, wheel),
        };
        let found = value(&here, asked.reading, wheel).zip(base).map(|(value, base)| value - base);
        let pose = corner.standing.solved.pose;
        match found {
            Some(value) => {
                seeking.look(0, Worst { value, margin: limit.margin(value), pose, wheel, place: None })
            }
            None => lacking = true,
        }
    }
    concluded(seeking.worst, None, lacking, name)
}

/// Steer angle of the inner wheel at both full locks, the smaller one.
fn lock(car: &Car, solver: &CarSolver, limit: &Requirement) -> Verdict {
    let open = |why: String| Verdict { outcome: Outcome::Open(why), worst: None, stop: None };
    if !car.front.steering.steers() {
        return open("the front axle is not steered".into());
    }
    let locks = match RoadSolver::new(car, solver).locks() {
        Ok(locks) => locks,
        Err(stop) => {
            let outcome = Outcome::Open(format!("full lock is not reached: {stop}"));
            return Verdict { outcome, worst: None, stop: Some(stop) };
        }
    };
    let mut seeking = Seeking::default();
    for one in &locks {
        let mean = one.wheels.iter().sum::<f64>();
        let side = if mean > 0.0 { Side::Left } else { Side::Right };
        let value = one.wheels[usize::from(side == Side::Right)].abs();
        let wheel = Some(WheelPosition { end: End::Front, side });
        let pose = CarPose::steered(one.steer);
        seeking.look(0, Worst { value, margin: limit.margin(value), pose, wheel, place: None });
    }
    match seeking.worst {
        Some(worst) if worst.margin < 0.0 => {
            Verdict { outcome: Outcome::Fail, worst: Some(worst), stop: None }
        }
        Some(worst) => Verdict { outcome: Outcome::Pass, worst: Some(worst), stop: None },
        None => open("the steering has no stops".into()),
    }
}
