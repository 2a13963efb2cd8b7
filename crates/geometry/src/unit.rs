//! Units of readings: metres and radians inside, millimetres and degrees (or inches) on every surface.

/// Unit of a reading as shown.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    /// Degrees; radians inside.
    Degree,
    /// Millimetres; metres inside.
    Length,
    /// One over a metre, inside too.
    PerMetre,
    /// Degrees per metre, which is a thousandth of a degree per millimetre; radians per metre inside.
    DegreePerMetre,
    /// Degrees per degree; radians per radian inside, which is the same number.
    DegreePerDegree,
    /// A plain number.
    Ratio,
    /// Percent; a plain number inside, 1 = 100 %.
    Percent,
    /// Newtons per millimetre; newtons per metre inside.
    SpringRate,
    /// Newtons per millimetre for each millimetre; newtons per square metre inside.
    SpringRateGain,
    /// Metres, inside too: for things of the size of a turning circle.
    Metre,
}

/// In what lengths are shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum LengthUnit {
    /// Millimetres.
    #[default]
    Millimetre,
    /// Inches.
    Inch,
}

impl LengthUnit {
    /// Both of them.
    pub const BOTH: [LengthUnit; 2] = [LengthUnit::Millimetre, LengthUnit::Inch];
}

/// Metres in an inch, by definition.
pub const INCH: f64 = 0.0254;

impl Unit {
    /// What the value inside is multiplied by to be shown.
    #[must_use]
    pub fn factor(self, lengths: LengthUnit) -> f64 {
        match (self, lengths) {
            (Unit::Degree | Unit::DegreePerMetre, _) => 180.0 / std::f64::consts::PI,
            (Unit::Length, LengthUnit::Millimetre) => 1e3,
            (Unit::Length, LengthUnit::Inch) => 1.0 / INCH,
            (Unit::PerMetre | Unit::DegreePerDegree | Unit::Ratio | Unit::Metre, _) => 1.0,
            (Unit::Percent, _) => 100.0,
            (Unit::SpringRate, _) => 1e-3,
            (Unit::SpringRateGain, _) => 1e-6,
        }
    }

    /// The unit in writing.
    #[must_use]
    pub fn symbol(self, lengths: LengthUnit) -> &'static str {
        match (self, lengths) {
            (Unit::Degree, _) => "°",
            (Unit::Length, LengthUnit::Millimetre) => "mm",
            (Unit::Length, LengthUnit::Inch) => "in",
            (Unit::PerMetre, _) => "1/m",
            (Unit::DegreePerMetre, _) => "°/m",
            (Unit::DegreePerDegree, _) => "°/°",
            (Unit::Ratio, _) => "",
            (Unit::Percent, _) => "%",
            (Unit::SpringRate, _) => "N/mm",
            (Unit::SpringRateGain, _) => "N/mm²",
            (Unit::Metre, _) => "m",
        }
    }

    /// The unit at the end of a key of data, with its underscore; empty for plain numbers.
    #[must_use]
    pub fn key_suffix(self, lengths: LengthUnit) -> &'static str {
        match (self, lengths) {
            (Unit::Degree, _) => "_deg",
            (Unit::Length, LengthUnit::Millimetre) => "_mm",
            (Unit::Length, LengthUnit::Inch) => "_in",
            (Unit::PerMetre, _) => "_per_m",
            (Unit::DegreePerMetre, _) => "_deg_per_m",
            (Unit::DegreePerDegree, _) => "_deg_per_deg",
            (Unit::Ratio, _) => "",
            (Unit::Percent, _) => "_percent",
            (Unit::SpringRate, _) => "_n_per_mm",
            (Unit::SpringRateGain, _) => "_n_per_mm2",
            (Unit::Metre, _) => "_m",
        }
    }

    /// Decimals that a person can use.
    #[must_use]
    pub fn decimals(self, lengths: LengthUnit) -> usize {
        match (self, lengths) {
            (Unit::Degree | Unit::DegreePerMetre | Unit::Metre | Unit::SpringRate, _) => 2,
            (Unit::Length, LengthUnit::Millimetre) | (Unit::Percent, _) => 1,
            (Unit::Length, LengthUnit::Inch) | (Unit::PerMetre | Unit::DegreePerDegree | Unit::Ratio, _) => 3,
            (Unit::SpringRateGain, _) => 4,
        }
    }

    /// The value with unit for a person: real minus sign, "—" where there is none.
    #[must_use]
    pub fn write(self, value: f64, lengths: LengthUnit) -> String {
        self.write_to(value, lengths, self.decimals(lengths))
    }

    /// The value with so many decimals and the symbol, for a person.
    #[must_use]
    pub fn write_to(self, value: f64, lengths: LengthUnit, decimals: usize) -> String {
        let number = self.write_number_to(value, lengths, decimals);
        let symbol = self.symbol(lengths);
        match symbol {
            _ if number == "—" => number,
            "" | "°" | "°/m" | "°/°" => format!("{number}{symbol}"),
            _ => format!("{number} {symbol}"),
        }
    }

    /// The number alone for a person.
    #[must_use]
    pub fn write_number(self, value: f64, lengths: LengthUnit) -> String {
        self.write_number_to(value, lengths, self.decimals(lengths))
    }

    /// The number alone with so many decimals, for a person.
    #[must_use]
    pub fn write_number_to(self, value: f64, lengths: LengthUnit, decimals: usize) -> String {
        if !value.is_finite() {
            return "—".to_owned();
        }
        let shown = format!("{:.decimals$}", value * self.factor(lengths));
        // "-0.00" says a sign that the digits do not hold.
        match shown.strip_prefix('-') {
            Some(rest) if rest.bytes().all(|b| b == b'0' || b == b'.') => rest.to_owned(),
            Some(rest) => format!("−{rest}"),
            None => shown,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::{LengthUnit, Unit};

    #[test]
    fn people_get_real_minus_signs_and_no_negative_zero() {
        let mm = LengthUnit::Millimetre;
        assert_eq!(Unit::Degree.write((-2.5_f64).to_radians(), mm), "−2.50°");
        assert_eq!(Unit::Length.write(-0.00001, mm), "0.0 mm");
        assert_eq!(Unit::Length.write(0.0254, LengthUnit::Inch), "1.000 in");
        assert_eq!(Unit::Percent.write(f64::NAN, mm), "—");
    }
}
