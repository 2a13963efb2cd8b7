//! Every linkage on the stage.

use super::{Chosen, Pulled, key_of, stage_of};
use crate::test_cars::{car, every_car};
use nalgebra::{Point3, Vector3};
use wheelpath_geometry::{Assembly, CarPose, End, Hardpoint, Side, WheelPosition};
use wheelpath_session::{Edit, Session, Wheels};
use wheelpath_stage::solids::solids;
use wheelpath_stage::view::{Part, PartKind, StageView};

/// Poses in which every part has moved.
fn poses(session: &Session) -> Vec<CarPose> {
    let [droop, bump] = session.reach().common_travel();
    let [right, left] = session.reach().steer;
    vec![
        CarPose::REFERENCE,
        CarPose { steer: 0.6 * left, ..CarPose::heave(0.5 * bump) },
        CarPose { travel: [0.3 * bump, 0.3 * droop, 0.2 * droop, 0.4 * bump], steer: 0.5 * right },
    ]
}

fn view(session: &Session) -> StageView {
    stage_of(session, &Chosen::default()).car
}

/// The places where a part meets others.
fn ends(kind: &PartKind) -> Vec<Point3<f64>> {
    match kind {
        PartKind::Rod { a, b, .. } | PartKind::Tube { a, b, .. } => vec![*a, *b],
        PartKind::Wishbone { inner_front, inner_rear, outer, .. } => vec![*inner_front, *inner_rear, *outer],
        PartKind::TrailingArm { pivots, .. } => pivots.to_vec(),
        PartKind::HArm { inner, outer, .. } => inner.iter().chain(outer).copied().collect(),
        PartKind::Strut { top, bottom, brackets, .. } => {
            brackets.iter().chain([top, bottom]).copied().collect()
        }
        PartKind::Beam { joints, .. } | PartKind::Upright { joints, .. } => joints.clone(),
        PartKind::TorqueArm { end, .. } => vec![*end],
        PartKind::SteeringArm { ball, .. } => vec![*ball],
        PartKind::Bracket { foot, joint } => vec![*foot, *joint],
        PartKind::CentreLink { balls, joints } => balls.iter().chain(joints).copied().collect(),
        PartKind::Spring { body_end, moving_end } => vec![*body_end, *moving_end],
        PartKind::Rocker { pivot, points, .. } => points.iter().chain([pivot]).copied().collect(),
        PartKind::Damper { body_eye, moving_eye, .. } => vec![*body_eye, *moving_eye],
        PartKind::BarArm { pivot, end } => vec![*pivot, *end],
        PartKind::Rack { rack_left, rack_right, .. } => vec![*rack_left, *rack_right],
        PartKind::Mount { .. } | PartKind::Frame { .. } => Vec::new(),
    }
}

fn mounts(view: &StageView) -> Vec<Point3<f64>> {
    view.parts
        .iter()
        .filter_map(|part| match part.kind {
            PartKind::Mount { at, .. } => Some(at),
            _ => None,
        })
        .collect()
}

fn near(a: Point3<f64>, b: Point3<f64>) -> bool {
    (a - b).norm() < 1e-9
}

/// Every point shown is the end of some part, in every pose: nothing floats, nothing was forgotten.
#[test]
fn every_point_of_every_car_is_where_some_part_ends() {
    for stem in every_car() {
        let mut session = car(&stem);
        for pose in poses(&session) {
            session.apply(Edit::SetPose(pose));
            assert!(session.limit().is_none(), "{stem} at {pose:?}: {:?}", session.notices());
            let view = view(&session);
            let all: Vec<Point3<f64>> = view.parts.iter().flat_map(|part| ends(&part.kind)).collect();
            for point in &view.points {
                assert!(all.iter().any(|end| near(*end, point.at)), "{stem}: {} floats", point.name);
            }
        }
    }
}

/// What the body carries in the design pose stands on a mount or is guided by the body itself.
#[test]
fn the_body_end_of_every_link_stands_on_the_body() {
    for stem in every_car() {
        let session = car(&stem);
        let view = view(&session);
        let mounts = mounts(&view);
        for assembly in Assembly::ALL {
            for &link in wheelpath_geometry::Link::ALL {
                let (inner, outer) = link.ends();
                for end in [inner, outer] {
                    let Some(at) = assembly.hardpoints(session.car()).get(end) else { continue };
                    if assembly.carrier(session.car(), end) == Some(wheelpath_geometry::Component::Body) {
                        let at = Point3::from(at);
                        assert!(mounts.iter().any(|m| (m - at).norm() < 2e-3), "{stem}: {end}, {assembly}");
                    }
                }
            }
        }
    }
}

