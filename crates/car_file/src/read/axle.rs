//! From the tree to one axle.

use crate::fault::problem::Fault;
use crate::read::alignment::alignment;
use crate::read::car::optional;
use crate::read::corner::corner;
use crate::read::fields::{Diagnostics, Fields};
use crate::read::points::{Points, compare_with_needs, lengths, points};
use crate::read::radii::radii;
use crate::read::springing::rate;
use crate::read::steering::{column, steering};
use crate::read::why::{Choices, axle_to_ask};
use crate::read::words::{BARS, BRAKES, DRIVES, WATT_LEVERS, linkage_words, part};
use crate::text::tree::{Kind, Node};
use crate::text::units_and_axes::Measures;
use wheelpath_geometry::Assembly;
use wheelpath_geometry::{
    Alignment, AntiRollBar, Axle, BarKind, Component, Corner, End, Hardpoints, Link, LinkageKind, Side,
    Steering, ThirdSpring, WheelPosition,
};

pub(crate) const AXLE: &[&str] = &[
    "linkage",
    "steering",
    "column",
    "brakes",
    "drive",
    "watt_lever_on",
    "anti_roll_bar",
    "third_spring",
    "pickups",
    "lengths",
    "radii",
    "left",
    "right",
    "alignment",
];

/// What an axle's own words say about its corners; `None` for what is missing or wrong.
pub(crate) struct AxleWords {
    pub linkage: Option<LinkageKind>,
    pub steering: Option<Steering>,
    pub alignment: Option<Alignment>,
    anti_roll_bar: Option<Option<AntiRollBar>>,
    third_spring: Option<Option<ThirdSpring>>,
    watt_lever_on: Option<Option<Component>>,
}

impl AxleWords {
    /// An axle to ask for the points it needs, where its corners have these choices.
    pub fn with(&self, choices: Choices) -> Option<Axle> {
        Some(Axle {
            anti_roll_bar: self.anti_roll_bar?,
            third_spring: self.third_spring?,
            watt_lever_on: self.watt_lever_on?,
            ..axle_to_ask(self.linkage?, self.steering?, choices)
        })
    }
}

pub(crate) fn axle(node: &Node, end: End, measures: Measures, notes: &mut Diagnostics<'_>) -> Option<Axle> {
    let fields = notes.fields(node, &format!("the {end} axle"), AXLE)?;
    let linkage = notes
        .need(&fields, "linkage")
        .and_then(|n| notes.word(n, &format!("the {end} linkage"), &linkage_words()));
    let steering = notes.need(&fields, "steering").and_then(|n| steering(n, end, measures, notes));
    let column = optional(&fields, "column", |n| column(n, end, notes)).map(Option::unwrap_or_default);
    let brakes =
        notes.need(&fields, "brakes").and_then(|n| notes.word(n, &format!("the {end} brakes"), BRAKES));
    let drive = notes.need(&fields, "drive").and_then(|n| notes.word(n, &format!("the {end} drive"), DRIVES));
    let watt_lever_on =
        optional(&fields, "watt_lever_on", |n| notes.word(n, &format!("the {end} Watt lever"), WATT_LEVERS));
    let anti_roll_bar = optional(&fields, "anti_roll_bar", |n| anti_roll_bar(n, end, notes));
    let third_spring = optional(&fields, "third_spring", |n| third_spring(n, end, linkage, notes));
    let shared =
        optional(&fields, "alignment", |n| alignment(n, &format!("the {end} alignment"), linkage, notes));
    let alignment = shared.map(|given| given.unwrap_or(Alignment::FROM_POINTS));
    let words = AxleWords { linkage, steering, alignment, anti_roll_bar, third_spring, watt_lever_on };
    let assembly = Assembly::Axle(end);
    let own = own_points(&fields, assembly, &words, measures, notes);
    let radii =
        optional(&fields, "radii", |n| radii(n, assembly, measures, notes)).map(Option::unwrap_or_default);
    // The corners are read even where the axle's own keys are wrong, so that their faults show too.
    let sides = both_sides(&fields, end, &words, measures, notes);
    let ((hardpoints, lengths), [left, right]) = (own?, sides?);
    Some(Axle {
        steering: steering?,
        brakes: brakes?,
        drive: drive?,
        left,
        right,
        hardpoints,
        lengths,
        radii: radii?,
        watt_lever_on: watt_lever_on?,
        anti_roll_bar: anti_roll_bar?,
        third_spring: third_spring?,
        column: column?,
    })
}

