//! Planar linkages. A front-view wishbone pair is a four-bar: the lower wishbone is the crank, the
//! upright the coupler, the upper wishbone the rocker; the height of the crank's pin drives it.

use super::{STILL, half_digit, of_wheel};
use nalgebra::{Vector2, Vector3};
use wheelpath_geometry::mechanism::{
    Anchor, BallJoint, Constraint, FixedLength, Frame, Height, Hinge, Input, Mechanism, Pose, Slider,
};
use wheelpath_geometry::{CornerSolver, Hardpoint, Side, SolvedCorner, Steering, StopKind};
use wheelpath_tests::assert_near;
use wheelpath_tests::planar::FrontView;

/// Ground, crank, coupler and rocker in metres; the ground lies along +x of the plane.
#[derive(Clone, Copy)]
struct Bars {
    ground: f64,
    crank: f64,
    coupler: f64,
    rocker: f64,
}

#[derive(Clone, Copy, PartialEq)]
enum Assembly {
    Open,
    Crossed,
}

fn polar(radius: f64, degrees: f64) -> Vector2<f64> {
    let (s, c) = degrees.to_radians().sin_cos();
    Vector2::new(radius * c, radius * s)
}

fn angle(v: Vector2<f64>) -> f64 {
    v.y.atan2(v.x).to_degrees()
}

/// The plane's x goes up the car, its y outboard, so that the crank's pin climbs and falls.
fn in_car(p: Vector2<f64>) -> [f64; 2] {
    [0.5 + p.y, 0.3 + p.x]
}

fn in_plane(p: Vector3<f64>) -> Vector2<f64> {
    assert!(p.x.abs() < 1e-14, "left the plane by {:e} m", p.x);
    Vector2::new(p.z - 0.3, p.y - 0.5)
}

impl Bars {
    /// Both pins at a crank angle: only to draw a design pose, away from the pose that is checked.
    fn drawn(&self, crank_degrees: f64, assembly: Assembly) -> [Vector2<f64>; 2] {
        let pin = polar(self.crank, crank_degrees);
        let across = Vector2::new(self.ground, 0.0) - pin;
        let distance = across.norm();
        let along = (self.coupler.powi(2) - self.rocker.powi(2) + distance.powi(2)) / (2.0 * distance);
        let off = (self.coupler.powi(2) - along.powi(2)).sqrt();
        let off = if assembly == Assembly::Open { off } else { -off };
        let unit = across / distance;
        [pin, pin + unit * along + Vector2::new(-unit.y, unit.x) * off]
    }

    fn solver(&self, crank_degrees: f64, assembly: Assembly) -> CornerSolver {
        let [pin, far_pin] = self.drawn(crank_degrees, assembly);
        let linkage = FrontView {
            lower: [in_car(Vector2::zeros()), in_car(pin)],
            upper: [in_car(Vector2::new(self.ground, 0.0)), in_car(far_pin)],
            wheel_centre: in_car(pin),
            tyre_radius: 0.3,
        };
        CornerSolver::new(&linkage.corner(), Side::Left, &Steering::Fixed, None).unwrap()
    }
}

/// The linkage as the solver left it: angles in degrees, rates per crank rate.
struct Solved {
    crank: f64,
    coupler: f64,
    rocker: f64,
    coupler_rate: f64,
    rocker_rate: f64,
}

fn solved(bars: &Bars, solver: &CornerSolver, corner: &SolvedCorner) -> Solved {
    let points = solver.points(corner);
    let at = |hardpoint| in_plane(points.iter().find(|(p, _)| *p == hardpoint).unwrap().1);
    let (pin, far_pin) = (at(Hardpoint::LowerBallJoint), at(Hardpoint::UpperBallJoint));
    let rocker = far_pin - Vector2::new(bars.ground, 0.0);
    let twist = corner.motion.by_travel;
    let flat = |v: Vector3<f64>| Vector2::new(v.z, v.y);
    let far_arm = corner.motion.steering_axis.unwrap().upper() - corner.motion.wheel_centre;
    // Rate of turn of a crank from its pin's velocity; anticlockwise in the plane.
    let rate = |arm: Vector2<f64>, v: Vector2<f64>| arm.perp(&v) / arm.norm_squared();
    let crank_rate = rate(pin, flat(twist.v));
    Solved {
        crank: angle(pin),
        coupler: angle(far_pin - pin),
        rocker: angle(rocker),
        // The plane's anticlockwise is right-handed about -X.
        coupler_rate: -twist.w.x / crank_rate,
        rocker_rate: rate(rocker, flat(twist.at(&far_arm))) / crank_rate,
    }
}

