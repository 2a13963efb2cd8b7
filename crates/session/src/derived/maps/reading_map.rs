//! A map as far as it is computed.

use super::{Asked, Field, joined};
use crate::derived::curves::Ticks;
use nalgebra::Vector3;
use std::sync::atomic::AtomicBool;
use std::sync::{Arc, Mutex, PoisonError};
use wheelpath_geometry::{Limited, PoseRange, Quantity, Requirement};
use wheelpath_studies::Cell;

/// Lines of a map, about.
const LINES: f32 = 9.0;

/// A line of a map.
#[derive(Clone, Debug)]
pub struct Level {
    /// What the reading gains there, in writing, without its unit.
    pub text: String,
    /// Whether it is the line of no gain.
    pub is_zero: bool,
    /// Its pieces, in metres from the middle.
    pub lines: Vec<Vec<[f64; 2]>>,
}

/// A contour map: of each place, what the reading does over the travel.
#[derive(Clone, Debug)]
pub struct ReadingMap {
    /// What was asked for.
    pub asked: Arc<Asked>,
    /// Whether this is as fine as it gets.
    pub finished: bool,
    columns: Vec<f64>,
    rows: Vec<f64>,
    slopes: Vec<f64>,
    kept: Vec<bool>,
    levels: Vec<Level>,
}

impl ReadingMap {
    /// Computes a map of so many columns and rows; `None` where `enough` became true on the way.
    #[must_use]
    pub fn computed(asked: &Arc<Asked>, count: usize, threads: usize, enough: &AtomicBool) -> Option<Self> {
        let study = asked.study(count);
        let [columns, rows] = study.lines();
        let width = columns.len();
        let cells = Mutex::new(vec![Cell::NONE; width * rows.len()]);
        study.rows(threads, enough, |row, found| {
            let mut cells = cells.lock().unwrap_or_else(PoisonError::into_inner);
            if let Some(into) = cells.get_mut(row * width..(row + 1) * width) {
                into.copy_from_slice(found);
            }
        });
        if enough.load(std::sync::atomic::Ordering::Relaxed) {
            return None;
        }
        let cells = cells.into_inner().unwrap_or_else(PoisonError::into_inner);
        let kept = |cell: &Cell| asked.limit.as_ref().is_some_and(|limit| keeps(limit, cell));
        let mut sheet = ReadingMap {
            asked: Arc::clone(asked),
            finished: false,
            slopes: cells.iter().map(|cell| cell.slope).collect(),
            kept: cells.iter().map(kept).collect(),
            columns,
            rows,
            levels: Vec::new(),
        };
        sheet.levels = sheet.drawn_levels();
        Some(sheet)
    }

    fn drawn_levels(&self) -> Vec<Level> {
        let field = self.field();
        let Some(range) = field.range() else { return Vec::new() };
        // In what is shown: degrees or lengths a stretch of travel.
        let (unit, lengths) = (self.asked.reading.unit, self.asked.lengths);
        let shown = unit.shown_slope(0.0, lengths.stretch(), lengths);
        let ticks = Ticks::of(range.map(|slope| slope * shown), LINES, 1.0);
        let level = |at: &f64| {
            let is_zero = at.abs() < 0.5 * ticks.step;
            let level = if is_zero { 0.0 } else { at / shown };
            Level { text: ticks.write(*at), is_zero, lines: joined(&field.line(level)) }
        };
        ticks.at.iter().map(level).collect()
    }

    /// Lines of equal gain at round numbers, rising.
    #[must_use]
    pub fn levels(&self) -> &[Level] {
        &self.levels
    }

    /// What the reading gains per metre of travel, its mean over the travel: places are metres along u and v
    /// from the middle.
    #[must_use]
    pub fn field(&self) -> Field<'_> {
        Field { columns: &self.columns, rows: &self.rows, values: &self.slopes }
    }

    /// The places where the limit is kept, as bands along u: from, to, and v of its lower and upper edge.
    #[must_use]
    pub fn bands(&self) -> Vec<[f64; 4]> {
        let step = |places: &[f64]| match places {
            [a, b, ..] => 0.5 * (b - a),
            _ => 0.0,
        };
        let (wide, high) = (step(&self.columns), step(&self.rows));
        let [[left, right], [low, top]] = [&self.columns, &self.rows]
            .map(|all| [*all.first().unwrap_or(&0.0), *all.last().unwrap_or(&0.0)]);
        let mut bands: Vec<[f64; 4]> = Vec::new();
        for (row, v) in self.rows.iter().enumerate() {
            let mut open: Option<[f64; 2]> = None;
            let edges = [(v - high).max(low), (v + high).min(top)];
            let mut close = |open: &mut Option<[f64; 2]>| {
                if let Some([from, to]) = open.take() {
                    bands.push([from, to, edges[0], edges[1]]);
                }
            };
            for (column, u) in self.columns.iter().enumerate() {
                if self.kept[row * self.columns.len() + column] {
                    let [_, to] = open.get_or_insert([(u - wide).max(left), 0.0]);
                    *to = (u + wide).min(right);
                } else {
                    close(&mut open);
                }
            }
            close(&mut open);
        }
        bands
    }

    /// Whether the limit is kept at the place nearest to this one; `None` where there is no limit or no map.
    #[must_use]
    pub fn keeps(&self, [u, v]: [f64; 2]) -> Option<bool> {
        self.asked.limit.as_ref()?;
        let nearest = |places: &[f64], at: f64| {
            let inside = *places.first()? <= at && at <= *places.last()?;
            let n = places.iter().enumerate().min_by(|a, b| (a.1 - at).abs().total_cmp(&(b.1 - at).abs()))?.0;
            inside.then_some(n)
        };
        let place = nearest(&self.rows, v)? * self.columns.len() + nearest(&self.columns, u)?;
        self.slopes.get(place)?.is_finite().then(|| self.kept[place])
    }

    /// The lines where the reading is at the last travel what it is at the first.
    pub fn zero(&self) -> impl Iterator<Item = &[[f64; 2]]> {
        self.levels
            .iter()
            .filter(|level| level.is_zero)
            .flat_map(|level| level.lines.iter().map(Vec::as_slice))
    }

    /// How finely it is computed: columns.
    #[must_use]
    pub fn count(&self) -> usize {
        self.columns.len()
    }

    /// A place of the map in vehicle axes, metres from the middle of the patch.
    #[must_use]
    pub fn off(&self, [u, v]: [f64; 2]) -> Vector3<f64> {
        self.asked.patch.u * u + self.asked.patch.v * v
    }
}

/// Whether a place of a map keeps a limit.
fn keeps(limit: &Requirement, cell: &Cell) -> bool {
    let Limited::Reading { taken, over, .. } = limit.of else { return false };
    let base = if taken == Quantity::Value { cell.design } else { 0.0 };
    let ends = match over {
        PoseRange::Design => [cell.design; 2],
        _ => [base + cell.least, base + cell.most],
    };
    ends.iter().all(|value| limit.margin(*value) >= 0.0)
}

impl ReadingMap {
    pub(super) fn finished(self) -> Self {
        ReadingMap { finished: true, ..self }
    }
}
