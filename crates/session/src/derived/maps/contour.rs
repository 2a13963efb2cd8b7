//! Lines of one value through a grid of numbers.

use std::collections::{HashMap, VecDeque};

/// A grid of numbers, by rows; not-a-number where there is none.
#[derive(Clone, Copy, Debug)]
pub struct Field<'a> {
    /// Places of the columns, rising.
    pub columns: &'a [f64],
    /// Places of the rows, rising.
    pub rows: &'a [f64],
    /// As many as columns times rows.
    pub values: &'a [f64],
}

/// A piece of a line: from one side of a cell of the grid to another.
pub type Piece = [[f64; 2]; 2];

impl Field<'_> {
    fn at(&self, column: usize, row: usize) -> Option<[f64; 3]> {
        let value = *self.values.get(row * self.columns.len() + column)?;
        value.is_finite().then_some([*self.columns.get(column)?, *self.rows.get(row)?, value])
    }

    /// The line along which the field has a value, as pieces: the values along each side of a cell are taken
    /// for straight. There is none through a cell that lacks a corner.
    #[must_use]
    pub fn line(&self, level: f64) -> Vec<Piece> {
        let mut pieces = Vec::new();
        for row in 1..self.rows.len() {
            for column in 1..self.columns.len() {
                let corners = [
                    self.at(column - 1, row - 1),
                    self.at(column, row - 1),
                    self.at(column, row),
                    self.at(column - 1, row),
                ];
                if let [Some(a), Some(b), Some(c), Some(d)] = corners {
                    through([a, b, c, d], level, &mut pieces);
                }
            }
        }
        pieces
    }

    /// Least and greatest value; `None` where the field has none.
    #[must_use]
    pub fn range(&self) -> Option<[f64; 2]> {
        let real = self.values.iter().copied().filter(|value| value.is_finite());
        real.fold(None, |range, value| {
            let [low, high] = range.unwrap_or([value, value]);
            Some([value.min(low), value.max(high)])
        })
    }

    /// The value at a place, straight between the four corners of its cell.
    #[must_use]
    pub fn value(&self, [x, y]: [f64; 2]) -> Option<f64> {
        let cell = |places: &[f64], at: f64| {
            let last = places.len().checked_sub(2)?;
            let inside = *places.first()? <= at && at <= *places.last()?;
            let n = places.partition_point(|place| *place <= at).saturating_sub(1).min(last);
            inside.then(|| (n, (at - places[n]) / (places[n + 1] - places[n])))
        };
        let ((column, u), (row, v)) = (cell(self.columns, x)?, cell(self.rows, y)?);
        let [a, b, c, d] = [
            self.at(column, row)?,
            self.at(column + 1, row)?,
            self.at(column, row + 1)?,
            self.at(column + 1, row + 1)?,
        ]
        .map(|[.., value]| value);
        Some((a * (1.0 - u) + b * u) * (1.0 - v) + (c * (1.0 - u) + d * u) * v)
    }
}

/// Pieces through one cell whose corners are given in turn: as often as its sides are crossed, by twos.
fn through(corners: [[f64; 3]; 4], level: f64, pieces: &mut Vec<Piece>) {
    let above = corners.map(|[.., value]| value >= level);
    let mut crossed = [[0.0; 2]; 4];
    let mut count = 0;
    for n in 0..4 {
        let next = (n + 1) % 4;
        if above[n] != above[next] {
            // From the same end in both cells of a side: their pieces then meet to the last bit.
            let forward = corners[n][..2] <= corners[next][..2];
            let (from, to) = if forward { (n, next) } else { (next, n) };
            let ([ax, ay, a], [bx, by, b]) = (corners[from], corners[to]);
            let share = (level - a) / (b - a);
            let mix = |a: f64, b: f64| a * (1.0 - share) + b * share;
            crossed[count] = [mix(ax, bx), mix(ay, by)];
            count += 1;
        }
    }
    match count {
        2 => pieces.push([crossed[0], crossed[1]]),
        // A saddle: the middle says which corners hang together.
        4 => {
            let middle = corners.iter().map(|[.., value]| value).sum::<f64>() / 4.0;
            let turn = usize::from((middle >= level) != above[0]);
            pieces.push([crossed[turn], crossed[(turn + 1) % 4]]);
            pieces.push([crossed[(turn + 2) % 4], crossed[(turn + 3) % 4]]);
        }
        _ => {}
    }
}

