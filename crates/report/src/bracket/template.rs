//! The full-size template: holes, crosses and labels in the plate's plane, on as many pages as it takes.

use super::clip::Area;
use super::label::{Obstacles, place};
use super::spot::{Kind, Spot, spots};
use super::tiles::{REGISTER, Tiles};
use super::{BracketFault, BracketSheet, heading, strip};
use crate::drawing::{Anchor, LineStyle, Mark, OnPage, Page};

/// The pages, numbered after those before.
pub(super) fn pages(sheet: &BracketSheet, before: usize) -> Result<Vec<Page>, BracketFault> {
    let spots = spots(sheet);
    let tiles = Tiles::chosen(sheet, &spots)?;
    let places: Vec<(u32, u32)> =
        (0..tiles.rows).flat_map(|row| (0..tiles.columns).map(move |column| (column, row))).collect();
    let count = before + places.len();
    let mut pages = Vec::with_capacity(places.len());
    for (index, tile) in places.into_iter().enumerate() {
        let mut page = Page::new(tiles.page);
        heading::draw_heading(&mut page, sheet, before + index + 1, count);
        strip::draw_foot(&mut page, sheet, &tiles, tile);
        let area = tiles.area;
        page.rectangle((area.left, area.top), (area.right, area.bottom), LineStyle::Thin);
        Tile { page: &mut page, area, tiles: &tiles, tile, obstacles: Obstacles::default() }.draw(&spots);
        pages.push(page);
    }
    Ok(pages)
}

/// One page's part of the plate.
struct Tile<'a> {
    page: &'a mut Page,
    area: Area,
    tiles: &'a Tiles,
    tile: (u32, u32),
    obstacles: Obstacles,
}

impl Tile<'_> {
    fn draw(mut self, spots: &[Spot]) {
        self.seams(spots);
        // New holes last, so that what is drilled lies over what was.
        for kind in [Kind::Reference, Kind::Old, Kind::New] {
            for spot in spots.iter().filter(|spot| spot.kind == kind) {
                self.spot(spot);
            }
        }
        let here: Vec<(OnPage, &Spot)> = spots
            .iter()
            .map(|spot| (self.at((spot.u, spot.v)), spot))
            .filter(|(centre, _)| self.area.holds(*centre))
            .collect();
        place(self.page, &self.area, &here, &self.obstacles, &|at| self.tiles.on_page(self.tile, at));
    }

    fn at(&self, plate: (f64, f64)) -> OnPage {
        self.tiles.on_page(self.tile, plate)
    }

    /// A line as far as it lies on this page.
    fn line(&mut self, from: OnPage, to: OnPage, style: LineStyle) {
        if let Some((from, to)) = self.area.clipped(from, to) {
            self.page.line(from, to, style);
            self.obstacles.lines.push((from, to));
        }
    }

    fn cross(&mut self, (x, y): OnPage, arms: &[(f64, f64)], style: LineStyle) {
        for (from, to) in arms {
            self.line((x + from, y), (x + to, y), style);
            self.line((x, y + from), (x, y + to), style);
        }
    }

    fn spot(&mut self, spot: &Spot) {
        let centre = self.at((spot.u, spot.v));
        if let (Kind::New, Some(partner)) = (spot.kind, spot.partner) {
            let partner = self.at(partner);
            self.line(partner, centre, LineStyle::Thin);
        }
        self.cross(centre, &spot.arms(), spot.kind.cross());
        if let Some(radius) = spot.radius {
            self.circle(centre, radius, spot.kind.style());
        }
    }

    /// A circle; where it runs off the page, the part that is on it, in short straight pieces.
    fn circle(&mut self, centre: OnPage, radius: f64, style: LineStyle) {
        let whole = self.area.grown(-radius);
        if whole.left <= whole.right && whole.top <= whole.bottom && whole.holds(centre) {
            self.page.marks.push(Mark::Circle { centre, radius, style });
            self.obstacles.circles.push((centre, radius));
            return;
        }
        if !self.area.meets_circle(centre, radius) {
            return;
        }
        self.obstacles.circles.push((centre, radius));
        let at = |degree: u32| {
            let angle = f64::from(degree).to_radians();
            (centre.0 + radius * angle.cos(), centre.1 + radius * angle.sin())
        };
        let mut run: Vec<OnPage> = Vec::new();
        for degree in 0..360 {
            let piece = self.area.clipped(at(degree), at(degree + 1));
            if let Some((from, to)) = piece {
                if run.last() != Some(&from) {
                    self.polyline(std::mem::take(&mut run), style);
                    run.push(from);
                }
                run.push(to);
            }
        }
        self.polyline(run, style);
    }

    fn polyline(&mut self, points: Vec<OnPage>, style: LineStyle) {
        if points.len() > 1 {
            self.page.marks.push(Mark::Polyline { points, style });
        }
    }

    /// Where this sheet is cut, and the marks by which it finds its neighbours.
    fn seams(&mut self, spots: &[Spot]) {
        let (upright, level) = self.tiles.seams();
        let area = self.area;
        for u in upright {
            let (x, _) = self.at((u, 0.0));
            self.line((x, area.top), (x, area.bottom), LineStyle::Ghost);
        }
        for v in level {
            let (_, y) = self.at((0.0, v));
            self.line((area.left, y), (area.right, y), LineStyle::Ghost);
        }
        for register in self.tiles.registers(spots) {
            let centre = self.at((register.u, register.v));
            if !area.grown(-REGISTER).holds(centre) {
                continue;
            }
            self.cross(centre, &[(-REGISTER, REGISTER)], LineStyle::Thin);
            self.page.marks.push(Mark::Circle { centre, radius: 2.5, style: LineStyle::Thin });
            let words = (centre.0 + 2.6, centre.1 - 2.4);
            self.page.text(words, 3.4, Anchor::Start, true, &register.name);
            self.obstacles.areas.push(
                Area { left: centre.0, top: centre.1, right: centre.0, bottom: centre.1 }
                    .grown(REGISTER + 1.0),
            );
        }
    }
}
