//! Limits on what clears what, and on joints: from the tree.

use crate::fault::problem::Fault;
use crate::read::car::optional;
use crate::read::fields::{Diagnostics, Fields};
use crate::text::tree::{Kind, Node};
use crate::text::units_and_axes::Measures;
use wheelpath_geometry::{End, Limited, Pairs, PartKind};

/// Whose parts and joints count.
pub(crate) const AXLES: [(&str, Option<End>); 3] =
    [("front", Some(End::Front)), ("rear", Some(End::Rear)), ("both_axles", None)];

/// The smallest distance between parts, and the fields with its bound.
pub(crate) fn distance<'n>(
    node: &'n Node,
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<(Fields<'n>, Limited)> {
    const KEYS: &[&str] = &["name", "about", "of", "between", "over", "least"];
    let fields = notes.fields_after_word(node, "the limit", KEYS)?;
    let end = notes.need(&fields, "of").and_then(|n| notes.word(n, "whose parts count", &AXLES));
    let between = optional(&fields, "between", |n| pairs(n, notes));
    let travel = notes.need(&fields, "over").and_then(|n| grid(n, measures, notes));
    let of = Limited::Distance { end: end?, between: between?.unwrap_or(Pairs::All), travel: travel? };
    Some((fields, of))
}

/// What joints have left, and the fields with its bound.
pub(crate) fn joint_margin<'n>(
    node: &'n Node,
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<(Fields<'n>, Limited)> {
    const KEYS: &[&str] = &["name", "about", "of", "over", "least_deg"];
    let fields = notes.fields_after_word(node, "the limit", KEYS)?;
    let end = notes.need(&fields, "of").and_then(|n| notes.word(n, "whose joints count", &AXLES));
    let travel = notes.need(&fields, "over").and_then(|n| grid(n, measures, notes));
    let of = Limited::JointMargin { end: end?, travel: travel? };
    Some((fields, of))
}

/// One kind of part, or two.
fn pairs(node: &Node, notes: &mut Diagnostics<'_>) -> Option<Pairs> {
    let shape = "one kind of part or two, [tyre] or [tyre, tie_rod]";
    let Kind::List(list) = &node.kind else {
        notes.wrong_shape(node, "between what", shape);
        return None;
    };
    let words: Vec<(&str, PartKind)> = PartKind::all().map(|kind| (kind.key(), kind)).collect();
    let kinds: Vec<Option<PartKind>> =
        list.iter().map(|n| notes.word(n, "the kind of part", &words)).collect();
    match kinds[..] {
        [one] => one.map(Pairs::With),
        [one, other] => Some(Pairs::Of(one?, other?)),
        _ => {
            let found = node.described();
            notes.add(
                node.span.start,
                Fault::WrongShape { what: "between what".into(), expected: shape, found },
            );
            None
        }
    }
}

/// First and last wheel travel of a grid over travel and steer, metres.
fn grid(node: &Node, measures: Measures, notes: &mut Diagnostics<'_>) -> Option<[f64; 2]> {
    notes.choice(node, "what the limit runs over", &[("TravelAndSteer", ())])?;
    let fields = notes.fields_after_word(node, "the travel", &["from", "to"])?;
    let [from, to] = ["from", "to"].map(|key| {
        let node = notes.need(&fields, key)?;
        notes.number(node, &format!("`{key}`")).map(|written| measures.length(written))
    });
    Some([from?, to?])
}