/// Pieces joined to lines where their ends meet.
#[must_use]
pub fn joined(pieces: &[Piece]) -> Vec<Vec<[f64; 2]>> {
    let key = |[x, y]: [f64; 2]| [x.to_bits(), y.to_bits()];
    let mut at: HashMap<[u64; 2], Vec<usize>> = HashMap::new();
    // Through a corner of the grid a piece may have no length; it joins nothing.
    let pieces: Vec<Piece> = pieces.iter().filter(|[a, b]| key(*a) != key(*b)).copied().collect();
    for (n, piece) in pieces.iter().enumerate() {
        for end in piece {
            at.entry(key(*end)).or_default().push(n);
        }
    }
    let mut used = vec![false; pieces.len()];
    let next = |end: [f64; 2], used: &mut Vec<bool>| {
        let n = *at.get(&key(end))?.iter().find(|n| !used[**n])?;
        used[n] = true;
        let [a, b] = pieces[n];
        Some(if key(a) == key(end) { b } else { a })
    };
    let mut lines = Vec::new();
    for n in 0..pieces.len() {
        if used[n] {
            continue;
        }
        used[n] = true;
        let mut line = VecDeque::from(pieces[n]);
        while let Some(to) = line.back().and_then(|end| next(*end, &mut used)) {
            line.push_back(to);
        }
        while let Some(to) = line.front().and_then(|end| next(*end, &mut used)) {
            line.push_front(to);
        }
        lines.push(Vec::from(line));
    }
    lines
}

#[cfg(test)]
mod tests {
    use super::{Field, joined};

    fn places(count: u32) -> Vec<f64> {
        (0..count).map(|n| -1.0 + 2.0 * f64::from(n) / f64::from(count - 1)).collect()
    }

    fn of(count: u32, value: impl Fn(f64, f64) -> f64) -> (Vec<f64>, Vec<f64>) {
        let at = places(count);
        let values = at.iter().flat_map(|y| at.iter().map(|x| value(*x, *y)).collect::<Vec<_>>()).collect();
        (at, values)
    }

    fn length(pieces: &[super::Piece]) -> f64 {
        pieces.iter().map(|[a, b]| (a[0] - b[0]).hypot(a[1] - b[1])).sum()
    }

    /// Through a plane every line is straight: 2x + y = 0.3 from y = −1 to 1.
    #[test]
    fn a_plane_has_straight_lines() {
        let (at, values) = of(17, |x, y| 2.0 * x + y);
        let field = Field { columns: &at, rows: &at, values: &values };
        let pieces = field.line(0.3);
        for end in pieces.iter().flatten() {
            assert!((2.0 * end[0] + end[1] - 0.3).abs() < 1e-12);
        }
        assert!((length(&pieces) - 2.0_f64.hypot(1.0)).abs() < 1e-9, "{}", length(&pieces));
        assert_eq!(field.range(), Some([-3.0, 3.0]));
        assert!((field.value([0.31, -0.72]).unwrap() - (0.62 - 0.72)).abs() < 1e-12);
        assert_eq!(field.value([1.2, 0.0]), None);
        assert_eq!(joined(&pieces).len(), 1);
        assert!(field.line(4.0).is_empty());
    }

    /// The circumference of a circle: 2πr.
    #[test]
    fn a_cone_has_circles() {
        let (at, values) = of(101, f64::hypot);
        let pieces = Field { columns: &at, rows: &at, values: &values }.line(0.6);
        let lines = joined(&pieces);
        assert!(lines.len() == 1 && lines[0].len() > 200, "{} lines", lines.len());
        assert!(lines[0].first() == lines[0].last(), "closed");
        let around = std::f64::consts::TAU * 0.6;
        assert!((length(&pieces) / around - 1.0).abs() < 1e-3, "{}", length(&pieces));
    }

    #[test]
    fn a_saddle_keeps_its_two_branches_apart() {
        let (at, values) = of(2, |x, y| x * y);
        for level in [0.5, -0.5] {
            let pieces = Field { columns: &at, rows: &at, values: &values }.line(level);
            assert_eq!(pieces.len(), 2);
            // Each stays on its side of the middle: at x = y for +, at x = −y for −.
            for [a, b] in pieces {
                let side = |p: [f64; 2]| (p[0] + p[1] * level.signum()).signum();
                assert!(side(a) * side(b) > 0.0, "{a:?} {b:?}");
            }
        }
    }

    #[test]
    fn what_is_not_there_has_no_line() {
        let (at, mut values) = of(5, |x, _| x);
        values[12] = f64::NAN;
        let pieces = Field { columns: &at, rows: &at, values: &values }.line(0.25);
        // The two cells between the missing one and x = 0.5 lack it.
        assert_eq!(pieces.len(), 2);
        let nothing = vec![f64::NAN; 25];
        let field = Field { columns: &at, rows: &at, values: &nothing };
        assert!(field.range().is_none() && field.line(0.0).is_empty() && field.value([0.0, 0.0]).is_none());
    }
}
