//! What is usual on cars: ranges that `check` holds a car's measures against. They are wide enough for small
//! single-seaters, saloons and lorries alike; what lies outside is not impossible, but look again.
//!
//! Every range here, and every reason beside one, is common practice, no source.

use crate::number::unit::{LengthUnit, Unit};
use std::f64::consts::PI;

/// How a measure is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Count {
    /// Metres.
    Length,
    /// Metres; the range is in radii of the tyre.
    TyreRadii,
    /// Radians, shown in degrees.
    Angle,
    /// A ratio.
    Ratio,
    /// A ratio, shown in percent.
    Percent,
    /// Radians per metre of travel; the range is in degrees per 25 mm.
    AnglePerTravel,
    /// Newtons per metre; the range is in newtons per millimetre.
    SpringRate,
    /// Newton metres per radian, shown in newton metres per degree.
    TwistRate,
    /// Hertz.
    Frequency,
    /// Kilograms per square metre of wheelbase times track.
    MassPerArea,
}

impl Count {
    /// What a number of the range is in SI.
    fn si(self, size: f64) -> f64 {
        match self {
            Count::Length => 1.0,
            Count::Percent => 0.01,
            Count::TyreRadii => size,
            Count::Angle => PI / 180.0,
            Count::AnglePerTravel => PI / 180.0 / 0.025,
            Count::SpringRate => 1e3,
            Count::TwistRate => 180.0 / PI,
            Count::Ratio | Count::Frequency | Count::MassPerArea => 1.0,
        }
    }

    /// A value in SI as it is shown beside lengths in this unit.
    fn shown(self, value: f64, lengths: LengthUnit) -> String {
        let of = |unit: Unit, decimals: usize| unit.write_to(value, lengths, decimals);
        let number = |value: f64, decimals: usize| Unit::Ratio.write_to(value, lengths, decimals);
        match self {
            Count::Length | Count::TyreRadii => lengths.say(value, 0),
            Count::Angle => of(Unit::Degree, 1),
            Count::Ratio => number(value, 2),
            Count::Percent => of(Unit::Percent, 0),
            Count::AnglePerTravel => of(Unit::DegreePerMetre, 2),
            Count::SpringRate => of(Unit::SpringRate, 1),
            Count::TwistRate => number(value * PI / 180.0, 1) + " Nm/°",
            Count::Frequency => number(value, 1) + " Hz",
            Count::MassPerArea => number(value, 0) + " kg/m²",
        }
    }
}

/// A measure of a car, and what is usual for it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Usual {
    /// The measure, in words with an article.
    pub what: &'static str,
    /// The least that is usual, as counted.
    pub low: f64,
    /// The most that is usual, as counted.
    pub high: f64,
    /// How it is counted.
    pub count: Count,
    /// What a value outside would mean; `{way}` is out where it is too much, in where it is too little.
    pub means: &'static str,
}

impl Usual {
    /// The range in SI, for a tyre of this radius, metres.
    #[must_use]
    pub fn range(&self, tyre_radius: f64) -> [f64; 2] {
        let si = self.count.si(tyre_radius);
        [self.low * si, self.high * si]
    }

    /// How far a value in SI lies outside, in widths of the range; zero within it.
    #[must_use]
    pub fn out(&self, value: f64, tyre_radius: f64) -> f64 {
        let [low, high] = self.range(tyre_radius);
        (value - high).max(low - value).max(0.0) / (high - low)
    }

    /// A value outside the range, in words: what it is, by how much it is out, and what that would mean. `name` is
    /// the point or part that is measured, where the measure has one.
    #[must_use]
    pub fn said(&self, value: f64, tyre_radius: f64, name: &str, lengths: LengthUnit) -> String {
        let [low, high] = self.range(tyre_radius);
        // What is looked at over 25 mm of travel is looked at over just that on a car in inches.
        let what = self.what.replace("{}", name).replace("25 mm", &lengths.say(0.025, 0));
        let shown = |value| self.count.shown(value, lengths);
        let (beyond, side, end, way) = if value > high {
            (value - high, "more than the most", high, "out")
        } else {
            (low - value, "less than the least", low, "in")
        };
        format!(
            "{what} is {}, {} {side} that is usual, {}: {}",
            shown(value),
            shown(beyond),
            shown(end),
            self.means.replace("{way}", way)
        )
    }
}

macro_rules! usual {
    ($($name:ident = $what:literal, $low:literal .. $high:literal, $count:ident, $means:literal;)*) => {
        $(pub(super) const $name: Usual =
            Usual { what: $what, low: $low, high: $high, count: Count::$count, means: $means };)*
    };
}

