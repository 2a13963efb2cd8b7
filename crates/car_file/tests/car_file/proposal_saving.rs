//! A proposal saved over its own file: what did not change stays as it is written.

use wheelpath_car_file::{LoadError, ProposalFile, parse, parse_proposal};
use wheelpath_geometry::{Car, End, Hardpoint, Proposal, Side};

const ALDER: &str = include_str!("../../../../demo-cars/alder.ron");
const TIE_ROD_DOWN: &str = include_str!("../../../../demo-cars/alder/tie-rod-down.ron");

fn alder() -> Car {
    parse(ALDER, "alder.ron").unwrap().car
}

/// A point of the front axle raised on both sides, metres.
fn raise(car: &mut Car, hardpoint: Hardpoint, by: f64) {
    for side in Side::BOTH {
        let hardpoints = &mut car.axle_mut(End::Front).corner_mut(side).hardpoints;
        let at = hardpoints.get(hardpoint).unwrap();
        hardpoints.set(hardpoint, at + nalgebra::Vector3::new(0.0, 0.0, by));
    }
}

fn revised(text: &str, change: impl Fn(&mut Car)) -> (Proposal, String) {
    let car = alder();
    let before = parse_proposal(text, "a.ron").unwrap().proposal;
    let mut to = before.applied(&car).unwrap().car;
    change(&mut to);
    let revised = before.revised(&car, &to).unwrap();
    let text = ProposalFile::text_over(text, "a.ron", &revised).unwrap();
    (revised, text)
}

#[test]
fn unchanged_it_is_the_same_text() {
    assert_eq!(revised(TIE_ROD_DOWN, |_| {}).1, TIE_ROD_DOWN);
}

#[test]
fn comments_words_and_units_stay_and_only_what_changed_is_changed() {
    let text = TIE_ROD_DOWN.replace("now: (88.0, 240.0, 166.5)),", "now: (88.0, 240.0, 166.5)), // spacer");
    let (_, saved) = revised(&text, |car| raise(car, Hardpoint::TieRodInner, 1e-3));
    assert_eq!(saved, text.replace("166.5)", "167.5)"));
    let (_, saved) = revised(&text, |car| raise(car, Hardpoint::TieRodOuter, 2e-3));
    assert!(saved.contains("166.5)), // spacer\n"), "{saved}");
    for part in ["point: tie_rod_outer", "was: (98.0, 692.0, 195.0)", "now: (98.0, 692.0, 197.0)"] {
        assert!(saved.contains(part), "{saved}");
    }
}

#[test]
fn shims_stay_shims() {
    let text = TIE_ROD_DOWN.replace(
        "    changes: [",
        "    changes: [\n        // under the rack\n        Shim(under: [tie_rod_inner], of: front_both, along: (0.0, 0.0, 1.0), thickness: 2.0),",
    );
    let (proposal, saved) = revised(&text, |car| raise(car, Hardpoint::TieRodOuter, 2e-3));
    assert!(saved.contains("// under the rack\n        Shim(under: [tie_rod_inner]"), "{saved}");
    let back = parse_proposal(&saved, "a.ron").unwrap().proposal.applied(&alder()).unwrap();
    assert!(back.elsewhere.is_empty(), "{:?}", back.elsewhere);
    let mut wanted = parse_proposal(&text, "a.ron").unwrap().proposal.applied(&alder()).unwrap().car;
    raise(&mut wanted, Hardpoint::TieRodOuter, 2e-3);
    assert!(Proposal::between("", &back.car, &wanted).changes.is_empty());
    assert_eq!(proposal.about, parse_proposal(&text, "a.ron").unwrap().proposal.about);
}

#[test]
fn over_a_file_with_faults_nothing_is_said() {
    let proposal = parse_proposal(TIE_ROD_DOWN, "a.ron").unwrap().proposal;
    let broken = TIE_ROD_DOWN.replace("Millimetre", "Cubit");
    assert!(ProposalFile::text_over(&broken, "a.ron", &proposal).is_err());
    assert!(matches!(parse_proposal(&broken, "a.ron"), Err(LoadError::Faulty(_))));
}
