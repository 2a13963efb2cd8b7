//! Long lists of poses, solved in parts side by side and handed over in order.

use crate::console::failure::Failure;
use std::ops::Range;
use std::panic::resume_unwind;
use std::sync::mpsc::sync_channel;
use std::thread::{Builder, available_parallelism, scope};

/// Poses of a part: enough that a part's first pose, which is come to from the design pose, costs little.
pub(crate) const PART: usize = 2048;
/// Threads beyond which the writing is what takes time.
const MOST_THREADS: usize = 8;

/// Solves `count` poses, a part a thread, and takes what comes of each part in the order of the list. A thread has
/// one part at a time, and waits with it until those before it are taken.
pub(crate) fn in_parts<T: Send>(
    count: usize,
    solve: impl Fn(Range<usize>) -> T + Sync,
    mut take: impl FnMut(T) -> Result<(), Failure>,
) -> Result<(), Failure> {
    let parts = count.div_ceil(PART);
    let part = |i: usize| i * PART..count.min((i + 1) * PART);
    let threads = available_parallelism().map_or(1, |threads| threads.get().min(MOST_THREADS)).min(parts);
    if threads < 2 {
        return (0..parts).try_for_each(|i| take(solve(part(i))));
    }
    let solve = &solve;
    scope(|scope| {
        let mut workers: Vec<_> = (0..threads)
            .map(|first| {
                let (send, receive) = sync_channel(0);
                let work = move || {
                    // Nobody receives any more where the writing has failed.
                    let mut own = (first..parts).step_by(threads);
                    own.all(|i| send.send(solve(part(i))).is_ok());
                };
                (Builder::new().spawn_scoped(scope, work).ok(), receive)
            })
            .collect();
        for i in 0..parts {
            let done = match workers.get_mut(i % threads) {
                Some((thread, receive)) => {
                    receive.recv().or_else(|_| match thread.take().map(|t| t.join()) {
                        Some(Err(panic)) => resume_unwind(panic),
                        other => Err(other),
                    })
                }
                None => Err(None),
            };
            // A thread that cannot be had is no loss: its parts are solved here.
            take(done.unwrap_or_else(|_| solve(part(i))))?;
        }
        Ok(())
    })
}

#[cfg(test)]
mod tests {
    use super::{PART, in_parts};
    use crate::console::failure::Failure;
    use std::sync::atomic::{AtomicUsize, Ordering::Relaxed};

    #[test]
    fn parts_come_in_their_order() {
        for count in [0, 1, PART, 5 * PART + 3] {
            let mut all = Vec::new();
            in_parts(
                count,
                |part| part.collect::<Vec<_>>(),
                |part| {
                    all.extend(part);
                    Ok(())
                },
            )
            .unwrap();
            assert_eq!(all, (0..count).collect::<Vec<_>>());
        }
    }

    #[test]
    fn where_the_writing_fails_the_solving_ends() {
        let solved = AtomicUsize::new(0);
        let part = |_| solved.fetch_add(1, Relaxed);
        let done = in_parts(1000 * PART, part, |_| Err(Failure::wrong_use("no room", "make some")));
        assert!(matches!(done, Err(Failure::WrongUse(_))));
        assert!(solved.into_inner() < 100);
    }
}
