//! Cars with a T-bar.

use nalgebra::Vector3;
use wheelpath_geometry::{
    AntiRollBar, AxleSolver, BarKind, Car, Component, End, Hardpoint, Side, ThirdSpring,
};
use wheelpath_tests::demo::car_of;

/// Pullrods, torsion bars, a T-bar and a third spring at the front.
pub fn pullrods() -> Car {
    car_of("examples/linkages/pullrod_t_bar.ron")
}

/// A beam axle at the rear whose drop links hang on a T-bar, with a spring from side to side.
pub fn beam() -> Car {
    let mut car = car_of("examples/linkages/triangulated_four_link.ron");
    let axle = &mut car.rear;
    axle.anti_roll_bar = Some(AntiRollBar { kind: BarKind::T, rate: Some(800.0) });
    axle.third_spring = Some(ThirdSpring { on: Component::Upright, rate: Some(30e3) });
    for (hardpoint, x, y, z) in [
        (Hardpoint::TBarPivot, -2.810, 0.01, 0.396),
        (Hardpoint::TBarAxis, -2.812, 0.11, 0.400),
        (Hardpoint::TBarHead, -2.636, 0.0, 0.402),
    ] {
        axle.hardpoints.set(hardpoint, Vector3::new(x, y, z));
    }
    for side in Side::BOTH {
        let corner = axle.corner_mut(side);
        corner.hardpoints.set(Hardpoint::ThirdSpringEnd, Vector3::new(-2.62, side.sign() * 0.42, 0.32));
    }
    // Left unlike right.
    let end = axle.left.hardpoints.get(Hardpoint::DropLinkBar).unwrap();
    axle.left.hardpoints.set(Hardpoint::DropLinkBar, end + Vector3::new(0.004, -0.006, 0.01));
    car
}

pub fn both() -> [(Car, End); 2] {
    [(pullrods(), End::Front), (beam(), End::Rear)]
}

pub fn solver(car: &Car, end: End) -> AxleSolver {
    AxleSolver::new(car, end).unwrap_or_else(|stop| panic!("{}: {stop}", car.name))
}

/// Travels of both wheels, like and unlike, metres.
pub const TRAVELS: [[f64; 2]; 6] =
    [[0.0, 0.0], [0.03, 0.03], [-0.04, -0.04], [0.035, -0.03], [-0.01, 0.04], [0.02, 0.0]];
