//! Hints of the body: what pickups are fixed to, and slim frames through them.

use super::{Axled, Parts};
use nalgebra::{Point3, Vector3};
use wheelpath_geometry::{Assembly, Car, Component, Hardpoint, Link, Springing};
use wheelpath_stage::view::PartKind;

/// How far into the body the frame passes a pickup, metres: behind its mount.
const BEHIND: f64 = 0.032;
/// A point nearer to the car's middle than this is braced to both sides, metres.
const CENTRAL: f64 = 0.15;

/// From a pickup into the body: the way its mount faces away from the link. Taken from the design
/// pose, so that no mount turns as the car moves.
pub(super) fn into_body(car: &Car, assembly: Assembly, hardpoint: Hardpoint) -> Vector3<f64> {
    use Hardpoint as P;
    let place = |hardpoint| assembly.hardpoints(car).get(hardpoint);
    let inboard = |at: Vector3<f64>| Vector3::new(0.0, -at.y.signum(), 0.0);
    let (Some(at), end) = (place(hardpoint), assembly.end()) else { return Vector3::z() };
    match hardpoint {
        P::StrutTop | P::DamperBody | P::SpringBody => Vector3::z(),
        P::ArmPivotOutboard | P::ArmPivotInboard => {
            let wheel = assembly.wheel().map_or(0.0, |at| car.corner(at).wheel.centre.x);
            Vector3::new((at.x - wheel).signum(), 0.0, 0.0)
        }
        _ if assembly.wheel().is_some() && !car.axle(end).is_beam() => inboard(at),
        _ => {
            let other = Link::ALL.iter().find_map(|link| match link.ends() {
                (a, b) if a == hardpoint => place(b),
                (a, b) if b == hardpoint => place(a),
                _ => None,
            });
            // Away from the link, along the axis it mostly follows.
            let away = other.map_or_else(Vector3::z, |other| at - other);
            let main = away.iamax();
            let mut into = Vector3::zeros();
            into[main] = away[main].signum();
            into
        }
    }
}

/// Points of an axle as a whole that the body may carry.
const OWN: [Hardpoint; 7] = [
    Hardpoint::TopLinkInner,
    Hardpoint::PanhardRodBody,
    Hardpoint::TorqueArmLinkBody,
    Hardpoint::WattPivot,
    Hardpoint::WattRodLeft,
    Hardpoint::WattRodRight,
    Hardpoint::TBarPivot,
];

impl Parts<'_, '_> {
    /// A pickup's place in the frame, left and right.
    fn in_frame(&self, axle: &Axled, hardpoint: Hardpoint) -> Option<[Point3<f64>; 2]> {
        let [left, right] = axle.sides.each_ref().map(|side| {
            let at = side.get(hardpoint)?;
            Some(at + into_body(self.car, side.assembly, hardpoint) * BEHIND)
        });
        Some([left?, right?])
    }

    pub(super) fn body(&mut self, axle: &Axled) {
        let plan = self.car.axle(axle.end);
        if plan.left.linkage != plan.right.linkage {
            return;
        }
        let mut anchors: Vec<[Point3<f64>; 2]> = Vec::new();
        for [low, high] in plan.left.linkage.spec().frame {
            let (low, high) = (self.in_frame(axle, *low), self.in_frame(axle, *high));
            let corners = match (low, high) {
                (Some([ll, lr]), Some([hl, hr])) => vec![ll, hl, hr, lr],
                (Some([left, right]), None) => vec![left, right],
                _ => continue,
            };
            anchors.extend(low);
            anchors.extend(high);
            self.push_plain(PartKind::Frame { corners });
        }
        let direct =
            |corner: &wheelpath_geometry::Corner| matches!(corner.springing, Some(Springing::Direct { .. }));
        if direct(&plan.left)
            && direct(&plan.right)
            && let Some([left, right]) = self.in_frame(axle, Hardpoint::DamperBody)
        {
            if let (Some(low_left), Some(low_right)) =
                (nearest(&anchors, 0, left), nearest(&anchors, 1, right))
            {
                self.push_plain(PartKind::Frame { corners: vec![low_left, left, right, low_right] });
            }
            anchors.push([left, right]);
        }
        if let Some(toe) = self.in_frame(axle, Hardpoint::ToeLinkInner) {
            for (side, at) in toe.into_iter().enumerate() {
                if let Some(anchor) = nearest(&anchors, side, at) {
                    self.push_plain(PartKind::Frame { corners: vec![at, anchor] });
                }
            }
        }
        for hardpoint in OWN {
            let Some(at) = axle.own.get(hardpoint).filter(|_| plan.carrier(hardpoint) == Component::Body)
            else {
                continue;
            };
            let at = at + into_body(self.car, Assembly::Axle(axle.end), hardpoint) * BEHIND;
            let [left, right] = [0, 1].map(|side| nearest(&anchors, side, at));
            let corners = match (left, right) {
                (Some(left), Some(right)) if at.y.abs() < CENTRAL => vec![left, at, right, at],
                (Some(left), _) if at.y > 0.0 => vec![left, at],
                (_, Some(right)) => vec![right, at],
                _ => continue,
            };
            self.push_plain(PartKind::Frame { corners });
        }
    }
}

/// The anchor on one side (0 = left) that is nearest to a point.
fn nearest(anchors: &[[Point3<f64>; 2]], side: usize, to: Point3<f64>) -> Option<Point3<f64>> {
    let of = |pair: &[Point3<f64>; 2]| pair[side.min(1)];
    anchors.iter().map(of).min_by(|a, b| (a - to).norm().total_cmp(&(b - to).norm()))
}
