//! What moves a reading, for programs.

use crate::arguments::subcommands::{MovedOn, SensitivityArguments};
use crate::before_after::{BeforeAfter, CarNames, Paired};
use crate::console::field::{Among, Field, Under, Words};
use crate::console::key_docs::KeyDocs;
use crate::console::pose::PoseRecord;
use crate::console::reading_field::OneReading;
use crate::console::record::{Held, Output, Put, record};
use crate::sensitivity::{Found, Row, in_data, named};
use wheelpath_geometry::{Car, LengthUnit, Links, Reading, Scope, Unit};

record! {
    /// What moves a reading of a car, or of two.
    pub(crate) struct SensitivityOutput {
        names: Among<CarNames>,
        cars: BeforeAfter<SensitivityRecord>,
        /// front or rear.
        axle: &'static str,
        /// Whose reading; null for readings of an axle.
        side: Option<&'static str>,
        /// Where numbers are changed: both (Y mirrored, signs as on the left), left, right.
        moved: &'static str,
        /// What stays: design-pose or link-lengths.
        held: &'static str,
        /// Key of the reading; its value at the pose stands under its key with unit.
        reading: &'static str,
        /// The rows, one a pose or number. Readings of a wheel stand as left_… and right_….
        rows: Vec<Paired<SensitivityRow>>,
    }
}

impl Output for SensitivityOutput {
    const NAME: &'static str = "sensitivity";
    type Row = Paired<SensitivityRow>;
}

record! {
    /// The pose of a car and the reading there.
    pub(crate) struct SensitivityRecord {
        /// The pose: the travel of each wheel, rack or pitman arm, steering wheel.
        pose: Under<PoseRecord>,
        /// What is doubtful: stops of steering, damper or joint that the pose exceeds and dead points it is near, in
        /// words.
        warnings: Words,
        here: OneReading,
    }
}

record! {
    /// A number of the car, and what the reading does with it.
    pub(crate) struct SensitivityRow {
        /// 1 moves the reading most.
        rank: usize,
        /// A point of the car file, wheel_centre, tyre_radius, or a link with _length.
        parameter: String,
        /// Whose number: corner, or axle for those of the axle as a whole.
        of: &'static str,
        /// x, y or z; null for a length.
        coordinate: Option<&'static str>,
        /// Exact derivative of the reading to the number.
        slope: Slope,
    }
}

/// A slope of a reading, per metre: its key says the reading's unit, then per length.
pub(crate) struct Slope(&'static Reading, f64);

impl Field for Slope {
    fn declare(name: &str, words: &str, docs: &mut KeyDocs) {
        let per = Unit::Length.key_suffix(docs.lengths());
        let unit = format!("of the reading, per {}", Unit::Length.data_symbol(docs.lengths()));
        docs.key(format!("{name}<unit of the reading>_per{per}"), &unit, words);
    }

    fn put(&self, name: &str, lengths: LengthUnit, put: &mut Put<'_>) {
        let Slope(reading, slope) = self;
        let (unit, per) = (reading.unit.key_suffix(lengths), Unit::Length.key_suffix(lengths));
        put(format_args!("{name}{unit}_per{per}"), Held::Number(in_data(reading, *slope, lengths)));
    }
}

impl SensitivityOutput {
    pub fn of(
        arguments: &SensitivityArguments,
        names: Among<CarNames>,
        cars: BeforeAfter<SensitivityRecord>,
        rows: Vec<Paired<SensitivityRow>>,
    ) -> Self {
        let moved = match arguments.moved {
            MovedOn::Both => "both",
            MovedOn::Left => "left",
            MovedOn::Right => "right",
        };
        let held = match arguments.held {
            Links::Remade => "design-pose",
            Links::Kept => "link-lengths",
        };
        SensitivityOutput {
            names,
            cars,
            axle: arguments.axle.name(),
            side: (arguments.reading.scope == Scope::Wheel).then(|| arguments.side.name()),
            moved,
            held,
            reading: arguments.reading.key,
            rows,
        }
    }
}

impl SensitivityRecord {
    pub fn of(reading: &'static Reading, car: &Car, found: &Found) -> Self {
        SensitivityRecord {
            pose: Under(PoseRecord::of(car, &found.solved.car.pose)),
            warnings: Words(found.solved.warnings.clone()),
            here: OneReading((reading, Some(found.here))),
        }
    }
}

impl SensitivityRow {
    /// The numbers in the order in which they were found.
    pub fn all_of(reading: &'static Reading, found: &Found) -> Vec<Self> {
        let row = |(rank, row): (usize, &Row)| {
            let (parameter, _, coordinate) = named(row.parameter);
            SensitivityRow {
                rank,
                parameter,
                of: if row.parameter.is_of_axle() { "axle" } else { "corner" },
                coordinate,
                slope: Slope(reading, row.slope),
            }
        };
        (1..).zip(&found.rows).map(row).collect()
    }
}
