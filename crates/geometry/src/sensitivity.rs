//! How every reading answers to every number of a corner: exact derivatives, by the implicit
//! function theorem.
//!
//! The same equations that give a reading are run once in numbers that carry a derivative. The pose
//! takes its derivative from one Newton step in those numbers, `dx = -J⁻¹ (∂F/∂p)`, and so do the
//! velocities; nothing is differenced.

use crate::axle::axle_motion::{AxleMotion, AxleReference};
use crate::axle::axle_solver::{AxleSolver, SolvedAxle, place};
use crate::axle::beam::{BeamAxle, SolvedBeamAxle};
use crate::axle::cross_axle::{CrossAxle, Wheels};
use crate::axle::wheel_carrier::{AxleState, Carried, reaches_across};
use crate::car::axis::Axis;
use crate::car::hardpoint::{Hardpoint, Link};
use crate::car::parameter::{Parameter, ScalarParameter, WheelNumber};
use crate::car::point_set::PointSet;
use crate::car::position::Side;
use crate::car::{CamberBy, Hardpoints, ToeBy};
use crate::change::changed::{Changed, Whose};
use crate::corner::corner_motion::CornerMotion;
use crate::linkage::links::Links;
use crate::readings::{AXLE_READINGS, AxleValues, WHEEL_READINGS, WheelValues, axle_values, wheel_values};
use num_dual::Dual64;

/// On which side a number is changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ChangedOn {
    /// One side alone.
    One(Side),
    /// Both; Y coordinates by the mirrored amount.
    Both,
}

/// Derivatives of all readings of an axle to one number: SI per metre, radians per metre.
#[derive(Clone, Copy, Debug)]
pub struct Sensitivity {
    /// Of the left and right wheel's readings.
    pub wheels: [WheelValues; 2],
    /// Of the axle's readings.
    pub axle: AxleValues,
}

impl AxleSolver {
    /// The numbers of a corner that can be changed: pickups, wheel centre, tyre radius, link lengths.
    #[must_use]
    pub fn parameters(&self, side: Side) -> Vec<ScalarParameter> {
        let corner = self.axle.corner(side);
        let mut all = Vec::new();
        for (hardpoint, _) in corner.hardpoints.iter() {
            all.extend(Axis::ALL.map(|axis| ScalarParameter::point(hardpoint, axis)));
        }
        all.extend(Axis::ALL.map(ScalarParameter::wheel_centre));
        all.push(ScalarParameter::TYRE_RADIUS);
        all.extend(self.links(side).into_iter().map(ScalarParameter::length));
        all
    }

    /// The numbers of the axle as a whole that can be changed: its own pickups and link lengths.
    #[must_use]
    pub fn own_parameters(&self) -> Vec<ScalarParameter> {
        let points = self
            .axle
            .hardpoints
            .iter()
            .flat_map(|(p, _)| Axis::ALL.map(move |axis| ScalarParameter::point(p, axis)));
        points.chain(self.own_links().into_iter().map(ScalarParameter::length)).collect()
    }

    /// The links a corner has.
    #[must_use]
    pub fn links(&self, side: Side) -> Vec<Link> {
        joined(&self.axle.corner(side).hardpoints)
    }

    /// The links the axle as a whole has.
    #[must_use]
    pub fn own_links(&self) -> Vec<Link> {
        joined(&self.axle.hardpoints)
    }

    /// Derivatives of every reading at a solved pose to one number, changed on one side or both; a
    /// number of the axle as a whole is changed once, whatever the side. Where the corner's alignment is set by adjusters, they follow so as to keep it.
    ///
    /// `None` where the number is not one of this corner's, or the pose is a dead point.
    #[must_use]
    pub fn sensitivity(
        &self,
        at: &SolvedAxle,
        parameter: ScalarParameter,
        on: ChangedOn,
        links: Links,
    ) -> Option<Sensitivity> {
        let moved = |side: Side| match on {
            ChangedOn::Both => true,
            ChangedOn::One(one) => one == side,
        };
        if parameter.is_of_axle() {
            return self.own_parameters().contains(&parameter).then(|| self.of_own(at, parameter, links))?;
        }
        let mut total: Option<Sensitivity> = None;
        for side in Side::BOTH.into_iter().filter(|&side| moved(side)) {
            if !self.has(side, parameter) {
                return None;
            }
            let mirrored = on == ChangedOn::Both && side == Side::Right && parameter.axis() == Some(Axis::Y);
            let sign = if mirrored { -1.0 } else { 1.0 };
            for (parameter, weight) in self.with_adjusters(side, parameter, links)? {
                let links = if weight.is_some() { Links::Remade } else { links };
                let one = self.alone(at, side, parameter, links)?;
                add(&mut total, &one, sign * weight.unwrap_or(1.0));
            }
        }
        total
    }

