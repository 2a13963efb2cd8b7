//! The car in a slow turn: its centre, the path of each tyre, and how the body rises and falls.

use crate::arguments::on_road::TurnArguments;
use crate::arguments::subcommands::Format;
use crate::before_after::BeforeAfter;
use crate::beside_car::Proposed;
use crate::console::data::{Record, csv, heading, json, length, length_key, quantity};
use crate::console::failure::{Complaint, Failure};
use crate::console::pose::beyond_stops;
use crate::console::steer::{put_steer, steer_in_words, steering_of};
use crate::console::streams::Console;
use crate::on_road::{WheelTable, put};
use crate::opened_car::ready;
use serde_json::Value;
use wheelpath_geometry::{
    Car, CentreBy, End, HeldBy, LengthUnit, Lock, NoTurnCentre, RoadSolver, SteerRise, Turn, TurningWheel,
    Unit, WheelPosition,
};
use wheelpath_report::{Table, folded, wrap};

/// One turn that was asked for.
struct Asked {
    /// The steering input.
    steer: f64,
    /// Whether the steering is at its stop.
    lock: bool,
    /// Steer angles to the road of the front wheels, radians; known without a turn centre too.
    front: [f64; 2],
    /// Or why there is no turn centre.
    turn: Result<Turn, NoTurnCentre>,
    rise: SteerRise,
}

/// The turns that were asked for, and what is doubtful about them.
struct Turns {
    asked: Vec<Asked>,
    warnings: Vec<String>,
}

pub(crate) fn run(arguments: &TurnArguments, io: &mut Console) -> Result<u8, Failure> {
    let (at_hand, solver) = ready(&arguments.car, io)?;
    let cars = arguments.proposal.cars(&at_hand, solver, io)?;
    let turns = cars.each(io, |one, io| turns(arguments, one, io))?;
    let both = cars.with(&turns);
    let lengths = arguments.output.units.lengths(io);
    let text = match arguments.output.format {
        Format::Table => folded(&tables(&cars, &turns, lengths)),
        Format::Json => {
            let mut out = heading("turn");
            cars.put_names(&mut out);
            let record = |(one, turns): &(&Proposed, &Turns)| {
                let mut record = Record::new();
                record.insert("warnings".into(), turns.warnings.clone().into());
                let turns = turns.asked.iter().map(|asked| Value::Object(asked.record(&one.car, lengths)));
                record.insert("turns".into(), turns.collect::<Vec<_>>().into());
                record
            };
            both.map(record).put(&mut out);
            json(out)?
        }
        Format::Csv => {
            let rows = both.map(|(one, turns)| {
                turns.asked.iter().flat_map(|asked| asked.rows(&one.car, lengths)).collect::<Vec<_>>()
            });
            csv(&rows.rows(&["at", "place"], false))?
        }
    };
    io.print(&text)?;
    Ok(0)
}

/// The turns of one car; what is doubtful about them is warned of.
fn turns(
    arguments: &TurnArguments,
    Proposed { car, solver, .. }: &Proposed,
    io: &mut Console,
) -> Result<Turns, Failure> {
    steering_of(car, End::Front, "a car that is not steered makes no turn")?;
    let road = RoadSolver::new(car, solver);
    let rise = |steer: f64| -> Result<SteerRise, Failure> {
        let rises = road.rise_with_steer(&[steer])?;
        rises.first().copied().ok_or_else(|| Failure::wrong_use("no steering input", "give one"))
    };
    let mut warnings = Vec::new();
    let mut asked = Vec::new();
    if arguments.steer.given().is_some() {
        let steer = arguments.steer.input(car, End::Front)?;
        let turn = road.turn(steer)?.map_err(|none| {
            Failure::Fault(vec![Complaint::new(
                format!("{} has no turn centre there: {}", car.name, none.reason()),
                "steer further, or leave the steering out to have both full locks",
            )])
        })?;
        warnings = beyond_stops(solver, &turn.standing.solved, io)?;
        let [left, right, ..] = turn.wheels;
        asked.push(Asked {
            steer,
            lock: false,
            front: [left.steer, right.steer],
            turn: Ok(turn),
            rise: rise(steer)?,
        });
    } else {
        for Lock { steer, wheels, turn } in road.locks()? {
            if let Ok(turn) = &turn {
                warnings.extend(beyond_stops(solver, &turn.standing.solved, io)?);
            }
            asked.push(Asked { steer, lock: true, front: wheels, turn, rise: rise(steer)? });
        }
    }
    Ok(Turns { asked, warnings })
}

