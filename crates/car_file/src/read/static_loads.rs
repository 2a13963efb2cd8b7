//! From the tree to the static loads of the tyres.

use crate::fault::problem::Fault;
use crate::read::car::optional;
use crate::read::fields::{Diagnostics, Fields};
use crate::text::corner_fields::with_corner_keys;
use crate::text::corner_words::corner_keys;
use crate::text::ron_value::Scale;
use crate::text::tree::Node;
use wheelpath_geometry::{GRAVITY, StaticLoads, WheelPosition};

/// The two keys of the four loads, and how each counts newtons.
pub(crate) const WHEEL_LOADS: [(&str, Scale); 2] =
    [("wheel_loads_kg", Scale::Times(1.0 / GRAVITY)), ("wheel_loads_n", Scale::Plain)];

/// The static loads: four loads, or shares of the weight, or neither.
pub(crate) fn static_loads(fields: &Fields<'_>, notes: &mut Diagnostics<'_>) -> Option<StaticLoads> {
    let mut share = |key: &str, what: &str| {
        optional(fields, key, |n| {
            notes.number_in(n, what, "from 0 to 1: 52 % is 0.52", |share| (0.0..=1.0).contains(&share))
        })
    };
    let left = share("weight_share_left", "the left share of the weight");
    let cross = share("cross_weight", "the cross weight");
    let given: Vec<_> =
        WHEEL_LOADS.iter().filter_map(|&(key, scale)| Some((key, scale, fields.get(key)?))).collect();
    let Some(&(key, scale, node)) = given.first() else {
        return Some(match (left?, cross?) {
            (None, None) => StaticLoads::Unknown,
            (left, cross) => StaticLoads::Shares { left, cross },
        });
    };
    let says_it_too = ["weight_share_left", "cross_weight", "wheel_loads_n"];
    if let Some(other) = says_it_too.into_iter().find(|other| *other != key && fields.get(other).is_some()) {
        let fault = Fault::NotHere {
            what: "the static loads".into(),
            found: other,
            why: format!("`{key}` says it already"),
            hint: format!("keep one: delete `{other}`, or delete `{key}`"),
        };
        notes.add(fields.key_start(other), fault);
        return None;
    }
    wheel_loads(node, scale, notes).map(StaticLoads::Weighed)
}

fn wheel_loads(node: &Node, scale: Scale, notes: &mut Diagnostics<'_>) -> Option<[f64; 4]> {
    let node = with_corner_keys(node);
    let fields = notes.fields(&node, "the static loads", &corner_keys())?;
    let loads = WheelPosition::ALL.map(|at| {
        let value = notes.need(&fields, at.key())?;
        let written =
            notes.number_in(value, &format!("the load on the {at} wheel"), "more than 0", |l| l > 0.0)?;
        Some(scale.to_core(written))
    });
    let [fl, fr, rl, rr] = loads;
    Some([fl?, fr?, rl?, rr?])
}