    /// Whether the number is one of this corner's.
    fn has(&self, side: Side, parameter: ScalarParameter) -> bool {
        let corner = self.axle.corner(side);
        match parameter {
            ScalarParameter::Coordinate(Parameter::Point(hardpoint), _) => {
                corner.hardpoints.get(hardpoint).is_some()
            }
            ScalarParameter::Coordinate(Parameter::WheelCentre, _)
            | ScalarParameter::Number(Parameter::Wheel(WheelNumber::TyreRadius)) => true,
            ScalarParameter::Number(Parameter::Length(link)) => self.links(side).contains(&link),
            ScalarParameter::CamberAdjuster => corner.linkage.camber_adjuster().is_some(),
            ScalarParameter::Coordinate(..) | ScalarParameter::Number(_) => false,
        }
    }

    /// Derivatives to one number of one corner, the adjusters left alone.
    fn alone(
        &self,
        at: &SolvedAxle,
        side: Side,
        parameter: ScalarParameter,
        links: Links,
    ) -> Option<Sensitivity> {
        let changed = Changed { whose: Whose::Side(side), parameter, links };
        let (corners, solved) = match (&self.carried, &at.state) {
            (Carried::Independent(corners), AxleState::Independent(solved)) => (corners, solved),
            (Carried::Beam(_), AxleState::Beam(solved)) => return self.by_beam(at, solved, &changed),
            _ => return None,
        };
        let motions = |at_start: bool| -> Option<[CornerMotion<Dual64>; 2]> {
            let of = |one: Side| {
                let i = usize::from(one == Side::Right);
                let solver = &corners[i];
                let pose = if at_start { solver.start() } else { &solved[i] };
                match changed.on(one) {
                    Some((parameter, links)) => solver.motion_by(pose, parameter, links),
                    None => solver.motion_constant(pose),
                }
            };
            Some([of(Side::Left)?, of(Side::Right)?])
        };
        let wheels = |at_start| Some(Wheels { own: motions(at_start)?, crossed: None });
        self.derivatives(&wheels(true)?, wheels(false)?, at, &changed)
    }

    /// Derivatives to one number of a beam axle; drag link and track rod follow where they set its toe.
    fn by_beam(&self, at: &SolvedAxle, solved: &SolvedBeamAxle, changed: &Changed) -> Option<Sensitivity> {
        let Carried::Beam(beam) = &self.carried else { return None };
        let alone = |changed: &Changed| {
            let [start, wheels] = beam.motions_by(solved, changed, reaches_across(&self.axle))?;
            self.derivatives(&start, wheels, at, changed)
        };
        let mut total = Some(alone(changed)?);
        for (link, weight) in self.links_that_keep_toe(beam, changed)? {
            let longer = Changed::length_of_axle(link);
            add(&mut total, &alone(&longer)?, weight);
        }
        total
    }

    /// The links of a beam axle that are set so as to keep toe, and how much longer each becomes per unit of a number.
    fn links_that_keep_toe(&self, beam: &BeamAxle, changed: &Changed) -> Option<Vec<(Link, f64)>> {
        let links = beam.toe_links().unwrap_or([Link::TrackRod; 2]);
        let kept: Vec<usize> = [Side::Left, Side::Right]
            .into_iter()
            .filter(|&side| matches!(self.axle.corner(side).alignment.toe, ToeBy::TieRodLength(_)))
            .map(place)
            .collect();
        if kept.is_empty() {
            return Some(Vec::new());
        }
        let start = beam.start();
        let slopes = |changed: &Changed| -> Option<[f64; 2]> {
            let [wheels, _] = beam.motions_by(&start, changed, false)?;
            Some(wheels.own.map(|motion| crate::corner::align::toe_and_camber(&motion)[0].eps))
        };
        let mut matrix = [[1.0, 0.0], [0.0, 1.0]];
        let mut right = [0.0; 2];
        let own = slopes(changed)?;
        for &row in &kept {
            right[row] = -own[row];
            for &column in &kept {
                matrix[row][column] = slopes(&Changed::length_of_axle(links[column]))?[row];
            }
        }
        let weights = crate::mechanism::Factors::of(matrix).solve(&right);
        Some(kept.into_iter().map(|wheel| (links[wheel], weights[wheel])).collect())
    }

    /// The axle's own points, with a derivative to a coordinate of one.
    fn own_points_by(&self, parameter: Option<ScalarParameter>) -> PointSet<Dual64> {
        let mut own = PointSet::of(&self.axle.hardpoints, &self.axle.lengths);
        if let Some(ScalarParameter::Coordinate(Parameter::Point(hardpoint), axis)) = parameter {
            own.add_to_point(hardpoint, axis, Dual64::new(0.0, 1.0));
        }
        own
    }

