//! Whether all points are there, and the parts that carry them.

use super::Subject;
use super::corner::CornerCheck;
use crate::car::hardpoint::Hardpoint;
use crate::car::springing::{Spring, Springing};
use crate::car::{Component, Corner};

impl CornerCheck<'_> {
    pub(super) fn complete(&mut self) {
        let corner = self.corner().clone();
        let needs = self.axle.needs(self.at.side);
        for need in needs.iter().filter(|need| need.must) {
            if corner.hardpoints.get(need.hardpoint).is_none() {
                self.fault(
                    Subject::Hardpoint(need.hardpoint),
                    format!("{}: missing, {} needs it", need.hardpoint, need.user),
                    format!("add `{}`", need.hardpoint.key()),
                );
            }
        }
        for (hardpoint, _) in corner.hardpoints.iter() {
            if !needs.iter().any(|need| need.hardpoint == hardpoint) {
                self.warn(
                    Subject::Hardpoint(hardpoint),
                    format!("{hardpoint}: given, but nothing uses it"),
                    "remove it, or add the part it belongs to",
                );
            }
        }
        for &(link, _) in &corner.lengths {
            let (inner, outer) = link.ends();
            if corner.hardpoints.get(inner).is_none() || corner.hardpoints.get(outer).is_none() {
                self.fault(
                    Subject::Link(link),
                    format!("{link}: has a length, but this corner has no such link"),
                    "remove the length",
                );
            }
        }
        self.carriers(&corner);
    }

    /// What carries springing and drop links is there, and can carry them.
    fn carriers(&mut self, corner: &Corner) {
        use Hardpoint as P;
        let rocker = matches!(corner.springing, Some(Springing::Rocker { .. }));
        if corner.drop_link_on == Some(Component::Rocker) && !rocker {
            self.fault(
                Subject::Hardpoint(P::DropLinkOuter),
                "the drop link hangs on a rocker that this corner has not".into(),
                "hang it on a wishbone or the upright, or give the corner a rocker",
            );
        }
        if let Some(Springing::Rocker { pushrod_on: c } | Springing::Direct { on: c }) = corner.springing
            && c == Component::Rocker
        {
            self.fault(
                Subject::Hardpoint(P::DamperRocker),
                "the pushrod or damper cannot stand on the rocker it works".into(),
                "put it on a wishbone or the upright",
            );
        }
        if corner.springing == Some(Springing::Strut) && !corner.linkage.spec().has_strut {
            self.fault(
                Subject::Spring,
                format!("the {} has no strut to be the damper", corner.linkage.label()),
                "write `springing: Direct(on: ...)` or Rocker(...)",
            );
        }
        match corner.spring {
            Some(Spring::TorsionBar { .. }) if !rocker => self.fault(
                Subject::Spring,
                "the torsion bar is to be along a rocker's axis, but this corner has no rocker".into(),
                "give the corner `springing: Rocker(...)`, or another spring",
            ),
            Some(Spring::OnDamper { .. }) if corner.springing.is_none() => self.fault(
                Subject::Spring,
                "the spring is to be on the damper, but this corner has no damper".into(),
                "give the corner `springing`, or make it a separate spring",
            ),
            _ => {}
        }
        let pushrod = match corner.springing {
            Some(Springing::Rocker { pushrod_on }) => Some((pushrod_on, P::PushrodOuter)),
            Some(Springing::Direct { on }) => Some((on, P::DamperRocker)),
            _ => None,
        };
        let spring = match corner.spring {
            Some(Spring::Separate { on, .. }) => Some((on, P::SpringMoving)),
            _ => None,
        };
        let third = self.axle.third_spring.map(|third| (third.on, P::ThirdSpringEnd));
        let drop_link = corner.drop_link_on.map(|on| (on, P::DropLinkOuter));
        for (on, hardpoint) in [pushrod, spring, third, drop_link].into_iter().flatten() {
            let has = match on {
                Component::Rocker => rocker,
                _ => corner.linkage.spec().carries_on(on),
            };
            // A drop link on a rocker that is not there has its own words above.
            let said = on == Component::Rocker && hardpoint == P::DropLinkOuter;
            if !(has || said) {
                self.fault(
                    Subject::Hardpoint(hardpoint),
                    format!("{hardpoint}: is to be carried by the {}, which this corner has not", on.label()),
                    "name a part that the linkage has: a wishbone, the H-arm, the upright, the rocker",
                );
            }
        }
    }
}
