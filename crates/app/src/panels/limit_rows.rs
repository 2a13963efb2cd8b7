//! A limit to be edited: its bounds, and a new one.

use super::number_field::NumberField;
use super::theme::colour;
use super::ui_state::UiState;
use crate::session::{Bound, Edit, LimitChange, Session};
use bevy_egui::egui::{Button, CollapsingHeader, ComboBox, RichText, TextEdit, Ui};
use wheelpath_geometry::{
    Cornering, End, GRAVITY, LengthUnit, Limited, PoseRange, Quantity, Reading, Requirement, Scope, Side,
    SteadyCorner, Travelling, Unit, axle_readings, wheel_readings,
};

/// As many readings are offered while a name is typed.
const OFFERED: usize = 6;

/// Both bounds as fields, and what takes them or the limit away.
pub(super) fn bounds_ui(
    ui: &mut Ui,
    (place, limit): (usize, &Requirement),
    state: &UiState,
    edits: &mut Vec<Edit>,
) {
    let palette = state.palette();
    let unit = limit.unit();
    let symbol = unit.symbol(state.lengths);
    ui.horizontal(|ui| {
        ui.spacing_mut().item_spacing.x = 3.0;
        let ends = [("from", "Least", Bound::Least, limit.least), ("to", "Most", Bound::Most, limit.most)];
        for (word, name, bound, value) in ends {
            ui.label(RichText::new(word).small().weak());
            let entered = NumberField {
                name: &format!("{name} of {} in {symbol}", limit.name),
                handle: "",
                value: value.unwrap_or(f64::NAN),
                unit,
                lengths: state.lengths,
                width: 52.0 * state.text_scale,
                decimals: 3,
                at_fault: false,
                hint: "",
            }
            .show(ui, &palette);
            let set = |to| Edit::Requirement(LimitChange::SetBound { place, bound, to });
            edits.extend(entered.set.map(|value| set(Some(value))));
            if entered.settled {
                edits.push(Edit::Settle);
            }
            // Where it is the only one, the limit is deleted instead.
            if limit.least.is_some() && limit.most.is_some() {
                let button = ui.add(Button::new("×").small().frame(false));
                let label = format!("No {} for {}", name.to_lowercase(), limit.name);
                ui.ctx().accesskit_node_builder(button.id, |node| node.set_label(label.clone()));
                if button.on_hover_text(label).clicked() {
                    edits.extend([set(None), Edit::Settle]);
                }
            }
        }
        ui.label(RichText::new(symbol).small().weak());
        let delete = ui.small_button("Delete");
        ui.ctx().accesskit_node_builder(delete.id, |node| node.set_label(format!("Delete {}", limit.name)));
        if delete.on_hover_text("Undo brings it back").clicked() {
            edits.extend([Edit::Requirement(LimitChange::Remove(place)), Edit::Settle]);
        }
    });
}

/// A limit being put together.
#[derive(Clone, Debug)]
pub struct LimitDraft {
    search: String,
    reading: Option<&'static Reading>,
    end: End,
    side: Option<Side>,
    is_change: bool,
    path: Path,
    /// First and last travel, metres.
    travel: [f64; 2],
    opposite: bool,
    /// Lateral acceleration, g.
    lateral: f64,
    /// Banking, radians, + lowers the inside of a left turn.
    banking: f64,
    /// Steering input in the corner, metres or radians.
    steer: f64,
    bounds: [f64; 2],
    name: Option<String>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Path {
    Design,
    Travel,
    Steer,
    SteadyCorner,
}

const PATHS: [(Path, &str); 4] = [
    (Path::Travel, "wheel travel"),
    (Path::Steer, "the steering, stop to stop"),
    (Path::SteadyCorner, "steady cornering"),
    (Path::Design, "the design pose alone"),
];

impl LimitDraft {
    /// Nothing said yet, of a car that is counted in these lengths.
    #[must_use]
    pub fn new(lengths: LengthUnit) -> Self {
        LimitDraft {
            search: String::new(),
            reading: None,
            end: End::Front,
            side: None,
            is_change: false,
            path: Path::Travel,
            travel: [-lengths.stretch(), lengths.stretch()],
            opposite: false,
            lateral: 1.0,
            banking: 0.0,
            steer: 0.0,
            bounds: [f64::NAN; 2],
            name: None,
        }
    }
}

impl LimitDraft {
    /// Readings whose name or key holds what is typed, those that begin so first.
    fn offers(&self) -> Vec<&'static Reading> {
        let typed = self.search.trim().to_lowercase();
        if typed.is_empty() {
            return Vec::new();
        }
        let all = wheel_readings().iter().chain(axle_readings());
        let holds = |one: &&Reading| one.name.to_lowercase().contains(&typed) || one.key.contains(&typed);
        let mut found: Vec<&Reading> = all.filter(holds).collect();
        found.sort_by_key(|one| !one.name.to_lowercase().starts_with(&typed));
        found.truncate(OFFERED);
        found
    }

