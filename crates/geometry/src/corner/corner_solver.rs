//! Solving one corner: from its design pose to any travel and rack travel, on its own assembly.

use crate::car::hardpoint::{Hardpoint, Link};
use crate::car::parameter::ScalarParameter;
use crate::car::position::Side;
use crate::car::steering::Steering;
use crate::car::{Component, Corner};
use crate::corner::align::{Adjusted, align, assemble, dead_point};
use crate::corner::corner_model::CornerModel;
use crate::corner::corner_motion::{CornerMotion, Reference};
use crate::corner::driven_part_guard::DrivenPartGuard;
use crate::corner::wheel_model::CannotFollow;
use crate::linkage;
use crate::linkage::design::Design;
use crate::linkage::links::Links;
use crate::mechanism::stop::{Stop, StopKind};
use crate::mechanism::{Closed, Input, Pose, SteeringPath, Traced};
use crate::number::real::{Dual2OfDual, Real};
use nalgebra::Vector3;
use num_dual::{Dual2_64, Dual64};
use std::f64::consts::PI;
use std::sync::OnceLock;

/// Furthest travel looked at for limits, metres.
pub const FURTHEST: f64 = 0.3;
/// No car's wheel or rack goes so far, metres; asked for more, the answer would be long in coming.
const BEYOND: f64 = 10.0;

/// A link that holds the upright by a shorter lever than this, metres, holds nothing: the design pose
/// is a dead point in practice.
const SHORTEST_LEVER: f64 = 0.002;

/// A corner at one travel and rack travel.
#[derive(Clone, Copy, Debug)]
pub struct SolvedCorner {
    pub(crate) traced: Traced<1, 6>,
    /// Its motion there.
    pub motion: CornerMotion<f64>,
}

impl SolvedCorner {
    /// Wheel travel, metres.
    #[must_use]
    pub fn travel(&self) -> f64 {
        self.traced.input.travel[0]
    }

    /// Steering input: rack travel, metres, or turn of the pitman arm, radians.
    #[must_use]
    pub fn steer(&self) -> f64 {
        self.traced.input.steer
    }

    /// Whether that is where it stands.
    pub(crate) fn stands_at(&self, travel: f64, steer: f64) -> bool {
        let at = [self.travel(), self.steer()];
        at.map(f64::to_bits) == [travel, steer].map(f64::to_bits)
    }

    /// Largest error of a link's length, metres.
    #[must_use]
    pub fn residual(&self) -> f64 {
        self.traced.closed.residual
    }

    /// Newton steps the last stretch took.
    #[must_use]
    pub fn newton_steps(&self) -> usize {
        self.traced.closed.steps
    }

    /// Rotation of the upright from the design pose, and its wheel centre.
    #[must_use]
    pub fn upright(&self) -> &Pose<f64> {
        &self.traced.closed.bodies[0]
    }
}

/// A corner ready to solve.
#[derive(Clone, Debug)]
pub struct CornerSolver {
    corner: Corner,
    side: Side,
    design: Design<f64>,
    adjusted: Adjusted,
    pub(crate) model: CornerModel<f64>,
    pub(crate) reference: Reference<f64>,
    start: SolvedCorner,
    /// The model in numbers that carry two derivatives, made where it is first wanted; `None` where it cannot be.
    model_along: OnceLock<Option<Box<CornerModel<Dual2_64>>>>,
}

impl CornerSolver {
    /// Makes a corner ready: closes it in its design pose and sets its alignment. `third_spring_on` is
    /// the part that carries its end of a third spring.
    ///
    /// # Errors
    /// Points that are missing, links that do not meet, a dead point in the design pose, or an
    /// alignment out of the adjusters' reach.
    pub fn new(
        corner: &Corner,
        side: Side,
        steering: &Steering,
        third_spring_on: Option<Component>,
    ) -> Result<Self, Stop> {
        let base = Design::<f64>::of(corner, side, steering, third_spring_on);
        let missing = |what| Stop::new(StopKind::NoMechanism, 0.0, 0.0, vec![what], 0.0);
        for hardpoint in linkage::required(base.linkage, base.steered) {
            if base.get(hardpoint).is_none() {
                return Err(missing(hardpoint.label()));
            }
        }
        // Steering whose axis is no direction could be sent anywhere.
        if base.steered
            && let Some(what) = no_direction(steering)
        {
            return Err(missing(what));
        }
        let (design, adjusted) = align(&base, corner.alignment)?;
        let traced = assemble(&design)?;
        let model = model_of(design.clone())?;
        let weakest = (0..5).map(|row| traced.closed.turn_by_row(row)).fold(0.0, f64::max);
        if weakest.is_nan() || weakest > 1.0 / SHORTEST_LEVER {
            let links = model.mechanism.in_line(&traced.closed.factors);
            return Err(Stop::new(StopKind::DeadPoint, 0.0, 0.0, links, 0.0));
        }
        let cannot = |c: CannotFollow| Stop::new(StopKind::CannotAssemble, 0.0, 0.0, vec![c.0.label()], 0.0);
        for (link, leverage) in model.wheel.leverages() {
            // Half a degree: a rod nearer to its lever's line than that carries no motion.
            if leverage.is_some_and(|l| l < 0.01) {
                return Err(Stop::new(StopKind::DeadPoint, 0.0, 0.0, vec![link.label()], 0.0));
            }
        }
        let reference = model.reference(&traced.closed).map_err(cannot)?;
        let motion = model.motion(&traced.closed, &reference).map_err(cannot)?;
        Ok(CornerSolver {
            corner: corner.clone(),
            side,
            design,
            adjusted,
            model,
            reference,
            start: SolvedCorner { traced, motion },
            model_along: OnceLock::new(),
        })
    }

