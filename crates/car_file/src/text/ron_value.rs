//! A value to be written: what the text of a file should say.

use crate::text::units_and_axes::{Axes, Direction, FileUnits};
use nalgebra::Vector3;
use wheelpath_geometry::LengthUnit;

/// What a value should be.
#[derive(Clone, Debug, PartialEq)]
pub(crate) enum RonValue {
    /// As it stands in the old text.
    Keep,
    Word(&'static str),
    /// Any of these words; the first where there is none yet.
    AnyOf(Vec<&'static str>),
    Text(String),
    Number(Quantity),
    Row {
        name: &'static str,
        values: Vec<RonValue>,
    },
    /// In square brackets.
    List(Vec<RonValue>),
    /// In square brackets: each with the place of the value in the old text that it takes over, those in
    /// their old order; one without is new.
    Kept(Vec<(Option<usize>, RonValue)>),
    Fields {
        name: &'static str,
        fields: Vec<(&'static str, RonValue)>,
    },
}

/// A number of the core and how a file counts it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Quantity {
    pub core: f64,
    pub scale: Scale,
}

/// How a file counts a number of the core.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) enum Scale {
    /// As it is.
    Plain,
    /// A whole number.
    Whole,
    /// In units, along an axis with this sign.
    Length(LengthUnit, f64),
    /// Radians as degrees.
    Degrees,
    /// Newton metres per radian as newton metres per degree.
    PerDegree,
    /// Newtons per metre as newtons per millimetre.
    PerMillimetre,
    /// So many times the number of the core.
    Times(f64),
}

impl Scale {
    pub fn to_core(self, written: f64) -> f64 {
        match self {
            Scale::Plain | Scale::Whole => written,
            Scale::Length(units, sign) => sign * units.to_metres(written),
            Scale::Degrees => written.to_radians(),
            Scale::PerDegree => written.to_degrees(),
            Scale::PerMillimetre => written * 1000.0,
            Scale::Times(factor) => written / factor,
        }
    }

    fn written_as(self, core: f64) -> f64 {
        match self {
            Scale::Plain | Scale::Whole => core,
            Scale::Length(units, sign) => sign * units.in_units(core),
            Scale::Degrees => core.to_degrees(),
            Scale::PerDegree => core.to_radians(),
            Scale::PerMillimetre => core / 1000.0,
            Scale::Times(factor) => core * factor,
        }
    }

    /// Differences below this (metres, radians) are rounding in the conversion, not an edit: a
    /// thousandth of what a pose closes to.
    fn rounding(self, core: f64) -> f64 {
        match self {
            Scale::Plain | Scale::Whole => 0.0,
            Scale::Length(..)
            | Scale::Degrees
            | Scale::PerDegree
            | Scale::PerMillimetre
            | Scale::Times(_) => 1e-15_f64.max(core.abs() * 4e-16),
        }
    }
}

impl Quantity {
    /// Whether a written number says this.
    pub fn is(&self, written: f64) -> bool {
        (self.scale.to_core(written) - self.core).abs() <= self.scale.rounding(self.core)
    }

