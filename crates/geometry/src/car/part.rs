//! The parts of an axle that have a thickness: rods, wishbones, dampers, bars, each of straight pieces.

use crate::car::hardpoint::{Hardpoint, named};
use crate::car::position::Side;
use crate::car::springing::BarKind;
use crate::car::{Axle, Component, Hardpoints};

named! {
    /// A part with a radius.
    Part {
        /// Both legs of the upper wishbone.
        UpperWishbone = "upper_wishbone", "upper wishbone";
        /// Both legs of the lower wishbone.
        LowerWishbone = "lower_wishbone", "lower wishbone";
        /// Both legs of the H-arm.
        HArm = "h_arm", "H-arm";
        /// Upper front link of five.
        UpperFrontLink = "upper_front_link", "upper front link";
        /// Upper rear link of five.
        UpperRearLink = "upper_rear_link", "upper rear link";
        /// Lower front link of five.
        LowerFrontLink = "lower_front_link", "lower front link";
        /// Lower rear link of five.
        LowerRearLink = "lower_rear_link", "lower rear link";
        /// Upper link to an upright or an axle.
        UpperLink = "upper_link", "upper link";
        /// Lower link to an axle.
        LowerLink = "lower_link", "lower link";
        /// Tie rod from rack to steering arm.
        TieRod = "tie_rod", "tie rod";
        /// Toe link from body to upright.
        ToeLink = "toe_link", "toe link";
        /// Strut, from its lower point to its top mount.
        Strut = "strut", "strut";
        /// Pushrod or pullrod.
        Pushrod = "pushrod", "pushrod";
        /// Damper, eye to eye, with the spring on it.
        Damper = "damper", "damper";
        /// Spring that stands apart from the damper.
        Spring = "spring", "spring";
        /// Drop link to the anti-roll bar.
        DropLink = "drop_link", "drop link";
        /// Arm of an anti-roll bar across the car.
        BarArm = "bar_arm", "anti-roll bar arm";
        /// Single upper link of an axle.
        TopLink = "top_link", "top link";
        /// Panhard rod.
        PanhardRod = "panhard_rod", "Panhard rod";
        /// Drop link at the front of a torque arm.
        TorqueArmLink = "torque_arm_link", "torque arm link";
        /// Rod of a Watt's linkage to the left.
        WattRodToLeft = "watt_rod_to_left", "Watt linkage, left rod";
        /// Rod of a Watt's linkage to the right.
        WattRodToRight = "watt_rod_to_right", "Watt linkage, right rod";
        /// Drag link from rack, centre link or pitman arm to a knuckle.
        DragLink = "drag_link", "drag link";
        /// Track rod between both knuckles.
        TrackRod = "track_rod", "track rod";
        /// Anti-roll bar from arm to arm; stem and crossbar of a T-bar.
        AntiRollBar = "anti_roll_bar", "anti-roll bar";
        /// Spring across the axle.
        ThirdSpring = "third_spring", "third spring";
    }
}

/// Radius of a rod whose radius is not given, metres: common practice, no source.
const ROD: f64 = 0.010;
/// Radius of a damper, strut or spring whose radius is not given, metres: common practice, no source.
const DAMPER: f64 = 0.025;

/// Points nearer than this in the design pose are one joint, metres.
const ONE_JOINT: f64 = 1e-4;

impl Part {
    /// Whether the part belongs to an axle as a whole, not to one of its corners.
    #[must_use]
    pub fn is_of_axle(self) -> bool {
        self.index() >= Part::TopLink.index()
    }

    /// The radius that stands where none is given, metres: 10 mm for rods and bars, 25 mm for dampers,
    /// struts and springs. Common practice, no source.
    #[must_use]
    pub fn usual_radius(self) -> f64 {
        match self {
            Part::Strut | Part::Damper | Part::Spring | Part::ThirdSpring => DAMPER,
            _ => ROD,
        }
    }

