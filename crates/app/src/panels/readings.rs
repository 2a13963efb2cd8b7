//! The table of readings: left, right, and what changed against the original.

use crate::panels::state::panel::Panel;
use crate::panels::state::shared::Front;
use crate::panels::widgets::theme::{colour, has_hue, line_colour, scrolled, table_text};
use bevy_egui::egui::{
    Align, Align2, Button, CollapsingHeader, Color32, Galley, Label, Layout, Rect, RichText, ScrollArea,
    Sense, Stroke, StrokeKind, TextStyle, Ui, UiBuilder, WidgetInfo, WidgetType, pos2, vec2,
};
use std::sync::Arc;
use wheelpath_geometry::{
    End, Group, Reading, Scope, Side, WheelPosition, axle_readings, first_readings, reading, wheel_readings,
};
use wheelpath_report::Style;
use wheelpath_session::between::between;
use wheelpath_session::derived::curves::Spec;
use wheelpath_session::{Session, noticeable};

/// The groups, and whether they are open at first.
const GROUPS: [(Group, bool); 12] = [
    (Group::WheelAngles, true),
    (Group::SteeringAxis, true),
    (Group::Motion, true),
    (Group::BeamInRoll, true),
    (Group::BeamByOneWheel, false),
    (Group::Roll, true),
    (Group::Ackermann, true),
    (Group::SteerMotion, false),
    (Group::Place, false),
    (Group::Springing, false),
    (Group::Turning, false),
    (Group::Pitch, false),
];

/// The readings with what they remember.
pub(in crate::panels) type Readings<'a> = Panel<'a, ReadingsState>;

/// What the readings remember.
#[derive(Clone, Debug, Default)]
pub struct ReadingsState {
    /// Whether the readings that are not asked for first are shown too.
    pub all: bool,
}

pub(in crate::panels) fn readings_ui(ui: &mut Ui, session: &Session, state: &mut Readings<'_>) {
    ui.horizontal(|ui| {
        for end in End::BOTH {
            let name = if end == End::Front { "Front axle" } else { "Rear axle" };
            ui.selectable_value(&mut state.end, end, name);
        }
    });
    ui.add_space(2.0);
    if session.differs() {
        let against = match session.baseline_name() {
            "original" => "the original".to_owned(),
            name => format!("\u{201c}{name}\u{201d}"),
        };
        ui.label(RichText::new(format!("Under a value: its change against {against}.")).small().weak());
    }
    let columns = Columns::of(ui, session, state);
    heading_ui(ui, &columns);
    let (palette, area) = (state.palette(), ScrollArea::vertical().auto_shrink([false, false]));
    scrolled(ui, &palette, area, |ui| {
        let mut first = Vec::new();
        for line in first_readings().iter().filter_map(|one| Line::of(session, state, one)) {
            let toe = line.reading.key == "toe";
            let length = toe.then(|| line.as_length_over(session.car().tyre_diameter()));
            first.extend(std::iter::once(line).chain(length));
        }
        ui.scope(|ui| {
            ui.spacing_mut().item_spacing.y = 0.0;
            for (n, line) in first.iter().enumerate() {
                row_ui(ui, session, state, line, &columns, n % 2 == 1);
            }
        });
        all_ui(ui, session, state, &columns);
    });
    state.picked_reading = None;
}

/// The readings that are not asked for first, group by group, where they are wanted.
fn all_ui(ui: &mut Ui, session: &Session, state: &mut Readings<'_>, columns: &Columns) {
    let picked = state.picked_reading.and_then(reading);
    state.own.all |= picked.is_some_and(|reading| !reading.is_first());
    ui.add_space(6.0);
    let text = if state.own.all { "Fewer readings" } else { "All readings" };
    if ui.add(Button::new(text).selected(state.own.all)).clicked() {
        state.own.all = !state.own.all;
    }
    if state.own.all {
        for (group, open) in GROUPS {
            let all = wheel_readings().iter().chain(axle_readings());
            let rest = all.filter(|reading| reading.group == group && !reading.is_first());
            let lines: Vec<Line> = rest.filter_map(|one| Line::of(session, state, one)).collect();
            if lines.is_empty() {
                continue;
            }
            let holds_picked = lines.iter().any(|line| state.picked_reading == Some(line.reading.key));
            CollapsingHeader::new(RichText::new(group.label()).strong())
                .id_salt(("readings", group))
                .default_open(open)
                .open(holds_picked.then_some(true))
                .show_unindented(ui, |ui| {
                    ui.spacing_mut().item_spacing.y = 0.0;
                    for (n, line) in lines.iter().enumerate() {
                        row_ui(ui, session, state, line, columns, n % 2 == 1);
                    }
                });
        }
    }
}

/// A reading as a row.
struct Line {
    reading: &'static Reading,
    name: String,
    /// How it is shown.
    style: Style,
}

