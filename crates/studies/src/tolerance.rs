//! How exactly a hole must be placed so that the limits hold.
//!
//! A hole that is off leaves the links that hang on it as they are: the wheel goes where they lead it. Then two
//! things can be done, and both are judged: nothing (as built), or toe is brought back by its link (realigned).

use crate::verdict::{Outcome, Verdict, verdict, verdicts};
use nalgebra::Vector3;
use std::f64::consts::TAU;
use wheelpath_geometry::{
    Axis, Car, CarSolver, ChangedOn, End, Hardpoint, Limited, Links, Parameter, PoseRange, Quantity,
    Requirement, ScalarParameter, Scope, Selection, Sensitivity, Side, Value, WheelPosition, reading,
};

/// No tolerance is said to be wider than this, metres.
pub const WIDEST: f64 = 0.01;
/// Places tried around the circle of a tolerance, beside those where the slopes point.
const AROUND: u32 = 24;
/// Distances and joints are looked at in each so-manyth of them: they take long.
const FIT_EVERY: usize = 3;
/// A tolerance is found to this share of itself.
const SHARP: f64 = 0.005;
/// Narrower than this no hole is drilled, metres.
const NARROWEST: f64 = 1e-6;
/// Step of a difference where no exact derivative is at hand, metres.
const STEP: f64 = 1e-5;

/// How far a hole may be off in its plane.
#[derive(Clone, Debug, PartialEq)]
pub struct Tolerance {
    /// The links as they are and static toe brought back by tie rod or toe link; camber too where the car states
    /// an adjuster for it.
    pub realigned: Placing,
    /// The links as they are, and nothing reset.
    pub as_built: Placing,
    /// The most static toe that is to be taken out of one wheel where the hole is off by as much as
    /// [`realigned`](Self::realigned) allows, radians; `None` where no link sets toe.
    pub toe_to_take_out: Option<f64>,
    /// Places of limits that are broken before the hole is off at all: they have no say.
    pub broken: Vec<usize>,
    /// Places of limits of which that cannot be said: they have no say either.
    pub open: Vec<usize>,
}

/// How far a hole may be off in one case.
#[derive(Clone, Debug, PartialEq)]
pub struct Placing {
    /// Radius, metres, within which every limit that holds goes on holding; at most [`WIDEST`].
    pub radius: f64,
    /// Place of the limit that decides, where one does.
    pub decided_by: Option<usize>,
    /// What the slopes alone would have given, metres.
    pub by_slopes: f64,
}

impl Tolerance {
    /// The narrower of the two cases.
    #[must_use]
    pub fn narrower(&self) -> &Placing {
        if self.realigned.radius < self.as_built.radius { &self.realigned } else { &self.as_built }
    }
}

/// The hole and the plane it is drilled in.
#[derive(Clone, Copy, Debug)]
pub struct Hole {
    /// Whose it is.
    pub of: Selection,
    /// Which point.
    pub hardpoint: Hardpoint,
    /// Two unit directions at right angles in the plane, in vehicle axes, on the left side of [`Selection::Both`].
    pub plane: [Vector3<f64>; 2],
}

impl Hole {
    /// The car with the hole off by this much in its plane, its links kept; mirrored where both sides are drilled.
    fn moved(&self, car: &Car, by: [f64; 2]) -> Option<Car> {
        let mut after = car.clone();
        let off = self.plane[0] * by[0] + self.plane[1] * by[1];
        for (n, assembly) in self.of.assemblies().into_iter().enumerate() {
            let Some(Value::Place(at)) = Parameter::Point(self.hardpoint).value(car, assembly) else {
                return None;
            };
            let off = if n == 0 { off } else { Vector3::new(off.x, -off.y, off.z) };
            assembly.move_point(&mut after, self.hardpoint, at + off, Links::Kept).then_some(())?;
        }
        Some(after)
    }
}

/// How exactly a hole must be placed; `None` where the car has no such point. `solver` is made of the car.
#[must_use]
pub fn tolerance(car: &Car, solver: &CarSolver, limits: &[Requirement], hole: &Hole) -> Option<Tolerance> {
    hole.moved(car, [0.0; 2])?;
    let found = verdicts(car, solver, limits);
    let those =
        |which: fn(&Outcome) -> bool| (0..found.len()).filter(|i| which(&found[*i].outcome)).collect();
    let held = Held { limits, found: &found, hole };
    let as_built = Case::new(car.as_built(solver))?;
    let sets_toe = Side::BOTH.iter().any(|&side| toe_is_set(solver, hole, side));
    let (realigned, toe_to_take_out) = if sets_toe {
        let placing = held.placing(&Case::new(car.realigned(solver))?);
        let toe = toe_to_take_out(&as_built, hole, placing.radius);
        (Some(placing), Some(toe))
    } else {
        (None, None)
    };
    let as_built = held.placing(&as_built);
    Some(Tolerance {
        realigned: realigned.unwrap_or_else(|| as_built.clone()),
        as_built,
        toe_to_take_out,
        broken: those(|outcome| *outcome == Outcome::Fail),
        open: those(|outcome| matches!(outcome, Outcome::Open(_))),
    })
}

