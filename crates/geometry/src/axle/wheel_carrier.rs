//! What carries the wheels of an axle: two corners, or one beam.

use crate::axle::beam::{BeamAxle, SolvedBeamAxle};
use crate::axle::cross_axle::Wheels;
use crate::car::Axle;
use crate::car::position::{End, Side, WheelPosition};
use crate::corner::corner_solver::{CornerSolver, SolvedCorner};
use crate::mechanism::stop::{Stop, StopKind};

/// How the wheels are carried.
#[derive(Clone, Debug)]
pub(crate) enum Carried {
    Independent(Box<[CornerSolver; 2]>),
    Beam(BeamAxle),
}

/// The solved linkage or linkages of an axle.
#[derive(Clone, Copy, Debug)]
#[expect(clippy::large_enum_variant, reason = "states are copied about, not kept in bulk")]
pub(crate) enum AxleState {
    Independent([SolvedCorner; 2]),
    Beam(SolvedBeamAxle),
}

pub(crate) fn carried(axle: &Axle, end: End) -> Result<Carried, Stop> {
    if axle.is_beam() {
        let stop = |stop: Stop| stop.at_wheel(WheelPosition { end, side: Side::Left });
        return Ok(Carried::Beam(BeamAxle::new(axle).map_err(stop)?));
    }
    let on = axle.third_spring.map(|spring| spring.on);
    let corner = |side| {
        let stop = |stop: Stop| stop.at_wheel(WheelPosition { end, side });
        let corner = axle.corner(side);
        if corner.linkage.spec().is_beam() {
            let half = vec!["a beam axle has two ends: the other side is no beam axle"];
            return Err(stop(Stop::new(StopKind::NoMechanism, 0.0, 0.0, half, 0.0)));
        }
        CornerSolver::new(corner, side, &axle.steering, on).map_err(stop)
    };
    Ok(Carried::Independent(Box::new([corner(Side::Left)?, corner(Side::Right)?])))
}

pub(crate) fn start_state(carried: &Carried) -> AxleState {
    match carried {
        Carried::Independent(corners) => AxleState::Independent([*corners[0].start(), *corners[1].start()]),
        Carried::Beam(beam) => AxleState::Beam(beam.start()),
    }
}

/// Both wheels; each per unit of the other's travel too where one moves the other and something that
/// reaches across wants to know.
pub(crate) fn wheels(carried: &Carried, state: &AxleState, axle: &Axle) -> Wheels<f64> {
    match (carried, state) {
        (_, AxleState::Independent(corners)) => {
            Wheels { own: corners.each_ref().map(|corner| corner.motion), crossed: None }
        }
        (Carried::Beam(solver), AxleState::Beam(beam)) if reaches_across(axle) => {
            Wheels { own: *beam.motions(), crossed: solver.crossed(beam) }
        }
        (_, AxleState::Beam(beam)) => Wheels { own: *beam.motions(), crossed: None },
    }
}

/// Whether something of springs and bars hangs on both wheels.
pub(crate) fn reaches_across(axle: &Axle) -> bool {
    axle.bar_kind().is_some() || axle.third_spring.is_some()
}
