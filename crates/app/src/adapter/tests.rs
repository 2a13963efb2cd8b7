use super::{
    Chosen, OVERLAYS, Pulled, handle_key, handle_of, key_of, place_of, point_of, stage_of, wheel_of,
};
use nalgebra::Vector3;
use std::collections::BTreeSet;
use wheelpath_geometry::{Assembly, CarPose, Hardpoint, WheelPosition};
use wheelpath_session::{CarEdit, Edit, Session};
use wheelpath_stage::view::{OverlayShape, PartKind, WheelSlot};

fn alder() -> Session {
    crate::test_cars::alder()
}

#[test]
fn names_go_there_and_back() {
    for at in WheelPosition::ALL {
        assert_eq!(wheel_of(place_of(at)), at);
        assert_eq!(place_of(at).name(), at.to_string());
    }
    for assembly in Assembly::ALL {
        for &hardpoint in Hardpoint::ALL {
            assert_eq!(point_of(&key_of(assembly, hardpoint)), Some((assembly, hardpoint)));
        }
    }
    assert_eq!(point_of("front_left"), None);
    assert_eq!(wheel_of(WheelSlot::RearRight).index(), 3);
}

#[test]
fn all_parts_keep_their_place_in_the_list_from_pose_to_pose() {
    let mut session = alder();
    let kinds = |session: &Session| -> Vec<_> {
        let stage = stage_of(session, &Chosen::default());
        stage.car.parts.iter().map(|part| std::mem::discriminant(&part.kind)).collect()
    };
    let at_rest = kinds(&session);
    session.apply(Edit::SetPose(CarPose { travel: [0.02, -0.01, 0.0, 0.015], steer: 0.02 }));
    assert_eq!(kinds(&session), at_rest);
    let stage = stage_of(&session, &Chosen::default());
    assert_eq!(stage.car.wheels.len(), 4);
    assert!(stage.ghost.is_none());
    let rack = stage.car.parts.iter().find_map(|part| match part.kind {
        PartKind::Rack { rack_left, housing_left, .. } => Some(rack_left.y - housing_left.y),
        _ => None,
    });
    assert!(rack.unwrap() > 0.03, "the rack comes out of its housing");
}

#[test]
fn a_changed_car_has_a_ghost_and_says_what_changed() {
    let mut session = alder();
    let wheel = WheelPosition::ALL[0];
    let at = session.car().corner(wheel).hardpoints.get(Hardpoint::TieRodInner).unwrap();
    let to = at - Vector3::new(0.0, 0.0, 2e-3);
    session.apply(Edit::Change(CarEdit::move_point(wheel.into(), Hardpoint::TieRodInner, to, false)));
    let stage = stage_of(
        &session,
        &Chosen { selected: Some((wheel.into(), Hardpoint::TieRodOuter)), ..Chosen::default() },
    );
    assert!(stage.ghost.is_some());
    let of = |hardpoint| {
        stage.car.points.iter().find(|point| point.key == key_of(wheel.into(), hardpoint)).unwrap().emphasis
    };
    assert_eq!(of(Hardpoint::TieRodInner), wheelpath_stage::view::Emphasis::Changed);
    assert_eq!(of(Hardpoint::TieRodOuter), wheelpath_stage::view::Emphasis::Selected);
}

#[test]
fn every_overlay_can_be_switched_and_holds_finite_places() {
    let mut session = alder();
    for pose in [CarPose::REFERENCE, CarPose { travel: [0.02, -0.02, 0.01, 0.0], steer: -0.03 }] {
        session.apply(Edit::SetPose(pose));
        let stage = stage_of(&session, &Chosen::default());
        let known = OVERLAYS.map(|(id, ..)| id);
        for overlay in &stage.overlays {
            assert!(known.contains(&overlay.id.as_str()), "{} has no switch", overlay.id);
            let finite = match &overlay.shape {
                OverlayShape::Line { a, b } | OverlayShape::Dimension { a, b, .. } => {
                    a.iter().chain(b.iter()).all(|x| x.is_finite())
                }
                OverlayShape::Angle { vertex, to, .. } => {
                    vertex.iter().chain(to.iter()).all(|x| x.is_finite())
                }
                OverlayShape::Construction { meet, .. } => meet.iter().all(|x| x.is_finite()),
                OverlayShape::Parallel { direction, .. } => direction.iter().all(|x| x.is_finite()),
                OverlayShape::Pieces(pieces) => {
                    pieces.iter().flatten().all(|at| at.iter().all(|x| x.is_finite()))
                }
                OverlayShape::Marker { at, .. } => at.iter().all(|x| x.is_finite()),
            };
            assert!(finite, "{overlay:?}");
        }
        let seen: BTreeSet<&str> = stage.overlays.iter().map(|overlay| overlay.id.as_str()).collect();
        let missing: Vec<_> = known.iter().filter(|id| !seen.contains(*id)).collect();
        let turned = pose.steer != 0.0;
        assert!(missing.is_empty() || (!turned && missing == [&"turn_centre"]), "{missing:?} at {pose:?}");
    }
}

