//! Solving a beam axle: both wheels are on one body, each wheel's height drives it.

use crate::axle::cross_axle::Wheels;
use crate::car::hardpoint::{Hardpoint, Link};
use crate::car::parameter::{Parameter, ScalarParameter};
use crate::car::point_set::PointSet;
use crate::car::position::Side;
use crate::car::{Alignment, Axle, Component};
use crate::change::changed::{Changed, Whose};
use crate::corner::align::larger;
use crate::corner::corner_motion::{AsOne, CornerMotion, Reference};
use crate::corner::corner_solver::FURTHEST;
use crate::corner::driven_part_guard::DrivenPartGuard;
use crate::corner::wheel_model::{CannotFollow, WheelModel};
use crate::linkage::assemble::{NotAssembled, assemble};
use crate::linkage::design::Design;
use crate::linkage::links::Links;
use crate::linkage::{self, Beam, beam_links, beam_mechanism};
use crate::mechanism::stop::{Stop, StopKind};
use crate::mechanism::{Closed, Input, Mechanism, PathLimit, Pose, Traced, Twist};
use crate::number::real::{Dual2OfDual, Real};
use nalgebra::Vector3;
use num_dual::{Dual2_64, Dual64};
use std::sync::OnceLock;

/// A link that holds the axle by a shorter lever than this, metres, holds nothing.
const SHORTEST_LEVER: f64 = 0.002;
/// No wheel goes so far, metres.
const BEYOND: f64 = 10.0;

/// An axle over any number, ready to solve.
#[derive(Clone, Debug)]
struct BeamModel<T: Real> {
    beam: Beam<T>,
    mechanism: Mechanism<T, 1, 6>,
    wheels: [WheelModel<T>; 2],
    /// Wheel centres from the axle body's origin.
    centres: [Vector3<T>; 2],
}

/// A wheel centre's pose and velocity where the axle body stands and moves so.
fn at_wheel<T: Real>(body: &Pose<T>, centre: &Vector3<T>) -> Pose<T> {
    Pose { origin: body.point(centre), car_from_body: body.car_from_body }
}

impl<T: Real> BeamModel<T> {
    fn new(beam: Beam<T>) -> Result<Self, crate::mechanism::WrongFreedoms> {
        let mechanism = beam_mechanism(&beam)?;
        let origin = beam.origin();
        let centres = [0, 1].map(|i: usize| beam.sides[i].centre - origin);
        let zero = Input::new(T::zero(), T::zero());
        let closed = mechanism.carry(mechanism.design(), &zero);
        let wheel = |i: usize| {
            let twist = closed.by_travel(i, 2, 0);
            let first = Twist { v: twist.at(&centres[i]), w: twist.w };
            WheelModel::new(beam.sides[i].clone(), &first)
        };
        let wheels = [wheel(0), wheel(1)];
        Ok(BeamModel { beam, mechanism, wheels, centres })
    }

    /// Both wheels' motion, each per unit of its own travel, the other held.
    fn motions(
        &self,
        closed: &Closed<T, 1, 6>,
        reference: &[Reference<T>; 2],
    ) -> Result<[CornerMotion<T>; 2], CannotFollow> {
        self.motions_for(closed, [0, 1], reference)
    }

    /// The same, each knowing how the other wheel's travel moves it.
    fn motions_as_one(
        &self,
        closed: &Closed<T, 1, 6>,
        reference: &[Reference<T>; 2],
    ) -> Result<[CornerMotion<T>; 2], CannotFollow> {
        let [left, right] = self.motions_for(closed, [0, 1], reference)?;
        let crossed = self.motions_for(closed, [1, 0], reference)?;
        let with = |own: CornerMotion<T>, crossed: &CornerMotion<T>| CornerMotion {
            as_one: Some(AsOne::of(crossed)),
            ..own
        };
        Ok([with(left, &crossed[0]), with(right, &crossed[1])])
    }

