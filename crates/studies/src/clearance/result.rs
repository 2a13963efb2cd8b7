//! What is found: plain values, so that a table, a window or a limit can use them.

use super::name::PartName;
use nalgebra::Vector3;
use std::fmt;
use wheelpath_geometry::{AxlePose, End, Hardpoint, NearDeadPoint, Part, Side, Stop, WheelPosition};

/// The smallest distance of two solids over all poses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Clearance {
    /// The two solids.
    pub of: [PartName; 2],
    /// Distance between their surfaces, metres; negative: they overlap by that much.
    pub distance: f64,
    /// The nearest points of the surfaces, in the order of `of`, metres.
    pub at: [Vector3<f64>; 2],
    /// Where it is so small.
    pub pose: AxlePose,
    /// Whether that pose was searched for between the nodes of the grid; otherwise it is a node.
    pub refined: bool,
}

/// The greatest angle of a joint over all poses.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct JointAngle {
    /// Whose it is.
    pub wheel: WheelPosition,
    /// The joint.
    pub joint: Hardpoint,
    /// Misalignment on its bolt, or swing from the design pose, radians.
    pub angle: f64,
    /// Whether it is the misalignment on a bolt.
    pub on_bolt: bool,
    /// Its limit, radians, where there is one.
    pub limit: Option<f64>,
    /// Where it is so great.
    pub pose: AxlePose,
}

impl JointAngle {
    /// What is left to the limit, radians; negative: beyond it.
    #[must_use]
    pub fn margin(&self) -> Option<f64> {
        self.limit.map(|limit| limit - self.angle)
    }
}

/// A stop of steering or damper.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum StopOf {
    /// Of rack or pitman arm, the positive or the negative end of the steering input.
    Steering {
        /// Which axle.
        end: End,
        /// Whether it is the positive end.
        positive: bool,
    },
    /// The damper fully compressed.
    DamperShort(WheelPosition),
    /// The damper fully extended.
    DamperLong(WheelPosition),
}

impl fmt::Display for StopOf {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            StopOf::Steering { end, positive: true } => write!(f, "{end} steering, positive stop"),
            StopOf::Steering { end, positive: false } => write!(f, "{end} steering, negative stop"),
            StopOf::DamperShort(wheel) => write!(f, "{wheel} damper, fully compressed"),
            StopOf::DamperLong(wheel) => write!(f, "{wheel} damper, fully extended"),
        }
    }
}

/// What is left to a stop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct StopMargin {
    /// The stop.
    pub stop: StopOf,
    /// What is left, metres, or radians of a pitman arm; negative: beyond it.
    pub margin: f64,
    /// Where so little is left.
    pub pose: AxlePose,
}

/// The pose at which a wheel's links hold it worst, where that is near a dead point.
#[derive(Clone, Debug, PartialEq)]
pub struct Softest {
    /// The wheel, how soft it is, and the links that come into line.
    pub near: NearDeadPoint,
    /// The pose at which it is so.
    pub pose: AxlePose,
}

/// What an axle's parts leave one another over its travel and steer.
#[derive(Clone, Debug, PartialEq)]
pub struct Clearances {
    /// Which axle.
    pub end: End,
    /// The smallest distance of every pair, the smallest first.
    pub pairs: Vec<Clearance>,
    /// Pairs that were left out because they are joined to one another.
    pub joined: Vec<[PartName; 2]>,
    /// Every joint at a link's end: those with the least left to their limit first, then those without one,
    /// the greatest angle first.
    pub joints: Vec<JointAngle>,
    /// What is left to each stop, over all poses, those beyond a stop too.
    pub stops: Vec<StopMargin>,
    /// Wheels that come near a dead point.
    pub near_dead_points: Vec<Softest>,
    /// How many poses were asked for.
    pub poses: usize,
    /// Why some of them cannot be reached, one for each such pose. They are left out.
    pub unreachable: Vec<Stop>,
    /// How many poses stand beyond a stop of steering or damper. They are left out of all but `stops`.
    pub beyond_stops: usize,
    /// Parts whose radius is not given, and what it counts as, metres: common practice, no source.
    pub assumed_radii: Vec<(Option<Side>, Part, f64)>,
    /// Wheels of whose rim's barrel nothing is given: the tyre's bore stands for it, as wide as the tyre.
    pub assumed_rims: Vec<WheelPosition>,
}