/// A point pulled to where it stands already stays; pulled by a small step in the pose, it goes there
/// in the pose as far as the links' new lengths let it.
#[test]
fn a_pull_in_any_pose_moves_the_design_point_the_same_way() {
    let mut session = alder();
    session.apply(Edit::SetPose(CarPose { travel: [0.025; 4], steer: 0.02 }));
    let wheel = WheelPosition::ALL[0];
    for &hardpoint in Hardpoint::ALL {
        let Some(pulled) = Pulled::begin(&session, wheel.into(), hardpoint) else { continue };
        let design = session.car().corner(wheel).hardpoints.get(hardpoint).unwrap();
        let posed = session
            .solver()
            .points(session.shown(), wheel)
            .into_iter()
            .find_map(|(one, at)| (one == hardpoint).then_some(at))
            .unwrap();
        assert!((pulled.design_place(posed) - design).norm() < 1e-12, "{hardpoint}");
        let step = Vector3::new(0.0, 0.0, 1e-3);
        let moved = pulled.design_place(posed + step) - design;
        assert!((moved.norm() - 1e-3).abs() < 1e-12, "{hardpoint}: a shift keeps its length");
        assert!(moved.z > 0.8e-3, "{hardpoint} goes {moved:?}");
    }
}

/// Common practice, no source: where both hinge lines lie along X and steering is held square, the
/// linkage is planar in front view, and the drawing-board instant centre is the exact one.
#[test]
fn the_drawing_board_finds_the_instant_centre_of_a_planar_corner_only() {
    let mut session = alder();
    let label = |session: &Session| {
        let stage = stage_of(session, &Chosen::default());
        let overlay = stage.overlays.iter().find(|overlay| overlay.id == "front_view_instant_centre");
        overlay.and_then(|overlay| overlay.label.clone()).unwrap()
    };
    assert!(label(&session).contains("arm lines"), "{}", label(&session));
    let at = WheelPosition::ALL[0];
    let corner = session.car().corner(at).clone();
    let get = |hardpoint| corner.hardpoints.get(hardpoint).unwrap();
    let mut planar = corner.hardpoints.clone();
    for (front, rear) in [
        (Hardpoint::UpperWishboneFront, Hardpoint::UpperWishboneRear),
        (Hardpoint::LowerWishboneFront, Hardpoint::LowerWishboneRear),
    ] {
        let mut same = get(front);
        same.x = get(rear).x;
        planar.set(rear, same);
    }
    // The tie rod as a third arm through the same instant centre: on the lower arm's line.
    for (tie, arm) in [
        (Hardpoint::TieRodInner, Hardpoint::LowerWishboneFront),
        (Hardpoint::TieRodOuter, Hardpoint::LowerBallJoint),
    ] {
        let mut to = get(arm);
        to.x = get(tie).x;
        planar.set(tie, to);
    }
    for hardpoint in [
        Hardpoint::UpperWishboneRear,
        Hardpoint::LowerWishboneRear,
        Hardpoint::TieRodInner,
        Hardpoint::TieRodOuter,
    ] {
        let to = planar.get(hardpoint).unwrap();
        session.apply(Edit::Change(CarEdit::move_point(at.into(), hardpoint, to, true)));
    }
    assert!(!session.is_stale());
    assert!(!label(&session).contains("arm lines"), "{}", label(&session));
}

/// In a pose the handles stand where the point does, turned with the part that carries it; pulled along
/// one, the design moves along the axis it names.
#[test]
fn handles_go_with_the_part_that_carries_their_point() {
    let mut session = alder();
    let (assembly, hardpoint) = (Assembly::Corner(WheelPosition::ALL[0]), Hardpoint::TieRodOuter);
    session.apply(Edit::SetPose(CarPose { steer: 0.03, ..CarPose::heave(0.015) }));
    let chosen = Chosen { selected: Some((assembly, hardpoint)), handles: true, ..Chosen::default() };
    let stage = stage_of(&session, &chosen);
    let point = stage.car.points.iter().find(|point| point.key == key_of(assembly, hardpoint)).unwrap();
    assert_eq!(stage.handles.len(), 4, "three axes and the rod");
    for handle in &stage.handles {
        assert_eq!(handle.at, point.at);
        let (of, which, kind) = handle_of(&handle.key).expect("a handle");
        assert_eq!((of, which, handle_key(of, which, kind)), (assembly, hardpoint, handle.key.clone()));
        let held = Pulled::begin(&session, assembly, hardpoint).unwrap();
        let guide = session.guide(assembly, hardpoint, kind).unwrap();
        let to = held.design_place(point.at.coords + handle.along * 5e-3);
        assert!((to - held.design_before() - guide.along * 5e-3).norm() < 1e-15, "{kind:?}");
    }
    // Forward as designed is well turned by the steering here.
    let turned = stage.handles[0].along.y.atan2(stage.handles[0].along.x).to_degrees();
    let steered =
        session.values().wheel(WheelPosition::ALL[0], wheelpath_geometry::reading("steer_angle").unwrap());
    assert!(turned.abs() > 5.0 && (turned - steered.unwrap().to_degrees()).abs() < 2.0, "{turned}");
    let hidden = Chosen { handles: false, ..chosen };
    assert!(stage_of(&session, &hidden).handles.is_empty());
}
