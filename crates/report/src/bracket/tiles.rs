//! How the template lies on sheets of paper.

use super::clip::Area;
use super::heading::{FOOT, MARGIN, heading_height};
use super::spot::Spot;
use super::{BracketFault, BracketSheet};
use crate::drawing::OnPage;

/// How much of the plate neighbouring sheets both show.
const OVERLAP: f64 = 16.0;
/// Free plate around the outermost cross.
const AROUND: f64 = 8.0;
/// Sheets of one template.
const MOST: u32 = 60;
/// How far a register mark reaches.
pub(super) const REGISTER: f64 = 5.0;

/// A cross with a letter where neighbouring sheets are laid over one another; plate, millimetres.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Register {
    pub u: f64,
    pub v: f64,
    pub name: String,
}

/// The sheets: rows from the top, columns from the left. Millimetres.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Tiles {
    pub page: (f64, f64),
    /// Where on each page the plate is drawn.
    pub area: Area,
    pub columns: u32,
    pub rows: u32,
    /// u at the left and v at the top of the first sheet.
    first: (f64, f64),
}

impl Tiles {
    /// Upright or across, whichever takes fewer sheets, then leaves more room.
    pub fn chosen(sheet: &BracketSheet, spots: &[Spot]) -> Result<Tiles, BracketFault> {
        let extent = Extent::of(spots);
        let (width, height) = sheet.paper.upright();
        let tried = [(width, height), (height, width)].map(|page| {
            let top = MARGIN + heading_height(sheet, page.0);
            let area = Area { left: MARGIN, top, right: page.0 - MARGIN, bottom: page.1 - MARGIN - FOOT };
            let room = (area.right - area.left, area.bottom - area.top);
            let count = |need: f64, room: f64| ((need - OVERLAP) / (room - OVERLAP)).ceil().max(1.0);
            let columns = count(extent.across(), room.0);
            let rows = count(extent.up(), room.1);
            let spare = (room.0 - extent.across()).min(room.1 - extent.up());
            (page, area, columns, rows, spare)
        });
        let [upright, across] = tried;
        let (few, many) = (upright.2 * upright.3, across.2 * across.3);
        let turn = many < few || (many <= few && across.4 > upright.4);
        let (page, area, columns, rows, _) = if turn { across } else { upright };
        if columns * rows > f64::from(MOST) {
            return Err(BracketFault::TooLarge {
                across: extent.across() / 1e3,
                up: extent.up() / 1e3,
                sheets: columns * rows,
                most: MOST,
                lengths: sheet.lengths,
            });
        }
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "1 to MOST")]
        let (columns, rows) = (columns as u32, rows as u32);
        let mut tiles = Tiles { page, area, columns, rows, first: (0.0, 0.0) };
        let (step_u, step_v) = tiles.step();
        let covered = (step_u * f64::from(columns) + OVERLAP, step_v * f64::from(rows) + OVERLAP);
        let (u, v) = extent.middle();
        tiles.first = (u - 0.5 * covered.0, v + 0.5 * covered.1);
        let spare = (covered.0 - extent.across(), covered.1 - extent.up());
        let (upright, level) = tiles.seams();
        tiles.first.0 += best_shift(&upright, spare.0, &|s| s.u, &|p| p.0, spots);
        tiles.first.1 += best_shift(&level, spare.1, &|s| s.v, &|p| p.1, spots);
        Ok(tiles)
    }

    /// From one sheet to the next, to the right and down.
    fn step(&self) -> (f64, f64) {
        (self.area.right - self.area.left - OVERLAP, self.area.bottom - self.area.top - OVERLAP)
    }

    /// Where a place of the plate lies on the page of a sheet: u to the right and v up, at full size.
    pub fn on_page(&self, (column, row): (u32, u32), (u, v): (f64, f64)) -> OnPage {
        let (step_u, step_v) = self.step();
        let left = self.first.0 + step_u * f64::from(column);
        let top = self.first.1 - step_v * f64::from(row);
        (self.area.left + (u - left), self.area.top + (top - v))
    }

    /// u of each seam between columns and v of each between rows.
    pub fn seams(&self) -> (Vec<f64>, Vec<f64>) {
        let (step_u, step_v) = self.step();
        let half = 0.5 * OVERLAP;
        let upright = (1..self.columns).map(|i| self.first.0 + step_u * f64::from(i) + half).collect();
        let level = (1..self.rows).map(|j| self.first.1 - step_v * f64::from(j) - half).collect();
        (upright, level)
    }

    /// Two on each seam of each pair of neighbours, beside the spots where that can be.
    pub fn registers(&self, spots: &[Spot]) -> Vec<Register> {
        let (step_u, step_v) = self.step();
        let (upright, level) = self.seams();
        let mut all = Vec::new();
        let mut add = |along: &dyn Fn(f64) -> (f64, f64)| {
            for share in [0.25, 0.75] {
                let tries = [0.0, 0.06, -0.06, 0.12, -0.12, 0.18, -0.18].map(|off| along(share + off));
                let free = tries.into_iter().find(|at| {
                    let clear = |s: &Spot| {
                        let away = (s.u - at.0).hypot(s.v - at.1);
                        let off_rim = s.radius.is_none_or(|radius| (away - radius).abs() > 3.0 + REGISTER);
                        away > 10.0 + REGISTER && off_rim
                    };
                    spots.iter().all(clear)
                });
                let (u, v) = free.unwrap_or(tries[0]);
                all.push(Register { u, v, name: name(all.len()) });
            }
        };
        for u in upright {
            for row in 0..self.rows {
                let top = self.first.1 - step_v * f64::from(row);
                add(&|share| (u, top - share * (step_v + OVERLAP)));
            }
        }
        for v in level {
            for column in 0..self.columns {
                let left = self.first.0 + step_u * f64::from(column);
                add(&|share| (left + share * (step_u + OVERLAP), v));
            }
        }
        all
    }
}