// The whole car.
usual! {
    WHEELBASE = "the wheelbase", 0.95 .. 5.0, Length, "a wheel centre or the file's units are wrong";
    WHEELBASE_SHARE = "half the track over the wheelbase", 0.19 .. 0.55, Ratio, "the car would be out of all proportion";
    HALF_TRACK = "the half track", 0.4 .. 1.2, Length, "the wheel would stand at no car's width";
    TRACKS_ALIKE = "the front track over the rear track", 0.92 .. 1.08, Ratio, "one axle would be far wider than the other";
    SIDES_ALIKE = "the middle between the two wheels, off the centre plane,", -0.04 .. 0.04, Length, "one wheel would stand further out than the other";
    SET_BACK = "the left wheel centre ahead of the right one", -0.03 .. 0.03, Length, "the axle would stand askew";
    WIDTHS_ALIKE = "the left tyre's width over the right one's", 0.72 .. 1.4, Ratio, "one tyre would be of another kind than its twin";
    RADII_ALIKE = "the left tyre's radius over the right one's", 0.92 .. 1.08, Ratio, "the axle would stand askew on tyres of two kinds";
    SPRINGS_ALIKE = "the left spring's rate over the right one's", 0.4 .. 2.5, Ratio, "one side would be sprung far harder than the other";
    FRONT_WIDTH = "the front tyre's width over the rear one's", 0.6 .. 1.15, Ratio, "one axle would have tyres of another car";
    RAKE = "the ground's slope along the car, by the tyres' lowest points,", -1.2 .. 1.2, Angle, "one axle would hang in the air or stand under the ground";
    GROUND_TILT = "the ground's slope across the axle, by the tyres' lowest points,", -0.4 .. 0.4, Angle, "one tyre would hang in the air";
    GROUND_TWIST = "the height of one tyre off the plane of the other three", -0.004 .. 0.004, Length, "the four tyres would not stand on one plane";
    OFF_ZERO = "the height of the tyre's lowest point over Z = 0, on which the other axle's tyres stand,", -0.015 .. 0.015, Length, "the tyre would hang in the air or stand under the ground: its radius or the height of its wheel centre is wrong";
    ONE_OFF_GROUND = "the height of this one tyre's lowest point over that of the other three", -0.008 .. 0.008, Length, "the tyre would hang in the air or stand under the ground: its radius or the height of its wheel centre is wrong";
    LEFT_SHARE = "the left wheels' share of the weight", 38.0 .. 63.0, Percent, "loads would stand at the wrong wheels";
    CROSS_WEIGHT = "the cross weight", 40.0 .. 62.0, Percent, "loads would stand at the wrong wheels";
    FREQUENCIES_ALIKE = "the front wheels' natural frequency over the rear ones'", 0.6 .. 1.7, Ratio, "springs or loads of the two axles may have changed places";
    WHEEL_RATES_ALIKE = "the front springs' rate at the wheel over the rear ones'", 0.3 .. 3.5, Ratio, "springs of the two axles may have changed places";
    FREQUENCY_SIDES = "the left wheel's natural frequency over the right one's", 0.6 .. 1.67, Ratio, "springs or loads of the two sides may have changed places";
    GRAVITY_HEIGHT = "the height of the centre of gravity", 0.75 .. 2.4, TyreRadii, "load transfer, anti-dive and anti-squat would come out wrong";
    BRAKE_SHARE = "the front's share of the braking", 40.0 .. 85.0, Percent, "anti-dive and anti-lift would come out wrong";
    WEIGHT_SHARE = "the front's share of the weight", 30.0 .. 70.0, Percent, "the car would hardly stand on one of its axles";
    // Bare single-seaters come to 70, saloons to 350, loaded vans to 600.
    MASS = "the mass over wheelbase and track", 60.0 .. 650.0, MassPerArea, "wheel loads, frequencies and roll would come out wrong";
}

// The wheel.
usual! {
    TYRE_RADIUS = "the tyre's radius", 0.12 .. 0.6, Length, "the wheel would fit no car";
    TYRE_WIDTH = "the tyre's width", 0.5 .. 1.4, TyreRadii, "the tyre would be a hoop or a roller";
    RIM = "the rim's radius", 0.45 .. 0.86, TyreRadii, "the tyre would have no side wall, or the rim no room for a brake";
    SHOULDER = "the tyre's shoulder radius", 0.0 .. 0.45, TyreRadii, "the tread would be as round as a motorcycle's";
    RIM_WIDTH = "the rim's width over the tyre's", 0.55 .. 1.2, Ratio, "the tyre would not sit on the rim";
    RIM_INSIDE = "the clear radius inside the rim over the rim's", 0.8 .. 1.0, Ratio, "the barrel would be as thick as a wall";
    CAMBER = "the static camber", -6.5 .. 5.0, Angle, "the tyre would run on its edge";
    AXLE_CAMBER = "the mean static camber of the axle", -6.0 .. 1.2, Angle, "both tyres would lean {way}";
    TOE_OPPOSED = "what one wheel toes in while the other toes out, the smaller of the two,", 0.0 .. 0.05, Angle, "one of the two has the wrong sign, or the steering is not straight ahead";
    BEAM_CAMBER = "the camber built into the axle's left end over that of its right one", -1.5 .. 1.5, Angle, "the axle is one body: its ends would be bent in unlike ways";
    SOLVED_CAMBER = "the camber that the links give in the design pose", -6.5 .. 5.0, Angle, "the tyre would run on its edge";
    SOLVED_TOE = "the toe that the links give in the design pose", -0.75 .. 0.75, Angle, "the tyre would scrub along";
    TOE = "the static toe", -0.75 .. 0.75, Angle, "the tyre would scrub along";
}

