//! Drawings in millimetres on paper, as SVG and as PDF, at full size.

pub(crate) mod letters;
mod pdf;
mod svg;

/// A place on the page, millimetres from its top left corner: right, down.
pub type OnPage = (f64, f64);

/// What is in the printer.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Paper {
    /// 210 by 297 mm (ISO 216).
    #[default]
    A4,
    /// 8.5 by 11 inches: 215.9 by 279.4 mm.
    Letter,
}

impl Paper {
    /// Width and height upright, millimetres.
    #[must_use]
    pub fn upright(self) -> (f64, f64) {
        match self {
            Paper::A4 => (210.0, 297.0),
            Paper::Letter => (215.9, 279.4),
        }
    }
}

/// How a line looks.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum LineStyle {
    /// 0.18 mm.
    Thin,
    /// 0.4 mm.
    Thick,
    /// 0.25 mm, in dashes.
    Dashed,
    /// 0.18 mm, grey, in short dashes: what is only there for help.
    Ghost,
}

impl LineStyle {
    /// Width and the dashes and gaps, millimetres.
    fn stroke(self) -> (f64, &'static [f64]) {
        match self {
            LineStyle::Thin => (0.18, &[]),
            LineStyle::Thick => (0.4, &[]),
            LineStyle::Dashed => (0.25, &[2.0, 1.0]),
            LineStyle::Ghost => (0.18, &[0.8, 0.8]),
        }
    }

    /// 0 black, 1 white.
    fn grey(self) -> f64 {
        if self == LineStyle::Ghost { 0.45 } else { 0.0 }
    }
}

/// Which part of the words stands at their place.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Anchor {
    /// Their left end.
    Start,
    /// Their middle.
    Middle,
    /// Their right end.
    End,
}

/// One thing on a page. Numbers are finite.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// A straight line.
    Line {
        /// One end.
        from: OnPage,
        /// The other.
        to: OnPage,
        /// How it looks.
        style: LineStyle,
    },
    /// A circle.
    Circle {
        /// Its centre.
        centre: OnPage,
        /// Its radius.
        radius: f64,
        /// How it looks.
        style: LineStyle,
    },
    /// Straight lines from point to point.
    Polyline {
        /// The points in order.
        points: Vec<OnPage>,
        /// How it looks.
        style: LineStyle,
    },
    /// A black face within these corners.
    Face {
        /// The corners in order.
        corners: Vec<OnPage>,
    },
    /// One line of words.
    Text {
        /// Where, on the line the letters stand on.
        at: OnPage,
        /// Height of the font.
        size: f64,
        /// What of it stands there.
        anchor: Anchor,
        /// In heavy letters.
        bold: bool,
        /// The words.
        words: String,
    },
}

/// One side of paper.
#[derive(Clone, Debug, PartialEq)]
pub struct Page {
    /// Millimetres.
    pub width: f64,
    /// Millimetres.
    pub height: f64,
    /// What is drawn, in order.
    pub marks: Vec<Mark>,
}

impl Page {
    /// An empty page.
    #[must_use]
    pub fn new((width, height): (f64, f64)) -> Page {
        Page { width, height, marks: Vec::new() }
    }

    /// Draws a straight line.
    pub fn line(&mut self, from: OnPage, to: OnPage, style: LineStyle) {
        self.marks.push(Mark::Line { from, to, style });
    }

    /// Draws a rectangle between two opposite corners.
    pub fn rectangle(&mut self, one: OnPage, other: OnPage, style: LineStyle) {
        let points = vec![one, (other.0, one.1), other, (one.0, other.1), one];
        self.marks.push(Mark::Polyline { points, style });
    }

    /// Writes a line of words.
    pub fn text(&mut self, at: OnPage, size: f64, anchor: Anchor, bold: bool, words: &str) {
        self.marks.push(Mark::Text { at, size, anchor, bold, words: words.to_owned() });
    }

    /// Draws a line with a filled head of 2.6 mm at its end; no head where it is shorter.
    pub fn arrow(&mut self, from: OnPage, to: OnPage, style: LineStyle) {
        const HEAD: f64 = 2.6;
        let (x, y) = (to.0 - from.0, to.1 - from.1);
        let length = x.hypot(y);
        self.line(from, to, style);
        if length > HEAD {
            let (x, y) = (x / length, y / length);
            let back = |aside: f64| (to.0 - HEAD * x - aside * y, to.1 - HEAD * y + aside * x);
            self.marks.push(Mark::Face { corners: vec![to, back(0.45), back(-0.45)] });
        }
    }
}

/// Pages with a name.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// What a reader of the file calls it.
    pub title: String,
    /// The pages in order.
    pub pages: Vec<Page>,
}

impl Drawing {
    /// Each page as an SVG document of its own.
    #[must_use]
    pub fn svgs(&self) -> Vec<String> {
        self.pages.iter().map(|page| page.svg(&self.title)).collect()
    }
}