impl Line {
    /// The row of a reading; `None` where the axle has no such reading, or another row says the same.
    fn of(session: &Session, state: &Readings<'_>, reading: &'static Reading) -> Option<Self> {
        let style = Style { lengths: state.lengths, toe_over: None };
        let value = |side, reading| session.values().get(state.end, side, reading);
        let shown =
            |reading: &'static Reading| Side::BOTH.map(|side| style.number(reading, value(side, reading)));
        let same = |other: &'static Reading| shown(reading) == shown(other);
        // A ratio that is 0/0 straight ahead is there as soon as the wheels are turned: its row stays.
        let turns = matches!(reading.group, Group::Ackermann | Group::Turning);
        let steers = session.car().axle(state.end).steering.steers() && state.end == End::Front;
        let exists = Side::BOTH.iter().any(|&side| value(side, reading).is_some()) || (turns && steers);
        let [left, right] = shown(reading);
        if !exists || reading.said_by().is_some_and(same) || (reading.is_of_unlike_sides() && left == right) {
            return None;
        }
        let alike = reading.to_road().is_none_or(same);
        let name = match reading.plain_name() {
            plain if alike && plain != reading.name => plain.into(),
            // A beam's rates say which motion they are of.
            _ => reading.name_on(session.car().axle(state.end).is_beam()),
        };
        Some(Line { reading, name: name.into_owned(), style })
    }

    /// Toe as a length over a diameter, of one wheel.
    fn as_length_over(&self, over: f64) -> Self {
        let style = Style { toe_over: Some(over), ..self.style };
        Line { reading: self.reading, name: style.name(self.reading), style }
    }
}

/// Room for the mark of a reading's colour before its name.
const MARK: f32 = 10.0;
/// Room above and below the text of a row.
const PAD: f32 = 4.0;

/// Where the columns stand, from the left edge of the table.
struct Columns {
    /// Right edges of the values, left and right.
    values: [f32; 2],
    value_width: f32,
}

impl Columns {
    fn of(ui: &Ui, session: &Session, state: &Readings<'_>) -> Self {
        let all = ui.available_width() - ui.spacing().scroll.allocated_width();
        let widest = wheel_readings()
            .iter()
            .flat_map(|reading| {
                let value = |side| session.values().get(state.end, side, reading).unwrap_or(f64::NAN);
                Side::BOTH.map(|side| reading.unit.write(value(side), state.lengths))
            })
            .map(|text| width_of(ui, &text))
            .fold(0.0, f32::max);
        let size = TextStyle::Body.resolve(ui.style()).size;
        let value_width = between(widest, size * 4.0, size * 7.5);
        let right = all - 4.0;
        Columns { values: [right - value_width - 4.0, right], value_width }
    }

    /// Where the values of a reading end.
    fn of_scope(&self, scope: Scope) -> &[f32] {
        match scope {
            Scope::Wheel => self.values.as_slice(),
            // One value only: its name has the other's room.
            Scope::Axle => self.values.get(1..).unwrap_or_default(),
        }
    }
}

/// Width of a text, in steps, lest what stands beside it trembles while a wheel is pulled.
fn width_of(ui: &Ui, text: &str) -> f32 {
    let font = TextStyle::Body.resolve(ui.style());
    let step = font.size * 0.5;
    let width = ui.painter().layout_no_wrap(text.to_owned(), font, Color32::PLACEHOLDER).size().x;
    (width / step).ceil() * step
}

fn heading_ui(ui: &mut Ui, columns: &Columns) {
    let font = TextStyle::Small.resolve(ui.style());
    let size = vec2(ui.available_width(), font.size * 1.4);
    let (row, _) = ui.allocate_exact_size(size, Sense::hover());
    for (name, right) in ["left", "right"].into_iter().zip(columns.values) {
        let at = pos2(row.left() + right, row.bottom());
        ui.painter().text(at, Align2::RIGHT_BOTTOM, name, font.clone(), ui.visuals().weak_text_color());
    }
}

