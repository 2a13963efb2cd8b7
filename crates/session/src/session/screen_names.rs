//! The names that things have on the screen, for messages in which their files' names stand.

use wheelpath_geometry::{Hardpoint, Link, Parameter, SpringNumber, SteeringNumber, WheelNumber, reading};

/// The name on the screen of a thing with this key in a car's file; `None` where it is in the file alone.
fn on_screen(key: &str) -> Option<String> {
    if let Some(hardpoint) = Hardpoint::from_key(key) {
        return Some(hardpoint.label().to_owned());
    }
    if let Some(link) = Link::from_key(key) {
        return Some(Parameter::Length(link).to_string());
    }
    let steering =
        SteeringNumber::ALL.into_iter().find(|number| number.key() == key).map(Parameter::Steering);
    let wheel = WheelNumber::ALL.into_iter().find(|number| number.key() == key).map(Parameter::Wheel);
    let spring = SpringNumber::ALL.into_iter().find(|number| number.key() == key).map(Parameter::Spring);
    if let Some(parameter) = wheel.or(steering).or(spring) {
        return Some(parameter.to_string());
    }
    match key {
        "spin_axis" => Some(format!("{} and {}", WheelNumber::Camber.label(), WheelNumber::Toe.label())),
        "centre" | "wheel_centre" => Some(Parameter::WheelCentre.to_string()),
        _ => reading(key).map(|reading| reading.name.to_lowercase()),
    }
}

/// A message with the names of the screen in the place of keys, which it has between backticks. What only a
/// car's file has is said to be there; what is no key stays as it is.
pub(super) fn in_screen_names(message: &str) -> String {
    let mut parts = message.split('`');
    let mut said = parts.next().unwrap_or_default().to_owned();
    while let Some(key) = parts.next() {
        let Some(after) = parts.next() else {
            // A lone backtick is none round a key.
            said += "`";
            said += key;
            break;
        };
        let is_key =
            !key.is_empty() && key.bytes().all(|b| b.is_ascii_lowercase() || b.is_ascii_digit() || b == b'_');
        match on_screen(key) {
            Some(name) if is_key => said += &format!("\u{201c}{name}\u{201d}"),
            _ if is_key => said += &format!("\u{201c}{}\u{201d} in the car's file", key.replace('_', " ")),
            _ => said += &format!("`{key}`"),
        }
        said += after;
    }
    said
}

#[cfg(test)]
mod tests {
    use super::in_screen_names;
    use crate::test_cars::{car as car_for_tests, every_car};
    use wheelpath_geometry::{Hardpoint, WheelPosition};

    #[test]
    fn keys_become_the_names_that_the_panels_have() {
        for (said, shown) in [
            (
                "look at `tie_rod_inner`, then at `upper_ball_joint`: a sign",
                "look at \u{201c}tie rod, inner end\u{201d}, then at \u{201c}upper ball joint\u{201d}: a sign",
            ),
            ("or at `tyre_radius`", "or at \u{201c}tyre radius\u{201d}"),
            (
                "look at `wheel_loads`: its unit",
                "look at \u{201c}wheel loads\u{201d} in the car's file: its unit",
            ),
            ("`wheelpath check` says more", "`wheelpath check` says more"),
            ("a lone ` stays", "a lone ` stays"),
            ("nothing to change", "nothing to change"),
        ] {
            assert_eq!(in_screen_names(said), shown);
        }
        for &hardpoint in Hardpoint::ALL {
            let said = in_screen_names(&format!("`{}`", hardpoint.key()));
            assert_eq!(said, format!("\u{201c}{}\u{201d}", hardpoint.label()));
        }
    }

    /// Every point of every car put wrong by a sign: no warning and no hint has a key in it.
    #[test]
    fn no_warning_in_the_window_has_a_key_of_the_file() {
        let mut count = 0;
        for car in every_car() {
            let session = car_for_tests(&car);
            for at in WheelPosition::ALL {
                for &hardpoint in Hardpoint::ALL {
                    let mut wrong = session.car().clone();
                    let hardpoints = &mut wrong.corner_mut(at).hardpoints;
                    let Some(place) = hardpoints.get(hardpoint) else { continue };
                    hardpoints.set(hardpoint, nalgebra::Vector3::new(place.x, place.y, -place.z));
                    for notice in crate::session::apply::findings(&wrong, session.units()) {
                        let all = format!("{} {}", notice.text, notice.remedy);
                        assert!(!all.contains('`') && !all.contains('_'), "{car}: {all}");
                        count += 1;
                    }
                }
            }
        }
        assert!(count > 100, "{count} warnings");
    }
}
