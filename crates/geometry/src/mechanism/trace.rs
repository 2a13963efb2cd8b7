//! Following a mechanism from one input to another without ever leaving its assembly.
//!
//! A linkage can be put together in several ways, and Newton from afar may land in another one. So
//! the pose is carried along in short steps. A step counts only if the determinant of the equations
//! keeps its sign and the correction stays small beside the step. Where no step is short enough, the
//! mechanism has come to a limit: a finding with its position.

use super::{Closed, Input, MAX_DRIVERS, Mechanism, Pose, Twist};
use nalgebra::Vector3;

/// Longest step along any input, metres.
const LONGEST_STEP: f64 = 0.010;
/// Sine of the angle between a lever and its rod below which they count as in line: there the lever could
/// go on in either of two ways.
pub(crate) const IN_LINE: f64 = 1e-5;
/// The same in a design pose: half a degree, a rod nearer to its lever's line carries no motion.
const AT_DESIGN: f64 = 0.01;
/// Below this the mechanism goes on in short steps, so that none steps over the line.
pub(crate) const NEARLY_IN_LINE: f64 = 0.35;
/// A short step, metres and radians.
pub(crate) const SHORT: f64 = 5e-4;

/// Whether a step of this size, metres and radians, may end at a pose so far from the line: nearer to it
/// the steps grow shorter with it, so that none steps over, whatever lies beyond.
pub(crate) fn clear_of_line(open: f64, step: f64) -> bool {
    // No lever of a car is shorter than 20 mm; not-a-number is not clear.
    open > NEARLY_IN_LINE || (open > IN_LINE && step < SHORT.min(0.02 * open))
}
/// Smallest ratio of pivots with which a step counts. Where two motions of a linkage cross, the determinant
/// has its other sign beyond; nearer than this, rounding alone could lead into the other motion.
const CROSSING: f64 = 1e-7;
/// Shortest step before the place counts as a limit, metres.
const SHORTEST_STEP: f64 = 2e-10;

/// Where a mechanism stops.
#[derive(Clone, Debug, PartialEq)]
pub struct PathLimit {
    /// The last input it can follow.
    pub at: Input<f64>,
    /// Names of the links that come into line there.
    pub links: Vec<&'static str>,
    /// By how far the links fail to meet one step beyond, metres.
    pub residual: f64,
    /// The bodies themselves could go on: a part that follows them could not.
    pub refused: bool,
}

/// A closed pose, its input and its assembly.
#[derive(Clone, Copy, Debug)]
pub struct Traced<const B: usize, const N: usize> {
    /// The input.
    pub input: Input<f64>,
    /// The pose.
    pub closed: Closed<f64, B, N>,
}

fn between(from: &Input<f64>, to: &Input<f64>, share: f64) -> Input<f64> {
    let mix = |a: f64, b: f64| if share >= 1.0 { b } else { a + (b - a) * share };
    let mut travel = [0.0; MAX_DRIVERS];
    for (i, t) in travel.iter_mut().enumerate() {
        *t = mix(from.travel[i], to.travel[i]);
    }
    Input { travel, steer: mix(from.steer, to.steer) }
}

fn distance(from: &Input<f64>, to: &Input<f64>) -> f64 {
    let travel = from.travel.iter().zip(&to.travel).map(|(a, b)| (a - b).abs());
    travel.fold((from.steer - to.steer).abs(), f64::max)
}

impl<const B: usize, const N: usize> Mechanism<f64, B, N> {
    /// The design pose as the start of a trace.
    ///
    /// # Errors
    /// The reason when the design pose does not close, or is a dead point.
    pub fn start(&self) -> Result<Traced<B, N>, PathLimit> {
        let input = Input::new(0.0, 0.0);
        let closed = self.close(&self.design, &input).map_err(|not| PathLimit {
            at: input,
            links: vec![not.worst],
            residual: not.residual,
            refused: false,
        })?;
        let (open, lever) = self.openness(&closed.bodies, &input);
        if open.is_nan() || open < AT_DESIGN {
            return Err(PathLimit { at: input, links: vec![lever], residual: 0.0, refused: false });
        }
        if closed.factors.sign() == 0 || closed.factors.pivot_ratio() < 1e-9 {
            return Err(PathLimit {
                at: input,
                links: self.in_line(&closed.factors),
                residual: 0.0,
                refused: false,
            });
        }
        Ok(Traced { input, closed })
    }

