//! How the tie rods' inner ends move with the steering input.

use crate::mechanism::hinged::Swing;
use crate::number::real::{Real, length, unit};
use nalgebra::Vector3;

/// The way of a point that the steering carries.
#[derive(Clone, Copy, Debug)]
pub enum SteeringPath<T: Real> {
    /// Along a straight line: a rack, or the end of a toe link that is moved to set toe.
    Slide {
        /// Unit direction.
        axis: Vector3<T>,
    },
    /// With the centre link of a steering box.
    CentreLink(CentreLink<T>),
}

/// A centre link between a pitman arm, whose turn is the input, and an idler arm.
///
/// The link does not spin about its own length: the pitman arm's axis stays in the plane it spans with
/// the link.
#[derive(Clone, Copy, Debug)]
pub struct CentreLink<T: Real> {
    pivot: Vector3<T>,
    axis: Vector3<T>,
    ball: Vector3<T>,
    idler: Swing<T>,
    idler_pivot: Vector3<T>,
    idler_axis: Vector3<T>,
    idler_ball: Vector3<T>,
    /// The link's own directions at design.
    at_design: [Vector3<T>; 3],
}

/// A vector and its derivative to the steering input.
type Moving<T> = (Vector3<T>, Vector3<T>);

/// Both ball joints of a centre link, pitman arm first, and its directions.
type LinkAt<T> = ([Moving<T>; 2], [Moving<T>; 3]);

/// A vector scaled to length one, with its derivative.
fn moving_unit<T: Real>((v, rate): Moving<T>) -> Moving<T> {
    let reciprocal = T::one() / length(&v);
    let along = v * reciprocal;
    (along, (rate - along * along.dot(&rate)) * reciprocal)
}

fn moving_cross<T: Real>(a: &Moving<T>, b: &Moving<T>) -> Moving<T> {
    (a.0.cross(&b.0), a.1.cross(&b.0) + a.0.cross(&b.1))
}

impl<T: Real> CentreLink<T> {
    /// The link at design: pitman pivot, unit axis and ball joint, then the idler's.
    pub fn new(pitman: [Vector3<T>; 3], idler: [Vector3<T>; 3]) -> Self {
        let [pivot, axis, ball] = pitman;
        let [idler_pivot, idler_axis, idler_ball] = idler;
        let rod = length(&(idler_ball - ball));
        let idler = Swing::new(idler_pivot, idler_pivot + idler_axis, idler_ball, ball, rod);
        let along = unit(&(idler_ball - ball));
        let upward = unit(&(axis - along * along.dot(&axis)));
        let at_design = [along, upward.cross(&along), upward];
        CentreLink { pivot, axis, ball, idler, idler_pivot, idler_axis, idler_ball, at_design }
    }

    /// Both ball joints and the link's directions, each with its derivative; `None` where the idler
    /// cannot follow.
    fn at(&self, turn: T) -> Option<LinkAt<T>> {
        let out = self.ball - self.pivot;
        let along = self.axis * self.axis.dot(&out);
        let out = out - along;
        let (sin, cos) = turn.sin_cos();
        let turned = out * cos + self.axis.cross(&out) * sin;
        let pitman = (self.pivot + along + turned, self.axis.cross(&turned));
        let pose = self.idler.pose(&pitman.0, &pitman.1)?;
        let ball = self.idler.point(&pose, &self.idler_ball);
        let idler = (ball, self.idler.velocity(&pose, &ball));
        let first = moving_unit((idler.0 - pitman.0, idler.1 - pitman.1));
        let share = self.axis.dot(&first.0);
        let upward = moving_unit((
            self.axis - first.0 * share,
            -(first.1 * share) - first.0 * self.axis.dot(&first.1),
        ));
        let second = moving_cross(&upward, &first);
        Some(([pitman, idler], [first, second, upward]))
    }

    fn place(&self, design: &Vector3<T>, turn: T) -> Moving<T> {
        let Some(([pitman, _], basis)) = self.at(turn) else {
            let none = Vector3::repeat(T::constant(f64::NAN));
            return (none, none);
        };
        let from_ball = design - self.ball;
        let mut moved = pitman;
        for (now, then) in basis.iter().zip(&self.at_design) {
            let along = from_ball.dot(then);
            moved.0 += now.0 * along;
            moved.1 += now.1 * along;
        }
        moved
    }

    fn openness(&self, turn: T) -> f64 {
        let Some(([pitman, _], _)) = self.at(turn) else { return 0.0 };
        self.idler.pose(&pitman.0, &pitman.1).map_or(0.0, |pose| self.idler.openness(&pose, &pitman.0))
    }

    /// Where the pitman arm's and the idler arm's joints stand; `None` where the idler cannot follow.
    pub fn balls(&self, turn: T) -> Option<[Vector3<T>; 2]> {
        self.at(turn).map(|([pitman, idler], _)| [pitman.0, idler.0])
    }
}

impl<T: Real> SteeringPath<T> {
    /// Where a point given in the design pose stands, and its derivative to the steering input; not a
    /// number where the linkage of a steering box cannot go.
    #[inline]
    pub fn place(&self, design: &Vector3<T>, steer: T) -> (Vector3<T>, Vector3<T>) {
        match self {
            SteeringPath::Slide { axis } => (design + axis * steer, *axis),
            SteeringPath::CentreLink(link) => link.place(design, steer),
        }
    }

    /// Sine of the angle between the centre link and its idler arm, 0 to 1: zero where they come into line
    /// and the link could go on in either of two ways. 1 for a rack.
    pub fn openness(&self, steer: T) -> f64 {
        match self {
            SteeringPath::Slide { .. } => 1.0,
            SteeringPath::CentreLink(link) => link.openness(steer),
        }
    }

    /// The same with constants of another kind.
    pub fn lifted<U: Real>(&self) -> SteeringPath<U> {
        let c = |v: &Vector3<T>| v.map(|x| U::constant(x.value()));
        match self {
            SteeringPath::Slide { axis } => SteeringPath::Slide { axis: c(axis) },
            SteeringPath::CentreLink(link) => SteeringPath::CentreLink(CentreLink::new(
                [c(&link.pivot), c(&link.axis), c(&link.ball)],
                [c(&link.idler_pivot), c(&link.idler_axis), c(&link.idler_ball)],
            )),
        }
    }
}
