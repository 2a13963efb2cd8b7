//! Every linkage, steering, spring and bar is read as what it says, in metres, radians and newtons.

use crate::{BOX_AND_H_ARM, FIVE_LINKS_AND_ARM, STRUT_AND_AXLE, changed};
use nalgebra::Vector3;
use wheelpath_car_file::parse;
use wheelpath_geometry::{
    AntiRollBar, BarKind, CamberBy, Car, CardanJoint, Component, Hardpoint, Link, LinkageKind, Part, Spring,
    Springing, Steering, ThirdSpring, ToeBy,
};

#[track_caller]
fn car(text: &str) -> Car {
    match parse(text, "car.ron") {
        Ok(loaded) => {
            let warnings: Vec<_> = crate::doubts(&loaded.warnings).iter().map(ToString::to_string).collect();
            assert_eq!(warnings, Vec::<String>::new());
            loaded.car
        }
        Err(error) => panic!("{error}"),
    }
}

#[track_caller]
fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() <= 1e-14 * expected.abs().max(1.0), "{found} is not {expected}");
}

#[track_caller]
fn joint(found: Option<CardanJoint>, bend_deg: f64, phase_deg: f64) {
    let Some(joint) = found else { panic!("no joint") };
    near(joint.bend, bend_deg.to_radians());
    near(joint.phase, phase_deg.to_radians());
}

#[track_caller]
fn bar(found: Option<AntiRollBar>, kind: BarKind, rate_nm_per_deg: Option<f64>) {
    let Some(bar) = found else { panic!("no bar") };
    assert_eq!((bar.kind, bar.rate.is_some()), (kind, rate_nm_per_deg.is_some()));
    if let (Some(rate), Some(expected)) = (bar.rate, rate_nm_per_deg) {
        near(rate, expected * 180.0 / std::f64::consts::PI);
    }
}

#[test]
fn struts_and_what_stands_on_them() {
    let car = car(STRUT_AND_AXLE);
    assert_eq!((car.mass, car.weight_share_front), (Some(1480.0), Some(0.53)));
    let front = &car.front;
    for corner in [&front.left, &front.right] {
        assert_eq!(corner.linkage, LinkageKind::Strut);
        assert_eq!(corner.springing, Some(Springing::Strut));
        assert_eq!(corner.drop_link_on, Some(Component::Upright));
        assert_eq!(corner.spring, Some(Spring::OnDamper { rate: 25_000.0 }));
        near(corner.wheel.tyre_shoulder_radius, 0.08);
        let CamberBy::Adjuster(camber) = corner.alignment.camber else { panic!("{:?}", corner.alignment) };
        near(camber, (-0.75_f64).to_radians());
    }
    assert_eq!(front.right.hardpoints.get(Hardpoint::StrutTop), Some(Vector3::new(-0.048, -0.592, 0.862)));
    bar(front.anti_roll_bar, BarKind::U, Some(26.0));
    joint(front.column.joints[0], 30.0, 0.0);
    joint(front.column.joints[1], 24.0, 90.0);
}

#[test]
fn a_beam_axle_and_its_own_points() {
    let car = car(STRUT_AND_AXLE);
    let rear = &car.rear;
    assert!(rear.is_beam());
    assert_eq!(rear.watt_lever_on, Some(Component::Upright));
    let [(Link::TopLink, length)] = rear.lengths.as_slice() else { panic!("{:?}", rear.lengths) };
    near(*length, 0.3617);
    assert_eq!(rear.hardpoints.iter().count(), 8);
    assert_eq!(rear.hardpoints.get(Hardpoint::WattRodRight), Some(Vector3::new(-2.832, -0.48, 0.216)));
    assert_eq!(rear.left.hardpoints.get(Hardpoint::WattRodRight), None);
    assert_eq!(rear.right.springing, Some(Springing::Direct { on: Component::Upright }));
    assert_eq!((rear.anti_roll_bar, rear.third_spring, rear.column.joints), (None, None, [None, None]));
    let on_body = changed(STRUT_AND_AXLE, &[("watt_lever_on: Axle", "watt_lever_on: Body")]);
    let rear = parse(&on_body, "car.ron").unwrap().car.rear;
    assert_eq!(rear.watt_lever_on, Some(Component::Body));
}