/// Whether a link sets the toe of that side's wheel, and the hole is one of it.
fn toe_is_set(solver: &CarSolver, hole: &Hole, side: Side) -> bool {
    let assemblies = hole.of.assemblies();
    let whose = assemblies.iter().any(|assembly| assembly.side().is_none_or(|one| one == side));
    let end = hole.of.first().end();
    whose && solver.corner(WheelPosition { end, side }).is_some_and(|corner| corner.toe_link().is_some())
}

/// What a car's adjusters do about a hole that is off.
struct Case {
    car: Car,
    solver: CarSolver,
}

impl Case {
    fn new(car: Car) -> Option<Case> {
        let solver = CarSolver::new(&car).ok()?;
        Some(Case { car, solver })
    }
}

/// The most that static toe changes on one wheel with the hole off by `radius`, radians.
fn toe_to_take_out(as_built: &Case, hole: &Hole, radius: f64) -> f64 {
    let end = hole.of.first().end();
    let axle = as_built.solver.axle(end);
    let Some(toe) = reading("toe") else { return f64::NAN };
    let of = |solver: &CarSolver, side: Side| solver.axle(end).start().wheel_values(side).get(toe);
    let mut most = 0.0_f64;
    for side in Side::BOTH.into_iter().filter(|&side| toe_is_set(&as_built.solver, hole, side)) {
        let gradient = gradient(hole, |parameter, on| {
            let slopes = axle.sensitivity(&axle.start(), parameter, on, Links::Kept)?;
            slopes.wheels[usize::from(side == Side::Right)].get(toe)
        });
        let Some([u, v]) = gradient else { return f64::NAN };
        let size = u.hypot(v);
        if size < f64::MIN_POSITIVE {
            continue;
        }
        for sign in [-1.0, 1.0] {
            let by = [sign * radius * u / size, sign * radius * v / size];
            let solved = hole.moved(&as_built.car, by).and_then(|car| CarSolver::new(&car).ok());
            let change = solved.and_then(|there| Some(of(&there, side)? - of(&as_built.solver, side)?));
            // Where the links do not reach that far, the slope says what would be.
            most = most.max(change.map_or(size * radius, f64::abs));
        }
    }
    most
}

/// Slopes of something along the hole's plane, per metre, from its derivatives to the hole's coordinates.
fn gradient(hole: &Hole, of: impl Fn(ScalarParameter, ChangedOn) -> Option<f64>) -> Option<[f64; 2]> {
    let on = match hole.of {
        Selection::Both(_) => ChangedOn::Both,
        Selection::One(assembly) => ChangedOn::One(assembly.side().unwrap_or(Side::Left)),
    };
    let by_axis = |axis| of(ScalarParameter::point(hole.hardpoint, axis), on);
    let gradient = Vector3::new(by_axis(Axis::X)?, by_axis(Axis::Y)?, by_axis(Axis::Z)?);
    Some(hole.plane.map(|along| gradient.dot(&along)))
}

/// The limits and what is to be said of them before the hole is off.
struct Held<'a> {
    limits: &'a [Requirement],
    found: &'a [Verdict],
    hole: &'a Hole,
}

/// A limit that held, and in which directions it is looked at.
struct Asked {
    place: usize,
    limit: Requirement,
    /// Where the slopes alone break it, metres.
    by_slopes: f64,
    /// Angles in the plane, those where the slopes point first.
    angles: Vec<f64>,
}

