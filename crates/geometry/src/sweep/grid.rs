//! All poses of a grid, rows shared out among threads.

use crate::corner::corner_solver::CornerSolver;
use crate::mechanism::stop::Stop;
use crate::readings::WHEEL_READINGS;
use std::panic::resume_unwind;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread::{Builder, scope};

impl CornerSolver {
    /// All readings of the wheel over a grid: for every steering input, a row of all wheel travels,
    /// metres. Up to `threads` threads take rows until none is left.
    ///
    /// `each` is given the row, the place of the first of some poses that follow one another in it, and
    /// for every reading, in the order of [`crate::wheel_readings`], its values there. What comes back
    /// says for every row whether all of it was reached, and the limit where it was not.
    #[must_use]
    pub fn grid_values(
        &self,
        travels: &[f64],
        steers: &[f64],
        threads: usize,
        each: impl Fn(usize, usize, &[&[f64]; WHEEL_READINGS]) + Sync,
    ) -> Vec<Result<(), Stop>> {
        let next = AtomicUsize::new(0);
        let take = || {
            let mut taken = Vec::new();
            loop {
                let row = next.fetch_add(1, Ordering::Relaxed);
                let Some(&steer) = steers.get(row) else { return taken };
                let swept = self.sweep_values(travels, steer, |first, values| each(row, first, values));
                taken.push((row, swept));
            }
        };
        let mut rows = scope(|scope| {
            // A thread that cannot be had is no loss: this one takes what is left.
            let others: Vec<_> =
                (1..threads).filter_map(|_| Builder::new().spawn_scoped(scope, take).ok()).collect();
            let mut rows = take();
            for other in others {
                match other.join() {
                    Ok(taken) => rows.extend(taken),
                    Err(panic) => resume_unwind(panic),
                }
            }
            rows
        });
        rows.sort_by_key(|(row, _)| *row);
        rows.into_iter().map(|(_, swept)| swept).collect()
    }
}
