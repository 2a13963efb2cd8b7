//! The least value of a function of one number: of one that is convex to the last digit ([`least_of_convex`]),
//! of any other as near as so many cuts come ([`golden_cuts`]).

/// Share of a stretch beside its end at which a function that rises from there shows it.
const BESIDE: f64 = 1e-8;
/// A place is found to within this: of a valley that is smooth that is nothing in height.
const FOUND: f64 = 1e-9;
/// Golden steps alone would be done by then.
const MOST: usize = 60;
/// The smaller part of a golden cut.
const GOLDEN: f64 = 0.381_966_011_250_105_1;

/// Where a function without a second valley is least on a stretch, and its value there: by parabolas
/// through three values, golden cuts where those do not help (Brent, Algorithms for minimization without
/// derivatives, 1973, chapter 5).
pub(crate) fn least_of_convex(from: f64, to: f64, of: impl Fn(f64) -> f64) -> (f64, f64) {
    let beside = BESIDE * (to - from);
    let ends = [(from, from + beside), (to, to - beside)].map(|(end, inside)| (end, of(end), of(inside)));
    // Most are least at an end, and it takes two values to see it.
    for (end, there, inside) in ends {
        if there <= inside {
            return (end, there);
        }
    }
    let (mut a, mut b) = (from, to);
    let mut x = a + GOLDEN * (b - a);
    let (mut second, mut third) = (x, x);
    let mut at_x = of(x);
    let (mut at_second, mut at_third) = (at_x, at_x);
    let (mut step, mut before) = (0.0_f64, 0.0_f64);
    for _ in 0..MOST {
        let middle = 0.5 * (a + b);
        if (x - middle).abs() <= 2.0 * FOUND - 0.5 * (b - a) {
            break;
        }
        let mut next = None;
        if before.abs() > FOUND {
            let r = (x - second) * (at_x - at_third);
            let mut q = (x - third) * (at_x - at_second);
            let mut p = (x - third) * q - (x - second) * r;
            q = 2.0 * (q - r);
            if q > 0.0 {
                p = -p
            } else {
                q = -q
            }
            if p.abs() < (0.5 * q * before).abs() && p > q * (a - x) && p < q * (b - x) {
                next = Some(p / q);
            }
        }
        before = step;
        step = next.unwrap_or_else(|| {
            before = if x < middle { b - x } else { a - x };
            GOLDEN * before
        });
        if step.abs() < FOUND {
            step = if x < middle { FOUND } else { -FOUND };
        }
        let here = x + step;
        let at_here = of(here);
        if at_here <= at_x {
            if here < x {
                b = x
            } else {
                a = x
            }
            (third, at_third) = (second, at_second);
            (second, at_second) = (x, at_x);
            (x, at_x) = (here, at_here);
        } else {
            if here < x {
                a = here
            } else {
                b = here
            }
            if at_here <= at_second || (second - x).abs() <= 0.0 {
                (third, at_third) = (second, at_second);
                (second, at_second) = (here, at_here);
            } else if at_here <= at_third || (third - x).abs() <= 0.0 || (third - second).abs() <= 0.0 {
                (third, at_third) = (here, at_here);
            }
        }
    }
    (x, at_x)
}

/// Looks for where a function is least between two places by `cuts` golden cuts, each of which takes away the
/// part beside the greater of two values: every value is found by `look`, who keeps the least of them. It ends
/// where the function has no value.
pub(crate) fn golden_cuts(
    [mut low, mut high]: [f64; 2],
    cuts: usize,
    mut look: impl FnMut(f64) -> Option<f64>,
) {
    let golden = 0.5 * (5.0_f64.sqrt() - 1.0);
    let (mut a, mut b) = (high - golden * (high - low), low + golden * (high - low));
    let (Some(mut at_a), Some(mut at_b)) = (look(a), look(b)) else { return };
    for _ in 0..cuts {
        if at_a < at_b {
            (high, b, at_b) = (b, a, at_a);
            a = high - golden * (high - low);
            let Some(found) = look(a) else { return };
            at_a = found;
        } else {
            (low, a, at_a) = (a, b, at_b);
            b = low + golden * (high - low);
            let Some(found) = look(b) else { return };
            at_b = found;
        }
    }
}

/// The ends of the stretch about `inside` on which a convex function is negative; an end of the whole where
/// it is negative there.
pub(crate) fn between_roots(from: f64, to: f64, inside: f64, of: impl Fn(f64) -> f64) -> [f64; 2] {
    [from, to].map(|end| {
        let (mut outside, mut inside) = (end, inside);
        if of(outside) <= 0.0 {
            return outside;
        }
        for _ in 0..MOST {
            let middle = 0.5 * (outside + inside);
            if of(middle) < 0.0 { inside = middle } else { outside = middle }
        }
        0.5 * (outside + inside)
    })
}

#[cfg(test)]
mod tests {
    use super::{between_roots, golden_cuts, least_of_convex};

    #[test]
    fn valleys_kinks_and_slopes() {
        let check = |from: f64, to: f64, of: &dyn Fn(f64) -> f64, at: f64| {
            let (found, least) = least_of_convex(from, to, of);
            assert!((found - at).abs() < 1e-7 && (least - of(at)).abs() < 1e-8, "{found} is not {at}");
        };
        check(-1.0, 2.0, &|x| (x - 0.3).powi(2), 0.3);
        check(-1.0, 2.0, &|x| (x - 0.3).abs(), 0.3);
        check(-1.0, 2.0, &|x| (x - 0.3).abs().max(0.5 * x), 0.2);
        check(0.5, 2.0, &|x| (x - 0.3).abs(), 0.5);
        check(-1.0, 0.2, &|x| (x - 0.3).abs(), 0.2);
        check(0.0, 1.0, &|x| (1.0 + (x - 0.7).powi(2)).sqrt(), 0.7);
        let mut best = (f64::NAN, f64::INFINITY);
        let valley = |x: f64| (x - 0.3).powi(2) + 1.0;
        golden_cuts([-1.0, 2.0], 40, |x| {
            if valley(x) < best.1 {
                best = (x, valley(x));
            }
            Some(valley(x))
        });
        assert!((best.0 - 0.3).abs() < 1e-7, "{best:?}");
        let mut looked = 0;
        golden_cuts([0.0, 1.0], 40, |x| {
            looked += 1;
            (x > 0.5).then_some(x)
        });
        assert_eq!(looked, 2, "where there is no value it ends");
        let [enter, leave] = between_roots(0.0, 1.0, 0.5, |x| (x - 0.5).powi(2) - 0.01);
        assert!((enter - 0.4).abs() < 1e-12 && (leave - 0.6).abs() < 1e-12);
    }
}
