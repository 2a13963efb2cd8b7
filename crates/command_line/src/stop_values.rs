//! Why a pose of a list is not reached, and the stops that it goes beyond, for programs.

use crate::data::{length, length_key, quantity};
use crate::steer::{steer_key, unit_of};
use serde_json::Value;
use wheelpath_geometry::{Exceeded, LengthUnit, SteerInput, Stop, StopKind};

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
) -> [Value; 6] {
    let of = |value: &dyn Fn(&Stop) -> Value| stop.map_or(Value::Null, value);
    [
        of(&|stop| word_of(stop.kind).into()),
        of(&|stop| stop.wheel.map_or(Value::Null, |wheel| wheel.key().into())),
        of(&|stop| length(stop.travel, lengths)),
        of(&|stop| quantity(stop.steer, unit_of(input), lengths)),
        of(&|stop| stop.links.clone().into()),
        exceeded.iter().map(|one| one.in_words(lengths)).collect::<Vec<_>>().into(),
    ]
}
