//! Every key of a car file, in words.

use wheelpath_geometry::{Link, Pickup};

/// A key and what it takes.
type Line = (&'static str, &'static str, &'static str);

const CAR: &[Line] = &[
    ("format", "\"wheelpath car\"", "says that this is a car file"),
    ("version", "1", "the version of the format"),
    ("name", "text", "the car's name"),
    ("about", "text, optional", "what kind of car it is"),
    ("units", "Millimetre | Inch", "what every length of the file is counted in; angles are in degrees"),
    (
        "axes",
        "(x: Forward, y: Left, z: Up)",
        "where the axes point: Forward, Rearward, Left, Right, Up, Down; right-handed",
    ),
    ("design_pose", "text", "what zero wheel travel and straight ahead are"),
    ("wheelbase", "length", "distance between the axles"),
    ("centre_of_gravity_height", "length, optional", "above the ground"),
    ("brake_share_front", "0 to 1, optional", "share of the braking force at the front"),
    ("front", "axle", "the front axle"),
    ("rear", "axle", "the rear axle"),
];

const AXLE: &[Line] = &[
    ("linkage", "DoubleWishbone", "what carries the wheels"),
    ("steering", "Fixed | Rack(...)", "how the axle is steered"),
    ("brakes", "Outboard | Inboard", "on the upright, or on the body"),
    ("drive", "None | Sprung | Unsprung", "no drive, final drive on the body, or on the axle"),
    ("left", "corner | Mirrored", "the left corner, y to the left of the centre plane"),
    ("right", "corner | Mirrored", "the right corner; Mirrored takes it from the other side"),
    ("alignment", "(toe: ..., camber: ...), optional", "what sets static toe and camber, on both sides"),
];

const RACK: &[Line] = &[
    ("axis", "(x, y, z)", "direction of positive rack travel, toward the left"),
    (
        "travel_per_turn",
        "length",
        "rack travel for one turn of the steering wheel; - = a left turn moves the rack to the right",
    ),
    ("stop_left", "length", "travel from the centre to the stop toward the left"),
    ("stop_right", "length", "travel from the centre to the stop toward the right, as a positive number"),
];

const CORNER: &[Line] = &[
    ("wheel", "(...)", "the wheel in the design pose"),
    ("pickups", "(name: (x, y, z), ...)", "the points in the design pose"),
    ("lengths", "(link: length, ...), optional", "lengths of links that do not follow from the points"),
    ("springing", "Rocker(pushrod_on: PART) | Direct(on: PART), optional", "how the damper is worked"),
    ("damper", "(shortest: length, longest: length), optional", "eye to eye at the stops"),
    ("drop_link_on", "PART, optional", "what carries the outer end of the anti-roll bar's drop link"),
    ("alignment", "(toe: ..., camber: ...), optional", "this corner's own, in place of the axle's"),
];

const WHEEL: &[Line] = &[
    ("centre", "(x, y, z)", "the wheel centre"),
    (
        "spin_axis",
        "Angles(camber_deg: ..., toe_deg: ...) | Point((x, y, z))",
        "camber + = top outboard, toe + = toe-in; or a second point on the axis, outboard",
    ),
    ("tyre_radius", "length", "from the wheel centre to the ground"),
    ("tyre_width", "length", "for pictures"),
    ("rim_radius", "length", "for pictures"),
];

const ALIGNMENT: &[Line] = &[
    (
        "toe",
        "FromPoints | TieRodLength(toe_deg: ...)",
        "from the points, or set by the length of the tie rod or toe link",
    ),
    (
        "camber",
        "FromPoints | UpperShim(camber_deg: ...)",
        "from the points, or set by shims at the upper ball joint",
    ),
];

/// Every key of a car file: what it takes and what it means.
#[must_use]
pub fn schema() -> String {
    let pickups: Vec<Line> = Pickup::ALL.iter().map(|p| (p.key(), "(x, y, z)", p.label())).collect();
    let links: Vec<Line> = Link::ALL.iter().map(|l| (l.key(), "length", l.label())).collect();
    let parts: &[Line] =
        &[("PART", "UpperWishbone | LowerWishbone | Upright | Rocker", "a part that carries a point")];
    let blocks: [(&str, &[Line]); 9] = [
        ("the car", CAR),
        ("an axle", AXLE),
        ("steering: Rack(...)", RACK),
        ("a corner", CORNER),
        ("wheel", WHEEL),
        ("pickups", &pickups),
        ("lengths", &links),
        ("alignment", ALIGNMENT),
        ("words", parts),
    ];
    let block = |(title, lines): &(&str, &[Line])| {
        let line = |(key, takes, means): &Line| format!("    {key}: {takes}\n        {means}\n");
        format!("{title}\n{}", lines.iter().map(line).collect::<String>())
    };
    let start = "A car file is RON text: (key: value, ...). Comments are // and /* */.\n\n";
    format!("{start}{}", blocks.iter().map(block).collect::<Vec<_>>().join("\n"))
}

#[cfg(test)]
mod tests {
    use super::{AXLE, CAR, CORNER, Line, RACK, WHEEL};

    #[test]
    fn the_keys_are_those_that_are_read() {
        let check = |told: &[Line], read: &[&str]| {
            assert_eq!(told.iter().map(|(key, ..)| *key).collect::<Vec<_>>(), read);
        };
        check(CAR, crate::read::CAR);
        check(AXLE, crate::read_axle::AXLE);
        check(RACK, crate::read_steering::RACK);
        check(CORNER, crate::read_corner::CORNER);
        check(WHEEL, crate::read_corner::WHEEL);
    }
}
