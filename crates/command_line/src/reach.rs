//! How far each wheel and each axle can go, for `check`.

use crate::console::data::{Record, length, length_key, quantity};
use crate::console::steer::{steer_key, unit_of};
use serde_json::Value;
use wheelpath_geometry::{
    AxleSolver, Car, CarSolver, End, EndedBy, FURTHEST, LengthUnit, ReachEnd, SteerInput, Stop, Travelling,
    Unit, WheelPosition,
};
use wheelpath_report::{Align, Table, wrap};

/// Where a motion ends, and what ends it.
struct Limit {
    /// Travel, metres, or steering input, metres or radians.
    at: f64,
    by: Vec<String>,
}

/// How far one wheel or axle goes: droop, bump, and the steering's negative and positive end.
pub(crate) struct Reach {
    /// Whose, in words.
    of: String,
    /// Whose, in data: `wheel` or `axle`, and which.
    whose: (&'static str, &'static str),
    input: SteerInput,
    steered: bool,
    /// One wheel of a beam axle, which goes with the other wheel at zero travel.
    on_beam: bool,
    /// `None` where no limit was met.
    limits: [Option<Limit>; 4],
}

/// Names of the limits in data, before the unit.
const TRAVELS: [&str; 2] = ["droop", "bump"];
const STEERS: [[&str; 2]; 2] = [["_right", "_left"], ["_negative", "_positive"]];

fn steer_names(input: SteerInput) -> [&'static str; 2] {
    let [rack, pitman] = STEERS;
    match input {
        SteerInput::RackTravel => rack,
        SteerInput::PitmanAngle => pitman,
    }
}

impl Reach {
    /// How far the links of each wheel reach, stops not counted.
    pub fn of_wheels(car: &Car, solver: &CarSolver) -> Result<Vec<Self>, Stop> {
        let of = |at: WheelPosition| {
            let axle = solver.axle(at.end);
            let limit = |at: f64, stop: Stop| Limit {
                at,
                by: stop.links.iter().map(|link| (*link).to_owned()).collect(),
            };
            let travel = |stop: Option<Stop>| stop.map(|stop| limit(stop.travel, stop));
            let steer = |stop: Option<Stop>| stop.map(|stop| limit(stop.steer, stop));
            let [droop, bump] = axle.travel_limits(at.side, 0.0)?;
            let [negative, positive] = axle.steer_limits(at.side);
            Ok(Reach {
                of: at.to_string(),
                whose: ("wheel", at.key()),
                input: axle.steer_input(),
                steered: axle.steered(),
                on_beam: car.axle(at.end).is_beam(),
                limits: [travel(droop), travel(bump), steer(negative), steer(positive)],
            })
        };
        WheelPosition::ALL.into_iter().map(of).collect()
    }

    /// How far each axle goes, both wheels alike, stops of steering, dampers and joints counted.
    pub fn of_axles(solver: &CarSolver) -> Result<Vec<Self>, Stop> {
        let of = |end: End| {
            let axle: &AxleSolver = solver.axle(end);
            let limit = |end: ReachEnd| match end.by {
                EndedBy::Nothing => None,
                by => Some(Limit { at: end.at, by: vec![by.to_string()] }),
            };
            let [droop, bump] = axle.travel_reach(Travelling::Both, 0.0)?.map(limit);
            let [negative, positive] =
                if axle.steered() { axle.steer_reach([0.0; 2])?.map(limit) } else { [None, None] };
            Ok(Reach {
                of: format!("{end} axle"),
                whose: ("axle", end.name()),
                input: axle.steer_input(),
                steered: axle.steered(),
                on_beam: false,
                limits: [droop, bump, negative, positive],
            })
        };
        End::BOTH.into_iter().map(of).collect()
    }

    /// The keys of the four limits: with the unit, and bare for what ends it.
    fn keys(&self, lengths: LengthUnit) -> [(String, String); 4] {
        let [droop, bump] = TRAVELS.map(|name| (length_key(name, lengths), name.to_owned()));
        let bare = |after: &str| match self.input {
            SteerInput::RackTravel => format!("rack{after}"),
            SteerInput::PitmanAngle => format!("pitman{after}"),
        };
        let [negative, positive] =
            steer_names(self.input).map(|after| (steer_key("", self.input, after, lengths), bare(after)));
        [droop, bump, negative, positive]
    }

