//! Curves as data, and as characters for a terminal.

mod svg;

use crate::ticks::Ticks;
use crate::wrap::WIDEST;
use crate::wrap::wrap;
use wheelpath_geometry::fixed;

/// What an axis counts.
#[derive(Clone, Debug, PartialEq)]
pub struct Axis {
    /// In words.
    pub name: String,
    /// Unit in writing; empty for plain numbers.
    pub unit: String,
}

impl Axis {
    /// Name and unit as one label.
    fn label(&self) -> String {
        if self.unit.is_empty() { self.name.clone() } else { format!("{}, {}", self.name, self.unit) }
    }
}

/// One curve.
#[derive(Clone, Debug, PartialEq)]
pub struct Series {
    /// The character it is drawn with.
    pub glyph: char,
    /// In words, for the legend.
    pub name: String,
    /// Points in order; the curve is broken at `None`.
    pub points: Vec<Option<(f64, f64)>>,
    /// How a drawing draws it.
    pub stroke: Stroke,
}

/// How a drawing draws a curve; characters tell curves apart by their glyphs.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Stroke {
    /// The first curve solid, those after it dashed, each in its own way.
    #[default]
    InTurn,
    /// Solid, and of the left wheel heavy.
    Solid {
        /// Whether the line is heavy.
        heavy: bool,
    },
    /// Dashed, as what was before a change.
    Dashed {
        /// Whether the line is heavy.
        heavy: bool,
    },
}

/// A chart of curves over one pair of axes.
#[derive(Clone, Debug, PartialEq)]
pub struct Chart {
    /// Over the chart.
    pub title: String,
    /// Across.
    pub x: Axis,
    /// Up.
    pub y: Axis,
    /// The curves; earlier ones first in the legend.
    pub series: Vec<Series>,
    /// Characters across, without the labels.
    pub width: usize,
    /// Lines up, without the labels.
    pub height: usize,
}

/// What stands where curves cover one another.
const BOTH: char = '*';

#[derive(Clone, Copy, PartialEq)]
enum Cell {
    Blank,
    Of(usize),
    Several,
}

impl Chart {
    /// The chart as lines, each ended. Without a finite point: the title and a line that says so.
    #[must_use]
    pub fn text(&self) -> String {
        let Some((x, y)) = finite_ranges(&self.series) else {
            return format!("{}\n  nothing to draw\n", self.heading());
        };
        let (width, height) = (self.width.clamp(8, 400), self.height.clamp(4, 200));
        let y_ticks = Ticks::over(y.0, y.1, height / 3);
        let y = (y_ticks.floor(y.0), y_ticks.ceil(y.1));
        let x_ticks = Ticks::over(x.0, x.1, width / 9);
        let sheet = Sheet { x, y, width, height };
        self.drawn(&sheet, &x_ticks, &y_ticks)
    }

    /// The title, broken where it is wider than a page of text.
    fn heading(&self) -> String {
        wrap(&self.title, WIDEST, "  ")
    }

    fn drawn(&self, sheet: &Sheet, x_ticks: &Ticks, y_ticks: &Ticks) -> String {
        let cells = self.cells(sheet);
        let labels: Vec<(usize, String)> = y_ticks
            .within(sheet.y.0, sheet.y.1)
            .into_iter()
            .map(|y| (sheet.row(y), fixed(y, y_ticks.decimals)))
            .collect();
        let margin = labels.iter().map(|(_, label)| label.chars().count()).max().unwrap_or(0) + 1;
        let zero_row = (sheet.y.0 < 0.0 && sheet.y.1 > 0.0).then(|| sheet.row(0.0));
        let zero_column = (sheet.x.0 < 0.0 && sheet.x.1 > 0.0).then(|| sheet.column(0.0));

        let mut text =
            format!("{}\n{}{}\n", self.heading(), " ".repeat(margin.saturating_sub(1)), self.y.label());
        for (row, line) in cells.chunks(sheet.width).enumerate() {
            let label = labels.iter().find(|(at, _)| *at == row);
            let words = label.map_or("", |(_, words)| words.as_str());
            text += &" ".repeat(margin - 1 - words.chars().count().min(margin - 1));
            text.extend([words, if label.is_some() { " ┤" } else { " │" }]);
            let line: String = line
                .iter()
                .enumerate()
                .map(|(column, cell)| match (cell, zero_row == Some(row), zero_column == Some(column)) {
                    (Cell::Of(series), _, _) => self.series.get(*series).map_or(' ', |s| s.glyph),
                    (Cell::Several, _, _) => BOTH,
                    (Cell::Blank, true, true) => '┼',
                    (Cell::Blank, true, false) => '┄',
                    (Cell::Blank, false, true) => '┊',
                    (Cell::Blank, false, false) => ' ',
                })
                .collect();
            text.extend([line.trim_end(), "\n"]);
        }
        text += &bottom(sheet, x_ticks, margin);
        text += &format!("{}{}\n", " ".repeat(margin + 1), self.x.label());
        let mut legend: Vec<String> = self.series.iter().map(|s| format!("{} {}", s.glyph, s.name)).collect();
        if cells.contains(&Cell::Several) {
            legend.push(format!("{BOTH} where they meet"));
        }
        text + &format!("{}{}\n", " ".repeat(margin + 1), legend.join("   "))
    }

