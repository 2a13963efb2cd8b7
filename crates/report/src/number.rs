//! Numbers as a person reads them: chosen units, real minus signs, "—" for none.

use wheelpath_geometry::{LengthUnit, Reading, Unit, fixed};

/// How readings are shown.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Style {
    /// Millimetres or inches.
    pub lengths: LengthUnit,
    /// Shows the toe of one wheel as the length D·sin(toe) over this diameter D, metres.
    pub toe_over: Option<f64>,
}

impl Style {
    /// With toe as a length too, over this diameter where the style has none.
    #[must_use]
    pub fn with_toe_over(self, diameter: f64) -> Self {
        Style { toe_over: self.toe_over.or(Some(diameter)), ..self }
    }

    fn toe_length_over(&self, reading: &Reading) -> Option<f64> {
        self.toe_over.filter(|_| reading.key == "toe")
    }

    fn unit_of(&self, reading: &Reading) -> Unit {
        if self.toe_length_over(reading).is_some() { Unit::Length } else { reading.unit }
    }

    /// The reading's name; a toe shown as a length says over what.
    #[must_use]
    pub fn name(&self, reading: &Reading) -> String {
        match self.toe_length_over(reading) {
            Some(over) => {
                format!("{}, one wheel over {}", reading.name, Unit::Length.write(over, self.lengths))
            }
            None => reading.name.to_owned(),
        }
    }

    /// The same on an axle: one that moves as one says which motion a rate is of.
    #[must_use]
    pub fn name_on(&self, reading: &Reading, moves_as_one: bool) -> String {
        let plain = self.toe_length_over(reading).is_none();
        if plain { reading.name_on(moves_as_one).into_owned() } else { self.name(reading) }
    }

    /// Its unit in writing.
    #[must_use]
    pub fn unit(&self, reading: &Reading) -> &'static str {
        self.unit_of(reading).symbol(self.lengths)
    }

    /// A value inside (metres, radians) in the unit shown.
    #[must_use]
    pub fn value(&self, reading: &Reading, value: f64) -> f64 {
        self.unit_of(reading).shown(self.inside(reading, value), self.lengths)
    }

    fn inside(&self, reading: &Reading, value: f64) -> f64 {
        self.toe_length_over(reading).map_or(value, |over| over * value.sin())
    }

    /// The number on a chart; none where there is none to draw.
    #[must_use]
    pub fn charted(&self, reading: &Reading, value: f64) -> Option<f64> {
        self.unit_of(reading).charted(self.inside(reading, value), self.lengths)
    }

    /// The number for a table, without its unit.
    #[must_use]
    pub fn number(&self, reading: &Reading, value: Option<f64>) -> String {
        let value = self.inside(reading, value.unwrap_or(f64::NAN));
        self.unit_of(reading).write_number_to(value, self.lengths, self.decimals(reading))
    }

    /// The value with its unit, for a person.
    #[must_use]
    pub fn write(&self, reading: &Reading, value: Option<f64>) -> String {
        self.unit_of(reading).with_symbol(self.number(reading, value), self.lengths)
    }

    /// How much more a value is than another, with sign and unit, for a person.
    #[must_use]
    pub fn write_change(&self, reading: &Reading, from: f64, to: f64) -> String {
        let (unit, decimals) = (self.unit_of(reading), self.decimals(reading));
        let [from, to] = [from, to].map(|value| self.inside(reading, value));
        unit.write_change_to(from, to, self.lengths, decimals)
    }

    fn decimals(&self, reading: &Reading) -> usize {
        let usual = self.unit_of(reading).decimals(self.lengths);
        // A tenth of a millimetre is the least that is set on a car as toe.
        if self.toe_length_over(reading).is_some() { usual + 1 } else { usual }
    }

    /// A toe as a length in metres, without its unit: a tenth of what other lengths are shown to.
    #[must_use]
    pub fn toe_length(&self, metres: f64) -> String {
        Unit::Length.write_number_to(metres, self.lengths, Unit::Length.decimals(self.lengths) + 1)
    }

    /// A length in metres, with its unit.
    #[must_use]
    pub fn length(&self, metres: f64) -> String {
        Unit::Length.write(metres, self.lengths)
    }
}

/// A number with that many digits that count, and no exponent.
#[must_use]
pub fn significant(value: f64, digits: u32) -> String {
    if value == 0.0 || !value.is_finite() {
        return fixed(value, 0);
    }
    let decimals = f64::from(digits) - 1.0 - value.abs().log10().floor();
    #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 0..=12")]
    let decimals = decimals.clamp(0.0, 12.0) as usize;
    fixed(value, decimals)
}

#[cfg(test)]
mod tests {
    use super::{Style, significant};
    use wheelpath_geometry::{LengthUnit, fixed, reading};

    #[test]
    fn toe_as_a_length_is_d_sin_toe_of_one_wheel() {
        let toe = reading("toe").unwrap();
        let style = Style { lengths: LengthUnit::Millimetre, toe_over: Some(0.6) };
        assert_eq!(style.name(toe), "Toe, one wheel over 600.0 mm");
        // 600 mm · sin(30°)
        assert_eq!(style.number(toe, Some(30_f64.to_radians())), "300.00");
        assert_eq!(style.number(toe, Some((-0.1_f64).to_radians())), "−1.05");
        assert_eq!(style.number(toe, None), "—");
        assert_eq!(style.unit(toe), "mm");
        let inches = Style { lengths: LengthUnit::Inch, ..style };
        assert_eq!(inches.number(toe, Some(30_f64.to_radians())), "11.8110");
        let camber = reading("camber_to_body").unwrap();
        assert_eq!(style.number(camber, Some((-2.5_f64).to_radians())), "−2.50");
    }

    #[test]
    fn digits_that_count() {
        let check = |value, expected: &str| assert_eq!(significant(value, 4), expected);
        check(1.234_56, "1.235");
        check(-0.001_234_56, "−0.001235");
        check(123_456.0, "123456");
        check(0.0, "0");
        check(f64::NAN, "—");
    }

    #[test]
    fn fixed_numbers_have_real_minus_signs_and_no_negative_zero() {
        assert_eq!(fixed(-1.25, 1), "−1.2");
        assert_eq!(fixed(-0.001, 2), "0.00");
        assert_eq!(fixed(f64::INFINITY, 2), "—");
    }
}
