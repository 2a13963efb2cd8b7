//! What of a car can be changed, one thing at a time: its name, its key and its unit.

use crate::car::axis::Axis;
use crate::car::hardpoint::{Hardpoint, Link};
use crate::number::unit::Unit;
use std::fmt;

/// One thing of a corner or an axle that can be changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Parameter {
    /// A point in the design pose.
    Point(Hardpoint),
    /// The wheel centre in the design pose.
    WheelCentre,
    /// The length of a link: stated, or left to follow from its points.
    Length(Link),
    /// A number of the wheel.
    Wheel(WheelNumber),
    /// A number of the axle's steering.
    Steering(SteeringNumber),
    /// The rate of a spring or an anti-roll bar.
    Spring(SpringNumber),
}

/// A number of a wheel in the design pose.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum WheelNumber {
    /// Static camber to the body, radians, + = top outboard.
    Camber,
    /// Static toe, radians, + = in.
    Toe,
    /// Radius of the tyre, metres.
    TyreRadius,
    /// Width of the tyre, metres.
    TyreWidth,
    /// Radius of the tread's round cross-section, metres.
    TyreShoulderRadius,
    /// Radius of the rim, metres.
    RimRadius,
}

/// A number of a rack or steering box.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum SteeringNumber {
    /// Rack travel for one turn of the steering wheel, metres.
    TravelPerTurn,
    /// Turns of the steering wheel for one of the pitman arm.
    Ratio,
    /// Rack travel to the stop toward the left, metres.
    StopLeft,
    /// Rack travel to the stop toward the right, metres.
    StopRight,
    /// Turn of the pitman arm to its stop in a left turn, radians.
    StopLeftAngle,
    /// Turn of the pitman arm to its stop in a right turn, radians.
    StopRightAngle,
}

/// The rate of a spring or an anti-roll bar.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum SpringNumber {
    /// Rate of a corner's spring, newtons per metre.
    SpringRate,
    /// Rate of a corner's torsion bar, newton metres per radian.
    TorsionBarRate,
    /// Rate of an axle's anti-roll bar, newton metres per radian of twist.
    BarRate,
    /// Rate of an axle's third spring, newtons per metre.
    ThirdSpringRate,
}

/// One number of a corner, or of an axle as a whole, to which there are derivatives.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum ScalarParameter {
    /// A coordinate of a point, or of the wheel centre, in the design pose, metres.
    Coordinate(Parameter, Axis),
    /// A parameter that is a number. Of a link's length the end points' places are kept.
    Number(Parameter),
    /// The camber adjuster of the linkage, metres; + puts the wheel's top outboard. Shims between
    /// upright and upper ball joint: + moves the joint inboard on the upright. A strut's top mount: +
    /// moves it outboard. An upper link: + makes it longer.
    CamberAdjuster,
}

impl WheelNumber {
    /// What it is, in a sentence.
    #[must_use]
    pub fn definition(self) -> &'static str {
        match self {
            WheelNumber::Camber => "Static camber to the body; + = top outboard.",
            WheelNumber::Toe => "Static toe of this wheel; + = toe-in.",
            WheelNumber::TyreRadius => "Radius of the tyre in its middle plane.",
            WheelNumber::TyreWidth => "Width of the tyre: for pictures, and for the distances of parts.",
            WheelNumber::TyreShoulderRadius => {
                "Radius of the tread's round cross-section, which the contact goes round with camber; 0 = a disc."
            }
            WheelNumber::RimRadius => {
                "Radius of the rim, where the tyre begins: for pictures, and for the distances of parts."
            }
        }
    }

    /// Every number of a wheel.
    pub const ALL: [WheelNumber; 6] = [
        WheelNumber::Camber,
        WheelNumber::Toe,
        WheelNumber::TyreRadius,
        WheelNumber::TyreWidth,
        WheelNumber::TyreShoulderRadius,
        WheelNumber::RimRadius,
    ];

    /// Key of data.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            WheelNumber::Camber => "camber",
            WheelNumber::Toe => "toe",
            WheelNumber::TyreRadius => "tyre_radius",
            WheelNumber::TyreWidth => "tyre_width",
            WheelNumber::TyreShoulderRadius => "tyre_shoulder_radius",
            WheelNumber::RimRadius => "rim_radius",
        }
    }

    /// The name in words.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            WheelNumber::Camber => "static camber",
            WheelNumber::Toe => "static toe",
            WheelNumber::TyreRadius => "tyre radius",
            WheelNumber::TyreWidth => "tyre width",
            WheelNumber::TyreShoulderRadius => "tyre shoulder radius",
            WheelNumber::RimRadius => "rim radius",
        }
    }

    /// Its unit.
    #[must_use]
    pub fn unit(self) -> Unit {
        match self {
            WheelNumber::Camber | WheelNumber::Toe => Unit::Degree,
            _ => Unit::Length,
        }
    }
}

