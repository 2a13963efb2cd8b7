//! Round numbers along an axis.

/// Ticks at round numbers.
#[derive(Clone, Debug, PartialEq)]
pub struct Ticks {
    /// Distance between two: 1, 2 or 5 times a power of ten.
    pub step: f64,
    /// Decimals that tell them apart.
    pub decimals: usize,
}

impl Ticks {
    /// The finest round step with at most that many steps from `low` to `high`.
    pub(crate) fn over(low: f64, high: f64, at_most: usize) -> Ticks {
        #[expect(clippy::cast_precision_loss, reason = "a handful of ticks")]
        let least = (high - low) / at_most.max(1) as f64;
        Ticks::at_least(least)
    }

    /// The finest round step that is not less than this; 1 where that is no positive number.
    #[must_use]
    pub fn at_least(least: f64) -> Ticks {
        let power = least.log10().floor();
        let decade = 10_f64.powf(power);
        let step = [1.0, 2.0, 5.0, 10.0].map(|m| m * decade).into_iter().find(|s| *s >= least * (1.0 - 1e-9));
        let step = step.filter(|s| s.is_finite() && *s > 0.0).unwrap_or(1.0);
        let finest = (-(step * (1.0 + 1e-9)).log10().floor()).clamp(0.0, 12.0);
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "clamped to 0..=12")]
        let decimals = finest as usize;
        Ticks { step, decimals }
    }

    /// The last tick at or below.
    pub(crate) fn floor(&self, value: f64) -> f64 {
        (value / self.step + 1e-9).floor() * self.step
    }

    /// The first tick at or above.
    pub(crate) fn ceil(&self, value: f64) -> f64 {
        (value / self.step - 1e-9).ceil() * self.step
    }

    /// All ticks in a range, rising; a hundred at most.
    #[must_use]
    pub fn within(&self, low: f64, high: f64) -> Vec<f64> {
        let first = (low / self.step - 1e-9).ceil();
        // An axis has a few dozen ticks at most; the bound keeps a wrong range from running away.
        (0..100)
            .map(|i| (first + f64::from(i)) * self.step)
            .take_while(|t| *t <= high + self.step * 1e-9)
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::Ticks;

    #[test]
    fn ticks_are_round() {
        let check = |low, high, at_most, step: f64, decimals| {
            let ticks = Ticks::over(low, high, at_most);
            assert!((ticks.step - step).abs() < 1e-12 * step, "{ticks:?}");
            assert_eq!(ticks.decimals, decimals, "{ticks:?}");
        };
        check(-30.0, 30.0, 6, 10.0, 0);
        check(-30.0, 30.0, 5, 20.0, 0);
        check(0.0, 0.3, 6, 0.05, 2);
        check(-0.112, 0.087, 4, 0.05, 2);
        check(0.0, 1.0, 10, 0.1, 1);
        check(0.0, 12345.0, 5, 5000.0, 0);
    }

    #[test]
    fn ticks_within_a_range_hold_its_round_ends() {
        let ticks = Ticks::over(-30.0, 30.0, 6);
        assert_eq!(ticks.within(-30.0, 30.0), [-30.0, -20.0, -10.0, 0.0, 10.0, 20.0, 30.0]);
        assert_eq!((ticks.floor(-31.0), ticks.ceil(-31.0)), (-40.0, -30.0));
    }
}
