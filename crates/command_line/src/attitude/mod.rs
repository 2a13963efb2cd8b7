//! The car on the road: the body held in a pose, or laid down on its wheels.

pub(crate) mod record;

use crate::arguments::on_road::AttitudeArguments;
use crate::arguments::subcommands::Format;
use crate::attitude::record::{AttitudeOutput, AttitudeRecord, AttitudeRow};
use crate::before_after::BeforeAfter;
use crate::beside_car::Proposed;
use crate::console::failure::Failure;
use crate::console::pose::{beyond_stops, metres};
use crate::console::record::{csv, json};
use crate::console::steer::steer_in_words;
use crate::console::streams::Console;
use crate::on_road::{BODY_SIGNS, Hanging, WheelTable, body_in_words};
use crate::opened_car::ready;
use crate::readings::toe_in_tables_only;
use wheelpath_geometry::{
    BodyPose, Car, End, Ground, LengthUnit, Resting, RoadSolver, SolvedCar, Standing, Support, Unit,
    WheelPosition, reading,
};
use wheelpath_report::{Align, Style, Table, fixed, folded, wrap};

/// A car as it stands, whichever way it came to.
pub(crate) struct Stood {
    body: BodyPose,
    /// Radians.
    pitch: f64,
    ground: Ground<f64>,
    solved: SolvedCar,
    hanging: Vec<Hanging>,
    /// On which tyres it rests, where its wheels were held.
    support: Option<Support>,
    /// What is doubtful about the pose.
    warnings: Vec<String>,
}

impl From<Standing> for Stood {
    fn from(standing: Standing) -> Self {
        let hanging = Hanging::of(&standing);
        let Standing { body, pitch, ground, solved, .. } = standing;
        Stood { body, pitch, ground, solved, hanging, support: None, warnings: Vec::new() }
    }
}

impl From<Resting> for Stood {
    fn from(resting: Resting) -> Self {
        let Resting { body, pitch, ground, solved, gaps, support } = resting;
        let hanging = WheelPosition::ALL.into_iter().zip(gaps).filter(|(_, gap)| *gap > 0.0);
        let hanging = hanging.map(|(wheel, gap)| Hanging { wheel, gap, by: None }).collect();
        Stood { body, pitch, ground, solved, hanging, support: Some(support), warnings: Vec::new() }
    }
}

pub(crate) fn run(arguments: &AttitudeArguments, io: &mut Console) -> Result<u8, Failure> {
    if arguments.toe.given() && arguments.output.format != Format::Table {
        return Err(toe_in_tables_only());
    }
    let (at_hand, solver) = ready(&arguments.car, io)?;
    let cars = arguments.proposal.cars(&at_hand, solver, io)?;
    let lengths = arguments.output.units.lengths(io);
    let stood = cars.each(io, |one, io| stood(arguments, one, lengths, io))?;
    let text = match arguments.output.format {
        Format::Table => {
            let style = arguments.toe.style(lengths).with_toe_over(cars.before.car.tyre_diameter());
            folded(&table(&cars, &stood, &style))
        }
        Format::Json => {
            let both = cars.with(&stood);
            let both = both.map(|(one, stood)| AttitudeRecord::of(&one.car, stood));
            json(&AttitudeOutput { names: cars.car_names(), cars: both }, lengths)?
        }
        Format::Csv => {
            let rows = stood.map(AttitudeRow::all_of);
            csv::<AttitudeOutput>(&rows.paired(&["place"], false, lengths)?, lengths)?
        }
    };
    io.print(&text)?;
    let falls = matches!(stood.last().support, Some(Support::Falls { .. }));
    if falls {
        io.complain("error: the car does not stand so\n")?;
    }
    Ok(u8::from(falls))
}