impl SteeringNumber {
    /// What it is, in a sentence.
    #[must_use]
    pub fn definition(self) -> &'static str {
        match self {
            SteeringNumber::TravelPerTurn => {
                "Rack travel for one turn of the steering wheel; − where a left turn moves the rack to the right."
            }
            SteeringNumber::Ratio => {
                "Turns of the steering wheel for one turn of the pitman arm; − where a left turn of the steering wheel \
                 turns the arm clockwise, seen from above."
            }
            SteeringNumber::StopLeft => "Rack travel from the middle to the stop toward the left.",
            SteeringNumber::StopRight => {
                "Rack travel from the middle to the stop toward the right, as a positive number."
            }
            SteeringNumber::StopLeftAngle => {
                "Turn of the pitman arm from the middle to its stop in a left turn."
            }
            SteeringNumber::StopRightAngle => {
                "Turn of the pitman arm from the middle to its stop in a right turn, as a positive number."
            }
        }
    }

    /// Every number of the steering.
    pub const ALL: [SteeringNumber; 6] = [
        SteeringNumber::TravelPerTurn,
        SteeringNumber::Ratio,
        SteeringNumber::StopLeft,
        SteeringNumber::StopRight,
        SteeringNumber::StopLeftAngle,
        SteeringNumber::StopRightAngle,
    ];

    /// Key of data.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            SteeringNumber::TravelPerTurn => "travel_per_turn",
            SteeringNumber::Ratio => "ratio",
            SteeringNumber::StopLeft => "stop_left",
            SteeringNumber::StopRight => "stop_right",
            SteeringNumber::StopLeftAngle => "stop_left_angle",
            SteeringNumber::StopRightAngle => "stop_right_angle",
        }
    }

    /// The name in words.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            SteeringNumber::TravelPerTurn => "rack travel per turn",
            SteeringNumber::Ratio => "steering box ratio",
            SteeringNumber::StopLeft | SteeringNumber::StopLeftAngle => "steering stop, left",
            SteeringNumber::StopRight | SteeringNumber::StopRightAngle => "steering stop, right",
        }
    }
}

impl SpringNumber {
    /// Every rate.
    pub const ALL: [SpringNumber; 4] = [
        SpringNumber::SpringRate,
        SpringNumber::TorsionBarRate,
        SpringNumber::BarRate,
        SpringNumber::ThirdSpringRate,
    ];

    /// Whether an axle as a whole has it, not a corner.
    #[must_use]
    pub fn is_of_axle(self) -> bool {
        !matches!(self, SpringNumber::SpringRate | SpringNumber::TorsionBarRate)
    }

    /// What it is, in a sentence.
    #[must_use]
    pub fn definition(self) -> &'static str {
        match self {
            SpringNumber::SpringRate => "Rate of the spring itself, not at the wheel.",
            SpringNumber::TorsionBarRate => {
                "Moment for a degree of twist of the torsion bar that springs the wheel."
            }
            SpringNumber::BarRate => "Moment for a degree of twist of the anti-roll bar.",
            SpringNumber::ThirdSpringRate => "Rate of the spring across the axle.",
        }
    }

    /// Key of data.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            SpringNumber::SpringRate => "spring_rate",
            SpringNumber::TorsionBarRate => "torsion_bar_rate",
            SpringNumber::BarRate => "bar_rate",
            SpringNumber::ThirdSpringRate => "third_spring_rate",
        }
    }

    /// The name in words.
    #[must_use]
    pub fn label(self) -> &'static str {
        match self {
            SpringNumber::SpringRate => "spring rate",
            SpringNumber::TorsionBarRate => "torsion bar rate",
            SpringNumber::BarRate => "anti-roll bar rate",
            SpringNumber::ThirdSpringRate => "third spring rate",
        }
    }
}

