//! Points of the car, for programs.

use crate::before_after::{BeforeAfter, CarNames, Paired};
use crate::console::field::{Among, RECORDS, Under, Words, declare_axles, declare_wheels};
use crate::console::key_docs::KeyDocs;
use crate::console::pose::{PoseRecord, Solved};
use crate::console::quantity::Length;
use crate::console::record::{Declared, Held, Keyed, NoRow, Output, Put, record};
use crate::points::{Place, places};
use crate::rows_out::Streamed;
use crate::stop_values::StopRecord;
use wheelpath_geometry::{Car, CarSolver, LengthUnit, SolvedCar, Unit};

record! {
    /// The points of a car, or of two, at one pose.
    pub(crate) struct PointsOutput {
        names: Among<CarNames>,
        cars: BeforeAfter<PointsRecord>,
    }
}

impl Output for PointsOutput {
    const NAME: &'static str = "points";
    type Row = Paired<PointRow>;
}

record! {
    /// The points of a car, or of two, at many poses.
    pub(crate) struct PointsRunOutput {
        names: Among<CarNames>,
        /// The rows, one a pose or number. Readings of a wheel stand as left_… and right_….
        rows: Streamed<PoseRecord, PointsAtPose<'static>>,
    }
}

impl Output for PointsRunOutput {
    const NAME: &'static str = "points";
    type Row = NoRow;
}

record! {
    /// The points of a car at a pose.
    pub(crate) struct PointsRecord {
        /// The pose: the travel of each wheel, rack or pitman arm, steering wheel.
        pose: Under<PoseRecord>,
        /// What is doubtful: stops of steering, damper or joint that the pose exceeds and dead points it is near, in
        /// words.
        warnings: Words,
        /// Points of each wheel, by the keys of the car file, and wheel_centre and contact_point; then those of an axle as
        /// a whole.
        points: Under<PlacesRecord>,
    }
}

record! {
    /// A point, for a table of points.
    pub(crate) struct PointRow {
        /// CSV: the wheel, or the axle as a whole, of the row. The CSV is a point table that `import` reads.
        corner: &'static str,
        /// CSV: the point of the row.
        name: &'static str,
        at: Among<AtRecord>,
    }
}

record! {
    /// Where a point stands.
    pub(crate) struct AtRecord {
        /// Place on the body, + forward.
        x: Length,
        /// Place on the body, + left.
        y: Length,
        /// Place on the body, + up.
        z: Length,
    }
}

impl AtRecord {
    /// Metres, vehicle axes.
    pub fn of(at: [f64; 3]) -> Self {
        let [x, y, z] = at.map(Length);
        AtRecord { x, y, z }
    }
}

/// The points of every wheel and axle, each under its key.
pub(crate) struct PlacesRecord(Vec<Place>);

impl Keyed for PlacesRecord {
    fn entries(&self, _: LengthUnit, put: &mut Put<'_>) {
        self.0.iter().for_each(|place| put(format_args!("{}", place.key), Held::Record(place)));
    }
}

impl Keyed for Place {
    fn entries(&self, _: LengthUnit, put: &mut Put<'_>) {
        for point in &self.points {
            put(format_args!("{}", point.key), Held::Record(&AtRecord::of(point.at)));
        }
    }
}

impl Declared for PlacesRecord {
    fn declare(docs: &mut KeyDocs) {
        declare_wheels(docs);
        declare_axles(docs);
        let words =
            "Where a point stands, under its key in the car file; also wheel_centre and contact_point.";
        docs.key("<point>".to_owned(), RECORDS, words);
        AtRecord::declare(docs);
    }
}

impl PointsRecord {
    pub fn of(car: &Car, solver: &CarSolver, solved: &Solved) -> Self {
        PointsRecord {
            pose: Under(PoseRecord::of(car, &solved.car.pose)),
            warnings: Words(solved.warnings.clone()),
            points: Under(PlacesRecord(places(solver, &solved.car))),
        }
    }
}

impl PointRow {
    /// The points of every wheel and axle.
    pub fn all_of(places: &[Place]) -> Vec<Self> {
        let of = |place: &Place| {
            let row = |point: &crate::points::Point| PointRow {
                corner: place.key,
                name: point.key,
                at: Among(AtRecord::of(point.at)),
            };
            place.points.iter().map(row).collect::<Vec<_>>()
        };
        places.iter().flat_map(of).collect()
    }
}

/// What one car gives at one of many poses: where its points stand, and why it does not come there.
pub(crate) struct PointsAtPose<'a> {
    pub solver: &'a CarSolver,
    /// `None` where the pose is not reached.
    pub solved: Option<&'a SolvedCar>,
    pub stop: StopRecord,
}

impl Keyed for PointsAtPose<'_> {
    fn entries(&self, lengths: LengthUnit, put: &mut Put<'_>) {
        let places = match self.solved {
            Some(solved) => places(self.solver, solved),
            None => places(self.solver, &self.solver.start()),
        };
        let (suffix, factor) = (Unit::Length.key_suffix(lengths), Unit::Length.data_factor(lengths));
        for place in &places {
            for point in &place.points {
                for (axis, at) in ["x", "y", "z"].into_iter().zip(point.at) {
                    let held = self.solved.map_or(Held::Nothing, |_| Held::Number(at * factor));
                    put(format_args!("{}_{}_{axis}{suffix}", place.key, point.key), held);
                }
            }
        }
        self.stop.entries(lengths, put);
    }
}

impl Declared for PointsAtPose<'_> {
    fn declare(docs: &mut KeyDocs) {
        let suffix = Unit::Length.key_suffix(docs.lengths());
        let words = "Where poses run, a row a pose: place of the point on the body, + forward; also _y, + left, and \
                     _z, + up.";
        let unit = Unit::Length.data_symbol(docs.lengths());
        docs.key(format!("<wheel or axle>_<point>_x{suffix}"), unit, words);
        StopRecord::declare(docs);
    }
}
