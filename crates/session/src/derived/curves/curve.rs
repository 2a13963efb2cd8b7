//! A curve with its traces, in display units.

use super::difference;
use super::from_zero::{far_apart, from_zero};
use super::spec::{Over, Shown, Spec};
use super::sweeps::{Along, MadeOf, Sweep, Sweeps, range};
use crate::between::between;
use crate::session::{Session, SteerWords, Values};
use std::sync::{Arc, LazyLock};
use wheelpath_geometry::{CarPose, LengthUnit, Reading, Scope, Side, SweepValues, Travelling, Unit, reading};

/// Whose trace it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Whose {
    /// The car as it stands.
    Now,
    /// The car as it was loaded.
    Original,
    /// The ideal it is compared with.
    Ideal,
}

/// What a trace is of, beside its car.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Branch {
    /// A wheel.
    Wheel(Side),
    /// A turn to that side.
    Turn(Side),
    /// The axle.
    Axle,
}

impl Branch {
    /// The name in words.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            Branch::Wheel(Side::Left) => "left",
            Branch::Wheel(Side::Right) => "right",
            Branch::Turn(Side::Left) => "left turn",
            Branch::Turn(Side::Right) => "right turn",
            Branch::Axle => "axle",
        }
    }

    /// Whether it is drawn as the right side is.
    #[must_use]
    pub fn is_right(self) -> bool {
        matches!(self, Branch::Wheel(Side::Right) | Branch::Turn(Side::Right))
    }
}

/// One line of a curve.
#[derive(Clone, Debug, PartialEq)]
pub struct Trace {
    /// Whose it is.
    pub whose: Whose,
    /// What it is of.
    pub branch: Branch,
    /// Unbroken pieces, in display units; between them are poses that cannot be reached, or at which
    /// the reading does not exist.
    pub pieces: Vec<Vec<[f64; 2]>>,
}

/// A place on a curve: what a pointer over it means.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// The pose of the car there.
    pub pose: CarPose,
    /// Horizontal place, display units.
    pub x: f64,
    /// Values there, in writing, one a trace of the car as it stands.
    pub values: Vec<(Branch, String)>,
}

/// What of a reading is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Drawn {
    /// The car as it stands less the one it is compared with.
    pub is_difference: bool,
    /// The change from zero travel, or the value; where neither was asked for, the change where the sides are far
    /// apart, as in a steered pose, before the car was changed.
    pub from_zero: Option<bool>,
}

/// A curve, ready to be drawn.
#[derive(Clone, Debug)]
pub struct Curve {
    /// Which reading it shows.
    pub spec: Spec,
    /// Its lines, the most important last.
    pub traces: Vec<Trace>,
    /// What runs to the right, in a word.
    pub x_name: &'static str,
    /// What is positive to the right, in a word.
    pub x_positive: &'static str,
    /// Unit of what runs to the right.
    pub x_unit: Unit,
    /// Unit of what runs upward.
    pub y_unit: Unit,
    /// Left and right end, display units.
    pub x_range: [f64; 2],
    /// Lower and upper end, display units.
    pub y_range: [f64; 2],
    /// Markers at the pose shown, display units.
    pub markers: Vec<(Branch, [f64; 2])>,
    /// Where dampers or rack stop, display units of what runs to the right.
    pub stops: Vec<f64>,
    /// Whether some of it cannot be reached.
    pub has_gap: bool,
    /// Whether left and right lie on one another.
    pub sides_coincide: bool,
    /// Values at zero travel, display units, where what is drawn is the change from them: two sides
    /// far apart would both look flat. Empty where the values themselves are drawn.
    pub zero: Vec<(Branch, f64)>,
    /// Whether left and right are further apart than either of them changes, now or before.
    pub sides_far_apart: bool,
    /// Whether what is drawn is the car as it stands less the one it is compared with.
    pub is_difference: bool,
    /// Whether one beam carries both wheels, so that a rate says which motion it is of.
    pub moves_as_one: bool,
    /// What lengths are shown in.
    pub lengths: LengthUnit,
    steer: SteerWords,
    sweep: Sweep,
}