// Joints on the upright. "Up" and "ahead" count from the wheel centre, "out" from its middle plane.
usual! {
    JOINT_OUT = "{}, out from the wheel's middle plane,", -0.55 .. 0.06, TyreRadii, "it would stand outside the wheel, or far inboard of any upright";
    ROD_OUT = "{}, out from the wheel's middle plane,", -0.55 .. 0.0, TyreRadii, "it would stand in the tyre's half of the wheel, or far inboard of any upright";
    UPPER_JOINT_UP = "{}, up from the wheel centre,", 0.15 .. 1.25, TyreRadii, "the upright's upper joint would not be above the wheel centre, or far above the tyre";
    LOWER_JOINT_UP = "{}, up from the wheel centre,", -0.7 .. -0.15, TyreRadii, "the upright's lower joint would not be below the wheel centre, or near the ground";
    BALL_JOINT_AHEAD = "{}, ahead of the wheel centre,", -0.26 .. 0.26, TyreRadii, "caster and trail would be beyond all bounds";
    JOINT_FROM_CENTRE = "the distance of {} from the wheel's axis", 0.05 .. 0.8, TyreRadii, "it would stand out of the upright's reach";
    STEERING_ARM = "the steering arm", 0.2 .. 0.65, TyreRadii, "the wheel would steer at a touch, or hardly at all";
    ROD_BESIDE_AXIS = "{}, out from the steering axis at its height,", -0.3 .. 0.3, TyreRadii, "the arm would point across the car: Ackermann would be beyond all bounds";
    BALL_JOINTS_APART = "the distance between the ball joints", 0.55 .. 1.6, TyreRadii, "the upright would be a stub, or taller than the tyre";
    STRUT_LEANS_IN = "the strut's lean, top inboard,", 1.0 .. 18.0, Angle, "side load and camber gain would be beyond all bounds";
    STRUT_LEANS_BACK = "the strut's lean, top rearward,", -6.0 .. 12.0, Angle, "the strut would lie down";
    STRUT_LENGTH = "the strut's length", 0.8 .. 2.2, TyreRadii, "the strut would be shorter than its own spring, or stand out of the bonnet";
    STRUT_TOP_UP = "the strut's top mount, above the ground,", 2.0 .. 3.3, TyreRadii, "the top mount would be in the wheel, or above the bonnet";
    HEIGHT = "the height of {} above the ground", 0.15 .. 3.3, TyreRadii, "it would scrape the road, or stand above any bodywork";
    TWIN_AXIS = "the angle between the axis through {} and the mirror image of the same axis on the other side", 0.0 .. 6.0, Angle, "the two sides are nearly mirror images but for this axis";
    TWIN = "the distance of {} from the mirror image of the same point on the other side", 0.0 .. 0.02, Length, "the two sides are nearly mirror images but for this point";
    ALONG = "{}, ahead of its wheel centre,", -2.9 .. 2.9, TyreRadii, "it would stand far from the rest of its corner";
    SIDE = "{}, out from the centre plane over half the track,", -0.15 .. 1.06, Ratio, "it would stand on the other side of the car, or outside the wheel";
}

// Wishbones and links.
usual! {
    HINGE_PLAN = "the hinge line's angle to the car, seen from above,", -16.0 .. 16.0, Angle, "the arm would swing askew";
    HINGE_SLOPE = "the hinge line's slope, seen from the side,", -14.0 .. 14.0, Angle, "anti-dive or anti-squat would be beyond all bounds";
    HINGE_BASE = "the distance between the arm's inner pickups over its span", 0.3 .. 1.4, Ratio, "the arm would be a rod, or wider than long";
    // Braking pushes the lower arm the harder, so its base is the wider one or both are alike.
    HINGE_BASES_ALIKE = "the distance between the upper arm's inner pickups over that between the lower one's", 0.6 .. 1.15, Ratio, "one of the arms would be far wider than the other";
    BALL_BETWEEN = "where the ball joint stands between the inner pickups, 0 at the rear one and 1 at the front one,", -0.1 .. 1.15, Ratio, "the ball joint would stand ahead of or behind both legs";
    ARM_SPAN = "the arm's span from hinge to joint", 0.4 .. 2.0, TyreRadii, "the arm would be a stub, or reach across the car";
    ARM_SLOPE = "the arm's slope, falling outward,", -20.0 .. 20.0, Angle, "roll centre and camber gain would be beyond all bounds";
    UPPER_OVER_LOWER = "the upper arm's span over the lower one's", 0.45 .. 1.1, Ratio, "camber gain would be beyond all bounds";
    OUTER_HINGE = "the distance between the arm's outer joints", 0.25 .. 1.2, TyreRadii, "the arm could not hold the wheel's toe";
    ARM_SWEEP = "the hinge line's sweep, seen from above,", -5.0 .. 28.0, Angle, "camber and toe would change wildly with travel";
    ARM_HINGE_SLOPE = "the hinge line's slope, seen from behind,", -10.0 .. 10.0, Angle, "toe would change wildly with travel";
    ARM_HINGE = "the distance between the arm's pivots", 0.4 .. 2.5, TyreRadii, "the hinge would be a single joint, or reach across the car";
    ARM_AHEAD = "the arm's outboard pivot, ahead of the wheel centre,", 0.9 .. 2.4, TyreRadii, "the arm would be a stub, or as long as a door";
    ARM_HEIGHT = "the arm's outboard pivot, above the wheel centre,", -0.45 .. 0.3, TyreRadii, "the wheel would move far forward or back with travel";
    ARM_PIVOT_IN = "the arm's outboard pivot, out from the wheel's middle plane,", -1.0 .. 0.0, TyreRadii, "the pivot would stand outside the wheel, or far inboard";
    // A rack stands a little ahead of or behind its arms; further away each wheel steers unlike the other.
    ROD_PLAN = "the rod's angle across the car, seen from above,", -11.0 .. 11.0, Angle, "Ackermann and the rod's load would be beyond all bounds";
    LINK_PLAN = "the link's angle across the car, seen from above,", -50.0 .. 50.0, Angle, "the link would run along the car";
    LINK_SLOPE = "the link's slope, falling outward,", -18.0 .. 18.0, Angle, "bump steer or camber gain would be beyond all bounds";
    LINK_LENGTH = "the link's length", 0.5 .. 2.2, TyreRadii, "the link would be a stub, or reach across the car";
    ROD_INNER_BESIDE = "the rod's inner end, outboard of the line through the arms' inner pickups,", -0.32 .. 0.32, TyreRadii, "toe would bend away with travel: the rod is too long or too short beside the arms";
}

