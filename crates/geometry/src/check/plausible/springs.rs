//! Dampers, springs and the thickness of parts.

use super::{Place, between};
use crate::car::Component;
use crate::car::hardpoint::Hardpoint as P;
use crate::car::part::Part;
use crate::car::springing::{Spring, Springing};
use crate::check::Subject;
use crate::check::usual;
use nalgebra::Vector3;

impl Place<'_> {
    pub(super) fn springs(&mut self) {
        let eyes = match self.corner.springing {
            Some(Springing::Strut) => [P::StrutBottom, P::StrutTop],
            _ => [P::DamperRocker, P::DamperBody],
        };
        let damper = eyes.map(|eye| self.at(eye));
        if let (Some(Springing::Direct { on }), [Some(a), Some(b)]) = (self.corner.springing, damper) {
            let line = b - a;
            self.of_points(usual::DAMPER_LENGTH, line.norm(), &eyes);
            self.of_points(usual::DAMPER_LEANS_IN, (-line.y).atan2(line.z), &eyes);
            let lean = if self.corner.linkage.spec().is_beam() || on == Component::Upright {
                usual::DAMPER_LEANS_BACK
            } else {
                usual::DAMPER_ON_ARM_LEANS_BACK
            };
            self.of_points(lean, (-line.x).atan2(line.z), &eyes);
            self.of_points(usual::DAMPER_AHEAD, a.x, &eyes[..1]);
            if self.corner.linkage.spec().is_beam() {
                self.of_points(usual::DAMPER_OUT, a.y, &eyes[..1]);
            }
        }
        if let (Some(Springing::Rocker { .. }), [Some(a), Some(b)]) = (self.corner.springing, damper) {
            self.of_points(usual::ROCKER_DAMPER_LENGTH, (b - a).norm(), &eyes);
        }
        if let (Some(stops), [Some(a), Some(b)]) = (self.corner.damper, damper) {
            let length = (b - a).norm();
            let stroke = stops.longest - stops.shortest;
            self.usual(usual::STROKE, stroke, Subject::Damper, &[]);
            self.usual(usual::CLOSED_OVER_OPEN, stops.shortest / stops.longest, Subject::Damper, &[]);
            self.usual(usual::IN_STROKE, (length - stops.shortest) / stroke, Subject::Damper, &eyes);
        }
        if let (Some(a), Some(b)) = (self.at(P::SpringMoving), self.at(P::SpringBody)) {
            let points = [P::SpringMoving, P::SpringBody];
            self.of_points(usual::SPRING_LENGTH, (b - a).norm(), &points);
            self.of_points(usual::SPRING_LEANS, between(&(b - a), &Vector3::z()), &points);
            self.of_points(usual::SPRING_AHEAD, a.x, &points[..1]);
            self.of_points(usual::SPRING_OUT, a.y, &points[..1]);
        }
        if let Some(Spring::OnDamper { rate } | Spring::Separate { rate, .. }) = self.corner.spring {
            self.usual(usual::SPRING_RATE, rate, Subject::Spring, &[]);
        }
        if let Some(Spring::TorsionBar { rate }) = self.corner.spring {
            self.usual(usual::TORSION_RATE, rate, Subject::Spring, &[]);
        }
        for &(part, radius) in &self.corner.radii {
            self.usual(of_part(part), radius, Subject::Radius(part), &[]);
        }
    }
}

/// What is usual for a part's radius.
pub(super) fn of_part(part: Part) -> usual::Usual {
    match part {
        Part::Damper | Part::Strut | Part::Spring | Part::ThirdSpring => usual::FAT_RADIUS,
        _ => usual::ROD_RADIUS,
    }
}
