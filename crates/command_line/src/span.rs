//! A number of the command line that is held, or that runs: `10`, `-30,-10,0` or `-30:30`.

use crate::console::data::decimal;
use crate::console::failure::Failure;
use crate::console::pose::finite;
use wheelpath_geometry::spaced;

/// What a word says of one quantity, in the unit of the word.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum Span {
    /// One number.
    Held(f64),
    /// Numbers between commas.
    List(Vec<f64>),
    /// From the one to the other.
    Range(f64, f64),
}

/// Reads what a word says.
pub(crate) fn span(words: &str) -> Result<Span, String> {
    if let Some((from, to)) = words.split_once(':') {
        return Ok(Span::Range(finite(from)?, finite(to)?));
    }
    if words.contains(',') {
        return words.split(',').map(finite).collect::<Result<_, _>>().map(Span::List);
    }
    finite(words).map(Span::Held)
}

impl Span {
    /// Whether it is more than one number.
    pub fn runs(&self) -> bool {
        !matches!(self, Span::Held(_))
    }

    fn listed(&self) -> Option<usize> {
        match self {
            Span::List(all) => Some(all.len()),
            _ => None,
        }
    }

    fn values(&self, count: usize) -> Vec<f64> {
        match self {
            Span::Held(value) => vec![*value; count],
            Span::List(all) => all.clone(),
            // Each between the ends is the decimal that somebody would write.
            Span::Range(from, to) => between_ends(spaced(*from, *to, count), decimal),
        }
    }
}

/// The same numbers with those between the first and the last as `of` has them.
pub(crate) fn between_ends(mut values: Vec<f64>, of: impl Fn(f64) -> f64) -> Vec<f64> {
    if let [_, between @ .., _] = values.as_mut_slice() {
        between.iter_mut().for_each(|value| *value = of(*value));
    }
    values
}

/// How many numbers a range has where nobody says it.
const COUNT: u32 = 21;

/// How many poses there are where these run together: as many as a list has, or `--count` of a range.
/// Each has its word, for messages.
pub(crate) fn count_of(spans: &[(&str, &Span)], count: Option<u32>) -> Result<usize, Failure> {
    let mut listed = spans.iter().filter_map(|(word, span)| Some((*word, span.listed()?)));
    let ranged = spans.iter().any(|(_, span)| matches!(span, Span::Range(..)));
    let Some((word, first)) = listed.next() else {
        let count = if ranged { count.unwrap_or(COUNT) } else { 1 };
        return Ok(usize::try_from(count).unwrap_or(usize::MAX));
    };
    if let Some((other, second)) = listed.find(|(_, length)| *length != first) {
        return Err(Failure::wrong_use(
            format!("{word} has {first} numbers, {other} has {second}"),
            "lists run together, a pose a place: give both as many numbers",
        ));
    }
    if count.is_some() {
        return Err(Failure::wrong_use(
            format!("--count has no part where {word} is a list"),
            "leave --count out, or give a range such as -30:30",
        ));
    }
    Ok(first)
}

/// The numbers of each, as many as all the others have.
pub(crate) fn together<const N: usize>(spans: [&Span; N], count: usize) -> [Vec<f64>; N] {
    spans.map(|span| span.values(count))
}

#[cfg(test)]
mod tests {
    use super::{Span, count_of, span, together};

    #[test]
    fn a_word_is_held_listed_or_a_range() {
        assert_eq!(span("−3.5"), Ok(Span::Held(-3.5)));
        assert_eq!(span("-30,-10, 0"), Ok(Span::List(vec![-30.0, -10.0, 0.0])));
        assert_eq!(span("-30:30"), Ok(Span::Range(-30.0, 30.0)));
        for wrong in ["", ":", "1:", "1:2:3", "1,,2", "1,2:3", "a,b", "inf:1", "NaN"] {
            assert!(span(wrong).is_err(), "{wrong} passes");
        }
    }

    #[test]
    fn those_that_run_together_are_as_many() {
        let (range, list, held) = (Span::Range(0.0, 2.0), Span::List(vec![5.0, 6.0, 7.0]), Span::Held(1.0));
        let count = count_of(&[("a", &range), ("b", &list), ("c", &held)], None).ok();
        assert_eq!(count, Some(3));
        assert_eq!(together([&range, &list, &held], 3), [[0.0, 1.0, 2.0], [5.0, 6.0, 7.0], [1.0; 3]]);
        assert_eq!(count_of(&[("a", &range)], None).ok(), Some(21));
        assert_eq!(count_of(&[("a", &range)], Some(5)).ok(), Some(5));
        assert_eq!(count_of(&[("a", &held)], Some(5)).ok(), Some(1));
        let short = Span::List(vec![1.0, 2.0]);
        assert!(count_of(&[("a", &short), ("b", &list)], None).is_err());
        assert!(count_of(&[("a", &list)], Some(3)).is_err());
    }
}