    /// Derivatives to one number of the axle as a whole.
    fn of_own(&self, at: &SolvedAxle, parameter: ScalarParameter, links: Links) -> Option<Sensitivity> {
        let changed = Changed { whose: Whose::Axle, parameter, links };
        match (&self.carried, &at.state) {
            (Carried::Independent(corners), AxleState::Independent(solved)) => {
                let start = [
                    corners[0].motion_constant(corners[0].start())?,
                    corners[1].motion_constant(corners[1].start())?,
                ];
                let here = [corners[0].motion_constant(&solved[0])?, corners[1].motion_constant(&solved[1])?];
                let [start, here] = [start, here].map(|own| Wheels { own, crossed: None });
                self.derivatives(&start, here, at, &changed)
            }
            (Carried::Beam(_), AxleState::Beam(solved)) => self.by_beam(at, solved, &changed),
            _ => None,
        }
    }

    /// Derivatives of all readings, from both wheels' motion in the reference pose and at the pose. Those of the
    /// wheel rate come where the axle is [`rated`](Self::rated).
    fn derivatives(
        &self,
        start: &Wheels<Dual64>,
        mut wheels: Wheels<Dual64>,
        at: &SolvedAxle,
        changed: &Changed,
    ) -> Option<Sensitivity> {
        if at.motion.left.wheel_rate.is_some() {
            let rates = self.wheel_rates_by(at, changed)?;
            for (wheel, rate) in wheels.own.iter_mut().zip(rates) {
                wheel.wheel_rate = Some(rate.heave);
                if let (Some(as_one), Some([roll, alone])) = (&mut wheel.as_one, rate.as_one) {
                    as_one.wheel_rate_in_roll = Some(roll);
                    as_one.wheel_rate_one_wheel = Some(alone);
                }
            }
        }
        let own = match changed.whose {
            Whose::Axle => self.own_points_by(Some(changed.parameter)),
            Whose::Side(_) => self.own_points_by(None),
        };
        let [left, right] = &start.own;
        let reference = AxleReference::of(left, right);
        let across = CrossAxle::of(&self.axle, &own, self.across.senses());
        let axle = AxleMotion::new(self.context, &wheels, at.steer(), reference, &across).ok()?;
        // A reading that does not exist has no derivative either.
        let derivative = |d: Dual64| if d.re.is_finite() { d.eps } else { f64::NAN };
        let wheel =
            |side: Side| WheelValues(wheel_values(axle.corner(side), axle.wheel(side)).0.map(derivative));
        Some(Sensitivity {
            wheels: [wheel(Side::Left), wheel(Side::Right)],
            axle: AxleValues(axle_values(&axle).0.map(derivative)),
        })
    }

    /// The number itself, and with which weights the adjusters follow to keep the alignment.
    fn with_adjusters(
        &self,
        side: Side,
        parameter: ScalarParameter,
        links: Links,
    ) -> Option<Vec<(ScalarParameter, Option<f64>)>> {
        let Some(solver) = self.corner(side) else { return Some(vec![(parameter, None)]) };
        let alignment = solver.corner().alignment;
        let mut kept: Vec<(usize, ScalarParameter)> = Vec::new();
        if let ToeBy::TieRodLength(_) = alignment.toe {
            let link = if solver.steered() { Link::TieRod } else { Link::ToeLink };
            kept.push((0, ScalarParameter::length(link)));
        }
        if let CamberBy::Adjuster(_) = alignment.camber {
            kept.push((1, ScalarParameter::CamberAdjuster));
        }
        let mut all = vec![(parameter, None)];
        if kept.is_empty() {
            return Some(all);
        }
        let start = solver.start();
        let slopes = |parameter, links| -> Option<[f64; 2]> {
            let motion = solver.motion_by(start, parameter, links)?;
            Some(crate::corner::align::toe_and_camber(&motion).map(|d| d.eps))
        };
        let mut matrix = [[1.0, 0.0], [0.0, 1.0]];
        let mut right = [0.0; 2];
        let own = slopes(parameter, links)?;
        for &(row, _) in &kept {
            right[row] = -own[row];
            for &(column, adjuster) in &kept {
                matrix[row][column] = slopes(adjuster, Links::Remade)?[row];
            }
        }
        let weights = crate::mechanism::Factors::of(matrix).solve(&right);
        all.extend(kept.iter().map(|&(row, adjuster)| (adjuster, Some(weights[row]))));
        Some(all)
    }
}

/// The links whose ends are both there.
fn joined(hardpoints: &Hardpoints) -> Vec<Link> {
    let has = |hardpoint: Hardpoint| hardpoints.get(hardpoint).is_some();
    Link::ALL.iter().copied().filter(|link| has(link.ends().0) && has(link.ends().1)).collect()
}

fn add(total: &mut Option<Sensitivity>, one: &Sensitivity, weight: f64) {
    let total = total.get_or_insert_with(|| Sensitivity {
        wheels: [WheelValues([0.0; WHEEL_READINGS]), WheelValues([0.0; WHEEL_READINGS])],
        axle: AxleValues([0.0; AXLE_READINGS]),
    });
    for (sum, part) in total.wheels.iter_mut().zip(&one.wheels) {
        for (s, p) in sum.0.iter_mut().zip(&part.0) {
            *s += weight * p;
        }
    }
    for (s, p) in total.axle.0.iter_mut().zip(&one.axle.0) {
        *s += weight * p;
    }
}
