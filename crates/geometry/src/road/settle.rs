//! Both wheels of an axle brought to a given road.

use crate::axle::axle_solver::{AxleSolver, SolvedAxle};
use crate::car::position::Side;
use crate::car::springing::DamperStops;
use crate::corner::corner_motion::CornerMotion;
use crate::corner::ground::Ground;
use crate::corner::on_ground::OnGround;
use crate::mechanism::Factors;
use crate::mechanism::stop::Stop;

/// What keeps a wheel from reaching the road.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Holding {
    /// The damper is at its longest.
    Damper,
    /// The linkage goes no further.
    Linkage,
}

/// How a wheel stands over the road.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum RoadContact {
    /// The tyre touches.
    OnRoad,
    /// The wheel hangs free at the end of its droop.
    Hanging {
        /// How far the tyre's lowest point is above the road, metres.
        gap: f64,
        /// What holds it there.
        by: Holding,
    },
}

impl RoadContact {
    /// The gap between tyre and road, metres; zero where the tyre touches.
    #[must_use]
    pub fn gap(&self) -> f64 {
        match self {
            RoadContact::OnRoad => 0.0,
            RoadContact::Hanging { gap, .. } => *gap,
        }
    }
}

/// Gap that counts as none, metres.
const TOUCHING: f64 = 1e-13;
/// Steps of Newton's method; three suffice from afar.
const MOST_STEPS: usize = 12;
/// So far before a linkage's last pose a wheel is left to hang, metres: at the last one itself its
/// velocities have no end.
const BEFORE_LIMIT: f64 = 1e-8;

/// What one wheel is asked to do.
#[derive(Clone, Copy, Debug, PartialEq)]
enum Task {
    /// Touch the road.
    Road,
    /// Hang from its damper, this long.
    Damper(f64),
    /// Hang at this travel.
    Travel(f64),
}

/// An axle on a road.
#[derive(Clone, Copy, Debug)]
pub(super) struct Settled {
    pub axle: SolvedAxle,
    pub travel: [f64; 2],
    pub feet: [RoadContact; 2],
}

/// What is being settled.
struct Settling<'a> {
    solver: &'a AxleSolver,
    ground: &'a Ground<f64>,
    steer: f64,
    tasks: [Task; 2],
}

fn motion(axle: &SolvedAxle, side: usize) -> &CornerMotion<f64> {
    axle.motion.corner(if side == 0 { Side::Left } else { Side::Right })
}

/// Whether a damper is longer than its longest and could be shortened by the wheel coming up: one that
/// lengthens toward bump holds no wheel up.
fn overlong(corner: &CornerMotion<f64>, stops: Option<DamperStops>) -> bool {
    match (stops, &corner.damper) {
        (Some(stops), Some(damper)) => damper.value > stops.longest + TOUCHING && damper.per_travel < 0.0,
        _ => false,
    }
}

impl Settling<'_> {
    /// What each wheel lacks of its task, and the slopes of that to the travels of both.
    fn lacking(&self, axle: &SolvedAxle, travel: [f64; 2]) -> ([f64; 2], [[f64; 2]; 2]) {
        let mut lack = [0.0; 2];
        let mut slope = [[0.0; 2]; 2];
        let crossed = self.solver.crossed(axle);
        for side in 0..2 {
            let own = motion(axle, side);
            let other = crossed.as_ref().map(|crossed| &crossed[side]);
            let rates = |rate: &dyn Fn(&CornerMotion<f64>) -> f64| [rate(own), other.map_or(0.0, rate)];
            let [by_own, by_other] = match (self.tasks[side], &own.damper) {
                (Task::Damper(longest), Some(damper)) => {
                    lack[side] = damper.value - longest;
                    rates(&|corner| corner.damper.map_or(0.0, |damper| damper.per_travel))
                }
                (Task::Travel(at), _) => {
                    lack[side] = travel[side] - at;
                    [1.0, 0.0]
                }
                _ => {
                    lack[side] = self.ground.gap(own);
                    let contact = OnGround::of(own, self.ground.normal);
                    rates(&|corner| contact.contact_velocity(corner).dot(&self.ground.normal))
                }
            };
            slope[side][side] = by_own;
            slope[side][1 - side] = by_other;
        }
        (lack, slope)
    }

    /// Newton from a pose of the axle, each step followed along the linkage.
    fn close(&self, from: &SolvedAxle, travel: [f64; 2]) -> Result<(SolvedAxle, [f64; 2]), Stop> {
        let mut here = (*from, travel);
        for step in 0..MOST_STEPS {
            let (lack, slope) = self.lacking(&here.0, here.1);
            let steered = step > 0;
            if steered && lack.iter().all(|gap| gap.abs() < TOUCHING) {
                break;
            }
            let change = Factors::of(slope).solve(&lack);
            let next = [here.1[0] - change[0], here.1[1] - change[1]];
            // A change below the last digit of a travel changes nothing more.
            if steered && change.iter().all(|c| c.abs() < 1e-17) {
                break;
            }
            here = (self.solver.follow(&here.0, next, self.steer)?, next);
        }
        Ok(here)
    }
}

