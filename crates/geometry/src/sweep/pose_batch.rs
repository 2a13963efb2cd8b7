//! Poses of one corner side by side: one step closes them all, each is tested on its own.

use crate::corner::corner_motion::CornerMotion;
use crate::corner::corner_solver::{CornerSolver, SolvedCorner};
use crate::driven::driven_parts::{DrivenPartsBatch, DrivenPartsModel};
use crate::mechanism::{Elimination, Equations, Pose, Poses, Steered, Stepped};
use crate::number::lanes::{LANES, Lanes, Wide, wide};
use crate::readings::WHEEL_READINGS;
use crate::sweep::hermite_segment::{HermiteSegment, posed};
use crate::sweep::sweep_direction::SweepDirection;
use crate::sweep::wheel_batch::Abreast;

/// A step this small leaves an error of its square, and moves no velocity that can be seen.
const NEAR: f64 = 1e-11;
/// A step this small leaves an error of its square: less than rounding.
const NEAR_POSE: f64 = 1e-8;
/// A step this small moves no velocity by more than rounding does.
const NEAREST: f64 = 1e-13;
/// After a step this small the next is below [`NEAR`], and [`NEAREST`] too, on any linkage of a car's size.
const NEARLY: f64 = 1e-7;
/// The same where poses are drawn, not given out: velocities are right to its share of a lever's length.
const NEAR_DRAWN: f64 = 1e-9;
/// Most steps that are worth it.
const STEPS: usize = 3;
/// The furthest first step toward a pose that is predicted from like corners.
const BESIDE: f64 = 1e-4;
/// A pivot that has shrunk to less than this share is on its way through zero.
const STEADY: f64 = 0.05;

/// Poses side by side with everything that comes of them.
pub(crate) struct PoseBatch {
    along: Lanes,
    poses: Poses,
    stepped: Stepped,
    followers: DrivenPartsBatch,
    equations: Equations,
}

/// What is wanted of a sweep.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Wanted {
    /// Poses alone.
    Poses,
    /// Velocities, damper and bar too.
    Motions,
    /// The same as exactly as the guarded way gives them.
    ExactMotions,
    /// Motions to be drawn.
    Drawn,
}

impl Wanted {
    /// The longest step whose end is trusted.
    fn near(self) -> f64 {
        match self {
            Wanted::Poses => NEAR_POSE,
            Wanted::Motions => NEAR,
            Wanted::ExactMotions => NEAREST,
            Wanted::Drawn => NEAR_DRAWN,
        }
    }
}

/// Where poses are looked for.
#[derive(Clone, Copy)]
pub(crate) enum Prediction<'a> {
    /// Between guarded poses.
    HermiteSegment(&'a HermiteSegment),
    /// Near these, one for each lane: see [`plain`](crate::sweep::hermite_segment::plain).
    Beside(&'a [[f64; 5]; LANES]),
}

/// Where a block is.
pub(crate) struct Between<'a> {
    /// The corner.
    pub solver: &'a CornerSolver,
    /// Which way it goes.
    pub way: SweepDirection,
    /// What predicts the poses.
    pub prediction: Prediction<'a>,
    /// The order of elimination.
    pub order: &'a Elimination,
}

struct Step<'a> {
    between: &'a Between<'a>,
    wanted: Wanted,
    block: &'a mut PoseBatch,
}

impl Wide for Step<'_> {
    type Result = ();

    #[inline(always)]
    fn work(self) {
        let (between, block) = (self.between, self.block);
        let model = &between.solver.model;
        let mechanism = &model.mechanism;
        let along = &block.along;
        let (travels, steer) = match between.way {
            SweepDirection::Travel { steer } => (*along, Steered::Alike(steer)),
            SweepDirection::Steer { travel } => ([travel; LANES], Steered::Each(along)),
        };
        let heights = travels.map(|travel| mechanism.height() + travel);
        let furthest = match between.prediction {
            Prediction::HermiteSegment(stretch) => {
                stretch.predict(along, &heights, &mut block.poses);
                NEARLY
            }
            Prediction::Beside(plain) => {
                for lane in 0..LANES {
                    block.poses.set(lane, &posed(&plain[lane], heights[lane]));
                }
                BESIDE
            }
        };
        let (poses, equations, stepped) = (&mut block.poses, &mut block.equations, &mut block.stepped);
        if self.wanted == Wanted::Poses {
            mechanism.step_abreast::<1>(poses, steer, between.order, equations, stepped);
            return;
        }
        let near = self.wanted.near();
        for _ in 0..STEPS {
            mechanism.step_abreast::<3>(poses, steer, between.order, equations, stepped);
            let most =
                stepped.moved.iter().fold(0.0, |most, &moved| if moved <= most { most } else { moved });
            if most <= near * near || most >= furthest * furthest {
                break;
            }
        }
        model.wheel.followers.abreast(poses, &stepped.by_travel, &mut block.followers);
    }
}

