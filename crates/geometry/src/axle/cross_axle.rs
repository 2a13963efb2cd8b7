//! What reaches across an axle from wheel to wheel: anti-roll bar and third spring.

use crate::car::Axle;
use crate::car::hardpoint::{Hardpoint, Link};
use crate::car::point_set::PointSet;
use crate::car::position::Side;
use crate::car::springing::BarKind;
use crate::corner::corner_motion::CornerMotion;
use crate::driven::driven_motion::{DropLink, Moving};
use crate::driven::driven_parts::CannotFollow;
use crate::number::real::{Real, length, unit, values};
use nalgebra::{Matrix2, Matrix3, Vector2, Vector3};

/// A length or angle that hangs on both wheels, and its rates per unit travel of the left and of the right
/// wheel, the other wheel and the steering held.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Between<T: Real> {
    /// The value.
    pub value: T,
    /// Its derivatives to the left and the right wheel's travel.
    pub per_travel: [T; 2],
}

impl<T: Real> Between<T> {
    /// Rate per unit travel of both wheels together.
    pub fn per_heave(&self) -> T {
        self.per_travel[0] + self.per_travel[1]
    }

    /// Rate per unit travel of the left wheel up and the right wheel down.
    pub fn per_roll(&self) -> T {
        self.per_travel[0] - self.per_travel[1]
    }

    fn turned(self, sense: f64) -> Self {
        let sense = T::constant(sense);
        Between { value: self.value * sense, per_travel: self.per_travel.map(|rate| rate * sense) }
    }
}

/// A T-bar as it stands.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct TBarMotion<T: Real> {
    /// Swing of the stem from the design pose, radians, + = the way bump of both wheels swings it there.
    pub swing: Between<T>,
    /// Twist of the stem from the design pose, radians, + = the way bump of the left wheel twists it there.
    pub twist: Between<T>,
}

/// Both wheels of an axle at one pose.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Wheels<T: Real> {
    /// Left and right, each per unit of its own travel.
    pub own: [CornerMotion<T>; 2],
    /// Left and right, each per unit of the other wheel's travel; `None` where that does not move it.
    pub crossed: Option<[CornerMotion<T>; 2]>,
}

impl<T: Real> Wheels<T> {
    /// Rate of something of the left and of the right wheel, per unit travel of that side's wheel.
    fn rates<V: Copy>(
        &self,
        by: Side,
        still: V,
        of: impl Fn(&CornerMotion<T>) -> Option<V>,
    ) -> Option<[V; 2]> {
        let other = |i: usize| self.crossed.as_ref().map_or(Some(still), |crossed| of(&crossed[i]));
        Some(match by {
            Side::Left => [of(&self.own[0])?, other(1)?],
            Side::Right => [other(0)?, of(&self.own[1])?],
        })
    }

    /// The third spring: the distance between its ends.
    pub fn third_spring(&self) -> Option<Between<T>> {
        let [left, right] = [self.own[0].third_spring_end?, self.own[1].third_spring_end?];
        let along = left.at - right.at;
        let value = length(&along);
        let rate = |by| {
            let velocity = |m: &CornerMotion<T>| m.third_spring_end.map(|end: Moving<T>| end.per_travel);
            let [left, right] = self.rates(by, Vector3::zeros(), velocity)?;
            Some(along.dot(&(left - right)) / value)
        };
        Some(Between { value, per_travel: [rate(Side::Left)?, rate(Side::Right)?] })
    }

    /// Twist of a U-bar: the left arm's turn over the right one's.
    fn u_bar(&self) -> Option<Between<T>> {
        let value = self.own[0].bar?.value - self.own[1].bar?.value;
        let rate = |by| {
            let [left, right] = self.rates(by, T::zero(), |m| m.bar.map(|bar| bar.per_travel))?;
            Some(left - right)
        };
        Some(Between { value, per_travel: [rate(Side::Left)?, rate(Side::Right)?] })
    }
}

/// The longest stride of a drop link's outer end between two poses of a T-bar, metres.
const STRIDE: f64 = 0.01;
/// A short stride, metres.
const SHORT: f64 = 2e-4;
/// Share of the design's leverage below which the T-bar goes on in short strides.
const NEARLY_IN_LINE: f64 = 0.3;
/// A T-bar that its links hold by less than this is at a dead point (half a degree).
pub(crate) const DEAD: f64 = 0.01;