    /// Both wheels' motion, the left one per unit of the first driver's travel, the right one of the
    /// second's.
    fn motions_for(
        &self,
        closed: &Closed<T, 1, 6>,
        drivers: [usize; 2],
        reference: &[Reference<T>; 2],
    ) -> Result<[CornerMotion<T>; 2], CannotFollow> {
        let body = &closed.bodies[0];
        let motion = |i: usize| {
            let twist = closed.by_travel(drivers[i], 2, 0);
            let twist = Twist { v: twist.at(&body.direction(&self.centres[i])), w: twist.w };
            let still = Twist { v: Vector3::zeros(), w: Vector3::zeros() };
            self.wheels[i].motion(&at_wheel(body, &self.centres[i]), twist, still, &reference[i])
        };
        Ok([motion(0)?, motion(1)?])
    }

    fn reference(&self, closed: &Closed<T, 1, 6>) -> Result<[Reference<T>; 2], CannotFollow> {
        let unset = Reference { wheel_centre: Vector3::zeros(), contact_y: T::zero() };
        Ok(self.motions(closed, &[unset; 2])?.map(|motion| Reference::of(&motion)))
    }

    fn openness(&self, closed: &Closed<T, 1, 6>) -> (f64, Link) {
        let of = |i: usize| self.wheels[i].openness(&at_wheel(&closed.bodies[0], &self.centres[i]));
        let (left, right) = (of(0), of(1));
        if right.0 < left.0 { right } else { left }
    }
}

/// A beam axle at one pose.
#[derive(Clone, Copy, Debug)]
pub(crate) struct SolvedBeam {
    pub traced: Traced<1, 6>,
    pub motions: [CornerMotion<f64>; 2],
}

/// A beam axle ready to solve.
#[derive(Clone, Debug)]
pub(crate) struct BeamSolver {
    model: BeamModel<f64>,
    reference: [Reference<f64>; 2],
    start: SolvedBeam,
    /// The model in numbers that carry two derivatives, made where it is first wanted; `None` where it cannot be.
    model_along: OnceLock<Option<Box<BeamModel<Dual2_64>>>>,
}

pub(crate) fn beam_of<T: Real>(axle: &Axle) -> Beam<T> {
    let side = |side: Side| {
        let on = axle.third_spring.map(|spring| spring.on);
        Design::of(axle.corner(side), side, &crate::car::steering::Steering::Fixed, on)
    };
    Beam {
        sides: [side(Side::Left), side(Side::Right)],
        own: PointSet::of(&axle.hardpoints, &axle.lengths),
        watt_lever_on: axle.watt_lever_on,
    }
}

fn dead_point(limit: PathLimit) -> Stop {
    let travel = limit.at.travel[0];
    Stop::new(StopKind::DeadPoint, travel, 0.0, limit.links, limit.residual)
}

fn no_mechanism(what: &'static str) -> Stop {
    Stop::new(StopKind::NoMechanism, 0.0, 0.0, vec![what], 0.0)
}