    /// The corner it was made from.
    #[must_use]
    pub fn corner(&self) -> &Corner {
        &self.corner
    }

    /// Its side.
    #[must_use]
    pub fn side(&self) -> Side {
        self.side
    }

    /// Whether the axle's steering steers it.
    #[must_use]
    pub fn steered(&self) -> bool {
        self.design.steered
    }

    /// The link that sets its toe, where one does.
    #[must_use]
    pub fn toe_link(&self) -> Option<Link> {
        self.design.toe_link()
    }

    /// Where its adjusters came to stand.
    #[must_use]
    pub fn adjusted(&self) -> Adjusted {
        self.adjusted
    }

    /// The reference pose: zero travel, straight ahead.
    #[must_use]
    pub fn start(&self) -> &SolvedCorner {
        &self.start
    }

    /// Solves at a travel (metres) and steering input, coming from the reference pose along the
    /// steering first, then along the travel.
    ///
    /// # Errors
    /// The limit met on the way.
    pub fn solve(&self, travel: f64, steer: f64) -> Result<SolvedCorner, Stop> {
        let turned = if steer == 0.0 { self.start } else { self.follow(&self.start, 0.0, steer)? };
        if travel == 0.0 { Ok(turned) } else { self.follow(&turned, travel, steer) }
    }

    /// Follows the corner in a straight line from a solved pose to another travel (metres) and steering
    /// input. The steering input of a corner that is not steered counts for nothing.
    ///
    /// # Errors
    /// The limit met on the way.
    pub fn follow(&self, from: &SolvedCorner, travel: f64, steer: f64) -> Result<SolvedCorner, Stop> {
        if !(travel.is_finite() && steer.is_finite()) {
            let at = from.traced.input;
            return Err(Stop::new(StopKind::NotFinite, at.travel[0], at.steer, Vec::new(), 0.0));
        }
        let steer = if self.design.steered { steer } else { 0.0 };
        let to = Input::new(travel.clamp(-BEYOND, BEYOND), steer.clamp(-BEYOND, BEYOND));
        let mut reached = None;
        let mut whole = DrivenPartGuard::from(from.upright());
        let followed = self.model.mechanism.follow_while(&from.traced, &to, |closed| {
            let motion = self.model.motion(closed, &self.reference);
            let cannot = motion.as_ref().err().copied();
            reached = motion.ok();
            whole.holds(&closed.bodies[0], cannot, self.model.openness(closed))
        });
        let stop = |at: Input<f64>, cannot: CannotFollow| {
            Stop::new(StopKind::OutOfReach, at.travel[0], at.steer, vec![cannot.0.label()], 0.0)
        };
        match (followed, whole.cannot) {
            (Ok(traced), _) if travel.abs().max(steer.abs()) > BEYOND => {
                let at = traced.input;
                Err(Stop::new(StopKind::OutOfReach, at.travel[0], at.steer, Vec::new(), 0.0))
            }
            (Ok(traced), _) => {
                match reached.map_or_else(|| self.model.motion(&traced.closed, &self.reference), Ok) {
                    Ok(motion) => Ok(SolvedCorner { traced, motion }),
                    Err(cannot) => Err(stop(from.traced.input, cannot)),
                }
            }
            (Err(limit), Some(cannot)) if limit.refused => Err(stop(limit.at, cannot)),
            (Err(limit), _) => Err(dead_point(limit)),
        }
    }

    /// The limits of travel at a steering input, droop then bump: `None` where there is none within
    /// [`FURTHEST`].
    ///
    /// # Errors
    /// The limit met on the way to that steering input.
    pub fn travel_limits(&self, steer: f64) -> Result<[Option<Stop>; 2], Stop> {
        let from = self.solve(0.0, steer)?;
        Ok([-FURTHEST, FURTHEST].map(|travel| self.follow(&from, travel, steer).err()))
    }

    /// The limits of the steering input at zero wheel travel, negative then positive, within
    /// [`FURTHEST`] of a rack or half a turn of a pitman arm.
    #[must_use]
    pub fn steer_limits(&self) -> [Option<Stop>; 2] {
        let furthest = match self.design.steering {
            SteeringPath::Slide { .. } => FURTHEST,
            SteeringPath::CentreLink(_) => PI,
        };
        [-furthest, furthest].map(|steer| self.follow(&self.start, 0.0, steer).err())
    }

