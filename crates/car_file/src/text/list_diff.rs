//! Which things of an old list those of a new one are, so that what is written of them stays.

/// For each of the new, the place of the old one that it is, old places rising. As many as can be are the
/// `same`; between those, what is `alike` is the old one changed. Lengths and places: old, then new.
pub(crate) fn correspond(
    (old, new): (usize, usize),
    same: impl Fn(usize, usize) -> bool,
    alike: impl Fn(usize, usize) -> bool,
) -> Vec<Option<usize>> {
    let mut from = vec![None; new];
    for (a, b) in longest((0, old), (0, new), &same) {
        from[b] = Some(a);
    }
    let fixed: Vec<(usize, usize)> =
        from.iter().enumerate().filter_map(|(b, a)| a.map(|a| (a, b))).chain([(old, new)]).collect();
    let mut start = (0, 0);
    for (a, b) in fixed {
        for (a, b) in longest((start.0, a), (start.1, b), &alike) {
            from[b] = Some(a);
        }
        start = (a + 1, b + 1);
    }
    from
}

/// The longest list of pairs within two ranges, both rising.
fn longest(
    (old, old_end): (usize, usize),
    (new, new_end): (usize, usize),
    pair: &impl Fn(usize, usize) -> bool,
) -> Vec<(usize, usize)> {
    let (rows, columns) = (old_end.saturating_sub(old), new_end.saturating_sub(new));
    // How many pairs the rest from here on has.
    let mut count = vec![vec![0_usize; columns + 1]; rows + 1];
    for a in (0..rows).rev() {
        for b in (0..columns).rev() {
            count[a][b] = if pair(old + a, new + b) {
                count[a + 1][b + 1] + 1
            } else {
                count[a + 1][b].max(count[a][b + 1])
            };
        }
    }
    let (mut a, mut b) = (0, 0);
    let mut pairs = Vec::new();
    while a < rows && b < columns {
        if pair(old + a, new + b) {
            pairs.push((old + a, new + b));
            (a, b) = (a + 1, b + 1);
        } else if count[a + 1][b] >= count[a][b + 1] {
            a += 1;
        } else {
            b += 1;
        }
    }
    pairs
}

#[cfg(test)]
mod tests {
    use super::correspond;

    #[track_caller]
    fn check(old: &str, new: &str, expected: &[Option<usize>]) {
        let letters = |text: &str| text.chars().collect::<Vec<_>>();
        let (old, new) = (letters(old), letters(new));
        let found = correspond(
            (old.len(), new.len()),
            |a, b| old[a] == new[b],
            |a, b| old[a].eq_ignore_ascii_case(&new[b]),
        );
        assert_eq!(found, expected);
    }

    #[test]
    fn what_is_the_same_stays_and_what_is_alike_is_changed() {
        check("abc", "abc", &[Some(0), Some(1), Some(2)]);
        check("abc", "aBc", &[Some(0), Some(1), Some(2)]);
        check("abc", "ac", &[Some(0), Some(2)]);
        check("abc", "xabC", &[None, Some(0), Some(1), Some(2)]);
        check("abc", "cab", &[None, Some(0), Some(1)]);
        check("", "ab", &[None, None]);
        check("ab", "", &[]);
        check("ab", "BA", &[Some(1), None]);
    }
}
