//! Whatever is done in whatever order, every step of it can be taken back and done again.

use super::{alder, car};
use crate::session::{CarEdit, Edit, Handle, PlateBy, Session, Wheels};
use nalgebra::Vector3;
use proptest::prelude::*;
use wheelpath_geometry::{Assembly, Axis, BodyPose, Hardpoint, Link, Parameter, WheelNumber, WheelPosition};

fn any_wheel() -> impl Strategy<Value = WheelPosition> {
    (0..4_usize).prop_map(|n| WheelPosition::ALL[n])
}

fn any_assembly() -> impl Strategy<Value = Assembly> {
    (0..Assembly::ALL.len()).prop_map(|n| Assembly::ALL[n])
}

/// Something done: an edit, or a pull along a handle, which depends on the car it is done to.
#[derive(Clone, Debug)]
enum Deed {
    Edit(Edit),
    Pull { assembly: Assembly, hardpoint: Hardpoint, handle: Handle, to: [f64; 2], mirrored: bool },
}

fn any_deed() -> impl Strategy<Value = Deed> {
    let hardpoint = (0..Hardpoint::COUNT).prop_map(|n| Hardpoint::ALL[n]);
    // Each point by a link of its own among others.
    let handle = (0..Link::COUNT + 12).prop_map(|n| match n.checked_sub(Link::COUNT) {
        Some(n) if n < 9 => Handle::Axis(Axis::ALL[n % 3]),
        Some(_) => Handle::Plate,
        None => Handle::Link(Link::ALL[n]),
    });
    let far = prop::array::uniform2(-0.02..0.02_f64);
    prop_oneof![
        3 => any_edit().prop_map(Deed::Edit),
        2 => (any_assembly(), hardpoint, handle, far, any::<bool>()).prop_map(
            |(assembly, hardpoint, handle, to, mirrored)| {
                // A link is pulled by one of its own ends.
                let hardpoint = match handle {
                    Handle::Link(link) if to[1] < 0.0 => link.ends().0,
                    Handle::Link(link) => link.ends().1,
                    _ => hardpoint,
                };
                Deed::Pull { assembly, hardpoint, handle, to, mirrored }
            }
        ),
    ]
}

fn any_edit() -> impl Strategy<Value = Edit> {
    let hardpoint = (0..Hardpoint::COUNT).prop_map(|n| Hardpoint::ALL[n]);
    let link = (0..Link::COUNT).prop_map(|n| Link::ALL[n]);
    prop_oneof![
        4 => (any_assembly(), hardpoint.clone(), prop::array::uniform3(-0.9..0.9_f64), any::<bool>()).prop_map(
            |(assembly, hardpoint, to, mirrored)| {
                Edit::Change(CarEdit::move_point(assembly, hardpoint, Vector3::from(to), mirrored))
            }
        ),
        2 => (any_assembly(), hardpoint, any::<bool>()).prop_map(|(assembly, hardpoint, mirrored)| {
            Edit::Change(CarEdit::Reset { assembly, parameter: Parameter::Point(hardpoint), mirrored })
        }),
        2 => (any_assembly(), link, 0.05..0.8_f64, any::<bool>()).prop_map(|(assembly, link, length, mirrored)| {
            Edit::Change(CarEdit::set_number(assembly, Parameter::Length(link), length, mirrored))
        }),
        2 => (any_wheel(), -0.1..0.1_f64, any::<bool>()).prop_map(|(wheel, to, mirrored)| {
            Edit::Change(CarEdit::set_number(wheel.into(), Parameter::Wheel(WheelNumber::Toe), to, mirrored))
        }),
        1 => Just(Edit::Settle),
        1 => Just(Edit::Undo),
        1 => Just(Edit::Redo),
        1 => (-0.2..0.2_f64).prop_map(|travel| Edit::SetTravel { wheels: Wheels::Roll, travel }),
        1 => (-0.1..0.1_f64).prop_map(Edit::SetSteer),
        1 => prop::array::uniform3(-0.02..0.02_f64)
            .prop_map(|[front, rear, roll]| Edit::Stand(BodyPose { front, rear, roll })),
    ]
}

/// A car to the last bit: the shortest decimals that read back as the same number, signs of zero kept.
fn bits(session: &Session) -> String {
    format!("{:?}", session.car())
}

fn undone_and_redone(mut session: Session, deeds: Vec<Deed>) -> Result<(), TestCaseError> {
    // The car at each depth of undo.
    let mut at_depth = vec![bits(&session)];
    for assembly in Assembly::ALL {
        for &hardpoint in &Hardpoint::ALL[..12] {
            let by = PlateBy::Normal(Vector3::new(0.1, 1.0, 0.2));
            session.apply(Edit::SetPlate { assembly, hardpoint, by, mirrored: false });
        }
    }
    for deed in deeds {
        let edit = match deed {
            Deed::Edit(edit) => edit,
            Deed::Pull { assembly, hardpoint, handle, to, mirrored } => {
                let Some(guide) = session.guide(assembly, hardpoint, handle) else { continue };
                Edit::Change(session.pull(assembly, hardpoint, guide, to, mirrored))
            }
        };
        let changes = matches!(edit, Edit::Change(_));
        session.apply(edit);
        // Whatever was typed, what is shown is a pose of a car that can be solved.
        prop_assert!(session.solver().solve(&session.shown().pose).is_ok());
        let depth = session.steps().count();
        at_depth.resize(at_depth.len().max(depth + 1), String::new());
        if changes {
            at_depth[depth] = bits(&session);
        } else {
            prop_assert_eq!(&bits(&session), &at_depth[depth]);
        }
    }
    let depth = session.steps().count();
    for below in (0..depth).rev() {
        session.apply(Edit::Undo);
        prop_assert_eq!(&bits(&session), &at_depth[below]);
    }
    prop_assert_eq!(session.next_undo(), None);
    prop_assert_eq!(session.car(), session.original());
    prop_assert!(!session.is_stale());
    for above in at_depth.iter().skip(1).take(depth) {
        session.apply(Edit::Redo);
        prop_assert_eq!(&bits(&session), above);
    }
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn every_step_goes_back_and_forth_to_the_last_bit(deeds in prop::collection::vec(any_deed(), 1..24)) {
        undone_and_redone(alder(), deeds)?;
    }

    #[test]
    fn and_on_a_car_that_is_not_alike_left_and_right(deeds in prop::collection::vec(any_deed(), 1..12)) {
        undone_and_redone(car("hazel"), deeds)?;
    }
}