impl Parameter {
    /// Key of data.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Parameter::Point(hardpoint) => hardpoint.key(),
            Parameter::WheelCentre => "wheel_centre",
            Parameter::Length(link) => link.key(),
            Parameter::Wheel(number) => number.key(),
            Parameter::Steering(number) => number.key(),
            Parameter::Spring(of) => of.key(),
        }
    }

    /// What it is, in a sentence.
    #[must_use]
    pub fn definition(self) -> &'static str {
        match self {
            Parameter::Point(_) => "A point in the design pose: X forward, Y left, Z up.",
            Parameter::WheelCentre => "The wheel centre in the design pose: X forward, Y left, Z up.",
            Parameter::Length(_) => {
                "Length in the design pose: the distance between its points, unless a number is given here."
            }
            Parameter::Wheel(number) => number.definition(),
            Parameter::Steering(number) => number.definition(),
            Parameter::Spring(of) => of.definition(),
        }
    }

    /// Whether it is a place, with three coordinates.
    #[must_use]
    pub fn is_place(self) -> bool {
        matches!(self, Parameter::Point(_) | Parameter::WheelCentre)
    }
}

impl fmt::Display for Parameter {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Parameter::Point(hardpoint) => hardpoint.fmt(f),
            Parameter::WheelCentre => f.write_str("wheel centre"),
            Parameter::Length(link) => write!(f, "{link}, length"),
            Parameter::Wheel(number) => f.write_str(number.label()),
            Parameter::Steering(number) => f.write_str(number.label()),
            Parameter::Spring(of) => f.write_str(of.label()),
        }
    }
}

impl ScalarParameter {
    /// The radius of the tyre.
    pub const TYRE_RADIUS: ScalarParameter =
        ScalarParameter::Number(Parameter::Wheel(WheelNumber::TyreRadius));

    /// A coordinate of a point.
    #[must_use]
    pub const fn point(hardpoint: Hardpoint, axis: Axis) -> ScalarParameter {
        ScalarParameter::Coordinate(Parameter::Point(hardpoint), axis)
    }

    /// A coordinate of the wheel centre.
    #[must_use]
    pub const fn wheel_centre(axis: Axis) -> ScalarParameter {
        ScalarParameter::Coordinate(Parameter::WheelCentre, axis)
    }

    /// The length of a link.
    #[must_use]
    pub const fn length(link: Link) -> ScalarParameter {
        ScalarParameter::Number(Parameter::Length(link))
    }

    /// The parameter of which it is the number or a coordinate; `None` for an adjuster, which no car states.
    #[must_use]
    pub fn of(self) -> Option<Parameter> {
        match self {
            ScalarParameter::Coordinate(parameter, _) | ScalarParameter::Number(parameter) => Some(parameter),
            ScalarParameter::CamberAdjuster => None,
        }
    }

    /// The axis of a coordinate.
    #[must_use]
    pub fn axis(self) -> Option<Axis> {
        match self {
            ScalarParameter::Coordinate(_, axis) => Some(axis),
            ScalarParameter::Number(_) | ScalarParameter::CamberAdjuster => None,
        }
    }

    /// Whether it is a number of an axle as a whole, not of a corner.
    #[must_use]
    pub fn is_of_axle(self) -> bool {
        match self.of() {
            Some(Parameter::Point(hardpoint)) => hardpoint.is_of_axle(),
            Some(Parameter::Length(link)) => link.is_of_axle(),
            Some(Parameter::Steering(_)) => true,
            Some(Parameter::Spring(of)) => of.is_of_axle(),
            Some(Parameter::WheelCentre | Parameter::Wheel(_)) | None => false,
        }
    }
}