/// The stem and crossbar of a T-bar: it swings about a line through its foot and twists about its own.
#[derive(Clone, Copy, Debug)]
pub(crate) struct TBar<T: Real> {
    pivot: Vector3<T>,
    axis: Vector3<T>,
    stem: Vector3<T>,
    /// Outer ends of the drop links in the design pose: where the way to any pose begins.
    outers: [Vector3<f64>; 2],
    /// In which sense swing and twist count.
    senses: [f64; 2],
}

/// The rods' errors and their slopes to swing and twist, metres and metres per radian.
struct Rods<T: Real> {
    error: Vector2<T>,
    slope: Matrix2<T>,
    /// From the rods' outer to their inner ends, unit.
    along: [Vector3<T>; 2],
    /// Distance of the crossbar's ends from the stem's foot.
    reach: [T; 2],
}

#[inline]
fn turn_about<T: Real>(axis: &Vector3<T>, angle: T, v: &Vector3<T>) -> Vector3<T> {
    let (sin, cos) = angle.sin_cos();
    let along = axis * axis.dot(v);
    let out = v - along;
    along + out * cos + axis.cross(&out) * sin
}

fn solved<T: Real>(m: &Matrix2<T>, right: &Vector2<T>) -> Vector2<T> {
    let by = T::one() / (m.m11 * m.m22 - m.m12 * m.m21);
    Vector2::new((m.m22 * right.x - m.m12 * right.y) * by, (m.m11 * right.y - m.m21 * right.x) * by)
}

impl<T: Real> TBar<T> {
    /// The T-bar of an axle whose own points are these.
    fn new(own: &PointSet<T>, outers: [Vector3<f64>; 2], senses: [f64; 2]) -> Option<Self> {
        let pivot = own.get(Hardpoint::TBarPivot)?;
        let axis = unit(&(own.get(Hardpoint::TBarAxis)? - pivot));
        let stem = unit(&(own.get(Hardpoint::TBarHead)? - pivot));
        Some(TBar { pivot, axis, stem, outers, senses })
    }

    fn values(&self) -> TBar<f64> {
        TBar {
            pivot: values(&self.pivot),
            axis: values(&self.axis),
            stem: values(&self.stem),
            outers: self.outers,
            senses: self.senses,
        }
    }

    /// A point of the crossbar, or of the stem, given in the design pose.
    fn point(&self, design: &Vector3<T>, turn: &Vector2<T>) -> Vector3<T> {
        let twisted = turn_about(&self.stem, turn.y, &(design - self.pivot));
        self.pivot + turn_about(&self.axis, turn.x, &twisted)
    }

    fn rods(&self, links: &[DropLink<T>; 2], turn: &Vector2<T>) -> Rods<T> {
        let half = T::constant(0.5);
        let of = |link: &DropLink<T>| {
            let twisted = turn_about(&self.stem, turn.y, &(link.bar - self.pivot));
            let from_foot = turn_about(&self.axis, turn.x, &twisted);
            let rod = self.pivot + from_foot - link.outer.at;
            let by_twist = turn_about(&self.axis, turn.x, &self.stem.cross(&twisted));
            let by_swing = self.axis.cross(&from_foot);
            let one = T::one() / link.length;
            let error = (rod.dot(&rod) - link.length * link.length) * half * one;
            (error, [rod.dot(&by_swing) * one, rod.dot(&by_twist) * one], rod * one, length(&from_foot))
        };
        let [l, r] = [of(&links[0]), of(&links[1])];
        Rods {
            error: Vector2::new(l.0, r.0),
            slope: Matrix2::new(l.1[0], l.1[1], r.1[0], r.1[1]),
            along: [l.2, r.2],
            reach: [l.3, r.3],
        }
    }

