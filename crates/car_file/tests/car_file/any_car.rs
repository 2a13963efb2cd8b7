//! A car of any linkages, steering, springs and bars, written from nothing, reads back as itself.

use crate::{BOX_AND_H_ARM, CAR, FIVE_LINKS_AND_ARM, STRUT_AND_AXLE};
use nalgebra::Vector3;
use proptest::prelude::*;
use wheelpath_car_file::{Axes, Direction, Document, parse};
use wheelpath_geometry::{
    Alignment, AntiRollBar, Axle, BarKind, CamberBy, Car, CardanJoint, Component, DamperStops, Hardpoint,
    LengthUnit, Link, LinkageKind, Part, Side, Spring, Springing, StaticLoads, Steering, ThirdSpring, ToeBy,
};

/// Choices as numbers that run out only after long.
struct Dice<'a> {
    numbers: &'a [f64],
    at: usize,
}

impl Dice<'_> {
    /// From 0 to 1.
    fn share(&mut self) -> f64 {
        self.at += 1;
        self.numbers.get(self.at % self.numbers.len()).copied().unwrap_or_default()
    }

    fn between(&mut self, low: f64, high: f64) -> f64 {
        low + (high - low) * self.share()
    }

    fn yes(&mut self) -> bool {
        self.share() < 0.5
    }

    fn of<T: Copy>(&mut self, all: &[T]) -> T {
        let share = self.share();
        let place = all.iter().enumerate().rev().find(|(i, _)| share * all.len() as f64 >= *i as f64);
        *place.unwrap_or((0, &all[0])).1
    }
}

/// Every axle of the test cars: each linkage, steered or not.
fn axles() -> Vec<Axle> {
    let car = |text| parse(text, "car.ron").unwrap_or_else(|error| panic!("{error}")).car;
    let cars = [CAR, STRUT_AND_AXLE, BOX_AND_H_ARM, FIVE_LINKS_AND_ARM].map(car);
    cars.into_iter().flat_map(|car| [car.front, car.rear]).collect()
}

/// Parts of a linkage that carry points, with a point there.
fn parts(linkage: LinkageKind) -> Vec<Component> {
    linkage.spec().carriers.iter().map(|carrier| carrier.part).collect()
}

/// The car with static loads that agree with its mass.
fn weighed(car: Car, dice: &mut Dice<'_>) -> Car {
    if dice.yes() {
        return car;
    }
    if dice.yes() {
        let loads = [(); 4].map(|()| dice.between(1000.0, 6000.0));
        return Car {
            mass: None,
            weight_share_front: None,
            static_loads: StaticLoads::Weighed(loads),
            ..car
        };
    }
    let left = dice.yes().then(|| dice.between(0.4, 0.6));
    let cross = dice.yes().then(|| dice.between(0.45, 0.55));
    let static_loads = match (left, cross) {
        (None, None) => StaticLoads::Unknown,
        (left, cross) => StaticLoads::Shares { left, cross },
    };
    Car { weight_share_front: Some(dice.between(0.4, 0.6)), static_loads, ..car }
}