    /// The part as one that carries points, where it can.
    fn as_carrier(self) -> Option<Component> {
        match self {
            Part::UpperWishbone => Some(Component::UpperWishbone),
            Part::LowerWishbone => Some(Component::LowerWishbone),
            Part::HArm => Some(Component::HArm),
            Part::BarArm | Part::AntiRollBar => Some(Component::BarArm),
            _ => None,
        }
    }
}

/// One end of a straight piece: a point of one side, or of the axle as a whole.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct PieceEnd {
    /// The side; `None` for a point of the axle as a whole.
    pub side: Option<Side>,
    /// The point.
    pub hardpoint: Hardpoint,
}

/// A straight piece of a part.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Piece {
    /// The part.
    pub part: Part,
    /// Which piece of it, in words; empty for a part of one piece.
    pub leg: &'static str,
    /// The side; `None` for a part of the axle as a whole.
    pub side: Option<Side>,
    /// Both ends.
    pub ends: [PieceEnd; 2],
}

/// Part, leg, and its ends, of each corner.
const OF_CORNER: [(Part, &str, Hardpoint, Hardpoint); 20] = {
    use Hardpoint as P;
    [
        (Part::UpperWishbone, "front leg", P::UpperWishboneFront, P::UpperBallJoint),
        (Part::UpperWishbone, "rear leg", P::UpperWishboneRear, P::UpperBallJoint),
        (Part::LowerWishbone, "front leg", P::LowerWishboneFront, P::LowerBallJoint),
        (Part::LowerWishbone, "rear leg", P::LowerWishboneRear, P::LowerBallJoint),
        (Part::HArm, "front leg", P::HArmInnerFront, P::HArmOuterFront),
        (Part::HArm, "rear leg", P::HArmInnerRear, P::HArmOuterRear),
        (Part::UpperFrontLink, "", P::UpperFrontLinkInner, P::UpperFrontLinkOuter),
        (Part::UpperRearLink, "", P::UpperRearLinkInner, P::UpperRearLinkOuter),
        (Part::LowerFrontLink, "", P::LowerFrontLinkInner, P::LowerFrontLinkOuter),
        (Part::LowerRearLink, "", P::LowerRearLinkInner, P::LowerRearLinkOuter),
        (Part::UpperLink, "", P::UpperLinkInner, P::UpperLinkOuter),
        (Part::LowerLink, "", P::LowerLinkInner, P::LowerLinkOuter),
        (Part::TieRod, "", P::TieRodInner, P::TieRodOuter),
        (Part::ToeLink, "", P::ToeLinkInner, P::ToeLinkOuter),
        (Part::Strut, "", P::StrutTop, P::StrutBottom),
        (Part::Pushrod, "", P::PushrodInner, P::PushrodOuter),
        (Part::Damper, "", P::DamperBody, P::DamperRocker),
        (Part::Spring, "", P::SpringBody, P::SpringMoving),
        (Part::DropLink, "", P::DropLinkBar, P::DropLinkOuter),
        (Part::BarArm, "", P::BarPivot, P::DropLinkBar),
    ]
};

/// Part and its ends, of the axle as a whole.
const OF_AXLE: [(Part, Hardpoint, Hardpoint); 8] = {
    use Hardpoint as P;
    [
        (Part::TopLink, P::TopLinkInner, P::TopLinkOuter),
        (Part::PanhardRod, P::PanhardRodBody, P::PanhardRodAxle),
        (Part::TorqueArmLink, P::TorqueArmLinkBody, P::TorqueArmLinkAxle),
        (Part::WattRodToLeft, P::WattLeverLeft, P::WattRodLeft),
        (Part::WattRodToRight, P::WattLeverRight, P::WattRodRight),
        (Part::DragLink, P::DragLinkInner, P::DragLinkLeft),
        (Part::DragLink, P::DragLinkInner, P::DragLinkRight),
        (Part::TrackRod, P::TrackRodLeft, P::TrackRodRight),
    ]
};

impl Axle {
    /// The points of one side, or of the axle as a whole.
    #[must_use]
    pub fn hardpoints_of(&self, side: Option<Side>) -> &Hardpoints {
        side.map_or(&self.hardpoints, |side| &self.corner(side).hardpoints)
    }