    /// Swing and twist for these places of the drop links' outer ends, on the design's assembly; `None`
    /// where the links do not reach.
    fn turn(&self, links: &[DropLink<T>; 2]) -> Option<Vector2<T>> {
        let plain = links.map(|link| {
            let outer = Moving { at: values(&link.outer.at), per_travel: Vector3::zeros() };
            DropLink { outer, bar: values(&link.bar), length: link.length.value() }
        });
        let mut turn = self.values().followed(&plain)?.map(T::constant);
        // The first step carries the first derivative, the next the second.
        for _ in 0..2 {
            let rods = self.rods(links, &turn);
            turn -= solved(&rods.slope, &rods.error);
        }
        Some(turn)
    }

    /// How it stands and moves.
    fn motion(&self, wheels: &Wheels<T>) -> Result<Option<TBarMotion<T>>, CannotFollow> {
        let [Some(left), Some(right)] = [wheels.own[0].drop_link, wheels.own[1].drop_link] else {
            return Ok(None);
        };
        let links = [left, right];
        let turn = self.turn(&links).ok_or(CannotFollow(Link::DropLink))?;
        let rods = self.rods(&links, &turn);
        let rate = |by| {
            let velocity = |m: &CornerMotion<T>| m.drop_link.map(|link| link.outer.per_travel);
            let outers = wheels.rates(by, Vector3::zeros(), velocity)?;
            let pulls = Vector2::new(rods.along[0].dot(&outers[0]), rods.along[1].dot(&outers[1]));
            Some(solved(&rods.slope, &pulls))
        };
        let (Some(by_left), Some(by_right)) = (rate(Side::Left), rate(Side::Right)) else { return Ok(None) };
        let swing = Between { value: turn.x, per_travel: [by_left.x, by_right.x] };
        let twist = Between { value: turn.y, per_travel: [by_left.y, by_right.y] };
        Ok(Some(TBarMotion { swing: swing.turned(self.senses[0]), twist: twist.turned(self.senses[1]) }))
    }
}

impl TBar<f64> {
    /// Determinant of the rods' slopes with levers over the crossbar's reach: what holds it, with its sign.
    fn hold(rods: &Rods<f64>) -> f64 {
        rods.slope.determinant() / (rods.reach[0] * rods.reach[1])
    }

    /// Newton from a pose nearby.
    fn close(&self, links: &[DropLink<f64>; 2], from: &Vector2<f64>) -> Option<(Vector2<f64>, f64)> {
        let mut turn = *from;
        let mut last = f64::INFINITY;
        for _ in 0..30 {
            let rods = self.rods(links, &turn);
            let step = solved(&rods.slope, &rods.error);
            turn -= step;
            let size = step.amax();
            // Not-a-number fails here too.
            let near = (turn - from).amax() < 0.3;
            if !near {
                return None;
            }
            if size < 1e-12 || (size < 1e-9 && size >= last) {
                return Some((turn, Self::hold(&self.rods(links, &turn))));
            }
            last = size;
        }
        None
    }

    /// The pose that is reached from the design's as the drop links' outer ends go straight from there to
    /// where they stand.
    fn followed(&self, links: &[DropLink<f64>; 2]) -> Option<Vector2<f64>> {
        let at = |share: f64| {
            [0, 1].map(|i: usize| {
                let link = &links[i];
                let from = self.outers[i];
                let drawn = (link.bar - from).norm();
                let outer =
                    Moving { at: from + (link.outer.at - from) * share, per_travel: Vector3::zeros() };
                DropLink { outer, bar: link.bar, length: drawn + (link.length - drawn) * share }
            })
        };
        let mut turn = Vector2::zeros();
        let design = Self::hold(&self.rods(&at(0.0), &turn));
        let far = [0, 1].map(|i: usize| {
            (links[i].outer.at - self.outers[i]).norm().max((at(0.0)[i].length - links[i].length).abs())
        });
        let far = far[0].max(far[1]);
        if !(far.is_finite() && design.abs() > 0.0) {
            return None;
        }
        let longest = if far > STRIDE { STRIDE / far } else { 1.0 };
        let (mut done, mut step) = (0.0_f64, longest);
        while done < 1.0 {
            let next = (done + step).min(1.0);
            match self.close(&at(next), &turn) {
                Some((there, hold))
                    if hold * design > 0.0
                        && (hold.abs() > NEARLY_IN_LINE * design.abs() || (next - done) * far < SHORT) =>
                {
                    (turn, done) = (there, next);
                    step = (2.0 * step).min(longest);
                }
                _ => {
                    step *= 0.5;
                    if step * far < 1e-9 {
                        return None;
                    }
                }
            }
        }
        Some(turn)
    }
}

