//! Changes of a text that leave most of it standing: a number for a number, a word for a word, a line away
//! or twice. Bytes alone seldom get past the first bracket.

use std::collections::BTreeSet;
use std::ops::Range;
use std::sync::LazyLock;
use wheelpath_car_file::schema;
use wheelpath_geometry::{Hardpoint, Link, axle_readings, wheel_readings};

/// Every key and word of a car file, from its own description, and the oddities of the dictionary.
pub static CAR_WORDS: LazyLock<Vec<String>> = LazyLock::new(|| {
    let schema = schema();
    let words = schema.split(|c: char| !c.is_alphanumeric() && c != '_').filter(|word| word.len() > 1);
    let listed = dictionary(include_str!("../car_file.dict"));
    words.map(str::to_owned).chain(listed).collect::<BTreeSet<_>>().into_iter().collect()
});

/// Words of files beside a car: those of a car file, points, links and readings by their keys.
pub static BESIDE_WORDS: LazyLock<Vec<String>> = LazyLock::new(|| {
    let points = Hardpoint::ALL.iter().map(|hardpoint| hardpoint.key());
    let links = Link::ALL.iter().map(|link| link.key());
    let readings = wheel_readings().iter().chain(axle_readings()).map(|reading| reading.key);
    let own = points.chain(links).chain(readings).map(str::to_owned);
    let all = own.chain(CAR_WORDS.iter().cloned()).collect::<BTreeSet<_>>();
    all.into_iter().collect()
});

/// Every name of a point, and the dictionary's words for tables.
pub static TABLE_WORDS: LazyLock<Vec<String>> = LazyLock::new(|| {
    let names =
        Hardpoint::ALL.iter().flat_map(|hardpoint| [hardpoint.key(), hardpoint.label()]).map(str::to_owned);
    names.chain(dictionary(include_str!("../point_table.dict"))).collect()
});

fn dictionary(text: &str) -> impl Iterator<Item = String> + '_ {
    text.lines()
        .filter_map(|line| line.trim().strip_prefix('"')?.strip_suffix('"'))
        .filter(|word| !word.contains("\\x"))
        .map(|word| word.replace("\\\"", "\"").replace("\\\\", "\\"))
}

const NUMBERS: &[&str] = &[
    "0.0", "-0.0", "1.0", "-1.0", "0.5", "90.0", "-90.0", "180.0", "1e-320", "1e-9", "1e9", "1e300",
    "-1e300", "1e999", "inf", "NaN", "25.4", "1e-4", "5", ".5", "5.", "+1.0", "0x10", "1_000",
];

/// A source of choices.
struct Choices(u64);

impl Choices {
    /// One of so many, 0 first.
    fn of(&mut self, count: usize) -> usize {
        // SplitMix64.
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        usize::try_from((z ^ (z >> 31)) % count.max(1) as u64).unwrap_or_default()
    }

    fn among<'a, T>(&mut self, all: &'a [T]) -> Option<&'a T> {
        all.get(self.of(all.len()))
    }
}

/// Changes a text in place and gives its new length; half of the time as the fuzzer itself would.
pub fn mutated(
    data: &mut [u8],
    size: usize,
    most: usize,
    seed: u32,
    words: &[String],
    bytewise: impl Fn(&mut [u8], usize, usize) -> usize,
) -> usize {
    let mut choices = Choices(u64::from(seed));
    if choices.of(2) == 0 {
        return bytewise(data, size, most);
    }
    let Some(changed) = std::str::from_utf8(&data[..size]).ok().and_then(|text| {
        let mut text = text.to_owned();
        for _ in 0..=choices.of(3) {
            text = changed(&text, &mut choices, words)?;
        }
        Some(text)
    }) else {
        return bytewise(data, size, most);
    };
    if changed.len() > most {
        return bytewise(data, size, most);
    }
    data[..changed.len()].copy_from_slice(changed.as_bytes());
    changed.len()
}

fn changed(text: &str, choices: &mut Choices, words: &[String]) -> Option<String> {
    let is_number = |c: char| c.is_ascii_digit() || matches!(c, '.' | '-' | '+' | 'e');
    let is_word = |c: char| c.is_alphanumeric() || c == '_';
    let number = |s: &str| s.starts_with(|c: char| c.is_ascii_digit() || c == '-' || c == '.');
    let word = |s: &str| s.starts_with(|c: char| c.is_alphabetic());
    let replaced = |span: &Range<usize>, with: &str| {
        Some(format!("{}{with}{}", text.get(..span.start)?, text.get(span.end..)?))
    };
    match choices.of(8) {
        // A number for a number: a sharp one, another of the text, or itself a little changed.
        0..=2 => {
            let numbers: Vec<Range<usize>> =
                runs(text, is_number).filter(|span| text.get(span.clone()).is_some_and(number)).collect();
            let span = choices.among(&numbers)?;
            let own: f64 = text.get(span.clone())?.parse().unwrap_or_default();
            let with = match choices.of(4) {
                0 => (*choices.among(NUMBERS)?).to_owned(),
                1 => text.get(choices.among(&numbers)?.clone())?.to_owned(),
                2 => format!("{:?}", -own),
                _ => {
                    let size = [1e-3, 0.1, 10.0, 300.0][choices.of(4)];
                    let share = f64::from(u16::try_from(choices.of(2001)).unwrap_or_default()) / 1000.0 - 1.0;
                    format!("{:.3}", own + size * share)
                }
            };
            replaced(span, &with)
        }
        // A word for a word.
        3 | 4 => {
            let found: Vec<Range<usize>> =
                runs(text, is_word).filter(|span| text.get(span.clone()).is_some_and(word)).collect();
            let span = choices.among(&found)?;
            let with = match choices.of(3) {
                0 => text.get(choices.among(&found)?.clone())?,
                _ => choices.among(words)?,
            };
            replaced(span, with)
        }
        // A word or a piece of punctuation put in.
        5 => {
            let places: Vec<usize> = text.char_indices().map(|(at, _)| at).collect();
            let at = *choices.among(&places)?;
            replaced(&(at..at), choices.among(words)?)
        }
        // A line away, or moved or copied elsewhere.
        _ => {
            let mut lines: Vec<&str> = text.split_inclusive('\n').collect();
            let from = choices.of(lines.len());
            let line = *lines.get(from)?;
            if choices.of(2) == 0 {
                lines.remove(from);
            }
            if choices.of(2) == 0 {
                lines.insert(choices.of(lines.len() + 1), line);
            }
            Some(lines.concat())
        }
    }
}

/// The longest runs of such characters.
fn runs(text: &str, of: impl Fn(char) -> bool) -> impl Iterator<Item = Range<usize>> {
    let mut start = None;
    let mut found = Vec::new();
    for (at, c) in text.char_indices() {
        match (of(c), start) {
            (true, None) => start = Some(at),
            (false, Some(from)) => {
                found.push(from..at);
                start = None;
            }
            _ => {}
        }
    }
    found.extend(start.map(|from| from..text.len()));
    found.into_iter()
}