impl BeamSolver {
    /// Makes an axle ready: closes it in its design pose.
    pub fn new(axle: &Axle) -> Result<Self, Stop> {
        let free =
            axle.left.alignment == Alignment::FROM_POINTS && axle.right.alignment == Alignment::FROM_POINTS;
        if !free {
            let what = vec!["an adjuster that a beam axle has not"];
            return Err(Stop::new(StopKind::CannotAlign, 0.0, 0.0, what, 0.0));
        }
        let beam = beam_of::<f64>(axle);
        let build = |share: f64| {
            beam_mechanism(&beam.partly(share))
                .map_err(|_| no_mechanism("the axle's links do not hold it in just four ways"))
        };
        let traced = assemble(beam.fits(), build, dead_point).map_err(|not| match not {
            NotAssembled::AsDrawn(stop) => stop,
            NotAssembled::Share(share) => cannot_assemble(&beam, share),
        })?;
        let model = BeamModel::new(beam).map_err(|_| no_mechanism("the axle's links"))?;
        let weakest = (0..4).map(|row| traced.closed.turn_by_row(row)).fold(0.0, f64::max);
        if weakest.is_nan() || weakest > 1.0 / SHORTEST_LEVER {
            let links = model.mechanism.in_line(&traced.closed.factors);
            return Err(Stop::new(StopKind::DeadPoint, 0.0, 0.0, links, 0.0));
        }
        let cannot = |c: CannotFollow| Stop::new(StopKind::CannotAssemble, 0.0, 0.0, vec![c.0.label()], 0.0);
        for (link, leverage) in model.wheels.iter().flat_map(WheelModel::leverages) {
            if leverage.is_some_and(|l| l < 0.01) {
                return Err(Stop::new(StopKind::DeadPoint, 0.0, 0.0, vec![link.label()], 0.0));
            }
        }
        let reference = model.reference(&traced.closed).map_err(cannot)?;
        let motions = model.motions_as_one(&traced.closed, &reference).map_err(cannot)?;
        let start = SolvedBeam { traced, motions };
        Ok(BeamSolver { model, reference, start, model_along: OnceLock::new() })
    }

    pub fn start(&self) -> &SolvedBeam {
        &self.start
    }

    /// Both wheels' motion per unit of the other wheel's travel, their own held.
    pub fn crossed(&self, at: &SolvedBeam) -> Option<[CornerMotion<f64>; 2]> {
        self.model.motions_for(&at.traced.closed, [1, 0], &self.reference).ok()
    }

    /// Solves at both travels, metres, coming from the reference pose.
    pub fn solve(&self, travel: [f64; 2]) -> Result<SolvedBeam, Stop> {
        if travel.iter().all(|t| *t == 0.0) { Ok(self.start) } else { self.follow(&self.start, travel) }
    }

    /// Follows the axle in a straight line from a solved pose to other travels, metres.
    pub fn follow(&self, from: &SolvedBeam, travel: [f64; 2]) -> Result<SolvedBeam, Stop> {
        if !travel.iter().all(|t| t.is_finite()) {
            return Err(Stop::new(StopKind::NotFinite, from.traced.input.travel[0], 0.0, Vec::new(), 0.0));
        }
        let to = Input { travel: travel.map(|t| t.clamp(-BEYOND, BEYOND)), steer: 0.0 };
        let mut whole = DrivenPartGuard::from(&from.traced.closed.bodies[0]);
        let followed = self.model.mechanism.follow_while(&from.traced, &to, |closed| {
            let cannot = self.model.motions(closed, &self.reference).err();
            whole.holds(&closed.bodies[0], cannot, self.model.openness(closed))
        });
        let out_of_reach =
            |at: &Input<f64>, links| Stop::new(StopKind::OutOfReach, at.travel[0], 0.0, links, 0.0);
        match (followed, whole.cannot) {
            (Ok(traced), _) if travel.iter().any(|t| t.abs() > BEYOND) => {
                Err(out_of_reach(&traced.input, Vec::new()))
            }
            (Ok(traced), _) => match self.model.motions_as_one(&traced.closed, &self.reference) {
                Ok(motions) => Ok(SolvedBeam { traced, motions }),
                Err(cannot) => Err(out_of_reach(&from.traced.input, vec![cannot.0.label()])),
            },
            (Err(limit), Some(cannot)) if limit.refused => {
                Err(out_of_reach(&limit.at, vec![cannot.0.label()]))
            }
            (Err(limit), _) => Err(dead_point(limit)),
        }
    }

    /// The limits of one wheel's travel with the other at zero, droop then bump, within [`FURTHEST`].
    pub fn travel_limits(&self, side: Side) -> [Option<Stop>; 2] {
        [-FURTHEST, FURTHEST].map(|travel| {
            let travel = if side == Side::Left { [travel, 0.0] } else { [0.0, travel] };
            let mut stop = self.follow(&self.start, travel).err()?;
            if side == Side::Right && stop.kind != StopKind::NotFinite {
                stop.travel = self.furthest_right(travel[1], stop.travel);
            }
            Some(stop)
        })
    }

