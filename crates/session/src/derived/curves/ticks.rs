//! Where an axis is marked.

/// Marks at round numbers (1, 2 or 5 times a power of ten), and the decimals they are written with.
#[derive(Clone, Debug, PartialEq)]
pub struct Ticks {
    /// Distance of two marks, units of the axis.
    pub step: f64,
    /// The marks, rising.
    pub at: Vec<f64>,
    /// Decimals that tell them apart.
    pub decimals: usize,
}

/// The most marks an axis gets, whatever it is asked for.
const MOST: usize = 40;

/// How much closer than asked marks may stand, as a share.
const CLOSER: f64 = 0.9;

impl Ticks {
    /// As many marks on an axis as leave `least` points between two, `room` being its length in points.
    #[must_use]
    pub fn of([low, high]: [f64; 2], room: f32, least: f32) -> Self {
        let span = high - low;
        let none = Ticks { step: 1.0, at: Vec::new(), decimals: 0 };
        if !(span > 0.0 && span.is_finite() && room > 0.0 && least > 0.0) {
            return none;
        }
        let wanted = (span * f64::from(least / room)).max(span / 20.0);
        // A little closer rather than one lonely mark.
        let round = wheelpath_report::Ticks::at_least(wanted * CLOSER);
        let mut at = round.within(low, high);
        at.truncate(MOST);
        Ticks { step: round.step, at, decimals: round.decimals }
    }

    /// A mark in writing, with a real minus sign.
    #[must_use]
    pub fn write(&self, at: f64) -> String {
        let text = format!("{at:.*}", self.decimals);
        match text.strip_prefix('-') {
            Some(rest) if rest.bytes().all(|b| b == b'0' || b == b'.') => rest.to_owned(),
            Some(rest) => format!("−{rest}"),
            None => text,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::Ticks;

    fn written(range: [f64; 2], room: f32, least: f32) -> Vec<String> {
        let ticks = Ticks::of(range, room, least);
        ticks.at.iter().map(|at| ticks.write(*at)).collect()
    }

    #[test]
    fn marks_are_round_and_told_apart() {
        assert_eq!(written([-30.0, 30.0], 230.0, 36.0), ["−30", "−20", "−10", "0", "10", "20", "30"]);
        assert_eq!(written([-0.62, 0.11], 80.0, 18.0), ["−0.6", "−0.4", "−0.2", "0.0"]);
        assert_eq!(written([0.094, 0.106], 75.0, 18.0), ["0.095", "0.100", "0.105"]);
        assert_eq!(written([-4_210.0, 3_900.0], 75.0, 18.0), ["−4000", "−2000", "0", "2000"]);
    }

    #[test]
    fn marks_keep_their_distance_and_there_are_some_on_every_axis() {
        for span in [1e-4, 0.013, 0.3, 0.99, 1.0, 7.0, 52.0, 999.0, 4e6] {
            for offset in [-0.77, -0.5, 0.0, 12.3] {
                let low = offset * span;
                let ticks = Ticks::of([low, low + span], 75.0, 16.0);
                assert!((2..=6).contains(&ticks.at.len()), "{span} {offset}: {ticks:?}");
                assert!(
                    ticks.step / span * 75.0 >= 16.0 * super::CLOSER - 1e-6,
                    "{span} {offset}: {ticks:?}"
                );
                let mut texts: Vec<String> = ticks.at.iter().map(|at| ticks.write(*at)).collect();
                texts.dedup();
                assert_eq!(texts.len(), ticks.at.len(), "{texts:?}");
            }
        }
    }

    #[test]
    fn an_axis_without_length_has_no_marks() {
        for range in [[0.0, 0.0], [1.0, -1.0], [f64::NAN, 1.0], [0.0, f64::INFINITY]] {
            assert!(Ticks::of(range, 75.0, 16.0).at.is_empty());
        }
    }
}
