//! Units of readings: metres and radians inside; what data and what a person is given is decided here, and
//! nowhere else.
//!
//! Data (JSON, CSV, files) has one linear unit a kind, said at the end of its key. A person is told rates per
//! 25 mm of travel or per inch, swing arms as lengths, and everything in one system: a car counted in inches
//! has inches, feet and pounds.

/// Unit of a reading.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Unit {
    /// Degrees; radians inside.
    Degree,
    /// Millimetres or inches; metres inside.
    Length,
    /// One over the length of a swing arm: one over a metre inside and in data. A person is told the length,
    /// or that the links are parallel.
    PerMetre,
    /// Degrees per metre of wheel travel in data, radians per metre inside. A person is told degrees per
    /// 25 mm or per inch.
    DegreePerMetre,
    /// Degrees per metre of rack travel in data, radians per metre inside. A person is told degrees per
    /// millimetre or per inch.
    DegreePerRackTravel,
    /// Degrees per degree; radians per radian inside, which is the same number.
    DegreePerDegree,
    /// Movement per wheel travel: a plain number inside and in data. A person is told millimetres per 25 mm,
    /// or inches per inch.
    PerTravel,
    /// A plain number.
    Ratio,
    /// Percent; a plain number inside, 1 = 100 %.
    Percent,
    /// Newtons per millimetre, or pounds per inch for a person; newtons per metre inside.
    SpringRate,
    /// Newtons per millimetre for each millimetre in data; newtons per square metre inside. A person is told
    /// what the rate gains in 25 mm or in an inch.
    SpringRateGain,
    /// Newton metres per degree, or pound-feet per degree for a person; newton metres per radian inside.
    TorsionRate,
    /// Metres, inside too, or feet for a person: for things of the size of a turning circle.
    Metre,
}

/// In what lengths are shown, and with them all that is counted in lengths.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum LengthUnit {
    /// Millimetres.
    #[default]
    Millimetre,
    /// Inches.
    Inch,
}

/// Metres in an inch, exactly: international yard and pound agreement, 1959 (from memory).
pub const INCH: f64 = 0.0254;
/// Newtons in a pound of force: the pound's mass times standard gravity, both by definition.
pub const POUND_FORCE: f64 = POUND * 9.806_65;
/// Kilograms in a pound, exactly, by the same agreement.
pub const POUND: f64 = 0.453_592_37;
/// Metres in a foot.
const FOOT: f64 = 12.0 * INCH;
/// A swing arm longer than this is called parallel, metres: in 25 mm of travel it turns the wheel by less
/// than the last digit of a camber gain.
const PARALLEL: f64 = 1e3;
/// Longer swing arms are off every chart, metres.
const OFF_THE_CHART: f64 = 20.0;
/// Degrees in a radian.
const DEGREES: f64 = 180.0 / std::f64::consts::PI;

impl LengthUnit {
    /// Both of them.
    pub const BOTH: [LengthUnit; 2] = [LengthUnit::Millimetre, LengthUnit::Inch];

    /// Metres of travel that rates are said for: 25 mm, or an inch.
    #[must_use]
    pub fn stretch(self) -> f64 {
        match self {
            LengthUnit::Millimetre => 0.025,
            LengthUnit::Inch => INCH,
        }
    }

