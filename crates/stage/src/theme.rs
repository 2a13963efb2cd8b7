//! Every colour of the program, for the light sheet and the dark one.
//!
//! Colour means a reading: the seven hues are Okabe and Ito's colour-blind-safe set
//! ("Color Universal Design", 2008). On a sheet they are darkened or lightened just
//! as far as the contrast of the Web Content Accessibility Guidelines (WCAG 2, level
//! AA) asks: 3 : 1 for lines, 4.5 : 1 for text.

use crate::solids::Paint;
use crate::view::{Emphasis, Tone};

/// A colour in sRGB, 0 to 255 each.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Rgb(pub u8, pub u8, pub u8);

impl Rgb {
    const fn grey(level: u8) -> Self {
        Self(level, level, level)
    }

    /// Relative luminance, 0 to 1 (WCAG 2).
    #[must_use]
    pub fn luminance(self) -> f64 {
        let linear = |channel: u8| {
            let share = f64::from(channel) / 255.0;
            if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
        };
        0.2126 * linear(self.0) + 0.7152 * linear(self.1) + 0.0722 * linear(self.2)
    }

    /// Contrast ratio with another colour, 1 to 21 (WCAG 2).
    #[must_use]
    pub fn contrast(self, other: Self) -> f64 {
        let (a, b) = (self.luminance(), other.luminance());
        (a.max(b) + 0.05) / (a.min(b) + 0.05)
    }

    /// Mixed with another: `share` hundredths of the way to it.
    #[must_use]
    pub fn mixed(self, other: Self, share: u8) -> Self {
        let mix = |a: u8, b: u8| {
            let sum =
                u16::from(a) * u16::from(100 - share.min(100)) + u16::from(b) * u16::from(share.min(100));
            u8::try_from(sum / 100).unwrap_or(u8::MAX)
        };
        Self(mix(self.0, other.0), mix(self.1, other.1), mix(self.2, other.2))
    }

    /// The same hue with at least a contrast to a background, moved toward black or
    /// white as little as that takes.
    #[must_use]
    pub fn readable_on(self, background: Self, contrast: f64) -> Self {
        let pole = if background.luminance() > 0.18 { Self::grey(0) } else { Self::grey(255) };
        (0..=100)
            .step_by(4)
            .map(|share| self.mixed(pole, share))
            .find(|colour| colour.contrast(background) >= contrast)
            .unwrap_or(pole)
    }
}

/// Okabe and Ito's hues, and ink for what is no reading.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Hue {
    /// No reading: the sheet's ink.
    Ink,
    /// Orange.
    Orange,
    /// Sky blue.
    SkyBlue,
    /// Bluish green.
    BluishGreen,
    /// Yellow.
    Yellow,
    /// Blue.
    Blue,
    /// Vermilion.
    Vermilion,
    /// Reddish purple.
    ReddishPurple,
}

/// Which sheet the car is drawn on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum ColourTheme {
    /// Light paper.
    #[default]
    Light,
    /// A dark sheet, for a dim garage.
    Dark,
}

/// The words in a reading's key and the hue they give it; the first that fits holds.
const HUES: [(&str, Hue); 21] = [
    ("camber", Hue::Vermilion),
    ("caster", Hue::BluishGreen),
    ("bump_steer", Hue::Blue),
    ("ackermann", Hue::SkyBlue),
    ("turn", Hue::SkyBlue),
    ("toe", Hue::Blue),
    ("scrub", Hue::SkyBlue),
    ("trail", Hue::Orange),
    ("inclination", Hue::ReddishPurple),
    ("kingpin", Hue::ReddishPurple),
    ("roll_cent", Hue::Yellow),
    ("front_view", Hue::Yellow),
    ("front_instant", Hue::Yellow),
    ("side_view", Hue::Orange),
    ("side_instant", Hue::Orange),
    ("instant", Hue::Yellow),
    ("anti", Hue::Orange),
    ("motion_ratio", Hue::BluishGreen),
    ("steering_axis", Hue::Ink),
    ("steer", Hue::Blue),
    ("track", Hue::ReddishPurple),
];

/// The hue of a reading, from its catalogue key: the same in 3D, curves and tables.
#[must_use]
pub fn hue_of(reading: &str) -> Hue {
    HUES.iter().find(|(word, _)| reading.contains(word)).map_or(Hue::Ink, |(_, hue)| *hue)
}

/// The colours of one sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[cfg_attr(feature = "window", derive(bevy::prelude::Resource))]
pub struct Palette {
    /// Which sheet.
    pub sheet: ColourTheme,
    /// The sheet itself.
    pub paper: Rgb,
    /// Panels beside the stage.
    pub panel: Rgb,
    /// Text and the lines of the car as it stands.
    pub ink: Rgb,
    /// Lines that matter less: leaders, extension lines, secondary text.
    pub faint: Rgb,
    /// Grid lines every metre.
    pub grid: Rgb,
    /// What was changed or is selected.
    pub accent: Rgb,
    /// What is wrong.
    pub fault: Rgb,
}

impl Default for Palette {
    fn default() -> Self {
        Self::of(ColourTheme::Light)
    }
}

impl Palette {
    /// The colours of a sheet.
    #[must_use]
    pub const fn of(sheet: ColourTheme) -> Self {
        match sheet {
            ColourTheme::Light => Self {
                sheet,
                paper: Rgb(246, 244, 238),
                panel: Rgb(238, 236, 229),
                ink: Rgb(28, 32, 38),
                faint: Rgb(98, 101, 106),
                grid: Rgb(120, 128, 138),
                accent: Rgb(84, 66, 196),
                fault: Rgb(182, 24, 36),
            },
            ColourTheme::Dark => Self {
                sheet,
                paper: Rgb(30, 34, 40),
                panel: Rgb(38, 43, 50),
                ink: Rgb(232, 230, 222),
                faint: Rgb(152, 157, 163),
                grid: Rgb(128, 138, 150),
                accent: Rgb(166, 154, 255),
                fault: Rgb(255, 112, 112),
            },
        }
    }