/// The axle with what springs it thrown anew; its linkage stays.
fn thrown(mut axle: Axle, dice: &mut Dice<'_>) -> Axle {
    let linkage = axle.left.linkage;
    let parts = parts(linkage);
    let side = Side::Left;
    let centre = axle.left.wheel.centre;
    // Points that are to be somewhere near the wheel: whatever carries them can.
    let near = |dice: &mut Dice<'_>, x: f64, y: f64, z: f64| {
        let mut jitter = || dice.between(-0.004, 0.004);
        Vector3::new(centre.x + x + jitter(), centre.y * y + jitter(), centre.z + z + jitter())
    };
    let corner = axle.corner_mut(side);
    for &hardpoint in Hardpoint::ALL {
        let key = hardpoint.key();
        let is_spring = ["damper", "spring", "drop", "bar_", "third", "rocker", "pushrod"];
        if is_spring.iter().any(|start| key.starts_with(start)) {
            corner.hardpoints.remove(hardpoint);
        }
    }
    corner.lengths.clear();
    corner.damper = None;
    corner.spring = None;
    let mut points: Vec<(Hardpoint, Vector3<f64>)> = Vec::new();
    corner.springing = match dice.of(&[0, 1, 2, 3]) {
        0 => None,
        1 if linkage == LinkageKind::Strut => Some(Springing::Strut),
        1 | 2 => {
            points.push((Hardpoint::DamperRocker, near(dice, -0.05, 0.8, -0.08)));
            points.push((Hardpoint::DamperBody, near(dice, -0.03, 0.66, 0.34)));
            Some(Springing::Direct { on: dice.of(&parts) })
        }
        _ => {
            points.push((Hardpoint::PushrodOuter, near(dice, 0.0, 0.85, -0.1)));
            points.push((Hardpoint::PushrodInner, near(dice, 0.0, 0.4, 0.25)));
            points.push((Hardpoint::RockerPivot, near(dice, 0.02, 0.35, 0.18)));
            points.push((Hardpoint::RockerAxis, near(dice, 0.09, 0.35, 0.18)));
            points.push((Hardpoint::DamperRocker, near(dice, 0.02, 0.28, 0.26)));
            points.push((Hardpoint::DamperBody, near(dice, 0.02, 0.02, 0.26)));
            Some(Springing::Rocker { pushrod_on: dice.of(&parts) })
        }
    };
    let has_rocker = matches!(corner.springing, Some(Springing::Rocker { .. }));
    if corner.springing.is_some() && dice.yes() {
        let longest = dice.between(0.7, 0.8);
        corner.damper = Some(DamperStops { shortest: dice.between(0.05, 0.1), longest });
    }
    let rate = dice.between(10_000.0, 200_000.0);
    corner.spring = match dice.of(&[0, 1, 2, 3]) {
        1 if corner.springing.is_some() => Some(Spring::OnDamper { rate }),
        2 if has_rocker => Some(Spring::TorsionBar { rate: rate / 100.0 }),
        3 => {
            points.push((Hardpoint::SpringMoving, near(dice, 0.02, 0.7, -0.07)));
            points.push((Hardpoint::SpringBody, near(dice, 0.02, 0.65, 0.2)));
            Some(Spring::Separate { on: dice.of(&parts), rate })
        }
        _ => None,
    };
    let bar = dice.of(&[None, Some(BarKind::U), Some(BarKind::T)]);
    corner.drop_link_on =
        bar.map(|_| if has_rocker && dice.yes() { Component::Rocker } else { dice.of(&parts) });
    if let Some(kind) = bar {
        points.push((Hardpoint::DropLinkOuter, near(dice, 0.04, 0.6, -0.02)));
        points.push((Hardpoint::DropLinkBar, near(dice, 0.05, 0.59, 0.1)));
        if kind == BarKind::U {
            points.push((Hardpoint::BarPivot, near(dice, 0.25, 0.58, 0.1)));
            points.push((Hardpoint::BarAxis, near(dice, 0.25, 0.0, 0.1)));
        }
    }
    let third = dice.yes().then(|| {
        points.push((Hardpoint::ThirdSpringEnd, near(dice, 0.0, 0.5, 0.0)));
        ThirdSpring { on: dice.of(&parts), rate: dice.yes().then_some(rate * 1.1) }
    });
    for (hardpoint, at) in points {
        axle.left.hardpoints.set(hardpoint, at);
    }
    let said = bar.filter(|kind| *kind == BarKind::T || dice.yes());
    axle.anti_roll_bar = said.map(|kind| AntiRollBar { kind, rate: dice.yes().then_some(rate / 50.0) });
    if bar == Some(BarKind::T) {
        axle.hardpoints.set(Hardpoint::TBarPivot, near(dice, -0.2, 0.0, 0.1));
        axle.hardpoints.set(Hardpoint::TBarAxis, near(dice, -0.2, 0.1, 0.1));
        axle.hardpoints.set(Hardpoint::TBarHead, near(dice, 0.05, 0.0, 0.1));
    } else {
        for hardpoint in [Hardpoint::TBarPivot, Hardpoint::TBarAxis, Hardpoint::TBarHead] {
            axle.hardpoints.remove(hardpoint);
        }
    }
    axle.third_spring = third;
    aligned(axle, dice)
}