impl PoseBatch {
    /// Nothing in it yet.
    pub fn new() -> Self {
        PoseBatch {
            along: [0.0; LANES],
            poses: Poses::NONE,
            stepped: Stepped::NONE,
            followers: DrivenPartsBatch::NONE,
            equations: Equations::none(),
        }
    }

    /// Whether what stands in a lane is the pose that was asked for.
    pub fn trusted(&self, lane: usize, wanted: Wanted, of: &DrivenPartsModel<f64>) -> bool {
        let near = wanted.near();
        // Not-a-number is not trusted.
        self.stepped.moved[lane] <= near * near
            && self.stepped.pivots[lane] >= STEADY
            && (wanted == Wanted::Poses || of.whole(&self.followers, lane))
    }

    /// The smallest ratio of a pivot in any lane to what it was where the order was chosen.
    pub fn least_pivot(&self) -> f64 {
        self.stepped
            .pivots
            .iter()
            .fold(f64::INFINITY, |least, &pivot| if pivot >= least { least } else { pivot })
    }

    /// Puts a pose found otherwise in a lane.
    pub fn set(&mut self, lane: usize, solved: &SolvedCorner) {
        let closed = &solved.traced.closed;
        self.poses.set(lane, solved.upright());
        self.stepped.by_travel.set(lane, &closed.by_travel(0, 1, 0));
        self.stepped.by_steer.set(lane, &closed.by_steer(0));
        self.followers.set(lane, &solved.motion.driven());
    }

    /// Solves at these places along the way between two guarded poses; every lane must be asked whether
    /// it is trusted.
    pub fn step(&mut self, values: &[f64], between: &Between<'_>, wanted: Wanted) {
        let Some(&last) = values.last() else { return };
        // Lanes that are left over repeat the last pose.
        for (lane, along) in self.along.iter_mut().enumerate() {
            *along = values.get(lane).copied().unwrap_or(last);
        }
        wide(Step { between, wanted, block: self });
    }

    /// The pose in a lane.
    #[inline]
    pub fn pose(&self, lane: usize) -> Pose<f64> {
        self.poses.at(lane)
    }

    /// The motion in a lane.
    #[inline]
    pub fn motion(&self, lane: usize, solver: &CornerSolver) -> CornerMotion<f64> {
        let (stepped, followers) = (&self.stepped, &self.followers);
        solver.model.wheel.motion_abreast(lane, &self.poses, stepped, followers, &solver.reference)
    }

    /// Readings in every lane, on ground parallel to the body's XY plane: at least those of a family, or
    /// all.
    pub fn read(&self, solver: &CornerSolver, family: Option<usize>, readings: &mut [Lanes; WHEEL_READINGS]) {
        wide(Read { solver, block: self, family, readings });
    }
}

struct Read<'a> {
    solver: &'a CornerSolver,
    block: &'a PoseBatch,
    family: Option<usize>,
    readings: &'a mut [Lanes; WHEEL_READINGS],
}

impl Wide for Read<'_> {
    type Result = ();

    #[inline(always)]
    fn work(self) {
        let PoseBatch { poses, stepped, followers, .. } = self.block;
        let upright = Abreast { poses, stepped, followers };
        let wheel = &self.solver.model.wheel;
        wheel.read_abreast(&upright, &self.solver.reference, self.family, self.readings);
    }
}

