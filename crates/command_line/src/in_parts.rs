//! Long lists of poses, solved in parts side by side and handed over in order.

use crate::failure::Failure;
use std::ops::Range;
use std::panic::resume_unwind;
use std::thread::{Builder, available_parallelism, scope};

/// Poses of a part: enough that a part's first pose, which is come to from the design pose, costs little.
pub(crate) const PART: usize = 2048;
/// Threads beyond which the writing is what takes time.
const MOST_THREADS: usize = 8;

/// Solves `count` poses, a part a thread, and takes what comes of each part in the order of the list.
pub(crate) fn in_parts<T: Send>(
    count: usize,
    solve: impl Fn(Range<usize>) -> T + Sync,
    mut take: impl FnMut(T) -> Result<(), Failure>,
) -> Result<(), Failure> {
    let threads = available_parallelism().map_or(1, |threads| threads.get().min(MOST_THREADS));
    let parts: Vec<Range<usize>> =
        (0..count).step_by(PART).map(|start| start..count.min(start + PART)).collect();
    let solve = &solve;
    for some in parts.chunks(threads) {
        let done: Vec<T> = scope(|scope| {
            let (own, others) = match some.split_first() {
                Some((own, others)) => (own.clone(), others),
                None => return Vec::new(),
            };
            // A thread that cannot be had is no loss: its part is solved here.
            let others: Vec<_> = others
                .iter()
                .map(|part| {
                    let here = part.clone();
                    Builder::new().spawn_scoped(scope, move || solve(here)).map_err(|_| part.clone())
                })
                .collect();
            let mut done = vec![solve(own)];
            for other in others {
                done.push(match other {
                    Ok(thread) => thread.join().unwrap_or_else(|panic| resume_unwind(panic)),
                    Err(part) => solve(part),
                });
            }
            done
        });
        done.into_iter().try_for_each(&mut take)?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::{PART, in_parts};

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
}
