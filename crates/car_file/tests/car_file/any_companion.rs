//! Whatever stands beside a car: a proposal, limits or brackets are read whole or refused with faults at
//! places that there are; what is read is saved unchanged as the same text.

use crate::CAR;
use proptest::prelude::*;
use wheelpath_car_file::{
    LimitsFile, LoadError, ProposalFile, kind_of_text, parse, parse_brackets, parse_proposal,
};

const COMPANIONS: [&str; 4] = [
    include_str!("../../../../demo-cars/alder/limits.ron"),
    include_str!("../../../../demo-cars/alder/brackets.ron"),
    include_str!("../../../../demo-cars/alder/tie-rod-down.ron"),
    include_str!("../../../../demo-cars/alder/arms-outboard.ron"),
];

const PIECES: &[&str] = &[
    "(",
    ")",
    "[",
    "]",
    ",",
    ":",
    "\"",
    "/*",
    "//",
    "-",
    "1e999",
    "NaN",
    "0.0",
    "-0.0",
    "1e-320",
    "FromPoints",
    "Shim",
    "front_both",
    "name: \"\",",
    "\u{1b}[31m",
    "\u{202e}",
    "\\n",
    "{}",
    "Some(",
    "\u{0}",
    "limits",
    "points: [],",
];

fn assert_places(text: &str, error: &LoadError) {
    assert!(!error.problems().is_empty(), "refused without a reason");
    for problem in error.problems() {
        let line = text.split('\n').nth(problem.place.line - 1);
        assert!(line.is_some_and(|line| problem.place.column <= line.chars().count() + 1), "{problem}");
        assert!(!problem.hint().is_empty(), "{problem}: no hint");
        let said = problem.to_string();
        assert!(said.chars().all(|c| !wheelpath_geometry::acts(c)) && said.chars().count() < 600, "{said:?}");
    }
}

/// Each reader looks at each text; one at most takes it. Gives whether one did.
fn read(text: &str) -> bool {
    let car = parse(CAR, "car.ron").unwrap().car;
    let mut taken = 0;
    match LimitsFile::parse(text, "limits.ron") {
        Ok(file) => {
            taken += 1;
            assert_eq!(file.with_limits(file.limits(), &car).unwrap().text(), text);
        }
        Err(error) => assert_places(text, &error),
    }
    match parse_brackets(text, "brackets.ron") {
        Ok(file) => {
            taken += 1;
            assert_eq!(file.with_brackets(file.brackets()).unwrap().text(), text);
        }
        Err(error) => assert_places(text, &error),
    }
    match parse_proposal(text, "proposal.ron") {
        Ok(file) => {
            taken += 1;
            let over = ProposalFile::text_over(text, "proposal.ron", &file.proposal).unwrap();
            assert_eq!(over, text);
            let fresh = file.checked_text("proposal.ron").unwrap();
            assert_eq!(parse_proposal(&fresh, "proposal.ron").unwrap().proposal.name, file.proposal.name);
        }
        Err(error) => assert_places(text, &error),
    }
    assert!(taken <= 1 && (taken == 0 || kind_of_text(text).is_some()), "{taken} kinds at once");
    taken == 1
}

#[test]
fn the_demo_cars_own_are_each_of_one_kind() {
    assert!(COMPANIONS.into_iter().all(read));
}

proptest! {
    #[test]
    fn any_text_beside_a_car_is_read_whole_or_refused_in_words(
        text in prop::sample::select(&COMPANIONS[..]),
        cuts in prop::collection::vec(
            (any::<prop::sample::Index>(), 0..12_usize, prop::sample::select(PIECES)), 1..4),
    ) {
        let mut letters: Vec<char> = text.chars().collect();
        for (at, gone, piece) in cuts {
            let at = at.index(letters.len());
            let end = (at + gone).min(letters.len());
            letters.splice(at..end, piece.chars());
        }
        read(&letters.into_iter().collect::<String>());
    }

    #[test]
    fn other_numbers_beside_a_car_are_read_or_refused_too(
        text in prop::sample::select(&COMPANIONS[..]),
        changes in prop::collection::vec((any::<prop::sample::Index>(), -900.0..900.0_f64), 1..5),
    ) {
        let mut text = text.to_owned();
        for (which, number) in changes {
            let bytes = text.as_bytes();
            let starts: Vec<usize> = (1..bytes.len())
                .filter(|&at| bytes[at].is_ascii_digit() && b" (-".contains(&bytes[at - 1]))
                .collect();
            let start = starts[which.index(starts.len())];
            let long = text[start..].find(|c: char| !c.is_ascii_digit() && c != '.').unwrap_or(0);
            text.replace_range(start..start + long, &format!("{number:.2}"));
        }
        read(&text);
    }
}