    /// That stretch in writing: "25 mm" or "in", to stand after "per".
    #[must_use]
    pub fn stretch_in_words(self) -> &'static str {
        match self {
            LengthUnit::Millimetre => "25 mm",
            LengthUnit::Inch => "in",
        }
    }

    /// A length in metres with its unit, in a sentence: to so many decimals of a millimetre, two more of an inch.
    #[must_use]
    pub fn say(self, metres: f64, decimals: usize) -> String {
        Unit::Length.with_symbol(self.say_number(metres, decimals), self)
    }

    /// The same without its unit, for the first of two lengths.
    #[must_use]
    pub fn say_number(self, metres: f64, decimals: usize) -> String {
        let more = match self {
            LengthUnit::Millimetre => 0,
            LengthUnit::Inch => 2,
        };
        Unit::Length.write_number_to(metres, self, decimals + more)
    }

    /// Newtons as a person is told a force beside these lengths: what they are multiplied by, and the unit.
    #[must_use]
    pub fn force_unit(self) -> (f64, &'static str) {
        match self {
            LengthUnit::Millimetre => (1.0, "N"),
            LengthUnit::Inch => (1.0 / POUND_FORCE, "lb"),
        }
    }

    /// Kilograms as a person is told a mass beside these lengths.
    #[must_use]
    pub fn mass_unit(self) -> (f64, &'static str) {
        match self {
            LengthUnit::Millimetre => (1.0, "kg"),
            LengthUnit::Inch => (1.0 / POUND, "lb"),
        }
    }

    /// Newton metres as a person is told a moment beside these lengths.
    #[must_use]
    pub fn moment_unit(self) -> (f64, &'static str) {
        match self {
            LengthUnit::Millimetre => (1.0, "N·m"),
            LengthUnit::Inch => (1.0 / (POUND_FORCE * FOOT), "lb·ft"),
        }
    }

    /// Metres of bump and of droop that are looked at where nobody says how many.
    #[must_use]
    pub fn usual_travel(self) -> f64 {
        match self {
            LengthUnit::Millimetre => 0.03,
            LengthUnit::Inch => 1.25 * INCH,
        }
    }

    /// Metres by which a point is thought to be moved where it is said what that does: a millimetre, or a
    /// tenth of an inch.
    #[must_use]
    pub fn small_step(self) -> f64 {
        match self {
            LengthUnit::Millimetre => 1e-3,
            LengthUnit::Inch => 0.1 * INCH,
        }
    }

    /// That step in writing, to stand after "per".
    #[must_use]
    pub fn small_step_in_words(self) -> &'static str {
        match self {
            LengthUnit::Millimetre => "mm",
            LengthUnit::Inch => "0.1 in",
        }
    }
}

impl Unit {
    /// What the value inside is multiplied by in data.
    #[must_use]
    pub fn data_factor(self, lengths: LengthUnit) -> f64 {
        match (self, lengths) {
            (Unit::Degree | Unit::DegreePerMetre | Unit::DegreePerRackTravel, _) => DEGREES,
            (Unit::Length, LengthUnit::Millimetre) => 1e3,
            (Unit::Length, LengthUnit::Inch) => 1.0 / INCH,
            (Unit::PerMetre | Unit::DegreePerDegree | Unit::PerTravel | Unit::Ratio | Unit::Metre, _) => 1.0,
            (Unit::Percent, _) => 100.0,
            (Unit::SpringRate, _) => 1e-3,
            (Unit::SpringRateGain, _) => 1e-6,
            (Unit::TorsionRate, _) => 1.0 / DEGREES,
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
            (Unit::DegreePerMetre | Unit::DegreePerRackTravel, _) => "_deg_per_m",
            (Unit::DegreePerDegree, _) => "_deg_per_deg",
            (Unit::PerTravel | Unit::Ratio, _) => "",
            (Unit::Percent, _) => "_percent",
            (Unit::SpringRate, _) => "_n_per_mm",
            (Unit::SpringRateGain, _) => "_n_per_mm2",
            (Unit::TorsionRate, _) => "_nm_per_deg",
            (Unit::Metre, _) => "_m",
        }
    }