    fn assembly(&self) -> String {
        match self.side {
            Some(side) => format!("{} {side}", self.end),
            None => self.end.to_string(),
        }
    }

    /// What it is called where no other name is typed.
    fn usual_name(&self) -> String {
        let Some(reading) = self.reading else { return String::new() };
        let change = if self.is_change { "change of " } else { "" };
        let over = match self.path {
            Path::Design => "design",
            Path::Travel => "over travel",
            Path::Steer => "over steer",
            Path::SteadyCorner => "cornering",
        };
        super::notices::capital(&format!("{change}{}, {}, {over}", reading.name, self.assembly()))
    }

    /// The limit, as far as it is one.
    fn limit(&self) -> Option<Requirement> {
        let reading = self.reading?;
        let over = match self.path {
            Path::Design => PoseRange::Design,
            Path::Steer => PoseRange::Steer,
            Path::Travel => {
                let wheels = if self.opposite { Travelling::Opposite } else { Travelling::Both };
                PoseRange::Travel { from: self.travel[0], to: self.travel[1], wheels }
            }
            Path::SteadyCorner => {
                let banking = self.banking;
                let at = Cornering { banking, ..Cornering::level(self.lateral * GRAVITY, 0.0) };
                PoseRange::SteadyCorner(SteadyCorner { at, steer: self.steer, gradients: None })
            }
        };
        let side = self.side.filter(|_| reading.scope == Scope::Wheel);
        let taken = if self.is_change { Quantity::Change } else { Quantity::Value };
        let of = Limited::Reading { reading, end: self.end, side, taken, over };
        let [least, most] = self.bounds.map(|bound| Some(bound).filter(|bound| bound.is_finite()));
        let name = self.name.clone().unwrap_or_else(|| self.usual_name());
        (least.is_some() || most.is_some()).then_some(Requirement { name, about: None, of, least, most })
    }
}

/// Puts a new limit together.
pub(super) fn new_limit_ui(ui: &mut Ui, session: &Session, state: &mut UiState, edits: &mut Vec<Edit>) {
    CollapsingHeader::new("Add a limit").show_unindented(ui, |ui| draft_ui(ui, session, state, edits));
}

