//! Whether what is said leads whoever reads it to the number that is wrong.

use crate::numbers::Number;
use wheelpath_car_file::Problem;
use wheelpath_geometry::{Hardpoint, Link};

/// Words that a message about a number has, where the number is no point's.
fn words_about(number: &Number) -> &'static [&'static str] {
    let has = |key: &str| number.keys.iter().any(|own| own == key);
    match number.key() {
        // A wheel centre is what the points of its corner, its axle and the ground are counted from.
        "centre" => &["wheel", "track", "ground", "tyre"],
        "tyre_radius" => &["tyre", "ground", "wheel centre"],
        "tyre_width" | "tyre_shoulder_radius" => &["tyre"],
        "rim_radius" | "rim_width" | "rim_inner_radius" => &["rim", "tyre"],
        "camber_deg" => &["camber"],
        "toe_deg" => &["toe"],
        "shortest" | "longest" => &["damper", "travel"],
        "wheelbase" => &["wheelbase"],
        "centre_of_gravity_height" => &["centre of gravity", "centre-of-gravity", "anti-"],
        "brake_share_front" => &["brak", "anti-"],
        "weight_share_front" | "weight_share_left" | "cross_weight" => &["weight", "frequency"],
        "mass_kg" => &["mass", "frequency"],
        key if key.starts_with("rate_") && has("anti_roll_bar") => &["bar"],
        key if key.starts_with("rate_") => &["rate", "spring", "frequency"],
        _ if has("column") => &["column", "unevenness", "bent", "bend"],
        _ if has("steering") => &["rack", "steer", "pitman", "idler", "arm", "shaft", "stop", "lock", "turn"],
        _ if has("joint_axes") => &["stud", "bolt"],
        _ if has("joint_limits_deg") => &["swing"],
        _ if has("radii") => &["radius", "thick"],
        _ if has("wheel_loads_kg") || has("wheel_loads_n") => &["load", "weigh", "frequency"],
        _ if has("spin_axis") => &["camber", "toe", "spin axis", "spin_axis"],
        _ if has("lengths") => &["length", "reach", "assemble"],
        _ => &[],
    }
}

/// Whether a problem is told at the line of the number, or names the number's key, the part that its point is of, or
/// a link that ends at the point; of a number that is no point's, whether it is about that.
pub fn leads_to(problem: &Problem, number: &Number, text: &str) -> bool {
    let line = 1 + text[..number.bytes.start].matches('\n').count();
    if problem.place.line == line {
        return true;
    }
    let words = format!("{} {}", problem.fault, problem.hint());
    let other = match number.keys.first().map(String::as_str) {
        Some("front") => "rear",
        Some("rear") => "front",
        _ => "neither",
    };
    if words.starts_with(other) {
        return false;
    }
    let Some(point) = number.keys.iter().rev().find_map(|key| Hardpoint::from_key(key)) else {
        return words_about(number).iter().any(|word| words.contains(word));
    };
    let ends_here = |link: &&Link| {
        let (inner, outer) = link.ends();
        inner == point || outer == point
    };
    let part = match point.key() {
        key if key.starts_with("t_bar") => "T-bar",
        key if key.starts_with("watt") => "Watt",
        _ => point.label().split(", ").next().unwrap_or_default(),
    };
    words.contains(point.key())
        || words.contains(part)
        || Link::ALL.iter().filter(ends_here).any(|link| words.contains(link.label()))
}

/// Whether a problem points to the number itself: it is told at its line, or its hint says to look there first.
pub fn names_first(problem: &Problem, number: &Number, text: &str) -> bool {
    let line = 1 + text[..number.bytes.start].matches('\n').count();
    let point = number.keys.iter().rev().find_map(|key| Hardpoint::from_key(key));
    problem.place.line == line
        || point.is_some_and(|point| problem.hint().starts_with(&format!("look at `{}`", point.key())))
}