/// Readings of a turn: inner, outer, and ideal outer wheel angle. Looked up once: every pose of a curve
/// asks for them.
static TURN: LazyLock<Option<[&'static Reading; 3]>> =
    LazyLock::new(|| Some([reading("inner_steer")?, reading("outer_steer")?, reading("outer_ideal")?]));

/// A reading at one pose, SI units and radians.
fn value(values: &SweepValues, branch: Branch, reading: &Reading) -> Option<f64> {
    match reading.scope {
        Scope::Axle => values.axle.get(reading),
        Scope::Wheel => {
            let side = if branch.is_right() { Side::Right } else { Side::Left };
            values.wheels[usize::from(side == Side::Right)].get(reading)
        }
    }
}

/// What the numbers of a curve are shown in.
#[derive(Clone, Copy)]
struct In<'a> {
    steer: &'a SteerWords,
    lengths: LengthUnit,
}

/// The point of a trace at one pose, display units.
fn point(spec: &Spec, shown: In, branch: Branch, ideal: bool, at: &Along) -> Option<[f64; 2]> {
    let values = at.point.result.as_ref().ok()?;
    let In { steer, lengths } = shown;
    match spec.shown {
        Shown::Reading(reading) => {
            let (.., unit) = spec.runs_over(steer);
            let value = value(values, branch, reading)?;
            Some([unit.shown(at.along, lengths), reading.unit.charted(value, lengths)?])
        }
        Shown::OuterOverInner => {
            let [inner, outer, outer_ideal] = (*TURN)?;
            let value = |reading: &Reading| {
                value(values, branch, reading).map(|value| reading.unit.shown(value, lengths))
            };
            let x = value(inner)?;
            let y = value(if ideal { outer_ideal } else { outer })?;
            let turns = match branch {
                Branch::Turn(Side::Left) => at.along * steer.left_turn >= 0.0,
                _ => at.along * steer.left_turn <= 0.0,
            };
            (turns && x >= 0.0).then_some([x, y])
        }
    }
}

fn trace(spec: &Spec, shown: In, whose: Whose, branch: Branch, sweep: &[Along]) -> Trace {
    // A swing arm changes its sign where links are parallel: between the two it has every greater length.
    let breaks = matches!(spec.shown, Shown::Reading(reading) if reading.unit == Unit::PerMetre);
    let mut pieces = vec![Vec::with_capacity(sweep.len())];
    for at in sweep {
        match point(spec, shown, branch, whose == Whose::Ideal, at) {
            Some(place) => {
                let last = pieces.last().and_then(|piece: &Vec<[f64; 2]>| piece.last());
                if breaks && last.is_some_and(|last| last[1] * place[1] < 0.0) {
                    pieces.push(Vec::new());
                }
                pieces.last_mut().into_iter().for_each(|piece| piece.push(place));
            }
            None if pieces.last().is_some_and(|piece| !piece.is_empty()) => pieces.push(Vec::new()),
            None => {}
        }
    }
    pieces.retain(|piece| !piece.is_empty());
    Trace { whose, branch, pieces }
}

impl Curve {
    /// The curve of a session as it stands.
    #[must_use]
    pub fn of(session: &Session, spec: Spec, sweeps: &mut Sweeps) -> Arc<Self> {
        Curve::kept(session, spec, sweeps, Drawn { is_difference: false, from_zero: None })
    }

    /// The curve of a session as it stands, counted from its value at zero travel or not.
    #[must_use]
    pub fn counted(session: &Session, spec: Spec, sweeps: &mut Sweeps, from_zero: bool) -> Arc<Self> {
        Curve::kept(session, spec, sweeps, Drawn { is_difference: false, from_zero: Some(from_zero) })
    }

    /// The curve of what changed against the car that is compared with; where nothing did, or the two
    /// cannot be taken from one another, the curve as it stands.
    #[must_use]
    pub fn difference(session: &Session, spec: Spec, sweeps: &mut Sweeps) -> Arc<Self> {
        let is_difference = session.differs() && difference::can_be(&spec);
        Curve::kept(session, spec, sweeps, Drawn { is_difference, from_zero: None })
    }

    fn kept(session: &Session, spec: Spec, sweeps: &mut Sweeps, drawn: Drawn) -> Arc<Self> {
        let sweep = sweeps.of(session, &spec, false);
        let before = session.differs().then(|| sweeps.of(session, &spec, true));
        let made_of = MadeOf {
            spec,
            drawn,
            revisions: [session.revision(), session.baseline_revision()],
            shown: session.shown().pose,
            sweep: Arc::clone(&sweep),
            before: before.clone(),
        };
        sweeps.curve(made_of, || Curve::made(session, spec, sweep, before, drawn))
    }

