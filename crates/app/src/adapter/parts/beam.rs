//! A beam axle, and the rods and levers that locate it.

use super::body::into_body;
use super::{Axled, Parts};
use nalgebra::{Point3, Vector3};
use wheelpath_geometry::{Assembly, Component, Hardpoint, Link, Side};
use wheelpath_stage::view::{PartKind, size};

const RODS: [Link; 8] = [
    Link::TopLink,
    Link::PanhardRod,
    Link::TorqueArmLink,
    Link::WattRodToLeft,
    Link::WattRodToRight,
    Link::DragLinkToLeft,
    Link::DragLinkToRight,
    Link::TrackRod,
];

impl Parts<'_, '_> {
    pub(super) fn beam(&mut self, axle: &Axled) {
        use Hardpoint as P;
        let plan = self.car.axle(axle.end);
        if !plan.is_beam() {
            return;
        }
        let assembly = Assembly::Axle(axle.end);
        let solved = self.solved.axle(axle.end);
        let spec = plan.left.linkage.spec();
        // With knuckles the axle ends at its king pins.
        let pins = axle.both(P::KingPinUpper).zip(axle.both(P::KingPinLower)).filter(|_| spec.has_track_rod);
        let ends = match pins {
            Some((upper, lower)) => [0, 1].map(|i: usize| nalgebra::center(&upper[i], &lower[i])),
            None => Side::BOTH.map(|side| Point3::from(solved.motion.corner(side).wheel_centre)),
        };
        let turn = self.solver.axle(axle.end).axle_turn(solved);
        let forward = turn.map_or_else(Vector3::x, |turn| turn * Vector3::x());
        let mut of = Vec::new();
        for posed in axle.sides.iter().chain([&axle.own]) {
            of.extend(Hardpoint::ALL.iter().filter_map(|&hardpoint| {
                // The second point of the lever's axis is no joint, and the torque arm is drawn by itself.
                let joint = !matches!(hardpoint, P::WattAxis | P::TorqueArmLinkAxle);
                let on_axle = posed.assembly.carrier(self.car, hardpoint) == spec.beam;
                let at = posed.get(hardpoint).filter(|_| joint && on_axle)?;
                Some(((posed.assembly, hardpoint), at))
            }));
        }
        let joints = of.iter().map(|(_, at)| *at).collect();
        let driven = plan.drive.is_some();
        self.push_of(
            PartKind::Beam { ends, forward, joints, driven },
            of.into_iter().map(|(point, _)| point),
        );
        if let Some(end) = axle.own.get(P::TorqueArmLinkAxle) {
            let root = ends[1] + (ends[0] - ends[1]) * 0.5;
            self.push(PartKind::TorqueArm { root, end }, assembly, &[P::TorqueArmLinkAxle]);
        }
        for link in RODS {
            let (a, b) = link.ends();
            self.rod(&axle.own, [a, b], size::AXLE_LINK);
            for end in [a, b] {
                if plan.carrier(end) == Component::Body
                    && let Some(at) = axle.own.get(end)
                {
                    self.mount(at, into_body(self.car, assembly, end));
                }
            }
        }
        self.watt_lever(axle);
    }

    fn watt_lever(&mut self, axle: &Axled) {
        use Hardpoint as P;
        let ends = [P::WattLeverLeft, P::WattLeverRight];
        let [Some(pivot), Some(second)] =
            [P::WattPivot, P::WattAxis].map(|hardpoint| axle.own.get(hardpoint))
        else {
            return;
        };
        let (axis, points) = (second - pivot, axle.own.all(&ends));
        let Some(along) = axis.try_normalize(1e-9).filter(|_| points.len() == ends.len()) else { return };
        // The plates lie where the rods pull, on a pin from the pivot.
        let reach = points.iter().map(|end| (end - pivot).dot(&along)).sum::<f64>() * 0.5;
        let middle = pivot + along * reach;
        let assembly = Assembly::Axle(axle.end);
        let of = [P::WattPivot, P::WattLeverLeft, P::WattLeverRight];
        self.push(PartKind::Rocker { pivot: middle, axis, points }, assembly, &of);
        self.push(PartKind::Tube { a: pivot, b: middle, radius: size::BAR }, assembly, &[P::WattPivot]);
        if self.car.axle(axle.end).carrier(P::WattPivot) == Component::Body {
            self.mount(pivot, -along * reach.signum());
        }
    }
}