/// Each turn as a table, with words over and under it.
fn tables(cars: &BeforeAfter<Proposed>, turns: &BeforeAfter<Turns>, lengths: LengthUnit) -> String {
    let mut texts = Vec::new();
    for (place, asked) in turns.before.asked.iter().enumerate() {
        let after = turns.after.as_ref().and_then(|turns| turns.asked.get(place));
        let both = BeforeAfter { before: asked, after };
        let over = cars.with(&both).map(|(one, asked)| asked.in_words(&one.car, lengths));
        let under = both.map(|asked| asked.circles_in_words(lengths));
        texts.push(format!(
            "{}, {}\n{}{}",
            cars.names(),
            over.words(["before: ", "after: "]),
            both.map(|asked| asked.table(lengths)).table(1).text(),
            under.words(["Before:\n", "After:\n"])
        ));
    }
    texts.join("\n")
}

fn words_of(by: CentreBy) -> &'static str {
    match by {
        CentreBy::RearAxleLine => {
            "on the rear axle's line, at the mean curvature of what the front wheels ask for"
        }
        CentreBy::RearWheelsLine => {
            "on the rear wheels' mean axis, since they steer too, at the mean curvature of what the front wheels \
             ask for"
        }
    }
}

impl Asked {
    fn wheel(&self, at: WheelPosition) -> Option<&TurningWheel> {
        self.turn.as_ref().ok()?.wheels.get(at.index())
    }

    /// Steer angle of a wheel to the road, radians; not a number for rear wheels without a turn.
    fn steer_of(&self, at: WheelPosition) -> f64 {
        let front = self.front.get(at.index()).copied();
        self.wheel(at).map(|wheel| wheel.steer).or(front).unwrap_or(f64::NAN)
    }

    /// Rise of the body over a wheel, metres; only the front wheels steer.
    fn rise_of(&self, at: WheelPosition) -> f64 {
        let corners = self.rise.corners;
        corners.get(at.index()).copied().unwrap_or(f64::NAN)
    }

    fn held_of(&self, at: WheelPosition) -> Option<HeldBy> {
        self.rise.held.get(at.index()).copied()
    }

    fn in_words(&self, car: &Car, lengths: LengthUnit) -> String {
        let toward =
            self.turn.as_ref().map_or_else(|_| String::new(), |turn| format!(" to the {}", turn.toward));
        let lock = if self.lock { " at full lock" } else { "" };
        let steer = steer_in_words(car, End::Front, self.steer, lengths);
        format!("slow turn{toward}{lock}: {steer}\n")
    }

    fn table(&self, lengths: LengthUnit) -> Table {
        let column = |of: &dyn Fn(&TurningWheel) -> f64| {
            WheelPosition::ALL.map(|at| self.wheel(at).map_or(f64::NAN, of))
        };
        let mut table = WheelTable::new("");
        table.row(
            "Steer to the road, + left",
            WheelPosition::ALL.map(|at| self.steer_of(at)),
            Unit::Degree,
            lengths,
        );
        if self.turn.is_ok() {
            table.row("Scrub angle, + points left of its path", column(&|w| w.scrub), Unit::Degree, lengths);
            table.row("Radius of the contact", column(&|w| w.radius), Unit::Metre, lengths);
            table.row("Radius of the tyre's furthest point", column(&|w| w.reach), Unit::Metre, lengths);
        }
        table.row(
            "Body over the wheel, + rises",
            WheelPosition::ALL.map(|at| self.rise_of(at)),
            Unit::Length,
            lengths,
        );
        table.table()
    }

