//! What `clearances` says to people.

use crate::steer::{name_of, unit_of};
use std::collections::BTreeMap;
use wheelpath_geometry::{AxlePose, Car, LengthUnit, Part, Side, SteerInput, Unit};
use wheelpath_report::{Align, Table, wrap};
use wheelpath_studies::clearance::{Clearances, JointAngle, Range, StopOf};

/// The nearest pairs, and joints without a limit, that are shown unless all are asked for.
const FEW: usize = 10;

/// What was found, axle by axle, and how it was counted.
pub(crate) fn in_words(car: &Car, found: &[(Clearances, Range)], all: bool, lengths: LengthUnit) -> String {
    let mut text = format!("{}: will it fit\n", car.name);
    for (one, range) in found {
        let words = Words { car, found: one, range, all, lengths };
        text += &words.text();
    }
    text
}

struct Words<'a> {
    car: &'a Car,
    found: &'a Clearances,
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
        columns.extend(Side::BOTH.map(|side| (format!("at travel\n{side}\n{unit}"), Align::Right)));
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
        let mut columns = vec![
            ("Smallest distances".to_owned(), Align::Left),
            (String::new(), Align::Left),
            (format!("apart\n{unit}"), Align::Right),
        ];
        columns.extend(["x", "y", "z"].map(|axis| (format!("there\n{axis} {unit}"), Align::Right)));
        let mut table = self.with_pose(columns);
        let shown = if self.all { usize::MAX } else { FEW };
        for one in self.found.pairs.iter().take(shown) {
            let [a, b] = one.of;
            let write = |length: f64| Unit::Length.write_number(length, self.lengths);
            let second = if (a.end, a.side) == (b.end, b.side) { b.what.to_string() } else { b.to_string() };
            let mut row = vec![a.to_string(), second, write(one.distance)];
            row.extend(one.at[0].iter().map(|&x| write(x)));
            row.extend(self.pose(&one.pose));
            table.row(row);
        }
        table.text()
    }

    fn joints(&self) -> String {
        let mut table = self.with_pose(vec![
            ("Joints".to_owned(), Align::Left),
            (String::new(), Align::Left),
            ("turns\n°".to_owned(), Align::Right),
            ("may\n°".to_owned(), Align::Right),
            ("left\n°".to_owned(), Align::Right),
        ]);
        let limited = self.found.joints.iter().filter(|one| one.limit.is_some()).count();
        let shown = if self.all { usize::MAX } else { limited.max(FEW) };
        for one in self.found.joints.iter().take(shown) {
            let degrees = |angle: Option<f64>| {
                angle.map_or_else(|| "—".to_owned(), |a| Unit::Degree.write_number(a, self.lengths))
            };
            let bolt = if one.on_bolt { " (on its bolt)" } else { "" };
            let mut row = vec![
                one.wheel.to_string(),
                format!("{}{bolt}", one.joint),
                degrees(Some(one.angle)),
                degrees(one.limit),
                degrees(one.reserve()),
            ];
            row.extend(self.pose(&one.pose));
            table.row(row);
        }
        table.text()
    }

    fn stops(&self) -> String {
        let mut table =
            self.with_pose(vec![("Stops".to_owned(), Align::Left), ("left".to_owned(), Align::Right)]);
        for one in &self.found.stops {
            let unit = match one.stop {
                StopOf::Steering { .. } => unit_of(self.input()),
                StopOf::DamperShort(_) | StopOf::DamperLong(_) => Unit::Length,
            };
            let mut row = vec![one.stop.to_string(), unit.write(one.reserve, self.lengths)];
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
            note(&format!("Radii taken where the file says nothing (common practice, no source): {radii}."));
        }
        if !found.assumed_rims.is_empty() {
            let wheels: Vec<String> = found.assumed_rims.iter().map(ToString::to_string).collect();
            note(&format!(
                "Without `rim_width` or `rim_inner_radius` the tyre's bore, at the rim's radius and as wide as \
                 the tyre, stands for the rim: {}.",
                wheels.join(", ")
            ));
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