/// Wheel, alignment, lengths and steering thrown anew; then the right side.
fn aligned(mut axle: Axle, dice: &mut Dice<'_>) -> Axle {
    let linkage = axle.left.linkage;
    axle.left.radii.clear();
    let corner = &mut axle.left;
    corner.alignment = Alignment::FROM_POINTS;
    if linkage.has_toe_link() && dice.yes() {
        corner.alignment.toe = ToeBy::TieRodLength(dice.between(-0.005, 0.005));
    }
    if linkage.camber_adjuster().is_some() && dice.yes() {
        corner.alignment.camber = CamberBy::Adjuster(dice.between(-0.02, 0.01));
    }
    corner.wheel.tyre_shoulder_radius = if dice.yes() { dice.between(0.02, 0.15) } else { 0.0 };
    if let Some((inner, outer)) =
        corner.hardpoints.get(Hardpoint::TieRodInner).zip(corner.hardpoints.get(Hardpoint::TieRodOuter))
        && corner.alignment.toe == ToeBy::Points
        && dice.yes()
    {
        corner.lengths = vec![(Link::TieRod, (outer - inner).norm() + dice.between(-0.001, 0.001))];
    }
    corner.joint_limits.clear();
    for joint in [Hardpoint::LowerBallJoint, Hardpoint::LowerLinkOuter, Hardpoint::PushrodInner] {
        if corner.hardpoints.get(joint).is_some() && dice.yes() {
            corner.joint_limits.push((joint, dice.between(0.2, 0.6)));
        }
    }
    corner.joint_axes.clear();
    for joint in [Hardpoint::LowerBallJoint, Hardpoint::TieRodInner, Hardpoint::UpperLinkOuter] {
        if corner.hardpoints.get(joint).is_some() && dice.yes() {
            let axis = Vector3::new(dice.between(-0.4, 0.4), dice.between(-0.4, 0.4), 1.0);
            corner.joint_axes.push((joint, axis.normalize()));
        }
    }
    corner.wheel.rim_width = dice.yes().then(|| dice.between(0.1, 0.3));
    corner.wheel.rim_inner_radius = dice.yes().then(|| dice.between(0.05, 0.1));
    axle.radii.clear();
    let pieces = axle.pieces();
    for &part in Part::ALL {
        let there = |side| pieces.iter().any(|piece| (piece.part, piece.side) == (part, side));
        if (there(Some(Side::Left)) || there(None)) && dice.yes() {
            let radii = if part.is_of_axle() { &mut axle.radii } else { &mut axle.left.radii };
            radii.push((part, dice.between(0.004, 0.04)));
        }
    }
    if let Steering::Rack(rack) = &mut axle.steering {
        rack.axis = Vector3::new(dice.between(-0.05, 0.05), 1.0, dice.between(-0.05, 0.05)).normalize();
        rack.travel_per_turn += dice.between(0.0, 0.01);
    }
    if let Steering::Box(own) = &mut axle.steering {
        own.pitman.axis = Vector3::new(dice.between(-0.1, 0.1), dice.between(-0.1, 0.1), 1.0).normalize();
        own.ratio = dice.between(10.0, 18.0);
        own.stop_right = dice.between(0.3, 0.6);
    }
    let bend = |dice: &mut Dice<'_>| {
        Some(CardanJoint { bend: dice.between(-0.6, 0.6), phase: dice.between(-1.5, 1.5) })
    };
    axle.column = wheelpath_geometry::Column::default();
    if axle.steering.steers() && dice.yes() {
        axle.column.joints = [bend(dice), if dice.yes() { bend(dice) } else { None }];
    }
    axle.right = axle.left.mirrored();
    if dice.yes() {
        // A side of its own.
        axle.right.wheel.tyre_radius += dice.between(0.0, 0.004);
        for &hardpoint in &[Hardpoint::LowerBallJoint, Hardpoint::DamperBody, Hardpoint::UpperLinkInner] {
            if let Some(mut point) = axle.right.hardpoints.get(hardpoint) {
                point.x += dice.between(-0.002, 0.002);
                axle.right.hardpoints.set(hardpoint, point);
            }
        }
        axle.right.lengths.clear();
        axle.right.alignment = Alignment::FROM_POINTS;
    }
    axle
}

/// All that a car says, number by number and word by word, taken from what `{:?}` tells: it forgets no field.
fn told(car: &Car) -> Vec<String> {
    let text = format!("{car:?}");
    text.split(|c: char| " ,()[]{}".contains(c)).filter(|w| !w.is_empty()).map(str::to_owned).collect()
}

