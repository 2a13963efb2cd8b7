//! A new car file for linkages that were chosen: commented, and complete but for its numbers.

use crate::read::stand_in::STAND_IN;
use crate::read::why::{Choices, axle_to_ask};
use crate::read::words::{BARS, linkage_word, word_of};
use crate::text::axis_form::POINT;
use crate::text::axis_form::axis_from;
use crate::text::fill_in::FILL_IN;
use crate::text::ron_value::quoted;
use crate::text::units_and_axes::{Axes, FileUnits};
use crate::write::new_comments::where_it_sits;
use std::fmt::Write;
use wheelpath_geometry::{
    Axle, BarKind, End, Hardpoint, LengthUnit, LinkageKind, Rack, Side, Springing, Steering, SteeringArm,
    SteeringBox,
};

/// What steers the front axle of a new car.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NewSteering {
    /// Nothing.
    Fixed,
    /// A rack.
    Rack,
    /// A steering box.
    Box,
}

/// How the dampers of a new car are worked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NewSpringing {
    /// There are none.
    None,
    /// By a pushrod or pullrod and a rocker.
    Rocker,
    /// They stand on a part of the linkage.
    Direct,
    /// The strut is the damper.
    Strut,
}

/// The choices for a new car file.
#[derive(Clone, Debug, PartialEq)]
pub struct NewCar {
    /// Its name.
    pub name: String,
    /// The name of its file, for the first comment.
    pub file: String,
    /// What its lengths are counted in.
    pub units: LengthUnit,
    /// Which way its axes point.
    pub axes: Axes,
    /// The front linkage.
    pub front: LinkageKind,
    /// The rear linkage; `None` for a single corner on the bench.
    pub rear: Option<LinkageKind>,
    /// What steers the front.
    pub steering: NewSteering,
    /// How the dampers are worked; `None` for what is usual with each linkage.
    pub springing: Option<NewSpringing>,
    /// The anti-roll bars, front and rear alike.
    pub bar: Option<BarKind>,
}

impl NewCar {
    /// The text of the file.
    ///
    /// # Errors
    /// The choices do not go together: what is the matter, and what to do.
    pub fn text(&self) -> Result<String, [String; 2]> {
        if self.steering != NewSteering::Fixed && !self.front.spec().can_steer() {
            return Err([
                format!("a front axle with {} cannot be steered", self.front.with_article()),
                "choose --steering fixed, or a double wishbone, a strut, five links or a steered beam axle in front".into(),
            ]);
        }
        let mut text = self.heading();
        text += &self.axle(End::Front, self.front)?;
        match self.rear {
            Some(linkage) => text += &self.axle(End::Rear, linkage)?,
            None => {
                text += &format!(
                    "    // A single corner on the bench has no rear axle: a plain one stands in, and its readings\n    \
                     // mean nothing.\n    rear: {STAND_IN},\n"
                );
            }
        }
        Ok(text + ")\n")
    }

    fn heading(&self) -> String {
        let Self { units, axes, .. } = self;
        // In a comment a name keeps to its line.
        let [name, file] = [&self.name, &self.file].map(|text| text.replace(char::is_control, " "));
        let quoted_name = quoted(&self.name);
        let [x, y, z] = axes.directions().map(|direction| direction.word());
        let [unit, word] = [units.symbol(), units.word()];
        let lengths = match units {
            LengthUnit::Millimetre => "millimetres",
            LengthUnit::Inch => "inches",
        };
        let of_whole_car = if self.rear.is_some() {
            format!(
                "    // These may be deleted where they are not known: no estimate of roll and loads then.\n    \
                 centre_of_gravity_height: {FILL_IN}, // over the ground, {unit}\n    \
                 brake_share_front: {FILL_IN}, // share of the braking at the front, 0 to 1\n    \
                 // What the scales show under each wheel, kilograms, driver aboard; or wheel_loads_n, newtons.\n    \
                 wheel_loads_kg: (LF: {FILL_IN}, RF: {FILL_IN}, LR: {FILL_IN}, RR: {FILL_IN}),\n"
            )
        } else {
            String::new()
        };
        let base = if self.rear.is_some() {
            format!("distance between the axles, {unit}")
        } else {
            format!("of the car that the corner is for, {unit}: Ackermann needs it")
        };
        format!(
            "// {name}. Every {FILL_IN} is a number still to be measured; what is chosen in words may be changed too.\n\
             // `wheelpath check {file}` lists what is missing, by name and line; `wheelpath schema --car-file` says what each key means,\n\
             // and a demo car shows a whole file.\n(\n    \
             format: \"wheelpath car\",\n    version: 1,\n    name: {quoted_name},\n\n    \
             // Lengths are in {lengths}, angles in degrees. The axes point as the tape or the CAD model has them.\n    \
             units: {word},\n    axes: (x: {x}, y: {y}, z: {z}),\n\n    \
             // How the car stood when it was measured: zero wheel travel and zero steer are this pose.\n    \
             design_pose: \"On level ground at ride height, driver aboard, wheels straight ahead.\",\n\n    \
             wheelbase: {FILL_IN}, // {base}\n{of_whole_car}\n"
        )
    }

