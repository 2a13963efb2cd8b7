//! Readings by what people call them.

use super::{Reading, axle_readings, wheel_readings};
use crate::number::unit::LengthUnit;

/// Spellings and names that the trade uses beside ours, without blanks and in small letters.
const SPELLINGS: [(&str, &str); 5] = [
    ("center", "centre"),
    ("tire", "tyre"),
    ("castor", "caster"),
    ("kingpininclination", "steeringaxisinclination"),
    ("ackermann", "ackerman"),
];
/// The same of whole names.
const NAMES: [(&str, &str); 10] = [
    ("ackermannpercent", "ackermanninner"),
    ("ackermanpercent", "ackermanninner"),
    ("kpi", "steeringaxisinclination"),
    ("sai", "steeringaxisinclination"),
    ("toein", "toe"),
    ("scrub", "scrubradius"),
    ("frontviewswingarm", "frontviewswingarminverse"),
    ("sideviewswingarm", "sideviewswingarminverse"),
    ("ackermanninnerbase", "ackermanninner"),
    ("ackermanninnerbasebycontacts", "ackermanncontact"),
];

/// Small letters and digits alone, one spelling for all.
fn plain(words: &str) -> String {
    let plain: String = words.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect();
    let plain = NAMES.iter().find(|(name, _)| *name == plain).map_or(plain, |(_, key)| (*key).to_owned());
    SPELLINGS.iter().fold(plain, |text, (other, ours)| text.replace(other, ours))
}

fn all() -> impl Iterator<Item = &'static Reading> {
    wheel_readings().iter().chain(axle_readings())
}

/// The reading that a word or name means beyond doubt: its key or its name in any case of letters, with
/// hyphens or blanks for underscores, with or without the unit that stands at the end of keys in data.
#[must_use]
pub fn reading_called(words: &str) -> Option<&'static Reading> {
    let asked = plain(words);
    let is = |reading: &&Reading, after: &str| plain(&format!("{}{after}", reading.key)) == asked;
    let by_key = || all().find(|one| is(one, ""));
    let by_name = || all().find(|one| plain(one.name) == asked);
    let with_unit = || {
        let units = [LengthUnit::Millimetre, LengthUnit::Inch];
        all().find(|one| units.iter().any(|lengths| is(one, one.unit.key_suffix(*lengths))))
    };
    super::reading(words).or_else(by_key).or_else(by_name).or_else(with_unit)
}

/// Readings whose key begins with a word that means none of them beyond doubt: `camber` or `ackerman`.
#[must_use]
pub fn readings_beginning(words: &str) -> Vec<&'static Reading> {
    let asked = plain(words);
    if asked.is_empty() {
        Vec::new()
    } else {
        all().filter(|one| plain(one.key).starts_with(&asked)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::{all, reading_called, readings_beginning};
    use crate::number::unit::LengthUnit;

    #[test]
    fn a_reading_has_many_spellings_and_no_wrong_one() {
        let check = |words: &[&str], key: &str| {
            for word in words {
                assert_eq!(reading_called(word).map(|one| one.key), Some(key), "{word}");
            }
        };
        check(&["caster", "Caster", "CASTER", "caster_deg", "castor"], "caster");
        check(&["bump-steer", "Bump Steer", "bumpsteer", "bump_steer"], "bump_steer");
        check(&["ackermann_percent", "ackerman_percent", "Ackermann-percent"], "ackermann_inner");
        check(
            &["roll_center_height", "roll_centre_height_mm", "roll centre height in"],
            "roll_centre_height",
        );
        check(&["kpi", "Kingpin inclination", "steering-axis-inclination"], "steering_axis_inclination");
        for word in ["", "camber", "ackerman", "wings", "toe_mm_mm"] {
            assert!(reading_called(word).is_none(), "{word}");
        }
        let ackermann: Vec<_> = readings_beginning("ackerman").iter().map(|one| one.key).collect();
        assert!(ackermann.contains(&"ackermann_inner") && ackermann.contains(&"ackermann_error"));
        assert!(readings_beginning("").is_empty() && readings_beginning("wings").is_empty());
        // Each key, name and key with its unit means its own reading.
        for one in all() {
            for lengths in [LengthUnit::Millimetre, LengthUnit::Inch] {
                let with_unit = format!("{}{}", one.key, one.unit.key_suffix(lengths));
                for words in [one.key, one.name, &with_unit] {
                    assert_eq!(reading_called(words).map(|found| found.key), Some(one.key), "{words}");
                }
            }
        }
    }
}
