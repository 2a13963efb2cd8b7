//! A save of any linkage changes what changed, keeps comments, and keeps words that say the same.

use crate::{BOX_AND_H_ARM, FIVE_LINKS_AND_ARM, STRUT_AND_AXLE, changed};
use std::path::Path;
use wheelpath_car_file::{Axes, Document, load, parse};
use wheelpath_geometry::{
    AntiRollBar, BarKind, CamberBy, Car, CardanJoint, Component, Hardpoint, LengthUnit, Link, Part, Side,
    Spring, Springing, Steering, ThirdSpring,
};

/// The text after a change of its car and a save; it reads back as that car.
#[track_caller]
fn saved(text: &str, change: impl FnOnce(&mut Car)) -> String {
    let loaded = parse(text, "car.ron").unwrap_or_else(|error| panic!("{error}"));
    let mut car = loaded.car.clone();
    change(&mut car);
    let saved = loaded.document.with_car(&car).unwrap_or_else(|error| panic!("{error}"));
    assert_eq!(saved.with_car(&car).unwrap().text(), saved.text(), "saved again it changes again");
    saved.text().to_owned()
}

/// After the change the text is the old one with just these pieces replaced.
#[track_caller]
fn check(text: &str, change: impl FnOnce(&mut Car), pieces: &[(&str, &str)]) {
    assert_eq!(saved(text, change), changed(text, pieces));
}

#[test]
fn an_unchanged_car_gives_the_same_text() {
    for text in [STRUT_AND_AXLE, BOX_AND_H_ARM, FIVE_LINKS_AND_ARM] {
        check(text, |_| {}, &[]);
    }
    // Words and lengths of directions that say the same are left alone.
    let other = changed(STRUT_AND_AXLE, &[("Direct(on: Axle)", "Direct(on: Upright)")]);
    check(&other, |_| {}, &[]);
    let other = changed(FIVE_LINKS_AND_ARM, &[("drop_link_on: Arm", "drop_link_on: Upright")]);
    check(&other, |_| {}, &[]);
}

#[test]
fn rates_and_masses() {
    check(
        STRUT_AND_AXLE,
        |car| {
            car.mass = Some(1500.0);
            car.weight_share_front = Some(0.54);
            for side in Side::BOTH {
                car.front.corner_mut(side).spring = Some(Spring::OnDamper { rate: 27_500.0 });
                car.front.corner_mut(side).wheel.tyre_shoulder_radius = 0.075;
            }
            let rate = Some(28_f64.to_degrees());
            car.front.anti_roll_bar = Some(AntiRollBar { kind: BarKind::U, rate });
        },
        &[
            ("mass_kg: 1480.0, // with both", "mass_kg: 1500.0, // with both"),
            ("weight_share_front: 0.53", "weight_share_front: 0.54"),
            ("rate_n_per_mm: 25.0), // soft", "rate_n_per_mm: 27.5), // soft"),
            ("tyre_shoulder_radius: 80.0, // round", "tyre_shoulder_radius: 75.0, // round"),
            ("rate_nm_per_deg: 26.0", "rate_nm_per_deg: 28.0"),
        ],
    );
}

#[test]
fn the_axles_own_points_and_lengths() {
    check(
        STRUT_AND_AXLE,
        |car| {
            let mut point = car.rear.hardpoints.get(Hardpoint::TopLinkInner).unwrap();
            point.z += 0.005;
            car.rear.hardpoints.set(Hardpoint::TopLinkInner, point);
            car.rear.lengths = vec![(Link::TopLink, 0.362)];
        },
        &[
            ("470.0), // one link for the torque", "475.0), // one link for the torque"),
            ("(top_link: 361.7), // as measured", "(top_link: 362.0), // as measured"),
        ],
    );
}

