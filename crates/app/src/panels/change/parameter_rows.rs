//! The parameters that are no points of a corner and of its axle: wheel, lengths of links, steering, rates of
//! springs and bars.

use crate::panels::change::change_state::ChangePanel;
use crate::panels::widgets::notices::{capital, notices_ui};
use crate::panels::widgets::number_field::{Entered, NumberField};
use crate::panels::widgets::theme::colour;
use bevy_egui::egui::{CollapsingHeader, Grid, Label, RichText, Ui, vec2};
use wheelpath_geometry::{Assembly, Axis, Parameter, Unit, Value};
use wheelpath_session::{About, CarEdit, Edit, Session};

/// What a row has beside its label at the designed size of text, points: a field and a button.
const BESIDE_LABEL: f32 = 156.0;
/// Least width of a label, points.
const LEAST_LABEL: f32 = 60.0;

pub(in crate::panels) fn parameter_rows_ui(
    ui: &mut Ui,
    session: &Session,
    state: &mut ChangePanel<'_>,
    edits: &mut Vec<Edit>,
) {
    let palette = state.palette();
    let corner = state.corner;
    let concerns = |about| match about {
        About::Link(assembly, _) => assembly.is_at(corner),
        About::Wheel(at) => at == corner,
        _ => false,
    };
    let troubled = session.notices().iter().any(|n| concerns(n.about));
    CollapsingHeader::new(RichText::new("Wheel, link lengths, steering and springs").strong())
        .default_open(true)
        .open(troubled.then_some(true))
        .show_unindented(ui, |ui| {
            let label_width = (ui.available_width() - BESIDE_LABEL * state.text_scale).max(LEAST_LABEL);
            Grid::new("parameters").num_columns(2).spacing(vec2(6.0, 3.0)).show(ui, |ui| {
                for assembly in [Assembly::Corner(corner), Assembly::Axle(corner.end)] {
                    for parameter in rows_of(assembly) {
                        Row { session, state, assembly, parameter, label_width }.show(ui, edits);
                    }
                }
            });
            notices_ui(ui, session, &palette, concerns);
        });
}

/// The parameters of an assembly that have a row here: the wheel's first, then lengths, steering and springs.
fn rows_of(assembly: Assembly) -> Vec<Parameter> {
    let mut rows: Vec<Parameter> = Parameter::all(assembly);
    rows.retain(|parameter| !matches!(parameter, Parameter::Point(_)));
    rows.sort_by_key(|parameter| match parameter {
        Parameter::Wheel(_) => 0,
        Parameter::WheelCentre | Parameter::Point(_) => 1,
        Parameter::Length(_) => 2,
        Parameter::Steering(_) => 3,
        Parameter::Spring(_) => 4,
    });
    rows
}

/// A parameter of an assembly, with its field, or a field for each coordinate.
struct Row<'a> {
    session: &'a Session,
    state: &'a ChangePanel<'a>,
    assembly: Assembly,
    parameter: Parameter,
    label_width: f32,
}