    fn made(session: &Session, spec: Spec, sweep: Sweep, before: Option<Sweep>, drawn: Drawn) -> Self {
        let Drawn { is_difference, from_zero: is_wanted } = drawn;
        let lengths = session.units();
        let steer = SteerWords::of(session.solver_car(), lengths);
        let shown = In { steer: &steer, lengths };
        let branches: &[Branch] = match spec.shown {
            Shown::OuterOverInner => &[Branch::Turn(Side::Right), Branch::Turn(Side::Left)],
            Shown::Reading(reading) if reading.scope == Scope::Axle => &[Branch::Axle],
            Shown::Reading(_) => &[Branch::Wheel(Side::Right), Branch::Wheel(Side::Left)],
        };
        let mut traces = Vec::new();
        if let Some(before) = before {
            traces
                .extend(branches.iter().map(|&branch| trace(&spec, shown, Whose::Original, branch, &before)));
        }
        if spec.shown == Shown::OuterOverInner {
            traces.push(trace(&spec, shown, Whose::Ideal, Branch::Turn(Side::Left), &sweep));
        }
        traces.extend(branches.iter().map(|&branch| trace(&spec, shown, Whose::Now, branch, &sweep)));
        let mut markers = markers(session, &spec, shown, branches);
        if is_difference {
            traces = difference::differenced(traces);
            markers.retain_mut(|(branch, at)| {
                let was = difference::before(session, &spec, *branch);
                at[1] -= was.unwrap_or(0.0);
                was.is_some()
            });
        }
        let can_count = !is_difference && matches!(spec.over, Over::Travel(_)) && spec.has_sides();
        let apart = |of| can_count && far_apart(&traces, of);
        let (now_apart, before_apart) = (apart(Whose::Now), apart(Whose::Original));
        // A change of the car leaves the curve drawn as it was before: the car that it is compared with decides.
        let by_itself = if session.differs() { before_apart } else { now_apart };
        let sides_far_apart = now_apart || before_apart;
        let zero = if can_count && is_wanted.unwrap_or(by_itself) {
            from_zero(&mut traces, &mut markers)
        } else {
            Vec::new()
        };
        let (x_name, x_positive, x_unit) = match (spec.shown, spec.over) {
            (Shown::OuterOverInner, _) => ("inner", "", Unit::Degree),
            (Shown::Reading(_), _) => spec.runs_over(&steer),
        };
        let y_unit = match spec.shown {
            Shown::Reading(reading) => reading.unit,
            Shown::OuterOverInner => Unit::Degree,
        };
        let mut curve = Curve {
            has_gap: sweep.iter().any(|at| at.point.result.is_err()),
            sides_coincide: coincide(&traces, y_unit.decimals(lengths)),
            x_range: [0.0; 2],
            y_range: extent(&traces, least_span(y_unit, lengths), 1),
            markers,
            stops: stops(session, &spec),
            x_name,
            x_positive,
            zero,
            sides_far_apart,
            is_difference,
            moves_as_one: session.car().axle(spec.end).is_beam(),
            spec,
            traces,
            x_unit,
            y_unit,
            lengths,
            steer,
            sweep,
        };
        curve.x_range = match spec.shown {
            Shown::OuterOverInner => [0.0, extent(&curve.traces, least_span(Unit::Degree, lengths), 0)[1]],
            Shown::Reading(_) => range(session, &spec).map(|end| x_unit.shown(end, lengths)),
        };
        curve
    }

