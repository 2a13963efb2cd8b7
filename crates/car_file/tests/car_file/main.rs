//! Car files and point tables, tested through what the crate offers.

#[cfg(test)]
mod any_car;
#[cfg(test)]
mod any_companion;
#[cfg(test)]
mod any_input;
#[cfg(test)]
mod brackets;
#[cfg(test)]
mod faults;
#[cfg(test)]
mod impossible;
#[cfg(test)]
mod kinds;
#[cfg(test)]
mod kinds_faults;
#[cfg(test)]
mod kinds_points;
#[cfg(test)]
mod kinds_saving;
#[cfg(test)]
mod knuckles;
#[cfg(test)]
mod large;
#[cfg(test)]
mod left_over;
#[cfg(test)]
mod limits_saving;
#[cfg(test)]
mod line_ends;
#[cfg(test)]
mod loads;
#[cfg(test)]
mod point_faults;
#[cfg(test)]
mod point_tables;
#[cfg(test)]
mod proposal_saving;
#[cfg(test)]
mod saving;
#[cfg(test)]
mod writing;
#[cfg(test)]
mod written_axes;

/// Warnings but those of what is unusual on cars: the cars of these tests are files to read, and none of them was
/// ever driven.
#[cfg(test)]
fn doubts(warnings: &[wheelpath_car_file::Problem]) -> Vec<wheelpath_car_file::Problem> {
    let is_doubt = |problem: &&wheelpath_car_file::Problem| !matches!(&problem.fault, wheelpath_car_file::Fault::Model(finding) if finding.out > 0.0);
    warnings.iter().filter(is_doubt).cloned().collect()
}

/// A car with every kind of value in it.
#[cfg(test)]
const CAR: &str = include_str!("small.ron");

/// Struts, and a beam axle with a Watt lever.
#[cfg(test)]
const STRUT_AND_AXLE: &str = include_str!("strut_and_axle.ron");
/// A steering box, rockers with all that can hang on them, and H-arms.
#[cfg(test)]
const BOX_AND_H_ARM: &str = include_str!("box_and_h_arm.ron");
/// Five links, and trailing arms.
#[cfg(test)]
const FIVE_LINKS_AND_ARM: &str = include_str!("five_links_and_arm.ron");

/// The car with pieces of its text, each of which stands there once, replaced.
#[cfg(test)]
fn with(changes: &[(&str, &str)]) -> String {
    changed(CAR, changes)
}

/// A text with pieces, each of which stands there once, replaced.
#[cfg(test)]
fn changed(text: &str, changes: &[(&str, &str)]) -> String {
    changes.iter().fold(text.to_owned(), |text, (from, to)| {
        assert_eq!(text.matches(from).count(), 1, "{from:?} is to stand once in the car");
        text.replace(from, to)
    })
}

/// The problems are these: where (the start of a piece of the text that stands there once), message, hint.
#[cfg(test)]
#[track_caller]
fn assert_problems(text: &str, found: &[wheelpath_car_file::Problem], expected: &[(&str, &str, &str)]) {
    let found: Vec<String> = found.iter().map(|problem| format!("{problem}\n  {}", problem.hint())).collect();
    let expected: Vec<String> = expected
        .iter()
        .map(|(at, message, hint)| {
            assert_eq!(text.matches(at).count(), 1, "{at:?} is to stand once in the text");
            let before = text.split(at).next().unwrap_or_default();
            let line = before.matches('\n').count() + 1;
            let column = before.chars().rev().take_while(|c| *c != '\n').count() + 1;
            format!("car.ron:{line}:{column}: {message}\n  {hint}")
        })
        .collect();
    assert_eq!(found, expected);
}

/// The text does not load, for exactly these reasons.
#[cfg(test)]
#[track_caller]
fn assert_refused(text: &str, expected: &[(&str, &str, &str)]) {
    match wheelpath_car_file::parse(text, "car.ron") {
        Err(error) => assert_problems(text, error.problems(), expected),
        Ok(loaded) => panic!("the car loaded, with {:?}", loaded.warnings),
    }
}
