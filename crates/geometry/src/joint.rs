//! How far the joints at the links' ends swing.

use crate::axle_solver::{AxleSolver, SolvedAxle};
use crate::car::Carrier;
use crate::pickup::{Link, Pickup};
use crate::side::Side;
use nalgebra::{Matrix3, Vector3};

/// Right-handed unit axes through three points that are not in line.
fn axes([a, b, c]: [Vector3<f64>; 3]) -> Option<Matrix3<f64>> {
    let x = (b - a).try_normalize(1e-9)?;
    let z = x.cross(&(c - a)).try_normalize(1e-9)?;
    Some(Matrix3::from_columns(&[x, z.cross(&x), z]))
}

/// Angle between two directions, radians; exact for small ones too.
fn angle(a: &Vector3<f64>, b: &Vector3<f64>) -> f64 {
    a.cross(b).norm().atan2(a.dot(b))
}

impl AxleSolver {
    /// Swing of the joint at a point, radians: the angle by which the link that ends there has turned
    /// from its direction in the design pose, seen from the part that holds the joint. Of several links
    /// at one point the one that has turned most counts. `None` where no link ends, or where the part
    /// that holds the joint is not known.
    ///
    /// What a bearing allows of it depends on how it stands in its housing: this is geometry only.
    #[must_use]
    pub fn joint_swing(&self, at: &SolvedAxle, side: Side, joint: Pickup) -> Option<f64> {
        let design = &self.axle.corner(side).pickups;
        let points = self.points(at, side);
        let now = |pickup: Pickup| points.iter().find(|(p, _)| *p == pickup).map(|(_, at)| *at);
        let turned = self.turn_of(at, side, self.axle.corner(side).carrier(joint)?)?;
        let swing = |link: &Link| {
            let (inner, outer) = link.ends();
            if inner != joint && outer != joint {
                return None;
            }
            let before = design.get(outer)? - design.get(inner)?;
            let after = now(outer)? - now(inner)?;
            Some(angle(&(turned * before), &after))
        };
        Link::ALL.iter().filter_map(swing).reduce(f64::max)
    }

    /// Rotation of a part from its design pose; `None` where it cannot be told from the points.
    #[must_use]
    pub fn turn_of(&self, at: &SolvedAxle, side: Side, part: Carrier) -> Option<Matrix3<f64>> {
        use Pickup as P;
        let of_three = |three: [Pickup; 3]| {
            let points = self.points(at, side);
            let corner = self.axle.corner(side);
            let now = |pickup: Pickup| points.iter().find(|(p, _)| *p == pickup).map(|(_, at)| *at);
            let [a, b, c] = three;
            let before = axes([corner.pickups.get(a)?, corner.pickups.get(b)?, corner.pickups.get(c)?])?;
            Some(axes([now(a)?, now(b)?, now(c)?])? * before.transpose())
        };
        match part {
            Carrier::Body => Some(Matrix3::identity()),
            Carrier::Steering => self.steering_turn(at),
            Carrier::Upright => Some(self.upright(at, side).car_from_body),
            Carrier::UpperWishbone => {
                of_three([P::UpperWishboneFront, P::UpperWishboneRear, P::UpperBallJoint])
            }
            Carrier::LowerWishbone => {
                of_three([P::LowerWishboneFront, P::LowerWishboneRear, P::LowerBallJoint])
            }
            Carrier::HArm => of_three([P::HArmInnerFront, P::HArmInnerRear, P::HArmOuterFront]),
            Carrier::Rocker => of_three([P::RockerPivot, P::RockerAxis, P::PushrodInner]),
            Carrier::BarArm if self.across.t_bar.is_some() => self.across.turned(at.motion.t_bar.as_ref()),
            Carrier::BarArm => of_three([P::BarPivot, P::BarAxis, P::DropLinkBar]),
            Carrier::WattLever => self.lever_turn(at),
        }
    }

    /// A rack does not turn; a centre link does as it swings.
    fn steering_turn(&self, at: &SolvedAxle) -> Option<Matrix3<f64>> {
        let Some(one) = self.axle.steering.steering_box() else { return Some(Matrix3::identity()) };
        let three = [one.pitman.ball, one.idler.ball, one.pitman.ball + one.pitman.axis];
        let [Some(a), Some(b), Some(c)] = three.map(|point| self.steered_place(at, &point)) else {
            return None;
        };
        Some(axes([a, b, c])? * axes(three)?.transpose())
    }

    /// Of the Watt lever, from its axis and one end.
    fn lever_turn(&self, at: &SolvedAxle) -> Option<Matrix3<f64>> {
        let points = self.own_points(at);
        let three = [Pickup::WattPivot, Pickup::WattAxis, Pickup::WattLeverLeft];
        let now = |pickup: Pickup| points.iter().find(|(p, _)| *p == pickup).map(|(_, at)| *at);
        let [Some(a), Some(b), Some(c)] = three.map(now) else { return None };
        let [Some(d), Some(e), Some(f)] = three.map(|pickup| self.axle.pickups.get(pickup)) else {
            return None;
        };
        Some(axes([a, b, c])? * axes([d, e, f])?.transpose())
    }
}
