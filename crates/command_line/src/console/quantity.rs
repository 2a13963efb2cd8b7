//! Fields of records that are numbers with a unit.

use crate::console::data::as_given;
use crate::console::field::{Kind, TEXT};
use crate::console::record::Held;
use wheelpath_geometry::{LengthUnit, Unit};

/// A value inside (metres, radians) that has a unit of the catalogue of units.
pub(crate) trait Quantity {
    const UNIT: Unit;
    fn value(&self) -> f64;
}

macro_rules! quantities {
    ($($(#[doc = $words:literal])* $name:ident: $unit:expr;)*) => {$(
        $(#[doc = $words])*
        #[derive(Clone, Copy)]
        pub(crate) struct $name(pub f64);

        impl Quantity for $name {
            const UNIT: Unit = $unit;
            fn value(&self) -> f64 {
                self.0
            }
        }

        impl Kind for $name {
            fn suffix(lengths: LengthUnit) -> &'static str {
                $unit.key_suffix(lengths)
            }
            fn unit(lengths: LengthUnit) -> &'static str {
                $unit.data_symbol(lengths)
            }
            fn held(&self, lengths: LengthUnit) -> Held<'_> {
                Held::Number(self.0 * $unit.data_factor(lengths))
            }
        }
    )*};
}

quantities! {
    /// A length, metres; the key ends in `_mm` or `_in`.
    Length: Unit::Length;
    /// An angle, radians; the key ends in `_deg`.
    Degree: Unit::Degree;
    /// A length of the order of a road, metres; the key ends in `_m`.
    Metre: Unit::Metre;
    /// A share of one; the key ends in `_percent`.
    Percent: Unit::Percent;
}

/// A quantity that somebody gave: as it was given, without what conversion there and back adds.
#[derive(Clone, Copy)]
pub(crate) struct Given<Q>(pub Q);

impl<Q: Quantity + Kind> Kind for Given<Q> {
    fn suffix(lengths: LengthUnit) -> &'static str {
        Q::suffix(lengths)
    }

    fn unit(lengths: LengthUnit) -> &'static str {
        Q::unit(lengths)
    }

    fn held(&self, lengths: LengthUnit) -> Held<'_> {
        Held::Number(as_given(self.0.value(), Q::UNIT, lengths))
    }
}

macro_rules! numbers {
    ($($(#[doc = $words:literal])* $name:ident: $suffix:literal, $unit:literal;)*) => {$(
        $(#[doc = $words])*
        pub(crate) struct $name(pub f64);

        impl Kind for $name {
            fn suffix(_: LengthUnit) -> &'static str {
                $suffix
            }
            fn unit(_: LengthUnit) -> &'static str {
                $unit
            }
            fn held(&self, _: LengthUnit) -> Held<'_> {
                Held::Number(self.0)
            }
        }
    )*};
}

numbers! {
    /// A plain number.
    Plain: "", "";
    /// An angle in degrees already.
    InDegrees: "_deg", "°";
    /// An acceleration, g.
    G: "_g", "g";
    /// A mass, kg.
    Kilogram: "_kg", "kg";
    /// A force, N.
    Newton: "_n", "N";
    /// A rate, N/mm.
    NewtonPerMillimetre: "_n_per_mm", "N/mm";
    /// A stiffness, N·m/°.
    NewtonMetrePerDegree: "_nm_per_deg", "N·m/°";
    /// A force per angle, N/°.
    NewtonPerDegree: "_n_per_deg", "N/°";
    /// A force per acceleration, N/g.
    NewtonPerG: "_n_per_g", "N/g";
    /// An angle per acceleration, °/g.
    DegreePerG: "_deg_per_g", "°/g";
    /// An angle per length, °/mm, in both systems of units.
    DegreePerMillimetre: "_deg_per_mm", "°/mm";
}

/// A value inside (metres, radians) of a record whose key `unit` says the unit.
#[derive(Clone, Copy)]
pub(crate) struct InUnitOfRow(pub f64, pub Unit);

impl Kind for InUnitOfRow {
    fn unit(_: LengthUnit) -> &'static str {
        "the unit in `unit`"
    }

    fn held(&self, lengths: LengthUnit) -> Held<'_> {
        Held::Number(self.0 * self.1.data_factor(lengths))
    }
}

/// The unit of the values of a record, as at the end of keys, without the underscore.
pub(crate) struct UnitOfRow(pub Unit);

impl Kind for UnitOfRow {
    fn unit(_: LengthUnit) -> &'static str {
        TEXT
    }

    fn held(&self, lengths: LengthUnit) -> Held<'_> {
        Held::Word(self.0.key_suffix(lengths).trim_start_matches('_'))
    }
}

/// A length per acceleration, metres per g; the key ends in `_mm_per_g` or `_in_per_g`.
pub(crate) struct LengthPerG(pub f64);

impl Kind for LengthPerG {
    fn suffix(lengths: LengthUnit) -> &'static str {
        match lengths {
            LengthUnit::Millimetre => "_mm_per_g",
            LengthUnit::Inch => "_in_per_g",
        }
    }

    fn unit(lengths: LengthUnit) -> &'static str {
        match lengths {
            LengthUnit::Millimetre => "mm/g",
            LengthUnit::Inch => "in/g",
        }
    }

    fn held(&self, lengths: LengthUnit) -> Held<'_> {
        Held::Number(self.0 * Unit::Length.data_factor(lengths))
    }
}