/// The car as it was asked to stand; what is doubtful about it is warned of.
fn stood(
    arguments: &AttitudeArguments,
    Proposed { car, solver, .. }: &Proposed,
    lengths: LengthUnit,
    io: &mut Console,
) -> Result<Stood, Failure> {
    let road = RoadSolver::new(car, solver);
    let steer = arguments.steer.input(car, End::Front)?;
    let mut stood: Stood = match arguments.travel_mm {
        Some(travel) => road.rest(travel.map(metres), steer)?.into(),
        None => road.stand(&body(arguments, &road)?, steer)?.into(),
    };
    for (axle, end) in stood.solved.axles.iter_mut().zip(End::BOTH) {
        *axle = solver.axle(end).rated(axle);
    }
    stood.warnings = beyond_stops(solver, &stood.solved, io)?;
    if let Some(Support::Falls { outside }) = stood.support {
        let message = format!(
            "the car falls over: its centre of gravity is {} outside the tyres it would stand on",
            Unit::Length.write(outside, lengths)
        );
        io.warn(&message, "what follows is the pose before it falls; hold the wheels nearer to one plane")?;
        stood.warnings.push(message);
    }
    Ok(stood)
}

/// The pose of the body that was asked for.
fn body(arguments: &AttitudeArguments, road: &RoadSolver) -> Result<BodyPose, Failure> {
    let mm = |given: Option<f64>| given.map_or(0.0, metres);
    let radians = |given: Option<f64>| given.unwrap_or(0.0).to_radians();
    let roll = radians(arguments.roll_deg);
    let body = if arguments.rise_mm.is_some() || arguments.pitch_deg.is_some() {
        road.body_at(mm(arguments.rise_mm), roll, radians(arguments.pitch_deg))
    } else {
        Some(BodyPose { front: mm(arguments.front_mm), rear: mm(arguments.rear_mm), roll })
    };
    body.filter(|body| road.ground_under(body).is_some()).ok_or_else(|| {
        Failure::wrong_use(
            "no road is under a body that stands so",
            "ask for ride heights whose difference is less than the wheelbase",
        )
    })
}

/// Readings of a wheel that depend on the road, or on the body, in the order of the table.
const TO_BODY: [&str; 5] = ["camber_to_body", "toe", "steer_angle", "caster", "steering_axis_inclination"];
const TO_ROAD: [&str; 7] = [
    "camber_to_road",
    "toe_to_road",
    "steer_to_road",
    "caster_to_road",
    "steering_axis_inclination_to_road",
    "trail",
    "scrub_radius",
];
/// Readings of an axle in the table.
const OF_AXLE: [&str; 3] = ["track", "roll_centre_height", "roll_centre_lateral"];

fn table(cars: &BeforeAfter<Proposed>, stood: &BeforeAfter<Stood>, style: &Style) -> String {
    let lengths = style.lengths;
    let both = cars.with(stood);
    let pose = both.map(|(one, stood)| pose_in_words(&one.car, stood, lengths));
    let wheels = stood.map(|stood| wheel_table(stood, style)).table(1).text();
    let axles = stood.map(|stood| axle_table(stood, lengths)).table(1).text()
        + &stood.map(untold_in_words).words(["before: ", "after: "]);
    let feet = both.map(|(one, stood)| stood.feet_in_words(&one.car, lengths));
    let pose = format!("{} on the road: {}", cars.names(), pose.words(["before: ", "after: "]));
    let pose: String = pose.lines().map(|line| wrap(line, 98, "  ") + "\n").collect();
    format!(
        "{pose}{BODY_SIGNS}\n{}\n{wheels}\n{axles}\n{}",
        stood.map(|stood| ground_in_words(stood, lengths)).words(["before: ", "after: "]),
        feet.words(["before: ", "after: "])
    )
}

fn pose_in_words(car: &Car, stood: &Stood, lengths: LengthUnit) -> String {
    let steer = steer_in_words(car, End::Front, stood.solved.pose.steer, lengths);
    format!("{}; {steer}\n", body_in_words(&stood.body, stood.pitch, lengths))
}

fn ground_in_words(stood: &Stood, lengths: LengthUnit) -> String {
    let normal = stood.ground.normal;
    let height = stood.origin_height();
    format!(
        "The road, seen from the body: normal ({}), {} {} the body's origin\n",
        [normal.x, normal.y, normal.z].map(|part| fixed(part, 5)).join(", "),
        Unit::Length.write(height.abs(), lengths),
        if height < 0.0 { "above" } else { "below" }
    )
}

