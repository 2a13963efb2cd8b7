//! What `clearances` says to people.

use crate::before_after::BeforeAfter;
use crate::beside_car::Proposed;
use crate::console::steer::{name_of, unit_of};
use std::collections::BTreeMap;
use wheelpath_geometry::{AxlePose, Car, LengthUnit, Part, Side, SteerInput, Unit};
use wheelpath_report::{Align, Table, wrap};
use wheelpath_studies::clearance::{Clearances, JointAngle, Range, StopOf};

/// The nearest pairs, and joints without a limit, that are shown unless all are asked for.
const FEW: usize = 10;

/// What was found, axle by axle, and how it was counted.
pub(crate) fn in_words(
    cars: &BeforeAfter<Proposed>,
    found: &BeforeAfter<Vec<(Clearances, Range)>>,
    all: bool,
    lengths: LengthUnit,
) -> String {
    let mut text = format!("{}: will it fit\n", cars.names());
    let axles = found.map(|axles| axles.iter().map(|(one, _)| one).collect::<Vec<_>>());
    for (place, (one, range)) in found.before.iter().enumerate() {
        let after = axles.after.as_ref().and_then(|axles| axles.get(place).copied());
        let (car, was) = match (&cars.after, after) {
            (Some(changed), Some(_)) => (&changed.car, Some(one)),
            _ => (&cars.before.car, None),
        };
        let words = Words { car, found: after.unwrap_or(one), was, range, all, lengths };
        text += &words.text();
    }
    text
}

struct Words<'a> {
    car: &'a Car,
    found: &'a Clearances,
    /// What was found before proposals were made; then the poses shown are those after.
    was: Option<&'a Clearances>,
    range: &'a Range,
    all: bool,
    lengths: LengthUnit,
}

