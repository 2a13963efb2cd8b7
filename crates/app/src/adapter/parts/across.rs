//! What stands across the car between both corners: anti-roll bars and the third spring.

use super::{Axled, Parts};
use nalgebra::Vector3;
use wheelpath_geometry::{Assembly, BarKind, Hardpoint};
use wheelpath_stage::view::{PartKind, size};

impl Parts<'_, '_> {
    pub(super) fn across(&mut self, axle: &Axled) {
        use Hardpoint as P;
        let of_both = |hardpoint| axle.sides.each_ref().map(|side| (side.assembly, hardpoint));
        match self.car.axle(axle.end).bar_kind() {
            Some(BarKind::U) => {
                if let Some([a, b]) = axle.both(P::BarPivot) {
                    self.push_plain(PartKind::Tube { a, b, radius: size::BAR });
                }
            }
            Some(BarKind::T) => self.t_bar(axle),
            None => {}
        }
        if self.car.axle(axle.end).third_spring.is_some()
            && let Some([left, right]) = axle.both(P::ThirdSpringEnd)
        {
            let body_length = 0.5 * (left - right).norm();
            let kind = PartKind::Damper { body_eye: left, moving_eye: right, body_length, spring: true };
            self.push_of(kind, of_both(P::ThirdSpringEnd));
        }
    }

    /// The stem from its foot to the head, and the crossbar between the drop links.
    fn t_bar(&mut self, axle: &Axled) {
        use Hardpoint as P;
        let own = &axle.own;
        let (Some(foot), Some(head)) = (own.get(P::TBarPivot), own.get(P::TBarHead)) else { return };
        let assembly = Assembly::Axle(axle.end);
        let kind = PartKind::Tube { a: foot, b: head, radius: size::BAR };
        self.push(kind, assembly, &[P::TBarPivot, P::TBarHead]);
        if let Some(axis) = own.get(P::TBarAxis).and_then(|second| (second - foot).try_normalize(1e-9)) {
            let half: Vector3<f64> = axis * 0.03;
            let kind = PartKind::Tube { a: foot - half, b: foot + half, radius: 1.5 * size::BAR };
            self.push(kind, assembly, &[P::TBarPivot]);
        }
        for side in &axle.sides {
            if let Some(end) = side.get(P::DropLinkBar) {
                let of = [(assembly, P::TBarHead), (side.assembly, P::DropLinkBar)];
                self.push_of(PartKind::BarArm { pivot: head, end }, of);
            }
        }
    }
}