    /// Which curve covers each cell, row by row from the top.
    fn cells(&self, sheet: &Sheet) -> Vec<Cell> {
        let mut cells = vec![Cell::Blank; sheet.width * sheet.height];
        for (index, series) in self.series.iter().enumerate() {
            let mut last: Option<(f64, f64)> = None;
            for point in &series.points {
                let point = point.filter(|(x, y)| x.is_finite() && y.is_finite());
                if let Some(to) = point {
                    for (x, y) in sheet.steps(last.unwrap_or(to), to) {
                        let Some(cell) = cells.get_mut(sheet.row(y) * sheet.width + sheet.column(x)) else {
                            continue;
                        };
                        *cell = match *cell {
                            Cell::Blank => Cell::Of(index),
                            Cell::Of(other) if other == index => Cell::Of(index),
                            _ => Cell::Several,
                        };
                    }
                }
                last = point;
            }
        }
        cells
    }
}

/// The ranges across and up of all finite points; none where there are no such points.
fn finite_ranges(series: &[Series]) -> Option<((f64, f64), (f64, f64))> {
    let finite = || {
        let all = series.iter().flat_map(|s| s.points.iter().flatten());
        all.copied().filter(|(x, y)| x.is_finite() && y.is_finite())
    };
    Some((range(finite().map(|p| p.0))?, range(finite().map(|p| p.1))?))
}

/// Smallest and largest of the values, spread a little where they are one.
fn range(values: impl Iterator<Item = f64>) -> Option<(f64, f64)> {
    let (low, high) =
        values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), v| (low.min(v), high.max(v)));
    if low > high {
        return None;
    }
    // Less than this is rounding, and no curve to be magnified.
    let least = 1e-9_f64.max(low.abs().max(high.abs()) * 1e-9);
    if high - low > least { Some((low, high)) } else { Some((low - 0.5, high + 0.5)) }
}

struct Sheet {
    x: (f64, f64),
    y: (f64, f64),
    width: usize,
    height: usize,
}

/// The cell of a share 0 to 1 of so many.
fn cell(share: f64, count: usize) -> usize {
    #[expect(clippy::cast_precision_loss, reason = "a few hundred cells")]
    let at = (share * (count - 1) as f64).round();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "a share of a few hundred")]
    let at = at.max(0.0) as usize;
    at.min(count - 1)
}

impl Sheet {
    fn column(&self, x: f64) -> usize {
        cell((x - self.x.0) / (self.x.1 - self.x.0), self.width)
    }

    fn row(&self, y: f64) -> usize {
        cell((self.y.1 - y) / (self.y.1 - self.y.0), self.height)
    }

    /// Points along a line close enough to leave no cell out.
    fn steps(&self, from: (f64, f64), to: (f64, f64)) -> impl Iterator<Item = (f64, f64)> + use<> {
        let across = self.column(from.0).abs_diff(self.column(to.0));
        let up = self.row(from.1).abs_diff(self.row(to.1));
        let count = u32::try_from(2 * across.max(up)).unwrap_or(u32::MAX).max(1);
        (0..=count).map(move |i| {
            let share = f64::from(i) / f64::from(count);
            let mix = |a: f64, b: f64| if i == count { b } else { a + (b - a) * share };
            (mix(from.0, to.0), mix(from.1, to.1))
        })
    }
}

/// The lower axis and the numbers under it.
fn bottom(sheet: &Sheet, ticks: &Ticks, margin: usize) -> String {
    let mut axis = vec!['─'; sheet.width];
    let mut numbers = " ".repeat(margin + 1);
    for x in ticks.within(sheet.x.0, sheet.x.1) {
        let column = sheet.column(x);
        if let Some(place) = axis.get_mut(column) {
            *place = '┬';
        }
        let words = fixed(x, ticks.decimals);
        // Centred on its tick, the sign not counted.
        let digits = words.trim_start_matches('−').chars().count();
        let signs = words.chars().count() - digits;
        let start = (margin + 1 + column).saturating_sub(digits / 2 + signs);
        let begun = numbers.chars().count();
        if start >= begun || column == 0 {
            numbers += &" ".repeat(start.saturating_sub(begun));
            if start < begun {
                numbers = numbers.chars().take(start).collect();
            }
            numbers += &words;
        }
    }
    let axis: String = axis.into_iter().collect();
    format!("{}└{axis}\n{}\n", " ".repeat(margin), numbers.trim_end())
}

#[cfg(test)]
mod tests;