    /// The unit of data in writing.
    #[must_use]
    pub fn data_symbol(self, lengths: LengthUnit) -> &'static str {
        match self {
            Unit::PerMetre => "1/m",
            Unit::DegreePerMetre | Unit::DegreePerRackTravel => "°/m",
            Unit::PerTravel => "",
            Unit::SpringRate => "N/mm",
            Unit::SpringRateGain => "N/mm²",
            Unit::TorsionRate => "N·m/°",
            Unit::Metre => "m",
            Unit::Degree | Unit::Length | Unit::DegreePerDegree | Unit::Ratio | Unit::Percent => {
                self.symbol(lengths)
            }
        }
    }

    /// What the value inside is multiplied by for a person; for a swing arm what its length is.
    fn scale(self, lengths: LengthUnit) -> f64 {
        let stretch = lengths.stretch();
        match (self, lengths) {
            (Unit::PerMetre, _) => Unit::Length.data_factor(lengths),
            (Unit::DegreePerMetre, _) => DEGREES * stretch,
            (Unit::DegreePerRackTravel, _) => DEGREES / Unit::Length.data_factor(lengths),
            (Unit::PerTravel, _) => stretch * Unit::Length.data_factor(lengths),
            (Unit::SpringRate, LengthUnit::Inch) => INCH / POUND_FORCE,
            (Unit::SpringRateGain, _) => Unit::SpringRate.scale(lengths) * stretch,
            (Unit::TorsionRate, LengthUnit::Inch) => 1.0 / (DEGREES * POUND_FORCE * FOOT),
            (Unit::Metre, LengthUnit::Inch) => 1.0 / FOOT,
            _ => self.data_factor(lengths),
        }
    }

    /// The unit in writing, for a person.
    #[must_use]
    pub fn symbol(self, lengths: LengthUnit) -> &'static str {
        match (self, lengths) {
            (Unit::Degree, _) => "°",
            (Unit::Length | Unit::PerMetre, LengthUnit::Millimetre) => "mm",
            (Unit::Length | Unit::PerMetre, LengthUnit::Inch) => "in",
            (Unit::DegreePerMetre, LengthUnit::Millimetre) => "°/25 mm",
            (Unit::DegreePerRackTravel, LengthUnit::Millimetre) => "°/mm",
            (Unit::DegreePerMetre | Unit::DegreePerRackTravel, LengthUnit::Inch) => "°/in",
            (Unit::DegreePerDegree, _) => "°/°",
            (Unit::PerTravel, LengthUnit::Millimetre) => "mm/25 mm",
            (Unit::PerTravel, LengthUnit::Inch) => "in/in",
            (Unit::Ratio, _) => "",
            (Unit::Percent, _) => "%",
            (Unit::SpringRate, LengthUnit::Millimetre) => "N/mm",
            (Unit::SpringRate, LengthUnit::Inch) => "lb/in",
            (Unit::SpringRateGain, LengthUnit::Millimetre) => "N/mm per 25 mm",
            (Unit::SpringRateGain, LengthUnit::Inch) => "lb/in per in",
            (Unit::TorsionRate, LengthUnit::Millimetre) => "N·m/°",
            (Unit::TorsionRate, LengthUnit::Inch) => "lb·ft/°",
            (Unit::Metre, LengthUnit::Millimetre) => "m",
            (Unit::Metre, LengthUnit::Inch) => "ft",
        }
    }

    /// Decimals that a person can use.
    #[must_use]
    pub fn decimals(self, lengths: LengthUnit) -> usize {
        match (self, lengths) {
            (Unit::Degree | Unit::Metre | Unit::TorsionRate, _)
            | (Unit::DegreePerRackTravel, LengthUnit::Inch)
            | (Unit::PerTravel | Unit::SpringRate | Unit::SpringRateGain, LengthUnit::Millimetre) => 2,
            (Unit::Length | Unit::PerMetre, LengthUnit::Millimetre)
            | (Unit::Percent, _)
            | (Unit::SpringRate | Unit::SpringRateGain, LengthUnit::Inch) => 1,
            (Unit::PerMetre, LengthUnit::Inch) => 2,
            (Unit::Length | Unit::PerTravel, LengthUnit::Inch)
            | (Unit::DegreePerRackTravel, LengthUnit::Millimetre)
            | (Unit::DegreePerMetre | Unit::DegreePerDegree | Unit::Ratio, _) => 3,
        }
    }

    /// A value inside as a person is told it, a number in [`symbol`](Self::symbol): infinite for the swing
    /// arm of parallel links.
    #[must_use]
    pub fn shown(self, value: f64, lengths: LengthUnit) -> f64 {
        let scale = self.scale(lengths);
        match self {
            Unit::PerMetre if value.abs() * PARALLEL < 1.0 => f64::INFINITY,
            Unit::PerMetre => scale / value,
            _ => value * scale,
        }
    }

    /// A value inside as a number on a chart; none where there is none, and for a swing arm so long that the
    /// rest of its curve would be flat beside it.
    #[must_use]
    pub fn charted(self, value: f64, lengths: LengthUnit) -> Option<f64> {
        let is_on = value.is_finite() && (self != Unit::PerMetre || value.abs() * OFF_THE_CHART >= 1.0);
        is_on.then(|| self.shown(value, lengths))
    }

    /// The value inside of what a person says: the way back from [`shown`](Self::shown). Not finite where a
    /// swing arm is said to have no length.
    #[must_use]
    pub fn inside(self, shown: f64, lengths: LengthUnit) -> f64 {
        let scale = self.scale(lengths);
        if self == Unit::PerMetre { scale / shown } else { shown / scale }
    }

    /// A derivative of a value inside as a person is told it: of the number that [`shown`](Self::shown)
    /// gives, at this value. Not a number for the swing arm of parallel links.
    #[must_use]
    pub fn shown_slope(self, at: f64, slope: f64, lengths: LengthUnit) -> f64 {
        let scale = self.scale(lengths);
        match self {
            Unit::PerMetre if at.abs() * PARALLEL < 1.0 => f64::NAN,
            Unit::PerMetre => -scale * slope / (at * at),
            _ => slope * scale,
        }
    }

    /// How much more a value is than another, as a person is told it: the difference of the two numbers
    /// shown. Not a number where one is the swing arm of parallel links.
    #[must_use]
    pub fn shown_change(self, from: f64, to: f64, lengths: LengthUnit) -> f64 {
        let change = self.shown(to, lengths) - self.shown(from, lengths);
        if change.is_finite() { change } else { f64::NAN }
    }

    /// The value with unit for a person: real minus sign, "—" where there is none.
    #[must_use]
    pub fn write(self, value: f64, lengths: LengthUnit) -> String {
        self.write_to(value, lengths, self.decimals(lengths))
    }

    /// The value with so many decimals and the symbol, for a person.
    #[must_use]
    pub fn write_to(self, value: f64, lengths: LengthUnit, decimals: usize) -> String {
        self.with_symbol(self.write_number_to(value, lengths, decimals), lengths)
    }

    /// The number alone for a person; "parallel" for the swing arm of parallel links.
    #[must_use]
    pub fn write_number(self, value: f64, lengths: LengthUnit) -> String {
        self.write_number_to(value, lengths, self.decimals(lengths))
    }

    /// The number alone with so many decimals, for a person.
    #[must_use]
    pub fn write_number_to(self, value: f64, lengths: LengthUnit, decimals: usize) -> String {
        let shown = self.shown(value, lengths);
        if self == Unit::PerMetre && shown.is_infinite() {
            PARALLEL_IN_WORDS.into()
        } else {
            fixed(shown, decimals)
        }
    }

    /// How much more a value is than another, with its sign and unit, for a person: "+0.012°/25 mm".
    #[must_use]
    pub fn write_change(self, from: f64, to: f64, lengths: LengthUnit) -> String {
        self.write_change_to(from, to, lengths, self.decimals(lengths))
    }

    /// The same with so many decimals.
    #[must_use]
    pub fn write_change_to(self, from: f64, to: f64, lengths: LengthUnit, decimals: usize) -> String {
        self.with_symbol(signed(self.shown_change(from, to, lengths), decimals), lengths)
    }

    /// How much more a value is than another, with its sign, for a person; no sign where nothing is shown. Where both
    /// values read differently, so does the change from nought: it has a digit more then, three at most.
    #[must_use]
    pub fn write_number_of_change(self, from: f64, to: f64, lengths: LengthUnit) -> String {
        let (change, decimals) = (self.shown_change(from, to, lengths), self.decimals(lengths));
        let differ = self.write_number(from, lengths) != self.write_number(to, lengths);
        let says = |decimals: &usize| fixed(change, *decimals).bytes().any(|b| matches!(b, b'1'..=b'9'));
        let more = (decimals..=decimals + 3).find(says).filter(|_| differ);
        signed(change, more.unwrap_or(decimals))
    }

    /// A number in writing with the unit after it.
    #[must_use]
    pub fn with_symbol(self, number: String, lengths: LengthUnit) -> String {
        let symbol = self.symbol(lengths);
        match symbol {
            _ if number == "—" || number == PARALLEL_IN_WORDS => number,
            _ if symbol.is_empty() || symbol.starts_with('°') => format!("{number}{symbol}"),
            _ => format!("{number} {symbol}"),
        }
    }
}

