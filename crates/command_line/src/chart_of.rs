//! Curves of an axle as text charts.

use crate::steer::unit_of;
use wheelpath_geometry::{
    AxlePose, Car, CarSolver, End, Reading, Scope, Side, SteerInput, SweepPoint, Travelling, Unit,
    over_steer, over_travel, reading, spaced,
};
use wheelpath_report::{Axis, Chart, Series, Style};

const WIDTH: usize = 64;
const HEIGHT: usize = 17;
/// As fine as the characters can show.
const POSES: usize = 2 * WIDTH + 1;
/// Travel of a bump-steer curve that nobody gave a range for, metres.
const TRAVEL: f64 = 0.03;

/// What a chart counts across.
#[derive(Clone, Copy)]
pub(crate) enum Across {
    Travel(Travelling),
    Steer(SteerInput),
}

impl Across {
    fn name(self) -> &'static str {
        match self {
            Across::Travel(Travelling::Both) => "travel of both wheels",
            Across::Travel(Travelling::One(Side::Left)) => "travel of the left wheel",
            Across::Travel(Travelling::One(Side::Right)) => "travel of the right wheel",
            Across::Travel(Travelling::Opposite) => "travel of the left wheel, the right one opposite",
            Across::Steer(SteerInput::RackTravel) => "rack travel",
            Across::Steer(SteerInput::PitmanAngle) => "turn of the pitman arm",
        }
    }

    fn of(self, pose: &AxlePose) -> f64 {
        match self {
            Across::Travel(Travelling::One(Side::Right)) => pose.travel[1],
            Across::Travel(_) => pose.travel[0],
            Across::Steer(_) => pose.steer,
        }
    }

    fn unit(self) -> Unit {
        match self {
            Across::Travel(_) => Unit::Length,
            Across::Steer(input) => unit_of(input),
        }
    }

    fn axis(self, style: &Style) -> Axis {
        Axis { name: self.name().to_owned(), unit: self.unit().symbol(style.lengths).to_owned() }
    }
}

fn value_axis(reading: &Reading, style: &Style) -> Axis {
    Axis { name: style.name(reading), unit: style.unit(reading).to_owned() }
}

/// One reading along a sweep: of the left and right wheel, or of the axle.
pub(crate) fn along(
    sweep: &[SweepPoint],
    end: End,
    across: Across,
    reading: &Reading,
    style: &Style,
) -> Chart {
    let factor = across.unit().factor(style.lengths);
    let series = |glyph, name: &str, value: &dyn Fn(&SweepPoint) -> Option<f64>| Series {
        glyph,
        name: name.to_owned(),
        points: sweep
            .iter()
            .map(|p| Some((across.of(&p.pose) * factor, style.value(reading, value(p)?))))
            .collect(),
    };
    let values = |p: &SweepPoint| p.result.as_ref().ok().copied();
    let series = match reading.scope {
        Scope::Wheel => vec![
            series('L', "left", &|p| values(p)?.wheels[0].get(reading)),
            series('R', "right", &|p| values(p)?.wheels[1].get(reading)),
        ],
        Scope::Axle => vec![series('o', "axle", &|p| values(p)?.axle.get(reading))],
    };
    Chart {
        title: format!("{}, {end} axle, over {}", style.name(reading), across.name()),
        x: across.axis(style),
        y: value_axis(reading, style),
        series,
        width: WIDTH,
        height: HEIGHT,
    }
}

/// Toe over travel of both wheels.
pub(crate) fn bump_steer(solver: &CarSolver, end: End, style: &Style) -> String {
    let poses = over_travel(Travelling::Both, &spaced(-TRAVEL, TRAVEL, POSES), 0.0);
    let sweep = solver.axle(end).sweep(&poses);
    reading("toe").map_or_else(String::new, |toe| {
        along(&sweep, end, Across::Travel(Travelling::Both), toe, style).text()
    })
}

/// Outer over inner wheel angle with the ideal beside it, and the error: a left turn to the steering's
/// stop. None where the front axle is not steered.
pub(crate) fn ackermann(car: &Car, solver: &CarSolver, style: &Style) -> Vec<String> {
    let steering = &car.axle(End::Front).steering;
    if !steering.steers() {
        return Vec::new();
    }
    let [negative, positive] = steering.stops();
    let (Some(inner), Some(outer), Some(ideal), Some(error)) =
        (reading("inner_steer"), reading("outer_steer"), reading("outer_ideal"), reading("ackermann_error"))
    else {
        return Vec::new();
    };
    // Which way the steering goes in a left turn depends on the side of the axle it stands on.
    let to_left = solver.axle(End::Front).solve([0.0; 2], positive);
    let mean = reading("mean_steer").zip(to_left.ok()).and_then(|(r, axle)| axle.axle_values().get(r));
    let last = if mean.is_none_or(|angle| angle >= 0.0) { positive } else { negative };
    let sweep = solver.axle(End::Front).sweep(&over_steer([0.0; 2], &spaced(0.0, last, POSES)));
    let series = |glyph, name: &str, of: &Reading| Series {
        glyph,
        name: name.to_owned(),
        points: sweep
            .iter()
            .map(|p| {
                let axle = &p.result.as_ref().ok()?.axle;
                Some((style.value(inner, axle.get(inner)?), style.value(of, axle.get(of)?)))
            })
            .collect(),
    };
    let chart = |title: &str, y: &Reading, series| Chart {
        title: title.to_owned(),
        x: value_axis(inner, style),
        y: value_axis(y, style),
        series,
        width: WIDTH,
        height: HEIGHT,
    };
    let angles = chart(
        "Outer wheel angle over the inner one, left turn to the steering's stop",
        outer,
        vec![series('o', "as it is", outer), series('i', "ideal (Ackermann)", ideal)],
    );
    let error = chart(
        "Ackermann error over the inner wheel angle, left turn to the steering's stop",
        error,
        vec![series('o', "outer minus ideal", error)],
    );
    vec![angles.text(), error.text()]
}
