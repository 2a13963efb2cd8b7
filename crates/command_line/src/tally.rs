//! What a list of poses comes to that is not a reading: poses that are not reached, stops that are gone beyond.

use crate::before_after::BeforeAfter;
use crate::beside_car::Proposed;
use crate::console::failure::{Failure, hint_of};
use crate::console::streams::Console;
use wheelpath_geometry::{Exceeded, Stop};

/// What is said once when all poses are solved.
#[derive(Default)]
pub(crate) struct Tally {
    poses: usize,
    missed: usize,
    /// Poses that the car before the proposals reached and this one does not.
    pub lost: usize,
    /// Each way in which poses are not reached, once.
    stops: Vec<Stop>,
    /// Each stop of steering, damper or joint where poses go furthest beyond it, and how many do.
    exceeded: Vec<(Exceeded, usize)>,
}

impl BeforeAfter<Tally> {
    /// Counts what another part of the list came to, before and after.
    pub fn merge(&mut self, other: BeforeAfter<Tally>) {
        self.before.merge(other.before);
        if let (Some(all), Some(more)) = (&mut self.after, other.after) {
            all.merge(more);
        }
    }
}

impl Tally {
    /// Counts a pose: what it is stopped by, and the stops it goes beyond.
    pub fn count(&mut self, stop: Option<&Stop>, beyond: &[Exceeded]) {
        self.poses += 1;
        if let Some(stop) = stop {
            self.missed += 1;
            self.stopped_by(stop);
        }
        for here in beyond {
            self.goes_beyond(*here, 1);
        }
    }

    /// Counts poses beyond a stop, the furthest of which is here.
    fn goes_beyond(&mut self, here: Exceeded, poses: usize) {
        match self.exceeded.iter_mut().find(|(known, _)| known.is_same_stop(&here)) {
            Some((known, count)) => {
                *count += poses;
                if here.beyond() > known.beyond() {
                    *known = here;
                }
            }
            None => self.exceeded.push((here, poses)),
        }
    }

    fn stopped_by(&mut self, stop: &Stop) {
        // Among many poses each may say another number: a stop of the same links at the same wheel is told once.
        let same = |known: &Stop| {
            (known.kind, known.wheel, &known.links) == (stop.kind, stop.wheel, &stop.links)
                && known.to_string() == stop.to_string()
        };
        if self.stops.len() < MOST_STOPS && !self.stops.iter().any(same) {
            self.stops.push(stop.clone());
        }
    }

    /// Counts what another part of the list came to.
    pub fn merge(&mut self, other: Tally) {
        self.poses += other.poses;
        self.missed += other.missed;
        self.lost += other.lost;
        other.stops.iter().for_each(|stop| self.stopped_by(stop));
        other.exceeded.into_iter().for_each(|(here, poses)| self.goes_beyond(here, poses));
    }

    /// Says each stop once and returns the exit code.
    pub fn say(&self, io: &mut Console) -> Result<u8, Failure> {
        for (stop, count) in &self.exceeded {
            io.warn(
                &format!("{}, in {count} of {} poses", stop.in_words(io.lengths()), self.poses),
                "the links close there, but the car cannot go so far",
            )?;
        }
        for stop in &self.stops {
            io.warn(&stop.in_words(io.lengths()), hint_of(stop))?;
        }
        if self.missed == 0 {
            return Ok(0);
        }
        io.error(&format!("{} of {} poses cannot be reached", self.missed, self.poses))?;
        Ok(1)
    }
}

/// Says what poses go beyond and which are not reached, of each car, and returns the exit code.
pub(crate) fn say_of_both(
    cars: &BeforeAfter<Proposed>,
    tallies: &BeforeAfter<Tally>,
    io: &mut Console,
) -> Result<u8, Failure> {
    let mut code = tallies.before.say(io)?;
    if let (Some(one), Some(tally)) = (&cars.after, &tallies.after) {
        io.speak_of(Some(&one.name));
        if tally.lost > 0 {
            let poses = match tally.lost {
                1 => "1 pose that is".to_owned(),
                lost => format!("{lost} poses that are"),
            };
            io.warn(
                &format!("{poses} reached before cannot be reached after"),
                "--format csv says for each pose what stops it",
            )?;
        }
        code = code.max(tally.say(io)?);
    }
    Ok(code)
}

/// More ways in which poses are not reached than a person reads.
const MOST_STOPS: usize = 20;
