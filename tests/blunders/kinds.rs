//! What a tired person types.

use crate::numbers::{Number, numbers};
use std::ops::Range;

/// A way to get a number wrong.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Kind {
    Sign,
    TimesTen,
    OverTen,
    InchForMillimetre,
    MillimetreForInch,
    MetreForMillimetre,
    MillimetreForMetre,
    SwapXY,
    SwapXZ,
    SwapYZ,
    PlusHundred,
    MinusHundred,
}

impl Kind {
    pub const ALL: [Kind; 12] = [
        Kind::Sign,
        Kind::TimesTen,
        Kind::OverTen,
        Kind::InchForMillimetre,
        Kind::MillimetreForInch,
        Kind::MetreForMillimetre,
        Kind::MillimetreForMetre,
        Kind::SwapXY,
        Kind::SwapXZ,
        Kind::SwapYZ,
        Kind::PlusHundred,
        Kind::MinusHundred,
    ];

    pub fn name(self) -> &'static str {
        match self {
            Kind::Sign => "sign",
            Kind::TimesTen => "times 10",
            Kind::OverTen => "over 10",
            Kind::InchForMillimetre => "over 25.4",
            Kind::MillimetreForInch => "times 25.4",
            Kind::MetreForMillimetre => "over 1000",
            Kind::MillimetreForMetre => "times 1000",
            Kind::SwapXY => "x and y swapped",
            Kind::SwapXZ => "x and z swapped",
            Kind::SwapYZ => "y and z swapped",
            Kind::PlusHundred => "+100 mm",
            Kind::MinusHundred => "-100 mm",
        }
    }

    /// The share that was reached, a little rounded down: it is not to fall. A point that is 100 mm off along a hinge,
    /// or a tyre 100 mm wider, often makes a car that someone might have built.
    pub fn least(self) -> f64 {
        match self {
            Kind::PlusHundred | Kind::MinusHundred => 0.91,
            Kind::OverTen => 0.945,
            _ => 0.955,
        }
    }

    /// The wrong number for a right one; `None` where this kind does nothing to it, or swaps.
    fn wrong(self, number: &Number) -> Option<f64> {
        let value = number.value;
        let length = |wrong: f64| number.is_length().then_some(wrong);
        let wrong = match self {
            Kind::Sign => Some(-value),
            Kind::TimesTen => Some(value * 10.0),
            Kind::OverTen => Some(value / 10.0),
            Kind::InchForMillimetre => length(value / 25.4),
            Kind::MillimetreForInch => length(value * 25.4),
            Kind::MetreForMillimetre => length(value / 1000.0),
            Kind::MillimetreForMetre => length(value * 1000.0),
            Kind::PlusHundred => length(value + 100.0),
            Kind::MinusHundred => length(value - 100.0),
            Kind::SwapXY | Kind::SwapXZ | Kind::SwapYZ => None,
        }?;
        (wrong != value).then_some(wrong)
    }

    /// Which two of three coordinates are swapped.
    fn swapped(self) -> Option<[usize; 2]> {
        match self {
            Kind::SwapXY => Some([0, 1]),
            Kind::SwapXZ => Some([0, 2]),
            Kind::SwapYZ => Some([1, 2]),
            _ => None,
        }
    }
}

/// A file with one thing wrong.
pub struct Blunder {
    pub kind: Kind,
    /// The number, or the first of two.
    pub number: Number,
    /// What is written in its place.
    pub wrong: f64,
    pub text: String,
}

fn put(text: &str, changes: &[(Range<usize>, String)]) -> String {
    let mut text = text.to_owned();
    for (bytes, new) in changes.iter().rev() {
        text.replace_range(bytes.clone(), new);
    }
    text
}

fn written(value: f64) -> String {
    format!("{:?}", (value * 1e7).round() / 1e7)
}

/// Every blunder of every number of a file.
pub fn blunders(text: &str) -> Vec<Blunder> {
    let all = numbers(text);
    let mut blunders = Vec::new();
    for (at, number) in all.iter().enumerate() {
        for kind in Kind::ALL {
            if let Some(wrong) = kind.wrong(number) {
                let text = put(text, &[(number.bytes.clone(), written(wrong))]);
                blunders.push(Blunder { kind, number: number.clone(), wrong, text });
            }
            let (Some([a, b]), Some((_, 0)), Some(three)) =
                (kind.swapped(), number.triple, all.get(at..at + 3))
            else {
                continue;
            };
            let (first, second) = (&three[a], &three[b]);
            if number.triple.map(|(of, _)| of) != three[2].triple.map(|(of, _)| of)
                || first.value == second.value
            {
                continue;
            }
            let changes =
                [(first.bytes.clone(), written(second.value)), (second.bytes.clone(), written(first.value))];
            blunders.push(Blunder {
                kind,
                number: first.clone(),
                wrong: second.value,
                text: put(text, &changes),
            });
        }
    }
    blunders
}