    fn steering_of(&self, end: End) -> NewSteering {
        if end == End::Front { self.steering } else { NewSteering::Fixed }
    }

    fn springing_of(&self, linkage: LinkageKind) -> Result<NewSpringing, [String; 2]> {
        match self.springing {
            Some(NewSpringing::Strut) if !linkage.spec().has_strut => match self.rear {
                // The strut of one end says nothing of the other.
                Some(rear) if self.front.spec().has_strut || rear.spec().has_strut => {
                    Ok(NewSpringing::Direct)
                }
                _ => Err([
                    format!("{} has no strut to be the damper", linkage.with_article()),
                    "choose --springing direct, rocker or none, or a strut".into(),
                ]),
            },
            Some(springing) => Ok(springing),
            None if linkage.spec().has_strut => Ok(NewSpringing::Strut),
            None => Ok(NewSpringing::Direct),
        }
    }

    /// An axle to ask for the points it needs.
    fn asked(&self, end: End, linkage: LinkageKind, springing: NewSpringing) -> Axle {
        let part = linkage.spec().usual_carrier.part;
        let springing = match springing {
            NewSpringing::None => None,
            NewSpringing::Rocker => Some(Springing::Rocker { pushrod_on: part }),
            NewSpringing::Direct => Some(Springing::Direct { on: part }),
            NewSpringing::Strut => Some(Springing::Strut),
        };
        let zero = nalgebra::Vector3::zeros();
        let arm = SteeringArm { pivot: zero, axis: zero, ball: zero };
        let steering = match self.steering_of(end) {
            NewSteering::Fixed => Steering::Fixed,
            NewSteering::Rack => {
                Steering::Rack(Rack { axis: zero, travel_per_turn: 0.0, stop_left: 0.0, stop_right: 0.0 })
            }
            NewSteering::Box => Steering::Box(SteeringBox {
                pitman: arm,
                idler: arm,
                ratio: 0.0,
                stop_left: 0.0,
                stop_right: 0.0,
            }),
        };
        let drop_link_on = self.bar.map(|_| part);
        let mut axle = axle_to_ask(linkage, steering, Choices { springing, spring: None, drop_link_on });
        axle.anti_roll_bar = self.bar.map(|kind| wheelpath_geometry::AntiRollBar { kind, rate: None });
        axle
    }

    fn axle(&self, end: End, linkage: LinkageKind) -> Result<String, [String; 2]> {
        let springing = self.springing_of(linkage)?;
        let asked = self.asked(end, linkage, springing);
        let unit = self.units.symbol();
        let mut out = Lines { text: String::new(), depth: 1 };
        out.open(&format!("{}: (", end.name()));
        out.line(&format!("linkage: {},", linkage_word(linkage)));
        match self.steering_of(end) {
            NewSteering::Fixed => out.line("steering: Fixed, // or Rack(...) or Box(...)"),
            NewSteering::Rack => rack(&mut out, unit),
            NewSteering::Box => steering_box(&mut out),
        }
        out.line("brakes: Outboard, // or Inboard, on the body");
        let drive = match (end, linkage) {
            (End::Front, _) => "None",
            (End::Rear, kind) if kind.spec().is_beam() => "Unsprung",
            (End::Rear, _) => "Sprung",
        };
        out.line(&format!(
            "drive: {drive}, // None, Sprung (final drive on the body) or Unsprung (on the axle)"
        ));
        if let Some(kind) = self.bar {
            let word = word_of(BARS, &kind);
            out.line(&format!(
                "anti_roll_bar: {word}(rate_nm_per_deg: {FILL_IN}), // or {word} alone, its rate not known"
            ));
        }
        let own = points_of(&asked.own_needs(), linkage.spec().in_a_new_file);
        if !own.is_empty() {
            out.open("pickups: (");
            if linkage.spec().is_beam() {
                out.line("// Of the axle as a whole. Two lower links, a top link and a Panhard rod hold it here; others that");
                out.line("// may stand in their place: upper_link_* on each side, torque_arm_link_*, a Watt linkage.");
            }
            if linkage.spec().has_track_rod {
                out.line("// The drag link goes to the left steering arm here; to the right one, it ends at drag_link_right.");
            }
            own.iter().for_each(|hardpoint| out.point(*hardpoint));
            out.close("),");
        }
        out.open("left: (");
        corner(&mut out, &asked, linkage, springing, unit);
        out.close("),");
        out.line(
            "// The right side with every point mirrored; for unlike sides write it out as the left one.",
        );
        out.line("right: Mirrored,");
        out.close("),");
        Ok(out.text + "\n")
    }
}

/// The points to fill in: those that must be there, and of those that may be these.
fn points_of(needs: &[wheelpath_geometry::Need], chosen: &[Hardpoint]) -> Vec<Hardpoint> {
    let wanted = needs.iter().filter(|need| need.must || chosen.contains(&need.hardpoint));
    wanted.map(|need| need.hardpoint).collect()
}