/// Draws the linkage at one crank angle and drives it to another.
fn driven(bars: &Bars, drawn: f64, to: f64, assembly: Assembly) -> (CornerSolver, SolvedCorner, Solved) {
    let solver = bars.solver(drawn, assembly);
    let travel = polar(bars.crank, to).x - polar(bars.crank, drawn).x;
    let corner = solver.solve(travel, 0.0).unwrap();
    let linkage = solved(bars, &solver, &corner);
    assert_near!(linkage.crank, to, 1e-10);
    (solver, corner, linkage)
}

const EXAMPLE_4_1: Bars = Bars { ground: 0.100, crank: 0.040, coupler: 0.120, rocker: 0.080 };

/// Norton, Design of Machinery, Ex. 4-1 (from memory).
#[test]
fn norton_example_4_1_open_and_crossed() {
    for drawn in [25.0, 70.0, 110.0] {
        let open = driven(&EXAMPLE_4_1, drawn, 40.0, Assembly::Open).2;
        assert_near!(open.coupler, 20.30, half_digit(2));
        assert_near!(open.rocker, 57.33, 0.0052, "57.324880, printed with an error of one last digit");
        assert_near!(open.coupler, 20.297_883, half_digit(6));
        assert_near!(open.rocker, 57.324_880, half_digit(6));
        let crossed = driven(&EXAMPLE_4_1, drawn, 40.0, Assembly::Crossed).2;
        assert_near!(crossed.coupler, -60.98, half_digit(2));
        assert_near!(crossed.rocker, -98.01, 0.0051, "the exact -98.005 rounds either way");
        assert_near!(crossed.coupler, -60.977_967, half_digit(6));
        assert_near!(crossed.rocker, -98.004_964, half_digit(6));
    }
}

/// Norton, Design of Machinery, Ex. 6-7 (from memory): the same linkage, crank at 25 rad/s.
#[test]
fn norton_example_6_7_velocities() {
    let open = driven(&EXAMPLE_4_1, 70.0, 40.0, Assembly::Open).2;
    assert_near!(25.0 * open.coupler_rate, -4.121, half_digit(3));
    assert_near!(25.0 * open.rocker_rate, 6.998, half_digit(3));
    assert_near!(25.0 * open.coupler_rate, -4.120_914, half_digit(6));
    assert_near!(25.0 * open.rocker_rate, 6.997_985, half_digit(6));
}

/// Norton, Design of Machinery, problem table of four-bars, row a (inputs read, answer from memory).
#[test]
fn norton_problem_row_a() {
    let bars = Bars { ground: 0.06, crank: 0.02, coupler: 0.07, rocker: 0.09 };
    let open = driven(&bars, 60.0, 30.0, Assembly::Open).2;
    assert_near!(open.coupler, 88.8, half_digit(1));
    assert_near!(open.rocker, 117.3, half_digit(1));
    assert_near!(open.coupler, 88.837_241, half_digit(6));
    assert_near!(open.rocker, 117.286_068, half_digit(6));
}

