//! What the text of a car's file should say of the static loads of the tyres.

use crate::read::static_loads::WHEEL_LOADS;
use crate::text::ron_value::{Quantity, RonValue};
use crate::text::tree::Node;
use wheelpath_geometry::{StaticLoads, WheelPosition};

/// The fields of the static loads; `old` is the file as it stands, which says whether kilograms or newtons.
pub(crate) fn static_loads(loads: StaticLoads, old: Option<&Node>) -> Vec<(&'static str, RonValue)> {
    match loads {
        StaticLoads::Unknown => Vec::new(),
        StaticLoads::Shares { left, cross } => [("weight_share_left", left), ("cross_weight", cross)]
            .into_iter()
            .filter_map(|(key, share)| Some((key, RonValue::plain(share?))))
            .collect(),
        StaticLoads::Weighed(loads) => {
            let stands = |key: &str| old.and_then(|node| node.at(&[key]));
            let [kilograms, newtons] = WHEEL_LOADS;
            let (key, scale) = if stands(newtons.0).is_some() { newtons } else { kilograms };
            let load = |(at, load): (WheelPosition, f64)| {
                (at.key(), RonValue::Number(Quantity { core: load, scale }))
            };
            vec![(key, RonValue::fields(WheelPosition::ALL.into_iter().zip(loads).map(load).collect()))]
        }
    }
}
