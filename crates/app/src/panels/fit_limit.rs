//! A new limit on distances of parts, on joints, or on the steering lock.

use super::number_field::NumberField;
use super::ui_state::UiState;
use crate::session::{Edit, LimitChange};
use bevy_egui::egui::{Button, CollapsingHeader, ComboBox, RichText, Ui};
use wheelpath_geometry::{End, LengthUnit, Limited, Pairs, PartKind, Requirement, Unit};

/// What is limited.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum What {
    Distance,
    Joints,
    Lock,
}

const ALL: [(What, &str); 3] = [
    (What::Distance, "distance of parts"),
    (What::Joints, "what joints have left"),
    (What::Lock, "steering lock"),
];

/// A limit being put together.
#[derive(Clone, Debug)]
pub struct FitDraft {
    what: What,
    end: Option<End>,
    /// Any part where none is named.
    parts: [Option<PartKind>; 2],
    /// First and last travel, metres.
    travel: [f64; 2],
    /// Not less than this, metres or radians.
    least: f64,
}

impl FitDraft {
    /// Nothing said yet, of a car that is counted in these lengths.
    #[must_use]
    pub fn new(lengths: LengthUnit) -> Self {
        let travel = [-lengths.usual_travel(), lengths.usual_travel()];
        FitDraft { what: What::Distance, end: None, parts: [None; 2], travel, least: f64::NAN }
    }

    fn limit(&self) -> Option<Requirement> {
        let FitDraft { what, end, parts, travel, least } = *self;
        let axle = end.map_or_else(|| "both axles".to_owned(), |end| end.to_string());
        let (of, name) = match what {
            What::Distance => {
                let between = match parts {
                    [Some(one), Some(other)] => Pairs::Of(one, other),
                    [Some(one), None] | [None, Some(one)] => Pairs::With(one),
                    [None, None] => Pairs::All,
                };
                (Limited::Distance { end, between, travel }, format!("Distance, {between}, {axle}"))
            }
            What::Joints => (Limited::JointMargin { end, travel }, format!("Joint margin, {axle}")),
            What::Lock => (Limited::Lock, "Steering lock".to_owned()),
        };
        let least = Some(least).filter(|least| least.is_finite());
        least.is_some().then_some(Requirement { name, about: None, of, least, most: None })
    }
}

/// Puts one together.
pub(super) fn new_fit_limit_ui(ui: &mut Ui, state: &mut UiState, edits: &mut Vec<Edit>) {
    CollapsingHeader::new("Add a limit on distances, joints or lock").show_unindented(ui, |ui| {
        draft_ui(ui, state, edits);
    });
}

fn draft_ui(ui: &mut Ui, state: &mut UiState, edits: &mut Vec<Edit>) {
    let (scale, palette, lengths) = (state.text_scale, state.palette(), state.lengths);
    let draft = &mut state.fit_draft;
    ui.horizontal_wrapped(|ui| {
        for (what, name) in ALL {
            if ui.selectable_label(draft.what == what, name).clicked() && draft.what != what {
                // Lengths are no degrees.
                *draft = FitDraft { what, least: f64::NAN, ..draft.clone() };
            }
        }
    });
    let unit = if draft.what == What::Distance { Unit::Length } else { Unit::Degree };
    let number = |ui: &mut Ui, name: &str, handle: &str, value: &mut f64, unit: Unit| {
        NumberField::fill(ui, (&palette, scale), (name, handle), value, (unit, lengths));
    };
    if draft.what != What::Lock {
        ui.horizontal(|ui| {
            for (end, name) in [(None, "both axles"), (Some(End::Front), "front"), (Some(End::Rear), "rear")]
            {
                let choice = ui.selectable_value(&mut draft.end, end, name);
                ui.ctx().accesskit_node_builder(choice.id, |node| node.set_label(format!("Limit on {name}")));
            }
        });
        if draft.what == What::Distance {
            ui.horizontal_wrapped(|ui| {
                ui.label("between");
                for (n, part) in draft.parts.iter_mut().enumerate() {
                    part_ui(ui, n, part, scale);
                }
            });
        }
        ui.horizontal(|ui| {
            ui.label(RichText::new("travel, whole steer").small().weak());
            let symbol = Unit::Length.symbol(lengths);
            let name = |which: &str| format!("{which} travel of the distance in {symbol}");
            number(ui, &name("First"), "from", &mut draft.travel[0], Unit::Length);
            number(ui, &name("Last"), "to", &mut draft.travel[1], Unit::Length);
        });
    }
    ui.horizontal(|ui| {
        number(ui, "Least of the distance, joint or lock", "at least", &mut draft.least, unit);
        ui.label(unit.symbol(lengths));
        let limit = draft.limit();
        let add = ui.add_enabled(limit.is_some(), Button::new("Add this limit"));
        if add.on_disabled_hover_text("Type a least first").clicked()
            && let Some(limit) = limit
        {
            edits.extend([Edit::Requirement(LimitChange::Add(Box::new(limit))), Edit::Settle]);
            *draft = FitDraft::new(lengths);
        }
    });
}

fn part_ui(ui: &mut Ui, n: usize, part: &mut Option<PartKind>, scale: f32) {
    let text = part.map_or_else(|| "any part".to_owned(), |part| part.to_string());
    let choice = ComboBox::from_id_salt(("part", n)).selected_text(text).width(96.0 * scale).truncate();
    let choice = choice.show_ui(ui, |ui| {
        ui.selectable_value(part, None, "any part");
        for kind in PartKind::all() {
            ui.selectable_value(part, Some(kind), kind.to_string());
        }
    });
    let name = if n == 0 { "First part" } else { "Second part" };
    ui.ctx().accesskit_node_builder(choice.response.id, |node| node.set_label(name));
}
