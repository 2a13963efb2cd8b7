use super::{Guide, Handle, PlateBy, Session, snapped};
use crate::session::{About, CarEdit, Edit};
use crate::test_cars::{alder, car, every_car};
use nalgebra::Vector3;
use wheelpath_geometry::{Assembly, Axis, End, Hardpoint, Link, Side, WheelPosition};

const LEFT: Assembly = Assembly::Corner(WheelPosition { end: End::Front, side: Side::Left });
const RIGHT: Assembly = Assembly::Corner(WheelPosition { end: End::Front, side: Side::Right });
const ROD: Hardpoint = Hardpoint::TieRodInner;

fn at(session: &Session, assembly: Assembly, hardpoint: Hardpoint) -> Vector3<f64> {
    assembly.hardpoints(session.car()).get(hardpoint).unwrap()
}

fn pull(session: &mut Session, handle: Handle, to: [f64; 2], mirrored: bool) {
    let guide = session.guide(LEFT, ROD, handle).expect("the handle");
    let change = session.pull(LEFT, ROD, guide, to, mirrored);
    session.apply(Edit::Change(change));
}

#[test]
fn along_a_link_its_length_changes_by_as_much_and_the_step_says_so() {
    let mut session = alder();
    let rod = |s: &Session, assembly| (at(s, assembly, ROD) - at(s, assembly, Hardpoint::TieRodOuter)).norm();
    let before = [rod(&session, LEFT), rod(&session, RIGHT)];
    for millimetres in [-0.4, -0.9, -1.5] {
        pull(&mut session, Handle::Link(Link::TieRod), [millimetres * 1e-3, 0.0], true);
    }
    for (assembly, before) in [LEFT, RIGHT].into_iter().zip(before) {
        assert!((rod(&session, assembly) - before + 1.5e-3).abs() < 1e-12, "{assembly}");
    }
    assert_eq!(session.next_undo(), Some("tie rod, inner end, front both: along the tie rod −1.5 mm"));
    assert_eq!(session.steps().count(), 1);
    session.apply(Edit::Settle);
    pull(&mut session, Handle::Link(Link::TieRod), [-2e-3, 0.0], false);
    assert_eq!(session.next_undo(), Some("tie rod, inner end, front left: along the tie rod −0.5 mm"));
    pull(&mut session, Handle::Axis(Axis::X), [3e-3, 0.0], false);
    assert_eq!(session.steps().count(), 3, "another handle is another step");
}

#[test]
fn pulled_back_it_is_where_it_was_to_the_last_bit_and_no_step() {
    let mut session = alder();
    for handle in [Handle::Axis(Axis::Y), Handle::Link(Link::TieRod)] {
        pull(&mut session, handle, [7.3e-3, 0.0], true);
        assert!(session.is_changed());
        pull(&mut session, handle, [0.0; 2], true);
        assert_eq!(session.car(), session.original(), "{handle:?}");
        assert_eq!(session.next_undo(), None);
    }
    // Over two steps too.
    pull(&mut session, Handle::Link(Link::TieRod), [7.3e-3, 0.0], true);
    session.apply(Edit::Settle);
    pull(&mut session, Handle::Link(Link::TieRod), [0.0; 2], true);
    assert_eq!(session.car(), session.original());
    assert_eq!(session.steps().count(), 2);
}

#[test]
fn in_a_plate_a_point_keeps_to_its_plane() {
    let mut session = alder();
    assert!(session.guide(LEFT, ROD, Handle::Plate).is_none(), "not before it is given");
    let normal = Vector3::new(0.2, 0.9, -0.3);
    session.apply(Edit::SetPlate {
        assembly: LEFT,
        hardpoint: ROD,
        by: PlateBy::Normal(normal),
        mirrored: true,
    });
    let before = [at(&session, LEFT, ROD), at(&session, RIGHT, ROD)];
    pull(&mut session, Handle::Plate, [3e-3, -4e-3], true);
    let by = at(&session, LEFT, ROD) - before[0];
    assert!((by.norm() - 5e-3).abs() < 1e-12 && by.dot(&normal).abs() < 1e-15, "{by}");
    let mirrored = at(&session, RIGHT, ROD) - before[1];
    assert!((mirrored - Vector3::new(by.x, -by.y, by.z)).norm() < 1e-15);
    let words = "tie rod, inner end, front both: in the plate: across +3.0 mm, up −4.0 mm";
    assert_eq!(session.next_undo(), Some(words));
    // The other side's plate is the mirrored one, and stays known when the pull is undone.
    session.apply(Edit::Undo);
    let other = session.plate(RIGHT, ROD).unwrap();
    assert!((other - Vector3::new(0.2, -0.9, -0.3).normalize()).norm() < 1e-15);
    session.apply(Edit::SetPlate { assembly: LEFT, hardpoint: ROD, by: PlateBy::Forgotten, mirrored: false });
    assert!(session.plate(LEFT, ROD).is_none() && session.plate(RIGHT, ROD).is_some());
}

