//! The text of a file beside a car: changes, limits or brackets, or faults at their places; and what is read can
//! be written and then reads back the same.

use crate::bases;
use crate::car_file::{assert_finite, assert_places};
use wheelpath_car_file::{
    Axes, BracketsFile, Direction, LimitsFile, ProposalFile, parse_brackets, parse_proposal, same_limits,
};
use wheelpath_geometry::{Car, LengthUnit, Proposal};

/// Longer texts are no files, only slow.
const LONGEST: usize = 12_000;

/// Reads a text. The first character says what it is read as, the second for which car; the rest is the text.
pub fn try_text(input: &str) {
    let mut letters = input.chars();
    let (Some(first), Some(second)) = (letters.next(), letters.next()) else { return };
    let text = letters.as_str();
    if text.len() > LONGEST {
        return;
    }
    let car = bases::car(u8::try_from(u32::from(second) % 32).unwrap_or_default());
    match u32::from(first) % 3 {
        0 => match parse_proposal(text, "changes.ron") {
            Err(error) => assert_places(bare(text), &error),
            Ok(read) => try_proposal(car, &read),
        },
        1 => match LimitsFile::parse(text, "limits.ron") {
            Err(error) => assert_places(bare(text), &error),
            Ok(read) => try_limits(car, bare(text), &read),
        },
        _ => match parse_brackets(text, "brackets.ron") {
            Err(error) => assert_places(bare(text), &error),
            Ok(read) => try_brackets(bare(text), &read),
        },
    }
}

fn bare(text: &str) -> &str {
    text.strip_prefix('\u{feff}').unwrap_or(text)
}

/// Units and axes to write a file afresh in.
fn measures() -> [(LengthUnit, Axes); 2] {
    let turned = Axes::new([Direction::Rearward, Direction::Right, Direction::Up]);
    [(LengthUnit::Millimetre, Axes::VEHICLE), (LengthUnit::Inch, turned.unwrap_or(Axes::VEHICLE))]
}

fn try_proposal(car: &Car, read: &ProposalFile) {
    let Ok(applied) = read.proposal.applied(car) else { return };
    assert_finite(&applied.car);
    // What leads from the one car to the other, written and read, leads there again.
    let between = Proposal::between(&read.proposal.name, car, &applied.car);
    for (units, axes) in measures() {
        let file = ProposalFile::new(between.clone(), car, units, axes);
        // Numbers that no file may hold, such as a tyre without a width, cannot be saved.
        let Ok(text) = file.checked_text("again.ron") else { continue };
        let again = parse_proposal(&text, "again.ron").unwrap_or_else(|error| panic!("{error}\n{text}"));
        assert_eq!(again.proposal.name, read.proposal.name);
        let there = again.proposal.applied(car).unwrap_or_else(|error| panic!("{error:?}\n{text}"));
        assert!(there.elsewhere.is_empty(), "not as it was just written: {:?}\n{text}", there.elsewhere);
    }
}

fn try_limits(car: &Car, text: &str, read: &LimitsFile) {
    let same = read
        .with_limits(read.limits(), car)
        .unwrap_or_else(|error| panic!("limits that were read cannot be saved: {error}"));
    assert_eq!(same.text(), text, "nothing changed, yet the text did");
    for (units, axes) in measures() {
        let new = LimitsFile::new(units, axes).unwrap_or_else(|error| panic!("{error}"));
        // Steering is counted by what this car steers with, so the limits of another may be refused.
        let Ok(fresh) = new.with_limits(read.limits(), car) else { continue };
        let again = LimitsFile::parse(fresh.text(), "again.ron")
            .unwrap_or_else(|error| panic!("{error}\n{}", fresh.text()));
        assert!(same_limits(again.limits(), read.limits()), "{}", fresh.text());
    }
    let fewer: Vec<_> = read.limits().iter().skip(1).cloned().collect();
    let fewer = read.with_limits(&fewer, car).unwrap_or_else(|error| panic!("one limit less: {error}"));
    assert_eq!(fewer.limits().len(), read.limits().len().saturating_sub(1));
}

fn try_brackets(text: &str, read: &BracketsFile) {
    let same = read
        .with_brackets(read.brackets())
        .unwrap_or_else(|error| panic!("brackets that were read cannot be saved: {error}"));
    assert_eq!(same.text(), text, "nothing changed, yet the text did");
    let fewer = read.brackets().get(1..).unwrap_or_default();
    let fewer = read.with_brackets(fewer).unwrap_or_else(|error| panic!("one bracket less: {error}"));
    assert_eq!(fewer.brackets().len(), read.brackets().len().saturating_sub(1));
}
