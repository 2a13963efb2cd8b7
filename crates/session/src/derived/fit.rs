//! Whether all of it fits: distances of parts, angles of joints and what is left to stops, over the ranges of
//! travel and steer, found beside the window.

use crate::keep::{BackgroundJob, CarRevision};
use crate::session::Session;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use wheelpath_geometry::End;
use wheelpath_studies::clearance::{Clearances, Range, clearances};
use wheelpath_studies::side_by_side::threads;

/// Travels and steering inputs of the grid.
const COUNT: usize = 21;
/// Threads are of no use beyond this many.
const MOST_THREADS: usize = 4;

/// What is asked: of which car, and how far its wheels travel up and down.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Asked {
    revision: CarRevision,
    travel: f64,
}

/// What was found, and of which car.
#[derive(Clone, Debug)]
pub struct FitFound {
    /// Of the front and the rear axle.
    pub axles: [Clearances; 2],
    /// The car.
    pub revision: CarRevision,
}

/// Whether all of the car fits, asked about while it is shown.
#[derive(Clone, Debug, Default)]
pub struct Fit(BackgroundJob<Asked, FitFound>);

impl Fit {
    /// What was found last: of the car as it stands over so much travel either way, metres, or, until that is
    /// there, of the one before; `wake` is called where there is something new.
    pub fn of(
        &mut self,
        session: &Session,
        travel: f64,
        wake: impl Fn() + Send + 'static,
    ) -> Option<Arc<FitFound>> {
        let asked = Asked { revision: session.revision(), travel };
        self.0.of(
            asked,
            |_| true,
            wake,
            || {
                let (car, solver) = (session.solver_car().clone(), session.solver().clone());
                move |asked: &Arc<Asked>, _: &AtomicBool, hand_over: &dyn Fn(FitFound)| {
                    let threads = threads(MOST_THREADS);
                    let axles = End::BOTH.map(|end| {
                        let range = Range::of(car.axle(end), [-asked.travel, asked.travel], COUNT, COUNT);
                        clearances(&car, &solver, end, &range, threads)
                    });
                    hand_over(FitFound { axles, revision: asked.revision });
                }
            },
        )
    }
}