#[test]
fn a_plate_through_three_points_holds_all_of_them() {
    let mut session = alder();
    let three = [Hardpoint::LowerWishboneFront, Hardpoint::LowerWishboneRear, Hardpoint::UpperWishboneFront]
        .map(|hardpoint| (LEFT, hardpoint));
    session.apply(Edit::SetPlate {
        assembly: LEFT,
        hardpoint: ROD,
        by: PlateBy::Points(three),
        mirrored: false,
    });
    let normal = session.plate(LEFT, ROD).unwrap();
    let [a, b, c] = three.map(|(assembly, hardpoint)| at(&session, assembly, hardpoint));
    for edge in [b - a, c - a, c - b] {
        assert!(normal.dot(&edge).abs() < 1e-12);
    }
    for by in [
        PlateBy::Points([three[0], three[1], three[0]]),
        PlateBy::Normal(Vector3::zeros()),
        PlateBy::Normal(Vector3::repeat(f64::NAN)),
    ] {
        session.apply(Edit::SetPlate { assembly: LEFT, hardpoint: ROD, by, mirrored: false });
        let said = session.notices();
        assert!(said[0].severe && said[0].about == About::Hardpoint(LEFT, ROD), "{by:?}: {said:?}");
        assert_eq!(session.plate(LEFT, ROD), Some(normal), "the old one stays");
    }
}

#[test]
fn the_directions_of_a_plate_are_square_and_lead_forward_and_up() {
    let diagonal = Vector3::new(1.0, 1.0, 1.0);
    for normal in
        [Vector3::x(), -Vector3::x(), Vector3::y(), Vector3::z(), diagonal, Vector3::new(9.0, 1.0, 0.5)]
    {
        let normal = normal.normalize();
        let Guide { along: u, across: Some(v), .. } = Guide::in_plate(normal) else { panic!("two") };
        for product in [u.dot(&v), u.dot(&normal), v.dot(&normal)] {
            assert!(product.abs() < 1e-15, "{normal}");
        }
        assert!((u.norm() - 1.0).abs() < 1e-15 && (v.norm() - 1.0).abs() < 1e-15);
    }
    let upright = Guide::in_plate(Vector3::y());
    assert_eq!((upright.along, upright.across), (Vector3::x(), Some(Vector3::z())));
    let bulkhead = Guide::in_plate(Vector3::x());
    assert_eq!((bulkhead.along, bulkhead.across), (Vector3::y(), Some(Vector3::z())));
}

#[test]
fn steps_are_whole_and_none_leaves_the_distance() {
    for (distance, step, to) in [(1.4e-3, 1e-3, 1e-3), (-1.6e-3, 1e-3, -2e-3), (2.4e-3, 5e-3, 0.0)] {
        assert!((snapped(distance, step) - to).abs() < 1e-15, "{distance} in {step}");
    }
    assert_eq!(snapped(1.234e-3, 0.0).to_bits(), 1.234e-3_f64.to_bits());
}

/// Every point of every car has the three axes, and one handle for each link that ends there.
#[test]
fn every_point_has_its_handles() {
    for stem in every_car() {
        let session = car(&stem);
        for assembly in Assembly::ALL {
            for (hardpoint, _) in assembly.hardpoints(session.car()).iter() {
                let guides = session.handles(assembly, hardpoint);
                let links = Link::ALL.iter().filter(|link| {
                    let (inner, outer) = link.ends();
                    let there = |end| assembly.hardpoints(session.car()).get(end).is_some();
                    (inner == hardpoint || outer == hardpoint) && there(inner) && there(outer)
                });
                assert_eq!(guides.len(), 3 + links.count(), "{stem}, {assembly}, {hardpoint}");
                for guide in guides {
                    assert_eq!(Handle::from_key(guide.handle.key()), Some(guide.handle));
                    assert!((guide.along.norm() - 1.0).abs() < 1e-12);
                }
            }
        }
    }
}

#[test]
fn a_sitting_has_no_end_of_steps() {
    let mut session = alder();
    let mut cars = vec![session.car().clone()];
    for n in 1..=1200_i32 {
        // Small ones: what cannot be solved would be quick, and prove less.
        pull(&mut session, Handle::Axis(Axis::Z), [1e-6 * f64::from(n), 0.0], false);
        session.apply(Edit::Settle);
        cars.push(session.car().clone());
    }
    assert_eq!(session.steps().count(), 1200);
    for car in cars.iter().rev().skip(1) {
        session.apply(Edit::Undo);
        assert_eq!(session.car(), car);
    }
    assert_eq!(session.next_undo(), None);
}

#[test]
fn a_pull_that_is_no_number_is_refused() {
    let mut session = alder();
    let guide = session.guide(LEFT, ROD, Handle::Axis(Axis::X)).unwrap();
    for bad in [f64::NAN, f64::INFINITY, 1e9] {
        let by = [bad, 0.0];
        session.apply(Edit::Change(CarEdit::Pull {
            assembly: LEFT,
            hardpoint: ROD,
            guide,
            by,
            mirrored: true,
        }));
        assert!(!session.is_changed() && session.notices()[0].severe, "{bad}");
    }
}