#[test]
fn another_way_to_hold_an_axle() {
    let text = saved(STRUT_AND_AXLE, |car| {
        let own = &mut car.rear.hardpoints;
        for &hardpoint in Hardpoint::ALL {
            if hardpoint.key().starts_with("watt") {
                own.remove(hardpoint);
            }
        }
        own.set(Hardpoint::PanhardRodBody, nalgebra::Vector3::new(-2.86, -0.47, 0.31));
        own.set(Hardpoint::PanhardRodAxle, nalgebra::Vector3::new(-2.852, 0.47, 0.292));
        car.rear.watt_lever_on = None;
        car.rear.lengths.clear();
    });
    for piece in [
        "// one link for the torque",
        "            panhard_rod_body: (-2860.0, -470.0, 310.0),\n            panhard_rod_axle: (-2852.0, 470.0, 292.0),\n",
    ] {
        assert!(text.contains(piece), "no {piece:?} in\n{text}");
    }
    assert!(!text.contains("watt"), "{text}");
    let again = parse(&text, "car.ron").unwrap().car;
    assert_eq!((again.rear.hardpoints.iter().count(), again.rear.lengths.len()), (4, 0));
}

#[test]
fn a_column() {
    let bent =
        |bend: f64, phase: f64| Some(CardanJoint { bend: bend.to_radians(), phase: phase.to_radians() });
    check(
        STRUT_AND_AXLE,
        |car| car.front.column.joints = [bent(30.0, 0.0), bent(24.0, 80.0)],
        &[("phase_deg: 90.0", "phase_deg: 80.0")],
    );
    check(
        STRUT_AND_AXLE,
        |car| car.front.column.joints = [bent(12.5, 45.0), None],
        &[(
            "[(bend_deg: 30.0, phase_deg: 0.0), /* lower */ (bend_deg: 24.0, phase_deg: 90.0)]",
            "[(bend_deg: 12.5, phase_deg: 45.0)]",
        )],
    );
    let text = saved(STRUT_AND_AXLE, |car| car.front.column = Default::default());
    assert!(!text.contains("column:") && text.contains("// Two joints."), "{text}");
    check(
        BOX_AND_H_ARM,
        |car| car.front.column.joints = [bent(15.0, -30.0), None],
        &[(
            "stop_right_deg: 28.0,\n        ),\n",
            "stop_right_deg: 28.0,\n        ),\n        column: (joints: [(bend_deg: 15.0, phase_deg: -30.0)]),\n",
        )],
    );
}

#[test]
fn a_steering_box() {
    check(
        BOX_AND_H_ARM,
        |car| {
            let Steering::Box(own) = &mut car.front.steering else { panic!("{:?}", car.front.steering) };
            own.pitman.pivot.x -= 0.0015;
            own.ratio = -15.0;
            own.stop_left = 31_f64.to_radians();
            own.idler.axis = nalgebra::Vector3::z();
        },
        &[
            ("(-60.0, 262.0, 200.0), // on the frame", "(-61.5, 262.0, 200.0), // on the frame"),
            ("ratio: -14.0, /* reversed */", "ratio: -15.0, /* reversed */"),
            ("stop_left_deg: 30.0", "stop_left_deg: 31.0"),
            ("idler_axis: (0.0, -0.3, 4.0)", "idler_axis: Direction(0.0, 0.0, 1.0)"),
        ],
    );
    let text = saved(BOX_AND_H_ARM, |car| {
        car.front.steering = parse(STRUT_AND_AXLE, "car.ron").unwrap().car.front.steering;
    });
    for line in [
        "steering: Rack(",
        "axis: Direction(0.0, 1.0, 0.0),",
        "travel_per_turn: -50.0,",
        "stop_left: 76.0,",
        "stop_right: 70.0,",
    ] {
        assert!(text.lines().any(|own| own.trim() == line), "{line} is not in\n{text}");
    }
}

