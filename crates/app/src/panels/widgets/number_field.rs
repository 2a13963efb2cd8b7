//! A field for a number with a unit: typed, stepped with the arrow keys, or pulled by its name.

use crate::panels::widgets::theme::colour;
use bevy_egui::egui::text::{CCursor, CCursorRange};
use bevy_egui::egui::{
    Align, Align2, Area, CursorIcon, Event, Frame, Id, InputState, Key, Label, Margin, Order, Rect, RichText,
    Sense, Stroke, TextEdit, Ui, text_edit::TextEditState, vec2,
};
use wheelpath_geometry::{LengthUnit, Unit, excerpt};
use wheelpath_stage::theme::Palette;

/// What came out of a field in a frame.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(in crate::panels) struct Entered {
    /// A new value, SI units or radians.
    pub set: Option<f64>,
    /// The typing or pulling is over.
    pub settled: bool,
    /// The field is being typed in, or its number was stepped or pulled.
    pub touched: bool,
}

/// A field for a number.
pub(in crate::panels) struct NumberField<'a> {
    /// Told to screen readers, and unique among fields: "front left, tie rod, inner end, X in mm".
    pub name: &'a str,
    /// Short name in front of the field; pulling it sideways changes the number. May be empty.
    pub handle: &'a str,
    /// Value now, SI units or radians; not-a-number shows "—".
    pub value: f64,
    /// Its unit.
    pub unit: Unit,
    /// In what lengths are typed.
    pub lengths: LengthUnit,
    /// Width of the field, points.
    pub width: f32,
    /// Decimals shown where the number has them; as many as the unit usually has always are.
    pub decimals: usize,
    /// Whether something is wrong with this number.
    pub at_fault: bool,
    /// Said where the pointer rests on it; may be empty.
    pub hint: &'a str,
}

#[derive(Clone, Debug, Default, PartialEq)]
struct Typing {
    /// What stands in the field while it is typed.
    text: Option<String>,
    /// What was typed when the field was left, where that is not a number.
    wrong: Option<String>,
    /// Something was set since the field was entered.
    touched: bool,
}

/// Step of an arrow key in display units: plain, with Shift, with Alt or Ctrl.
fn steps(unit: Unit, lengths: LengthUnit) -> [f64; 3] {
    match (unit, lengths) {
        (Unit::Degree, _) | (Unit::Length, LengthUnit::Inch) => [0.1, 1.0, 0.01],
        (Unit::DegreePerMetre, _) => [0.01, 0.1, 0.001],
        _ => [1.0, 10.0, 0.1],
    }
}

/// A number with at least its unit's decimals, and more where it has them: what was typed to 0.05 mm is
/// not shown as 0.1 mm.
fn written(value: f64, (unit, lengths): (Unit, LengthUnit), most: usize) -> String {
    let usual = unit.write_number(value, lengths);
    let least = unit.decimals(lengths);
    let shown = unit.shown(value, lengths);
    let fine = format!("{:.most$}", shown.abs());
    let Some((whole, decimals)) = fine.split_once('.') else { return usual };
    let kept = decimals.trim_end_matches('0').len().max(least);
    if kept <= least || !shown.is_finite() {
        return usual;
    }
    let sign = if value < 0.0 { "−" } else { "" };
    format!("{sign}{whole}.{}", decimals.get(..kept).unwrap_or(decimals))
}

/// A number as a person types it: real minus, comma for the point, unit at the end if they like.
pub(in crate::panels) fn parsed(text: &str, (unit, lengths): (Unit, LengthUnit)) -> Option<f64> {
    let plain = text.trim().replace('−', "-").replace(',', ".");
    let symbol = unit.symbol(lengths);
    let bare = plain.strip_suffix(symbol).or_else(|| plain.strip_suffix("deg")).unwrap_or(&plain).trim();
    let number: f64 = bare.parse().ok()?;
    Some(unit.inside(number, lengths)).filter(|value| value.is_finite())
}

