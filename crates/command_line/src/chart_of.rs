//! Curves of an axle as text charts.

use crate::before_after::BeforeAfter;
use crate::console::steer::unit_of;
use wheelpath_geometry::{
    AxlePose, Car, CarSolver, End, Reading, Scope, Side, SteerInput, SweepPoint, Travelling, Unit,
    over_steer, over_travel, reading, spaced,
};
use wheelpath_report::{Axis, Chart, Series, Stroke, Style};

const WIDTH: usize = 64;
const HEIGHT: usize = 17;
/// As fine as the characters can show.
const POSES: usize = 2 * WIDTH + 1;

/// What a chart counts across.
#[derive(Clone, Copy)]
pub(crate) enum Across {
    Travel(Travelling),
    /// Both wheels travel, each its own way: the left one's travel is counted.
    Unlike,
    Steer(SteerInput),
    /// The place of the pose in the list, from 1.
    Place,
}

impl Across {
    /// What a list of poses is best counted by: the one thing that changes along it, or the place.
    pub fn of(poses: &[AxlePose], input: SteerInput) -> Self {
        let changes = |of: &dyn Fn(&AxlePose) -> f64| {
            poses.windows(2).any(|pair| of(&pair[0]).to_bits() != of(&pair[1]).to_bits())
        };
        let [left, right] = [changes(&|pose| pose.travel[0]), changes(&|pose| pose.travel[1])];
        let alike = poses.iter().all(|pose| pose.travel[0].to_bits() == pose.travel[1].to_bits());
        match (changes(&|pose| pose.steer), left, right) {
            (true, false, false) => Across::Steer(input),
            (false, true, true) if alike => Across::Travel(Travelling::Both),
            (false, true, true) => Across::Unlike,
            (false, true, false) => Across::Travel(Travelling::One(Side::Left)),
            (false, false, true) => Across::Travel(Travelling::One(Side::Right)),
            _ => Across::Place,
        }
    }

    fn name(self) -> &'static str {
        match self {
            Across::Travel(Travelling::Both) => "travel of both wheels",
            Across::Travel(Travelling::One(Side::Left)) => "travel of the left wheel",
            Across::Travel(Travelling::One(Side::Right)) => "travel of the right wheel",
            Across::Travel(Travelling::Opposite) => "travel of the left wheel, the right one opposite",
            Across::Unlike => "travel of the left wheel, the right one its own way",
            Across::Place => "place in the list of poses",
            Across::Steer(SteerInput::RackTravel) => "rack travel",
            Across::Steer(SteerInput::PitmanAngle) => "turn of the pitman arm",
        }
    }

    fn at(self, place: usize, pose: &AxlePose) -> f64 {
        match self {
            Across::Travel(Travelling::One(Side::Right)) => pose.travel[1],
            Across::Travel(_) | Across::Unlike => pose.travel[0],
            Across::Steer(_) => pose.steer,
            Across::Place => f64::from(u32::try_from(place + 1).unwrap_or(u32::MAX)),
        }
    }

    fn unit(self) -> Unit {
        match self {
            Across::Travel(_) | Across::Unlike => Unit::Length,
            Across::Place => Unit::Ratio,
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

/// A value of a pose.
type Value<'a> = &'a dyn Fn(&SweepPoint) -> Option<f64>;

/// One reading along a sweep: of the left and right wheel, or of the axle; before and after proposals where
/// there are any. `moves_as_one` where the axle is a beam.
pub(crate) fn along(
    sweeps: &BeforeAfter<&[SweepPoint]>,
    (end, moves_as_one): (End, bool),
    across: Across,
    reading: &Reading,
    style: &Style,
) -> Chart {
    let points = |sweep: &[SweepPoint], value: Value<'_>| {
        let point = |(place, p): (usize, &SweepPoint)| {
            let x = across.unit().shown(across.at(place, &p.pose), style.lengths);
            Some((x, style.charted(reading, value(p)?)?))
        };
        sweep.iter().enumerate().map(point).collect()
    };
    let values = |p: &SweepPoint| p.result.as_ref().ok().copied();
    let of_wheel = |place: usize| move |p: &SweepPoint| values(p)?.wheels.get(place)?.told(reading).ok();
    let [left, right] = [of_wheel(0), of_wheel(1)];
    let of_axle = |p: &SweepPoint| values(p)?.axle.told(reading).ok();
    let near = |a: Option<f64>, b: Option<f64>| match (a, b) {
        (Some(a), Some(b)) => (a - b).abs() <= 1e-9,
        (a, b) => a.is_none() && b.is_none(),
    };
    let alike = sweeps.iter().all(|sweep| sweep.iter().all(|p| near(left(p), right(p))));
    // What each curve is drawn with as it is, and before a change.
    let curves: Vec<(char, char, &str, Value<'_>)> = match reading.scope {
        // Curves that lie on one another would hide which of them is before and which after.
        Scope::Wheel if sweeps.after.is_some() && alike => vec![('o', '.', "both wheels", &left)],
        Scope::Wheel => vec![('L', 'l', "left", &left), ('R', 'r', "right", &right)],
        Scope::Axle => vec![('o', '.', "axle", &of_axle)],
    };
    let mut series = Vec::new();
    for (heavy, (glyph, was, name, value)) in [true, false].into_iter().zip(curves) {
        match &sweeps.after {
            None => series.push(Series {
                glyph,
                name: name.to_owned(),
                points: points(sweeps.before, value),
                stroke: Stroke::InTurn,
            }),
            Some(after) => series.extend([
                Series {
                    glyph: was,
                    name: format!("{name} before"),
                    points: points(sweeps.before, value),
                    stroke: Stroke::Dashed { heavy },
                },
                Series {
                    glyph,
                    name: format!("{name} after"),
                    points: points(after, value),
                    stroke: Stroke::Solid { heavy },
                },
            ]),
        }
    }
    let name = style.name_on(reading, moves_as_one);
    Chart {
        title: format!("{name}, {end} axle, over {}", across.name()),
        x: across.axis(style),
        y: Axis { name, ..value_axis(reading, style) },
        series,
        width: WIDTH,
        height: HEIGHT,
    }
}

/// Toe over travel of both wheels.
pub(crate) fn bump_steer(car: &Car, solver: &CarSolver, end: End, style: &Style) -> String {
    let travel = style.lengths.usual_travel();
    let poses = over_travel(Travelling::Both, &spaced(-travel, travel, POSES), 0.0);
    let sweep = solver.axle(end).sweep(&poses);
    reading("toe").map_or_else(String::new, |toe| {
        along(
            &BeforeAfter { before: sweep.as_slice(), after: None },
            (end, car.axle(end).is_beam()),
            Across::Travel(Travelling::Both),
            toe,
            style,
        )
        .text()
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
        stroke: Stroke::InTurn,
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
