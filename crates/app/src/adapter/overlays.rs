//! Dimensions over the car, with values from the catalogue.

use super::drawing_board;
use super::place_of;
use nalgebra::{Point3, Vector3};
use wheelpath_geometry::{Car, End, LengthUnit, OnGround, Side, SolvedCar, Unit, WheelPosition, reading};
use wheelpath_session::Values;
use wheelpath_stage::view::{LineStyle, MarkerSign, Overlay, OverlayShape, Plane};

/// Id, name in words, and whether it is on at first.
pub const OVERLAYS: [(&str, &str, bool); 12] = [
    ("steering_axis", "Steering axis", true),
    ("trail", "Trail", true),
    ("scrub_radius", "Scrub radius", true),
    ("camber", "Camber", true),
    ("toe", "Toe", true),
    ("caster", "Caster angle", false),
    ("inclination", "Steering-axis inclination", false),
    ("front_view_instant_centre", "Front-view instant centre", false),
    ("side_view_instant_centre", "Side-view instant centre", false),
    ("roll_centre", "Roll centre", true),
    ("turn_centre", "Turn centre and ideal", true),
    ("contact", "Contact points", true),
];

/// Longest construction line drawn, metres.
const REACH: f64 = 2.2;
/// A drawing-board instant centre is said to miss the exact one by more than this, metres.
const OFF: f64 = 0.001;
/// A turn centre farther than this is straight ahead to the eye, metres.
const TURN_FARTHEST: f64 = 100.0;
/// Longest line to a turn centre drawn, metres.
const TURN_REACH: f64 = 7.0;

/// All overlays of a car in a pose.
#[must_use]
pub fn overlays(car: &Car, solved: &SolvedCar, values: &Values, lengths: LengthUnit) -> Vec<Overlay> {
    let mut sheet = Sheet { all: Vec::new(), car, solved, values, lengths };
    for at in WheelPosition::ALL {
        sheet.contact(at);
        sheet.camber(at);
        sheet.toe(at);
        if solved.axle(at.end).motion.corner(at.side).steered {
            sheet.steering_axis(at);
        }
        sheet.instant_centres(at);
    }
    for end in End::BOTH {
        sheet.roll_centre(end);
    }
    sheet.turn_centre();
    sheet.all
}

struct Sheet<'a> {
    all: Vec<Overlay>,
    car: &'a Car,
    solved: &'a SolvedCar,
    values: &'a Values,
    lengths: LengthUnit,
}