impl NumberField<'_> {
    /// A field of a form that is being filled in: what is typed goes to `value`, SI units or radians.
    pub(in crate::panels) fn fill(
        ui: &mut Ui,
        (palette, scale): (&Palette, f32),
        (name, handle): (&str, &str),
        value: &mut f64,
        (unit, lengths): (Unit, LengthUnit),
    ) {
        let field = NumberField {
            name,
            handle,
            value: *value,
            unit,
            lengths,
            width: 52.0 * scale,
            decimals: 3,
            at_fault: false,
            hint: "",
        };
        if let Some(to) = field.show(ui, palette).set {
            *value = to;
        }
    }

    pub(in crate::panels) fn show(self, ui: &mut Ui, palette: &Palette) -> Entered {
        let id = Id::new(("number", self.name));
        let mut typing: Typing = ui.data_mut(|data| data.get_temp(id)).unwrap_or_default();
        let was_typing = typing.clone();
        let mut entered = Entered::default();
        if !self.handle.is_empty() {
            self.handle(ui, &mut entered);
        }
        if ui.memory(|memory| memory.has_focus(id)) {
            let by = arrow_steps(ui, steps(self.unit, self.lengths));
            if by != 0.0 {
                let from = typing.text.take().and_then(|text| parsed(&text, self.counted()));
                entered.set = self.stepped(from.unwrap_or(self.value), by);
                typing.touched = true;
            }
        }
        let value = entered.set.unwrap_or(self.value);
        let mut text = typing.text.clone().unwrap_or_else(|| written(value, self.counted(), self.decimals));
        let invalid = typing.text.as_deref().is_some_and(|text| parsed(text, self.counted()).is_none());
        let mut edit = TextEdit::singleline(&mut text)
            .id(id)
            .desired_width(self.width)
            .horizontal_align(Align::Max)
            .margin(Margin::symmetric(4, 2));
        if invalid || self.at_fault {
            edit = edit.text_color(colour(palette.fault));
        }
        let response = ui.add(edit);
        ui.ctx().accesskit_node_builder(id, |node| node.set_label(self.name));
        if response.gained_focus() {
            select_all(ui, id, text.chars().count());
            typing.wrong = None;
        }
        if response.changed() {
            typing.text = Some(text);
        }
        if response.lost_focus() {
            // The field shows the number that holds again, whatever was typed.
            let typed = typing.text.take();
            let is_given_up = ui.input(|input| input.key_pressed(Key::Escape));
            if let Some(text) = typed.filter(|_| !is_given_up) {
                match parsed(&text, self.counted()) {
                    Some(value) if self.value.is_nan() || (value - self.value).abs() > 0.0 => {
                        entered.set = Some(value);
                        typing.touched = true;
                    }
                    Some(_) => {}
                    None => typing.wrong = Some(text),
                }
            }
            entered.settled = entered.settled || typing.touched;
            typing.touched = false;
        } else if typing.wrong.is_some() && ui.input(is_next_input) {
            typing.wrong = None;
        }
        entered.touched = entered.set.is_some() || typing.text.is_some();
        if let Some(text) = &typing.wrong {
            self.say_wrong(ui, palette, text, response.rect);
        }
        if !self.hint.is_empty() {
            response.on_hover_text(self.hint);
        }
        if typing != was_typing {
            ui.data_mut(|data| data.insert_temp(id, typing));
        }
        entered
    }

    /// Says under the field what was wrong with what was typed, and which number holds. It lies over what
    /// stands there, takes no click, and goes with the next input.
    fn say_wrong(&self, ui: &Ui, palette: &Palette, text: &str, field: Rect) {
        let unit = self.unit.symbol(self.lengths);
        let typed = match text.trim() {
            "" => "Nothing was typed".to_owned(),
            text => format!("\u{201c}{}\u{201d} is not a number", excerpt(text)),
        };
        let stays = match written(self.value, self.counted(), self.decimals) {
            none if self.value.is_nan() => format!("{none} stays"),
            number => format!("{number}{}{unit} stays", if unit.starts_with('°') { "" } else { " " }),
        };
        let said = format!("{typed}: {}. Type one such as 12.5.", stays.trim());
        Area::new(Id::new(("not a number", self.name)))
            .order(Order::Foreground)
            .interactable(false)
            .pivot(Align2::RIGHT_TOP)
            .fixed_pos(field.right_bottom() + vec2(0.0, 3.0))
            .show(ui.ctx(), |ui| {
                let frame = Frame::NONE
                    .fill(colour(palette.panel))
                    .stroke(Stroke::new(1.0, colour(palette.fault)))
                    .corner_radius(3.0)
                    .inner_margin(Margin::symmetric(6, 3));
                frame.show(ui, |ui| {
                    ui.set_max_width(260.0);
                    ui.label(RichText::new(said).small().color(colour(palette.fault)));
                });
            });
    }

    /// What its number is counted in.
    fn counted(&self) -> (Unit, LengthUnit) {
        (self.unit, self.lengths)
    }

    /// A value a step further, the step in display units; from none, the step itself.
    fn stepped(&self, from: f64, by: f64) -> Option<f64> {
        let shown = self.unit.shown(from, self.lengths);
        let to = self.unit.inside(if shown.is_finite() { shown + by } else { by }, self.lengths);
        Some(to).filter(|to| to.is_finite())
    }

    fn handle(&self, ui: &mut Ui, entered: &mut Entered) {
        let text = RichText::new(self.handle).color(ui.visuals().weak_text_color());
        let handle = ui
            .add(Label::new(text).sense(Sense::drag()))
            .on_hover_and_drag_cursor(CursorIcon::ResizeHorizontal);
        if handle.dragged() {
            let [plain, coarse, fine] = steps(self.unit, self.lengths).map(|step| 0.1 * step);
            let step = ui.input(|input| {
                let keys = input.modifiers;
                if keys.shift {
                    coarse
                } else if keys.alt || keys.command || keys.ctrl {
                    fine
                } else {
                    plain
                }
            });
            let by = f64::from(handle.drag_delta().x) * step;
            if by != 0.0 && self.value.is_finite() {
                entered.set = self.stepped(self.value, by);
            }
        }
        entered.settled |= handle.drag_stopped();
    }
}