/// A row: the name, wrapped where it must be, and the values on the name's first line.
fn row_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut Readings<'_>,
    line: &Line,
    columns: &Columns,
    striped: bool,
) {
    let reading = line.reading;
    let palette = state.palette();
    let rights = columns.of_scope(reading.scope);
    let picked = state.picked_reading == Some(reading.key);
    let ink = colour(if picked { palette.accent } else { palette.ink });
    let font = TextStyle::Body.resolve(ui.style());
    let values: Vec<Value> =
        Side::BOTH.into_iter().zip(rights).map(|(side, _)| Value::of(session, state, line, side)).collect();
    // A long value takes room from its own row's name only.
    let first = values.first().map_or(0.0, |value| value.width(ui));
    let name_width = rights.first().copied().unwrap_or_default() - first - MARK - 8.0;
    let name = ui.painter().layout(line.name.clone(), font, ink, name_width);
    let text = ui.text_style_height(&TextStyle::Body);
    let changes = values.iter().any(|value| value.change.is_some());
    let under = if changes { ui.text_style_height(&TextStyle::Small) } else { 0.0 };
    let height = name.size().y.max(text + under) + 2.0 * PAD;
    let (row, _) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
    if striped {
        ui.painter().rect_filled(row, 0.0, ui.visuals().faint_bg_color);
    }
    let top = row.top() + PAD;
    if has_hue(reading.key) {
        let mark = Rect::from_min_size(pos2(row.left(), top + 0.12 * text), vec2(4.0, 0.76 * text));
        ui.painter().rect_filled(mark, 1.0, line_colour(&palette, reading.key));
    }
    let place = Rect::from_min_size(pos2(row.left() + MARK, top), vec2(name_width, name.size().y));
    name_ui(ui, state, line, place, name, picked);
    for (value, right) in values.into_iter().zip(rights) {
        let size = vec2(columns.value_width, height - 2.0 * PAD);
        let cell = Rect::from_min_size(pos2(row.left() + right - size.x, top), size);
        let layout = Layout::top_down(Align::Max);
        value.show(&mut ui.new_child(UiBuilder::new().max_rect(cell).layout(layout)));
    }
}

fn name_ui(ui: &mut Ui, state: &mut Readings<'_>, line: &Line, place: Rect, name: Arc<Galley>, picked: bool) {
    let reading = line.reading;
    let id = ui.id().with(("reading", &line.name));
    let button = ui.interact(place, id, Sense::click());
    button.widget_info(|| WidgetInfo::labeled(WidgetType::Button, true, &line.name));
    let ink = ui.visuals().text_color();
    if button.has_focus() {
        let stroke = ui.visuals().widgets.active.bg_stroke;
        ui.painter().rect_stroke(place.expand(2.0), 2.0, stroke, StrokeKind::Inside);
    } else if button.hovered() {
        let line = Stroke::new(1.0, ink);
        let right = place.left() + name.size().x;
        ui.painter().hline(place.left()..=right, place.bottom(), line);
    }
    ui.painter().galley(place.min, name, ink);
    if picked {
        button.scroll_to_me(Some(Align::Center));
    }
    let button = button.on_hover_ui(|ui| definition_ui(ui, reading));
    if button.clicked()
        && let Some(spec) = Spec::over_travel(state.end, reading.key)
    {
        state.asked_curve = Some(spec);
        // Where the curves take turns with this, they are shown.
        state.front = Front::Curves;
    }
}

/// Definition, sign, formula and source of a reading.
pub(in crate::panels) fn definition_ui(ui: &mut Ui, reading: &Reading) {
    ui.set_max_width(ui.spacing().tooltip_width);
    ui.label(RichText::new(reading.name).strong());
    ui.label(reading.definition);
    if !reading.motion.in_words().is_empty() {
        ui.label(format!("Taken {}.", reading.motion.in_words()));
    }
    ui.label(format!("Sign: {}.", reading.sign));
    ui.label(format!("Formula: {}", reading.formula));
    ui.label(RichText::new(format!("Source: {}", reading.source)).weak());
    ui.label(RichText::new("Click the name to hang its curve on the wall.").weak().small());
}

/// A value in writing, with what changed against the original.
struct Value {
    text: RichText,
    /// Why there is none.
    absent: Option<String>,
    /// The change, and the value before it.
    change: Option<(RichText, String)>,
}

impl Value {
    fn of(session: &Session, state: &Readings<'_>, line: &Line, side: Side) -> Self {
        let Line { reading, style, .. } = line;
        let palette = state.palette();
        let now = session.values().get(state.end, side, reading);
        let wheel = WheelPosition { end: state.end, side };
        let why = if reading.absent.is_empty() { "it does not exist in this pose" } else { reading.absent };
        let before = session.baseline_values().and_then(|values| values.get(state.end, side, reading));
        let change = now.zip(before).filter(|(now, before)| {
            session.differs() && (now - before).abs() > 0.1 * noticeable(reading.unit)
        });
        Value {
            text: RichText::new(style.write(reading, now)).color(table_text(&palette, reading.key)),
            absent: now.is_none().then(|| format!("No {} for {wheel}: {why}.", reading.name.to_lowercase())),
            change: change.map(|(now, before)| {
                let change = RichText::new(style.write_change(reading, before, now)).small();
                let was = format!("Original: {}", style.write(reading, Some(before)));
                (change.color(colour(palette.accent)), was)
            }),
        }
    }

    fn width(&self, ui: &Ui) -> f32 {
        let change = self.change.as_ref().map_or(0.0, |(change, _)| width_of(ui, change.text()));
        change.max(width_of(ui, self.text.text()))
    }

    fn show(self, ui: &mut Ui) {
        ui.spacing_mut().item_spacing.y = 0.0;
        let label = ui.add(Label::new(self.text).extend());
        if let Some(why) = self.absent {
            label.on_hover_text(why);
        }
        if let Some((change, was)) = self.change {
            ui.add(Label::new(change).extend()).on_hover_text(was);
        }
    }
}