    fn unit(&self, index: usize) -> Unit {
        if index < TRAVELS.len() { Unit::Length } else { unit_of(self.input) }
    }

    pub fn record(&self, lengths: LengthUnit) -> Record {
        let mut record = Record::new();
        let (kind, name) = self.whose;
        record.insert(kind.into(), name.into());
        if kind == "wheel" {
            let held = if self.on_beam { length(0.0, lengths) } else { Value::Null };
            record.insert(length_key("other_wheel", lengths), held);
        }
        let ended = if kind == "wheel" { "links" } else { "ended_by" };
        for (index, ((key, bare), limit)) in self.keys(lengths).into_iter().zip(&self.limits).enumerate() {
            let at = limit.as_ref().map(|limit| quantity(limit.at, self.unit(index), lengths));
            record.insert(key, at.unwrap_or(Value::Null));
            record.insert(format!("{bare}_{ended}"), limit.as_ref().map(|limit| limit.by.clone()).into());
        }
        record
    }
}

/// The headings of the two columns of steering, and whether their cells need units.
fn steer_columns(reach: &[Reach], lengths: LengthUnit) -> ([String; 2], bool) {
    let mut inputs = reach.iter().filter(|one| one.steered).map(|one| one.input);
    let first = inputs.next().unwrap_or(SteerInput::RackTravel);
    let unit = unit_of(first).symbol(lengths);
    match first {
        _ if inputs.any(|input| input != first) => (["steering −", "steering +"].map(str::to_owned), true),
        SteerInput::RackTravel => (["right", "left"].map(|way| format!("rack {way}\n{unit}")), false),
        SteerInput::PitmanAngle => (["−", "+"].map(|way| format!("pitman\narm {way}\n{unit}")), false),
    }
}

/// The reach for people: a row each, then what the limits are.
pub(crate) fn reach_table(title: &str, reach: &[Reach], lengths: LengthUnit) -> String {
    let length_unit = Unit::Length.symbol(lengths);
    let (steers, mixed) = steer_columns(reach, lengths);
    let mut columns = vec![(title.to_owned(), Align::Left)];
    columns.extend(TRAVELS.map(|name| (format!("{name}\n{length_unit}"), Align::Right)));
    columns.extend(steers.map(|name| (name, Align::Right)));
    let mut table = Table::with_columns(columns);
    let mut reasons: Vec<(String, Vec<String>)> = Vec::new();
    for one in reach {
        let mut row = vec![one.of.clone()];
        for (index, limit) in one.limits.iter().enumerate() {
            let unit = one.unit(index);
            row.push(match limit {
                Some(limit) => {
                    let name =
                        one.keys(lengths).get(index).map_or_else(String::new, |(_, bare)| bare.clone());
                    let place = format!("{} {}", one.of, name.replace('_', " "));
                    let by = limit.by.join(" and ");
                    match reasons.iter_mut().find(|(known, _)| *known == by) {
                        Some((_, places)) => places.push(place),
                        None => reasons.push((by, vec![place])),
                    }
                    if mixed && index >= TRAVELS.len() {
                        unit.write(limit.at, lengths)
                    } else {
                        unit.write_number(limit.at, lengths)
                    }
                }
                None if index >= TRAVELS.len() && !one.steered => "—".to_owned(),
                None if unit == Unit::Length => {
                    format!("over {}", Unit::Length.write_number(FURTHEST, lengths))
                }
                None => "no limit".to_owned(),
            });
        }
        table.row(row);
    }
    let mut text = table.text();
    let beams: Vec<&str> = reach.iter().filter(|one| one.on_beam).map(|one| one.of.as_str()).collect();
    if !beams.is_empty() {
        let words = format!("On a beam axle the other wheel is held at zero travel: {}", beams.join(", "));
        text += &wrap(&words, 96, "  ");
        text.push('\n');
    }
    for (by, places) in reasons {
        text += &wrap(&format!("Limited by {by}: {}", places.join("; ")), 96, "  ");
        text.push('\n');
    }
    text
}
