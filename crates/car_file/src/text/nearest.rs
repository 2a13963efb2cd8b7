//! The nearest known name to one that is not known.

use wheelpath_geometry::excerpt;

/// The name with case, blanks, underscores, hyphens and commas taken away.
pub(crate) fn folded(name: &str) -> String {
    name.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// The number of single-letter changes, swaps of neighbours counted as one, between two words; `None` where
/// they are more than so many.
fn distance(a: &[char], b: &[char], most: usize) -> Option<usize> {
    if a.len().abs_diff(b.len()) > most {
        return None;
    }
    let mut before = vec![0; b.len() + 1];
    let mut last: Vec<usize> = (0..=b.len()).collect();
    let mut row = before.clone();
    for (i, x) in a.iter().enumerate() {
        row[0] = i + 1;
        for (j, y) in b.iter().enumerate() {
            let mut best = (last[j] + usize::from(x != y)).min(last[j + 1] + 1).min(row[j] + 1);
            if i > 0 && j > 0 && *x == b[j - 1] && a[i - 1] == *y {
                best = best.min(before[j - 1] + 1);
            }
            row[j + 1] = best;
        }
        // Every way from here on costs at least the least of these two rows.
        if row.iter().chain(&last).all(|cost| *cost > most) {
            return None;
        }
        std::mem::swap(&mut before, &mut last);
        std::mem::swap(&mut last, &mut row);
    }
    last.last().copied().filter(|changes| *changes <= most)
}

/// The known name most like this one, if any is like it at all (at most a third of its letters,
/// or five, to change).
#[must_use]
pub fn nearest<'k>(found: &str, known: impl IntoIterator<Item = &'k str>) -> Option<&'k str> {
    // More letters than a name has make it none.
    let found: Vec<char> = folded(&excerpt(found)).chars().take(64).collect();
    known
        .into_iter()
        .filter_map(|name| {
            let plain: Vec<char> = folded(name).chars().collect();
            let most = (plain.len().min(found.len() + 2) / 3).clamp(1, 5);
            // A word with an ending of its own, such as a plural, is that word.
            let begins = plain.len() >= 4 && found.starts_with(&plain);
            let most = if begins { most.max(2) } else { most };
            Some((distance(&found, &plain, most)?, name))
        })
        .min_by_key(|&(changes, _)| changes)
        .map(|(_, name)| name)
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
        check("tie_rod_inneres", Some("tie_rod_inner"));
        assert_eq!(nearest("Inches", ["Millimetre", "Inch"]), Some("Inch"));
        assert_eq!(nearest("Inchworm", ["Millimetre", "Inch"]), None);
        check("seat", None);
        check("", None);
    }
}
