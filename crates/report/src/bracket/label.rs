//! Labels beside their holes, off everything else.

use super::clip::Area;
use super::spot::{Kind, Spot};
use crate::drawing::letters::{broken, width};
use crate::drawing::{Anchor, LineStyle, OnPage, Page};
use std::f64::consts::TAU;

/// Widest line of a label, millimetres.
const WIDEST: f64 = 44.0;
/// Line to line, in sizes of the letters.
const LEADING: f64 = 1.25;
/// Around loud words, to their frame.
const FRAME: f64 = 1.2;
/// Between a label and what it must not touch.
const CLEAR: f64 = 0.8;
/// Distances from the rim that are tried.
const DISTANCES: [f64; 10] = [5.0, 8.0, 12.0, 17.0, 23.0, 30.0, 40.0, 55.0, 75.0, 100.0];
/// Directions that are tried.
const DIRECTIONS: u32 = 24;

/// What lines and circles are on the page.
#[derive(Debug, Default)]
pub(super) struct Obstacles {
    pub lines: Vec<(OnPage, OnPage)>,
    pub circles: Vec<(OnPage, f64)>,
    pub areas: Vec<Area>,
}

/// A line of a label: words, size, bold.
type Line = (String, f64, bool);

/// The words of a label and how much room they take.
struct Block {
    lines: Vec<Line>,
    loud: Vec<Line>,
    width: f64,
    height: f64,
    /// Of the lines alone, above the loud words.
    upper: (f64, f64),
}

impl Block {
    fn of(spot: &Spot) -> Block {
        let cut = |words: &str, size: f64, bold: bool| -> Vec<Line> {
            broken(words, size, bold, WIDEST).into_iter().map(|line| (line, size, bold)).collect()
        };
        let mut lines = cut(&spot.name, 3.0, spot.kind != Kind::Old);
        for detail in &spot.details {
            lines.extend(cut(detail, 2.7, false));
        }
        let loud = spot.loud.as_deref().map(|words| cut(words, 3.4, true)).unwrap_or_default();
        let widest = |lines: &[Line]| lines.iter().map(|(w, s, b)| width(w, *s, *b)).fold(0.0, f64::max);
        let high = |lines: &[Line]| lines.iter().map(|(_, size, _)| LEADING * size).sum::<f64>();
        let upper = (widest(&lines), high(&lines));
        let mut block = Block { width: upper.0, height: upper.1, upper, lines, loud: Vec::new() };
        if !loud.is_empty() {
            block.width = block.width.max(widest(&loud) + 2.0 * FRAME);
            block.height += high(&loud) + 3.0 * FRAME;
            block.loud = loud;
        }
        block
    }

    /// Where on its words, standing in an area, the line to a hole begins.
    fn start(&self, area: &Area, hole: OnPage) -> OnPage {
        let (width, height) = self.upper;
        let upper = Area { right: area.left + width, bottom: area.top + height, ..*area }.grown(0.5);
        let lower = Area { top: area.top + height + FRAME, ..*area };
        let near = |(x, y): OnPage| (x - hole.0).hypot(y - hole.1);
        let (one, other) = (upper.nearest(hole), lower.nearest(hole));
        if self.loud.is_empty() || near(one) < near(other) { one } else { other }
    }

    fn draw(&self, page: &mut Page, area: &Area) {
        let mut y = area.top;
        for (words, size, bold) in &self.lines {
            y += LEADING * size;
            page.text((area.left, y - 0.33 * size), *size, Anchor::Start, *bold, words);
        }
        if self.loud.is_empty() {
            return;
        }
        y += FRAME;
        let top = y;
        y += FRAME;
        let mut wide: f64 = 0.0;
        for (words, size, bold) in &self.loud {
            y += LEADING * size;
            page.text((area.left + FRAME, y - 0.33 * size), *size, Anchor::Start, *bold, words);
            wide = wide.max(width(words, *size, *bold));
        }
        page.rectangle((area.left, top), (area.left + wide + 2.0 * FRAME, y + FRAME), LineStyle::Thick);
    }
}

/// Where a label may stand.
#[derive(Clone, Copy)]
struct Seat {
    area: Area,
    leader: (OnPage, OnPage),
    /// How ill it is there by itself.
    cost: f64,
}

/// Writes the labels of the spots on a page, each where it covers least, with a line to its hole.
pub(super) fn place(
    page: &mut Page,
    within: &Area,
    spots: &[(OnPage, &Spot)],
    obstacles: &Obstacles,
    on_page: &dyn Fn((f64, f64)) -> OnPage,
) {
    let blocks: Vec<Block> = spots.iter().map(|(_, spot)| Block::of(spot)).collect();
    let seats: Vec<Vec<Seat>> = spots
        .iter()
        .zip(&blocks)
        .map(|((centre, spot), block)| {
            seats(*centre, spot, block, within, obstacles, spot.partner.map(on_page))
        })
        .collect();
    // Each in turn the best seat beside the others as they sit; thrice round is as good as it gets.
    let mut taken: Vec<Option<Seat>> = vec![None; spots.len()];
    for _ in 0..3 {
        for (index, choice) in seats.iter().enumerate() {
            let price = |seat: &Seat| {
                let others = taken.iter().enumerate().filter(|(other, _)| *other != index);
                seat.cost
                    + others.filter_map(|(_, other)| other.as_ref()).map(|o| quarrel(seat, o)).sum::<f64>()
            };
            let best = choice.iter().map(|seat| (price(seat), *seat)).min_by(|a, b| a.0.total_cmp(&b.0));
            if let Some(place) = taken.get_mut(index) {
                *place = best.map(|(_, seat)| seat);
            }
        }
    }
    for (block, seat) in blocks.iter().zip(taken) {
        if let Some(seat) = seat {
            page.line(seat.leader.0, seat.leader.1, LineStyle::Thin);
            block.draw(page, &seat.area);
        }
    }
}

