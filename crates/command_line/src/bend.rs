//! The car in a steady bend: how its body leans, and what each tyre shows to the road.

use crate::arguments::Format;
use crate::bend_estimate::{estimate_in_words, estimate_record};
use crate::car_at_hand::CarAtHand;
use crate::data::{Record, csv, heading, json, length, length_key, quantity};
use crate::failure::{Complaint, Failure};
use crate::io::Io;
use crate::on_road::{BODY_SIGNS, Hanging, WheelTable, body_in_words, body_record, put, put_gap};
use crate::on_road_arguments::BendArguments;
use crate::pose::{beyond_stops, metres, pose_record};
use crate::steer::steer_in_words;
use serde_json::Value;
use wheelpath_geometry::{
    Car, Cornering, End, Estimate, GRAVITY, Gradients, LengthUnit, MidCorner, NoEstimate, RoadSolver, Unit,
    WheelAt,
};
use wheelpath_report::fixed;

/// A car in a bend, and the estimate of its lean where nobody said how it leans.
struct Bend {
    car: MidCorner,
    estimate: Option<Estimate>,
    hanging: Vec<Hanging>,
}

pub(crate) fn run(arguments: &BendArguments, io: &mut Io) -> Result<u8, Failure> {
    let (car, solver) = CarAtHand::ready(&arguments.car, io)?;
    let car = &car.loaded.car;
    let road = RoadSolver::new(car, &solver);
    let steer = arguments.steer.input(car, End::Front)?;
    let at = Cornering {
        lateral: arguments.lateral_g * GRAVITY,
        longitudinal: arguments.longitudinal_g * GRAVITY,
    };
    let (in_bend, estimate) = match given(arguments, car) {
        Some(gradients) => (road.mid_corner(&at, steer, &gradients)?, None),
        None => {
            let (in_bend, estimate) = road.mid_corner_by_estimate(&at, steer).map_err(no_estimate)?;
            (in_bend, Some(estimate))
        }
    };
    let bend = Bend { hanging: Hanging::of(&in_bend.standing), car: in_bend, estimate };
    let mut warnings = beyond_stops(&solver, &bend.car.standing.solved, io)?;
    let loads = bend.loads();
    for (wheel, load) in WheelAt::ALL.into_iter().zip(loads.into_iter().flatten()) {
        if load < 0.0 {
            let message = format!("the {wheel} wheel would lift: the estimate leaves no load on it");
            io.warn(&message, "beyond that the estimate does not hold; ask for less acceleration")?;
            warnings.push(message);
        }
    }
    let lengths = arguments.output.units.lengths();
    let text = match arguments.output.format {
        Format::Table => table(arguments, car, &bend, lengths),
        Format::Json => json(record(arguments, car, &bend, &warnings, lengths)),
        Format::Csv => csv(&rows(&bend, lengths)),
    };
    io.print(&text)?;
    Ok(0)
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

fn no_estimate(no: NoEstimate) -> Failure {
    match no {
        NoEstimate::Stop(stop) => stop.into(),
        NoEstimate::Lacking(_) | NoEstimate::FallsOver(_) => Failure::Fault(vec![Complaint {
            message: no.to_string(),
            hint: "write what is missing into the car file (mass_kg, weight_share_front, centre_of_gravity_height, a spring for each corner), or \
                   give --roll-gradient-deg-per-g and its kin; `wheelpath bend --help` lists them"
                .into(),
        }]),
    }
}

impl Bend {
    /// Load on each tyre, newtons; only an estimate knows it.
    fn loads(&self) -> Option<[f64; 4]> {
        self.estimate.map(|estimate| estimate.loads(&self.car.at))
    }
}

fn table(arguments: &BendArguments, car: &Car, bend: &Bend, lengths: LengthUnit) -> String {
    let standing = &bend.car.standing;
    let way = match arguments.lateral_g {
        g if g > 0.0 => "in a left bend: ",
        g if g < 0.0 => "in a right bend: ",
        _ => "",
    };
    let steer = steer_in_words(car, End::Front, standing.solved.pose.steer, lengths);
    let mut text = format!(
        "{} {way}{} g lateral, {} g longitudinal; {steer}\nBody: {}\n{BODY_SIGNS}\n",
        car.name,
        fixed(arguments.lateral_g, 2),
        fixed(arguments.longitudinal_g, 2),
        body_in_words(&standing.body, standing.pitch, lengths)
    );
    text += match bend.estimate {
        Some(_) => {
            "The lean is an estimate from springs, bars, masses and roll centres, not a measurement.\n\n"
        }
        None => "The lean is by the gradients given; those left out count as none.\n\n",
    };
    let mut table = WheelTable::new("");
    let wheels = &bend.car.wheels;
    table.heading("Each tyre to the road");
    table.row("Camber, + top outboard", wheels.map(|wheel| wheel.camber), Unit::Degree, lengths);
    table.row("Inclination, + top to the right", wheels.map(|w| w.inclination), Unit::Degree, lengths);
    table.row("Steer, + to the left", wheels.map(|wheel| wheel.steer), Unit::Degree, lengths);
    table.row("Toe, + in", wheels.map(|wheel| wheel.toe), Unit::Degree, lengths);
    table.heading("To the body");
    table.row("Wheel travel, + bump", standing.solved.pose.travel, Unit::Length, lengths);
    if let Some(loads) = bend.loads() {
        table.heading("By the estimate");
        table.written("Load", loads.map(|load| fixed(load, 0)), "N");
    }
    text += &table.text();
    for hanging in &bend.hanging {
        text += &hanging.in_words(lengths);
    }
    if let Some(estimate) = &bend.estimate {
        text += &format!("\n{}", estimate_in_words(estimate, bend.car.at.longitudinal < 0.0, lengths));
    }
    text
}

fn wheel_records(bend: &Bend, lengths: LengthUnit) -> Vec<(WheelAt, Record)> {
    let loads = bend.loads();
    let wheel = |(place, at): (usize, WheelAt)| {
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
        let load = loads.and_then(|loads| loads.get(place).copied());
        put(&mut record, "load_n", load.unwrap_or(f64::NAN));
        (at, record)
    };
    WheelAt::ALL.into_iter().enumerate().map(wheel).collect()
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

fn record(
    arguments: &BendArguments,
    car: &Car,
    bend: &Bend,
    warnings: &[String],
    lengths: LengthUnit,
) -> Record {
    let standing = &bend.car.standing;
    let mut record = heading("bend");
    record.insert("car".into(), car.name.clone().into());
    put(&mut record, "lateral_g", arguments.lateral_g);
    put(&mut record, "longitudinal_g", arguments.longitudinal_g);
    record.insert("pose".into(), pose_record(car, &standing.solved.pose, lengths).into());
    record.insert("warnings".into(), warnings.into());
    record.insert("lean".into(), if bend.estimate.is_some() { "estimate" } else { "given" }.into());
    record.insert("gradients".into(), gradients_record(&bend.car.gradients, lengths));
    record.insert("body".into(), body_record(&standing.body, standing.pitch, lengths));
    let wheels = wheel_records(bend, lengths).into_iter();
    let wheels = wheels.map(|(at, record)| (at.key().to_owned(), Value::Object(record)));
    record.insert("wheels".into(), wheels.collect::<Record>().into());
    let estimate = bend.estimate.as_ref().map(|estimate| estimate_record(estimate, lengths));
    record.insert("estimate".into(), estimate.unwrap_or(Value::Null));
    record
}

/// A row a wheel.
fn rows(bend: &Bend, lengths: LengthUnit) -> Vec<Record> {
    let row = |(at, record): (WheelAt, Record)| -> Record {
        std::iter::once(("place".to_owned(), Value::from(at.key()))).chain(record).collect()
    };
    wheel_records(bend, lengths).into_iter().map(row).collect()
}
