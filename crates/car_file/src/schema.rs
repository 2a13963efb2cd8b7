//! Every key of a car file, in words.

use crate::read::why::{Choices, axle_to_ask};
use crate::read::words::linkage_word;
use wheelpath_geometry::{Component, Hardpoint, Link, LinkageKind, Need, Part, Side, Steering};

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
    (
        "left_over",
        "[\"front left tie_rod_inner\", ...], optional",
        "points that no table gave when points were imported: they stand where another car had them, and `check` \
         says so",
    ),
    ("wheelbase", "length", "distance between the axles"),
    ("centre_of_gravity_height", "length, optional", "above the ground"),
    ("brake_share_front", "0 to 1, optional", "share of the braking force at the front"),
    ("mass_kg", "number, optional", "mass in kilograms"),
    ("weight_share_front", "0 to 1, optional", "share of the weight on the front wheels"),
    (
        "weight_share_left",
        "0 to 1, optional",
        "share of the weight on the left wheels in the design pose; none = a half",
    ),
    (
        "cross_weight",
        "0 to 1, optional",
        "share of the weight on the right front and the left rear wheel together; none = both axles have the \
         same share on the left",
    ),
    (
        "wheel_loads_kg",
        "(front_left: number, front_right: ..., rear_left: ..., rear_right: ...), optional",
        "what the scales show under each wheel in the design pose, kilograms, in place of the two shares; LF, RF, \
         LR, RR or FL, FR, RL, RR say the same; mass_kg and weight_share_front may then be left out, and have to \
         agree within half a percent",
    ),
    ("wheel_loads_n", "the same, optional", "the same in newtons, in place of wheel_loads_kg"),
    ("front", "axle", "the front axle"),
    (
        "rear",
        "axle | StandIn",
        "the rear axle; StandIn for a single corner on the bench: a plain axle whose readings mean nothing",
    ),
];

/// Stands for the words of all linkages.
const LINKAGE: &str = "LINKAGE";

const AXLE: &[Line] = &[
    ("linkage", LINKAGE, "what carries the wheels; the points of each are below"),
    ("steering", "Fixed | Rack(...) | Box(...)", "how the axle is steered"),
    (
        "column",
        "(joints: [(bend_deg: ..., phase_deg: ...), ...]), optional",
        "one or two Cardan joints from the steering wheel down: the angle between the shafts, and that of the \
         driving yoke's pin from the plane of the bend at straight ahead, about the driving shaft, + = left turn",
    ),
    ("brakes", "Outboard | Inboard", "on the upright, or on the body"),
    ("drive", "None | Sprung | Unsprung", "no drive, final drive on the body, or on the axle"),
    ("watt_lever_on", "Body | Axle, optional", "what carries the lever of a beam axle's Watt linkage"),
    (
        "anti_roll_bar",
        "U | T | U(rate_nm_per_deg: ...) | T(rate_nm_per_deg: ...), optional",
        "a bar across the car with an arm at each end, or a stem with a crossbar; rate per degree of twist; \
         drop links without this word have a U",
    ),
    ("third_spring", "(on: PART, rate_n_per_mm: ..., optional), optional", "a spring from side to side"),
    ("pickups", "(name: (x, y, z), ...), optional", "the points of the axle as a whole"),
    ("lengths", "(link: length, ...), optional", "lengths of the axle's own links"),
    ("radii", "(part: length, ...), optional", "how thick the axle's own parts are"),
    ("left", "corner | Mirrored", "the left corner, y to the left of the centre plane"),
    ("right", "corner | Mirrored", "the right corner; Mirrored takes it from the other side"),
    ("alignment", "(toe: ..., camber: ...), optional", "what sets static toe and camber, on both sides"),
];

const RACK: &[Line] = &[
    ("axis", "Direction(x, y, z)", "direction of positive rack travel, toward the left"),
    (
        "travel_per_turn",
        "length",
        "rack travel for one turn of the steering wheel; - = a left turn moves the rack to the right",
    ),
    ("stop_left", "length", "travel from the centre to the stop toward the left"),
    ("stop_right", "length", "travel from the centre to the stop toward the right, as a positive number"),
];