fn corner(out: &mut Lines, asked: &Axle, linkage: LinkageKind, springing: NewSpringing, unit: &str) {
    out.open("wheel: (");
    out.line(&format!(
        "centre: ({FILL_IN}, {FILL_IN}, {FILL_IN}), // wheel centre: middle of the rim, on the spin axis"
    ));
    out.line("// Static camber, + = top outboard; static toe of this wheel, + = toe-in.");
    out.line(&format!("spin_axis: Angles(camber_deg: {FILL_IN}, toe_deg: {FILL_IN}),"));
    out.line(&format!("tyre_radius: {FILL_IN}, // wheel centre to the ground, loaded, {unit}"));
    out.line(&format!("tyre_width: {FILL_IN},"));
    out.line(&format!("rim_radius: {FILL_IN},"));
    out.close("),");
    out.open("pickups: (");
    for hardpoint in points_of(&asked.needs(Side::Left), linkage.spec().in_a_new_file) {
        out.point(hardpoint);
    }
    out.close("),");
    let part = linkage.spec().usual_carrier.word;
    let word = match springing {
        NewSpringing::None => None,
        NewSpringing::Rocker => Some(format!("Rocker(pushrod_on: {part})")),
        NewSpringing::Direct => Some(format!("Direct(on: {part})")),
        NewSpringing::Strut => Some("Strut".to_owned()),
    };
    if let Some(word) = word {
        out.line(&format!("springing: {word},"));
        out.line("// Damper eye to eye (strut: top mount to lower point) fully compressed and fully extended, and the");
        out.line("// spring on it; either line may be deleted where it is not known.");
        out.line(&format!("damper: (shortest: {FILL_IN}, longest: {FILL_IN}),"));
        out.line(&format!("spring: OnDamper(rate_n_per_mm: {FILL_IN}),"));
    }
    if asked.bar_kind().is_some() {
        out.line(&format!("drop_link_on: {part},"));
    }
    out.line("alignment: (toe: FromPoints, camber: FromPoints),");
}

fn rack(out: &mut Lines, unit: &str) {
    out.open("steering: Rack(");
    out.line("// The way the rack moves toward the left of the car, of any length: along the file's axes.");
    out.line(&format!("axis: Direction({FILL_IN}, {FILL_IN}, {FILL_IN}),"));
    out.line(&format!(
        "travel_per_turn: {FILL_IN}, // {unit} for one turn of the steering wheel; - = a left turn moves the rack right"
    ));
    out.line(&format!("stop_left: {FILL_IN}, // travel from the middle to the stop toward the left, {unit}"));
    out.line(&format!("stop_right: {FILL_IN}, // the same toward the right, as a positive number"));
    out.close("),");
}

fn steering_box(out: &mut Lines) {
    let point = |key: &str, what: &str| format!("{key}: ({FILL_IN}, {FILL_IN}, {FILL_IN}), // {what}");
    let axis =
        |key: &str, what: &str| format!("{key}: Direction({FILL_IN}, {FILL_IN}, {FILL_IN}), // {what}");
    out.open("steering: Box(");
    out.line(&point("pitman_pivot", "a point on the box's output shaft"));
    out.line(&axis("pitman_axis", "the shaft's direction, upward, of any length"));
    out.line(&point("pitman_ball", "ball between pitman arm and centre link"));
    out.line(&point("idler_pivot", "a point on the idler arm's shaft"));
    out.line(&axis("idler_axis", "that shaft's direction, upward"));
    out.line(&point("idler_ball", "ball between idler arm and centre link"));
    out.line(&format!("ratio: {FILL_IN}, // turns of the steering wheel for one of the pitman arm"));
    out.line(&format!("stop_left_deg: {FILL_IN}, // the arm's turn to its stop in a left turn"));
    out.line(&format!("stop_right_deg: {FILL_IN}, // the same in a right turn, as a positive number"));
    out.close("),");
}

/// Lines of a file, indented.
struct Lines {
    text: String,
    depth: usize,
}

impl Lines {
    fn line(&mut self, words: &str) {
        // Writing to a string cannot fail.
        let _ = writeln!(self.text, "{}{words}", "    ".repeat(self.depth));
    }

    fn open(&mut self, words: &str) {
        self.line(words);
        self.depth += 1;
    }

    fn close(&mut self, words: &str) {
        self.depth = self.depth.saturating_sub(1);
        self.line(words);
    }

    fn point(&mut self, hardpoint: Hardpoint) {
        let key = hardpoint.key();
        let word = if axis_from(hardpoint).is_some() { POINT } else { "" };
        self.line(&format!(
            "{key}: {word}({FILL_IN}, {FILL_IN}, {FILL_IN}), // {}",
            where_it_sits(hardpoint)
        ));
    }
}

#[cfg(test)]
mod tests;