impl Words<'_> {
    fn text(&self) -> String {
        let mut text = format!("\n{}\n", self.over());
        text += &format!("\n{}", self.distances());
        if !self.found.joints.is_empty() {
            text += &format!("\n{}", self.joints());
        }
        if !self.found.stops.is_empty() {
            text += &format!("\n{}", self.stops());
        }
        text + &self.notes()
    }

    fn steered(&self) -> bool {
        self.car.axle(self.found.end).steering.steers()
    }

    fn input(&self) -> SteerInput {
        self.car.axle(self.found.end).steering.input()
    }

    fn over(&self) -> String {
        let span = |[from, to]: [f64; 2], unit: Unit| {
            format!("{} to {}", unit.write_number(from, self.lengths), unit.write(to, self.lengths))
        };
        let mut words = format!("{} axle, travel {}", self.found.end, span(self.range.travel, Unit::Length));
        if self.steered() {
            let input = self.input();
            words += &format!(
                ", {} {}; both wheels alike, then in opposition",
                name_of(input),
                span(self.range.steer, unit_of(input))
            );
        } else {
            words += " of either wheel";
        }
        wrap(&format!("{words}: {} poses", self.found.poses), 96, "  ")
    }

    /// Columns after the first ones: the pose.
    fn with_pose(&self, mut columns: Vec<(String, Align)>) -> Table {
        let unit = Unit::Length.symbol(self.lengths);
        // Two columns more, before and after, leave less room.
        let at = if self.was.is_some() { "at\ntravel" } else { "at travel" };
        columns.extend(Side::BOTH.map(|side| (format!("{at}\n{side}\n{unit}"), Align::Right)));
        if self.steered() {
            let input = self.input();
            let name = name_of(input).replace(' ', "\n");
            columns.push((format!("{name}\n{}", unit_of(input).symbol(self.lengths)), Align::Right));
        }
        Table::with_columns(columns)
    }

    fn pose(&self, pose: &AxlePose) -> Vec<String> {
        let mut cells: Vec<String> =
            pose.travel.iter().map(|&t| Unit::Length.write_number(t, self.lengths)).collect();
        if self.steered() {
            cells.push(unit_of(self.input()).write_number(pose.steer, self.lengths));
        }
        cells
    }

    fn distances(&self) -> String {
        let unit = Unit::Length.symbol(self.lengths);
        let mut columns = vec![("Smallest distances".to_owned(), Align::Left), (String::new(), Align::Left)];
        if self.was.is_some() {
            columns.extend(["before", "after"].map(|when| (format!("apart\n{when}\n{unit}"), Align::Right)));
        } else {
            columns.push((format!("apart\n{unit}"), Align::Right));
            columns.extend(["x", "y", "z"].map(|axis| (format!("there\n{axis} {unit}"), Align::Right)));
        }
        let mut table = self.with_pose(columns);
        let shown = if self.all { usize::MAX } else { FEW };
        for one in self.found.pairs.iter().take(shown) {
            let [a, b] = one.of;
            let write = |length: f64| Unit::Length.write_number(length, self.lengths);
            let second = if (a.end, a.side) == (b.end, b.side) { b.what.to_string() } else { b.to_string() };
            let mut row = vec![a.to_string(), second];
            match self.was {
                Some(was) => {
                    let pair = was.pairs.iter().find(|pair| pair.of == one.of);
                    row.push(pair.map_or_else(|| "—".to_owned(), |pair| write(pair.distance)));
                    row.push(write(one.distance));
                }
                None => {
                    row.push(write(one.distance));
                    row.extend(one.at[0].iter().map(|&x| write(x)));
                }
            }
            row.extend(self.pose(&one.pose));
            table.row(row);
        }
        table.text()
    }

    fn joints(&self) -> String {
        let mut columns = vec![("Joints".to_owned(), Align::Left), (String::new(), Align::Left)];
        if self.was.is_some() {
            columns.push(("turned\nbefore\n°".to_owned(), Align::Right));
        }
        columns.extend(["turns\n°", "may\n°", "left\n°"].map(|name| (name.to_owned(), Align::Right)));
        let mut table = self.with_pose(columns);
        let limited = self.found.joints.iter().filter(|one| one.limit.is_some()).count();
        let shown = if self.all { usize::MAX } else { limited.max(FEW) };
        for one in self.found.joints.iter().take(shown) {
            let degrees = |angle: Option<f64>| {
                angle.map_or_else(|| "—".to_owned(), |a| Unit::Degree.write_number(a, self.lengths))
            };
            let bolt = if one.on_bolt { " (on its bolt)" } else { "" };
            let mut row = vec![one.wheel.to_string(), format!("{}{bolt}", one.joint)];
            if let Some(was) = self.was {
                let joint = was.joints.iter().find(|was| (was.wheel, was.joint) == (one.wheel, one.joint));
                row.push(degrees(joint.map(|was| was.angle)));
            }
            row.extend([degrees(Some(one.angle)), degrees(one.limit), degrees(one.margin())]);
            row.extend(self.pose(&one.pose));
            table.row(row);
        }
        table.text()
    }

    fn stops(&self) -> String {
        let mut columns = vec![("Stops".to_owned(), Align::Left)];
        if self.was.is_some() {
            columns.push(("left before".to_owned(), Align::Right));
        }
        columns.push(("left".to_owned(), Align::Right));
        let mut table = self.with_pose(columns);
        for one in &self.found.stops {
            let unit = match one.stop {
                StopOf::Steering { .. } => unit_of(self.input()),
                StopOf::DamperShort(_) | StopOf::DamperLong(_) => Unit::Length,
            };
            let mut row = vec![one.stop.to_string()];
            if let Some(was) = self.was {
                let stop = was.stops.iter().find(|was| was.stop == one.stop);
                row.push(stop.map_or_else(|| "—".to_owned(), |was| unit.write(was.margin, self.lengths)));
            }
            row.push(unit.write(one.margin, self.lengths));
            row.extend(self.pose(&one.pose));
            table.row(row);
        }
        table.text()
    }

    fn notes(&self) -> String {
        let found = self.found;
        let mut text = String::new();
        let mut note = |words: &str| text += &format!("\n{}\n", wrap(words, 96, "  "));
        let searched = found.pairs.iter().filter(|one| one.refined).count();
        note(&format!(
            "{} pairs; the nearest {searched} searched for a worse pose between the nodes of the grid, about the \
             worst node; the others at its nodes.",
            found.pairs.len()
        ));
        if found.joints.iter().any(|one: &JointAngle| !one.on_bolt) {
            note("Joints without a bolt (`joint_axes`) count the swing from the design pose.");
        }
        let radii = assumed(&found.assumed_radii, self.lengths);
        if !radii.is_empty() {
            note(&format!("Radii taken where the file says nothing (this program's own figures): {radii}."));
        }
        if !found.assumed_rims.is_empty() {
            let wheels: Vec<String> = found.assumed_rims.iter().map(ToString::to_string).collect();
            note(&format!(
                "Without `rim_width` or `rim_inner_radius` the tyre's bore, at the rim's radius and as wide as \
                 the tyre, stands for the rim: {}.",
                wheels.join(", ")
            ));
        }
        if self.was.is_some() {
            note("The poses are those after the proposals; in rows of joints and stops too.");
        }
        note(LEFT_OUT);
        if self.all {
            let pairs: Vec<String> = found.joined.iter().map(|[a, b]| format!("{a} and {b}")).collect();
            note(&format!("Left out, being joined: {}.", pairs.join("; ")));
        } else {
            let joined = found.joined.len();
            note(&format!("Left out, being joined to one another: {joined} pairs (--all names them)."));
        }
        text
    }
}

/// What is not looked at.
const LEFT_OUT: &str = "Not looked at, their shape being unknown: body, uprights, brakes, driveshafts, rockers, \
                        trailing arms, an axle's tube, rack or centre link; the wheel's disc.";

/// The radii that were taken, each with its parts.
fn assumed(radii: &[(Option<Side>, Part, f64)], lengths: LengthUnit) -> String {
    let mut parts: BTreeMap<String, Vec<&str>> = BTreeMap::new();
    for (_, part, radius) in radii {
        let known = parts.entry(Unit::Length.write(*radius, lengths)).or_default();
        if !known.contains(&part.label()) {
            known.push(part.label());
        }
    }
    let words: Vec<String> =
        parts.iter().map(|(radius, parts)| format!("{radius} {}", parts.join(", "))).collect();
    words.join("; ")
}