fn wheel_table(stood: &Stood, style: &Style) -> Table {
    let lengths = style.lengths;
    let mut table = WheelTable::new("");
    table.row("Wheel travel", stood.solved.pose.travel, Unit::Length, lengths);
    let gap =
        |wheel: WheelPosition| stood.hanging.iter().find(|one| one.wheel == wheel).map_or(0.0, |one| one.gap);
    table.row("Gap under the tyre", WheelPosition::ALL.map(gap), Unit::Length, lengths);
    for (title, keys) in [("To the body", TO_BODY.as_slice()), ("To the road", &TO_ROAD)] {
        table.heading(title);
        for reading in keys.iter().filter_map(|key| reading(key)) {
            let value = |at: WheelPosition| {
                let values = stood.solved.axle(at.end).wheel_values(at.side);
                values.get(reading).unwrap_or(f64::NAN)
            };
            let values = WheelPosition::ALL.map(value);
            table.row(reading.name, values, reading.unit, lengths);
            if reading.key.starts_with("toe") {
                table.toe_length(values, style);
            }
        }
    }
    table.table()
}

fn axle_table(stood: &Stood, lengths: LengthUnit) -> Table {
    let mut axles = Table::new(&[
        ("Axles on that road", Align::Left),
        ("front", Align::Right),
        ("rear", Align::Right),
        ("", Align::Left),
    ]);
    for reading in OF_AXLE.iter().filter_map(|key| reading(key)) {
        let value = |end: End| stood.solved.axle(end).axle_values().told(reading).unwrap_or(f64::NAN);
        let mut row = vec![format!("  {}", reading.name)];
        row.extend(End::BOTH.map(|end| reading.unit.write_number(value(end), lengths)));
        row.push(reading.unit.symbol(lengths).to_owned());
        axles.row(row);
    }
    axles
}

/// Why readings of an axle are not told, a line a reason; empty where all are.
fn untold_in_words(stood: &Stood) -> String {
    let mut reasons: Vec<(&str, Vec<String>)> = Vec::new();
    for reading in OF_AXLE.iter().filter_map(|key| reading(key)) {
        for end in End::BOTH {
            let Err(why) = stood.solved.axle(end).axle_values().told(reading) else { continue };
            let name = format!("{} ({end})", reading.name);
            match reasons.iter_mut().find(|(known, _)| *known == why) {
                Some((_, names)) => names.push(name),
                None => reasons.push((why, vec![name])),
            }
        }
    }
    let line =
        |(why, names): (&str, Vec<String>)| wrap(&format!("— {why}: {}", names.join("; ")), 96, "  ") + "\n";
    reasons.into_iter().map(line).collect()
}

impl Stood {
    /// Height of the body's origin over the road, metres.
    fn origin_height(&self) -> f64 {
        -self.ground.height
    }

    /// On which tyres it stands.
    fn feet_in_words(&self, car: &Car, lengths: LengthUnit) -> String {
        let mut text = match self.support {
            None | Some(Support::Four) if self.hanging.is_empty() => {
                "It stands on all four tyres.\n".to_owned()
            }
            Some(Support::Rocks { lifted: [first, second], .. }) => {
                let gap = Unit::Length.write(second.1, lengths);
                format!(
                    "The centre of gravity is over the diagonal: the car rocks. Shown is the {} wheel in the \
                     air; else it is the {}, by {gap}.\n",
                    first.0, second.0
                )
            }
            _ => String::new(),
        };
        for hanging in &self.hanging {
            text += &hanging.in_words(lengths);
        }
        if self.support.is_some() {
            text += &centre_of_gravity_in_words(car);
        }
        text
    }
}

/// Where the centre of gravity is taken to be, as far as the car file does not say it.
fn centre_of_gravity_in_words(car: &Car) -> String {
    let along = car.weight_share_front.is_none().then_some("midway between the axles");
    let up = car.centre_of_gravity_height.is_none().then_some("on the ground");
    let taken: Vec<&str> = [along, up].into_iter().flatten().collect();
    if taken.is_empty() {
        return String::new();
    }
    format!(
        "Which tyres carry it depends on the centre of gravity, which is taken to be {}: the car file does \
         not say.\n",
        taken.join(" and ")
    )
}

fn word_of(support: &Support) -> &'static str {
    match support {
        Support::Four => "four",
        Support::Three { .. } => "three",
        Support::Rocks { .. } => "rocks",
        Support::Falls { .. } => "falls",
    }
}
