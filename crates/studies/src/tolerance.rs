//! How exactly a hole must be placed so that the limits hold.

use crate::verdict::{Outcome, Verdict, verdict, verdicts};
use nalgebra::Vector3;
use std::f64::consts::TAU;
use wheelpath_geometry::{
    Car, CarSolver, ChangedOn, End, Item, Limit, Limited, Links, Of, Over, Parameter, Pickup, Scope,
    Sensitivity, Side, Taken, Value, WheelAt,
};

/// No tolerance is said to be wider than this, metres.
pub const WIDEST: f64 = 0.01;
/// Places tried around the circle of a tolerance.
const AROUND: u32 = 24;
/// Distances and joints are looked at in each so-manyth of them, and last: they take long.
const FIT_EVERY: usize = 3;
/// A tolerance that sampling contradicts is taken back by this share, again and again.
const BACK: f64 = 0.85;
/// Narrower than this no hole is drilled, metres.
const NARROWEST: f64 = 1e-6;
/// Step of a difference where no exact derivative is at hand, metres.
const STEP: f64 = 1e-5;

/// How far a hole may be off in its plane.
#[derive(Clone, Debug, PartialEq)]
pub struct Tolerance {
    /// Radius, metres, within which every limit that holds goes on holding; at most [`WIDEST`].
    pub radius: f64,
    /// Place of the limit that decides, where one does.
    pub decided_by: Option<usize>,
    /// What the slopes alone would have given, metres.
    pub by_slopes: f64,
    /// Places of limits that are broken already, or open: they have no say.
    pub without: Vec<usize>,
}

/// The hole and the plane it is drilled in.
#[derive(Clone, Copy, Debug)]
pub struct Hole {
    /// Whose.
    pub of: Of,
    /// Which point.
    pub pickup: Pickup,
    /// Two unit directions at right angles in the plane, in vehicle axes, on the left side of [`Of::Both`].
    pub plane: [Vector3<f64>; 2],
}

impl Hole {
    /// The car with the hole off by this much in its plane, mirrored where both sides are drilled.
    fn moved(&self, car: &Car, by: [f64; 2]) -> Option<Car> {
        let mut after = car.clone();
        let off = self.plane[0] * by[0] + self.plane[1] * by[1];
        for (n, owner) in self.of.owners().into_iter().enumerate() {
            let item = Item::Point(self.pickup);
            let Some(Value::Place(at)) = item.value(car, owner) else { return None };
            let off = if n == 0 { off } else { Vector3::new(off.x, -off.y, off.z) };
            item.set(&mut after, owner, Value::Place(at + off)).then_some(())?;
        }
        Some(after)
    }
}

/// How exactly a hole must be placed; `None` where the car has no such point. A misplaced hole is taken as
/// if the links were then set so that the design pose stays, as on the pad.
#[must_use]
pub fn tolerance(car: &Car, solver: &CarSolver, limits: &[Limit], hole: &Hole) -> Option<Tolerance> {
    hole.moved(car, [0.0; 2])?;
    let found = verdicts(car, solver, limits);
    let kept = |verdict: &Verdict| verdict.outcome == Outcome::Kept;
    let without: Vec<usize> = (0..found.len()).filter(|i| !kept(&found[*i])).collect();
    let mut by_slopes = WIDEST;
    let mut decided_by = None;
    for (place, (limit, verdict)) in limits.iter().zip(&found).enumerate() {
        if !kept(verdict) {
            continue;
        }
        let Some(worst) = verdict.worst else { continue };
        let Some(limit) = on_own_axle(limit, hole) else { continue };
        let slope = slope(car, solver, &limit, verdict, hole)?;
        let radius = worst.reserve / slope.max(f64::MIN_POSITIVE);
        if radius < by_slopes {
            (by_slopes, decided_by) = (radius, Some(place));
        }
    }
    let mut radius = by_slopes;
    while radius > NARROWEST {
        match broken_around(car, limits, &found, hole, radius) {
            None => return Some(Tolerance { radius, decided_by, by_slopes, without }),
            Some(place) => {
                decided_by = Some(place);
                radius *= BACK;
            }
        }
    }
    Some(Tolerance { radius: 0.0, decided_by, by_slopes, without })
}

/// The limit as far as a hole can have a say in it: distances and joints of the other axle stay as they are,
/// and are costly to look at.
fn on_own_axle(limit: &Limit, hole: &Hole) -> Option<Limit> {
    let own = hole.of.first().end;
    let mut limit = limit.clone();
    match &mut limit.of {
        Limited::Distance { end, .. } | Limited::JointReserve { end, .. } => {
            if end.is_some_and(|end| end != own) {
                return None;
            }
            *end = Some(own);
        }
        Limited::Reading { .. } | Limited::Lock => {}
    }
    Some(limit)
}

