//! The car in a steady bend: how its body leans, and what each tyre shows to the road.

use crate::arguments::Format;
use crate::before_after::BeforeAfter;
use crate::bend_estimate::{estimate_in_words, estimate_record};
use crate::beside_car::Proposed;
use crate::data::{Record, csv, heading, json, length, length_key, quantity};
use crate::failure::{Complaint, Failure};
use crate::io::Console;
use crate::on_road::{BODY_SIGNS, Hanging, WheelTable, body_in_words, body_record, put, put_gap};
use crate::on_road_arguments::BendArguments;
use crate::opened_car::ready;
use crate::pose::{beyond_stops, metres, pose_record};
use crate::readings::toe_in_tables_only;
use crate::steer::steer_in_words;
use serde_json::Value;
use wheelpath_geometry::{
    Car, Cornering, End, Estimate, GRAVITY, Gradients, LengthUnit, MidCorner, NoEstimate, RoadSolver, Stop,
    StopKind, Unit, WheelPosition,
};
use wheelpath_report::{Style, Table, fixed, folded, wrap};

/// A car in a bend, and the estimate of its lean where nobody said how it leans.
struct Bend {
    car: MidCorner,
    estimate: Option<Estimate>,
    hanging: Vec<Hanging>,
    /// Load on each tyre in the design pose, newtons, where the car tells it.
    static_loads: Option<[f64; 4]>,
    /// What had to be assumed, in words.
    assumed: Vec<String>,
    /// What is doubtful about it.
    warnings: Vec<String>,
}

pub(crate) fn run(arguments: &BendArguments, io: &mut Console) -> Result<u8, Failure> {
    if arguments.toe.given() && arguments.output.format != Format::Table {
        return Err(toe_in_tables_only());
    }
    let (at_hand, solver) = ready(&arguments.car, io)?;
    let cars = arguments.proposal.cars(&at_hand, solver, io)?;
    let bends = cars.each(io, |one, io| bend(arguments, one, io))?;
    let lengths = arguments.output.units.lengths(io);
    let text = match arguments.output.format {
        Format::Table => {
            let style = arguments.toe.style(lengths).with_toe_over(cars.before.car.tyre_diameter());
            folded(&table(arguments, &cars, &bends, &style))
        }
        Format::Json => {
            let mut out = heading("bend");
            cars.put_names(&mut out);
            put(&mut out, "lateral_g", arguments.lateral_g);
            put(&mut out, "longitudinal_g", arguments.longitudinal_g);
            put(&mut out, "banking_deg", arguments.banking_deg);
            let on_road = bends.before.car.at.on_road();
            put(&mut out, "lateral_on_road_g", on_road.lateral / GRAVITY);
            put(&mut out, "normal_on_road_g", on_road.normal / GRAVITY);
            let both = cars.with(&bends);
            both.map(|(one, bend)| record(&one.car, bend, lengths)).put(&mut out);
            json(out)?
        }
        Format::Csv => csv(&bends.map(|bend| rows(bend, lengths)).rows(&["place"], false))?,
    };
    io.print(&text)?;
    let lifts = bends.last().loads().is_some_and(|loads| loads.iter().any(|load| *load < 0.0));
    if lifts {
        io.complain("error: the estimate does not hold: it leaves a wheel without load\n")?;
    }
    Ok(u8::from(lifts))
}