    /// Movement of a body for a change of input, to first order.
    fn tangent(&self, at: &Closed<f64, B, N>, change: &Input<f64>, body: usize) -> Twist<f64> {
        let mut total = Twist { v: Vector3::zeros(), w: Vector3::zeros() };
        for driver in 0..self.drivers.len() {
            let share = change.travel[driver];
            if share != 0.0 {
                let twist = at.by_travel(driver, self.drivers.len(), body);
                total.v += twist.v * share;
                total.w += twist.w * share;
            }
        }
        if change.steer != 0.0 {
            let twist = at.by_steer(body);
            total.v += twist.v * change.steer;
            total.w += twist.w * change.steer;
        }
        total
    }

    /// One guarded step: predict along the tangent, correct, and accept only the same assembly.
    fn guarded(&self, from: &Traced<B, N>, to: &Input<f64>) -> Result<Traced<B, N>, f64> {
        let mut change = *to;
        for (c, f) in change.travel.iter_mut().zip(&from.input.travel) {
            *c -= f;
        }
        change.steer -= from.input.steer;
        let mut predicted: [Pose<f64>; B] = from.closed.bodies;
        let mut size = 0.0;
        for (b, body) in predicted.iter_mut().enumerate() {
            let twist = self.tangent(&from.closed, &change, b);
            size += twist.v.norm_squared() + twist.w.norm_squared();
            *body = body.moved(&twist.v, &twist.w);
        }
        let size = size.sqrt();
        let closed = self.close(&predicted, to).map_err(|not| not.residual)?;
        let (open, _) = self.openness(&closed.bodies, to);
        if !clear_of_line(open, size.max(distance(&from.input, to))) {
            return Err(0.0);
        }
        let same =
            closed.factors.sign() == from.closed.factors.sign() && closed.factors.pivot_ratio() >= CROSSING;
        if same && size < 0.5 && closed.moved <= 0.25 * size + 1e-9 {
            Ok(Traced { input: *to, closed })
        } else {
            Err(closed.moved)
        }
    }

    /// Follows the mechanism from a pose to another input, in a straight line.
    ///
    /// # Errors
    /// The limit it meets on the way.
    pub fn follow(&self, from: &Traced<B, N>, to: &Input<f64>) -> Result<Traced<B, N>, PathLimit> {
        self.follow_while(from, to, |_| true)
    }

    /// The same, as long as `holds` says that the parts that follow the bodies are still whole; where
    /// it says no, the motion ends.
    ///
    /// # Errors
    /// The limit it meets on the way.
    pub fn follow_while(
        &self,
        from: &Traced<B, N>,
        to: &Input<f64>,
        mut holds: impl FnMut(&Closed<f64, B, N>) -> bool,
    ) -> Result<Traced<B, N>, PathLimit> {
        let whole = distance(&from.input, to);
        if !whole.is_finite() {
            return Err(PathLimit {
                at: from.input,
                links: Vec::new(),
                residual: f64::INFINITY,
                refused: false,
            });
        }
        let origin = from.input;
        let mut here = *from;
        let mut done = 0.0;
        let mut step = (LONGEST_STEP / whole).min(1.0);
        let shortest = SHORTEST_STEP / whole.max(SHORTEST_STEP);
        loop {
            let next = if done + step >= 1.0 - 1e-12 { 1.0 } else { done + step };
            let tried = self.guarded(&here, &between(&origin, to, next));
            let refused = tried.as_ref().is_ok_and(|traced| !holds(&traced.closed));
            match tried {
                Ok(traced) if !refused => {
                    here = traced;
                    done = next;
                    if done >= 1.0 {
                        return Ok(here);
                    }
                    step = (2.0 * step).min(LONGEST_STEP / whole);
                }
                tried => {
                    step *= 0.5;
                    if step < shortest {
                        let (open, lever) = self.openness(&here.closed.bodies, &here.input);
                        let links = match refused {
                            true => Vec::new(),
                            false if open < 100.0 * IN_LINE => vec![lever],
                            false => self.in_line(&here.closed.factors),
                        };
                        let residual = tried.err().unwrap_or(0.0);
                        return Err(PathLimit { at: here.input, links, residual, refused });
                    }
                }
            }
        }
    }
}
