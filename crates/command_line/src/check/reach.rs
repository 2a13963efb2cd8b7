//! How far each wheel and each axle can go, for `check`.

use crate::console::steer::unit_of;
use wheelpath_geometry::{
    AxleSolver, Car, CarSolver, End, EndedBy, FURTHEST, LengthUnit, ReachEnd, SteerInput, Stop, Travelling,
    Unit, WheelPosition,
};
use wheelpath_report::{Align, Table, wrap};

/// Where a motion ends, and what ends it.
pub(super) struct Limit {
    /// Travel, metres, or steering input, metres or radians.
    pub at: f64,
    pub by: Vec<String>,
}

/// How far one wheel or axle goes: droop, bump, and the steering's negative and positive end.
pub(crate) struct Reach {
    /// Whose, in words.
    of: String,
    /// Whose, in data: the key of the wheel or axle.
    pub(super) key: &'static str,
    pub(super) input: SteerInput,
    steered: bool,
    /// One wheel of a beam axle, which goes with the other wheel at zero travel.
    pub(super) on_beam: bool,
    /// `None` where no limit was met.
    pub(super) limits: [Option<Limit>; 4],
}

/// Names of the limits of travel.
const TRAVELS: [&str; 2] = ["droop", "bump"];

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
                key: at.key(),
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
                key: end.name(),
                input: axle.steer_input(),
                steered: axle.steered(),
                on_beam: false,
                limits: [droop, bump, negative, positive],
            })
        };
        End::BOTH.into_iter().map(of).collect()
    }

    /// Names of the four limits.
    fn names(&self) -> [&'static str; 4] {
        let [droop, bump] = TRAVELS;
        match self.input {
            SteerInput::RackTravel => [droop, bump, "rack right", "rack left"],
            SteerInput::PitmanAngle => [droop, bump, "pitman negative", "pitman positive"],
        }
    }

    fn unit(&self, index: usize) -> Unit {
        if index < TRAVELS.len() { Unit::Length } else { unit_of(self.input) }
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
                    let place = format!("{} {}", one.of, one.names()[index]);
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