#[test]
fn bars_and_springs() {
    check(
        BOX_AND_H_ARM,
        |car| {
            let rate = Some(9_f64.to_degrees());
            car.front.anti_roll_bar = Some(AntiRollBar { kind: BarKind::T, rate });
            car.front.third_spring = Some(ThirdSpring { on: Component::Rocker, rate: None });
            for side in Side::BOTH {
                car.front.corner_mut(side).spring = Some(Spring::OnDamper { rate: 40_000.0 });
                let rear = car.rear.corner_mut(side);
                rear.joint_limits = vec![(Hardpoint::UpperLinkOuter, 25_f64.to_radians())];
                rear.spring = Some(Spring::Separate { on: Component::Upright, rate: 42_000.0 });
                rear.radii = vec![(Part::HArm, 0.0185), (Part::UpperLink, 0.011), (Part::Damper, 0.0315)];
                rear.joint_axes = vec![(Hardpoint::UpperLinkOuter, nalgebra::Vector3::z())];
                rear.wheel.rim_width = Some(0.218);
                rear.wheel.rim_inner_radius = None;
                rear.alignment.camber = CamberBy::Adjuster((-2_f64).to_radians());
            }
        },
        &[
            ("anti_roll_bar: T, // not", "anti_roll_bar: T(rate_nm_per_deg: 9.0), // not"),
            ("(on: Rocker, rate_n_per_mm: 60.0), // heave", "(on: Rocker, ), // heave"),
            ("TorsionBar(rate_nm_per_deg: 22.0), // along", "OnDamper(rate_n_per_mm: 40.0), // along"),
            ("upper_link_outer: 22.5), // as the maker", "upper_link_outer: 25.0), // as the maker"),
            ("(2.0, 0.0, 0.0)), // the bolt", "Direction(0.0, 0.0, 1.0)), // the bolt"),
            (
                "(h_arm: 19.0, damper: 31.5), // over",
                "(h_arm: 18.5, upper_link: 11.0, damper: 31.5), // over",
            ),
            (
                "rim_width: 216.0, // flange to flange\n                rim_inner_radius: 187.0,\n",
                "rim_width: 218.0, // flange to flange\n",
            ),
            ("Separate(on: HArm", "Separate(on: Upright"),
            ("UpperLinkLength(camber_deg: -1.5)), // one", "UpperLinkLength(camber_deg: -2.0)), // one"),
        ],
    );
    let text = saved(BOX_AND_H_ARM, |car| {
        car.front.third_spring = None;
        for side in Side::BOTH {
            car.front.corner_mut(side).hardpoints.remove(Hardpoint::ThirdSpringEnd);
            car.front.corner_mut(side).spring = None;
        }
    });
    assert!(!text.contains("third_spring") && !text.contains("TorsionBar"), "{text}");
}

#[test]
fn struts_without_what_they_had() {
    let text = saved(STRUT_AND_AXLE, |car| {
        for side in Side::BOTH {
            let corner = car.front.corner_mut(side);
            corner.springing = Some(Springing::Direct { on: Component::LowerWishbone });
            corner
                .hardpoints
                .set(Hardpoint::DamperRocker, nalgebra::Vector3::new(0.0, side.sign() * 0.6, 0.2));
            corner
                .hardpoints
                .set(Hardpoint::DamperBody, nalgebra::Vector3::new(0.0, side.sign() * 0.55, 0.62));
            corner.wheel.tyre_shoulder_radius = 0.0;
            corner.alignment.camber = CamberBy::Points;
        }
    });
    for piece in
        ["springing: Direct(on: LowerWishbone)", "tyre_shoulder_radius: 0.0, // round", "camber: FromPoints"]
    {
        assert!(text.contains(piece), "no {piece:?} in\n{text}");
    }
}

#[test]
fn an_adjuster_without_a_word_is_refused() {
    let loaded = parse(FIVE_LINKS_AND_ARM, "car.ron").unwrap();
    let mut car = loaded.car.clone();
    car.rear.left.alignment.camber = CamberBy::Adjuster(0.01);
    let error = loaded.document.with_car(&car).unwrap_err().to_string();
    assert_eq!(error, "not saved: the rear left alignment would read back different from the car");
}

#[test]
fn every_demo_and_example_is_saved_as_it_stands() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let mut cars = 0;
    for folder in ["demo-cars", "examples/linkages"] {
        for entry in std::fs::read_dir(root.join(folder)).unwrap() {
            let path = entry.unwrap().path();
            if path.extension().is_none_or(|extension| extension != "ron") {
                continue;
            }
            let loaded = load(&path).unwrap_or_else(|error| panic!("{error}"));
            assert_eq!(loaded.warnings, [], "{}", path.display());
            let saved = loaded.document.with_car(&loaded.car).unwrap();
            assert_eq!(saved.text(), loaded.document.text(), "{}", path.display());
            let fresh =
                Document::new(&loaded.car, "new.ron", "as it stands", LengthUnit::Inch, Axes::VEHICLE);
            fresh.unwrap_or_else(|error| panic!("{}: {error}", path.display()));
            cars += 1;
        }
    }
    assert!(cars >= 4, "{cars} cars");
}