#[test]
fn a_steering_box() {
    let car = car(BOX_AND_H_ARM);
    let Steering::Box(own) = car.front.steering else { panic!("{:?}", car.front.steering) };
    assert_eq!(own.pitman.pivot, Vector3::new(-0.06, 0.262, 0.2));
    assert_eq!(own.idler.ball, Vector3::new(0.084, -0.26, 0.178));
    assert_eq!(own.pitman.axis, Vector3::new(0.0, 0.3, 4.0).normalize());
    assert_eq!(own.idler.axis, Vector3::new(0.0, -0.3, 4.0).normalize());
    near(own.ratio, -14.0);
    near(own.stop_left, 30_f64.to_radians());
    near(own.stop_right, 28_f64.to_radians());
}

#[test]
fn rockers_and_what_hangs_on_them() {
    let car = car(BOX_AND_H_ARM);
    let front = &car.front;
    bar(front.anti_roll_bar, BarKind::T, None);
    assert_eq!(front.third_spring, Some(ThirdSpring { on: Component::Rocker, rate: Some(60_000.0) }));
    assert_eq!(front.hardpoints.get(Hardpoint::TBarHead), Some(Vector3::new(-0.024, 0.0, 0.268)));
    for (corner, y) in [(&front.left, 0.142), (&front.right, -0.142)] {
        assert_eq!(corner.springing, Some(Springing::Rocker { pushrod_on: Component::UpperWishbone }));
        let Some(Spring::TorsionBar { rate }) = corner.spring else { panic!("{:?}", corner.spring) };
        near(rate, 22.0 * 180.0 / std::f64::consts::PI);
        assert_eq!(corner.hardpoints.get(Hardpoint::ThirdSpringEnd), Some(Vector3::new(-0.03, y, 0.222)));
    }
    let no_rate = changed(
        BOX_AND_H_ARM,
        &[(", rate_n_per_mm: 60.0)", ")"), ("bar: T,", "bar: T(rate_nm_per_deg: 9),")],
    );
    let front = self::car(&no_rate).front;
    assert_eq!(front.third_spring, Some(ThirdSpring { on: Component::Rocker, rate: None }));
    bar(front.anti_roll_bar, BarKind::T, Some(9.0));
}

#[test]
fn h_arms_and_a_spring_that_stands_apart() {
    let left = car(BOX_AND_H_ARM).rear.left;
    assert_eq!(left.linkage, LinkageKind::HArm);
    assert_eq!(left.joint_limits, [(Hardpoint::UpperLinkOuter, 22.5_f64.to_radians())]);
    assert_eq!(left.joint_axes, [(Hardpoint::UpperLinkOuter, Vector3::x())]);
    assert_eq!(left.radii, [(Part::HArm, 0.019), (Part::Damper, 0.0315)]);
    assert_eq!((left.wheel.rim_width, left.wheel.rim_inner_radius), (Some(0.216), Some(0.187)));
    let front = car(BOX_AND_H_ARM).front;
    assert_eq!(front.radii, [(Part::AntiRollBar, 0.014)]);
    assert_eq!((front.left.wheel.rim_width, front.left.wheel.rim_inner_radius), (None, None));
    assert_eq!(left.springing, Some(Springing::Direct { on: Component::HArm }));
    assert_eq!(left.spring, Some(Spring::Separate { on: Component::HArm, rate: 42_000.0 }));
    assert_eq!(left.hardpoints.get(Hardpoint::SpringBody), Some(Vector3::new(-2.62, 0.54, 0.47)));
    let CamberBy::Adjuster(camber) = left.alignment.camber else { panic!("{:?}", left.alignment) };
    near(camber, (-1.5_f64).to_radians());
}

#[test]
fn five_links_and_trailing_arms() {
    let car = car(FIVE_LINKS_AND_ARM);
    let left = &car.front.left;
    assert_eq!(left.linkage, LinkageKind::FiveLink);
    assert_eq!(left.lengths, [(Link::UpperFrontLink, 0.2286)]);
    assert_eq!(left.hardpoints.get(Hardpoint::LowerRearLinkInner), Some(Vector3::new(-0.262, 0.41, 0.2)));
    let (ToeBy::TieRodLength(toe), CamberBy::Adjuster(camber)) = (left.alignment.toe, left.alignment.camber)
    else {
        panic!("{:?}", left.alignment)
    };
    near(toe, 0.1_f64.to_radians());
    near(camber, (-0.8_f64).to_radians());
    joint(car.front.column.joints[0], 20.0, 45.0);
    assert_eq!(car.front.column.joints[1], None);
    let right = &car.rear.right;
    assert_eq!(right.linkage, LinkageKind::TrailingArm);
    assert_eq!(right.springing, Some(Springing::Direct { on: Component::Upright }));
    assert_eq!(right.drop_link_on, Some(Component::Upright));
    assert_eq!(right.hardpoints.get(Hardpoint::ArmPivotInboard), Some(Vector3::new(-2.292, -0.154, 0.262)));
}