    /// The place nearest to a horizontal and vertical place in display units; `None` where the nearest
    /// pose cannot be reached.
    #[must_use]
    pub fn place(&self, session: &Session, x: f64, y: f64) -> Option<Place> {
        let held = session.held_pose();
        let along = match self.spec.shown {
            Shown::Reading(_) => {
                let [from, to] = self.x_range;
                // To the last decimal that the pose is shown with, but no finer than a tenth.
                let round = if self.x_unit == Unit::Length && self.lengths == LengthUnit::Inch {
                    200.0
                } else {
                    10.0
                };
                self.x_unit.inside((between(x, from, to) * round).round() / round, self.lengths)
            }
            Shown::OuterOverInner => self.along_turn(x, y)?,
        };
        let pose = self.spec.pose(held, along);
        let axle = session.solver().solve(&pose).ok()?;
        let values = Values::of(&axle);
        let at = |branch: Branch, reading: &'static Reading| {
            let side = if branch.is_right() { Side::Right } else { Side::Left };
            values.get(self.spec.end, side, reading)
        };
        let before = if self.is_difference { difference::before_in(session, &pose) } else { None };
        let (reading_x, mut written) = (self.x_unit.shown(along, self.lengths), Vec::new());
        let mut x = reading_x;
        for trace in self.traces.iter().filter(|trace| trace.whose == Whose::Now).rev() {
            match self.spec.shown {
                Shown::Reading(reading) => {
                    let value = at(trace.branch, reading).unwrap_or(f64::NAN);
                    if self.is_difference {
                        let was = before.as_ref();
                        let was = was.and_then(|was| difference::of(was, &self.spec, trace.branch, reading));
                        let was = was.unwrap_or(f64::NAN);
                        written.push((trace.branch, reading.unit.write_change(was, value, self.lengths)));
                        continue;
                    }
                    written.push((trace.branch, self.write(trace.branch, value, reading.unit)));
                }
                Shown::OuterOverInner => {
                    let left = along * self.steer.left_turn >= 0.0;
                    if (trace.branch == Branch::Turn(Side::Left)) != left {
                        continue;
                    }
                    let [inner, outer, ideal] = (*TURN)?;
                    x = inner.unit.shown(at(Branch::Axle, inner)?, self.lengths);
                    let outer = at(Branch::Axle, outer).unwrap_or(f64::NAN);
                    let ideal = at(Branch::Axle, ideal).unwrap_or(f64::NAN);
                    let write = |angle| Unit::Degree.write(angle, self.lengths);
                    written.push((trace.branch, format!("{}, ideal {}", write(outer), write(ideal))));
                }
            }
        }
        Some(Place { pose, x, values: written })
    }

    /// Whether what is drawn is the change from zero travel.
    #[must_use]
    pub fn is_change(&self) -> bool {
        !self.zero.is_empty()
    }

    /// The name in words, from long to short.
    #[must_use]
    pub fn titles(&self) -> [String; 3] {
        let titles = self.spec.titles(self.is_change(), self.moves_as_one);
        if self.is_difference { titles.map(|title| format!("Δ {title}")) } else { titles }
    }

    fn write(&self, branch: Branch, value: f64, unit: Unit) -> String {
        match self.zero.iter().find(|(of, _)| *of == branch) {
            Some((_, zero)) => unit.write_change(unit.inside(*zero, self.lengths), value, self.lengths),
            None => unit.write(value, self.lengths),
        }
    }

    /// The steering input at which the inner angle is `x` degrees, on the branch nearer to `y`.
    fn along_turn(&self, x: f64, y: f64) -> Option<f64> {
        let side = |branch: Branch| {
            let shown = In { steer: &self.steer, lengths: self.lengths };
            let spot =
                |at: &Along| point(&self.spec, shown, branch, false, at).map(|place| (at.along, place));
            let places: Vec<(f64, [f64; 2])> = self.sweep.iter().filter_map(spot).collect();
            let between = places.windows(2).find_map(|pair| {
                let [(a, [xa, ya]), (b, [xb, yb])] = pair else { return None };
                let share = (x - xa) / (xb - xa);
                (0.0..=1.0).contains(&share).then(|| (a + (b - a) * share, ya + (yb - ya) * share))
            });
            // Beyond its ends the nearest end counts.
            between.or_else(|| {
                let nearest =
                    places.iter().min_by(|p, q| (p.1[0] - x).abs().total_cmp(&(q.1[0] - x).abs()))?;
                Some((nearest.0, nearest.1[1]))
            })
        };
        let (left, right) = (side(Branch::Turn(Side::Left)), side(Branch::Turn(Side::Right)));
        match (left, right) {
            // Where the branches lie on one another, the left turn.
            (Some(l), Some(r)) if (r.1 - y).abs() + 1e-3 < (l.1 - y).abs() => Some(r.0),
            (Some(l), _) => Some(l.0),
            (None, r) => r.map(|r| r.0),
        }
    }
}