// King pins of a beam axle, and what steers them: common practice, no source.
usual! {
    KING_PIN = "the king pin's length between its points", 0.28 .. 0.8, TyreRadii, "the knuckle would be loose, or taller than the rim";
    KING_PIN_TOP_UP = "{}, up from the wheel centre,", 0.08 .. 0.42, TyreRadii, "the pin would not stand about the wheel's height";
    KING_PIN_FOOT_UP = "{}, up from the wheel centre,", -0.42 .. -0.08, TyreRadii, "the pin would not stand about the wheel's height";
    KING_PIN_AHEAD = "{}, ahead of the wheel centre,", -0.12 .. 0.12, TyreRadii, "caster and trail would be beyond all bounds";
    ARM_UP = "{}, above the wheel centres,", -0.45 .. 0.4, TyreRadii, "the steering arm would touch the road, or stand above the tyre";
    // An arm behind the axle points inward, one ahead of it outward: its line is to meet the rear axle's middle.
    TRACK_ROD_BESIDE = "{}, inside the king pin behind the axle or outside it ahead,", -0.03 .. 0.28, TyreRadii, "Ackermann would be beyond all bounds";
    TRACK_ROD_SLOPE = "the track rod's slope, seen from behind,", -2.5 .. 2.5, Angle, "the two wheels would steer unlike on every bump";
    TRACK_ROD_SKEW = "the track rod's angle across the car, seen from above,", -2.5 .. 2.5, Angle, "the two wheels would steer unlike";
    DRAG_LINK_LENGTH = "the drag link's length", 1.0 .. 3.6, TyreRadii, "the axle's travel would steer the wheels";
    DRAG_LINK_SLOPE = "the drag link's slope, its outer end higher,", -10.0 .. 10.0, Angle, "the axle's travel would steer the wheels";
    DRAG_LINK_PLAN = "the drag link's angle from straight across or straight along the car, seen from above,", 0.0 .. 15.0, Angle, "it would push the steering arm aslant";
    DRAG_LINK_OFF = "the drag link's inner end, off the centre link's line,", 0.0 .. 0.15, TyreRadii, "it would hang in the air";
    DRAG_LINK_FROM_BALL = "the drag link's inner end, from the nearer ball joint of the centre link,", 0.0 .. 0.3, TyreRadii, "it would hang far from where the link is held";
}