fn anti_roll_bar(node: &Node, end: End, notes: &mut Diagnostics<'_>) -> Option<AntiRollBar> {
    let what = format!("the {end} anti-roll bar");
    let kind: BarKind = notes.choice(node, &what, BARS)?;
    if node.kind == Kind::Word {
        return Some(AntiRollBar { kind, rate: None });
    }
    let fields = notes.fields_after_word(node, &what, &["rate_nm_per_deg"])?;
    let rate = rate(&fields, "rate_nm_per_deg", &what, notes)?;
    Some(AntiRollBar { kind, rate: Some(rate) })
}

fn third_spring(
    node: &Node,
    end: End,
    linkage: Option<LinkageKind>,
    notes: &mut Diagnostics<'_>,
) -> Option<ThirdSpring> {
    let what = format!("the {end} third spring");
    let fields = notes.fields(node, &what, &["on", "rate_n_per_mm"])?;
    let on = notes
        .need(&fields, "on")
        .and_then(|n| part(n, &format!("the {end} third spring's ends"), linkage, notes));
    let rate = match fields.get("rate_n_per_mm") {
        Some(_) => rate(&fields, "rate_n_per_mm", &what, notes).map(Some),
        None => Some(None),
    };
    Some(ThirdSpring { on: on?, rate: rate? })
}

/// The points and lengths of the axle as a whole.
fn own_points(
    fields: &Fields<'_>,
    assembly: Assembly,
    words: &AxleWords,
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<(Hardpoints, Vec<(Link, f64)>)> {
    let asked = words.with(Choices::default());
    let own = match fields.get("pickups") {
        Some(node) => points(node, assembly, asked.as_ref(), measures, notes)?,
        None => {
            let none = Points::default();
            if let Some(axle) = &asked {
                compare_with_needs(fields.start(), None, assembly, &none, axle, notes);
            }
            none
        }
    };
    let lengths = match fields.get("lengths") {
        Some(node) => lengths(node, assembly, &own, measures, notes)?,
        None => Vec::new(),
    };
    Some((own.hardpoints, lengths))
}

fn both_sides(
    fields: &Fields<'_>,
    end: End,
    words: &AxleWords,
    measures: Measures,
    notes: &mut Diagnostics<'_>,
) -> Option<[Corner; 2]> {
    let sides = Side::BOTH.map(|side| notes.need(fields, side.name()).map(|node| (node, side)));
    if let [Some((left, _)), Some((right, _))] = sides
        && left.is_word("Mirrored")
        && right.is_word("Mirrored")
    {
        notes.add(right.span.start, Fault::BothMirrored { end: end.name() });
        return None;
    }
    let mut read = |node: &Node, side| {
        let wheel = WheelPosition { end, side };
        if node.kind == Kind::Word {
            return notes.word(node, &format!("the {wheel} corner"), &[("Mirrored", ())]).map(|()| None);
        }
        notes.wheel = Some(wheel);
        let read = corner(node, wheel, words, measures, notes);
        notes.wheel = None;
        read.map(Some)
    };
    let [left, right] = sides.map(|given| given.and_then(|(node, side)| read(node, side)));
    let mirror = |other: &Option<Corner>| other.as_ref().map(Corner::mirrored);
    let (left, right) = (left?, right?);
    let right_corner = right.clone().or_else(|| mirror(&left))?;
    let left_corner = left.or_else(|| mirror(&right))?;
    Some([left_corner, right_corner])
}
