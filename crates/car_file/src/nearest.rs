//! The nearest known name to one that is not known.

/// The name with case, blanks, underscores, hyphens and commas taken away.
pub(crate) fn folded(name: &str) -> String {
    name.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// The number of single-letter changes, swaps of neighbours counted as one, between two words.
fn distance(a: &str, b: &str) -> usize {
    let a: Vec<char> = a.chars().collect();
    let b: Vec<char> = b.chars().collect();
    let mut before: Vec<usize> = Vec::new();
    let mut last: Vec<usize> = (0..=b.len()).collect();
    for (i, x) in a.iter().enumerate() {
        let mut row = vec![i + 1];
        for (j, y) in b.iter().enumerate() {
            let mut best = (last[j] + usize::from(x != y)).min(last[j + 1] + 1).min(row[j] + 1);
            if i > 0 && j > 0 && *x == b[j - 1] && a[i - 1] == *y {
                best = best.min(before[j - 1] + 1);
            }
            row.push(best);
        }
        before = std::mem::replace(&mut last, row);
    }
    last.last().copied().unwrap_or(0)
}

/// The known name most like this one, if any is like it at all (at most a third of its letters,
/// or five, to change).
#[must_use]
pub fn nearest<'k>(found: &str, known: impl IntoIterator<Item = &'k str>) -> Option<&'k str> {
    let found: String = folded(found).chars().take(64).collect();
    known
        .into_iter()
        .map(|name| {
            let plain = folded(name);
            (distance(&found, &plain), plain.chars().count(), name)
        })
        .filter(|&(changes, letters, _)| changes <= (letters.min(found.chars().count() + 2) / 3).clamp(1, 5))
        .min_by_key(|&(changes, ..)| changes)
        .map(|(.., name)| name)
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn a_slip_finds_its_name_and_a_stranger_none() {
        let known = ["tie_rod_inner", "tie_rod_outer", "toe_link_inner", "upper_ball_joint"];
        let check =
            |found: &str, expected: Option<&str>| assert_eq!(nearest(found, known), expected, "{found}");
        check("tie_rod_iner", Some("tie_rod_inner"));
        check("TieRod Outer", Some("tie_rod_outer"));
        check("upper_balljiont", Some("upper_ball_joint"));
        check("tie_link_inner", Some("toe_link_inner"));
        check("seat", None);
        check("", None);
    }
}
