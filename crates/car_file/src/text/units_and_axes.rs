//! Units and axes of a file against metres and X forward, Y left, Z up.

use nalgebra::Vector3;
use std::fmt;
use wheelpath_geometry::LengthUnit;

/// How a file says and counts units of length.
pub(crate) trait FileUnits: Sized {
    /// The word in a car file.
    fn word(self) -> &'static str;
    /// `mm` or `in`.
    fn symbol(self) -> &'static str;
    /// Units by a word or symbol in a table.
    fn from_name(name: &str) -> Option<Self>;
    /// A length in these units, in metres.
    fn to_metres(self, length: f64) -> f64;
    /// A length in metres, in these units.
    fn in_units(self, metres: f64) -> f64;
}

/// Both, by their words.
pub(crate) const UNITS: &[(&str, LengthUnit)] =
    &[("Millimetre", LengthUnit::Millimetre), ("Inch", LengthUnit::Inch)];

impl FileUnits for LengthUnit {
    fn word(self) -> &'static str {
        match self {
            LengthUnit::Millimetre => "Millimetre",
            LengthUnit::Inch => "Inch",
        }
    }

    fn symbol(self) -> &'static str {
        match self {
            LengthUnit::Millimetre => "mm",
            LengthUnit::Inch => "in",
        }
    }

    fn from_name(name: &str) -> Option<Self> {
        match name.trim().to_lowercase().as_str() {
            "mm" | "millimetre" | "millimetres" | "millimeter" | "millimeters" => {
                Some(LengthUnit::Millimetre)
            }
            "in" | "inch" | "inches" | "\"" => Some(LengthUnit::Inch),
            _ => None,
        }
    }

    // Dividing, not multiplying by 0.001, gives the double nearest to the decimal that was written.
    fn to_metres(self, length: f64) -> f64 {
        match self {
            LengthUnit::Millimetre => length / 1000.0,
            LengthUnit::Inch => length * 25.4 / 1000.0,
        }
    }

    fn in_units(self, metres: f64) -> f64 {
        match self {
            LengthUnit::Millimetre => metres * 1000.0,
            LengthUnit::Inch => metres * 1000.0 / 25.4,
        }
    }
}

/// Which way an axis of a file points.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    /// Out of the nose.
    Forward,
    /// Out of the tail.
    Rearward,
    /// To the driver's left.
    Left,
    /// To the driver's right.
    Right,
    /// Off the road.
    Up,
    /// Into the road.
    Down,
}

impl Direction {
    /// All six.
    pub const ALL: [Direction; 6] = [
        Direction::Forward,
        Direction::Rearward,
        Direction::Left,
        Direction::Right,
        Direction::Up,
        Direction::Down,
    ];

    /// The word in a car file.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Direction::Forward => "Forward",
            Direction::Rearward => "Rearward",
            Direction::Left => "Left",
            Direction::Right => "Right",
            Direction::Up => "Up",
            Direction::Down => "Down",
        }
    }

    /// The vehicle axis along it (0 = X, 1 = Y, 2 = Z) and the sign against it.
    pub(crate) fn axis_and_sign(self) -> (usize, f64) {
        match self {
            Direction::Forward => (0, 1.0),
            Direction::Rearward => (0, -1.0),
            Direction::Left => (1, 1.0),
            Direction::Right => (1, -1.0),
            Direction::Up => (2, 1.0),
            Direction::Down => (2, -1.0),
        }
    }

    fn unit(self) -> Vector3<f64> {
        let (axis, sign) = self.axis_and_sign();
        let mut unit = Vector3::zeros();
        unit[axis] = sign;
        unit
    }
}

/// The arrangement of a file's axes: right-handed, each along another axis of the vehicle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Axes([Direction; 3]);

/// Why three directions are no axes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum AxesFault {
    /// These two (0 = x, 1 = y, 2 = z) run along the same line.
    Parallel(usize, usize),
    /// They are left-handed.
    LeftHanded,
}