/// The stage reuses what it built: kinds keep their places, and rigid shapes keep their sizes.
#[test]
fn parts_of_every_car_keep_their_places_and_shapes() {
    for stem in every_car() {
        let mut session = car(&stem);
        let seen = |session: &Session| {
            let view = view(session);
            let kinds: Vec<_> = view.parts.iter().map(|part| std::mem::discriminant(&part.kind)).collect();
            (kinds, solids(&view))
        };
        let (kinds, before) = seen(&session);
        for pose in poses(&session) {
            session.apply(Edit::SetPose(pose));
            let (now, after) = seen(&session);
            assert_eq!(now, kinds, "{stem}");
            assert_eq!(before.len(), after.len(), "{stem} at {pose:?}");
            for (a, b) in before.iter().zip(&after) {
                assert!(a.shape.matches(&b.shape), "{stem} at {pose:?}: {:?} became {:?}", a.shape, b.shape);
                assert!(b.scale.iter().chain(b.centre.iter()).all(|x| x.is_finite()), "{stem}: {b:?}");
            }
        }
    }
}

fn only<T>(view: &StageView, of: impl Fn(&PartKind) -> Option<T>) -> T {
    let mut all: Vec<T> = view.parts.iter().filter_map(|Part { kind, .. }| of(kind)).collect();
    assert_eq!(all.len(), 1);
    all.remove(0)
}

#[test]
fn a_strut_slides_in_its_tube_and_carries_its_drop_link() {
    let mut session = car("rowan");
    let left = |view: &StageView| {
        let mut all = view.parts.iter().filter_map(|part| match &part.kind {
            PartKind::Strut { top, bottom, tube_length, spring, brackets } if top.y > 0.0 => {
                Some((*top, *bottom, *tube_length, *spring, brackets.clone()))
            }
            _ => None,
        });
        all.next().unwrap()
    };
    let (top, bottom, tube, spring, brackets) = left(&view(&session));
    assert!(spring && brackets.len() == 1, "the drop link stands on the tube");
    let before = (top - bottom).norm();
    session.apply(Edit::SetTravel { wheels: Wheels::Axle(End::Front), travel: 0.05 });
    let (top_now, bottom_now, tube_now, ..) = left(&view(&session));
    assert!(near(top, top_now) && (tube_now - tube).abs() < 1e-12);
    let shorter = before - (top_now - bottom_now).norm();
    assert!((0.04..0.05).contains(&shorter), "{shorter}");
    assert!(tube < 0.345, "the rod stays in the tube at full bump");
}

#[test]
fn a_beam_carries_its_joints_rigidly_from_wheel_to_wheel() {
    for stem in ["hazel", "watt_on_axle", "torque_arm", "triangulated_four_link"] {
        let mut session = car(stem);
        let beam = |session: &Session| {
            only(&view(session), |kind| match kind {
                PartKind::Beam { ends, joints, driven, .. } => Some((*ends, joints.clone(), *driven)),
                _ => None,
            })
        };
        let (ends, joints, driven) = beam(&session);
        assert!(driven && joints.len() >= 5, "{stem}: {}", joints.len());
        session.apply(Edit::SetTravel { wheels: Wheels::Roll, travel: 0.03 });
        let (ends_now, joints_now, _) = beam(&session);
        for (a, b) in joints.iter().zip(&joints_now) {
            for (end, end_now) in ends.iter().zip(&ends_now) {
                assert!(((a - end).norm() - (b - end_now).norm()).abs() < 1e-9, "{stem}");
            }
        }
        assert!((ends_now[0].z - ends[0].z - 0.03).abs() < 1e-9);
    }
}