    /// Where every named point stands, car coordinates, metres.
    #[must_use]
    pub fn points(&self, at: &SolvedCorner) -> Vec<(Hardpoint, Vector3<f64>)> {
        // A solved corner could follow, so its points can be had.
        self.model.points(&at.traced.closed, &at.traced.input).unwrap_or_default()
    }

    /// The motion at a solved pose with its derivative to one number of the corner. The adjusters
    /// stay as they are.
    pub(crate) fn motion_by(
        &self,
        at: &SolvedCorner,
        parameter: ScalarParameter,
        links: Links,
    ) -> Option<CornerMotion<Dual64>> {
        let mut design = self.dual_design();
        design.change(parameter, Dual64::new(0.0, 1.0), links);
        self.dual_motion(design, at)
    }

    /// The motion in numbers that can carry derivatives, with none.
    pub(crate) fn motion_constant(&self, at: &SolvedCorner) -> Option<CornerMotion<Dual64>> {
        self.dual_motion(self.dual_design(), at)
    }

    /// The motion at a solved pose with its first and second derivative along a line on which the travel
    /// grows by `rate` per unit.
    pub(crate) fn motion_along(
        &self,
        upright: &Pose<f64>,
        input: &Input<f64>,
        rate: f64,
    ) -> Option<CornerMotion<Dual2_64>> {
        let travel = Dual2_64::new(input.travel[0], rate, 0.0);
        let made = || CornerModel::new(self.design.lifted()).ok().map(Box::new);
        let model = self.model_along.get_or_init(made).as_deref()?;
        self.motion_on(model, upright, &Input::new(travel, Dual2_64::constant(input.steer)))
    }

    /// The same at a solved pose with the derivative of everything to a number of the corner that is changed, if
    /// one is.
    pub(crate) fn motion_along_by(
        &self,
        at: &SolvedCorner,
        rate: f64,
        changed: Option<(ScalarParameter, Links)>,
    ) -> Option<CornerMotion<Dual2OfDual>> {
        let mut design = self.design.lifted();
        if let Some((parameter, links)) = changed {
            design.change(parameter, Dual2OfDual::from_re(Dual64::new(0.0, 1.0)), links);
        }
        let number = Dual64::from_re;
        let travel = Dual2OfDual::new(number(at.travel()), number(rate), number(0.0));
        let model = CornerModel::new(design).ok()?;
        self.motion_on(&model, at.upright(), &Input::new(travel, Dual2OfDual::constant(at.steer())))
    }

    /// The motion of a changed corner at an input of the same values as the upright's pose.
    fn motion_on<T: Real>(
        &self,
        model: &CornerModel<T>,
        upright: &Pose<f64>,
        along: &Input<T>,
    ) -> Option<CornerMotion<T>> {
        // The first step carries first derivatives, the next those up to the third.
        let first = model.mechanism.carry(&[upright.cast()], along);
        let closed = model.mechanism.carry(&first.bodies, along);
        let constant = T::constant;
        let reference = Reference {
            wheel_centre: self.reference.wheel_centre.map(constant),
            contact_y: constant(self.reference.contact_y),
        };
        model.motion(&closed, &reference).ok()
    }

    fn dual_design(&self) -> Design<Dual64> {
        self.design.lifted()
    }

    fn dual_motion(&self, design: Design<Dual64>, at: &SolvedCorner) -> Option<CornerMotion<Dual64>> {
        let model = CornerModel::new(design).ok()?;
        let carry = |traced: &Traced<1, 6>| -> Closed<Dual64, 1, 6> {
            let input =
                Input::new(Dual64::constant(traced.input.travel[0]), Dual64::constant(traced.input.steer));
            model.mechanism.carry(&traced.closed.bodies.map(|body| body.cast()), &input)
        };
        let reference = model.reference(&carry(&self.start.traced)).ok()?;
        model.motion(&carry(&at.traced), &reference).ok()
    }
}

/// What of a steering is no unit direction, in words.
pub(crate) fn no_direction(steering: &Steering) -> Option<&'static str> {
    // Not-a-number is none either.
    let is_direction = |axis: &Vector3<f64>| (axis.norm() - 1.0).abs() < 1e-6;
    match steering {
        Steering::Fixed => None,
        Steering::Rack(rack) => (!is_direction(&rack.axis)).then_some("the rack's axis"),
        Steering::Box(one) if !is_direction(&one.pitman.axis) => Some("the pitman arm's axis"),
        Steering::Box(one) if !is_direction(&one.idler.axis) => Some("the idler arm's axis"),
        Steering::Box(_) => None,
    }
}

fn model_of(design: Design<f64>) -> Result<CornerModel<f64>, Stop> {
    CornerModel::new(design).map_err(|_| Stop::new(StopKind::NoMechanism, 0.0, 0.0, Vec::new(), 0.0))
}
