//! Words and tables down a page, and on to the next where it is full.

use crate::bracket::heading::MARGIN;
use crate::drawing::letters::broken;
use crate::drawing::{Anchor, LineStyle, Page};

/// Letters of tables.
const SIZE: f64 = 2.9;
/// Line to line, in sizes of the letters.
const LEADING: f64 = 1.3;
/// Free at either side of a cell.
const PAD: f64 = 1.0;

/// Pages in the making.
pub(super) struct Flow {
    size: (f64, f64),
    done: Vec<Page>,
    page: Page,
    y: f64,
}

impl Flow {
    pub fn new(size: (f64, f64)) -> Flow {
        Flow { size, done: Vec::new(), page: Page::new(size), y: MARGIN }
    }

    pub fn pages(mut self) -> Vec<Page> {
        self.done.push(self.page);
        self.done
    }

    fn width(&self) -> f64 {
        self.size.0 - 2.0 * MARGIN
    }

    pub fn gap(&mut self, height: f64) {
        self.y += height;
    }

    /// Whether that much still fits on this page.
    fn fits(&self, height: f64) -> bool {
        // Under it stands the page's number.
        self.y + height <= self.size.1 - MARGIN - 6.0
    }

    fn turn(&mut self) {
        self.done.push(std::mem::replace(&mut self.page, Page::new(self.size)));
        self.y = MARGIN;
    }

    /// A paragraph.
    pub fn words(&mut self, words: &str, size: f64, bold: bool) {
        // Narrower than the sheet: another font may stand in for the one measured.
        for line in broken(words, size, bold, 0.92 * self.width()) {
            if !self.fits(LEADING * size) {
                self.turn();
            }
            self.y += LEADING * size;
            self.page.text((MARGIN, self.y - 0.3 * size), size, Anchor::Start, bold, &line);
        }
    }

    /// A paragraph in a frame.
    pub fn framed(&mut self, words: &str) {
        let size = 3.4;
        let lines = broken(words, size, true, 0.92 * (self.width() - 6.0));
        let top = self.y;
        self.y += 1.2;
        for line in &lines {
            self.y += LEADING * size;
            self.page.text((MARGIN + 3.0, self.y - 0.3 * size), size, Anchor::Start, true, line);
        }
        self.y += 1.8;
        self.page.rectangle((MARGIN, top), (self.size.0 - MARGIN, self.y), LineStyle::Thick);
    }
}

/// A column of a table.
pub(super) struct Column {
    name: String,
    pub width: f64,
    number: bool,
}

impl Column {
    pub fn words(name: &str, width: f64) -> Column {
        Column { name: name.to_owned(), width, number: false }
    }

    pub fn number(name: &str, width: f64) -> Column {
        Column { name: name.to_owned(), width, number: true }
    }
}

/// A table with a title.
pub(super) struct Grid {
    title: String,
    columns: Vec<Column>,
    rows: Vec<Vec<String>>,
}

impl Grid {
    pub fn new(title: &str, columns: Vec<Column>) -> Grid {
        Grid { title: title.to_owned(), columns, rows: Vec::new() }
    }

    pub fn row(&mut self, cells: Vec<String>) {
        self.rows.push(cells);
    }

    /// Draws it; nothing without rows.
    pub fn draw(&self, flow: &mut Flow) {
        if self.rows.is_empty() {
            return;
        }
        let names: Vec<String> = self.columns.iter().map(|column| column.name.clone()).collect();
        flow.gap(5.0);
        let head = LEADING * 3.6 + 1.0 + self.height(&names, flow, true);
        for (index, row) in self.rows.iter().enumerate() {
            let height = self.height(row, flow, false);
            let fits = flow.fits(if index == 0 { head + height } else { height });
            if !fits {
                flow.turn();
            }
            if index == 0 || !fits {
                let more = if index == 0 { "" } else { ", continued" };
                flow.words(&format!("{}{more}", self.title), 3.6, true);
                flow.gap(1.0);
                self.cells(&names, flow, true, LineStyle::Thick);
            }
            self.cells(row, flow, false, LineStyle::Thin);
        }
    }

    /// The columns' widths, together as wide as the page.
    fn widths(&self, flow: &Flow) -> Vec<f64> {
        let asked: f64 = self.columns.iter().map(|column| column.width).sum();
        self.columns.iter().map(|column| column.width * flow.width() / asked).collect()
    }

    fn lines(&self, cells: &[String], flow: &Flow, bold: bool) -> Vec<Vec<String>> {
        let widths = self.widths(flow);
        cells.iter().zip(widths).map(|(cell, width)| broken(cell, SIZE, bold, width - 2.0 * PAD)).collect()
    }

    fn height(&self, cells: &[String], flow: &Flow, bold: bool) -> f64 {
        let most = self.lines(cells, flow, bold).iter().map(Vec::len).max().unwrap_or(1);
        (0..most).map(|_| LEADING * SIZE).sum::<f64>() + 1.2
    }

    fn cells(&self, cells: &[String], flow: &mut Flow, bold: bool, under: LineStyle) {
        let height = self.height(cells, flow, bold);
        let mut x = MARGIN;
        let lines = self.lines(cells, flow, bold);
        for ((cell, column), width) in lines.iter().zip(&self.columns).zip(self.widths(flow)) {
            let (at, anchor) =
                if column.number { (x + width - PAD, Anchor::End) } else { (x + PAD, Anchor::Start) };
            let mut y = flow.y + 0.6;
            for line in cell {
                y += LEADING * SIZE;
                flow.page.text((at, y - 0.3 * SIZE), SIZE, anchor, bold, line);
            }
            x += width;
        }
        flow.y += height;
        flow.page.line((MARGIN, flow.y), (flow.size.0 - MARGIN, flow.y), under);
    }
}
