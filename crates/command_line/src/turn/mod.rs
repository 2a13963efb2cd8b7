//! The car in a slow turn: its centre, the path of each tyre, and how the body rises and falls.

pub(crate) mod record;

use crate::arguments::on_road::TurnArguments;
use crate::arguments::subcommands::Format;
use crate::before_after::BeforeAfter;
use crate::beside_car::Proposed;
use crate::console::failure::{Complaint, Failure};
use crate::console::pose::beyond_stops;
use crate::console::record::{csv, json};
use crate::console::steer::{steer_in_words, steering_of};
use crate::console::streams::Console;
use crate::on_road::WheelTable;
use crate::opened_car::ready;
use crate::turn::record::{TurnOutput, TurnsRecord};
use wheelpath_geometry::{
    Car, CentreBy, End, HeldBy, LengthUnit, Lock, NoTurnCentre, RoadSolver, SteerRise, Turn, TurningWheel,
    Unit, WheelPosition,
};
use wheelpath_report::{Table, folded, wrap};

/// One turn that was asked for.
pub(crate) struct Asked {
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
pub(crate) struct Turns {
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
            let of = both.map(|(one, turns)| TurnsRecord::of(&one.car, turns));
            json(&TurnOutput { names: cars.car_names(), cars: of }, lengths)?
        }
        Format::Csv => {
            let rows = both.map(|(one, turns)| {
                turns.asked.iter().flat_map(|asked| asked.rows(&one.car)).collect::<Vec<_>>()
            });
            csv::<TurnOutput>(&rows.paired(&["at", "place"], false, lengths)?, lengths)?
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
}