    /// The right wheel's travel at its limit: a stop counts the left's.
    fn furthest_right(&self, toward: f64, otherwise: f64) -> f64 {
        let to = Input { travel: [0.0, toward], steer: 0.0 };
        let holds = |closed: &Closed<f64, 1, 6>| self.model.motions(closed, &self.reference).is_ok();
        match self.model.mechanism.follow_while(&self.start.traced, &to, holds) {
            Err(limit) => limit.at.travel[1],
            Ok(_) => otherwise,
        }
    }

    /// The pose of the body that carries the wheel on that side, its origin at the wheel centre.
    pub fn upright(&self, at: &SolvedBeam, side: Side) -> Pose<f64> {
        at_wheel(&at.traced.closed.bodies[0], &self.model.centres[index(side)])
    }

    /// Where the points of one side stand, metres.
    pub fn points(&self, at: &SolvedBeam, side: Side) -> Vec<(Hardpoint, Vector3<f64>)> {
        let upright = self.upright(at, side);
        // A solved axle could follow, so its points can be had.
        self.model.wheels[index(side)].points(&upright, 0.0).unwrap_or_default()
    }

    /// Where the axle's own points stand, metres.
    pub fn own_points(&self, at: &SolvedBeam) -> Vec<(Hardpoint, Vector3<f64>)> {
        let body = &at.traced.closed.bodies[0];
        let origin = self.model.beam.origin();
        let swung = self.model.mechanism.swung(&at.traced.closed.bodies);
        let place = |hardpoint: Hardpoint, design: Vector3<f64>| {
            let on_axle = || body.point(&(design - origin));
            match linkage::carrier_on_axle(hardpoint, self.model.beam.watt_lever_on) {
                Component::Upright => on_axle(),
                Component::WattLever => {
                    let lever_on_axle = self.model.beam.watt_lever_on == Some(Component::Upright);
                    let near = if lever_on_axle { design - origin } else { design };
                    let local = self.model.mechanism.swing_local(&near);
                    swung.zip(local).map_or(design, |(swung, local)| swung.point(&local))
                }
                _ => design,
            }
        };
        let own = &self.model.beam.own;
        let all = Hardpoint::ALL.iter().filter_map(|&hardpoint| Some((hardpoint, own.get(hardpoint)?)));
        all.map(|(hardpoint, design)| (hardpoint, place(hardpoint, design))).collect()
    }

