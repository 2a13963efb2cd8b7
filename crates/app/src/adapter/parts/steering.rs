//! Steering gear: the rack, or the box with its arms and centre link.

use super::{Axled, Parts};
use nalgebra::Point3;
use wheelpath_geometry::{Hardpoint, Steering, SteeringBox};
use wheelpath_stage::view::PartKind;

/// How long a rack is drawn that has a joint at one end, metres.
const ONE_ENDED: f64 = 0.45;

impl Parts<'_, '_> {
    pub(super) fn steering(&mut self, axle: &Axled) {
        match &self.car.axle(axle.end).steering {
            Steering::Fixed => {}
            Steering::Rack(rack) => {
                let ends = axle.both(Hardpoint::TieRodInner).or_else(|| {
                    // A drag link hangs on one end of its rack, the other end is hidden in the housing.
                    let (at, rest) = (axle.own.get(Hardpoint::DragLinkInner)?, rack.axis * ONE_ENDED);
                    let to_left = axle.own.get(Hardpoint::DragLinkLeft).is_some();
                    Some(if to_left { [at, at - rest] } else { [at + rest, at] })
                });
                let Some([rack_left, rack_right]) = ends else { return };
                let shift = rack.axis * self.solved.axle(axle.end).steer();
                // The housing leaves the rack's travel and a boot's length free at each end.
                let bare = rack.axis * (rack.stop_left.max(rack.stop_right) + 0.03);
                self.push_plain(PartKind::Rack {
                    housing_left: rack_left - shift - bare,
                    housing_right: rack_right - shift + bare,
                    rack_left,
                    rack_right,
                });
            }
            Steering::Box(one) => self.steering_box(axle, one),
        }
    }

    fn steering_box(&mut self, axle: &Axled, one: &SteeringBox) {
        let solved = self.solved.axle(axle.end);
        let place = |design| self.solver.axle(axle.end).steered_place(solved, design).map(Point3::from);
        let [Some(pitman), Some(idler)] = [&one.pitman.ball, &one.idler.ball].map(place) else { return };
        for (arm, ball, gearbox) in [(&one.pitman, pitman, true), (&one.idler, idler, false)] {
            let (pivot, axis) = (Point3::from(arm.pivot), arm.axis);
            self.push_plain(PartKind::SteeringArm { pivot, axis, ball, gearbox });
        }
        let of_sides = axle.sides.iter().filter_map(|side| side.get(Hardpoint::TieRodInner));
        let joints = of_sides.chain(axle.own.get(Hardpoint::DragLinkInner)).collect();
        let of = axle.sides.iter().map(|side| (side.assembly, Hardpoint::TieRodInner));
        let of = of.chain([(axle.own.assembly, Hardpoint::DragLinkInner)]);
        self.push_of(PartKind::CentreLink { balls: [pitman, idler], joints }, of);
    }
}