// Beam axles. "Ahead" and "up" count from the axle's middle.
usual! {
    TRAILING_LENGTH = "the link's length", 0.8 .. 2.6, TyreRadii, "the link would be a stub, or as long as a door";
    UPPER_LINK_OVER_LOWER = "the upper link's length over the lower one's", 0.55 .. 1.1, Ratio, "the pinion would tilt with travel beyond all bounds";
    TRAILING_SLOPE = "the link's slope, its front end higher,", -8.0 .. 12.0, Angle, "roll steer and anti-squat would be beyond all bounds";
    TOP_SLOPE = "the link's slope, its front end higher,", -14.0 .. 6.0, Angle, "anti-squat would be beyond all bounds";
    TRAILING_PLAN = "the link's angle to the car, its front end outboard,", -16.0 .. 12.0, Angle, "the link would run across the car";
    UPPER_TRAILING_PLAN = "the link's angle to the car, its front end outboard,", -20.0 .. 60.0, Angle, "the link would run across the car";
    // Links run forward: their brackets stand under the axle or ahead of it.
    ON_AXLE_AHEAD = "the link's end on the axle, ahead of the wheel centres,", -0.15 .. 0.35, TyreRadii, "the bracket on the axle would be an arm of its own";
    ON_AXLE_UP = "{}, above the wheel centres,", -0.4 .. 0.35, TyreRadii, "the bracket on the axle would touch the road or the floor";
    UPPER_LINK_UP = "{}, above the wheel centres,", 0.05 .. 0.9, TyreRadii, "an upper link that ends near the wheel centres holds no brake torque";
    LOWER_LINK_UP = "{}, above the wheel centres,", -0.5 .. 0.06, TyreRadii, "a lower link that ends above the wheel centres holds no brake torque";
    ON_AXLE_ABOVE = "{}, above the wheel centres,", 0.25 .. 0.9, TyreRadii, "the link would hold no torque, or stand in the floor";
    LOWER_LINK_OUT = "the distance of {} from the centre plane over half the track", 0.45 .. 0.85, Ratio, "the link would stand in the middle of the axle, or in the wheel";
    UPPER_LINK_OUT = "the distance of {} from the centre plane over half the track", 0.02 .. 0.85, Ratio, "the link would stand on the other side, or in the wheel";
    ON_CENTRE = "the distance of {} from the centre plane over half the track", -0.12 .. 0.12, Ratio, "it would stand far off the middle of the axle";
    PANHARD_LENGTH = "the rod's length across the car over half the track", 0.8 .. 1.5, Ratio, "the axle would swing sideways with travel";
    PANHARD_SLOPE = "the rod's slope, seen from behind,", -6.0 .. 6.0, Angle, "the axle would swing sideways with travel";
    PANHARD_SKEW = "the rod's angle across the car, seen from above,", -6.0 .. 6.0, Angle, "the rod would steer the axle";
    // A rod whose middle is off the centre plane lifts the body to one side only.
    PANHARD_MIDDLE = "the rod's middle, off the centre plane, over half the track", -0.06 .. 0.06, Ratio, "the axle would rise and fall in corners";
    PANHARD_AHEAD = "{}, ahead of the wheel centres,", -0.75 .. 0.75, TyreRadii, "it would hang far off the axle";
    TORQUE_ARM = "the torque arm", 1.8 .. 5.5, TyreRadii, "the arm would be a stub, or reach the gear lever";
    DROP_UPRIGHT = "the drop link's lean from upright", 0.0 .. 25.0, Angle, "it would hold the axle along or across, too";
    DROP_LENGTH = "the drop link's length", 0.25 .. 0.8, TyreRadii, "it would bind, or be no drop link";
    WATT_AXIS = "the lever axis' angle to the car's length", 0.0 .. 20.0, Angle, "the lever would not swing across the car";
    // Levers of 50 to 120 mm to a side are built; a longer one comes near the road in roll.
    WATT_LEVER = "the lever's arm", 0.15 .. 0.4, TyreRadii, "the lever would be a stub, or touch the road";
    WATT_ARMS_ALIKE = "one arm of the lever over the other", 0.75 .. 1.33, Ratio, "the axle would swing sideways with travel";
    WATT_STRAIGHT = "the lever's bend at its pivot", 0.0 .. 20.0, Angle, "the axle would swing sideways with travel";
    WATT_UPRIGHT = "the lever's lean from upright", 0.0 .. 20.0, Angle, "the axle would swing sideways with travel";
    WATT_ROD = "the rod's length over half the track", 0.4 .. 0.8, Ratio, "the rod would be a stub, or stand in the tyre";
    WATT_ALONG = "the lever's end, ahead of its pivot,", -0.15 .. 0.15, TyreRadii, "the lever would be a crank";
}

