//! The solid parts of a car in a pose.

use super::{key_of, place_of};
use crate::stage::view::{Emphasis, Ground, Part, PartKind, PointView, StageView, WheelView, size};
use nalgebra::{Point3, Vector3};
use wheelpath_geometry::{Car, CarSolver, Carrier, End, Pickup, Side, SolvedCar, Springing, WheelAt};

/// What stands out.
#[derive(Clone, Debug, Default)]
pub struct Marked<'a> {
    /// The point selected.
    pub selected: Option<(WheelAt, Pickup)>,
    /// The car this one is compared with.
    pub original: Option<&'a Car>,
    /// Points of links that cannot close.
    pub faults: Vec<(WheelAt, Pickup)>,
}

/// Points of a corner where they stand in a pose.
pub(super) struct Posed {
    at: WheelAt,
    points: [Option<Vector3<f64>>; Pickup::COUNT],
}

impl Posed {
    pub(super) fn of(solver: &CarSolver, solved: &SolvedCar, at: WheelAt) -> Self {
        let mut points = [None; Pickup::COUNT];
        for (pickup, place) in solver.points(solved, at) {
            points[pickup.index()] = Some(place);
        }
        Posed { at, points }
    }

    pub(super) fn vector(&self, pickup: Pickup) -> Option<Vector3<f64>> {
        self.points[pickup.index()]
    }

    fn get(&self, pickup: Pickup) -> Option<Point3<f64>> {
        self.vector(pickup).map(Point3::from)
    }
}

/// A car in a pose, as the stage draws it.
#[must_use]
pub fn car_view(car: &Car, solver: &CarSolver, solved: &SolvedCar, marked: &Marked) -> StageView {
    let mut view = StageView { ground: ground(solved), ..StageView::default() };
    for at in WheelAt::ALL {
        let posed = Posed::of(solver, solved, at);
        let mut corner = CornerParts { view: &mut view, car, posed: &posed, marked };
        corner.wheel(solved);
        corner.parts();
        corner.springing();
        corner.points();
    }
    for end in End::BOTH {
        axle(&mut view, car, solver, solved, end);
    }
    view
}

/// The plane nearest to all four contact points.
fn ground(solved: &SolvedCar) -> Ground {
    let contact = |end: End, side: Side| solved.axle(end).motion.wheel(side).contact;
    let [fl, fr] = Side::BOTH.map(|side| contact(End::Front, side));
    let [rl, rr] = Side::BOTH.map(|side| contact(End::Rear, side));
    let forward = (fl + fr) - (rl + rr);
    let leftward = (fl + rl) - (fr + rr);
    let normal = forward.cross(&leftward);
    let normal = if normal.norm() > 1e-9 { normal.normalize() } else { Vector3::z() };
    Ground { point: Point3::from((fl + fr + rl + rr) * 0.25), normal }
}

struct CornerParts<'a, 'm> {
    view: &'a mut StageView,
    car: &'a Car,
    posed: &'a Posed,
    marked: &'a Marked<'m>,
}

impl CornerParts<'_, '_> {
    fn get(&self, pickup: Pickup) -> Option<Point3<f64>> {
        self.posed.get(pickup)
    }

    fn inboard(&self) -> Vector3<f64> {
        Vector3::new(0.0, -self.posed.at.side.sign(), 0.0)
    }

    fn wheel(&mut self, solved: &SolvedCar) {
        let at = self.posed.at;
        let wheel = &self.car.corner(at).wheel;
        let axle = &solved.axle(at.end).motion;
        let motion = axle.corner(at.side);
        self.view.wheels.push(WheelView {
            place: place_of(at),
            centre: Point3::from(motion.wheel_centre),
            spin_axis: motion.spin_axis,
            radius: wheel.tyre_radius,
            width: wheel.tyre_width,
            rim_radius: wheel.rim_radius,
            contact: Point3::from(axle.wheel(at.side).contact),
            steers: motion.steered,
        });
    }

    fn push(&mut self, kind: PartKind, of: &[Pickup]) {
        let emphasis = of.iter().map(|&pickup| self.emphasis(pickup)).fold(Emphasis::Plain, stronger);
        // A selected point is marked by itself; its links only say that they changed.
        let emphasis = if emphasis == Emphasis::Selected { Emphasis::Plain } else { emphasis };
        self.view.parts.push(Part::new(kind).with_emphasis(emphasis));
    }

    fn emphasis(&self, pickup: Pickup) -> Emphasis {
        let at = self.posed.at;
        let place = |car: &Car| car.corner(at).pickups.get(pickup);
        if self.marked.faults.contains(&(at, pickup)) {
            Emphasis::Fault
        } else if self.marked.selected == Some((at, pickup)) {
            Emphasis::Selected
        } else if self.marked.original.is_some_and(|original| place(original) != place(self.car)) {
            Emphasis::Changed
        } else {
            Emphasis::Plain
        }
    }