impl Sheet<'_> {
    fn value(&self, at: WheelPosition, key: &str) -> Option<f64> {
        self.values.get(at.end, at.side, reading(key)?)
    }

    /// "Trail 12.3 mm".
    fn label(&self, at: WheelPosition, name: &str, key: &str) -> Option<String> {
        let unit = reading(key)?.unit;
        Some(format!("{name} {}", unit.write(self.value(at, key)?, self.lengths)))
    }

    fn push(
        &mut self,
        id: &str,
        key: &str,
        at: Option<WheelPosition>,
        plane: Plane,
        shape: OverlayShape,
    ) -> &mut Overlay {
        let line = match at {
            Some(WheelPosition { side: Side::Right, .. }) => LineStyle::Dashed,
            _ => LineStyle::Solid,
        };
        let place = at.map(place_of);
        let at = self.all.len();
        self.all.push(Overlay { id: id.into(), reading: key.into(), place, plane, shape, label: None, line });
        &mut self.all[at]
    }

    fn on_ground(&self, at: WheelPosition) -> OnGround<f64> {
        *self.solved.axle(at.end).motion.wheel(at.side)
    }

    fn contact(&mut self, at: WheelPosition) {
        let shape =
            OverlayShape::Marker { at: Point3::from(self.on_ground(at).contact), sign: MarkerSign::Cross };
        self.push("contact", "contact", Some(at), Plane::Any, shape);
    }

    fn camber(&mut self, at: WheelPosition) {
        let (ground, motion) = (self.on_ground(at), *self.solved.wheel(at));
        let label = self.label(at, "Camber", "camber_to_road");
        let shape = OverlayShape::Angle {
            vertex: Point3::from(ground.contact),
            from: ground.normal,
            to: motion.wheel_centre - ground.contact,
            radius: motion.tyre_radius * 2.5,
        };
        self.push("camber", "camber_to_road", Some(at), Plane::Front, shape).label = label;
    }

    fn toe(&mut self, at: WheelPosition) {
        let (ground, motion) = (self.on_ground(at), *self.solved.wheel(at));
        let label = self.label(at, "Toe", "toe");
        let shape = OverlayShape::Angle {
            vertex: Point3::from(motion.wheel_centre),
            from: Vector3::x(),
            to: ground.forward,
            radius: motion.tyre_radius * 1.75,
        };
        self.push("toe", "toe", Some(at), Plane::Plan, shape).label = label;
    }

    fn steering_axis(&mut self, at: WheelPosition) {
        let (ground, motion) = (self.on_ground(at), *self.solved.wheel(at));
        let Some(axis) = motion.steering_axis else { return };
        let k = axis.direction();
        let foot = ground.meets_ground(&axis.point, &k);
        if !foot.iter().all(|x| x.is_finite()) {
            return;
        }
        let line = OverlayShape::Line { a: Point3::from(axis.upper() + k * 0.16), b: Point3::from(foot) };
        self.push("steering_axis", "caster", Some(at), Plane::Any, line).line = LineStyle::Chain;
        let mark = OverlayShape::Marker { at: Point3::from(foot), sign: MarkerSign::Open };
        self.push("steering_axis", "caster", Some(at), Plane::Any, mark);
        let below = ground.normal * -0.09;
        let contact = Point3::from(ground.contact);
        if let Some(trail) = self.value(at, "trail") {
            let label = self.label(at, "Trail", "trail");
            let shape =
                OverlayShape::Dimension { a: contact, b: contact + ground.forward * trail, offset: below };
            self.push("trail", "trail", Some(at), Plane::Side, shape).label = label;
        }
        if let Some(scrub) = self.value(at, "scrub_radius") {
            let label = self.label(at, "Scrub radius", "scrub_radius");
            let shape =
                OverlayShape::Dimension { a: contact, b: contact - ground.outboard * scrub, offset: below };
            self.push("scrub_radius", "scrub_radius", Some(at), Plane::Front, shape).label = label;
        }
        let vertex = Point3::from(foot);
        let caster = OverlayShape::Angle {
            vertex,
            from: Vector3::z(),
            to: Vector3::new(k.x, 0.0, k.z),
            radius: motion.tyre_radius * 2.2,
        };
        let label = self.label(at, "Caster angle", "caster");
        self.push("caster", "caster", Some(at), Plane::Side, caster).label = label;
        let inclination = OverlayShape::Angle {
            vertex,
            from: Vector3::z(),
            to: Vector3::new(0.0, k.y, k.z),
            radius: motion.tyre_radius * 2.0,
        };
        let key = "steering_axis_inclination";
        let label = self.label(at, "Inclination", key);
        self.push("inclination", key, Some(at), Plane::Front, inclination).label = label;
    }

    /// The exact instant centres, with the lines from ball joints and contact that lead there.
    fn instant_centres(&mut self, at: WheelPosition) {
        let motion = *self.solved.wheel(at);
        let contact = self.on_ground(at).contact;
        let v = motion.by_travel.v;
        for (name, plane, across, key) in [
            ("front", Plane::Front, 0, "front_view_swing_arm_inverse"),
            ("side", Plane::Side, 1, "side_view_swing_arm_inverse"),
        ] {
            let id = format!("{name}_view_instant_centre");
            let flat = |p: Vector3<f64>| {
                let mut p = p;
                p[across] = motion.wheel_centre[across];
                Point3::from(p)
            };
            let mut anchors = vec![flat(contact)];
            // Lines to a ball joint's arm mean something for two wishbones only.
            if let Some(axis) = motion.steering_axis.filter(|axis| axis.rate.is_some()) {
                anchors.extend([flat(axis.point), flat(axis.upper())]);
            }
            let along = if across == 0 { "y" } else { "x" };
            let place = self
                .value(at, &format!("{id}_{along}"))
                .zip(self.value(at, &format!("{id}_z")))
                .filter(|(a, z)| a.is_finite() && z.is_finite());
            let shape = if let Some((a, z)) = place {
                let mut meet = motion.wheel_centre;
                meet[1 - across] = a;
                meet.z = z;
                OverlayShape::Construction { anchors, meet: Point3::from(meet), reach: REACH }
            } else {
                let mut direction = Vector3::zeros();
                direction[1 - across] = v.z;
                direction.z = -v[1 - across];
                if direction.norm() < 1e-12 {
                    continue;
                }
                OverlayShape::Parallel { anchors, direction, reach: REACH }
            };
            let label = self.instant_centre_label(at, across, key, &shape);
            let overlay = self.push(&id, key, Some(at), plane, shape);
            overlay.label = label;
            overlay.line = LineStyle::Thin;
        }
    }

    /// "Instant centre 2020.0 mm inboard", and where a drawing board would put it.
    fn instant_centre_label(
        &self,
        at: WheelPosition,
        across: usize,
        key: &str,
        shape: &OverlayShape,
    ) -> Option<String> {
        let inverse = self.value(at, key)?;
        let OverlayShape::Construction { meet, .. } = shape else {
            return Some("Instant centre at infinity".to_owned());
        };
        let [near, far] = if across == 0 { ["inboard", "outboard"] } else { ["ahead", "behind"] };
        let direction = if inverse > 0.0 { near } else { far };
        let length = Unit::Length.write(1.0 / inverse.abs(), self.lengths);
        let board = drawing_board::crossing(self.car.corner(at), self.solved.wheel(at), across);
        let off = board.filter(|board| (board - meet.coords).norm() > OFF);
        Some(match off {
            // Both lengths are counted along the axis, from the wheel centre.
            Some(board) => {
                let along = 1 - across;
                let board = (board[along] - self.solved.wheel(at).wheel_centre[along]).abs();
                format!(
                    "Instant centre {length} {direction}; arm lines cross at {}",
                    Unit::Length.write(board, self.lengths)
                )
            }
            None => format!("Instant centre {length} {direction}"),
        })
    }

    fn roll_centre(&mut self, end: End) {
        let axle = &self.solved.axle(end).motion;
        let n = axle.ground.normal;
        let leftward = Vector3::new(0.0, n.z, -n.y);
        let middle = (axle.left_on_ground.contact + axle.right_on_ground.contact) * 0.5;
        let at = WheelPosition { end, side: Side::Left };
        let Some(height) = self.value(at, "roll_centre_height") else { return };
        let lateral = self.value(at, "roll_centre_lateral").unwrap_or(0.0);
        let contacts = [axle.left_on_ground.contact, axle.right_on_ground.contact].map(Point3::from);
        let place = Point3::from(middle + n * height + leftward * lateral);
        let label = self.label(at, "Roll centre", "roll_centre_height");
        let key = "roll_centre_height";
        let lines = OverlayShape::Construction { anchors: contacts.to_vec(), meet: place, reach: REACH };
        // The left wheel's place: a front view that ends at the car's middle ends this axle's too.
        self.push("roll_centre", key, Some(at), Plane::Front, lines).line = LineStyle::Thin;
        let mark = OverlayShape::Marker { at: place, sign: MarkerSign::Centre };
        self.push("roll_centre", key, Some(at), Plane::Any, mark).label = label;
    }

    /// The front wheels' axes in plan to the rear axle's line, and beside the outer one where it would
    /// point in the ideal turn.
    fn turn_centre(&mut self) {
        let front = WheelPosition { end: End::Front, side: Side::Left };
        let Some(centre) = self.value(front, "turn_centre_y").filter(|y| y.abs() < TURN_FARTHEST) else {
            return;
        };
        let axle = self.solved.axle(End::Front).motion;
        let line = axle.rear_line();
        // Where an axis through a wheel centre meets the rear wheels' line in plan, at the wheel centre's
        // height; none where the two are parallel.
        let meets = |w: &Vector3<f64>, axis: &Vector3<f64>| {
            let perp = |p: &Vector3<f64>, q: &Vector3<f64>| p.x * q.y - p.y * q.x;
            let closing = perp(&line.along, axis);
            let along = line.along * (perp(&(w - line.middle), axis) / closing);
            let at = line.middle + along;
            (closing.abs() > 1e-9).then(|| Point3::new(at.x, at.y, w.z))
        };
        for side in Side::BOTH {
            let motion = axle.corner(side);
            let w = motion.wheel_centre;
            let Some(meet) = meets(&w, &motion.spin_axis_left()) else { continue };
            let shape =
                OverlayShape::Construction { anchors: vec![Point3::from(w)], meet, reach: TURN_REACH };
            let at = WheelPosition { end: End::Front, side };
            self.push("turn_centre", "turn_centre_y", Some(at), Plane::Plan, shape);
        }
        let outer = if centre > 0.0 { Side::Right } else { Side::Left };
        if let Some(ideal) = self.value(front, "outer_ideal") {
            // The axle's own angles count into the turn.
            let angle = if centre > 0.0 { ideal } else { -ideal };
            let w = axle.corner(outer).wheel_centre;
            let axis = Vector3::new(-angle.sin(), angle.cos(), 0.0);
            if let Some(meet) = meets(&w, &axis) {
                let shape =
                    OverlayShape::Construction { anchors: vec![Point3::from(w)], meet, reach: TURN_REACH };
                let error = self.label(front, "Ackermann error", "ackermann_error");
                let overlay = self.push("turn_centre", "ackermann_error", None, Plane::Plan, shape);
                overlay.line = LineStyle::Dashed;
                overlay.label = error;
            }
        }
        let height = axle.left.wheel_centre.z;
        let x = line.middle.x + line.along.x * ((centre - line.middle.y) / line.along.y);
        let mark = OverlayShape::Marker { at: Point3::new(x, centre, height), sign: MarkerSign::Centre };
        let label = format!("Turn centre {}", Unit::Metre.write(centre, self.lengths));
        self.push("turn_centre", "turn_centre_y", None, Plane::Plan, mark).label = Some(label);
    }
}