// What is carried, rockers, bars.
usual! {
    OFF_ARM = "the distance of {} from the arm that carries it", 0.0 .. 0.16, TyreRadii, "it would hang in the air";
    ALONG_ARM = "where {} stands along its arm, 0 at the hinge and 1 at the joint,", 0.25 .. 1.02, Ratio, "it would hardly move with the wheel, or stand outside the joint";
    ROCKER_ARM = "the rocker's arm", 0.12 .. 0.5, TyreRadii, "the rocker would be a stub, or as large as a wheel";
    ROCKER_ASIDE = "{}, along the rocker's axis from its pivot,", -0.2 .. 0.2, TyreRadii, "the rocker would be as thick as it is long";
    ROCKER_PLANE = "the rod's angle out of the rocker's plane", 0.0 .. 16.0, Angle, "the rod would bend the rocker's bearing";
    ROCKER_LEVER = "the angle between rod and rocker arm", 45.0 .. 90.0, Angle, "the rod would be near a dead point";
    ROCKER_ARMS_ALIKE = "the pushrod's arm on the rocker over the damper's", 0.4 .. 2.2, Ratio, "the motion ratio would be beyond all bounds";
    PUSHROD_LENGTH = "the pushrod's length", 0.8 .. 2.6, TyreRadii, "the pushrod would be a stub, or reach across the car";
    PUSHROD_SKEW = "the pushrod's lean along the car", -15.0 .. 15.0, Angle, "the pushrod would run along the car";
    DROP_LINK = "the drop link's length", 0.15 .. 1.1, TyreRadii, "the drop link would be a stub, or taller than the tyre";
    DROP_LINK_UPRIGHT = "the drop link's lean from upright", 0.0 .. 30.0, Angle, "the drop link would hardly work the bar";
    DROP_LINK_ASIDE = "the drop link's angle to the plane in which the bar's arm swings", 0.0 .. 18.0, Angle, "the drop link would bend the bar's arm";
    BAR_ARM = "the anti-roll bar's arm", 0.15 .. 1.1, TyreRadii, "the arm would be a stub, or longer than the wheel";
    // Bars bent from one piece have ends that run off at up to 45 degrees, 0.71; bars with an arm of their own, square
    // arms.
    BAR_ARM_ASIDE = "the share of the bar's arm that runs along the bar", 0.0 .. 0.75, Ratio, "the arm would be part of the bar";
    BAR_PIVOT_OUT = "the bar's end from the centre plane over half the track", 0.12 .. 0.92, Ratio, "the bar would be a stub, or stand in the wheel";
    BAR_LEVER = "the angle between drop link and bar arm", 50.0 .. 90.0, Angle, "the drop link would be near a dead point";
    BAR_KINK = "the kink between one half of the bar's axis and the line through both its pivots", 0.0 .. 4.0, Angle, "the bar's two halves would not be on one line: it is one bar";
    BAR_SQUARE = "the bar's angle to the line across the car", 0.0 .. 8.0, Angle, "the bar would lie askew in the car";
    STUD = "the angle between a joint's stud and the link on it", 55.0 .. 90.0, Angle, "the stud would run along the link: a joint has no swing there";
    // Rubber bushes give 3 to 6 degrees to a side, spherical bearings 6 to 25, ball joints with a stud up to 40.
    JOINT_SWING = "the furthest swing of a joint", 3.0 .. 45.0, Angle, "no joint swings so little, or so far";
    THIRD_SPRING = "the third spring's length", 0.4 .. 1.8, TyreRadii, "the spring would be a stub, or reach from wheel to wheel";
    THIRD_SPRING_FLAT = "the third spring's angle to the line across the car", 0.0 .. 15.0, Angle, "the spring would lie askew";
    T_AXIS = "the T-bar's swing axis, off the line across the car,", 0.0 .. 15.0, Angle, "the stem would not swing fore and aft";
    T_STEM = "the T-bar's stem", 0.3 .. 1.6, TyreRadii, "the stem would be a stub, or as long as a leg";
    T_STEM_ALONG = "the T-bar's stem, off the car's length,", 0.0 .. 30.0, Angle, "the stem would not lie along the car";
    T_CENTRED = "the distance of {} from the centre plane", -0.1 .. 0.1, TyreRadii, "the T-bar would stand off the middle";
    T_CROSSBAR = "the T-bar's crossbar, off the line across the car,", 0.0 .. 15.0, Angle, "the crossbar would lie askew";
    T_HALF = "half the T-bar's crossbar", 0.12 .. 0.8, TyreRadii, "the crossbar would be a stub, or reach the wheels";
}

// Springs, dampers, thicknesses.
usual! {
    DAMPER_LENGTH = "the damper's length", 0.8 .. 2.0, TyreRadii, "the damper would be a stub, or as tall as the bonnet";
    DAMPER_LEANS_IN = "the damper's lean, top inboard,", -5.0 .. 40.0, Angle, "the damper would lie down";
    DAMPER_LEANS_BACK = "the damper's lean, top rearward,", -14.0 .. 14.0, Angle, "the damper would lie down";
    DAMPER_ON_ARM_LEANS_BACK = "the damper's lean, top rearward,", -12.0 .. 12.0, Angle, "the damper would lie down";
    DAMPER_AHEAD = "the damper's moving eye, ahead of the wheel centre,", -0.45 .. 0.45, TyreRadii, "the damper would stand far off its wheel";
    DAMPER_OUT = "the damper's moving eye, out from the wheel's middle plane,", -0.9 .. -0.38, TyreRadii, "the damper would stand in the wheel, or far inboard";
    PUSHROD_ALONG = "where {} stands along its arm, 0 at the hinge and 1 at the joint,", 0.72 .. 1.02, Ratio, "the pushrod's load would bend the arm: it acts near the ball joint";
    ROCKER_DAMPER_LENGTH = "the damper's length", 0.35 .. 1.4, TyreRadii, "the damper would be a stub, or as long as a strut";
    STROKE = "the damper's stroke", 0.04 .. 0.3, Length, "the wheel would hardly move, or as far as an off-road car's";
    CLOSED_OVER_OPEN = "the damper's shortest length over its longest", 0.55 .. 0.85, Ratio, "a damper closes by less than half its length: its rod has to fit in its body";
    IN_STROKE = "where the damper stands in its stroke, 0 fully compressed and 1 fully extended,", 0.25 .. 0.85, Ratio, "the wheel would have hardly any bump or droop travel";
    BUMP_TRAVEL = "the bump travel that the damper leaves", 0.02 .. 0.2, Length, "the wheel would hardly rise, or as far as an off-road car's";
    DROOP_TRAVEL = "the droop travel that the damper leaves", 0.015 .. 0.2, Length, "the wheel would hardly fall, or as far as an off-road car's";
    SPRING_LENGTH = "the spring's length", 0.4 .. 1.6, TyreRadii, "the spring would be a washer, or taller than the wheel";
    SPRING_LEANS = "the spring's lean from upright", 0.0 .. 20.0, Angle, "the spring would lie down";
    SPRING_AHEAD = "the spring's moving eye, ahead of the wheel centre,", -0.5 .. 0.8, TyreRadii, "the spring would stand far off its wheel";
    SPRING_OUT = "the spring's moving eye, out from the wheel's middle plane,", -0.85 .. -0.3, TyreRadii, "the spring would stand in the wheel, or far inboard";
    SPRING_RATE = "the spring's rate", 8.0 .. 400.0, SpringRate, "the car would sink to its stops, or bounce like a cart";
    THIRD_RATE = "the third spring's rate", 8.0 .. 400.0, SpringRate, "the car would sink to its stops, or bounce like a cart";
    TORSION_RATE = "the torsion bar's rate", 3.0 .. 150.0, TwistRate, "the car would sink to its stops, or bounce like a cart";
    BAR_RATE = "the anti-roll bar's rate", 1.5 .. 120.0, TwistRate, "the bar would do nothing, or lift a wheel at once";
    WHEEL_RATE = "the spring's rate at the wheel", 6.0 .. 250.0, SpringRate, "the car would sink to its stops, or bounce like a cart";
    FREQUENCY = "the wheel's natural frequency on its spring", 0.8 .. 3.4, Frequency, "the car would sink to its stops, or bounce like a cart";
    // Soft springs and a bar that does nearly all of the roll stiffness is how many oval and touring cars are set up.
    BAR_OVER_SPRINGS = "the bar's stiffness in roll over the springs'", 0.03 .. 6.0, Ratio, "the bar would do nothing, or lift a wheel at once";
    ROD_RADIUS = "the radius", 0.003 .. 0.04, Length, "a rod so thin would buckle, one so thick would fit nowhere";
    FAT_RADIUS = "the radius", 0.012 .. 0.075, Length, "a damper so thin would hold no piston, one so thick would fit nowhere";
    IN_TYRE = "the depth at which {} stands in the tyre", -0.2 .. 0.001, TyreRadii, "it would cut the tyre";
}

