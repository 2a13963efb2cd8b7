//! From the tree to what sets static toe and camber.

use crate::fault::problem::Fault;
use crate::read::fields::Diagnostics;
use crate::read::words::{camber_word, camber_words, linkage_word, linkages_of_camber_word};
use crate::text::tree::Node;
use wheelpath_geometry::{Alignment, CamberBy, LinkageKind, ToeBy};

/// The word for a toe that the length of a tie rod or toe link sets.
pub(crate) const TIE_ROD_LENGTH: &str = "TieRodLength";

pub(crate) fn alignment(
    node: &Node,
    what: &str,
    linkage: Option<LinkageKind>,
    notes: &mut Diagnostics<'_>,
) -> Option<Alignment> {
    let fields = notes.fields(node, what, &["toe", "camber"])?;
    let toe = notes.need(&fields, "toe").and_then(|n| toe(n, &format!("{what}'s toe"), linkage, notes));
    let camber =
        notes.need(&fields, "camber").and_then(|n| camber(n, &format!("{what}'s camber"), linkage, notes));
    Some(Alignment { toe: toe?, camber: camber? })
}

fn toe(node: &Node, what: &str, linkage: Option<LinkageKind>, notes: &mut Diagnostics<'_>) -> Option<ToeBy> {
    if let Some(kind) = linkage.filter(|kind| !kind.spec().can_steer())
        && node.name.as_deref() == Some(TIE_ROD_LENGTH)
    {
        let why = format!("the linkage is {}, which has no tie rod or toe link", linkage_word(kind));
        let hint = "write FromPoints, and move the points until the toe is right".into();
        let fault = Fault::NotHere { what: what.to_owned(), found: TIE_ROD_LENGTH, why, hint };
        notes.add(node.span.start, fault);
        return None;
    }
    let set = adjuster(node, what, &[TIE_ROD_LENGTH], "toe_deg", notes)?;
    Some(set.map_or(ToeBy::Points, ToeBy::TieRodLength))
}

fn camber(
    node: &Node,
    what: &str,
    linkage: Option<LinkageKind>,
    notes: &mut Diagnostics<'_>,
) -> Option<CamberBy> {
    let right: Vec<&'static str> = match linkage {
        Some(kind) => camber_word(kind).into_iter().collect(),
        None => camber_words(),
    };
    let meant = camber_words().into_iter().find(|word| node.name.as_deref() == Some(word));
    if let (Some(found), Some(kind)) = (meant.filter(|word| !right.contains(word)), linkage) {
        let others = linkages_of_camber_word(found).join(" and ");
        let own = linkage_word(kind);
        let why = format!("that is a word of {others}, and the linkage is {own}");
        let hint = match right.first() {
            Some(word) => format!("write FromPoints or {word}(camber_deg: ...)"),
            None => format!("write FromPoints: nothing adjusts the camber of {}", kind.with_article()),
        };
        notes.add(node.span.start, Fault::NotHere { what: what.to_owned(), found, why, hint });
        return None;
    }
    let set = adjuster(node, what, &right, "camber_deg", notes)?;
    Some(set.map_or(CamberBy::Points, CamberBy::Adjuster))
}

/// `FromPoints`, or one of some adjusters with its angle, radians.
fn adjuster(
    node: &Node,
    what: &str,
    words: &[&'static str],
    key: &'static str,
    notes: &mut Diagnostics<'_>,
) -> Option<Option<f64>> {
    let choices: Vec<_> =
        std::iter::once(("FromPoints", None)).chain(words.iter().map(|&word| (word, Some(word)))).collect();
    let Some(word) = notes.choice(node, what, &choices)? else {
        return notes.word(node, what, &[("FromPoints", None)]);
    };
    let fields = notes.fields_after_word(node, &format!("{what}, {word}"), &[key])?;
    let angle = notes.need(&fields, key)?;
    notes.angle(angle, what).map(Some)
}