/// Where the coupler comes parallel to the crank, the toe link, which is parallel to the crank, points along
/// the coupler (plane geometry): from there on the coupler could turn about its own line as well as stay in
/// the plane. That is a limit with a place, whatever the rounding.
#[test]
fn a_toe_link_along_the_line_it_holds_is_a_limit() {
    let bars = Bars { ground: 0.06, crank: 0.02, coupler: 0.07, rocker: 0.09 };
    let angles = |crank: f64| {
        let [pin, far_pin] = bars.drawn(crank, Assembly::Open);
        angle(far_pin - pin) - crank
    };
    let (mut low, mut high) = (60.0, 75.0);
    assert!(angles(low) > 0.0 && angles(high) < 0.0);
    for _ in 0..60 {
        let middle = 0.5 * (low + high);
        if angles(middle) > 0.0 { low = middle } else { high = middle }
    }
    let solver = bars.solver(75.0, Assembly::Open);
    let height = |crank: f64| polar(bars.crank, crank).x;
    let stop = solver.solve(height(30.0) - height(75.0), 0.0).unwrap_err();
    assert_eq!(stop.kind, StopKind::DeadPoint);
    assert!(stop.links.contains(&"toe link"), "{stop:?}");
    assert_near!(stop.travel, height(low) - height(75.0), 2e-7);
    // Whatever the step.
    let mut here = *solver.start();
    let reached = (1..=60).take_while(|&i| {
        let to = (height(30.0) - height(75.0)) * f64::from(i) / 60.0;
        solver.follow(&here, to, 0.0).map(|next| here = next).is_ok()
    });
    assert_eq!(reached.count(), 7);
}

/// Khurmi & Gupta, Theory of Machines, Ex. 6.1 (answer read, title from memory): AB = 300 mm at
/// 100 rpm, BC = CD = 360 mm, AD = 600 mm, angle BAD = 60 degrees. Printed 6.283 rad/s from a drawing.
/// The coupler's rate is the pin's speed over its distance from the instant centre.
#[test]
fn khurmi_example_6_1_by_the_instant_centre() {
    let bars = Bars { ground: 0.600, crank: 0.300, coupler: 0.360, rocker: 0.360 };
    let (_, corner, linkage) = driven(&bars, 75.0, 60.0, Assembly::Open);
    let crank_rate = 100.0 * std::f64::consts::TAU / 60.0;
    let centre = Vector3::new(
        0.0,
        of_wheel(&corner.motion, "front_view_instant_centre_y"),
        of_wheel(&corner.motion, "front_view_instant_centre_z"),
    );
    let to_pin = (centre - corner.motion.wheel_centre).norm();
    let rate = crank_rate * bars.crank / to_pin;
    assert_near!(rate, 6.283, 0.005 * 6.283);
    assert_near!(rate, 6.303_389, half_digit(6));
    assert_near!((crank_rate * linkage.coupler_rate).abs(), rate, 1e-12);
    // Kennedy: the centre is where the two cranks' lines meet.
    let [pin, far_pin] = bars.drawn(60.0, Assembly::Open);
    let at = in_plane(centre);
    assert_near!(at.perp(&pin) / pin.norm(), 0.0, 1e-12);
    let rocker = far_pin - Vector2::new(bars.ground, 0.0);
    assert_near!((at - far_pin).perp(&rocker) / rocker.norm(), 0.0, 1e-12);
}

fn car(at: Vector3<f64>) -> Anchor<f64> {
    Anchor { frame: Frame::Car, at }
}

fn rod(from: Anchor<f64>, to: Anchor<f64>, length: f64) -> Constraint<f64> {
    Constraint::FixedLength(FixedLength::new(from, to, length))
}