#[cfg(test)]
mod tests {
    use super::{Between, PoseBatch, Prediction, Wanted};
    use crate::car::hardpoint::Hardpoint;
    use crate::car::position::Side;
    use crate::car::steering::{Rack, Steering};
    use crate::car::wheel::{Wheel, spin_axis_from_angles};
    use crate::car::{Corner, Hardpoints, LinkageKind};
    use crate::corner::corner_solver::CornerSolver;
    use crate::mechanism::{Elimination, Input};
    use crate::number::lanes::LANES;
    use crate::sweep::hermite_segment::HermiteSegment;
    use crate::sweep::sweep_direction::SweepDirection;
    use crate::sweep::sweep_node::SweepNode;
    use nalgebra::Vector3;

    fn solver() -> CornerSolver {
        use Hardpoint as P;
        let mut hardpoints = Hardpoints::default();
        for (hardpoint, x, y, z) in [
            (P::UpperWishboneFront, 0.11, 0.28, 0.33),
            (P::UpperWishboneRear, -0.15, 0.28, 0.32),
            (P::UpperBallJoint, -0.015, 0.65, 0.39),
            (P::LowerWishboneFront, 0.13, 0.23, 0.13),
            (P::LowerWishboneRear, -0.16, 0.24, 0.135),
            (P::LowerBallJoint, 0.01, 0.68, 0.15),
            (P::TieRodInner, 0.09, 0.24, 0.17),
            (P::TieRodOuter, 0.10, 0.69, 0.19),
        ] {
            hardpoints.set(hardpoint, Vector3::new(x, y, z));
        }
        let wheel = Wheel {
            centre: Vector3::new(0.0, 0.71, 0.27),
            spin_axis: spin_axis_from_angles(Side::Left, -0.03, 0.0),
            tyre_radius: 0.27,
            tyre_width: 0.19,
            tyre_shoulder_radius: 0.0,
            rim_radius: 0.165,
            rim_width: None,
            rim_inner_radius: None,
        };
        let corner = Corner::new(LinkageKind::DoubleWishbone, wheel, hardpoints);
        let axis = Vector3::y();
        let rack = Rack { axis, travel_per_turn: 0.08, stop_left: 0.04, stop_right: 0.04 };
        CornerSolver::new(&corner, Side::Left, &Steering::Rack(rack), None).unwrap()
    }

    /// Lanes that are trusted when 16 poses between guarded ones take a step in this order, and a
    /// stretch moved off by this much.
    fn trusted(solver: &CornerSolver, order: &Elimination, off: f64, wanted: Wanted) -> usize {
        let way = SweepDirection::Travel { steer: 0.0 };
        let mut posts = vec![SweepNode::new(solver, *solver.start(), way).unwrap()];
        SweepNode::go_on(&mut posts, solver, way, 0.03).unwrap();
        let mut nodes: Vec<_> = posts.iter().map(|post| post.node).collect();
        for node in &mut nodes {
            node.at += off;
        }
        let stretch = HermiteSegment::through(&nodes).unwrap();
        let between = Between { solver, way, prediction: Prediction::HermiteSegment(&stretch), order };
        let travels: [f64; LANES] = std::array::from_fn(|lane| 0.01 + 0.0005 * lane as f64);
        let mut block = PoseBatch::new();
        block.step(&travels, &between, wanted);
        (0..LANES).filter(|&lane| block.trusted(lane, wanted, &solver.model.wheel.followers)).count()
    }

    /// A lane is given up to the guarded way when its assembly is not the one followed, or when its
    /// prediction was not near.
    #[test]
    fn another_assembly_or_a_long_step_is_not_trusted() {
        let solver = solver();
        let at = Input::new(0.0, 0.0);
        let order = solver.model.mechanism.elimination(solver.start().upright(), &at).unwrap();
        for wanted in [Wanted::Poses, Wanted::Motions] {
            assert_eq!(trusted(&solver, &order, 0.0, wanted), LANES);
            assert_eq!(trusted(&solver, &order.of_other_assembly(), 0.0, wanted), 0);
            assert_eq!(trusted(&solver, &order, 1e-4, wanted), 0);
            assert_eq!(trusted(&solver, &order, f64::NAN, wanted), 0);
        }
        // Near enough for a second step.
        assert_eq!(trusted(&solver, &order, 1e-9, Wanted::Motions), LANES);
    }
}
