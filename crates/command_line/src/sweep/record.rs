//! A sweep for programs: what stands in a row.

use crate::before_after::CarNames;
use crate::console::field::Among;
use crate::console::key_docs::KeyDocs;
use crate::console::pose::AxlePoseRecord;
use crate::console::reading_field::put_reading;
use crate::console::record::{Declared, Keyed, NoRow, Output, Put, record};
use crate::console::steer::SteerRecord;
use crate::rows_out::Streamed;
use crate::stop_values::StopRecord;
use wheelpath_geometry::{LengthUnit, Reading, Scope, SweepValues};

record! {
    /// A sweep of a car, or of two.
    pub(crate) struct SweepOutput {
        names: Among<CarNames>,
        /// front or rear.
        axle: &'static str,
        /// The rows, one a pose or number. Readings of a wheel stand as left_… and right_….
        rows: Streamed<AxlePoseRecord, SweptValues<'static>>,
    }
}

impl Output for SweepOutput {
    const NAME: &'static str = "sweep";
    type Row = NoRow;
}

/// What one car gives at a pose of a sweep: readings, and why it does not come there.
pub(crate) struct SweptValues<'a> {
    /// Its steering where it differs from that of the row.
    pub own_steering: Option<SteerRecord>,
    pub readings: &'a [&'static Reading],
    /// `None` where the pose is not reached.
    pub values: Option<&'a SweepValues>,
    pub stop: StopRecord,
}

impl Keyed for SweptValues<'_> {
    fn entries(&self, lengths: LengthUnit, put: &mut Put<'_>) {
        if let Some(steering) = &self.own_steering {
            steering.entries(lengths, put);
        }
        for reading in self.readings {
            match reading.scope {
                Scope::Wheel => {
                    for (before, place) in [("left_", 0), ("right_", 1)] {
                        let value = self.values.and_then(|all| all.wheels.get(place)?.get(reading));
                        put_reading(before, &(reading, value), lengths, put);
                    }
                }
                Scope::Axle => {
                    let value = self.values.and_then(|all| all.axle.get(reading));
                    put_reading("", &(reading, value), lengths, put);
                }
            }
        }
        self.stop.entries(lengths, put);
    }
}

impl Declared for SweptValues<'_> {
    fn declare(docs: &mut KeyDocs) {
        SteerRecord::declare(docs);
        docs.readings(Scope::Wheel, "as left_… and right_…");
        docs.readings(Scope::Axle, "");
        StopRecord::declare(docs);
    }
}