    /// The turn centre, the circles and the rise of the body, in words.
    fn circles_in_words(&self, lengths: LengthUnit) -> String {
        let mut text = String::new();
        let metres = |value: f64| Unit::Metre.write(value, lengths);
        match &self.turn {
            Err(none) => text += &format!("Turn centre: —, {}.\n", none.reason()),
            Ok(turn) => {
                let along = |value: f64, [positive, negative]: [&str; 2]| {
                    format!("{} {}", metres(value.abs()), if value < 0.0 { negative } else { positive })
                };
                text += &format!(
                    "Turn centre: {} the body's origin, {} of it,\n  {}\n",
                    along(turn.centre.x, ["ahead of", "behind"]),
                    along(turn.centre.y, ["to the left", "to the right"]),
                    words_of(turn.by)
                );
                text += &format!("Radius at the middle of the rear axle: {}\n", metres(turn.radius));
                text += &format!(
                    "Kerb-to-kerb turning circle, outermost front contact: {} across\n",
                    metres(turn.kerb_circle)
                );
                text += &format!(
                    "Wall-to-wall circle of the tyres: {} across; the body's overhang comes on top\n",
                    metres(turn.wall_circle_of_tyres)
                );
            }
        }
        let held = |held: HeldBy| self.rise.held.contains(&held);
        let by = match (held(HeldBy::Damper), held(HeldBy::WheelCentre)) {
            (true, false) => "dampers as long as straight ahead",
            (false, _) => "wheel centres held against the body: there are no dampers",
            (true, true) => {
                "the damper as long as straight ahead, or the wheel centre held where there is none"
            }
        };
        text += &wrap(
            &format!(
                "Over the middle of the front axle the body rises by {}, left less right {}; {by}.",
                Unit::Length.write(self.rise.mean(), lengths),
                Unit::Length.write(self.rise.difference(), lengths)
            ),
            96,
            "  ",
        );
        text.push('\n');
        text
    }

    fn put_start(&self, record: &mut Record, car: &Car, lengths: LengthUnit) {
        record.insert("at".into(), if self.lock { "full_lock" } else { "input" }.into());
        put_steer(record, car, End::Front, self.steer, lengths);
        record.insert("toward".into(), self.turn.as_ref().ok().map(|turn| turn.toward.name()).into());
    }

    fn put_turn(&self, record: &mut Record) {
        let of = |value: &dyn Fn(&Turn) -> f64| self.turn.as_ref().map_or(f64::NAN, value);
        put(record, "centre_x_m", of(&|turn| turn.centre.x));
        put(record, "centre_y_m", of(&|turn| turn.centre.y));
        let word = |by: CentreBy| match by {
            CentreBy::RearAxleLine => "rear_axle_line",
            CentreBy::RearWheelsLine => "rear_wheels_line",
        };
        record.insert("centre_by".into(), self.turn.as_ref().ok().map(|turn| word(turn.by)).into());
        record.insert("no_centre".into(), self.turn.as_ref().err().map(|none| none.reason()).into());
        put(record, "centre_radius_m", of(&|turn| turn.radius));
        put(record, "kerb_circle_m", of(&|turn| turn.kerb_circle));
        put(record, "wall_circle_of_tyres_m", of(&|turn| turn.wall_circle_of_tyres));
    }

    fn wheel_record(&self, at: WheelPosition, lengths: LengthUnit) -> Record {
        let of = |value: &dyn Fn(&TurningWheel) -> f64| self.wheel(at).map_or(f64::NAN, value);
        let mut record = Record::new();
        record.insert("steer_to_road_deg".into(), quantity(self.steer_of(at), Unit::Degree, lengths));
        record.insert("scrub_deg".into(), quantity(of(&|wheel| wheel.scrub), Unit::Degree, lengths));
        put(&mut record, "radius_m", of(&|wheel| wheel.radius));
        put(&mut record, "tyre_reach_m", of(&|wheel| wheel.reach));
        record.insert(length_key("rise", lengths), length(self.rise_of(at), lengths));
        let word = |held: HeldBy| match held {
            HeldBy::Damper => "damper",
            HeldBy::WheelCentre => "wheel_centre",
        };
        record.insert("rise_holding".into(), self.held_of(at).map(word).into());
        record
    }

    fn record(&self, car: &Car, lengths: LengthUnit) -> Record {
        let mut record = Record::new();
        self.put_start(&mut record, car, lengths);
        self.put_turn(&mut record);
        for (name, rise) in [("rise_mean", self.rise.mean()), ("rise_difference", self.rise.difference())] {
            record.insert(length_key(name, lengths), length(rise, lengths));
        }
        let wheel = |at: WheelPosition| (at.key().to_owned(), Value::Object(self.wheel_record(at, lengths)));
        record.insert("wheels".into(), WheelPosition::ALL.into_iter().map(wheel).collect::<Record>().into());
        record
    }

    /// A row a wheel, the turn's own numbers in each.
    fn rows(&self, car: &Car, lengths: LengthUnit) -> Vec<Record> {
        let row = |at: WheelPosition| {
            let mut record = Record::new();
            self.put_start(&mut record, car, lengths);
            record.insert("place".into(), at.key().into());
            record.extend(self.wheel_record(at, lengths));
            self.put_turn(&mut record);
            record
        };
        WheelPosition::ALL.into_iter().map(row).collect()
    }
}
