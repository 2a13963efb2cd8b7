//! Which points a car must have, and for what.

use crate::car::hardpoint::Hardpoint;
use crate::car::position::Side;
use crate::car::springing::{BarKind, Spring, Springing};
use crate::car::{Axle, Component, Corner};
use crate::linkage;

/// A point that must be there, or may be, and what uses it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Need {
    /// The point.
    pub hardpoint: Hardpoint,
    /// What uses it, in words with an article.
    pub user: &'static str,
    /// Whether the car is no car without it.
    pub must: bool,
}

fn all(points: &[Hardpoint], user: &'static str, must: bool) -> impl Iterator<Item = Need> {
    points.iter().map(move |&hardpoint| Need { hardpoint, user, must })
}

impl Corner {
    /// The part that carries a point of this corner; `None` where it is not known.
    #[must_use]
    pub fn carrier(&self, hardpoint: Hardpoint) -> Option<Component> {
        use Hardpoint as P;
        if let Some(carrier) = linkage::carrier(self.linkage, hardpoint) {
            return Some(carrier);
        }
        match (hardpoint, self.springing, self.spring) {
            (P::PushrodOuter, Some(Springing::Rocker { pushrod_on }), _) => Some(pushrod_on),
            (P::PushrodInner, Some(Springing::Rocker { .. }), _) => Some(Component::Rocker),
            (P::DamperRocker, Some(Springing::Rocker { .. }), _) => Some(Component::Rocker),
            (P::DamperRocker, Some(Springing::Direct { on }), _) => Some(on),
            (P::SpringMoving, _, Some(Spring::Separate { on, .. })) => Some(on),
            (P::DropLinkOuter, ..) => self.drop_link_on,
            (P::DropLinkBar, ..) => Some(Component::BarArm),
            (
                P::RockerPivot | P::RockerAxis | P::DamperBody | P::SpringBody | P::BarPivot | P::BarAxis,
                ..,
            ) => Some(Component::Body),
            _ => None,
        }
    }
}

impl Axle {
    /// The part that carries a point of the axle as a whole.
    #[must_use]
    pub fn carrier(&self, hardpoint: Hardpoint) -> Component {
        linkage::carrier_on_axle(self.left.linkage, self.steering.steers(), hardpoint, self.watt_lever_on)
    }

    /// The part that carries a point of that side, with what the axle says of it; `None` where it is not
    /// known.
    #[must_use]
    pub fn carrier_at(&self, side: Side, hardpoint: Hardpoint) -> Option<Component> {
        match hardpoint {
            Hardpoint::ThirdSpringEnd => self.third_spring.map(|third| third.on),
            _ => self.corner(side).carrier(hardpoint),
        }
    }

    /// The kind of its anti-roll bar, if it has one: drop links without a word on the bar make a U-bar.
    #[must_use]
    pub fn bar_kind(&self) -> Option<BarKind> {
        let drop_links = self.left.drop_link_on.is_some() || self.right.drop_link_on.is_some();
        self.anti_roll_bar.map(|bar| bar.kind).or(drop_links.then_some(BarKind::U))
    }

    /// The points that one side uses.
    #[must_use]
    pub fn needs(&self, side: Side) -> Vec<Need> {
        use Hardpoint as P;
        let corner = self.corner(side);
        let kind = corner.linkage;
        let steered = self.steering.steers();
        let mut needs: Vec<Need> =
            all(&linkage::required(kind, steered), kind.with_article(), true).collect();
        let optional = kind.spec().optional.iter();
        needs.extend(optional.map(|&(hardpoint, _)| Need {
            hardpoint,
            user: kind.with_article(),
            must: false,
        }));
        needs.extend(springing_needs(corner));
        if let Some(bar) = self.bar_kind().filter(|_| corner.drop_link_on.is_some()) {
            let user = "the anti-roll bar";
            needs.extend(all(&[P::DropLinkOuter, P::DropLinkBar], user, true));
            if bar == BarKind::U {
                needs.extend(all(&[P::BarPivot, P::BarAxis], user, true));
            }
        }
        if self.third_spring.is_some() {
            needs.extend(all(&[P::ThirdSpringEnd], "the third spring", true));
        }
        needs
    }

    /// The points that the axle as a whole uses.
    #[must_use]
    pub fn own_needs(&self) -> Vec<Need> {
        use Hardpoint as P;
        let mut needs = Vec::new();
        if self.is_beam() {
            let spec = self.left.linkage.spec();
            let is_watt = |hardpoint: &P| linkage::WATT.contains(hardpoint);
            let links: Vec<P> = spec.axle_optional.iter().copied().filter(|one| !is_watt(one)).collect();
            needs.extend(all(spec.axle_required, spec.with_article, true));
            needs.extend(all(&links, spec.with_article, false));
            if self.watt_lever_on.is_some() {
                needs.extend(all(&linkage::WATT, "the Watt linkage", true));
            }
        }
        if self.bar_kind() == Some(BarKind::T) {
            needs.extend(all(&[P::TBarPivot, P::TBarAxis, P::TBarHead], "the T-bar", true));
        }
        needs
    }
}

fn springing_needs(corner: &Corner) -> Vec<Need> {
    use Hardpoint as P;
    let mut needs = Vec::new();
    if matches!(corner.springing, Some(Springing::Rocker { .. } | Springing::Direct { .. })) {
        needs.extend(all(&[P::DamperRocker, P::DamperBody], "the damper", true));
    }
    if matches!(corner.springing, Some(Springing::Rocker { .. })) {
        let rocker = [P::PushrodOuter, P::PushrodInner, P::RockerPivot, P::RockerAxis];
        needs.extend(all(&rocker, "the rocker", true));
    }
    if matches!(corner.spring, Some(Spring::Separate { .. })) {
        needs.extend(all(&[P::SpringMoving, P::SpringBody], "the separate spring", true));
    }
    needs
}