impl Axes {
    /// X forward, Y left, Z up.
    pub const VEHICLE: Axes = Axes([Direction::Forward, Direction::Left, Direction::Up]);

    /// Axes x, y and z pointing in these directions.
    ///
    /// # Errors
    /// Two along one line, or left-handed.
    pub fn new(directions: [Direction; 3]) -> Result<Axes, AxesFault> {
        let [x, y, z] = directions.map(Direction::unit);
        for (i, j, a, b) in [(0, 1, x, y), (0, 2, x, z), (1, 2, y, z)] {
            if a.dot(&b) != 0.0 {
                return Err(AxesFault::Parallel(i, j));
            }
        }
        if x.cross(&y).dot(&z) > 0.0 { Ok(Axes(directions)) } else { Err(AxesFault::LeftHanded) }
    }

    /// Where x, y and z point.
    #[must_use]
    pub fn directions(&self) -> [Direction; 3] {
        self.0
    }

    /// A triple along these axes in vehicle axes.
    #[must_use]
    pub fn to_vehicle(&self, along: [f64; 3]) -> Vector3<f64> {
        let mut vehicle = Vector3::zeros();
        for (value, direction) in along.iter().zip(self.0) {
            let (axis, sign) = direction.axis_and_sign();
            vehicle[axis] = sign * value;
        }
        vehicle
    }

    /// A vector in vehicle axes along these axes.
    #[must_use]
    pub fn from_vehicle(&self, vehicle: &Vector3<f64>) -> [f64; 3] {
        self.0.map(|direction| {
            let (axis, sign) = direction.axis_and_sign();
            sign * vehicle[axis]
        })
    }

    /// A point in these axes and units, in metres and vehicle axes.
    #[must_use]
    pub fn point_to_vehicle(&self, point: [f64; 3], units: LengthUnit) -> Vector3<f64> {
        self.to_vehicle(point.map(|length| units.to_metres(length)))
    }
}

/// How the lengths and points of a file are counted.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Measures {
    pub units: LengthUnit,
    pub axes: Axes,
}

impl Measures {
    /// A length in the core's metres.
    pub fn length(self, written: f64) -> f64 {
        self.units.to_metres(written)
    }

    /// A point in metres and vehicle axes.
    pub fn point(self, written: [f64; 3]) -> Vector3<f64> {
        self.axes.point_to_vehicle(written, self.units)
    }
}

impl fmt::Display for Axes {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let [x, y, z] = self.0.map(|d| d.word().to_lowercase());
        write!(f, "x {x}, y {y}, z {z}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn of_all_arrangements_half_of_the_independent_ones_are_right_handed() {
        let mut counts = [0; 3];
        for x in Direction::ALL {
            for y in Direction::ALL {
                for z in Direction::ALL {
                    match Axes::new([x, y, z]) {
                        Ok(axes) => {
                            counts[0] += 1;
                            let there = axes.to_vehicle([1.0, 2.0, 3.0]);
                            assert_eq!(
                                axes.from_vehicle(&there).map(f64::to_bits),
                                [1.0, 2.0, 3.0].map(f64::to_bits)
                            );
                            let [a, b, c] = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]
                                .map(|e| axes.to_vehicle(e));
                            assert_eq!(a.cross(&b), c);
                        }
                        Err(AxesFault::LeftHanded) => counts[1] += 1,
                        Err(AxesFault::Parallel(..)) => counts[2] += 1,
                    }
                }
            }
        }
        assert_eq!(counts, [24, 24, 168]);
    }

    #[test]
    fn x_rearward_y_right_z_up_turns_the_car_round() {
        let axes = Axes::new([Direction::Rearward, Direction::Right, Direction::Up]).unwrap();
        let point = axes.point_to_vehicle([10.0, -20.0, 3.0], LengthUnit::Inch);
        assert!((point - Vector3::new(-0.254, 0.508, 0.0762)).norm() < 1e-15, "{point}");
    }
}