impl Held<'_> {
    /// How far the hole may be off in one case.
    fn placing(&self, case: &Case) -> Placing {
        let mut asked: Vec<Asked> = self.asked(case).collect();
        // What is near and quickly looked at says first how far the others are worth following.
        asked.sort_by(|a, b| a.by_slopes.total_cmp(&b.by_slopes).then(a.place.cmp(&b.place)));
        asked.sort_by_key(|one| is_of_fit(&one.limit));
        let nearest = asked.iter().map(|one| one.by_slopes).fold(WIDEST, f64::min);
        let mut placing = Placing { radius: WIDEST, decided_by: None, by_slopes: nearest };
        for one in &asked {
            for &angle in &one.angles {
                if placing.radius > 0.0 && self.is_broken(case, one, angle, placing.radius) {
                    placing.radius = self.furthest(case, one, angle, placing.radius);
                    placing.decided_by = Some(one.place);
                }
            }
        }
        placing
    }

    fn asked<'b>(&'b self, case: &'b Case) -> impl Iterator<Item = Asked> + 'b {
        self.limits.iter().zip(self.found).enumerate().filter_map(move |(place, (limit, verdict))| {
            if verdict.outcome != Outcome::Pass {
                return None;
            }
            let limit = on_own_axle(limit, self.hole)?;
            let slopes = verdict.worst.and_then(|_| slopes(case, &limit, verdict, self.hole));
            let [u, v] = slopes.unwrap_or([0.0; 2]);
            let margin = verdict.worst.map_or(f64::INFINITY, |worst| worst.margin);
            let by_slopes = margin / u.hypot(v).max(f64::MIN_POSITIVE);
            let steepest = v.atan2(u);
            let every = if is_of_fit(&limit) { FIT_EVERY } else { 1 };
            let around = (0..AROUND).step_by(every).map(|step| TAU * f64::from(step) / f64::from(AROUND));
            let angles = [steepest, steepest + 0.5 * TAU].into_iter().chain(around).collect();
            Some(Asked { place, limit, by_slopes, angles })
        })
    }

    fn is_broken(&self, case: &Case, one: &Asked, angle: f64, radius: f64) -> bool {
        let by = [radius * angle.cos(), radius * angle.sin()];
        let Some(moved) = self.hole.moved(&case.car, by) else { return true };
        let Ok(solver) = CarSolver::new(&moved) else { return true };
        verdict(&moved, &solver, &one.limit).outcome != Outcome::Pass
    }

    /// How far the limit holds in a direction in which it is broken at `broken`, metres.
    fn furthest(&self, case: &Case, one: &Asked, angle: f64, mut broken: f64) -> f64 {
        let mut holds = 0.0;
        // The slopes know about where: a stretch that is ten times shorter at once.
        for guess in [0.97 * one.by_slopes, 1.03 * one.by_slopes] {
            if guess > holds && guess < broken {
                if self.is_broken(case, one, angle, guess) { broken = guess } else { holds = guess }
            }
        }
        while broken - holds > SHARP * broken {
            if broken < NARROWEST {
                return 0.0;
            }
            let middle = 0.5 * (holds + broken);
            if self.is_broken(case, one, angle, middle) { broken = middle } else { holds = middle }
        }
        holds
    }
}

fn is_of_fit(limit: &Requirement) -> bool {
    matches!(limit.of, Limited::Distance { .. } | Limited::JointMargin { .. })
}

/// The limit as far as a hole can have a say in it: readings, distances and joints of the other axle stay as they
/// are; on the road both axles stand together.
fn on_own_axle(limit: &Requirement, hole: &Hole) -> Option<Requirement> {
    let own = hole.of.first().end();
    let mut limit = limit.clone();
    match &mut limit.of {
        Limited::Distance { end, .. } | Limited::JointMargin { end, .. } => {
            if end.is_some_and(|end| end != own) {
                return None;
            }
            *end = Some(own);
        }
        Limited::Reading { over: PoseRange::SteadyCorner(_), .. } => {}
        Limited::Reading { end, .. } if *end != own => return None,
        Limited::Lock if own == End::Rear => return None,
        Limited::Reading { .. } | Limited::Lock => {}
    }
    Some(limit)
}

/// How fast the limited value changes along both directions of the plane, per metre.
fn slopes(case: &Case, limit: &Requirement, verdict: &Verdict, hole: &Hole) -> Option<[f64; 2]> {
    exact(&case.solver, limit, verdict, hole).or_else(|| differenced(&case.car, limit, hole))
}

/// By the exact derivatives at the worst pose.
fn exact(solver: &CarSolver, limit: &Requirement, verdict: &Verdict, hole: &Hole) -> Option<[f64; 2]> {
    let Limited::Reading { reading, end, taken, over, .. } = limit.of else { return None };
    let worst = verdict.worst?;
    if matches!(over, PoseRange::SteadyCorner(_)) || hole.of.first().end() != end {
        return None;
    }
    let axle = solver.axle(end);
    let [a, b, c, d] = worst.pose.travel;
    let travel = if end == End::Front { [a, b] } else { [c, d] };
    let here = axle.solve(travel, if end == End::Front { worst.pose.steer } else { 0.0 }).ok()?;
    let [here, start] = [here, axle.start()].map(|pose| axle.rated(&pose));
    let of = |sensitivity: &Sensitivity| match (reading.scope, worst.wheel) {
        (Scope::Wheel, Some(WheelPosition { side, .. })) => {
            sensitivity.wheels[usize::from(side == Side::Right)].get(reading)
        }
        (Scope::Axle, _) => sensitivity.axle.get(reading),
        _ => None,
    };
    gradient(hole, |parameter, on| {
        let at_pose = of(&axle.sensitivity(&here, parameter, on, Links::Kept)?)?;
        let at_start = match taken {
            Quantity::Value => 0.0,
            Quantity::Change => of(&axle.sensitivity(&start, parameter, on, Links::Kept)?)?,
        };
        Some(at_pose - at_start)
    })
}

/// By central differences of the margin itself.
fn differenced(car: &Car, limit: &Requirement, hole: &Hole) -> Option<[f64; 2]> {
    let margin = |by: [f64; 2]| {
        let moved = hole.moved(car, by)?;
        let solver = CarSolver::new(&moved).ok()?;
        Some(verdict(&moved, &solver, limit).worst?.margin)
    };
    let along = |ahead: [f64; 2], back: [f64; 2]| Some((margin(ahead)? - margin(back)?) / (2.0 * STEP));
    Some([along([STEP, 0.0], [-STEP, 0.0])?, along([0.0, STEP], [0.0, -STEP])?])
}