/// Norton, Design of Machinery, Ex. 4-2 (from memory): crank 40, coupler 120, offset -20, crank at 60
/// degrees. The coupler is a body, its far end a slider; the plane's x is Y here, its y is Z.
#[test]
fn norton_example_4_2_offset_slider_crank() {
    let (crank, coupler, offset): (f64, f64, f64) = (0.040, 0.120, -0.020);
    let drawn = 30.0;
    let pin = polar(crank, drawn);
    let slider_x = pin.x + (coupler.powi(2) - (pin.y - offset).powi(2)).sqrt();
    let at = |x: f64, y: f64, z: f64| Vector3::new(x, y, z);
    let origin = at(0.0, pin.x, pin.y);
    let on_coupler = |p: Vector3<f64>| Anchor { frame: Frame::Body(0), at: p - origin };
    let constraints = vec![
        ("crank", rod(car(at(0.1, 0.0, 0.0)), on_coupler(origin), crank.hypot(0.1))),
        ("crank", rod(car(at(-0.1, 0.0, 0.0)), on_coupler(origin), crank.hypot(0.1))),
        ("guide", rod(car(at(0.3, 0.0, 0.0)), on_coupler(origin + at(0.3, 0.0, 0.0)), crank)),
        (
            "slider",
            Constraint::Slider(Slider {
                point: on_coupler(at(0.0, slider_x, offset)),
                line: car(at(0.0, 0.0, offset)),
                along: Vector3::y(),
            }),
        ),
    ];
    let driver = Height { point: on_coupler(origin), design: origin.z };
    let mechanism =
        Mechanism::<f64, 1, 6>::new([Pose::design(origin)], constraints, vec![driver], STILL).unwrap();
    let travel = polar(crank, 60.0).y - pin.y;
    let there = mechanism.follow(&mechanism.start().unwrap(), &Input::new(travel, 0.0)).unwrap();
    let pose = there.closed.bodies[0];
    let far = pose.point(&(at(0.0, slider_x, offset) - origin));
    let link = pose.origin - far;
    let theta3 = link.z.atan2(link.y).to_degrees();
    assert_near!(theta3, 152.91, half_digit(2));
    assert_near!(1e3 * far.y, 126.84, half_digit(2));
    assert_near!(theta3, 152.913_072, half_digit(6));
    assert_near!(1e3 * far.y, 126.838_005, half_digit(6));
    assert_near!(far.z, offset, 1e-12);
}

/// A spatial four-bar (revolute, two ball joints, revolute) with parallel axes is the planar one:
/// Norton, Design of Machinery, Ex. 4-1 (from memory) again, as two hinged bodies and a rod.
#[test]
fn spatial_four_bar_with_parallel_axes() {
    let bars = EXAMPLE_4_1;
    let [pin, far_pin] = bars.drawn(75.0, Assembly::Open);
    let at = |p: Vector2<f64>| {
        let [y, z] = in_car(p);
        Vector3::new(0.0, y, z)
    };
    let pivots = [at(Vector2::zeros()), at(Vector2::new(bars.ground, 0.0))];
    let pins = [at(pin), at(far_pin)];
    let hinge = |body: usize| {
        let point = Anchor { frame: Frame::Body(body), at: pivots[body] - pins[body] };
        let joint = BallJoint { point, seat: car(pivots[body]) };
        Constraint::Hinge(Hinge { joint, axis_of_point: Vector3::x(), axis_of_seat: Vector3::x() })
    };
    let pin_of = |body: usize| Anchor { frame: Frame::Body(body), at: Vector3::zeros() };
    let constraints =
        vec![("crank", hinge(0)), ("rocker", hinge(1)), ("coupler", rod(pin_of(0), pin_of(1), bars.coupler))];
    let driver = Height { point: pin_of(0), design: pins[0].z };
    let mechanism =
        Mechanism::<f64, 2, 12>::new(pins.map(Pose::design), constraints, vec![driver], STILL).unwrap();
    let travel = polar(bars.crank, 40.0).x - pin.x;
    let there = mechanism.follow(&mechanism.start().unwrap(), &Input::new(travel, 0.0)).unwrap();
    let [crank, rocker] = there.closed.bodies.map(|body| in_plane(body.origin));
    assert_near!(angle(crank), 40.0, 1e-10);
    assert_near!(angle(rocker - crank), 20.297_883, half_digit(6));
    assert_near!(angle(rocker - Vector2::new(bars.ground, 0.0)), 57.324_880, half_digit(6));
    let rates = [0, 1].map(|body| there.closed.by_travel(0, 1, body).w.x);
    assert_near!(25.0 * rates[1] / rates[0], 6.997_985, half_digit(6));
}