/// Brings both wheels of an axle to the road, coming from a solved pose and its travels.
///
/// # Errors
/// The limit of the linkage toward bump.
pub(super) fn settle(
    solver: &AxleSolver,
    from: (&SolvedAxle, [f64; 2]),
    steer: f64,
    ground: &Ground<f64>,
    stops: [Option<DamperStops>; 2],
) -> Result<Settled, Stop> {
    let quick = solver.touching(from.0, steer, ground);
    if let Some((axle, travel)) = quick
        && !(0..2).any(|side| overlong(motion(&axle, side), stops[side]))
    {
        return Ok(Settled { axle, travel, feet: [RoadContact::OnRoad; 2] });
    }
    let mut settling = Settling { solver, ground, steer, tasks: [Task::Road; 2] };
    let mut here = (*from.0, from.1);
    // Each round hangs up or lets down at least one wheel; a wheel is let down only once.
    let mut let_down = [false; 2];
    for _ in 0..6 {
        match settling.close(&here.0, here.1) {
            Ok(there) => here = there,
            Err(stop) => {
                let side = stop.wheel.map_or(0, |wheel| usize::from(wheel.side == Side::Right));
                let drooping = stop.travel < here.1[side] || ground.gap(motion(&here.0, side)) > TOUCHING;
                if !drooping || let_down[side] || settling.tasks[side] != Task::Road {
                    return Err(stop);
                }
                settling.tasks[side] = Task::Travel(stop.travel + BEFORE_LIMIT);
                continue;
            }
        }
        let mut settled = true;
        for side in 0..2 {
            let corner = motion(&here.0, side);
            let hangs_from = stops[side].filter(|_| overlong(corner, stops[side])).map(|stops| stops.longest);
            match (settling.tasks[side], hangs_from) {
                (Task::Road, Some(longest)) if !let_down[side] => {
                    settling.tasks[side] = Task::Damper(longest);
                    settled = false;
                }
                (Task::Travel(_), Some(longest)) => {
                    settling.tasks[side] = Task::Damper(longest);
                    settled = false;
                }
                (Task::Travel(_) | Task::Damper(_), _)
                    if ground.gap(corner) < -TOUCHING && !let_down[side] =>
                {
                    settling.tasks[side] = Task::Road;
                    let_down[side] = true;
                    settled = false;
                }
                _ => {}
            }
        }
        if settled {
            break;
        }
    }
    let mut feet = [RoadContact::OnRoad; 2];
    for (side, foot) in feet.iter_mut().enumerate() {
        let by = match settling.tasks[side] {
            Task::Road => continue,
            Task::Damper(_) => Holding::Damper,
            Task::Travel(_) => Holding::Linkage,
        };
        *foot = RoadContact::Hanging { gap: ground.gap(motion(&here.0, side)), by };
    }
    let mut axle = here.0;
    axle.motion = axle.motion.over(*ground);
    Ok(Settled { axle, travel: here.1, feet })
}

/// An axle steered with its dampers at these lengths, metres; a corner without one keeps its travel.
///
/// # Errors
/// The limit of the linkage.
pub(super) fn at_dampers(
    solver: &AxleSolver,
    from: (&SolvedAxle, [f64; 2]),
    steer: f64,
    lengths: [Option<f64>; 2],
) -> Result<(SolvedAxle, [f64; 2]), Stop> {
    let task = |side: usize| lengths[side].map_or(Task::Travel(from.1[side]), Task::Damper);
    let settling = Settling { solver, ground: &Ground::level(), steer, tasks: [task(0), task(1)] };
    settling.close(from.0, from.1)
}
