//! The template as a drawing for a cutter: DXF as of release 12, in ASCII, in the sheet's lengths.

use super::BracketSheet;
use super::spot::{Kind, Spot, spots};
use super::strip::check_of;
use std::fmt::Write;
use wheelpath_geometry::{LengthUnit, Unit, shown_name};

/// Layer, its colour's number, and its line type.
const LAYERS: [(&str, u8, &str); 4] = [
    ("OLD", 8, "DASHED"),
    ("NEW", 7, "CONTINUOUS"),
    ("REFERENCE", 5, "CONTINUOUS"),
    ("CHECK", 3, "CONTINUOUS"),
];

/// Groups of a code and a value, a line each. Writing into a `String` cannot fail.
struct Groups {
    text: String,
    /// How many of the sheet's lengths a millimetre is.
    scale: f64,
}

impl Groups {
    fn words(&mut self, code: u16, words: &str) {
        let _ = writeln!(self.text, "{code}\n{words}");
    }

    fn number(&mut self, code: u16, value: f64) {
        let _ = writeln!(self.text, "{code}\n{value:.6}");
    }

    /// A length in millimetres.
    fn length(&mut self, code: u16, millimetres: f64) {
        self.number(code, millimetres * self.scale);
    }

    fn begin(&mut self, entity: &str, layer: &str) {
        self.words(0, entity);
        self.words(8, layer);
    }

    fn at(&mut self, first: u16, (x, y): (f64, f64)) {
        self.length(first, x);
        self.length(first + 10, y);
        self.number(first + 20, 0.0);
    }

    fn line(&mut self, layer: &str, from: (f64, f64), to: (f64, f64)) {
        self.begin("LINE", layer);
        self.at(10, from);
        self.at(11, to);
    }

    fn text(&mut self, layer: &str, at: (f64, f64), words: &str) {
        self.begin("TEXT", layer);
        self.at(10, at);
        self.length(40, 3.0);
        self.words(1, &plain(words));
    }

    fn spot(&mut self, spot: &Spot) {
        let layer = match spot.kind {
            Kind::Old => "OLD",
            Kind::New => "NEW",
            Kind::Reference => "REFERENCE",
        };
        let (u, v, reach) = (spot.u, spot.v, spot.reach());
        for (from, to) in spot.arms() {
            self.line(layer, (u + from, v), (u + to, v));
            self.line(layer, (u, v + from), (u, v + to));
        }
        if let Some(radius) = spot.radius {
            self.begin("CIRCLE", layer);
            self.at(10, (u, v));
            self.length(40, radius);
        }
        // The old hole's words under it, the others' over it: they are often side by side.
        let first = spot.details.first().map_or("", String::as_str);
        let mut words = format!("{}, {first}", spot.name);
        if let Some(within) = &spot.within {
            let _ = write!(words, ", place within {within}");
        }
        if let Some(loud) = &spot.loud {
            let _ = write!(words, ". {loud}");
        }
        let up = if spot.kind == Kind::Old { -reach - 4.0 } else { reach + 1.0 };
        self.text(layer, (u, v + up), &words);
    }
}

/// The words in the signs of release 12: its own codes for °, ± and Ø, "?" for what it has no sign for.
fn plain(words: &str) -> String {
    let mut safe = String::new();
    for c in shown_name(words).chars() {
        match c {
            '°' => safe.push_str("%%d"),
            '±' => safe.push_str("%%p"),
            'Ø' => safe.push_str("%%c"),
            '−' | '–' | '—' => safe.push('-'),
            '·' => safe.push(','),
            ' '..='~' => safe.push(c),
            _ => safe.push('?'),
        }
    }
    safe
}

/// The whole file: u across, v up, the plate's origin at zero.
pub(super) fn written(sheet: &BracketSheet) -> String {
    let spots = spots(sheet);
    let scale = Unit::Length.shown(1e-3, sheet.lengths);
    let mut dxf = Groups { text: String::new(), scale };
    let units = match sheet.lengths {
        LengthUnit::Millimetre => "Units: millimetres",
        LengthUnit::Inch => "Units: inches",
    };
    dxf.words(999, units);
    dxf.words(0, "SECTION");
    dxf.words(2, "HEADER");
    dxf.words(9, "$ACADVER");
    dxf.words(1, "AC1009");
    dxf.words(0, "ENDSEC");
    tables(&mut dxf);
    dxf.words(0, "SECTION");
    dxf.words(2, "ENTITIES");
    for spot in &spots {
        dxf.spot(spot);
    }
    let low = |of: &dyn Fn(&Spot) -> f64| spots.iter().map(of).fold(f64::INFINITY, f64::min);
    let (u, v) = (low(&|s| s.u - s.reach()), low(&|s| s.v - s.reach()) - 20.0);
    let (metres, words) = check_of(sheet.lengths);
    let end = u + 1e3 * metres;
    dxf.line("CHECK", (u, v), (end, v));
    for end in [u, end] {
        dxf.line("CHECK", (end, v - 3.0), (end, v + 3.0));
    }
    dxf.text("CHECK", (u, v - 8.0), &format!("Check line: {words}. Units: {}.", sheet.unit()));
    dxf.text("CHECK", (u, v - 13.0), &format!("Seen from {}", sheet.plate.seen_from()));
    dxf.words(0, "ENDSEC");
    dxf.words(0, "EOF");
    dxf.text
}

fn tables(dxf: &mut Groups) {
    dxf.words(0, "SECTION");
    dxf.words(2, "TABLES");
    dxf.words(0, "TABLE");
    dxf.words(2, "LTYPE");
    dxf.words(70, "2");
    for (name, words, dashes) in [("CONTINUOUS", "Solid", &[][..]), ("DASHED", "__ __", &[4.0, -2.0])] {
        dxf.words(0, "LTYPE");
        dxf.words(2, name);
        dxf.words(70, "0");
        dxf.words(3, words);
        dxf.words(72, "65");
        dxf.words(73, &dashes.len().to_string());
        dxf.length(40, dashes.iter().map(|dash: &f64| dash.abs()).sum());
        for dash in dashes {
            dxf.length(49, *dash);
        }
    }
    dxf.words(0, "ENDTAB");
    dxf.words(0, "TABLE");
    dxf.words(2, "LAYER");
    dxf.words(70, &LAYERS.len().to_string());
    for (name, colour, line) in LAYERS {
        dxf.words(0, "LAYER");
        dxf.words(2, name);
        dxf.words(70, "0");
        dxf.words(62, &colour.to_string());
        dxf.words(6, line);
    }
    dxf.words(0, "ENDTAB");
    dxf.words(0, "ENDSEC");
}