impl Row<'_> {
    /// Nothing is shown where the assembly has no such parameter.
    fn show(&self, ui: &mut Ui, edits: &mut Vec<Edit>) {
        let (car, parameter) = (self.session.car(), self.parameter);
        let Some(value) = parameter.value(car, self.assembly) else { return };
        let was = parameter.value(self.session.original(), self.assembly);
        let is_changed = was.is_some_and(|was| !value.is(was));
        match (value, parameter) {
            (Value::Place(at), _) => {
                for axis in Axis::ALL {
                    let label = format!("{parameter} {}", axis.letter());
                    let entered = self.line(ui, &label, at[axis.index()], is_changed, |ui| {
                        if axis == Axis::X {
                            self.reset(ui, is_changed, edits);
                        }
                    });
                    let mut to = at;
                    if let Some(coordinate) = entered.set {
                        to[axis.index()] = coordinate;
                    }
                    self.push(entered, Value::Place(to), edits);
                }
            }
            (value, Parameter::Length(link)) => {
                let Some(length) = self.assembly.length(car, link) else { return };
                let entered = self.line(ui, &parameter.to_string(), length, is_changed, |ui| {
                    if is_changed {
                        self.reset(ui, is_changed, edits);
                    } else {
                        self.follow_points(ui, value, edits);
                    }
                });
                self.push(entered, Value::Number(entered.set.unwrap_or(length)), edits);
            }
            (Value::Number(number), _) => {
                let entered = self.line(ui, &parameter.to_string(), number, is_changed, |ui| {
                    self.reset(ui, is_changed, edits);
                });
                self.push(entered, Value::Number(entered.set.unwrap_or(number)), edits);
            }
            (Value::FromPoints, _) => {}
        }
    }

    /// A label, and beside it a field and what stands behind it.
    fn line(
        &self,
        ui: &mut Ui,
        label: &str,
        value: f64,
        is_changed: bool,
        behind: impl FnOnce(&mut Ui),
    ) -> Entered {
        let state = self.state;
        let palette = state.palette();
        let unit = self.parameter.unit();
        // The heading says that they are lengths.
        let mut text = RichText::new(capital(label.trim_end_matches(", length")));
        if is_changed {
            text = text.color(colour(palette.accent));
        }
        ui.scope(|ui| {
            ui.set_max_width(self.label_width);
            ui.add(Label::new(text).wrap()).on_hover_text(self.parameter.definition());
        });
        let entered = ui
            .horizontal(|ui| {
                ui.spacing_mut().item_spacing.x = 4.0;
                let symbol = unit.symbol(state.lengths);
                let in_unit = if unit == Unit::Ratio { String::new() } else { format!(" in {symbol}") };
                let entered = NumberField {
                    name: &format!("{}, {label}{in_unit}", self.assembly),
                    handle: symbol,
                    value,
                    unit,
                    lengths: state.lengths,
                    width: 60.0 * state.text_scale,
                    decimals: 3,
                    at_fault: false,
                    hint: self.parameter.definition(),
                }
                .show(ui, &palette);
                behind(ui);
                entered
            })
            .inner;
        ui.end_row();
        entered
    }

    fn push(&self, entered: Entered, to: Value, edits: &mut Vec<Edit>) {
        let Row { state, assembly, parameter, .. } = *self;
        if entered.set.is_some() {
            edits.push(Edit::Change(CarEdit::Set { assembly, parameter, to, mirrored: state.mirrored }));
        }
        if entered.settled {
            edits.push(Edit::Settle);
        }
    }

    fn reset(&self, ui: &mut Ui, is_changed: bool, edits: &mut Vec<Edit>) {
        let Row { state, assembly, parameter, .. } = *self;
        if is_changed && self.button(ui, "Reset", "Back to what the original car has") {
            let edit = CarEdit::Reset { assembly, parameter, mirrored: state.mirrored };
            edits.extend([Edit::Change(edit), Edit::Settle]);
        }
    }

    /// Lets a length that is stated follow from its points again.
    fn follow_points(&self, ui: &mut Ui, value: Value, edits: &mut Vec<Edit>) {
        let Row { state, assembly, parameter, .. } = *self;
        let hint = "The length is stated, and stays when the link's points move. A press makes it the distance \
                    between its points again.";
        if matches!(value, Value::Number(_)) && self.button(ui, "Points", hint) {
            let (to, mirrored) = (Value::FromPoints, state.mirrored);
            edits.extend([
                Edit::Settle,
                Edit::Change(CarEdit::Set { assembly, parameter, to, mirrored }),
                Edit::Settle,
            ]);
        }
    }

    fn button(&self, ui: &mut Ui, word: &str, hint: &str) -> bool {
        let button = ui.small_button(word).on_hover_text(hint);
        let name = format!("{word} {} {}", self.assembly, self.parameter);
        ui.ctx().accesskit_node_builder(button.id, |node| node.set_label(name));
        button.clicked()
    }
}