// Steering.
usual! {
    RACK_AXIS = "the rack's angle to the line across the car", 0.0 .. 5.0, Angle, "the rack would lie askew: left and right would steer differently";
    RACK_PER_TURN = "the rack's travel per turn of the steering wheel", 0.025 .. 0.13, Length, "the driver would wind and wind, or turn the car by a twitch";
    RACK_STOP = "the rack's travel to its stop", 0.02 .. 0.11, Length, "the wheels would hardly steer, or further than tyres and links let them";
    STOPS_ALIKE = "the travel to the left stop over that to the right one", 0.5 .. 2.0, Ratio, "the car would steer far less to one side";
    BOX_RATIO = "the steering box's ratio", 8.0 .. 30.0, Ratio, "the driver would wind and wind, or turn the car by a twitch";
    BOX_STOP = "the pitman arm's turn to its stop", 12.0 .. 48.0, Angle, "the wheels would hardly steer, or the arm come near its dead point";
    PITMAN_ARM = "the arm's length", 0.3 .. 0.7, TyreRadii, "the arm would be a stub, or as long as the wheel";
    PITMAN_DROP = "the arm's ball joint, along the shaft from its pivot,", -0.25 .. 0.25, TyreRadii, "the arm would hang far off its shaft";
    PITMAN_AXIS = "the shaft's lean from upright", 0.0 .. 15.0, Angle, "the arm would swing up and down; a direction is wanted here, not a second point";
    PITMAN_ALONG = "the arm's angle to the car's length", 0.0 .. 15.0, Angle, "left and right would steer differently";
    IDLER_TWIN = "the pitman arm's point beside the idler arm's, mirrored,", -0.2 .. 0.2, TyreRadii, "the centre link would swing askew: the two arms are near mirror images on all but rare cars";
    OFF_CENTRE_LINK = "the tie rod's inner end, off the centre link's line,", 0.0 .. 0.15, TyreRadii, "it would hang in the air";
    FROM_BALL = "the tie rod's inner end, across the car from the arm's ball joint,", 0.0 .. 0.5, TyreRadii, "it would hang far from where the link is held";
    COLUMN_UNEVEN = "the steering's unevenness over a turn, by the column's joints,", 0.0 .. 15.0, Percent, "the steering would be quick and slow by turns";
    COLUMN_BEND = "the bend of a column joint", 5.0 .. 40.0, Angle, "a Cardan joint bent so far binds, one bent so little has no effect";
    OVERALL_RATIO = "the overall steering ratio", 4.0 .. 26.0, Ratio, "the wheels would go the wrong way, or hardly at all";
    STOP_REACHED = "the share of the way to its stop that the steering goes", 99.0 .. 100.0, Percent, "the linkage locks before the stop is there";
    LOCK = "the larger wheel angle at the stop", 11.0 .. 48.0, Angle, "the car would hardly turn, or the linkage come near its dead point";
    ACKERMANN = "Ackermann, half-way to the stop,", -80.0 .. 180.0, Percent, "one front wheel would scrub through every turn";
    STEER_ALIKE = "the left wheel's angle per steering input over the right one's", 0.8 .. 1.25, Ratio, "left and right would steer differently";
    STEER_GAIN_CHANGE = "the wheel's angle per steering input half-way to the stop over that straight ahead", 0.8 .. 1.6, Ratio, "the steering would go dead or run away";
}

