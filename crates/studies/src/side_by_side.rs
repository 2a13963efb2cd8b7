//! Work that several threads share.
//!
//! Promises: a thread that cannot be had is no loss, the others do its part; a panic on a thread goes on on the
//! one that asked; the result does not depend on the number of threads.

use std::panic::resume_unwind;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread::{Builder, available_parallelism, scope};

/// How many threads are of use: as many as the machine runs at once, at most `most`, at least one.
#[must_use]
pub fn threads(most: usize) -> usize {
    available_parallelism().map_or(1, usize::from).min(most).max(1)
}

/// Runs the same work on so many threads, this one among them, and gives what came of it on each, in no order:
/// they share what there is to do by what `work` takes from.
pub fn on_each<T: Send>(threads: usize, work: impl Fn() -> T + Sync) -> Vec<T> {
    let work = &work;
    scope(|scope| {
        let others: Vec<_> =
            (1..threads).filter_map(|_| Builder::new().spawn_scoped(scope, work).ok()).collect();
        let mut all = vec![work()];
        for other in others {
            match other.join() {
                Ok(theirs) => all.push(theirs),
                Err(panic) => resume_unwind(panic),
            }
        }
        all
    })
}

/// Makes so many pieces, each on the thread that is free first, and gives them in their order.
pub fn pieces<T: Send>(count: usize, threads: usize, make: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let next = AtomicUsize::new(0);
    let made = on_each(threads.min(count), || {
        let take = || Some(next.fetch_add(1, Ordering::Relaxed)).filter(|piece| *piece < count);
        std::iter::from_fn(take).map(|piece| (piece, make(piece))).collect::<Vec<_>>()
    });
    let mut all: Vec<(usize, T)> = made.into_iter().flatten().collect();
    all.sort_by_key(|(piece, _)| *piece);
    all.into_iter().map(|(_, made)| made).collect()
}

#[cfg(test)]
mod tests {
    use super::{on_each, pieces, threads};
    use std::panic::catch_unwind;
    use std::sync::atomic::{AtomicUsize, Ordering};

    #[test]
    fn pieces_come_once_each_and_in_order() {
        for count in [0, 1, 2, 100] {
            for shared_by in [0, 1, 2, 7] {
                let begun = AtomicUsize::new(0);
                let made = pieces(count, shared_by, |piece| {
                    begun.fetch_add(1, Ordering::Relaxed);
                    piece * piece
                });
                assert_eq!(made, (0..count).map(|piece| piece * piece).collect::<Vec<_>>());
                assert_eq!(begun.into_inner(), count);
            }
        }
    }

    #[test]
    fn a_panic_on_any_thread_reaches_who_asked() {
        let caught = catch_unwind(|| pieces(20, 4, |piece| assert!(piece != 13, "thirteen")));
        assert!(caught.is_err());
    }

    #[test]
    fn every_thread_answers() {
        assert_eq!(on_each(3, || 1).len(), 3);
        assert_eq!(on_each(0, || 1).len(), 1);
        assert!(threads(1) == 1 && threads(0) == 1 && threads(64) >= 1);
    }
}
