//! Solving a beam axle: each wheel's height drives it, and where it has knuckles the steering.

use crate::axle::beam_align::{align_beam, assembled, dead_point, no_mechanism};
use crate::axle::beam_model::BeamModel;
use crate::axle::cross_axle::Wheels;
use crate::car::hardpoint::{Hardpoint, Link};
use crate::car::parameter::{Parameter, ScalarParameter};
use crate::car::point_set::PointSet;
use crate::car::position::Side;
use crate::car::steering::Steering;
use crate::car::{Axle, Component};
use crate::change::changed::{Changed, Whose};
use crate::corner::corner_motion::{CornerMotion, Reference};
use crate::corner::corner_solver::{FURTHEST, no_direction};
use crate::corner::driven_part_guard::DrivenPartGuard;
use crate::corner::wheel_model::{CannotFollow, WheelModel};
use crate::linkage::design::Design;
use crate::linkage::links::Links;
use crate::linkage::{self, Beam, beam_links};
use crate::mechanism::stop::{Stop, StopKind};
use crate::mechanism::{Closed, Input, Pose, SteeringPath, Traced};
use crate::number::real::{Dual2OfDual, Real};
use nalgebra::Vector3;
use num_dual::{Dual2_64, Dual64};
use std::f64::consts::PI;
use std::sync::OnceLock;

/// A link that holds the axle by a shorter lever than this, metres, holds nothing.
const SHORTEST_LEVER: f64 = 0.002;
/// No wheel goes so far, metres.
const BEYOND: f64 = 10.0;

/// A beam axle at one pose.
#[derive(Clone, Copy, Debug)]
pub(crate) struct SolvedBeam<const B: usize, const N: usize> {
    pub traced: Traced<B, N>,
    pub motions: [CornerMotion<f64>; 2],
}

/// A beam axle ready to solve.
#[derive(Clone, Debug)]
pub(crate) struct BeamSolver<const B: usize, const N: usize> {
    model: BeamModel<f64, B, N>,
    /// Links that set toe, and by how much they are longer than the axle says, metres.
    adjusted: Vec<(Link, f64)>,
    reference: [Reference<f64>; 2],
    start: SolvedBeam<B, N>,
    /// The model in numbers that carry two derivatives, made where it is first wanted; `None` where it cannot be.
    model_along: OnceLock<Option<Box<BeamModel<Dual2_64, B, N>>>>,
}

pub(crate) fn beam_of<T: Real>(axle: &Axle) -> Beam<T> {
    let side = |side: Side| {
        let on = axle.third_spring.map(|spring| spring.on);
        let corner = axle.corner(side);
        let steering = if corner.linkage.spec().can_steer() { &axle.steering } else { &Steering::Fixed };
        Design::of(corner, side, steering, on)
    };
    Beam {
        sides: [side(Side::Left), side(Side::Right)],
        own: PointSet::of(&axle.hardpoints, &axle.lengths),
        watt_lever_on: axle.watt_lever_on,
    }
}

impl<const B: usize, const N: usize> BeamSolver<B, N> {
    /// Makes an axle ready: closes it in its design pose, and sets its toe.
    pub fn new(axle: &Axle) -> Result<Self, Stop> {
        let beam = beam_of::<f64>(axle);
        if let Some(what) = linkage::lacks_to_steer(&beam) {
            return Err(no_mechanism(what));
        }
        if let Some(what) = no_direction(&axle.steering).filter(|_| beam.sides[0].steered) {
            return Err(no_mechanism(what));
        }
        let (beam, adjusted) = align_beam::<B, N>(&beam, [axle.left.alignment, axle.right.alignment])?;
        let traced = assembled::<B, N>(&beam)?;
        let model = BeamModel::new(beam).map_err(|_| no_mechanism("the axle's links"))?;
        let rods = model.rods();
        let weakest = (0..rods).map(|row| traced.closed.turn_by_row(row)).fold(0.0, f64::max);
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
        Ok(BeamSolver { model, adjusted, reference, start, model_along: OnceLock::new() })
    }

    /// Whether the steering steers it.
    pub fn steered(&self) -> bool {
        self.model.beam.sides[0].steered
    }

    /// The links that set the toe of the left and of the right wheel; `None` where none do.
    pub fn toe_links(&self) -> Option<[Link; 2]> {
        linkage::toe_links(&self.model.beam)
    }

    /// By how much the links that set its toe are longer than the axle says, metres.
    pub fn adjusted(&self) -> &[(Link, f64)] {
        &self.adjusted
    }

    pub fn start(&self) -> &SolvedBeam<B, N> {
        &self.start
    }