const BOX: &[Line] = &[
    ("pitman_pivot", "(x, y, z)", "a point on the box's shaft"),
    (
        "pitman_axis",
        "Direction(x, y, z) | Point(x, y, z)",
        "the shaft: its direction, upward, or a second point on it, above",
    ),
    ("pitman_ball", "(x, y, z)", "the joint of pitman arm and centre link"),
    ("idler_pivot", "(x, y, z)", "a point on the idler arm's shaft"),
    ("idler_axis", "Direction(x, y, z) | Point(x, y, z)", "that shaft, in the same way"),
    ("idler_ball", "(x, y, z)", "the joint of idler arm and centre link"),
    (
        "ratio",
        "number",
        "turns of the steering wheel for one of the pitman arm; - = a left turn turns the arm left-handed about \
         its upward axis",
    ),
    ("stop_left_deg", "degrees", "turn of the arm from the centre to its stop in a left turn"),
    ("stop_right_deg", "degrees", "the same in a right turn, as a positive number"),
];

const CORNER: &[Line] = &[
    ("wheel", "(...)", "the wheel in the design pose"),
    (
        "pickups",
        "(name: (x, y, z), ...)",
        "the points in the design pose; an axis' second point is Point(x, y, z), or Direction(x, y, z) from the first",
    ),
    ("lengths", "(link: length, ...), optional", "lengths of links that do not follow from the points"),
    (
        "joint_limits_deg",
        "(name: degrees, ...), optional",
        "how far the joints at links' ends may go: with a bolt, its misalignment on it; without, its swing from \
         the design pose",
    ),
    (
        "joint_axes",
        "(name: Direction(x, y, z) | Point(x, y, z), ...), optional",
        "direction of the bolt or stud that a joint sits on, in the design pose, fixed to the part that holds the \
         joint",
    ),
    (
        "radii",
        "(part: length, ...), optional",
        "how thick the parts are, for the distances between them; rods and bars not named count as 10 mm in \
         radius, dampers, struts and springs as 25 mm",
    ),
    (
        "springing",
        "Rocker(pushrod_on: PART) | Direct(on: PART) | Strut, optional",
        "how the damper is worked; Strut: the strut is the damper",
    ),
    ("damper", "(shortest: length, longest: length), optional", "eye to eye at the stops"),
    (
        "spring",
        "OnDamper(rate_n_per_mm: ...) | Separate(on: PART, rate_n_per_mm: ...) | \
         TorsionBar(rate_nm_per_deg: ...), optional",
        "on the damper or strut, between points of its own, or along the rocker's axis",
    ),
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
    ("tyre_width", "length", "for pictures, and for the distances of parts"),
    (
        "tyre_shoulder_radius",
        "length, optional",
        "radius of the tread's round cross-section, which the contact goes round with camber; none = a disc",
    ),
    ("rim_radius", "length", "where the tyre begins: for pictures, and for the distances of parts"),
    (
        "rim_width",
        "length, optional",
        "of the rim's barrel about the wheel's middle plane; none = the tyre's",
    ),
    ("rim_inner_radius", "length, optional", "of the clear space inside the barrel; none = the rim's radius"),
];

const ALIGNMENT: &[Line] = &[
    (
        "toe",
        "FromPoints | TieRodLength(toe_deg: ...)",
        "from the points, or set by the length of the tie rod or toe link; on a SteeredBeamAxle that of the wheel \
         that the drag link steers by the drag link's, that of the other by the track rod's",
    ),
    (
        "camber",
        "FromPoints | WORD(camber_deg: ...)",
        "from the points, or set by an adjuster: UpperShim (DoubleWishbone: shims at the upper ball joint), \
         TopMount (Strut: its top mount across the car), UpperLinkLength (FiveLink: the upper front link's; HArm: \
         the upper link's)",
    ),
];

const WORDS: &[Line] = &[(
    "PART",
    "UpperWishbone | LowerWishbone | HArm | Upright | Arm | Axle | Rocker",
    "a part of the linkage that carries a point; Arm is a trailing arm, Axle a BeamAxle: what Upright is \
     elsewhere; of a SteeredBeamAxle, Axle is the axle between the king pins",
)];