/// A car in the bend that was asked for; what is doubtful about it is warned of.
fn bend(
    arguments: &BendArguments,
    Proposed { car, solver, .. }: &Proposed,
    io: &mut Console,
) -> Result<Bend, Failure> {
    let road = RoadSolver::new(car, solver);
    let steer = arguments.steer.input(car, End::Front)?;
    let at = Cornering {
        lateral: arguments.lateral_g * GRAVITY,
        longitudinal: arguments.longitudinal_g * GRAVITY,
        banking: arguments.banking_deg.to_radians(),
    };
    if at.on_road().normal <= 0.0 {
        return Err(no_estimate(NoEstimate::LeavesRoad));
    }
    let mut assumed = road.assumed(&at);
    let (in_bend, estimate) = match given(arguments, car) {
        Some(gradients) => {
            assumed = by_gradients(&at);
            (road.mid_corner(&at, steer, &gradients).map_err(|stop| no_pose(arguments, stop))?, None)
        }
        None => {
            let (in_bend, estimate) = road.mid_corner_by_estimate(&at, steer).map_err(|no| match no {
                NoEstimate::Stop(stop) => no_pose(arguments, stop),
                no => no_estimate(no),
            })?;
            (in_bend, Some(estimate))
        }
    };
    let hanging = Hanging::of(&in_bend.standing);
    let static_loads = car.static_wheel_loads();
    let mut bend = Bend { hanging, car: in_bend, estimate, static_loads, assumed, warnings: Vec::new() };
    bend.warnings = beyond_stops(solver, &bend.car.standing.solved, io)?;
    for (wheel, load) in WheelPosition::ALL.into_iter().zip(bend.loads().into_iter().flatten()) {
        if load < 0.0 {
            let message = format!("the {wheel} wheel would lift: the estimate leaves no load on it");
            io.warn(&message, "beyond that the estimate does not hold; ask for less acceleration")?;
            bend.warnings.push(message);
        }
    }
    Ok(bend)
}

/// How the body leans, where the words say it.
fn given(arguments: &BendArguments, car: &Car) -> Option<Gradients> {
    let (roll, pitch) = (arguments.roll_gradient_deg_per_g, arguments.pitch_gradient_deg_per_g);
    let heights = [arguments.front_gradient_mm_per_g, arguments.rear_gradient_mm_per_g];
    if roll.or(pitch).is_none() && heights.iter().all(Option::is_none) {
        return None;
    }
    let angle = |given: Option<f64>| given.map_or(0.0, |degrees| degrees.to_radians() / GRAVITY);
    let [front, rear] = heights.map(|given| given.map_or(0.0, |mm| metres(mm) / GRAVITY));
    let gradients = Gradients::of_roll(angle(roll)).with_ride_heights(front, rear);
    Some(match pitch {
        Some(_) => gradients.with_pitch(angle(pitch), car.wheelbase),
        None => gradients,
    })
}

/// What is assumed where the lean is by gradients.
fn by_gradients(at: &Cornering) -> Vec<String> {
    let mut assumed = vec!["a gradient that is left out is none".to_owned()];
    if at.banking.abs() > 0.0 {
        assumed.push(
            "the ride heights do not change as the banked road presses the car: no gradient says by how much"
                .to_owned(),
        );
    }
    assumed
}

/// Why the car does not stand in the bend: the words were finite numbers, so what is not is the lean they give.
fn no_pose(arguments: &BendArguments, stop: Stop) -> Failure {
    if stop.kind != StopKind::NotFinite {
        return stop.into();
    }
    let [lateral, longitudinal] = [arguments.lateral_g, arguments.longitudinal_g].map(|g| fixed(g, 2));
    let message = format!(
        "{lateral} g lateral and {longitudinal} g longitudinal are beyond what the car can stand on its wheels: \
         no road is under a body that leans so far"
    );
    let hint = "ask for less acceleration, or for smaller gradients of the lean";
    Failure::Fault(vec![Complaint::new(message, hint)])
}

fn no_estimate(no: NoEstimate) -> Failure {
    match no {
        NoEstimate::LeavesRoad => Failure::Fault(vec![Complaint::new(
            no.to_string(),
            "ask for less lateral acceleration, or look at the sign of --banking-deg: + lowers the inside of a left turn",
        )]),
        NoEstimate::Stop(stop) => stop.into(),
        NoEstimate::Lacking(_) | NoEstimate::FallsOver(_) => Failure::Fault(vec![Complaint::new(
            no.to_string(),
            "write what is missing into the car file (wheel_loads_kg, or mass_kg and weight_share_front; centre_of_gravity_height; a spring for each corner), or \
                   give --roll-gradient-deg-per-g and its kin; `wheelpath bend --help` lists them",
        )]),
    }
}

