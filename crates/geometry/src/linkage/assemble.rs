//! Closing a mechanism in its design pose where some lengths are not those of its points.

use crate::mechanism::stop::Stop;
use crate::mechanism::{Input, Mechanism, PathLimit, Traced};

/// Why a mechanism does not close in its design pose.
pub(crate) enum NotAssembled {
    /// It is no mechanism, or at a dead point as drawn.
    AsDrawn(Stop),
    /// It closes with this share of its adjustments and not with all.
    Share(f64),
}

/// Closes a mechanism at zero travel. `partly` makes it with a share of its adjustments, 0 to 1; where
/// there are any, they are made little by little from the points' pose, so that the assembly stays the
/// design's.
pub(crate) fn assemble<const B: usize, const N: usize>(
    fits: bool,
    partly: impl Fn(f64) -> Result<Mechanism<f64, B, N>, Stop>,
    dead_point: impl FnOnce(PathLimit) -> Stop,
) -> Result<Traced<B, N>, NotAssembled> {
    let as_drawn = partly(0.0).map_err(NotAssembled::AsDrawn)?;
    let as_drawn = as_drawn.start().map_err(|limit| NotAssembled::AsDrawn(dead_point(limit)))?;
    if fits {
        return Ok(as_drawn);
    }
    let zero = Input::new(0.0, 0.0);
    let mut closed = as_drawn.closed;
    let (mut done, mut step) = (0.0_f64, 0.25_f64);
    while done < 1.0 {
        let next = (done + step).min(1.0);
        let mechanism = partly(next).map_err(NotAssembled::AsDrawn)?;
        match mechanism.close(&closed.bodies, &zero) {
            Ok(there) if there.factors.sign() == closed.factors.sign() && there.moved < 0.05 => {
                closed = there;
                done = next;
                step *= 2.0;
            }
            _ => {
                step *= 0.5;
                if step < 1e-7 {
                    return Err(NotAssembled::Share(done));
                }
            }
        }
    }
    Ok(Traced { input: zero, closed })
}
