//! A beam axle with king pins: read, written, and what is said where points are missing or of no use.

use nalgebra::Vector3;
use wheelpath_car_file::parse;
use wheelpath_geometry::{Car, Component, Hardpoint, Link, LinkageKind, Part, Side, Springing, ToeBy};

const TEXT: &str = include_str!("../../../../examples/linkages/steered_beam_axle.ron");

fn said(text: &str) -> String {
    match parse(text, "car.ron") {
        Ok(loaded) => loaded.warnings.iter().map(ToString::to_string).collect(),
        Err(error) => error.to_string(),
    }
}

#[test]
fn king_pins_drag_link_and_track_rod() {
    let car = parse(TEXT, "car.ron").unwrap_or_else(|error| panic!("{error}")).car;
    let axle = &car.front;
    assert!(axle.is_beam());
    assert_eq!(axle.right.linkage, LinkageKind::SteeredBeamAxle);
    let of = |hardpoint| axle.hardpoints.get(hardpoint);
    assert_eq!(of(Hardpoint::TrackRodRight), Some(Vector3::new(-0.152, -0.596, 0.322)));
    assert_eq!(of(Hardpoint::DragLinkLeft), Some(Vector3::new(0.154, 0.622, 0.418)));
    assert_eq!(of(Hardpoint::DragLinkRight), None);
    assert_eq!(axle.right.hardpoints.get(Hardpoint::KingPinUpper), Some(Vector3::new(-0.009, -0.634, 0.452)));
    // The springs stand on the axle, which is no upright here.
    assert_eq!(axle.left.springing, Some(Springing::Direct { on: Component::Axle }));
    assert_eq!(axle.carrier_at(Side::Left, Hardpoint::LowerLinkOuter), Some(Component::Axle));
    assert_eq!(axle.carrier(Hardpoint::TrackRodLeft), Component::Upright);
    assert_eq!(axle.carrier(Hardpoint::DragLinkInner), Component::Steering);
    assert_eq!(axle.carrier(Hardpoint::PanhardRodAxle), Component::Axle);
}

#[test]
fn what_is_written_is_what_was_meant() {
    let loaded = parse(TEXT, "car.ron").unwrap_or_else(|error| panic!("{error}"));
    let mut car = loaded.car;
    let axle = &mut car.front;
    let left = axle.hardpoints.get(Hardpoint::DragLinkLeft).unwrap();
    axle.hardpoints.remove(Hardpoint::DragLinkLeft);
    axle.hardpoints.set(Hardpoint::DragLinkRight, Vector3::new(left.x, -left.y, left.z));
    axle.lengths = vec![(Link::TrackRod, 1.1921)];
    axle.radii = vec![(Part::DragLink, 0.0125)];
    axle.left.drop_link_on = None;
    for hardpoint in
        [Hardpoint::DropLinkOuter, Hardpoint::DropLinkBar, Hardpoint::BarPivot, Hardpoint::BarAxis]
    {
        axle.left.hardpoints.remove(hardpoint);
    }
    axle.anti_roll_bar = None;
    axle.left.alignment.toe = ToeBy::TieRodLength(0.25_f64.to_radians());
    axle.right = axle.left.mirrored();
    let written = loaded.document.with_car(&car).unwrap_or_else(|error| panic!("{error}"));
    let again = parse(written.text(), "car.ron").unwrap_or_else(|error| panic!("{error}")).car;
    assert_eq!(again.front, car.front);
    // Into the file of another linkage too.
    let other = parse(crate::STRUT_AND_AXLE, "car.ron").unwrap_or_else(|error| panic!("{error}"));
    let with_axle = Car { front: car.front.clone(), ..other.car };
    let written = other.document.with_car(&with_axle).unwrap_or_else(|error| panic!("{error}"));
    let again = parse(written.text(), "car.ron").unwrap_or_else(|error| panic!("{error}")).car;
    assert_eq!(again.front, car.front);
}

#[test]
fn what_is_missing_or_wrong_is_said_by_its_name() {
    let check = |from: &str, to: &str, says: &str| {
        assert!(TEXT.contains(from), "{from}");
        let found = said(&TEXT.replacen(from, to, 1));
        assert!(found.contains(says), "{found}\nsays nothing of {says}");
    };
    check("track_rod_right: (-152.0, -596.0, 322.0),", "", "track rod, right end is missing");
    check("king_pin_upper: (-9.0, 634.0, 452.0),", "", "king pin, upper point is missing");
    check("drag_link_left: (154.0, 622.0, 418.0),", "", "nothing steers the knuckles");
    check(
        "drag_link_left: (154.0, 622.0, 418.0),",
        "drag_link_left: (154.0, 622.0, 418.0), drag_link_right: (154.0, -622.0, 418.0),",
        "ends on both knuckles",
    );
    check("Direct(on: Axle)", "Direct(on: Upright)", "Axle");
    check("linkage: SteeredBeamAxle", "linkage: BeamAxle", "SteeredBeamAxle");
    check(
        "(toe: FromPoints, camber: FromPoints)",
        "(toe: FromPoints, camber: UpperShim(camber_deg: 0.0))",
        "nothing adjusts the camber of the steered beam axle",
    );
}