/// Takes the up and down keys out of the input and gives their sum in display units.
fn arrow_steps(ui: &Ui, [plain, coarse, fine]: [f64; 3]) -> f64 {
    let mut sum = 0.0;
    ui.input_mut(|input| {
        input.events.retain(|event| {
            let Event::Key { key: key @ (Key::ArrowUp | Key::ArrowDown), pressed: true, modifiers, .. } =
                event
            else {
                return true;
            };
            let step = if modifiers.shift {
                coarse
            } else if modifiers.alt || modifiers.ctrl || modifiers.command {
                fine
            } else {
                plain
            };
            sum += if *key == Key::ArrowUp { step } else { -step };
            false
        });
    });
    sum
}

/// Whether something is pressed that was not meant for the field that was just left.
fn is_next_input(input: &InputState) -> bool {
    input.events.iter().any(|event| {
        matches!(
            event,
            Event::Key { pressed: true, .. } | Event::PointerButton { pressed: true, .. } | Event::Text(_)
        )
    })
}

fn select_all(ui: &Ui, id: Id, length: usize) {
    let mut state = TextEditState::load(ui.ctx(), id).unwrap_or_default();
    state.cursor.set_char_range(Some(CCursorRange::two(CCursor::new(0), CCursor::new(length))));
    state.store(ui.ctx(), id);
}

#[cfg(test)]
mod tests {
    use super::{parsed, written};
    use wheelpath_geometry::{LengthUnit, Unit};

    const MM: LengthUnit = LengthUnit::Millimetre;

    #[test]
    fn what_was_typed_finely_is_shown_finely() {
        for (mm, text) in
            [(169.0, "169.0"), (169.05, "169.05"), (-0.125, "−0.125"), (-0.0, "0.0"), (1e-5, "0.0")]
        {
            assert_eq!(written(mm * 1e-3, (Unit::Length, MM), 3), text);
        }
        assert_eq!(written(f64::NAN, (Unit::Length, MM), 3), "—");
        assert_eq!(written(0.012_345, (Unit::Length, MM), 1), "12.3");
    }

    #[test]
    fn numbers_are_read_as_people_write_them() {
        for (text, value) in
            [("12.5", 0.0125), (" −3 ", -0.003), ("-3,5 mm", -0.0035), ("+1", 0.001), ("1e1", 0.01)]
        {
            let read = parsed(text, (Unit::Length, MM)).unwrap();
            assert!((read - value).abs() < 1e-15, "{text}: {read}");
        }
        assert!((parsed("−1.5°", (Unit::Degree, MM)).unwrap().to_degrees() + 1.5).abs() < 1e-12);
        let inches = parsed("−1.25 in", (Unit::Length, LengthUnit::Inch)).unwrap();
        assert!((inches + 0.031_75).abs() < 1e-15, "{inches}");
        assert_eq!(written(inches, (Unit::Length, LengthUnit::Inch), 3), "−1.250");
        assert_eq!(parsed("0", (Unit::PerMetre, MM)), None, "a swing arm of no length");
        for text in ["", "mm", "12 in", "1.2.3", "nan", "inf", "--1"] {
            assert_eq!(parsed(text, (Unit::Length, MM)), None, "{text}");
        }
    }
}