// Readings.
usual! {
    CASTER = "caster", -1.0 .. 13.0, Angle, "the steering would be dead, or heavy beyond use";
    TRAIL = "trail", -0.1 .. 0.25, TyreRadii, "the steering would be dead or unstable, or heavy beyond use";
    INCLINATION = "steering-axis inclination", 0.0 .. 18.0, Angle, "the wheel would lean over with lock";
    STRUT_INCLINATION = "steering-axis inclination", 6.0 .. 18.0, Angle, "the wheel would lean over with lock";
    SCRUB = "scrub radius", -0.12 .. 0.35, TyreRadii, "the wheel would kick the steering, or the axis pass outside the tyre";
    AXIS_AHEAD = "the steering axis, ahead of the wheel centre at its height,", -0.2 .. 0.2, TyreRadii, "the wheel would flop to one side";
    REAR_CASTER = "the upright's caster", -15.0 .. 15.0, Angle, "the upright would lie over";
    REAR_TRAIL = "the upright's trail", -0.35 .. 0.35, TyreRadii, "side force would twist the wheel";
    REAR_INCLINATION = "the upright's inclination", -6.0 .. 22.0, Angle, "the upright would lie over";
    REAR_SCRUB = "the upright's scrub radius", -0.15 .. 0.4, TyreRadii, "braking would twist the wheel";
    BUMP_STEER = "bump steer", -0.4 .. 0.4, AnglePerTravel, "the car would steer itself on every bump";
    TRAVEL_REACHED = "the travel that the links let the wheel go, of 25 mm up and down,", 0.025 .. 0.027, Length, "they lock or run out before a bump of that height";
    TOE_OVER_TRAVEL = "the change of toe over 25 mm of travel", 0.0 .. 0.5, Angle, "the car would steer itself on every bump";
    BUMP_STEER_CHANGE = "the change of bump steer from 25 mm of droop to 25 mm of bump", -0.35 .. 0.35, AnglePerTravel, "toe would bend away with travel: the rod is too long or too short beside the arms";
    CAMBER_GAIN = "camber gain", -2.2 .. 0.1, AnglePerTravel, "the tyre would run on its edge in bump or in roll";
    SCRUB_PER_TRAVEL = "the contact's sideways movement per travel", -0.35 .. 0.35, Ratio, "the tyre would scrub sideways on every bump";
    RECESSION = "the wheel's rearward movement per travel", -0.15 .. 0.2, Ratio, "the wheel would move fore and aft on every bump";
    ARM_RECESSION = "the wheel's rearward movement per travel", -0.3 .. 0.3, Ratio, "the wheel would move fore and aft on every bump";
    CONTACT_SLOPE = "the contact's forward movement per travel", -1.0 .. 1.0, Ratio, "the brakes would lift or sink the car";
    ROLL_CENTRE = "the roll centre's height", -0.3 .. 0.6, TyreRadii, "the links would jack the car up, or let it fall over";
    BEAM_ROLL_CENTRE = "the roll centre's height", 0.4 .. 1.5, TyreRadii, "the links would jack the car up, or let it fall over";
    ROLL_CENTRE_ASIDE = "the roll centre's distance from the middle of the track", -0.5 .. 0.5, Length, "left and right would roll differently";
    ANTI_DIVE = "anti-dive", -40.0 .. 80.0, Percent, "the links would lift the nose in braking, or push it down";
    // A trailing arm with its brake on it is a swing arm of its own length: half a metre of it comes to 150 and more.
    ANTI_LIFT = "anti-lift", -40.0 .. 250.0, Percent, "the links would pull the tail down in braking, or let it fly up";
    // A torque arm shorter than the wheelbase, or links that meet ahead of the axle, lift the tail by more than it squats:
    // about 160 on oval and drag cars.
    ANTI_SQUAT = "anti-squat", -40.0 .. 200.0, Percent, "the links would lift the tail under power, or let it sit down";
    MOTION_RATIO = "the damper's movement per wheel travel", 0.4 .. 1.5, Ratio, "the damper would hardly move, or run out of stroke";
    SPRING_MOTION_RATIO = "the spring's movement per wheel travel", 0.3 .. 1.3, Ratio, "the spring would hardly move, or run out of stroke";
    RATIO_CHANGE = "the motion ratio 25 mm in bump over that 25 mm in droop", 0.75 .. 1.5, Ratio, "the spring would go soft or turn to stone with travel";
    BAR_PER_TRAVEL = "the bar arm's turn per travel of one tyre radius, radians,", 0.4 .. 5.0, Ratio, "the bar would hardly twist, or by far too much";
    BAR_TWIST = "the bar's twist per opposite travel of one tyre radius, radians,", 0.6 .. 10.0, Ratio, "the bar would hardly twist, or by far too much";
    THIRD_HEAVE = "the third spring's movement per travel of both wheels", 0.3 .. 3.0, Ratio, "the third spring would hardly move, or run out of stroke";
}

#[cfg(test)]
mod tests {
    use super::TOE_OVER_TRAVEL;
    use crate::number::unit::LengthUnit;

    #[test]
    fn what_is_unusual_is_said_in_one_system_of_units() {
        let said = |lengths| TOE_OVER_TRAVEL.said(0.02, 0.3, "", lengths);
        assert!(said(LengthUnit::Millimetre).contains("over 25 mm of travel"));
        let inches = said(LengthUnit::Inch);
        assert!(inches.contains("over 0.98 in of travel") && !inches.contains("mm"), "{inches}");
    }
}