/// A linkage and the points it stands on, of each corner and of the axle as a whole.
fn linkage(kind: LinkageKind) -> String {
    let mut axle = axle_to_ask(kind, Steering::Fixed, Choices::default());
    axle.watt_lever_on = axle.is_beam().then_some(Component::Body);
    let keys = |needs: &[Need]| needs.iter().map(|need| need.hardpoint.key()).collect::<Vec<_>>().join(", ");
    let own = axle.own_needs();
    let toe = if kind.has_toe_link() { "; where it is steered, tie_rod_* for toe_link_*" } else { "" };
    let mut lines = format!("        each corner: {}{toe}\n", keys(&axle.needs(Side::Left)));
    if !own.is_empty() {
        lines.push_str(&format!("        the axle: {}\n", keys(&own)));
        lines.push_str(
            "        each link may be left out: four are to be there, a Watt linkage counting as one\n",
        );
    }
    if kind.spec().has_track_rod {
        lines.push_str(
            "        of drag_link_left and drag_link_right one is to be there, on the arm that it steers\n",
        );
    }
    format!("    {}\n{lines}", linkage_word(kind))
}

/// Every key of a car file: what it takes and what it means.
#[must_use]
pub fn schema() -> String {
    let points = |of_axle: bool| -> Vec<Line> {
        let those = Hardpoint::ALL.iter().filter(|p| p.is_of_axle() == of_axle);
        those.map(|p| (p.key(), "(x, y, z)", p.label())).collect()
    };
    let links = |of_axle: bool| -> Vec<Line> {
        let those = Link::ALL.iter().filter(|l| l.is_of_axle() == of_axle);
        those.map(|l| (l.key(), "length", l.label())).collect()
    };
    let parts = |of_axle: bool| -> Vec<Line> {
        let those = Part::ALL.iter().filter(|p| p.is_of_axle() == of_axle);
        those.map(|p| (p.key(), "length", p.label())).collect()
    };
    let blocks: [(&str, &[Line]); 14] = [
        ("the car", CAR),
        ("an axle", AXLE),
        ("steering: Rack(...)", RACK),
        ("steering: Box(...)", BOX),
        ("a corner", CORNER),
        ("wheel", WHEEL),
        ("pickups of a corner", &points(false)),
        ("pickups of an axle", &points(true)),
        ("lengths of a corner", &links(false)),
        ("lengths of an axle", &links(true)),
        ("radii of a corner", &parts(false)),
        ("radii of an axle", &parts(true)),
        ("alignment", ALIGNMENT),
        ("words", WORDS),
    ];
    let words = LinkageKind::specs().map(|spec| spec.word).collect::<Vec<_>>().join(" | ");
    let block = |(title, lines): &(&str, &[Line])| {
        let line = |(key, takes, means): &Line| {
            let takes = if *takes == LINKAGE { &words } else { *takes };
            format!("    {key}: {takes}\n        {means}\n")
        };
        format!("{title}\n{}", lines.iter().map(line).collect::<String>())
    };
    let start = "A car file is RON text: (key: value, ...). Comments are // and /* */.\n\n";
    let linkages: String = LinkageKind::ALL.into_iter().map(linkage).collect();
    let blocks = blocks.iter().map(block).collect::<Vec<_>>().join("\n");
    format!("{start}{blocks}\nlinkages and their points\n{linkages}")
}

#[cfg(test)]
mod tests {
    use super::{AXLE, BOX, CAR, CORNER, Line, RACK, WHEEL, WORDS, schema};
    use crate::read::words::{camber_words, linkage_words, parts};

    #[test]
    fn the_keys_are_those_that_are_read() {
        let check = |told: &[Line], read: &[&str]| {
            assert_eq!(told.iter().map(|(key, ..)| *key).collect::<Vec<_>>(), read);
        };
        check(CAR, crate::read::car::CAR);
        check(AXLE, crate::read::axle::AXLE);
        check(RACK, crate::read::steering::RACK);
        check(BOX, crate::read::steering::BOX);
        check(CORNER, crate::read::corner::CORNER);
        check(WHEEL, crate::read::corner::WHEEL);
    }
    #[test]
    fn every_word_is_told() {
        let told = schema();
        let linkages = linkage_words().into_iter().map(|(word, _)| word);
        for word in linkages.chain(camber_words()) {
            assert!(told.contains(word), "no {word}");
        }
        let known: Vec<_> = parts(None).into_iter().map(|(word, _)| word).collect();
        for (_, takes, _) in WORDS {
            let mut words: Vec<_> = takes.split(" | ").collect();
            let mut known = known.clone();
            words.sort_unstable();
            known.sort_unstable();
            assert_eq!(words, known);
        }
    }
}
