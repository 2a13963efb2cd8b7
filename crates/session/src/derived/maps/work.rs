//! Maps computed beside the window.

use super::{Asked, ReadingMap};
use crate::keep::BackgroundJob;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use wheelpath_studies::side_by_side::threads;

/// Columns and rows, coarse at first: a picture within a frame, and the finest within half a second.
const COUNTS: [usize; 5] = [13, 25, 50, 100, 200];
/// Threads are of no use beyond this many.
const MOST_THREADS: usize = 8;

/// The map that is shown, and the one on its way.
#[derive(Clone, Debug, Default)]
pub struct Maps(BackgroundJob<Asked, ReadingMap>);

impl Maps {
    /// The latest of a map: begins to compute it where it is another than before, and calls `wake` whenever
    /// there is a finer one. Until its first is there, that of the car before stays, of the same thing.
    pub fn of(&mut self, asked: Asked, wake: impl Fn() + Send + 'static) -> Option<Arc<ReadingMap>> {
        let like = asked.clone();
        self.0.of(
            asked,
            |sheet| sheet.asked.is_like(&like),
            wake,
            || {
                |asked: &Arc<Asked>, enough: &AtomicBool, hand_over: &dyn Fn(ReadingMap)| {
                    let threads = threads(MOST_THREADS);
                    for (n, count) in COUNTS.into_iter().enumerate() {
                        let Some(sheet) = ReadingMap::computed(asked, count, threads, enough) else { return };
                        hand_over(if n + 1 == COUNTS.len() { sheet.finished() } else { sheet });
                    }
                }
            },
        )
    }

    /// The map shown last.
    #[must_use]
    pub fn shown(&self) -> Option<&Arc<ReadingMap>> {
        self.0.shown()
    }

    /// Lets go of everything.
    pub fn clear(&mut self) {
        *self = Maps::default();
    }
}