impl Bend {
    /// Load on each tyre, newtons; only an estimate knows it.
    fn loads(&self) -> Option<[f64; 4]> {
        self.estimate.map(|estimate| estimate.loads(&self.car.at))
    }
}

fn table(
    arguments: &BendArguments,
    cars: &BeforeAfter<Proposed>,
    bends: &BeforeAfter<Bend>,
    style: &Style,
) -> String {
    let lengths = style.lengths;
    let way = match arguments.lateral_g {
        g if g > 0.0 => " in a left bend: ",
        g if g < 0.0 => " in a right bend: ",
        _ => ", ",
    };
    let both = cars.with(bends);
    let steer = both.map(|(one, bend)| {
        steer_in_words(&one.car, End::Front, bend.car.standing.solved.pose.steer, lengths)
    });
    let body = bends.map(|bend| {
        let standing = &bend.car.standing;
        format!("Body: {}\n", body_in_words(&standing.body, standing.pitch, lengths))
    });
    let mut text = format!(
        "{}{way}{} g lateral, {} g longitudinal; {}\n{}{}{BODY_SIGNS}\n",
        cars.names(),
        fixed(arguments.lateral_g, 2),
        fixed(arguments.longitudinal_g, 2),
        steer.words(["before: ", "; after: "]),
        banked_in_words(&bends.before.car.at),
        body.words(["before: ", "after: "])
    );
    text += match bends.before.estimate {
        Some(_) => {
            "The lean is an estimate from springs, bars, masses and roll centres, not a measurement.\n\n"
        }
        None => "The lean is by the gradients given; those left out count as none.\n\n",
    };
    text += &bends.map(|bend| wheel_table(bend, style)).table(1).text();
    let hanging = bends.map(|bend| bend.hanging.iter().map(|one| one.in_words(lengths)).collect::<String>());
    text += &hanging.words(["before: ", "after: "]);
    let braking = arguments.longitudinal_g < 0.0;
    if let Some(before) = &bends.before.estimate {
        let after = cars.after.as_ref().zip(bends.after.as_ref());
        let after = after.and_then(|(one, bend)| Some((bend.estimate.as_ref()?, &one.car)));
        let estimates = BeforeAfter { before: (before, &cars.before.car), after };
        text += &format!("\n{}", estimate_in_words(&estimates, braking, lengths));
    }
    let assumed = bends.map(|bend| wrap(&format!("Assumed: {}.", bend.assumed.join("; ")), 96, "  ") + "\n");
    text += &assumed.words(["before: ", "after: "]);
    text
}

fn wheel_table(bend: &Bend, style: &Style) -> Table {
    let lengths = style.lengths;
    let mut table = WheelTable::new("");
    let wheels = &bend.car.wheels;
    table.heading("Each tyre to the road");
    table.row("Camber, + top outboard", wheels.map(|wheel| wheel.camber), Unit::Degree, lengths);
    table.row("Inclination, + top to the right", wheels.map(|w| w.inclination), Unit::Degree, lengths);
    table.row("Steer, + to the left", wheels.map(|wheel| wheel.steer), Unit::Degree, lengths);
    table.row("Toe, + in", wheels.map(|wheel| wheel.toe), Unit::Degree, lengths);
    table.toe_length(wheels.map(|wheel| wheel.toe), style);
    table.heading("To the body");
    table.row("Wheel travel, + bump", bend.car.standing.solved.pose.travel, Unit::Length, lengths);
    let (factor, pound) = lengths.force_unit();
    let forces = |loads: [f64; 4]| loads.map(|load| fixed(load * factor, 0));
    if let Some(loads) = bend.static_loads {
        table.heading("Load on each tyre");
        table.written("In the design pose", forces(loads), pound);
    }
    if let Some(loads) = bend.loads() {
        table.written("In the bend, by the estimate", forces(loads), pound);
    }
    table.table()
}

