//! The words of a car file that stand for choices.

use crate::fault::problem::Fault;
use crate::read::fields::Diagnostics;
use crate::text::tree::{Kind, Node};
use wheelpath_geometry::{BarKind, Component, LinkageKind, LinkageSpec, TorqueReaction};

pub(crate) const BRAKES: &[(&str, TorqueReaction)] =
    &[("Outboard", TorqueReaction::Upright), ("Inboard", TorqueReaction::Body)];
pub(crate) const DRIVES: &[(&str, Option<TorqueReaction>)] =
    &[("None", None), ("Sprung", Some(TorqueReaction::Body)), ("Unsprung", Some(TorqueReaction::Upright))];
pub(crate) const WATT_LEVERS: &[(&str, Component)] =
    &[("Body", Component::Body), ("Axle", Component::Upright)];
pub(crate) const BARS: &[(&str, BarKind)] = &[("U", BarKind::U), ("T", BarKind::T)];

/// The words for parts in the order of lists, and the name of each in words. Which linkage has it, and what it is
/// there, the linkages say.
const PARTS: &[(&str, &str)] = &[
    ("UpperWishbone", "upper wishbone"),
    ("LowerWishbone", "lower wishbone"),
    ("HArm", "H-arm"),
    ("Arm", "trailing arm"),
    ("Axle", "axle"),
    ("Upright", "upright"),
    ("Rocker", "rocker"),
];

/// The linkages and their words in a car file.
#[must_use]
pub fn linkage_words() -> Vec<(&'static str, LinkageKind)> {
    LinkageKind::specs().map(|spec| (spec.word, spec.kind)).collect()
}

/// The word of a linkage.
pub(crate) fn linkage_word(linkage: LinkageKind) -> &'static str {
    linkage.spec().word
}

/// The word for a value; every value has one in these tables.
pub(crate) fn word_of<T: PartialEq>(words: &[(&'static str, T)], value: &T) -> &'static str {
    words.iter().find(|(_, of)| of == value).map_or("", |(word, _)| word)
}

/// What the word of a part names on this linkage, or on the first that has it.
fn named(word: &str, linkage: Option<LinkageKind>) -> Option<Component> {
    let on = |spec: &LinkageSpec| spec.carriers.iter().find(|one| one.word == word).map(|one| one.part);
    match linkage {
        _ if word == "Rocker" => Some(Component::Rocker),
        Some(kind) => on(kind.spec()),
        None => LinkageKind::specs().find_map(on),
    }
}

/// The words for parts that a linkage has; all of them where it is not known.
pub(crate) fn parts(linkage: Option<LinkageKind>) -> Vec<(&'static str, Component)> {
    PARTS.iter().filter_map(|&(word, _)| Some((word, named(word, linkage)?))).collect()
}

/// The words that say this part, the best first.
pub(crate) fn words_of_part(linkage: LinkageKind, part: Component) -> Vec<&'static str> {
    let mut words: Vec<_> = parts(Some(linkage)).into_iter().filter(|&(_, of)| of == part).collect();
    if words.is_empty() {
        words = parts(None).into_iter().filter(|&(_, of)| of == part).collect();
    }
    words.into_iter().map(|(word, _)| word).collect()
}

/// The part that a word names.
pub(crate) fn part(
    node: &Node,
    what: &str,
    linkage: Option<LinkageKind>,
    notes: &mut Diagnostics<'_>,
) -> Option<Component> {
    let known = parts(linkage);
    let meant = PARTS.iter().find(|(word, _)| node.kind == Kind::Word && node.is_word(word));
    if let (Some(&(word, part)), Some(kind)) = (meant, linkage)
        && !known.iter().any(|(one, _)| *one == word)
    {
        let fault = Fault::CannotCarry {
            what: what.to_owned(),
            part,
            why: format!("the linkage is {}, which has none", linkage_word(kind)),
            instead: known.iter().map(|&(word, _)| word).collect(),
        };
        notes.add(node.span.start, fault);
        return None;
    }
    notes.word(node, what, &known)
}

/// The word for what adjusts the camber of a linkage.
pub(crate) fn camber_word(linkage: LinkageKind) -> Option<&'static str> {
    linkage.spec().camber.map(|adjuster| adjuster.word)
}

/// Every word for a camber adjuster, once.
pub(crate) fn camber_words() -> Vec<&'static str> {
    let mut words: Vec<_> =
        LinkageKind::specs().filter_map(|spec| spec.camber).map(|adjuster| adjuster.word).collect();
    words.dedup();
    words
}

/// The words of the linkages for which a camber adjuster is meant.
pub(crate) fn linkages_of_camber_word(word: &str) -> Vec<&'static str> {
    let kinds = LinkageKind::specs().filter(|spec| spec.camber.is_some_and(|one| one.word == word));
    kinds.map(|spec| spec.word).collect()
}
