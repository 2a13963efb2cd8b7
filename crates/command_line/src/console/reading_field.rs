//! Fields of records that are readings: the catalogue has their words.

use crate::console::field::Field;
use crate::console::key_docs::KeyDocs;
use crate::console::record::{Declared, Held, Keyed, Put};
use std::fmt;
use wheelpath_geometry::{LengthUnit, Reading, Scope};

/// A value of a reading under its key; `None` where it has none.
pub(crate) type ReadingValue = (&'static Reading, Option<f64>);

/// The key of a reading with its unit; put together only where it is looked at.
struct KeyOf(&'static Reading, LengthUnit);

impl fmt::Display for KeyOf {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let KeyOf(reading, lengths) = self;
        write!(f, "{}{}", reading.key, reading.unit.key_suffix(*lengths))
    }
}

/// Hands over a reading under its key, with words before it.
#[inline]
pub(crate) fn put_reading(
    before: &str,
    &(reading, value): &ReadingValue,
    lengths: LengthUnit,
    put: &mut Put<'_>,
) {
    let held = value.map_or(Held::Nothing, |value| Held::Number(value * reading.unit.data_factor(lengths)));
    put(format_args!("{before}{}", KeyOf(reading, lengths)), held);
}

macro_rules! all_readings {
    ($($(#[doc = $words:literal])* $name:ident: $scope:expr;)*) => {$(
        $(#[doc = $words])*
        #[derive(Default)]
        pub(crate) struct $name(pub Vec<ReadingValue>);

        impl Keyed for $name {
            fn entries(&self, lengths: LengthUnit, put: &mut Put<'_>) {
                self.0.iter().for_each(|one| put_reading("", one, lengths, put));
            }
        }

        impl Declared for $name {
            fn declare(docs: &mut KeyDocs) {
                docs.readings($scope, match $scope { Scope::Wheel => "wheel", Scope::Axle => "axle" });
            }
        }
    )*};
}

all_readings! {
    /// Every reading of a wheel.
    WheelReadings: Scope::Wheel;
    /// Every reading of an axle.
    AxleReadings: Scope::Axle;
}

/// The reading that was asked for, whichever it is.
pub(crate) struct OneReading(pub ReadingValue);

impl Field for OneReading {
    fn declare(_: &str, _: &str, docs: &mut KeyDocs) {
        docs.readings(Scope::Wheel, "");
        docs.readings(Scope::Axle, "");
    }

    fn put(&self, _: &str, lengths: LengthUnit, put: &mut Put<'_>) {
        put_reading("", &self.0, lengths, put);
    }
}