fn draft_ui(ui: &mut Ui, session: &Session, state: &mut UiState, edits: &mut Vec<Edit>) {
    let (scale, lengths) = (state.text_scale, state.lengths);
    let palette = state.palette();
    let draft = &mut state.limit_draft;
    let typed = ui.add(TextEdit::singleline(&mut draft.search).hint_text("Part of a reading's name"));
    ui.ctx().accesskit_node_builder(typed.id, |node| node.set_label("Reading to limit"));
    if typed.changed() {
        draft.reading = None;
    }
    if draft.reading.is_none() {
        for reading in draft.offers() {
            if ui.small_button(reading.name).on_hover_text(reading.definition).clicked() {
                draft.search = reading.name.to_owned();
                draft.reading = Some(reading);
            }
        }
    }
    let Some(reading) = draft.reading else { return };
    ui.horizontal(|ui| {
        let assembly = draft.assembly();
        let both = if reading.scope == Scope::Wheel { " both" } else { "" };
        let shown = if draft.side.is_none() { format!("{assembly}{both}") } else { assembly };
        ComboBox::from_id_salt("whose").selected_text(shown).show_ui(ui, |ui| {
            for end in End::BOTH {
                let sides: &[Option<Side>] = match reading.scope {
                    Scope::Wheel => &[None, Some(Side::Left), Some(Side::Right)],
                    Scope::Axle => &[None],
                };
                for &side in sides {
                    let text = side.map_or(format!("{end}{both}"), |side| format!("{end} {side}"));
                    if ui.selectable_label((draft.end, draft.side) == (end, side), text).clicked() {
                        (draft.end, draft.side) = (end, side);
                    }
                }
            }
        });
        ui.checkbox(&mut draft.is_change, "its change")
            .on_hover_text("Its value less that in the design pose");
    });
    ui.horizontal(|ui| {
        ui.label("over");
        let shown = PATHS.iter().find(|(path, _)| *path == draft.path).map_or("", |(_, name)| *name);
        ComboBox::from_id_salt("over").selected_text(shown).show_ui(ui, |ui| {
            for (path, name) in PATHS {
                ui.selectable_value(&mut draft.path, path, name);
            }
        });
    });
    let number = |ui: &mut Ui, name: &str, handle: &str, value: &mut f64, unit: Unit| {
        NumberField::fill(ui, (&palette, scale), (name, handle), value, (unit, lengths));
    };
    match draft.path {
        Path::Travel => {
            ui.horizontal(|ui| {
                let symbol = Unit::Length.symbol(lengths);
                let name = |which: &str| format!("{which} travel in {symbol}");
                number(ui, &name("First"), "from", &mut draft.travel[0], Unit::Length);
                number(ui, &name("Last"), "to", &mut draft.travel[1], Unit::Length);
                ui.checkbox(&mut draft.opposite, "opposite").on_hover_text("Left up as right goes down");
            });
        }
        Path::SteadyCorner => {
            let box_steers = matches!(session.car().front.steering, wheelpath_geometry::Steering::Box(_));
            let unit = if box_steers { Unit::Degree } else { Unit::Length };
            ui.horizontal(|ui| {
                number(
                    ui,
                    "Lateral acceleration in g, + left-hand corner",
                    "g",
                    &mut draft.lateral,
                    Unit::Ratio,
                );
                number(ui, "Steering input in the corner", "steer", &mut draft.steer, unit);
                number(
                    ui,
                    "Banking in degrees, + lowers the inside of a left turn",
                    "banking",
                    &mut draft.banking,
                    Unit::Degree,
                );
            });
            ui.label(RichText::new("The body rolls as estimated from springs and masses.").small().weak());
        }
        Path::Design | Path::Steer => {}
    }
    ui.horizontal(|ui| {
        let symbol = reading.unit.symbol(lengths);
        number(ui, "Least of the new limit", "at least", &mut draft.bounds[0], reading.unit);
        number(ui, "Most of the new limit", "at most", &mut draft.bounds[1], reading.unit);
        ui.label(symbol);
    });
    let mut name = draft.name.clone().unwrap_or_else(|| draft.usual_name());
    let field = ui.add(TextEdit::singleline(&mut name));
    ui.ctx().accesskit_node_builder(field.id, |node| node.set_label("Name of the new limit"));
    if field.changed() {
        draft.name = Some(name);
    }
    let limit = draft.limit();
    let add = ui.add_enabled(limit.is_some(), Button::new("Add it"));
    if add.on_disabled_hover_text("Type a least or a most first").clicked()
        && let Some(limit) = limit
    {
        edits.extend([Edit::Requirement(LimitChange::Add(Box::new(limit))), Edit::Settle]);
        *draft = LimitDraft::new(lengths);
    }
}

/// Says that limits are in no file yet, and writes them.
pub(super) fn save_limits_ui(ui: &mut Ui, session: &Session, state: &UiState, edits: &mut Vec<Edit>) {
    if session.limits_changed() {
        ui.horizontal(|ui| {
            ui.label(RichText::new("Limits are changed").color(colour(state.palette().accent)));
            let hint = "Writes limits.ron in the folder beside the car; comments stay";
            if ui.button("Save limits").on_hover_text(hint).clicked() {
                edits.push(Edit::SaveLimits);
            }
        });
        if let Some(path) = session.limits_apart() {
            ui.label(RichText::new(format!("Kept apart in {}", path.display())).small().weak());
        }
    }
}