    /// The number with the fewest decimals that says this.
    pub fn written(&self) -> String {
        let exact = self.scale.written_as(self.core);
        if self.scale == Scale::Whole {
            return format!("{exact:.0}");
        }
        if exact.abs() < 1e9 {
            for decimals in 1..=16 {
                let rounded = format!("{exact:.decimals$}");
                if rounded.parse().is_ok_and(|value| self.is(value)) {
                    let is_zero = rounded.trim_start_matches(['-', '0', '.']).is_empty();
                    return if is_zero { "0.0".into() } else { rounded };
                }
            }
        }
        format!("{exact:?}")
    }
}

impl RonValue {
    pub fn fields(fields: Vec<(&'static str, RonValue)>) -> RonValue {
        RonValue::Fields { name: "", fields }
    }

    pub fn plain(core: f64) -> RonValue {
        RonValue::Number(Quantity { core, scale: Scale::Plain })
    }

    pub fn degrees(core: f64) -> RonValue {
        RonValue::Number(Quantity { core, scale: Scale::Degrees })
    }

    pub fn scaled(core: f64, scale: Scale) -> RonValue {
        RonValue::Number(Quantity { core, scale })
    }

    pub fn length(core: f64, units: LengthUnit) -> RonValue {
        RonValue::Number(Quantity { core, scale: Scale::Length(units, 1.0) })
    }

    pub fn point(at: &Vector3<f64>, units: LengthUnit, axes: Axes) -> RonValue {
        let value = |direction: Direction| {
            let (axis, sign) = direction.axis_and_sign();
            RonValue::Number(Quantity { core: at[axis], scale: Scale::Length(units, sign) })
        };
        RonValue::Row { name: "", values: axes.directions().map(value).to_vec() }
    }

    pub fn direction(name: &'static str, along: &Vector3<f64>, axes: Axes) -> RonValue {
        RonValue::Row { name, values: axes.from_vehicle(along).map(RonValue::plain).to_vec() }
    }

    /// The text, for a place that is indented this deep.
    pub fn printed(&self, indent: usize, line_end: &str) -> String {
        match self {
            RonValue::Keep => String::new(),
            RonValue::Word(word) => (*word).to_owned(),
            RonValue::AnyOf(words) => words.first().copied().unwrap_or_default().to_owned(),
            RonValue::Kept(values) => RonValue::List(values.iter().map(|(_, item)| item.clone()).collect())
                .printed(indent, line_end),
            RonValue::List(values) => {
                let blocks =
                    values.iter().any(|v| matches!(v, RonValue::Fields { name, .. } if !name.is_empty()));
                if blocks {
                    return printed_blocks(values, indent, line_end);
                }
                let values: Vec<_> = values.iter().map(|v| v.printed(indent, line_end)).collect();
                format!("[{}]", values.join(", "))
            }
            RonValue::Text(text) => quoted(text),
            RonValue::Number(quantity) => quantity.written(),
            RonValue::Row { name, values } => {
                let values: Vec<_> = values.iter().map(|v| v.printed(indent, line_end)).collect();
                format!("{name}({})", values.join(", "))
            }
            RonValue::Fields { name, fields } => printed_fields(name, fields, indent, line_end, 96),
        }
    }
}

/// Blocks with a word before them stand on lines of their own.
fn printed_blocks(blocks: &[RonValue], indent: usize, line_end: &str) -> String {
    let pad = " ".repeat(indent + 4);
    let printed = |block: &RonValue| match block {
        RonValue::Fields { name, fields } => printed_fields(name, fields, indent + 4, line_end, 140),
        other => other.printed(indent + 4, line_end),
    };
    let line = |block: &RonValue| format!("{pad}{},{line_end}", printed(block));
    let lines: String = blocks.iter().map(line).collect();
    format!("[{line_end}{lines}{}]", " ".repeat(indent))
}

/// On one line where it is no wider than `widest`.
fn printed_fields(
    name: &str,
    fields: &[(&'static str, RonValue)],
    indent: usize,
    line_end: &str,
    widest: usize,
) -> String {
    let print = |indent| -> Vec<String> {
        let line = |(key, item): &(&str, RonValue)| format!("{key}: {}", item.printed(indent, line_end));
        fields.iter().filter(|(_, item)| *item != RonValue::Keep).map(line).collect()
    };
    let short = format!("{name}({})", print(indent).join(", "));
    let flat =
        fields.iter().all(|(_, item)| !matches!(item, RonValue::Fields { fields, .. } if fields.len() > 2));
    if flat && short.len() + indent <= widest && !short.contains('\n') {
        return short;
    }
    let pad = " ".repeat(indent + 4);
    let lines: String = print(indent + 4).iter().map(|line| format!("{pad}{line},{line_end}")).collect();
    format!("{name}({line_end}{lines}{})", " ".repeat(indent))
}

/// A text in quotation marks, as RON reads it back.
pub(crate) fn quoted(text: &str) -> String {
    let mut quoted = String::from('"');
    for c in text.chars() {
        match c {
            '"' | '\\' => quoted.extend(['\\', c]),
            '\n' => quoted.push_str("\\n"),
            '\r' => quoted.push_str("\\r"),
            '\t' => quoted.push_str("\\t"),
            c if c.is_control() => quoted.push_str(&format!("\\u{{{:x}}}", u32::from(c))),
            c => quoted.push(c),
        }
    }
    quoted.push('"');
    quoted
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn a_number_is_written_with_the_fewest_decimals() {
        let check = |core: f64, scale, expected: &str| {
            assert_eq!(Quantity { core, scale }.written(), expected);
        };
        let mm = Scale::Length(LengthUnit::Millimetre, 1.0);
        check(0.713, mm, "713.0");
        check(0.1 + 0.0695, mm, "169.5");
        check(-0.0, mm, "0.0");
        check(0.1690000000001, mm, "169.0000000001");
        check(0.0254, Scale::Length(LengthUnit::Inch, -1.0), "-1.0");
        check((-2.5_f64).to_radians(), Scale::Degrees, "-2.5");
        check(0.58, Scale::Plain, "0.58");
    }

    proptest! {
        #[test]
        fn a_written_number_reads_back(core in -10.0..10.0_f64, sign in prop::sample::select(vec![-1.0, 1.0])) {
            for scale in [Scale::Plain, Scale::Degrees, Scale::PerMillimetre, Scale::PerDegree, Scale::Times(561.8), Scale::Length(LengthUnit::Millimetre, sign),
                          Scale::Length(LengthUnit::Inch, sign)] {
                let text = Quantity { core, scale }.written();
                let back = scale.to_core(text.parse().unwrap());
                prop_assert!((back - core).abs() < 1e-14, "{text} reads back as {back}, not {core}");
            }
        }

        #[test]
        fn quoted_text_reads_back(text in any::<String>()) {
            prop_assert_eq!(ron::from_str::<String>(&quoted(&text)).unwrap(), text);
        }
    }
}