/// What two labels cost one another.
fn quarrel(one: &Seat, other: &Seat) -> f64 {
    let mut cost = 0.0;
    if one.area.grown(CLEAR).overlap(&other.area.grown(CLEAR)) > 0.0 {
        cost += 1000.0 + 10.0 * one.area.overlap(&other.area);
    }
    for (area, leader) in [(&one.area, &other.leader), (&other.area, &one.leader)] {
        if area.grown(0.5 * CLEAR).clipped(leader.0, leader.1).is_some() {
            cost += 400.0;
        }
    }
    if cross(&one.leader, &other.leader) {
        cost += 200.0;
    }
    cost
}

fn seats(
    centre: OnPage,
    spot: &Spot,
    block: &Block,
    within: &Area,
    obstacles: &Obstacles,
    partner: Option<OnPage>,
) -> Vec<Seat> {
    let rim = spot.radius.unwrap_or(1.0);
    let room = within.grown(-1.5);
    let mut seats = Vec::new();
    for distance in DISTANCES {
        for step in 0..DIRECTIONS {
            // Off the arms of the cross by half a step.
            let angle = TAU * (f64::from(step) + 0.5) / f64::from(DIRECTIONS);
            let way = (angle.cos(), angle.sin());
            let middle = |half: f64, way: f64, at: f64| at + way * (rim + distance) + half * soft(way);
            let x = middle(0.5 * block.width, way.0, centre.0);
            let y = middle(0.5 * block.height, way.1, centre.1);
            let area = Area {
                left: x - 0.5 * block.width,
                top: y - 0.5 * block.height,
                right: x + 0.5 * block.width,
                bottom: y + 0.5 * block.height,
            };
            if area.left < room.left
                || area.right > room.right
                || area.top < room.top
                || area.bottom > room.bottom
            {
                continue;
            }
            let start = block.start(&area, centre);
            let (dx, dy) = (start.0 - centre.0, start.1 - centre.1);
            let long = dx.hypot(dy);
            if long <= rim {
                continue;
            }
            let leader = (start, (centre.0 + rim * dx / long, centre.1 + rim * dy / long));
            let mut cost = 1.5 * distance + covered(&area, &leader, centre, obstacles);
            // Along an arm of the cross the line would be taken for it.
            if dx.abs().min(dy.abs()) < 0.2 * long {
                cost += 12.0;
            }
            if let Some(partner) = partner {
                let (px, py) = (partner.0 - centre.0, partner.1 - centre.1);
                let apart = px.hypot(py);
                // Close by, each hole's label stands on its own side of the pair.
                if apart > 1e-6 {
                    cost += 30.0 * (1.0 + (px * dx + py * dy) / (apart * long)) / (1.0 + apart / 20.0);
                }
            }
            seats.push(Seat { area, leader, cost });
        }
    }
    seats
}

/// From −1 to 1 with the direction, flat near the ends: labels stand square beside their hole.
fn soft(way: f64) -> f64 {
    (1.5 * way).clamp(-1.0, 1.0)
}

/// What a label covers on the page.
fn covered(area: &Area, leader: &(OnPage, OnPage), own: OnPage, obstacles: &Obstacles) -> f64 {
    let near = area.grown(CLEAR);
    let mut cost = 0.0;
    for line in &obstacles.lines {
        if near.clipped(line.0, line.1).is_some() {
            cost += 80.0;
        }
        if cross(leader, line) {
            cost += 6.0;
        }
    }
    for (centre, radius) in &obstacles.circles {
        if near.meets_circle(*centre, *radius) {
            cost += 300.0;
        }
        let same = (centre.0 - own.0).hypot(centre.1 - own.1) < 1e-9;
        if !same && passes(leader, *centre, *radius) {
            cost += 60.0;
        }
    }
    for other in &obstacles.areas {
        if near.overlap(other) > 0.0 {
            cost += 500.0;
        }
        if other.clipped(leader.0, leader.1).is_some() {
            cost += 60.0;
        }
    }
    cost
}

/// Whether a line comes within a circle.
fn passes((from, to): &(OnPage, OnPage), centre: OnPage, radius: f64) -> bool {
    let (x, y) = (to.0 - from.0, to.1 - from.1);
    let square = x * x + y * y;
    let share = if square > 0.0 { ((centre.0 - from.0) * x + (centre.1 - from.1) * y) / square } else { 0.0 };
    let share = share.clamp(0.0, 1.0);
    (from.0 + share * x - centre.0).hypot(from.1 + share * y - centre.1) < radius
}

/// Whether two lines cross.
fn cross(one: &(OnPage, OnPage), other: &(OnPage, OnPage)) -> bool {
    let turn = |a: OnPage, b: OnPage, c: OnPage| (b.0 - a.0) * (c.1 - a.1) - (b.1 - a.1) * (c.0 - a.0);
    let apart = |a: f64, b: f64| (a > 0.0) != (b > 0.0);
    apart(turn(one.0, one.1, other.0), turn(one.0, one.1, other.1))
        && apart(turn(other.0, other.1, one.0), turn(other.0, other.1, one.1))
}