/// What the swing arm of parallel links is called in place of a length.
const PARALLEL_IN_WORDS: &str = "parallel";

/// A number with that many decimals: real minus sign, no negative zero, "—" for none.
#[must_use]
pub fn fixed(value: f64, decimals: usize) -> String {
    if !value.is_finite() {
        return "—".to_owned();
    }
    let shown = format!("{value:.decimals$}");
    // "-0.00" says a sign that the digits do not hold.
    match shown.strip_prefix('-') {
        Some(rest) if rest.bytes().all(|b| b == b'0' || b == b'.') => rest.to_owned(),
        Some(rest) => format!("−{rest}"),
        None => shown,
    }
}

/// A difference with that many decimals and its sign; no sign where nothing is shown.
#[must_use]
pub fn signed(value: f64, decimals: usize) -> String {
    let number = fixed(value, decimals);
    let is_zero = number.bytes().all(|byte| byte == b'0' || byte == b'.');
    if value > 0.0 && !is_zero { format!("+{number}") } else { number }
}

#[cfg(test)]
mod tests {
    use super::{LengthUnit, Unit};

    const MM: LengthUnit = LengthUnit::Millimetre;
    const INCHES: LengthUnit = LengthUnit::Inch;
    const ALL: [Unit; 13] = [
        Unit::Degree,
        Unit::Length,
        Unit::PerMetre,
        Unit::DegreePerMetre,
        Unit::DegreePerRackTravel,
        Unit::DegreePerDegree,
        Unit::PerTravel,
        Unit::Ratio,
        Unit::Percent,
        Unit::SpringRate,
        Unit::SpringRateGain,
        Unit::TorsionRate,
        Unit::Metre,
    ];