/// The first piece in which two cars differ by more than rounding.
fn first_difference(a: &Car, b: &Car) -> Option<String> {
    let (a, b) = (told(a), told(b));
    let alike = |(a, b): &(&String, &String)| match (a.parse::<f64>(), b.parse::<f64>()) {
        (Ok(a), Ok(b)) => (a - b).abs() <= 1e-12 * a.abs().max(1.0),
        _ => a == b,
    };
    let odd = a.iter().zip(&b).enumerate().find(|(_, pair)| !alike(pair));
    let around = odd.map(|(i, _)| format!("{:?} is not {:?}", a.get(i.saturating_sub(9)..=i), b.get(i)));
    around.or_else(|| (a.len() != b.len()).then(|| "one says more than the other".to_owned()))
}

/// Puts an axle at another place along the car.
fn moved(axle: &mut Axle, by: f64) {
    let by = Vector3::new(by, 0.0, 0.0);
    for side in Side::BOTH {
        let corner = axle.corner_mut(side);
        corner.wheel.centre += by;
        for &hardpoint in Hardpoint::ALL {
            if let Some(at) = corner.hardpoints.get(hardpoint) {
                corner.hardpoints.set(hardpoint, at + by);
            }
        }
    }
    for &hardpoint in Hardpoint::ALL {
        if let Some(at) = axle.hardpoints.get(hardpoint) {
            axle.hardpoints.set(hardpoint, at + by);
        }
    }
    if let Steering::Box(own) = &mut axle.steering {
        for point in [&mut own.pitman.pivot, &mut own.pitman.ball, &mut own.idler.pivot, &mut own.idler.ball]
        {
            *point += by;
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(150))]

    #[test]
    fn written_from_nothing_it_reads_back(
        front in 0..8_usize,
        rear in 0..8_usize,
        numbers in prop::collection::vec(0.0..1.0_f64, 250),
        inches in any::<bool>(),
        turned in any::<bool>(),
    ) {
        let mut dice = Dice { numbers: &numbers, at: 0 };
        let axles = axles();
        let base = parse(CAR, "car.ron").map_err(|error| TestCaseError::fail(error.to_string()))?.car;
        let [mut front, mut rear] = [front, rear].map(|at| thrown(axles[at].clone(), &mut dice));
        let to = -front.left.wheel.centre.x;
        moved(&mut front, to);
        let to = -base.wheelbase - rear.left.wheel.centre.x;
        moved(&mut rear, to);
        let car = Car {
            name: "Whatever".into(),
            front,
            rear,
            mass: dice.yes().then(|| dice.between(500.0, 2000.0)),
            weight_share_front: dice.yes().then(|| dice.share()),
            ..base
        };
        let car = weighed(car, &mut dice);
        let units = if inches { LengthUnit::Inch } else { LengthUnit::Millimetre };
        let directions = if turned { [Direction::Right, Direction::Down, Direction::Forward] }
            else { [Direction::Forward, Direction::Left, Direction::Up] };
        let Ok(axes) = Axes::new(directions) else { return Err(TestCaseError::fail("axes")) };
        let document = Document::new(&car, "new.ron", "as it stands", units, axes)
            .map_err(|error| TestCaseError::fail(format!("{error}\n{car:?}")))?;
        let again = parse(document.text(), "again.ron").map_err(|error| TestCaseError::fail(error.to_string()))?;
        let difference = first_difference(&car, &again.car);
        prop_assert!(difference.is_none(), "{}\n{}", difference.unwrap_or_default(), document.text());
        // Saved again, and saved as another file's car, it is the same.
        let same = document.with_car(&car).map_err(|error| TestCaseError::fail(error.to_string()))?;
        prop_assert_eq!(same.text(), document.text());
        let other = parse(STRUT_AND_AXLE, "other.ron").map_err(|error| TestCaseError::fail(error.to_string()))?;
        let edited = other.document.with_car(&car).map_err(|error| TestCaseError::fail(error.to_string()))?;
        let again = parse(edited.text(), "again.ron").map_err(|error| TestCaseError::fail(error.to_string()))?;
        let difference = first_difference(&car, &again.car);
        prop_assert!(difference.is_none(), "{}\n{}", difference.unwrap_or_default(), edited.text());
    }
}
