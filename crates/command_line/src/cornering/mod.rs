//! The car cornering steadily: how its body rolls, and what each tyre shows to the road.

pub(crate) mod estimate;
pub(crate) mod estimate_record;
pub(crate) mod record;

use crate::arguments::on_road::CorneringArguments;
use crate::arguments::subcommands::Format;
use crate::before_after::BeforeAfter;
use crate::beside_car::Proposed;
use crate::console::failure::{Complaint, Failure};
use crate::console::pose::{beyond_stops, metres};
use crate::console::quantity::{G, InDegrees};
use crate::console::record::{csv, json};
use crate::console::steer::steer_in_words;
use crate::console::streams::Console;
use crate::cornering::estimate::estimate_in_words;
use crate::cornering::record::{CorneringOutput, CorneringRecord, CorneringRow};
use crate::on_road::{BODY_SIGNS, Hanging, WheelTable, body_in_words};
use crate::opened_car::ready;
use crate::readings::toe_in_tables_only;
use wheelpath_geometry::{
    Car, Cornering, End, Estimate, GRAVITY, Gradients, LengthUnit, MidCorner, NoEstimate, RoadSolver, Stop,
    StopKind, Unit, WheelPosition,
};
use wheelpath_report::{Style, Table, fixed, folded, wrap};

/// A car cornering, and the estimate of its roll where nobody said how it rolls.
pub(crate) struct CorneringCar {
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

pub(crate) fn run(arguments: &CorneringArguments, io: &mut Console) -> Result<u8, Failure> {
    if arguments.toe.given() && arguments.output.format != Format::Table {
        return Err(toe_in_tables_only());
    }
    let (at_hand, solver) = ready(&arguments.car, io)?;
    let cars = arguments.proposal.cars(&at_hand, solver, io)?;
    let cornerings = cars.each(io, |one, io| cornering(arguments, one, io))?;
    let lengths = arguments.output.units.lengths(io);
    let text = match arguments.output.format {
        Format::Table => {
            let style = arguments.toe.style(lengths).with_toe_over(cars.before.car.tyre_diameter());
            folded(&table(arguments, &cars, &cornerings, &style))
        }
        Format::Json => {
            let on_road = cornerings.before.car.at.on_road();
            let both = cars.with(&cornerings);
            let output = CorneringOutput {
                names: cars.car_names(),
                lateral: G(arguments.lateral_g),
                longitudinal: G(arguments.longitudinal_g),
                banking: InDegrees(arguments.banking_deg),
                lateral_on_road: G(on_road.lateral / GRAVITY),
                normal_on_road: G(on_road.normal / GRAVITY),
                cars: both.map(|(one, cornering)| CorneringRecord::of(&one.car, cornering)),
            };
            json(&output, lengths)?
        }
        Format::Csv => {
            let rows = cornerings.map(CorneringRow::all_of);
            csv::<CorneringOutput>(&rows.paired(&["place"], false, lengths)?, lengths)?
        }
    };
    io.print(&text)?;
    let lifts = cornerings.last().loads().is_some_and(|loads| loads.iter().any(|load| *load < 0.0));
    if lifts {
        io.complain("error: the estimate does not hold: it leaves a wheel without load\n")?;
    }
    Ok(u8::from(lifts))
}

/// The car cornering as it was asked for; what is doubtful about it is warned of.
fn cornering(
    arguments: &CorneringArguments,
    Proposed { car, solver, .. }: &Proposed,
    io: &mut Console,
) -> Result<CorneringCar, Failure> {
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
    let mut cornering =
        CorneringCar { hanging, car: in_bend, estimate, static_loads, assumed, warnings: Vec::new() };
    cornering.warnings = beyond_stops(solver, &cornering.car.standing.solved, io)?;
    for (wheel, load) in WheelPosition::ALL.into_iter().zip(cornering.loads().into_iter().flatten()) {
        if load < 0.0 {
            let message = format!("the {wheel} wheel would lift: the estimate leaves no load on it");
            io.warn(&message, "beyond that the estimate does not hold; ask for less acceleration")?;
            cornering.warnings.push(message);
        }
    }
    Ok(cornering)
}

/// How the body rolls, where the words say it.
fn given(arguments: &CorneringArguments, car: &Car) -> Option<Gradients> {
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

/// What is assumed where the roll is by gradients.
fn by_gradients(at: &Cornering) -> Vec<String> {
    let mut assumed = vec!["a gradient that is left out is 0".to_owned()];
    if at.banking.abs() > 0.0 {
        assumed.push(
            "the ride heights do not change as the banked road presses the car: no gradient says by how much"
                .to_owned(),
        );
    }
    assumed
}

/// Why the car does not stand in the corner: the words were finite numbers, so what is not is the roll they give.
fn no_pose(arguments: &CorneringArguments, stop: Stop) -> Failure {
    if stop.kind != StopKind::NotFinite {
        return stop.into();
    }
    let [lateral, longitudinal] = [arguments.lateral_g, arguments.longitudinal_g].map(|g| fixed(g, 2));
    let message = format!(
        "{lateral} g lateral and {longitudinal} g longitudinal are beyond what the car can stand on its wheels: \
         the tyres cannot reach the road under a body that rolls so far"
    );
    let hint = "ask for less acceleration, or for smaller roll and pitch gradients";
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
                   give --roll-gradient-deg-per-g and its kin; `wheelpath cornering --help` lists them",
        )]),
    }
}