    #[test]
    fn people_get_real_minus_signs_and_no_negative_zero() {
        assert_eq!(Unit::Degree.write((-2.5_f64).to_radians(), MM), "−2.50°");
        assert_eq!(Unit::Length.write(-0.00001, MM), "0.0 mm");
        assert_eq!(Unit::Length.write(0.0254, INCHES), "1.000 in");
        assert_eq!(Unit::Percent.write(f64::NAN, MM), "—");
    }

    #[test]
    fn rates_are_said_per_25_mm_or_per_inch() {
        // 1° per metre is 0.025° per 25 mm and 0.0254° per inch.
        let rate = 1.0_f64.to_radians();
        assert_eq!(Unit::DegreePerMetre.write(-rate, MM), "−0.025°/25 mm");
        assert_eq!(Unit::DegreePerMetre.write(10.0 * rate, INCHES), "0.254°/in");
        // 600° per metre of rack is 0.6° per millimetre and 15.24° per inch.
        assert_eq!(Unit::DegreePerRackTravel.write(600.0 * rate, MM), "0.600°/mm");
        assert_eq!(Unit::DegreePerRackTravel.write(600.0 * rate, INCHES), "15.24°/in");
        // A contact that goes out by a tenth of the travel.
        assert_eq!(Unit::PerTravel.write(0.1, MM), "2.50 mm/25 mm");
        assert_eq!(Unit::PerTravel.write(0.1, INCHES), "0.100 in/in");
        // 1 lbf/in = 0.175 126 84 N/mm (NIST SP 811, appendix B.8, from memory).
        assert_eq!(Unit::SpringRate.write(175.126_84 * 200.0, INCHES), "200.0 lb/in");
        assert_eq!(Unit::SpringRate.write(25e3, MM), "25.00 N/mm");
        assert_eq!(Unit::SpringRateGain.write(40e3, MM), "1.00 N/mm per 25 mm");
        assert_eq!(Unit::Metre.write(3.048, INCHES), "10.00 ft");
    }