/// By how much seams are moved, within what is spare, to run clear of holes and not between the old and
/// the new place of one.
fn best_shift(
    seams: &[f64],
    spare: f64,
    at: &dyn Fn(&Spot) -> f64,
    partner: &dyn Fn((f64, f64)) -> f64,
    spots: &[Spot],
) -> f64 {
    const TRIES: i32 = 40;
    let cost = |shift: f64| {
        let cut = |spot: &Spot| {
            let here = at(spot);
            let there = spot.partner.map_or(here, partner);
            let clear = spot.reach() + 0.5 * OVERLAP;
            let (low, high) = (here.min(there) - clear, here.max(there) + clear);
            seams.iter().filter(|seam| (low..=high).contains(&(*seam + shift))).count()
        };
        spots.iter().map(cut).sum::<usize>()
    };
    if seams.is_empty() {
        return 0.0;
    }
    let shifts = (-TRIES..=TRIES).map(|i| 0.5 * spare * f64::from(i) / f64::from(TRIES));
    let near = |a: &f64, b: &f64| cost(*a).cmp(&cost(*b)).then(a.abs().total_cmp(&b.abs()));
    shifts.min_by(near).unwrap_or(0.0)
}

/// A, B, … Z, A1, B1, …
fn name(index: usize) -> String {
    let letter = (b'A'..=b'Z').nth(index % 26).map_or('A', char::from);
    let round = index / 26;
    if round == 0 { letter.to_string() } else { format!("{letter}{round}") }
}

/// All crosses and circles with free plate around.
struct Extent {
    low: (f64, f64),
    high: (f64, f64),
}

impl Extent {
    fn of(spots: &[Spot]) -> Extent {
        let mut low = (f64::INFINITY, f64::INFINITY);
        let mut high = (f64::NEG_INFINITY, f64::NEG_INFINITY);
        for spot in spots {
            let reach = spot.reach() + AROUND;
            low = (low.0.min(spot.u - reach), low.1.min(spot.v - reach));
            high = (high.0.max(spot.u + reach), high.1.max(spot.v + reach));
        }
        Extent { low, high }
    }

    fn across(&self) -> f64 {
        self.high.0 - self.low.0
    }

    fn up(&self) -> f64 {
        self.high.1 - self.low.1
    }

    fn middle(&self) -> (f64, f64) {
        (0.5 * (self.low.0 + self.high.0), 0.5 * (self.low.1 + self.high.1))
    }
}
