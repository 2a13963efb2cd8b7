//! Why a pose of a list is not reached, and the stops that it goes beyond, for programs.

use crate::console::data::length_key;
use crate::console::steer::{steer_key, unit_of};
use crate::rows_out::Cell;
use wheelpath_geometry::{Exceeded, LengthUnit, SteerInput, Stop, StopKind, Unit};

/// The word of a kind of limit in data.
fn word_of(kind: StopKind) -> &'static str {
    match kind {
        StopKind::DeadPoint => "dead_point",
        StopKind::OutOfReach => "out_of_reach",
        StopKind::CannotAssemble => "cannot_assemble",
        StopKind::CannotAlign => "cannot_align",
        StopKind::NotFinite => "not_finite",
        StopKind::NoMechanism => "no_mechanism",
    }
}

/// The keys at the end of a row.
pub(crate) fn stop_keys(input: SteerInput, lengths: LengthUnit) -> [String; 6] {
    [
        "stop".to_owned(),
        "stop_wheel".to_owned(),
        length_key("stop_travel", lengths),
        steer_key("stop_", input, "", lengths),
        "stop_links".to_owned(),
        "exceeds".to_owned(),
    ]
}

/// The values under these keys.
pub(crate) fn stop_values(
    stop: Option<&Stop>,
    exceeded: &[Exceeded],
    input: SteerInput,
    lengths: LengthUnit,
) -> [Cell; 6] {
    let of = |value: &dyn Fn(&Stop) -> Cell| stop.map_or(Cell::Missing, value);
    let quantity = |value: f64, unit: Unit| Cell::number(value * unit.data_factor(lengths));
    [
        of(&|stop| Cell::Word(word_of(stop.kind))),
        of(&|stop| stop.wheel.map_or(Cell::Missing, |wheel| Cell::Word(wheel.key()))),
        of(&|stop| quantity(stop.travel, Unit::Length)),
        of(&|stop| quantity(stop.steer, unit_of(input))),
        of(&|stop| Cell::Words(stop.links.iter().map(|link| (*link).to_owned()).collect())),
        Cell::Words(exceeded.iter().map(|one| one.in_words(lengths)).collect()),
    ]
}