/// What banking makes of the accelerations; nothing on a level road.
fn banked_in_words(at: &Cornering) -> String {
    if at.banking == 0.0 {
        return String::new();
    }
    let on_road = at.on_road();
    let g = |acceleration: f64| fixed(acceleration / GRAVITY, 3);
    format!(
        "Road banked {}, + lowers the inside of a left turn: {} g along it across the car, {} g onto it\n",
        Unit::Degree.write(at.banking, LengthUnit::Millimetre),
        g(on_road.lateral),
        g(on_road.normal)
    )
}

fn wheel_records(bend: &Bend, lengths: LengthUnit) -> Vec<(WheelPosition, Record)> {
    let loads = bend.loads();
    let wheel = |(place, at): (usize, WheelPosition)| {
        let mut record = Record::new();
        let travel = bend.car.standing.travel(at);
        record.insert(length_key("travel", lengths), length(travel, lengths));
        put_gap(&mut record, &bend.hanging, at, lengths);
        if let Some(to_road) = bend.car.wheels.get(place) {
            let angles = [
                ("camber_to_road_deg", to_road.camber),
                ("inclination_to_road_deg", to_road.inclination),
                ("steer_to_road_deg", to_road.steer),
                ("toe_to_road_deg", to_road.toe),
            ];
            for (key, angle) in angles {
                record.insert(key.into(), quantity(angle, Unit::Degree, lengths));
            }
        }
        let of =
            |loads: Option<[f64; 4]>| loads.and_then(|loads| loads.get(place).copied()).unwrap_or(f64::NAN);
        put(&mut record, "static_load_n", of(bend.static_loads));
        put(&mut record, "load_n", of(loads));
        (at, record)
    };
    WheelPosition::ALL.into_iter().enumerate().map(wheel).collect()
}

/// The gradients per g, for programs.
fn gradients_record(gradients: &Gradients, lengths: LengthUnit) -> Value {
    let mut record = Record::new();
    put(&mut record, "roll_deg_per_g", gradients.roll.to_degrees() * GRAVITY);
    for (name, gradient) in [("front", gradients.front), ("rear", gradients.rear)] {
        let key = format!("{}_per_g", length_key(name, lengths));
        record.insert(key, length(gradient * GRAVITY, lengths));
    }
    record.into()
}

fn record(car: &Car, bend: &Bend, lengths: LengthUnit) -> Record {
    let standing = &bend.car.standing;
    let mut record = Record::new();
    record.insert("pose".into(), pose_record(car, &standing.solved.pose, lengths).into());
    record.insert("warnings".into(), bend.warnings.clone().into());
    record.insert("lean".into(), if bend.estimate.is_some() { "estimate" } else { "given" }.into());
    record.insert("gradients".into(), gradients_record(&bend.car.gradients, lengths));
    record.insert("body".into(), body_record(&standing.body, standing.pitch, lengths));
    let wheels = wheel_records(bend, lengths).into_iter();
    let wheels = wheels.map(|(at, record)| (at.key().to_owned(), Value::Object(record)));
    record.insert("wheels".into(), wheels.collect::<Record>().into());
    let estimate = bend.estimate.as_ref().map(|estimate| estimate_record(estimate, car, lengths));
    record.insert("estimate".into(), estimate.unwrap_or(Value::Null));
    record.insert("assumed".into(), bend.assumed.clone().into());
    record
}

/// A row a wheel.
fn rows(bend: &Bend, lengths: LengthUnit) -> Vec<Record> {
    let row = |(at, record): (WheelPosition, Record)| -> Record {
        std::iter::once(("place".to_owned(), Value::from(at.key()))).chain(record).collect()
    };
    wheel_records(bend, lengths).into_iter().map(row).collect()
}