    /// The links that come into line where the axle is near a dead point.
    pub fn in_line(&self, at: &SolvedBeam) -> Vec<&'static str> {
        self.model.mechanism.in_line(&at.traced.closed.factors)
    }

    /// The links that hold the axle: of the left side, of the right side, its own.
    pub fn links(&self) -> [Vec<Link>; 3] {
        beam_links(&self.model.beam)
    }

    /// Both wheels' motion at a solved pose with first and second derivatives along a line on which the
    /// travels grow by `rates` per unit.
    pub fn motions_along(&self, at: &SolvedBeam, rates: [f64; 2]) -> Option<[CornerMotion<Dual2_64>; 2]> {
        let input = at.traced.input;
        let travel = [0, 1].map(|i| Dual2_64::new(input.travel[i], rates[i], 0.0));
        let made = || BeamModel::new(self.model.beam.lifted()).ok().map(Box::new);
        self.motions_on(self.model_along.get_or_init(made).as_deref()?, at, travel)
    }

    /// The same with the derivative of everything to a number that is changed.
    pub fn motions_along_by(
        &self,
        at: &SolvedBeam,
        rates: [f64; 2],
        changed: &Changed,
    ) -> Option<[CornerMotion<Dual2OfDual>; 2]> {
        let input = at.traced.input;
        let number = Dual64::from_re;
        let travel = [0, 1].map(|i| Dual2OfDual::new(number(input.travel[i]), number(rates[i]), number(0.0)));
        let one = Dual2OfDual::from_re(Dual64::new(0.0, 1.0));
        self.motions_on(&BeamModel::new(self.changed(changed, one)?).ok()?, at, travel)
    }

    /// Both wheels' motion of a changed axle at travels of the same values as the pose's.
    fn motions_on<T: Real>(
        &self,
        model: &BeamModel<T>,
        at: &SolvedBeam,
        travel: [T; 2],
    ) -> Option<[CornerMotion<T>; 2]> {
        let constant = T::constant;
        let along = Input { travel, steer: constant(at.traced.input.steer) };
        let first = model.mechanism.carry(&at.traced.closed.bodies.map(|body| body.cast()), &along);
        let closed = model.mechanism.carry(&first.bodies, &along);
        let reference = self.reference.map(|reference| Reference {
            wheel_centre: reference.wheel_centre.map(constant),
            contact_y: constant(reference.contact_y),
        });
        model.motions_as_one(&closed, &reference).ok()
    }

    /// The axle with one number changed by so much; `None` where it has no such number.
    fn changed<T: Real>(&self, changed: &Changed, by: T) -> Option<Beam<T>> {
        let Changed { whose, parameter, links } = *changed;
        let mut beam = self.model.beam.lifted::<T>();
        match (whose, parameter) {
            (Whose::Side(side), _) => beam.sides[index(side)].change(parameter, by, links),
            (Whose::Axle, ScalarParameter::Coordinate(Parameter::Point(hardpoint), axis))
                if links == Links::Kept =>
            {
                beam.own.with_links_kept(|own| own.add_to_point(hardpoint, axis, by));
            }
            (Whose::Axle, ScalarParameter::Coordinate(Parameter::Point(hardpoint), axis)) => {
                beam.own.add_to_point(hardpoint, axis, by)
            }
            (Whose::Axle, ScalarParameter::Number(Parameter::Length(link))) => {
                beam.own.add_to_length(link, by)
            }
            _ => return None,
        }
        Some(beam)
    }

    /// Both wheels, in the reference pose and at a solved one, with their derivative to one number; if
    /// asked, by each other's travel too.
    pub fn motions_by(
        &self,
        at: &SolvedBeam,
        changed: &Changed,
        crossed: bool,
    ) -> Option<[Wheels<Dual64>; 2]> {
        let model = BeamModel::new(self.changed(changed, Dual64::new(0.0, 1.0))?).ok()?;
        let carry = |traced: &Traced<1, 6>| {
            let input = Input {
                travel: traced.input.travel.map(Dual64::constant),
                steer: Dual64::constant(traced.input.steer),
            };
            model.mechanism.carry(&traced.closed.bodies.map(|body| body.cast()), &input)
        };
        let start = carry(&self.start.traced);
        let reference = model.reference(&start).ok()?;
        let wheels = |closed: &Closed<Dual64, 1, 6>| {
            let own = model.motions_as_one(closed, &reference).ok()?;
            let crossed =
                if crossed { Some(model.motions_for(closed, [1, 0], &reference).ok()?) } else { None };
            Some(Wheels { own, crossed })
        };
        Some([wheels(&start)?, wheels(&carry(&at.traced))?])
    }
}

fn index(side: Side) -> usize {
    usize::from(side == Side::Right)
}

fn cannot_assemble(beam: &Beam<f64>, share: f64) -> Stop {
    let part = beam.partly(share);
    let mut links = Vec::new();
    let mut lacking = 0.0_f64;
    let [left, right, own] = beam_links(beam);
    let sets = [
        (left, &beam.sides[0].set, &part.sides[0].set),
        (right, &beam.sides[1].set, &part.sides[1].set),
        (own, &beam.own, &part.own),
    ];
    for (of, whole, partly) in sets {
        for link in of {
            let here = whole.length(link) - partly.length(link);
            if here != 0.0 {
                links.push(link.label());
                lacking = larger(lacking, here);
            }
        }
    }
    Stop::new(StopKind::CannotAssemble, 0.0, 0.0, links, lacking)
}