    /// Every straight piece of its rods, wishbones, dampers and bars. Uprights, brakes, driveshafts, the
    /// rocker, a trailing arm, an axle's tube and the rack are none: their shape does not follow from the
    /// points.
    #[must_use]
    pub fn pieces(&self) -> Vec<Piece> {
        let mut pieces = Vec::new();
        let mut add = |part, leg, side, ends: [(Option<Side>, Hardpoint); 2]| {
            let ends = ends.map(|(side, hardpoint)| PieceEnd { side, hardpoint });
            if ends.iter().all(|end| self.hardpoints_of(end.side).get(end.hardpoint).is_some()) {
                pieces.push(Piece { part, leg, side, ends });
            }
        };
        let bar = self.bar_kind();
        for side in Side::BOTH {
            let corner = self.corner(side);
            for (part, leg, inner, outer) in OF_CORNER {
                // A point that nothing uses makes no part.
                let there = match part {
                    Part::Strut => corner.linkage.spec().has_strut,
                    Part::Damper | Part::Pushrod => corner.springing.is_some(),
                    Part::DropLink => corner.drop_link_on.is_some(),
                    Part::BarArm => bar == Some(BarKind::U),
                    _ => true,
                };
                if there {
                    add(part, leg, Some(side), [(Some(side), inner), (Some(side), outer)]);
                }
            }
        }
        for (part, inner, outer) in OF_AXLE {
            add(part, "", None, [(None, inner), (None, outer)]);
        }
        let across = |hardpoint| Side::BOTH.map(|side| (Some(side), hardpoint));
        match bar {
            Some(BarKind::U) => add(Part::AntiRollBar, "", None, across(Hardpoint::BarPivot)),
            Some(BarKind::T) => {
                let stem = [(None, Hardpoint::TBarPivot), (None, Hardpoint::TBarHead)];
                add(Part::AntiRollBar, "stem", None, stem);
                add(Part::AntiRollBar, "crossbar", None, across(Hardpoint::DropLinkBar));
            }
            None => {}
        }
        if self.third_spring.is_some() {
            add(Part::ThirdSpring, "", None, across(Hardpoint::ThirdSpringEnd));
        }
        pieces
    }

    /// Radius of a part of one side, or of the axle as a whole, metres, where it is given.
    #[must_use]
    pub fn given_radius(&self, side: Option<Side>, part: Part) -> Option<f64> {
        let radii = side.map_or(&self.radii, |side| &self.corner(side).radii);
        radii.iter().find(|(of, _)| *of == part).map(|&(_, radius)| radius)
    }

    /// Whether two pieces are joined: pieces of one part, pieces that end at one joint, or one that ends on
    /// the other.
    #[must_use]
    pub fn are_joined(&self, a: &Piece, b: &Piece) -> bool {
        let one_part = a.side == b.side && a.part == b.part;
        let carrier = |end: &PieceEnd| match end.side {
            Some(side) => self.carrier_at(side, end.hardpoint),
            None => Some(self.carrier(end.hardpoint)),
        };
        let ends_on = |end: &PieceEnd, of: &Piece| {
            let on = of.part.as_carrier();
            on.is_some() && carrier(end) == on && end.side == of.side
        };
        let place = |end: &PieceEnd| self.hardpoints_of(end.side).get(end.hardpoint);
        let one_joint = |a: &PieceEnd, b: &PieceEnd| {
            a == b || place(a).zip(place(b)).is_some_and(|(a, b)| (a - b).norm() < ONE_JOINT)
        };
        one_part
            || a.ends.iter().any(|end| ends_on(end, b) || b.ends.iter().any(|other| one_joint(end, other)))
            || b.ends.iter().any(|end| ends_on(end, a))
    }
}

#[cfg(test)]
mod tests {
    use super::Part;

    #[test]
    fn parts_of_the_axle_stand_last() {
        let of_axle: Vec<_> = Part::ALL.iter().filter(|part| part.is_of_axle()).collect();
        assert_eq!(of_axle.len(), 9);
        assert!(of_axle.contains(&&Part::ThirdSpring) && !Part::BarArm.is_of_axle());
    }
}
