//! The words of a car file that stand for choices.

use crate::fault::problem::Fault;
use crate::read::fields::Diagnostics;
use crate::text::tree::{Kind, Node};
use wheelpath_geometry::{BarKind, Component, LinkageKind, TorqueReaction};

pub(crate) const LINKAGES: &[(&str, LinkageKind)] = &[
    ("DoubleWishbone", LinkageKind::DoubleWishbone),
    ("Strut", LinkageKind::Strut),
    ("FiveLink", LinkageKind::FiveLink),
    ("TrailingArm", LinkageKind::TrailingArm),
    ("HArm", LinkageKind::HArm),
    ("BeamAxle", LinkageKind::BeamAxle),
];
pub(crate) const BRAKES: &[(&str, TorqueReaction)] =
    &[("Outboard", TorqueReaction::Upright), ("Inboard", TorqueReaction::Body)];
pub(crate) const DRIVES: &[(&str, Option<TorqueReaction>)] =
    &[("None", None), ("Sprung", Some(TorqueReaction::Body)), ("Unsprung", Some(TorqueReaction::Upright))];
pub(crate) const WATT_LEVERS: &[(&str, Component)] =
    &[("Body", Component::Body), ("Axle", Component::Upright)];
pub(crate) const BARS: &[(&str, BarKind)] = &[("U", BarKind::U), ("T", BarKind::T)];

/// The words for parts, what each is, and the name in words.
const PARTS: &[(&str, Component, &str)] = &[
    ("UpperWishbone", Component::UpperWishbone, "upper wishbone"),
    ("LowerWishbone", Component::LowerWishbone, "lower wishbone"),
    ("HArm", Component::HArm, "H-arm"),
    // An arm or axle that carries the wheel is its upright: before that word, as the better one.
    ("Arm", Component::Upright, "trailing arm"),
    ("Axle", Component::Upright, "axle"),
    ("Upright", Component::Upright, "upright"),
    ("Rocker", Component::Rocker, "rocker"),
];

/// The linkages whose camber can be adjusted, and the word for how.
const CAMBER_ADJUSTERS: &[(LinkageKind, &str)] = &[
    (LinkageKind::DoubleWishbone, "UpperShim"),
    (LinkageKind::Strut, "TopMount"),
    (LinkageKind::FiveLink, "UpperLinkLength"),
    (LinkageKind::HArm, "UpperLinkLength"),
];

/// The linkages and their words in a car file.
#[must_use]
pub fn linkage_words() -> Vec<(&'static str, LinkageKind)> {
    LINKAGES.to_vec()
}

/// The word for a value; every value has one in these tables.
pub(crate) fn word_of<T: PartialEq>(words: &[(&'static str, T)], value: &T) -> &'static str {
    words.iter().find(|(_, of)| of == value).map_or("", |(word, _)| word)
}

/// The words for parts that a linkage has; all of them where it is not known.
pub(crate) fn parts(linkage: Option<LinkageKind>) -> Vec<(&'static str, Component)> {
    let has = |word: &str| match linkage {
        None => true,
        Some(kind) => match word {
            "UpperWishbone" => kind == LinkageKind::DoubleWishbone,
            "LowerWishbone" => matches!(kind, LinkageKind::DoubleWishbone | LinkageKind::Strut),
            "HArm" => kind == LinkageKind::HArm,
            "Arm" => kind == LinkageKind::TrailingArm,
            "Axle" => kind == LinkageKind::BeamAxle,
            _ => true,
        },
    };
    PARTS.iter().filter(|(word, ..)| has(word)).map(|&(word, part, _)| (word, part)).collect()
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
    let meant = PARTS.iter().find(|(word, ..)| node.kind == Kind::Word && node.is_word(word));
    if let (Some(&(word, _, part)), Some(kind)) = (meant, linkage)
        && !known.iter().any(|(one, _)| *one == word)
    {
        let fault = Fault::CannotCarry {
            what: what.to_owned(),
            part,
            why: format!("the linkage is {}, which has none", word_of(LINKAGES, &kind)),
            instead: known.iter().map(|&(word, _)| word).collect(),
        };
        notes.add(node.span.start, fault);
        return None;
    }
    notes.word(node, what, &known)
}

/// The word for what adjusts the camber of a linkage.
pub(crate) fn camber_word(linkage: LinkageKind) -> Option<&'static str> {
    CAMBER_ADJUSTERS.iter().find(|(kind, _)| *kind == linkage).map(|&(_, word)| word)
}

/// Every word for a camber adjuster, once.
pub(crate) fn camber_words() -> Vec<&'static str> {
    let mut words: Vec<_> = CAMBER_ADJUSTERS.iter().map(|&(_, word)| word).collect();
    words.dedup();
    words
}

/// The words of the linkages for which a camber adjuster is meant.
pub(crate) fn linkages_of_camber_word(word: &str) -> Vec<&'static str> {
    let kinds = CAMBER_ADJUSTERS.iter().filter(|(_, one)| *one == word);
    kinds.map(|(kind, _)| word_of(LINKAGES, kind)).collect()
}
