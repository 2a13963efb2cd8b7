//! The solid parts of a car in a pose.

mod across;
mod beam;
mod body;
mod linkage;
mod posed;
mod springing;
mod steering;

pub(super) use posed::Posed;

use super::{key_of, place_of};
use nalgebra::{Point3, Vector3};
use wheelpath_geometry::{Assembly, Car, CarSolver, End, Hardpoint, Side, SolvedCar, WheelPosition};
use wheelpath_stage::view::{Emphasis, Ground, Part, PartKind, PointView, StageView, WheelView};

/// What stands out.
#[derive(Clone, Debug, Default)]
pub struct Marked<'a> {
    /// The point selected.
    pub selected: Option<(Assembly, Hardpoint)>,
    /// The car this one is compared with.
    pub original: Option<&'a Car>,
    /// Points of links that cannot close.
    pub faults: Vec<(Assembly, Hardpoint)>,
}

/// A car in a pose, as the stage draws it.
#[must_use]
pub fn car_view(car: &Car, solver: &CarSolver, solved: &SolvedCar, marked: &Marked) -> StageView {
    let view = StageView { ground: ground(solved), ..StageView::default() };
    let mut parts = Parts { view, car, solver, solved, marked };
    for at in WheelPosition::ALL {
        let posed = Posed::of(solver, solved, at.into());
        parts.wheel(at);
        parts.linkage(at, &posed);
        parts.springing(at, &posed);
        parts.points(&posed);
    }
    for end in End::BOTH {
        let axle = Axled {
            end,
            own: Posed::of(solver, solved, Assembly::Axle(end)),
            sides: Side::BOTH.map(|side| Posed::of(solver, solved, WheelPosition { end, side }.into())),
        };
        parts.steering(&axle);
        parts.beam(&axle);
        parts.across(&axle);
        parts.body(&axle);
        parts.points(&axle.own);
    }
    parts.view
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

/// An axle's points: its own, and those of both corners.
struct Axled {
    end: End,
    own: Posed,
    sides: [Posed; 2],
}

impl Axled {
    /// A corner's point on the left and on the right, where both have it.
    fn both(&self, hardpoint: Hardpoint) -> Option<[Point3<f64>; 2]> {
        let [left, right] = &self.sides;
        Some([left.get(hardpoint)?, right.get(hardpoint)?])
    }
}

/// A view under construction.
struct Parts<'a, 'm> {
    view: StageView,
    car: &'a Car,
    solver: &'a CarSolver,
    solved: &'a SolvedCar,
    marked: &'a Marked<'m>,
}

impl Parts<'_, '_> {
    fn wheel(&mut self, at: WheelPosition) {
        let wheel = &self.car.corner(at).wheel;
        let axle = &self.solved.axle(at.end).motion;
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

    /// Adds a part that hangs on points of one assembly.
    fn push(&mut self, kind: PartKind, assembly: Assembly, of: &[Hardpoint]) {
        self.push_of(kind, of.iter().map(|&hardpoint| (assembly, hardpoint)));
    }

    /// Adds a part that hangs on these points.
    fn push_of(&mut self, kind: PartKind, of: impl IntoIterator<Item = (Assembly, Hardpoint)>) {
        let all = of.into_iter().map(|(assembly, hardpoint)| self.emphasis(assembly, hardpoint));
        let emphasis = all.fold(Emphasis::Plain, stronger);
        // A selected point is marked by itself; its links only say that they changed.
        let emphasis = if emphasis == Emphasis::Selected { Emphasis::Plain } else { emphasis };
        self.view.parts.push(Part::new(kind).with_emphasis(emphasis));
    }

    /// Adds a part of the body, which hangs on no point.
    fn push_plain(&mut self, kind: PartKind) {
        self.view.parts.push(Part::new(kind));
    }

    fn rod(&mut self, posed: &Posed, [inner, outer]: [Hardpoint; 2], radius: f64) {
        if let (Some(a), Some(b)) = (posed.get(inner), posed.get(outer)) {
            self.push(PartKind::Rod { a, b, radius }, posed.assembly, &[inner, outer]);
        }
    }

    fn mount(&mut self, at: Point3<f64>, into_body: Vector3<f64>) {
        self.push_plain(PartKind::Mount { at, into_body });
    }

    fn emphasis(&self, assembly: Assembly, hardpoint: Hardpoint) -> Emphasis {
        let place = |car: &Car| assembly.hardpoints(car).get(hardpoint);
        if self.marked.faults.contains(&(assembly, hardpoint)) {
            Emphasis::Fault
        } else if self.marked.selected == Some((assembly, hardpoint)) {
            Emphasis::Selected
        } else if self.marked.original.is_some_and(|original| place(original) != place(self.car)) {
            Emphasis::Changed
        } else {
            Emphasis::Plain
        }
    }

    fn points(&mut self, posed: &Posed) {
        use Hardpoint as P;
        for &hardpoint in Hardpoint::ALL {
            let Some(place) = posed.get(hardpoint) else { continue };
            let emphasis = self.emphasis(posed.assembly, hardpoint);
            // Second points of axes stand in the air: shown only while they are worked on.
            let helper = matches!(hardpoint, P::RockerAxis | P::BarAxis | P::WattAxis | P::TBarAxis);
            if helper && emphasis == Emphasis::Plain {
                continue;
            }
            self.view.points.push(PointView {
                key: key_of(posed.assembly, hardpoint),
                name: format!("{hardpoint}, {}", posed.assembly),
                at: place,
                emphasis,
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
