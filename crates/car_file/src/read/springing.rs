//! From the tree to what springs and damps a corner.

use crate::fault::problem::Fault;
use crate::read::fields::{Diagnostics, Fields};
use crate::read::words::{linkage_word, part, parts};
use crate::text::tree::Node;
use crate::text::units_and_axes::Measures;
use wheelpath_geometry::{Component, DamperStops, LinkageKind, Spring, Springing, WheelPosition};

#[derive(Clone, Copy)]
enum Word {
    Rocker,
    Direct,
    Strut,
}

pub(crate) fn springing(
    node: &Node,
    at: WheelPosition,
    linkage: Option<LinkageKind>,
    notes: &mut Diagnostics<'_>,
) -> Option<Springing> {
    let what = format!("the {at} springing");
    let words = [("Rocker", Word::Rocker), ("Direct", Word::Direct), ("Strut", Word::Strut)];
    let (key, carried, why) = match notes.choice(node, &what, &words)? {
        Word::Strut => return strut(node, what, linkage, notes),
        Word::Rocker => ("pushrod_on", "pushrod's outer end", "the pushrod moves the rocker"),
        Word::Direct => {
            ("on", "damper's moving eye", "a damper on a rocker is `springing: Rocker(pushrod_on: ...)`")
        }
    };
    let fields = notes.fields_after_word(node, &what, &[key])?;
    let word = notes.need(&fields, key)?;
    let what = format!("the {at} {carried}");
    let on = part(word, &what, linkage, notes)?;
    if on == Component::Rocker {
        no_rocker(word, what, why, linkage, notes);
        return None;
    }
    Some(if key == "on" { Springing::Direct { on } } else { Springing::Rocker { pushrod_on: on } })
}

fn strut(
    node: &Node,
    what: String,
    linkage: Option<LinkageKind>,
    notes: &mut Diagnostics<'_>,
) -> Option<Springing> {
    if let Some(kind) = linkage.filter(|kind| !kind.spec().has_strut) {
        let why = format!("the linkage is {}, which has no strut", linkage_word(kind));
        let hint = "write `springing: Direct(on: PART)` or Rocker(pushrod_on: PART)".into();
        notes.add(node.span.start, Fault::NotHere { what, found: "Strut", why, hint });
        return None;
    }
    notes.word(node, &what, &[("Strut", Springing::Strut)])
}

/// Notes that the rocker cannot carry it.
pub(crate) fn no_rocker(
    node: &Node,
    what: String,
    why: &str,
    linkage: Option<LinkageKind>,
    notes: &mut Diagnostics<'_>,
) {
    let others = parts(linkage).into_iter().filter(|&(_, part)| part != Component::Rocker);
    let instead = others.map(|(word, _)| word).collect();
    let fault = Fault::CannotCarry { what, part: "rocker", why: why.to_owned(), instead };
    notes.add(node.span.start, fault);
}

pub(crate) fn damper(
    node: &Node,
    at: WheelPosition,
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<DamperStops> {
    let fields = notes.fields(node, &format!("the {at} damper"), &["shortest", "longest"])?;
    let [shortest, longest] = ["shortest", "longest"].map(|key| {
        let node = notes.need(&fields, key)?;
        notes.positive(node, &format!("the {at} damper's {key} length"))
    });
    let (shortest, longest) = (shortest?, longest?);
    if shortest >= longest {
        notes.add(node.span.start, Fault::DamperStops { wheel: at, shortest, longest });
        return None;
    }
    Some(DamperStops { shortest: measures.length(shortest), longest: measures.length(longest) })
}

#[derive(Clone, Copy)]
enum SpringWord {
    OnDamper,
    Separate,
    TorsionBar,
}

pub(crate) fn spring(
    node: &Node,
    at: WheelPosition,
    linkage: Option<LinkageKind>,
    notes: &mut Diagnostics<'_>,
) -> Option<Spring> {
    let what = format!("the {at} spring");
    let words = [
        ("OnDamper", SpringWord::OnDamper),
        ("Separate", SpringWord::Separate),
        ("TorsionBar", SpringWord::TorsionBar),
    ];
    let (per_mm, per_deg) = ("rate_n_per_mm", "rate_nm_per_deg");
    match notes.choice(node, &what, &words)? {
        SpringWord::OnDamper => {
            let fields = notes.fields_after_word(node, &what, &[per_mm])?;
            Some(Spring::OnDamper { rate: rate(&fields, per_mm, &what, notes)? })
        }
        SpringWord::TorsionBar => {
            let fields = notes.fields_after_word(node, &what, &[per_deg])?;
            Some(Spring::TorsionBar { rate: rate(&fields, per_deg, &what, notes)? })
        }
        SpringWord::Separate => {
            let fields = notes.fields_after_word(node, &what, &["on", per_mm])?;
            let eye = format!("{what}'s moving eye");
            let on = notes.need(&fields, "on").and_then(|n| part(n, &eye, linkage, notes));
            let rate = rate(&fields, per_mm, &what, notes);
            Some(Spring::Separate { on: on?, rate: rate? })
        }
    }
}

/// A rate under its key, newtons per metre or newton metres per radian.
pub(crate) fn rate(
    fields: &Fields<'_>,
    key: &'static str,
    what: &str,
    notes: &mut Diagnostics<'_>,
) -> Option<f64> {
    let node = notes.need(fields, key)?;
    let written = notes.positive(node, &format!("the rate of {what}"))?;
    // A rate per degree is a greater one per radian: as many times as there are degrees in one.
    Some(if key == "rate_nm_per_deg" { written.to_degrees() } else { written * 1000.0 })
}

/// What carries the drop link; a rocker that is not there is noted.
pub(crate) fn drop_link(
    node: &Node,
    at: WheelPosition,
    linkage: Option<LinkageKind>,
    springing: Option<Option<Springing>>,
    notes: &mut Diagnostics<'_>,
) -> Option<Component> {
    let what = format!("the {at} drop link");
    let on = part(node, &what, linkage, notes)?;
    if on == Component::Rocker
        && springing.is_some_and(|known| !matches!(known, Some(Springing::Rocker { .. })))
    {
        no_rocker(node, what, "the springing is not by rocker", linkage, notes);
    }
    Some(on)
}