    fn parts(&mut self) {
        use Pickup as P;
        for [front, rear, outer] in [
            [P::UpperWishboneFront, P::UpperWishboneRear, P::UpperBallJoint],
            [P::LowerWishboneFront, P::LowerWishboneRear, P::LowerBallJoint],
        ] {
            let (Some(a), Some(b), Some(c)) = (self.get(front), self.get(rear), self.get(outer)) else {
                continue;
            };
            let kind = PartKind::Wishbone { inner_front: a, inner_rear: b, outer: c, radius: size::ARM };
            self.push(kind, &[front, rear, outer]);
            for at in [a, b] {
                self.push(PartKind::Mount { at, into_body: self.inboard() }, &[]);
            }
        }
        self.rod(P::TieRodInner, P::TieRodOuter, size::ROD);
        self.rod(P::ToeLinkInner, P::ToeLinkOuter, size::ROD);
        if let Some(at) = self.get(P::ToeLinkInner) {
            self.push(PartKind::Mount { at, into_body: self.inboard() }, &[]);
        }
        let mut carried = vec![P::UpperBallJoint, P::LowerBallJoint, P::TieRodOuter, P::ToeLinkOuter];
        let springing = self.car.corner(self.posed.at).springing;
        if matches!(springing, Some(Springing::Rocker { pushrod_on: Carrier::Upright })) {
            carried.push(P::PushrodOuter);
        }
        let joints: Vec<Point3<f64>> = carried.iter().filter_map(|&pickup| self.get(pickup)).collect();
        if let Some(wheel) = self.view.wheels.last() {
            let kind = PartKind::Upright { wheel_centre: wheel.centre, spin_axis: wheel.spin_axis, joints };
            self.push(kind, &[]);
        }
    }

    fn rod(&mut self, inner: Pickup, outer: Pickup, radius: f64) {
        if let (Some(a), Some(b)) = (self.get(inner), self.get(outer)) {
            self.push(PartKind::Rod { a, b, radius }, &[inner, outer]);
        }
    }

    fn springing(&mut self) {
        use Pickup as P;
        let corner = self.car.corner(self.posed.at);
        self.rod(P::PushrodInner, P::PushrodOuter, size::ROD);
        if let (Some(pivot), Some(second)) = (self.get(P::RockerPivot), self.get(P::RockerAxis)) {
            let mut of = vec![P::PushrodInner, P::DamperRocker];
            if corner.drop_link_on == Some(Carrier::Rocker) {
                of.push(P::DropLinkOuter);
            }
            let points = of.iter().filter_map(|&pickup| self.get(pickup)).collect();
            self.push(PartKind::Rocker { pivot, axis: second - pivot, points }, &of);
        }
        if let (Some(body_eye), Some(moving_eye)) = (self.get(P::DamperBody), self.get(P::DamperRocker)) {
            let place = |pickup| corner.pickups.get(pickup);
            let design =
                place(P::DamperBody).zip(place(P::DamperRocker)).map_or(0.2, |(a, b)| (a - b).norm());
            // Long enough for the eye-to-eye length at full droop to leave the rod in the body.
            let body_length = corner.damper.map_or(0.55 * design, |stops| 0.72 * stops.shortest);
            let kind = PartKind::Damper { body_eye, moving_eye, body_length, spring: true };
            self.push(kind, &[P::DamperBody, P::DamperRocker]);
        }
        self.rod(P::DropLinkBar, P::DropLinkOuter, size::DROP_LINK);
        if let (Some(pivot), Some(end)) = (self.get(P::BarPivot), self.get(P::DropLinkBar)) {
            self.push(PartKind::BarArm { pivot, end }, &[P::BarPivot, P::DropLinkBar]);
        }
    }

    fn points(&mut self) {
        let at = self.posed.at;
        for &pickup in Pickup::ALL {
            let Some(place) = self.get(pickup) else { continue };
            // Second points of axes stand in the air: shown only while they are worked on.
            let helper = matches!(pickup, Pickup::RockerAxis | Pickup::BarAxis);
            if helper && self.emphasis(pickup) == Emphasis::Plain {
                continue;
            }
            self.view.points.push(PointView {
                key: key_of(at, pickup),
                name: format!("{pickup}, {at}"),
                at: place,
                emphasis: self.emphasis(pickup),
            });
        }
    }
}

fn stronger(a: Emphasis, b: Emphasis) -> Emphasis {
    let rank = |emphasis| match emphasis {
        Emphasis::Plain => 0,
        Emphasis::Changed => 1,
        Emphasis::Selected => 2,
        Emphasis::Fault => 3,
    };
    if rank(b) > rank(a) { b } else { a }
}

/// What both sides share: bar, rack, the body's frames.
fn axle(view: &mut StageView, car: &Car, solver: &CarSolver, solved: &SolvedCar, end: End) {
    use Pickup as P;
    let [left, right] = Side::BOTH.map(|side| Posed::of(solver, solved, WheelAt { end, side }));
    let both = |pickup| left.get(pickup).zip(right.get(pickup));
    if let Some((a, b)) = both(P::BarPivot) {
        view.parts.push(Part::new(PartKind::Tube { a, b, radius: size::BAR }));
    }
    if let (Some(rack), Some((rack_left, rack_right))) = (car.axle(end).steering.rack(), both(P::TieRodInner))
    {
        let shift = rack.axis * solved.axle(end).steer();
        // The housing leaves the rack's travel and a boot's length free at each end.
        let bare = rack.axis * (rack.stop_left.max(rack.stop_right) + 0.03);
        view.parts.push(Part::new(PartKind::Rack {
            housing_left: rack_left - shift - bare,
            housing_right: rack_right - shift + bare,
            rack_left,
            rack_right,
        }));
    }
    for [low, high] in
        [[P::LowerWishboneFront, P::UpperWishboneFront], [P::LowerWishboneRear, P::UpperWishboneRear]]
    {
        let (Some(low), Some(high)) = (both(low), both(high)) else { continue };
        let inward = |(a, b): (Point3<f64>, Point3<f64>)| {
            let step = Vector3::new(0.0, 0.032, 0.0);
            (a - step, b + step)
        };
        let ((ll, lr), (hl, hr)) = (inward(low), inward(high));
        view.parts.push(Part::new(PartKind::Frame { corners: vec![ll, hl, hr, lr] }));
    }
}
