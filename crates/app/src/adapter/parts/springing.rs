//! What springs a wheel: damper, spring, rocker, torsion bar, the anti-roll bar's drop link and arm.

use super::{Parts, Posed};
use wheelpath_geometry::{BarKind, Component, End, Hardpoint, Spring, Springing, WheelPosition};
use wheelpath_stage::view::{Part, PartKind, Tone, size};

/// Length of a torsion bar, metres: no car file states it.
const TORSION_BAR: f64 = 0.32;

impl Parts<'_, '_> {
    pub(super) fn springing(&mut self, at: WheelPosition, posed: &Posed) {
        use Hardpoint as P;
        let corner = self.car.corner(at);
        self.rod(posed, [P::PushrodInner, P::PushrodOuter], size::ROD);
        if let (Some(pivot), Some(second)) = (posed.get(P::RockerPivot), posed.get(P::RockerAxis)) {
            let by_carrier = [P::DropLinkOuter, P::SpringMoving, P::ThirdSpringEnd];
            let third = self.car.axle(at.end).third_spring;
            let on_rocker = |hardpoint: &P| match hardpoint {
                P::ThirdSpringEnd => third.is_some_and(|spring| spring.on == Component::Rocker),
                _ => corner.carrier(*hardpoint) == Some(Component::Rocker),
            };
            let mut of = vec![P::PushrodInner, P::DamperRocker];
            of.extend(by_carrier.into_iter().filter(on_rocker));
            let kind = PartKind::Rocker { pivot, axis: second - pivot, points: posed.all(&of) };
            self.push(kind, posed.assembly, &of);
            if matches!(corner.spring, Some(Spring::TorsionBar { .. }))
                && let Some(axis) = (second - pivot).try_normalize(1e-9)
            {
                // Whichever way the axis was written down, the bar lies between the axles.
                let inward = if at.end == End::Front { -1.0 } else { 1.0 };
                let along = axis * if axis.x * inward < 0.0 { -1.0 } else { 1.0 };
                let (a, b) = (pivot, pivot + along * TORSION_BAR);
                let bar = PartKind::Tube { a, b, radius: size::TORSION_BAR };
                self.view.parts.push(Part { tone: Tone::Bright, ..Part::new(bar) });
                self.mount(b, along);
            }
        }
        if let (Some(body_eye), Some(moving_eye)) = (posed.get(P::DamperBody), posed.get(P::DamperRocker)) {
            let place = |hardpoint| corner.hardpoints.get(hardpoint);
            let design =
                place(P::DamperBody).zip(place(P::DamperRocker)).map_or(0.2, |(a, b)| (a - b).norm());
            // Long enough for the eye-to-eye length at full droop to leave the rod in the body.
            let body_length = corner.damper.map_or(0.55 * design, |stops| 0.72 * stops.shortest);
            let spring = matches!(corner.spring, None | Some(Spring::OnDamper { .. }));
            let kind = PartKind::Damper { body_eye, moving_eye, body_length, spring };
            self.push(kind, posed.assembly, &[P::DamperBody, P::DamperRocker]);
            if matches!(corner.springing, Some(Springing::Direct { .. })) {
                self.mounted(at, posed, &[P::DamperBody]);
            }
        }
        if let (Some(body_end), Some(moving_end)) = (posed.get(P::SpringBody), posed.get(P::SpringMoving)) {
            let kind = PartKind::Spring { body_end, moving_end };
            self.push(kind, posed.assembly, &[P::SpringBody, P::SpringMoving]);
            self.mounted(at, posed, &[P::SpringBody]);
        }
        self.rod(posed, [P::DropLinkBar, P::DropLinkOuter], size::DROP_LINK);
        let is_u = self.car.axle(at.end).bar_kind() == Some(BarKind::U);
        if let (Some(pivot), Some(end)) = (posed.get(P::BarPivot), posed.get(P::DropLinkBar))
            && is_u
        {
            self.push(PartKind::BarArm { pivot, end }, posed.assembly, &[P::BarPivot, P::DropLinkBar]);
        }
    }
}
