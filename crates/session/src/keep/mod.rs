//! How what is derived from a car is kept: by one rule.
//!
//! Whatever is derived is asked for with a question that says all that it depends on: of cars, their
//! [`CarRevision`]. Two questions that are equal have the same answer, so an answer is kept until another
//! question is asked in its place: [`Kept`] for what is found at once, [`BackgroundJob`] for what takes longer
//! than a frame.

mod answers;
mod background_job;
mod car_revision;

pub use answers::Kept;
pub use background_job::BackgroundJob;
pub use car_revision::CarRevision;