    /// Both wheels' motion per unit of the other wheel's travel, their own held.
    pub fn crossed(&self, at: &SolvedBeam<B, N>) -> Option<[CornerMotion<f64>; 2]> {
        self.model.motions_for(&at.traced.closed, [1, 0], &self.reference).ok()
    }

    /// Solves at both travels, metres, and a steering input, coming from the reference pose along the steering first,
    /// then along the travel.
    pub fn solve(&self, travel: [f64; 2], steer: f64) -> Result<SolvedBeam<B, N>, Stop> {
        let straight = steer == 0.0 || !self.steered();
        let turned = if straight { self.start } else { self.follow(&self.start, [0.0; 2], steer)? };
        if travel.iter().all(|t| *t == 0.0) { Ok(turned) } else { self.follow(&turned, travel, steer) }
    }

    /// Follows the axle in a straight line from a solved pose to other travels, metres, and another steering input,
    /// which counts for nothing where nothing steers.
    pub fn follow(
        &self,
        from: &SolvedBeam<B, N>,
        travel: [f64; 2],
        steer: f64,
    ) -> Result<SolvedBeam<B, N>, Stop> {
        if !travel.iter().all(|t| t.is_finite()) || !steer.is_finite() {
            let at = from.traced.input;
            return Err(Stop::new(StopKind::NotFinite, at.travel[0], at.steer, Vec::new(), 0.0));
        }
        let steer = if self.steered() { steer } else { 0.0 };
        let to =
            Input { travel: travel.map(|t| t.clamp(-BEYOND, BEYOND)), steer: steer.clamp(-BEYOND, BEYOND) };
        let mut whole = DrivenPartGuard::from(&from.traced.closed.bodies[0]);
        let followed = self.model.mechanism.follow_while(&from.traced, &to, |closed| {
            let cannot = self.model.motions(closed, &self.reference).err();
            whole.holds(&closed.bodies[0], cannot, self.model.openness(closed))
        });
        let out_of_reach =
            |at: &Input<f64>, links| Stop::new(StopKind::OutOfReach, at.travel[0], at.steer, links, 0.0);
        match (followed, whole.cannot) {
            (Ok(traced), _) if travel.iter().chain([&steer]).any(|t| t.abs() > BEYOND) => {
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

    /// The limits of one wheel's travel at a steering input with the other at zero, droop then bump, within
    /// [`FURTHEST`].
    ///
    /// # Errors
    /// The limit met on the way to that steering input.
    pub fn travel_limits(&self, side: Side, steer: f64) -> Result<[Option<Stop>; 2], Stop> {
        let from = self.solve([0.0; 2], steer)?;
        Ok([-FURTHEST, FURTHEST].map(|travel| {
            let travel = if side == Side::Left { [travel, 0.0] } else { [0.0, travel] };
            let mut stop = self.follow(&from, travel, steer).err()?;
            if side == Side::Right && stop.kind != StopKind::NotFinite {
                stop.travel = self.furthest_right(&from, travel[1], stop.travel);
            }
            Some(stop)
        }))
    }

    /// The right wheel's travel at its limit: a stop counts the left's.
    fn furthest_right(&self, from: &SolvedBeam<B, N>, toward: f64, otherwise: f64) -> f64 {
        let to = Input { travel: [0.0, toward], steer: from.traced.input.steer };
        let holds = |closed: &Closed<f64, B, N>| self.model.motions(closed, &self.reference).is_ok();
        match self.model.mechanism.follow_while(&from.traced, &to, holds) {
            Err(limit) => limit.at.travel[1],
            Ok(_) => otherwise,
        }
    }

    /// The limits of the steering input at zero travel, negative then positive, within [`FURTHEST`] of a rack or half
    /// a turn of a pitman arm; none where nothing steers.
    pub fn steer_limits(&self) -> [Option<Stop>; 2] {
        let furthest = match self.model.mechanism.steering() {
            _ if !self.steered() => return [None, None],
            SteeringPath::Slide { .. } => FURTHEST,
            SteeringPath::CentreLink(_) => PI,
        };
        [-furthest, furthest].map(|steer| self.follow(&self.start, [0.0; 2], steer).err())
    }

    /// How many of the first equations are those of rods.
    pub fn rods(&self) -> usize {
        self.model.rods()
    }

    /// The pose of the body that carries the wheel on that side, its origin at the wheel centre.
    pub fn upright(&self, at: &SolvedBeam<B, N>, side: Side) -> Pose<f64> {
        self.model.upright(&at.traced.closed, index(side))
    }

    /// Where the points of one side stand, metres.
    pub fn points(&self, at: &SolvedBeam<B, N>, side: Side) -> Vec<(Hardpoint, Vector3<f64>)> {
        let (closed, wheel) = (&at.traced.closed, index(side));
        let (carrier, upright) = (self.model.axle_at(closed, wheel), self.model.upright(closed, wheel));
        // A solved axle could follow, so its points can be had.
        let steer = at.traced.input.steer;
        self.model.wheels[wheel].points_beside(&carrier, &upright, steer).unwrap_or_default()
    }

    /// Where the axle's own points stand, metres.
    pub fn own_points(&self, at: &SolvedBeam<B, N>) -> Vec<(Hardpoint, Vector3<f64>)> {
        let body = &at.traced.closed.bodies[0];
        let origin = self.model.beam.origin();
        let swung = self.model.mechanism.swung(&at.traced.closed.bodies);
        let beam = &self.model.beam;
        let axle = beam.sides[0].linkage.spec().beam.unwrap_or(Component::Upright);
        let place = |hardpoint: Hardpoint, design: Vector3<f64>| match beam.carrier(hardpoint) {
            carrier if carrier == axle => body.point(&(design - origin)),
            Component::Upright => {
                let wheel = linkage::on_knuckle(hardpoint).unwrap_or_default();
                let knuckle = self.model.upright(&at.traced.closed, wheel);
                knuckle.point(&(design - beam.sides[wheel].centre))
            }
            Component::Steering => self.model.mechanism.steering().place(&design, at.traced.input.steer).0,
            Component::WattLever => {
                let lever_on_axle = beam.watt_lever_on == Some(Component::Upright);
                let near = if lever_on_axle { design - origin } else { design };
                let local = self.model.mechanism.swing_local(&near);
                swung.zip(local).map_or(design, |(swung, local)| swung.point(&local))
            }
            _ => design,
        };
        let own = &beam.own;
        let all = Hardpoint::ALL.iter().filter_map(|&hardpoint| Some((hardpoint, own.get(hardpoint)?)));
        all.map(|(hardpoint, design)| (hardpoint, place(hardpoint, design))).collect()
    }

    /// The links that come into line where the axle is near a dead point.
    pub fn in_line(&self, at: &SolvedBeam<B, N>) -> Vec<&'static str> {
        self.model.mechanism.in_line(&at.traced.closed.factors)
    }

    /// The links that hold and steer the axle: of the left side, of the right side, its own.
    pub fn links(&self) -> [Vec<Link>; 3] {
        beam_links(&self.model.beam)
    }

    /// Both wheels' motion at a solved pose with first and second derivatives along a line on which the
    /// travels grow by `rates` per unit.
    pub fn motions_along(
        &self,
        at: &SolvedBeam<B, N>,
        rates: [f64; 2],
    ) -> Option<[CornerMotion<Dual2_64>; 2]> {
        let input = at.traced.input;
        let travel = [0, 1].map(|i| Dual2_64::new(input.travel[i], rates[i], 0.0));
        let made = || BeamModel::new(self.model.beam.lifted()).ok().map(Box::new);
        self.motions_on(self.model_along.get_or_init(made).as_deref()?, at, travel)
    }

    /// The same with the derivative of everything to a number that is changed.
    pub fn motions_along_by(
        &self,
        at: &SolvedBeam<B, N>,
        rates: [f64; 2],
        changed: &Changed,
    ) -> Option<[CornerMotion<Dual2OfDual>; 2]> {
        let input = at.traced.input;
        let number = Dual64::from_re;
        let travel = [0, 1].map(|i| Dual2OfDual::new(number(input.travel[i]), number(rates[i]), number(0.0)));
        let one = Dual2OfDual::from_re(Dual64::new(0.0, 1.0));
        self.motions_on(&BeamModel::<_, B, N>::new(self.changed(changed, one)?).ok()?, at, travel)
    }

    /// Both wheels' motion of a changed axle at travels of the same values as the pose's.
    fn motions_on<T: Real>(
        &self,
        model: &BeamModel<T, B, N>,
        at: &SolvedBeam<B, N>,
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
        at: &SolvedBeam<B, N>,
        changed: &Changed,
        crossed: bool,
    ) -> Option<[Wheels<Dual64>; 2]> {
        let model = BeamModel::<_, B, N>::new(self.changed(changed, Dual64::new(0.0, 1.0))?).ok()?;
        let carry = |traced: &Traced<B, N>| {
            let input = Input {
                travel: traced.input.travel.map(Dual64::constant),
                steer: Dual64::constant(traced.input.steer),
            };
            model.mechanism.carry(&traced.closed.bodies.map(|body| body.cast()), &input)
        };
        let start = carry(&self.start.traced);
        let reference = model.reference(&start).ok()?;
        let wheels = |closed: &Closed<Dual64, B, N>| {
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
