//! What takes longer than a frame, on a thread of its own.

use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread::Builder;

/// Something that is being computed; it stops when nobody wants it any more.
#[derive(Debug)]
struct Running<K, T> {
    asked: Arc<K>,
    enough: Arc<AtomicBool>,
    latest: Arc<Mutex<Option<Arc<T>>>>,
}

impl<K, T> Drop for Running<K, T> {
    fn drop(&mut self) {
        self.enough.store(true, Ordering::Relaxed);
    }
}

/// The latest answer to a question, and the one on its way. `K` is what is asked, `T` the answer.
#[derive(Debug)]
pub struct BackgroundJob<K, T> {
    running: Option<Arc<Running<K, T>>>,
    shown: Option<Arc<T>>,
}

impl<K, T> Default for BackgroundJob<K, T> {
    fn default() -> Self {
        BackgroundJob { running: None, shown: None }
    }
}

impl<K, T> Clone for BackgroundJob<K, T> {
    fn clone(&self) -> Self {
        BackgroundJob { running: self.running.clone(), shown: self.shown.clone() }
    }
}

impl<K: PartialEq + Send + Sync + 'static, T: Send + Sync + 'static> BackgroundJob<K, T> {
    /// The latest answer. Where the question is another than before, a thread begins with the work that
    /// `work_on` gives: it is told when it is enough and hands over one answer after the other, each finer than
    /// the one before; `wake` is called after each. Until the first, the last answer to the question before
    /// stays, if `still` says that it may.
    pub fn of<W: FnOnce(&Arc<K>, &AtomicBool, &dyn Fn(T)) + Send + 'static>(
        &mut self,
        asked: K,
        still: impl Fn(&T) -> bool,
        wake: impl Fn() + Send + 'static,
        work_on: impl FnOnce() -> W,
    ) -> Option<Arc<T>> {
        let running = match self.running.take() {
            Some(running) if *running.asked == asked => running,
            before => {
                self.shown = self.shown.take().filter(|shown| still(shown));
                // The one before is let go of first, so that it does not compete.
                drop(before);
                Arc::new(begin(Arc::new(asked), wake, work_on()))
            }
        };
        let latest = running.latest.lock().unwrap_or_else(PoisonError::into_inner).clone();
        self.running = Some(running);
        if latest.is_some() {
            self.shown = latest;
        }
        self.shown.clone()
    }

    /// Whether the thread has ended, or never began, without an answer to what was asked.
    #[must_use]
    pub fn gave_up(&self) -> bool {
        self.running.as_ref().is_some_and(|running| {
            let ended = Arc::strong_count(&running.latest) == 1;
            // What it handed over before it ended is seen.
            std::sync::atomic::fence(Ordering::Acquire);
            ended && running.latest.lock().unwrap_or_else(PoisonError::into_inner).is_none()
        })
    }

    /// The answer given last.
    #[must_use]
    pub fn shown(&self) -> Option<&Arc<T>> {
        self.shown.as_ref()
    }
}

fn begin<K: Send + Sync + 'static, T: Send + Sync + 'static>(
    asked: Arc<K>,
    wake: impl Fn() + Send + 'static,
    compute: impl FnOnce(&Arc<K>, &AtomicBool, &dyn Fn(T)) + Send + 'static,
) -> Running<K, T> {
    let running = Running {
        asked: Arc::clone(&asked),
        enough: Arc::new(AtomicBool::new(false)),
        latest: Arc::new(Mutex::new(None)),
    };
    let (enough, latest) = (Arc::clone(&running.enough), Arc::clone(&running.latest));
    let work = move || {
        let hand_over = |answer: T| {
            *latest.lock().unwrap_or_else(PoisonError::into_inner) = Some(Arc::new(answer));
            wake();
        };
        compute(&asked, &enough, &hand_over);
    };
    // Without a thread there is no answer; the rest of the window goes on.
    let _ = Builder::new().name("background job".into()).spawn(work);
    running
}

#[cfg(test)]
mod tests {
    use super::BackgroundJob;
    use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
    use std::sync::{Arc, mpsc};
    use std::time::Duration;

    #[test]
    fn answers_come_one_after_the_other_and_the_same_question_is_asked_once() {
        let (said, heard) = mpsc::channel();
        let begun = Arc::new(AtomicUsize::new(0));
        let mut job: BackgroundJob<u32, u32> = BackgroundJob::default();
        let ask = |job: &mut BackgroundJob<u32, u32>, question: u32| {
            let (said, begun) = (said.clone(), Arc::clone(&begun));
            job.of(
                question,
                |old| old % 10 == question % 10,
                move || said.send(()).unwrap(),
                || {
                    move |asked: &Arc<u32>, _: &AtomicBool, hand_over: &dyn Fn(u32)| {
                        begun.fetch_add(1, Ordering::SeqCst);
                        hand_over(**asked);
                        hand_over(**asked + 100);
                    }
                },
            )
        };
        let wait = || heard.recv_timeout(Duration::from_secs(20)).unwrap();
        assert!(ask(&mut job, 7).is_none_or(|answer| *answer >= 7));
        wait();
        wait();
        assert_eq!(ask(&mut job, 7).as_deref(), Some(&107));
        assert_eq!(begun.load(Ordering::SeqCst), 1);
        // What may stay stays until the next is there; what may not, goes.
        assert!(ask(&mut job, 17).is_some());
        wait();
        wait();
        assert_eq!(ask(&mut job, 17).as_deref(), Some(&117));
        let other = ask(&mut job, 8);
        assert!(other.is_none_or(|answer| *answer != 117));
    }

    #[test]
    fn a_thread_that_ends_without_an_answer_has_given_up() {
        let (go, wait) = mpsc::channel::<()>();
        let mut job: BackgroundJob<u32, u32> = BackgroundJob::default();
        assert!(!job.gave_up(), "nothing was asked");
        let none = job.of(
            1,
            |_| true,
            || {},
            || move |_: &Arc<u32>, _: &AtomicBool, _: &dyn Fn(u32)| wait.recv().unwrap(),
        );
        assert!(none.is_none() && !job.gave_up(), "it is at work");
        go.send(()).unwrap();
        let start = std::time::Instant::now();
        while !job.gave_up() {
            assert!(start.elapsed() < Duration::from_secs(20));
            std::thread::sleep(Duration::from_millis(1));
        }
        let (said, heard) = mpsc::channel();
        job.of(
            2,
            |_| true,
            move || said.send(()).unwrap(),
            || |_: &Arc<u32>, _: &AtomicBool, hand_over: &dyn Fn(u32)| hand_over(7),
        );
        heard.recv_timeout(Duration::from_secs(20)).unwrap();
        std::thread::sleep(Duration::from_millis(20));
        assert!(!job.gave_up(), "it has answered");
    }

    #[test]
    fn what_nobody_wants_any_more_is_told_so() {
        let (said, heard) = mpsc::channel();
        let mut job: BackgroundJob<u32, u32> = BackgroundJob::default();
        let asked = job.of(
            1,
            |_| true,
            || {},
            || {
                move |_: &Arc<u32>, enough: &AtomicBool, _: &dyn Fn(u32)| {
                    while !enough.load(Ordering::Relaxed) {
                        std::thread::sleep(Duration::from_millis(1));
                    }
                    said.send(()).unwrap();
                }
            },
        );
        assert_eq!(asked, None);
        drop(job);
        heard.recv_timeout(Duration::from_secs(20)).unwrap();
    }
}
