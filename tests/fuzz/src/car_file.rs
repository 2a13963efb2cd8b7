//! The text of a car file: a car or faults at their places; and what is loaded can be saved and is then
//! the same.

use crate::near::assert_same;
use wheelpath_car_file::{Axes, Direction, Document, LoadError, Loaded, parse};
use wheelpath_geometry::{Car, LengthUnit, WheelPosition, check};

/// Longer texts are no cars, only slow.
const LONGEST: usize = 20_000;

/// Parses a text, saves what came of it in several ways, parses that again.
pub fn try_text(text: &str) {
    if text.len() > LONGEST {
        return;
    }
    match parse(text, "car.ron") {
        Err(error) => assert_places(text, &error),
        Ok(loaded) => try_loaded(text, &loaded),
    }
}

/// An error says at least one thing, each at a place that there is, each with a hint.
pub fn assert_places(text: &str, error: &LoadError) {
    assert!(!error.problems().is_empty(), "refused without a reason");
    assert!(!error.to_string().is_empty());
    for problem in error.problems() {
        let line = problem.place.line.checked_sub(1).and_then(|line| text.split('\n').nth(line));
        let inside =
            |line: &str| problem.place.column >= 1 && problem.place.column <= line.chars().count() + 1;
        assert!(line.is_some_and(inside), "{problem}: outside the text");
        assert!(!problem.hint().is_empty(), "{problem}: no hint");
    }
}

fn try_loaded(text: &str, loaded: &Loaded) {
    let Loaded { car, document, warnings } = loaded;
    for warning in warnings {
        assert!(warning.is_warning(), "{warning}: a fault among the warnings");
    }
    assert_finite(car);
    assert!(check(car).iter().all(|f| f.severity == wheelpath_geometry::Severity::Warning));
    let again = saved(document.with_car(car), "as it is");
    assert_eq!(
        again.text(),
        text.strip_prefix('\u{feff}').unwrap_or(text),
        "nothing changed, yet the text did"
    );
    let turned = Axes::new([Direction::Right, Direction::Down, Direction::Rearward]);
    for (units, axes) in [
        (LengthUnit::Millimetre, Ok(Axes::VEHICLE)),
        (LengthUnit::Inch, turned.or(Axes::new([Direction::Rearward, Direction::Right, Direction::Up]))),
    ] {
        let axes = axes.unwrap_or(Axes::VEHICLE);
        let fresh =
            saved(Document::new(car, "new.ron", document.design_pose(), units, axes), "written afresh");
        let again = parse(fresh.text(), "new.ron").unwrap_or_else(|e| panic!("{e}\n{}", fresh.text()));
        assert_same(car, &again.car, "written afresh");
    }
    // An edit: one side of one axle moved, a bar taken off. It may be refused as a faulty car, but what is
    // saved is the edited car.
    let mut edited = car.clone();
    let at = WheelPosition::ALL[text.len() % 4];
    let corner = edited.corner_mut(at);
    let first = corner.hardpoints.iter().nth(text.len() % 7);
    if let Some((hardpoint, place)) = first {
        corner.hardpoints.set(hardpoint, place.map(|x| x + 1.25e-3));
    }
    corner.wheel.tyre_radius *= 1.01;
    edited.name.push_str(" \"2\"\n");
    if let Ok(document) = document.with_car(&edited) {
        let again = parse(document.text(), "car.ron").unwrap_or_else(|e| panic!("{e}\n{}", document.text()));
        assert_same(&edited, &again.car, "edited and saved");
        assert_eq!(again.document.about(), loaded.document.about());
        assert_eq!(again.document.design_pose(), loaded.document.design_pose());
    }
}

fn saved(result: Result<Document, wheelpath_car_file::SaveError>, what: &str) -> Document {
    result.unwrap_or_else(|error| panic!("a car that loads cannot be saved, {what}: {error}"))
}

/// No number of a car that was loaded is infinite or not a number.
pub fn assert_finite(car: &Car) {
    assert!(car.wheelbase.is_finite());
    for at in WheelPosition::ALL {
        let corner = car.corner(at);
        for (hardpoint, place) in corner.hardpoints.iter() {
            assert!(place.iter().all(|x| x.is_finite()), "{at} {hardpoint}: {place}");
        }
        let wheel = &corner.wheel;
        assert!(wheel.centre.iter().chain(wheel.spin_axis.iter()).all(|x| x.is_finite()));
        assert!([wheel.tyre_radius, wheel.tyre_width, wheel.rim_radius].iter().all(|x| x.is_finite()));
        assert!(corner.lengths.iter().all(|(_, length)| length.is_finite()));
        assert!(car.axle(at.end).hardpoints.iter().all(|(_, at)| at.iter().all(|x| x.is_finite())));
    }
}