    #[test]
    fn forces_masses_and_moments_go_with_the_lengths() {
        // 1 lbf = 4.448 222 N, 1 lbf·ft = 1.355 818 N·m (NIST SP 811, appendix B.8, from memory).
        let said = |(factor, unit): (f64, &'static str), value: f64| format!("{:.3} {unit}", value * factor);
        assert_eq!(said(INCHES.force_unit(), 444.822_2), "100.000 lb");
        assert_eq!(said(INCHES.moment_unit(), 135.581_8), "100.000 lb·ft");
        assert_eq!(said(INCHES.mass_unit(), 45.359_237), "100.000 lb");
        assert_eq!(said(MM.force_unit(), 1.0), "1.000 N");
    }

    #[test]
    fn swing_arms_are_lengths_and_endless_ones_parallel() {
        assert_eq!(Unit::PerMetre.write(0.5, MM), "2000.0 mm");
        assert_eq!(Unit::PerMetre.write(-1.0 / 2.54, INCHES), "−100.00 in");
        for none in [0.0, -0.0, 5e-4, -5e-4] {
            assert_eq!(Unit::PerMetre.write(none, MM), "parallel", "{none}");
        }
        assert_eq!(Unit::PerMetre.write(f64::NAN, MM), "—");
        assert_eq!(Unit::PerMetre.write_change(0.5, 0.4, MM), "+500.0 mm");
        assert_eq!(Unit::PerMetre.write_change(0.5, 0.0, MM), "—");
    }

    #[test]
    fn what_is_said_reads_back_and_slopes_are_those_of_what_is_said() {
        for lengths in LengthUnit::BOTH {
            for unit in ALL {
                let (at, step) = (0.7, 1e-6);
                let back = unit.inside(unit.shown(at, lengths), lengths);
                assert!((back - at).abs() < 1e-15, "{unit:?}: {back}");
                let change = unit.shown_change(at - step, at + step, lengths);
                let slope = unit.shown_slope(at, 1.0, lengths);
                assert!((change / (2.0 * step) - slope).abs() < 1e-6 * slope.abs(), "{unit:?}: {slope}");
                let mixed = match lengths {
                    LengthUnit::Millimetre => ["in", "lb", "ft"].as_slice(),
                    LengthUnit::Inch => &["mm", "N"],
                };
                let symbol = unit.symbol(lengths);
                assert!(!mixed.iter().any(|other| symbol.contains(other)), "{unit:?}: {symbol}");
            }
        }
    }

    #[test]
    fn a_change_has_its_sign_where_it_is_seen() {
        assert_eq!(Unit::Degree.write_change(0.0, 0.1_f64.to_radians(), MM), "+0.10°");
        assert_eq!(Unit::Degree.write_change(0.1_f64.to_radians(), 0.0, MM), "−0.10°");
        assert_eq!(Unit::Degree.write_change(0.0, 1e-6, MM), "0.00°");
        // 0.6055 and 0.6054 mm read 0.6 and 0.6; 0.65004 and 0.64996 read 0.7 and 0.6.
        let change = |from: f64, to: f64| Unit::Length.write_number_of_change(from / 1e3, to / 1e3, MM);
        assert_eq!(change(0.6055, 0.6054), "0.0");
        assert_eq!(change(0.66, 0.64), "−0.02");
        assert_eq!(change(0.64996, 0.65004), "+0.0001");
        assert_eq!(change(1.0, 2.0), "+1.0");
    }
}