#[test]
fn a_watt_lever_turns_about_its_pivot() {
    for (stem, on_axle) in [("watt_on_body", false), ("watt_on_axle", true)] {
        let mut session = car(stem);
        let lever = |session: &Session| {
            only(&view(session), |kind| match kind {
                PartKind::Rocker { pivot, points, .. } => Some((*pivot, points.clone())),
                _ => None,
            })
        };
        let (pivot, points) = lever(&session);
        session.apply(Edit::SetTravel { wheels: Wheels::Axle(End::Rear), travel: 0.04 });
        let (pivot_now, points_now) = lever(&session);
        assert_eq!(points.len(), 2);
        assert!(((pivot_now.z - pivot.z).abs() > 0.03) == on_axle, "{stem}: {pivot_now}");
        for (a, b) in points.iter().zip(&points_now) {
            let (a, b) = (a - pivot, b - pivot_now);
            assert!((a.norm() - b.norm()).abs() < 1e-9 && (a - b).norm() > 1e-3, "{stem}: {a} {b}");
        }
    }
}

#[test]
fn a_centre_link_is_one_rigid_rod_between_its_arms() {
    for stem in ["hazel", "steering_box"] {
        let mut session = car(stem);
        let link = |session: &Session| {
            only(&view(session), |kind| match kind {
                PartKind::CentreLink { balls, joints } => Some((*balls, joints.clone())),
                _ => None,
            })
        };
        let (balls, joints) = link(&session);
        session.apply(Edit::SetSteer(0.4));
        let (balls_now, joints_now) = link(&session);
        assert!((balls_now[0] - balls[0]).norm() > 0.03 && joints.len() == 2);
        for ([a, b], [c, d]) in [(balls, balls_now), ([joints[0], joints[1]], [joints_now[0], joints_now[1]])]
        {
            assert!(((a - b).norm() - (c - d).norm()).abs() < 1e-9, "{stem}");
        }
        for (joint, now) in joints.iter().zip(&joints_now) {
            for (ball, ball_now) in balls.iter().zip(&balls_now) {
                assert!(((joint - ball).norm() - (now - ball_now).norm()).abs() < 1e-9, "{stem}");
            }
        }
    }
}

#[test]
fn torsion_bars_third_spring_and_t_bar_are_there() {
    let view = view(&car("pullrod_t_bar"));
    let count = |of: &dyn Fn(&PartKind) -> bool| view.parts.iter().filter(|part| of(&part.kind)).count();
    let along_rocker =
        |kind: &PartKind| matches!(kind, PartKind::Tube { a, b, .. } if (b - a).x < -0.3 && a.z < 0.2);
    assert_eq!(count(&along_rocker), 2, "torsion bars");
    let across = |kind: &PartKind| {
        matches!(kind, PartKind::Damper { body_eye, moving_eye, spring: true, .. }
            if body_eye.y * moving_eye.y < 0.0)
    };
    assert_eq!(count(&across), 1, "third spring");
    let plain = |kind: &PartKind| matches!(kind, PartKind::Damper { spring: false, .. });
    assert_eq!(count(&plain), 2, "dampers without springs");
    let head = Point3::new(-0.024, 0.0, 0.268);
    let crossbar = |kind: &PartKind| matches!(kind, PartKind::BarArm { pivot, .. } if near(*pivot, head));
    assert_eq!(count(&crossbar), 2, "crossbar");
    let stem = |kind: &PartKind| matches!(kind, PartKind::Tube { b, .. } if near(*b, head));
    assert_eq!(count(&stem), 1, "stem");
}

/// Every point of every linkage, pulled to where it stands, stays; pulled a little, its part's turn is
/// taken out: the new car in the same pose has the point there, but for what its links now allow.
#[test]
fn a_pull_goes_the_way_the_part_has_turned() {
    for stem in every_car() {
        let mut session = car(&stem);
        let pose = poses(&session)[2];
        session.apply(Edit::SetPose(pose));
        for assembly in Assembly::ALL {
            let points = match assembly {
                Assembly::Corner(at) => session.solver().points(session.shown(), at),
                Assembly::Axle(end) => session.solver().axle_points(session.shown(), end),
            };
            for (hardpoint, posed) in points {
                let pulled = Pulled::begin(&session, assembly, hardpoint).unwrap();
                let design = assembly.hardpoints(session.car()).get(hardpoint).unwrap();
                assert!((pulled.design_place(posed) - design).norm() < 1e-12, "{stem}: {hardpoint}");
                let step = Vector3::new(1e-3, 0.0, 0.0);
                let moved = pulled.design_place(posed + step) - design;
                assert!((moved.norm() - 1e-3).abs() < 1e-12, "{stem}: {hardpoint}");
            }
        }
    }
}