/// A limit that held and is broken somewhere on this circle.
fn broken_around(car: &Car, limits: &[Limit], before: &[Verdict], hole: &Hole, radius: f64) -> Option<usize> {
    let kept = (0..limits.len()).filter(|i| before[*i].outcome == Outcome::Kept);
    let asked: Vec<(usize, Limit)> = kept.filter_map(|i| Some((i, on_own_axle(&limits[i], hole)?))).collect();
    let of_fit = |limit: &Limit| matches!(limit.of, Limited::Distance { .. } | Limited::JointReserve { .. });
    for fit in [false, true] {
        let asked: Vec<_> = asked.iter().filter(|(_, limit)| of_fit(limit) == fit).collect();
        let steps = (0..AROUND).step_by(if fit { FIT_EVERY } else { 1 });
        for step in steps.take_while(|_| !asked.is_empty()) {
            let angle = TAU * f64::from(step) / f64::from(AROUND);
            let moved = hole.moved(car, [radius * angle.cos(), radius * angle.sin()])?;
            let Ok(solver) = CarSolver::new(&moved) else { return asked.first().map(|(place, _)| *place) };
            let broken = |limit: &Limit| verdict(&moved, &solver, limit).outcome != Outcome::Kept;
            if let Some((place, _)) = asked.iter().find(|(_, limit)| broken(limit)) {
                return Some(*place);
            }
        }
    }
    None
}

/// How fast the reserve falls in the worst direction of the plane, per metre.
pub(crate) fn slope(
    car: &Car,
    solver: &CarSolver,
    limit: &Limit,
    verdict: &Verdict,
    hole: &Hole,
) -> Option<f64> {
    let exact = exact(solver, limit, verdict, hole);
    let [u, v] = match exact {
        Some(slopes) => slopes,
        None => differenced(car, limit, hole)?,
    };
    Some(u.hypot(v))
}

/// By the exact derivatives at the worst pose.
pub(crate) fn exact(solver: &CarSolver, limit: &Limit, verdict: &Verdict, hole: &Hole) -> Option<[f64; 2]> {
    let Limited::Reading { reading, end, taken, over, .. } = limit.of else { return None };
    let worst = verdict.worst?;
    if matches!(over, Over::Bend(_)) || hole.of.first().end != end {
        return None;
    }
    let axle = solver.axle(end);
    let [a, b, c, d] = worst.pose.travel;
    let travel = if end == End::Front { [a, b] } else { [c, d] };
    let here = axle.solve(travel, if end == End::Front { worst.pose.steer } else { 0.0 }).ok()?;
    let on = match hole.of {
        Of::Both(_) => ChangedOn::Both,
        Of::One(owner) => ChangedOn::One(owner.side.unwrap_or(Side::Left)),
    };
    let of = |sensitivity: &Sensitivity| match (reading.scope, worst.wheel) {
        (Scope::Wheel, Some(WheelAt { side, .. })) => {
            sensitivity.wheels[usize::from(side == Side::Right)].get(reading)
        }
        (Scope::Axle, _) => sensitivity.axle.get(reading),
        _ => None,
    };
    let mut by_axis = [0.0; 3];
    for (axis, slot) in by_axis.iter_mut().enumerate() {
        let parameter = Parameter::Pickup(hole.pickup, axis);
        let at_pose = of(&axle.sensitivity(&here, parameter, on, Links::Remade)?)?;
        let at_start = match taken {
            Taken::Value => 0.0,
            Taken::Change => of(&axle.sensitivity(&axle.start(), parameter, on, Links::Remade)?)?,
        };
        *slot = at_pose - at_start;
    }
    let gradient = Vector3::from(by_axis);
    Some(hole.plane.map(|along| gradient.dot(&along)))
}

/// By central differences of the reserve itself.
pub(crate) fn differenced(car: &Car, limit: &Limit, hole: &Hole) -> Option<[f64; 2]> {
    let reserve = |by: [f64; 2]| {
        let moved = hole.moved(car, by)?;
        let solver = CarSolver::new(&moved).ok()?;
        Some(verdict(&moved, &solver, limit).worst?.reserve)
    };
    let along = |ahead: [f64; 2], back: [f64; 2]| Some((reserve(ahead)? - reserve(back)?) / (2.0 * STEP));
    Some([along([STEP, 0.0], [-STEP, 0.0])?, along([0.0, STEP], [0.0, -STEP])?])
}