fn markers(
    session: &Session,
    spec: &Spec,
    In { steer, lengths }: In,
    branches: &[Branch],
) -> Vec<(Branch, [f64; 2])> {
    let shown = session.shown().pose;
    let values = session.values();
    let (.., x_unit) = spec.runs_over(steer);
    let mut all = Vec::new();
    for &branch in branches {
        let side = if branch.is_right() { Side::Right } else { Side::Left };
        let at = match (spec.shown, spec.over) {
            (Shown::OuterOverInner, _) => {
                let turned = if shown.steer * steer.left_turn >= 0.0 { Side::Left } else { Side::Right };
                let of = |reading| Some(Unit::Degree.shown(values.axle(spec.end, reading)?, lengths));
                let here = (*TURN).and_then(|[inner, outer, _]| of(inner).zip(of(outer)));
                here.filter(|_| turned == side).map(|(inner, outer)| [inner.max(0.0), outer])
            }
            (Shown::Reading(reading), over) => {
                let along = match over {
                    Over::Travel(travelling) => {
                        let travel =
                            shown.travel_of(wheelpath_geometry::WheelPosition { end: spec.end, side });
                        // In roll the right wheel goes the other way along the same curve.
                        let mirrored = travelling == Travelling::Opposite && side == Side::Right;
                        if mirrored { -travel } else { travel }
                    }
                    Over::Steer => shown.steer,
                };
                let value = values.get(spec.end, side, reading);
                let value = value.and_then(|value| reading.unit.charted(value, lengths));
                value.map(|value| [x_unit.shown(along, lengths), value])
            }
        };
        all.extend(at.map(|at| (branch, at)));
    }
    all
}

fn stops(session: &Session, spec: &Spec) -> Vec<f64> {
    let reach = session.reach();
    match (spec.shown, spec.over) {
        (Shown::Reading(_), Over::Travel(_)) => {
            let stops = reach.stops[usize::from(spec.end == wheelpath_geometry::End::Rear)];
            stops.iter().map(|stop| Unit::Length.shown(*stop, session.units())).collect()
        }
        _ => Vec::new(),
    }
}

/// The least range in which a curve is not mere noise, display units.
fn least_span(unit: Unit, lengths: LengthUnit) -> f64 {
    let inside = match unit {
        Unit::Degree => 0.1_f64.to_radians(),
        Unit::Length => 1e-3,
        Unit::DegreePerMetre => 1.0_f64.to_radians(),
        Unit::DegreePerRackTravel => 5.0_f64.to_radians(),
        Unit::Percent => 0.01,
        Unit::PerTravel | Unit::DegreePerDegree | Unit::Ratio => 0.02,
        Unit::Metre => 0.1,
        Unit::SpringRate => 100.0,
        Unit::SpringRateGain => 1e3,
        Unit::TorsionRate => 100.0,
        // A tenth of a metre of its length, whatever that is.
        Unit::PerMetre => return Unit::Length.shown(0.1, lengths),
    };
    unit.shown(inside, lengths)
}

/// Least and greatest value of all traces, with a margin above and below (`axis` 1) or none (0).
fn extent(traces: &[Trace], least: f64, axis: usize) -> [f64; 2] {
    let (mut low, mut high) = (f64::INFINITY, f64::NEG_INFINITY);
    for place in traces.iter().flat_map(|trace| &trace.pieces).flatten() {
        low = low.min(place[axis]);
        high = high.max(place[axis]);
    }
    if low > high {
        return [-1.0, 1.0];
    }
    let lacking = (least - (high - low)).max(0.0);
    let margin = if axis == 1 { 0.08 * (high - low) } else { 0.0 } + 0.5 * lacking;
    [low - margin, high + margin]
}

/// Whether the two sides differ by less than can be read.
fn coincide(traces: &[Trace], decimals: usize) -> bool {
    let now: Vec<&Trace> = traces.iter().filter(|trace| trace.whose == Whose::Now).collect();
    let [right, left] = now.as_slice() else { return false };
    if matches!(right.branch, Branch::Turn(_)) {
        return false;
    }
    let digits = 10_f64.powi(-i32::try_from(decimals).unwrap_or(2));
    let (a, b) = (left.pieces.iter().flatten(), right.pieces.iter().flatten());
    left.pieces.len() == right.pieces.len() && a.zip(b).all(|(a, b)| (a[1] - b[1]).abs() < digits)
}