impl CorneringCar {
    /// Load on each tyre, newtons; only an estimate knows it.
    fn loads(&self) -> Option<[f64; 4]> {
        self.estimate.map(|estimate| estimate.loads(&self.car.at))
    }
}

fn table(
    arguments: &CorneringArguments,
    cars: &BeforeAfter<Proposed>,
    cornerings: &BeforeAfter<CorneringCar>,
    style: &Style,
) -> String {
    let lengths = style.lengths;
    let way = match arguments.lateral_g {
        g if g > 0.0 => " in a left-hand corner: ",
        g if g < 0.0 => " in a right-hand corner: ",
        _ => ", ",
    };
    let both = cars.with(cornerings);
    let steer = both.map(|(one, cornering)| {
        steer_in_words(&one.car, End::Front, cornering.car.standing.solved.pose.steer, lengths)
    });
    let body = cornerings.map(|cornering| {
        let standing = &cornering.car.standing;
        format!("Body: {}\n", body_in_words(&standing.body, standing.pitch, lengths))
    });
    let mut text = format!(
        "{}{way}{} g lateral, {} g longitudinal; {}\n{}{}{BODY_SIGNS}\n",
        cars.names(),
        fixed(arguments.lateral_g, 2),
        fixed(arguments.longitudinal_g, 2),
        steer.words(["before: ", "; after: "]),
        banked_in_words(&cornerings.before.car.at),
        body.words(["before: ", "after: "])
    );
    text += match cornerings.before.estimate {
        Some(_) => {
            "The roll is an estimate from springs, bars, masses and roll centres, not a measurement.\n\n"
        }
        None => "The roll is by the gradients given; those left out count as zero.\n\n",
    };
    text += &cornerings.map(|cornering| wheel_table(cornering, style)).table(1).text();
    let hanging = cornerings
        .map(|cornering| cornering.hanging.iter().map(|one| one.in_words(lengths)).collect::<String>());
    text += &hanging.words(["before: ", "after: "]);
    let braking = arguments.longitudinal_g < 0.0;
    if let Some(before) = &cornerings.before.estimate {
        let after = cars.after.as_ref().zip(cornerings.after.as_ref());
        let after = after.and_then(|(one, cornering)| Some((cornering.estimate.as_ref()?, &one.car)));
        let estimates = BeforeAfter { before: (before, &cars.before.car), after };
        text += &format!("\n{}", estimate_in_words(&estimates, braking, lengths));
    }
    let assumed = cornerings
        .map(|cornering| wrap(&format!("Assumed: {}.", cornering.assumed.join("; ")), 96, "  ") + "\n");
    text += &assumed.words(["before: ", "after: "]);
    text
}

fn wheel_table(cornering: &CorneringCar, style: &Style) -> Table {
    let lengths = style.lengths;
    let mut table = WheelTable::new("");
    let wheels = &cornering.car.wheels;
    table.heading("Each tyre to the road");
    table.row("Camber, + top outboard", wheels.map(|wheel| wheel.camber), Unit::Degree, lengths);
    table.row("Inclination, + top to the right", wheels.map(|w| w.inclination), Unit::Degree, lengths);
    table.row("Steer, + to the left", wheels.map(|wheel| wheel.steer), Unit::Degree, lengths);
    table.row("Toe, + in", wheels.map(|wheel| wheel.toe), Unit::Degree, lengths);
    table.toe_length(wheels.map(|wheel| wheel.toe), style);
    table.heading("To the body");
    table.row("Wheel travel, + bump", cornering.car.standing.solved.pose.travel, Unit::Length, lengths);
    let (factor, pound) = lengths.force_unit();
    let forces = |loads: [f64; 4]| loads.map(|load| fixed(load * factor, 0));
    if let Some(loads) = cornering.static_loads {
        table.heading("Load on each tyre");
        table.written("In the design pose", forces(loads), pound);
    }
    if let Some(loads) = cornering.loads() {
        table.written("In the corner, by the estimate", forces(loads), pound);
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