/// A bracket's place on a beam: pulled by a step in a rolled pose, the axle's point moves in the
/// design pose by that step turned back with the axle.
#[test]
fn a_point_of_a_rolled_axle_is_pulled_in_the_axles_own_directions() {
    let mut session = car("hazel");
    session.apply(Edit::SetTravel { wheels: Wheels::Roll, travel: 0.04 });
    let at = |side| session.shown().wheel(WheelPosition { end: End::Rear, side }).wheel_centre;
    let across = (at(Side::Left) - at(Side::Right)).normalize();
    let assembly = Assembly::Axle(End::Rear);
    let pulled = Pulled::begin(&session, assembly, Hardpoint::PanhardRodAxle).unwrap();
    let points = session.solver().axle_points(session.shown(), End::Rear);
    let posed = points.iter().find(|(one, _)| *one == Hardpoint::PanhardRodAxle).unwrap().1;
    let moved = pulled.design_place(posed + across * 1e-3) - pulled.design_before();
    let wheel = |side| session.car().rear.corner(side).wheel.centre;
    let design = (wheel(Side::Left) - wheel(Side::Right)).normalize();
    assert!((moved - design * 1e-3).norm() < 1e-9, "{moved}");
    assert!(across.z > 0.04, "the axle is rolled");
    let stage =
        stage_of(&session, &Chosen { selected: Some((assembly, Hardpoint::WattAxis)), ..Chosen::default() });
    assert!(stage.car.points.iter().any(|point| point.key == key_of(assembly, Hardpoint::PanhardRodAxle)));
}

/// What stands on an arm off its line has a lug there, of one length in every pose.
#[test]
fn brackets_stand_on_their_arms() {
    for (stem, count) in [("h_arm", 4), ("semi_trailing", 4), ("alder", 4)] {
        let mut session = car(stem);
        let brackets = |session: &Session| -> Vec<f64> {
            let of = |part: &Part| match part.kind {
                PartKind::Bracket { foot, joint } => Some((foot - joint).norm()),
                _ => None,
            };
            view(session).parts.iter().filter_map(of).collect()
        };
        let before = brackets(&session);
        assert_eq!(before.len(), count, "{stem}");
        session.apply(Edit::SetTravel { wheels: Wheels::All, travel: 0.025 });
        for (a, b) in before.iter().zip(brackets(&session)) {
            assert!((a - b).abs() < 1e-9 && *a < 0.2, "{stem}: {a} {b}");
        }
    }
}

/// The close view of a corner holds what stands beside its wheel, up to the top of a strut.
#[test]
fn the_corner_view_holds_a_strut_to_its_top() {
    use wheelpath_stage::camera::projection::{ScreenRect, StageProjection};
    use wheelpath_stage::view::standard_views::StandardView;
    let view = view(&car("rowan"));
    let rect = ScreenRect::new(0.0, 0.0, 1280.0, 720.0);
    let at = WheelPosition { end: End::Front, side: Side::Left };
    let camera = StandardView::Corner(super::place_of(at)).camera(&view, rect.aspect());
    let key = key_of(at.into(), Hardpoint::StrutTop);
    let top = view.points.iter().find(|point| point.key == key).unwrap().at;
    let pixel = StageProjection::new(camera, rect).project(top).unwrap();
    assert!(rect.contains(pixel), "{pixel}");
}

/// A toe link's mount hangs on the frame, not in the air.
#[test]
fn the_mount_of_a_toe_link_hangs_on_the_frame() {
    for stem in ["alder", "rowan"] {
        let session = car(stem);
        let view = view(&session);
        for side in Side::BOTH {
            let at = WheelPosition { end: End::Rear, side };
            let toe = session.car().corner(at).hardpoints.get(Hardpoint::ToeLinkInner).unwrap();
            let near = |corner: &Point3<f64>| (corner.coords - toe).norm() < 0.04;
            let frames = view.parts.iter().filter(|part| match &part.kind {
                PartKind::Frame { corners } => corners.iter().any(near),
                _ => false,
            });
            assert_eq!(frames.count(), 1, "{stem} {side}");
        }
    }
}