/// What reaches across an axle, over any number.
#[derive(Clone, Copy, Debug)]
pub(crate) struct CrossAxle<T: Real> {
    pub t_bar: Option<TBar<T>>,
}

impl<T: Real> CrossAxle<T> {
    /// Of an axle whose own points are these, with senses as another has found them.
    pub fn of(axle: &Axle, own: &PointSet<T>, senses: [f64; 2]) -> Self {
        let outer = |side: Side| axle.corner(side).hardpoints.get(Hardpoint::DropLinkOuter);
        let outers = outer(Side::Left).zip(outer(Side::Right));
        let t_bar = outers
            .filter(|_| axle.bar_kind() == Some(BarKind::T))
            .and_then(|(left, right)| TBar::new(own, [left, right], senses));
        CrossAxle { t_bar }
    }

    /// The T-bar, if there is one with a drop link on both sides.
    pub fn t_bar(&self, wheels: &Wheels<T>) -> Result<Option<TBarMotion<T>>, CannotFollow> {
        self.t_bar.as_ref().map_or(Ok(None), |bar| bar.motion(wheels))
    }

    /// Twist of the anti-roll bar of either kind.
    pub fn twist(&self, wheels: &Wheels<T>, t_bar: &Option<TBarMotion<T>>) -> Option<Between<T>> {
        if self.t_bar.is_some() { t_bar.map(|bar| bar.twist) } else { wheels.u_bar() }
    }
}

impl CrossAxle<f64> {
    /// Makes bump in the pose of these wheels count as positive.
    pub fn count_bump_positive(&mut self, wheels: &Wheels<f64>) -> Result<(), CannotFollow> {
        let Some(motion) = self.t_bar(wheels)? else { return Ok(()) };
        if let Some(bar) = &mut self.t_bar {
            let sense = |rate: f64, was: f64| if rate < 0.0 { -was } else { was };
            bar.senses = [
                sense(motion.swing.per_heave(), bar.senses[0]),
                sense(motion.twist.per_roll(), bar.senses[1]),
            ];
        }
        Ok(())
    }

    /// In which sense a T-bar's swing and twist count.
    pub fn senses(&self) -> [f64; 2] {
        self.t_bar.map_or([1.0; 2], |bar| bar.senses)
    }

    /// How well the drop links hold the T-bar in the design pose: zero is a dead point.
    pub fn leverage(&self, axle: &Axle) -> Option<f64> {
        let bar = self.t_bar.as_ref()?;
        let link = |side: Side| {
            let outer =
                Moving { at: bar.outers[usize::from(side == Side::Right)], per_travel: Vector3::zeros() };
            let end = axle.corner(side).hardpoints.get(Hardpoint::DropLinkBar)?;
            Some(DropLink { outer, bar: end, length: (end - outer.at).norm() })
        };
        let links = [link(Side::Left)?, link(Side::Right)?];
        Some(TBar::hold(&bar.rods(&links, &Vector2::zeros())).abs())
    }

    /// Where a point of the T-bar stands that is given in the design pose.
    pub fn place(&self, design: &Vector3<f64>, motion: Option<&TBarMotion<f64>>) -> Vector3<f64> {
        let Some((bar, motion)) = self.t_bar.as_ref().zip(motion) else { return *design };
        let raw = Vector2::new(motion.swing.value * bar.senses[0], motion.twist.value * bar.senses[1]);
        bar.point(design, &raw)
    }

    /// Rotation of the T-bar's crossbar from the design pose.
    pub fn turned(&self, motion: Option<&TBarMotion<f64>>) -> Option<Matrix3<f64>> {
        let foot = self.t_bar.as_ref()?.pivot;
        motion?;
        let axes = [Vector3::x(), Vector3::y(), Vector3::z()];
        Some(Matrix3::from_columns(&axes.map(|axis| self.place(&(foot + axis), motion) - foot)))
    }
}