    /// A hue for lines, markers and curves: 3 : 1 against the sheet at least.
    #[must_use]
    pub fn line(&self, hue: Hue) -> Rgb {
        self.base(hue).readable_on(self.paper, 3.0)
    }

    /// A hue for text: 4.5 : 1 against the sheet and the panels at least.
    #[must_use]
    pub fn text(&self, hue: Hue) -> Rgb {
        self.base(hue).readable_on(self.paper, 4.5).readable_on(self.panel, 4.5)
    }

    const fn base(&self, hue: Hue) -> Rgb {
        match hue {
            Hue::Ink => self.ink,
            Hue::Orange => Rgb(230, 159, 0),
            Hue::SkyBlue => Rgb(86, 180, 233),
            Hue::BluishGreen => Rgb(0, 158, 115),
            Hue::Yellow => Rgb(240, 228, 66),
            Hue::Blue => Rgb(0, 114, 178),
            Hue::Vermilion => Rgb(213, 94, 0),
            Hue::ReddishPurple => Rgb(204, 121, 167),
        }
    }

    /// What a solid is painted with.
    #[must_use]
    pub fn paint(&self, paint: Paint, emphasis: Emphasis) -> Rgb {
        let grey = match (self.sheet, paint) {
            (ColourTheme::Light, Paint::Tyre) => Rgb(54, 55, 58),
            (ColourTheme::Dark, Paint::Tyre) => Rgb(84, 87, 92),
            (ColourTheme::Light, Paint::Rim) => Rgb(146, 148, 151),
            (ColourTheme::Dark, Paint::Rim) => Rgb(140, 143, 147),
            (_, Paint::Seam) => Rgb(46, 47, 50),
            (ColourTheme::Light, Paint::Part(tone)) => match tone {
                Tone::Body => Rgb(158, 160, 161),
                Tone::Arm => Rgb(100, 104, 109),
                Tone::Rod => Rgb(116, 120, 125),
                Tone::Upright => Rgb(128, 131, 135),
                Tone::Rocker => Rgb(108, 111, 116),
                Tone::Damper => Rgb(86, 90, 96),
                Tone::Bright => Rgb(168, 170, 172),
            },
            (ColourTheme::Dark, Paint::Part(tone)) => match tone {
                Tone::Body => Rgb(104, 108, 113),
                Tone::Arm => Rgb(158, 162, 167),
                Tone::Rod => Rgb(176, 179, 183),
                Tone::Upright => Rgb(186, 188, 191),
                Tone::Rocker => Rgb(164, 167, 171),
                Tone::Damper => Rgb(136, 140, 146),
                Tone::Bright => Rgb(212, 213, 214),
            },
        };
        match emphasis {
            Emphasis::Plain => grey,
            Emphasis::Changed => grey.mixed(self.accent, 55),
            Emphasis::Selected => grey.mixed(self.accent, 85),
            Emphasis::Fault => grey.mixed(self.fault, 85),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const HUES: [Hue; 8] = [
        Hue::Ink,
        Hue::Orange,
        Hue::SkyBlue,
        Hue::BluishGreen,
        Hue::Yellow,
        Hue::Blue,
        Hue::Vermilion,
        Hue::ReddishPurple,
    ];

    #[test]
    fn contrast_is_the_published_one() {
        // WCAG 2: black on white is 21 : 1; a colour with itself 1 : 1.
        assert!((Rgb(0, 0, 0).contrast(Rgb(255, 255, 255)) - 21.0).abs() < 1e-9);
        assert!((Rgb(9, 99, 199).contrast(Rgb(9, 99, 199)) - 1.0).abs() < 1e-9);
    }

    #[test]
    fn text_and_lines_can_be_read_on_both_sheets() {
        for sheet in [ColourTheme::Light, ColourTheme::Dark] {
            let palette = Palette::of(sheet);
            for background in [palette.paper, palette.panel] {
                for text in [palette.ink, palette.faint, palette.accent, palette.fault] {
                    assert!(text.contrast(background) >= 4.5, "{sheet:?} {text:?}");
                }
                for hue in HUES {
                    assert!(palette.text(hue).contrast(background) >= 4.5, "{sheet:?} {hue:?}");
                }
            }
            for hue in HUES {
                assert!(palette.line(hue).contrast(palette.paper) >= 3.0, "{sheet:?} {hue:?}");
            }
        }
    }

    #[test]
    fn hues_stay_apart_on_both_sheets() {
        for sheet in [ColourTheme::Light, ColourTheme::Dark] {
            let palette = Palette::of(sheet);
            for (n, a) in HUES.iter().enumerate() {
                for b in &HUES[n + 1..] {
                    let (p, q) = (palette.line(*a), palette.line(*b));
                    let apart = u32::from(p.0.abs_diff(q.0))
                        + u32::from(p.1.abs_diff(q.1))
                        + u32::from(p.2.abs_diff(q.2));
                    assert!(apart > 60, "{sheet:?}: {a:?} and {b:?} look alike");
                }
            }
        }
    }

    #[test]
    fn a_reading_has_its_hue_whatever_stands_round_its_word() {
        assert_eq!(hue_of("camber_to_road"), Hue::Vermilion);
        assert_eq!(hue_of("toe"), Hue::Blue);
        assert_eq!(hue_of("scrub_radius"), Hue::SkyBlue);
        assert_eq!(hue_of("wheel_travel"), Hue::Ink);
    }
}
