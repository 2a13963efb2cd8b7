//! What the text of a car's file should say.

use crate::convert::FileUnits;
use crate::fields::Notes;
use crate::item::{Item, Quantity, Scale};
use crate::read::{BRAKES, DRIVES, Heading, LINKAGES, rack_axis};
use crate::read_corner::{CARRIERS, spin_axis};
use crate::tree::Node;
use wheelpath_geometry::{
    Alignment, Axle, CamberBy, Car, Carrier, Corner, End, Side, Springing, Steering, ToeBy, Wheel, WheelAt,
};

/// The car under its heading; `old` is the file as it stands, for what is written in one of several
/// ways. Without it a car that is the same on both sides is written with one side mirrored.
pub(crate) fn item(car: &Car, heading: &Heading, old: Option<&Node>) -> Item {
    let units = heading.units;
    let word = |direction: crate::Direction| Item::Word(direction.word());
    let [x, y, z] = heading.axes.directions().map(word);
    let mut fields = vec![
        ("format", Item::Text(crate::FORMAT.into())),
        ("version", Item::Number(Quantity { core: f64::from(crate::VERSION), scale: Scale::Whole })),
        ("name", Item::Text(car.name.clone())),
    ];
    fields.extend(heading.about.as_ref().map(|about| ("about", Item::Text(about.clone()))));
    fields.extend([
        ("units", Item::Word(units.word())),
        ("axes", Item::fields(vec![("x", x), ("y", y), ("z", z)])),
        ("design_pose", Item::Text(heading.design_pose.clone())),
        ("wheelbase", Item::length(car.wheelbase, units)),
    ]);
    let height = car.centre_of_gravity_height;
    fields.extend(height.map(|height| ("centre_of_gravity_height", Item::length(height, units))));
    fields.extend(car.brake_share_front.map(|share| ("brake_share_front", Item::plain(share))));
    for end in End::BOTH {
        let old = old.and_then(|node| node.at(&[end.name()]));
        fields.push((end.name(), axle(car.axle(end), end, heading, old)));
    }
    Item::fields(fields)
}

fn axle(axle: &Axle, end: End, heading: &Heading, old: Option<&Node>) -> Item {
    let written = |side: Side| old.and_then(|node| node.at(&[side.name()]));
    let same = axle.right == axle.left.mirrored();
    let mirrored = |side: Side| {
        same && match old {
            Some(_) => written(side).is_some_and(|node| node.is_word("Mirrored")),
            None => side == Side::Right,
        }
    };
    // A side with an alignment of its own keeps it there; the axle's is that of the first side without.
    let has_own = |side: Side| {
        let source = if mirrored(side) { side.other() } else { side };
        written(source).is_some_and(|node| node.field("alignment").is_some())
    };
    let shared = Side::BOTH.into_iter().find(|side| !has_own(*side)).map(|side| axle.corner(side).alignment);
    let side = |side: Side| {
        if mirrored(side) {
            return Item::Word("Mirrored");
        }
        let corner_of = axle.corner(side);
        let own = has_own(side) || shared != Some(corner_of.alignment);
        corner(corner_of, WheelAt { end, side }, heading, written(side), own)
    };
    let mut fields = vec![
        ("linkage", Item::Word(word_of(LINKAGES, &axle.left.linkage))),
        ("steering", steering(&axle.steering, end, heading, old.and_then(|node| node.at(&["steering"])))),
        ("brakes", Item::Word(word_of(BRAKES, &axle.brakes))),
        ("drive", Item::Word(word_of(DRIVES, &axle.drive))),
        ("left", side(Side::Left)),
        ("right", side(Side::Right)),
    ];
    let stands = old.is_some_and(|node| node.field("alignment").is_some());
    match shared {
        Some(shared) if stands || shared != Alignment::FROM_POINTS => {
            fields.push(("alignment", alignment(&shared)));
        }
        None if stands => fields.push(("alignment", Item::Keep)),
        _ => {}
    }
    Item::fields(fields)
}

/// The word for a value; every value has one in these tables.
fn word_of<T: PartialEq>(words: &[(&'static str, T)], value: &T) -> &'static str {
    words.iter().find(|(_, of)| of == value).map_or("", |(word, _)| word)
}

fn steering(steering: &Steering, end: End, heading: &Heading, old: Option<&Node>) -> Item {
    let Steering::Rack(rack) = steering else { return Item::Word("Fixed") };
    let (units, axes) = (heading.units, heading.axes);
    // An axis of any length is a direction: as long as it says the same, it stays as it is written.
    let read = |node: &Node| rack_axis(node, end, axes, &mut Notes::new("", ""));
    let says_the_same = old.and_then(|node| read(node.at(&["axis"])?)).is_some_and(|axis| axis == rack.axis);
    let fields = vec![
        ("axis", if says_the_same { Item::Keep } else { Item::direction(&rack.axis, axes) }),
        ("travel_per_turn", Item::length(rack.travel_per_turn, units)),
        ("stop_left", Item::length(rack.stop_left, units)),
        ("stop_right", Item::length(rack.stop_right, units)),
    ];
    Item::Fields { name: "Rack", fields }
}

fn alignment(alignment: &Alignment) -> Item {
    let set = |name, key, angle| Item::Fields { name, fields: vec![(key, Item::degrees(angle))] };
    let toe = match alignment.toe {
        ToeBy::Points => Item::Word("FromPoints"),
        ToeBy::TieRodLength(toe) => set("TieRodLength", "toe_deg", toe),
    };
    let camber = match alignment.camber {
        CamberBy::Points => Item::Word("FromPoints"),
        CamberBy::Adjuster(camber) => set("UpperShim", "camber_deg", camber),
    };
    Item::fields(vec![("toe", toe), ("camber", camber)])
}

fn carrier(carrier: Carrier) -> Item {
    Item::Word(word_of(CARRIERS, &carrier))
}

fn corner(corner: &Corner, at: WheelAt, heading: &Heading, old: Option<&Node>, own: bool) -> Item {
    let (units, axes) = (heading.units, heading.axes);
    let points = corner.pickups.iter().map(|(pickup, at)| (pickup.key(), Item::point(&at, units, axes)));
    let mut fields = vec![
        ("wheel", wheel(&corner.wheel, at, heading, old.and_then(|node| node.at(&["wheel"])))),
        ("pickups", Item::fields(points.collect())),
    ];
    if !corner.lengths.is_empty() {
        let length =
            |&(link, length): &(wheelpath_geometry::Link, f64)| (link.key(), Item::length(length, units));
        fields.push(("lengths", Item::fields(corner.lengths.iter().map(length).collect())));
    }
    fields.extend(corner.springing.map(|springing| {
        let (name, key, on) = match springing {
            Springing::Rocker { pushrod_on } => ("Rocker", "pushrod_on", pushrod_on),
            Springing::Direct { on } => ("Direct", "on", on),
            Springing::Strut => return ("springing", Item::Word("Strut")),
        };
        ("springing", Item::Fields { name, fields: vec![(key, carrier(on))] })
    }));
    fields.extend(corner.damper.map(|stops| {
        let shortest = ("shortest", Item::length(stops.shortest, units));
        ("damper", Item::fields(vec![shortest, ("longest", Item::length(stops.longest, units))]))
    }));
    fields.extend(corner.drop_link_on.map(|on| ("drop_link_on", carrier(on))));
    if own {
        fields.push(("alignment", alignment(&corner.alignment)));
    }
    Item::fields(fields)
}

fn wheel(wheel: &Wheel, at: WheelAt, heading: &Heading, old: Option<&Node>) -> Item {
    let (units, axes) = (heading.units, heading.axes);
    let old_axis = old.and_then(|node| node.at(&["spin_axis"]));
    let read = |node: &Node| spin_axis(node, at, Some(wheel.centre), units, axes, &mut Notes::new("", ""));
    let axis = if old_axis.and_then(read).is_some_and(|axis| (axis - wheel.spin_axis).norm() < 1e-15) {
        Item::Keep
    } else if old_axis.is_some_and(|node| node.name.as_deref() == Some("Point")) {
        let reach = wheel.tyre_width.max(0.1);
        let point = Item::point(&(wheel.centre + wheel.spin_axis * reach), units, axes);
        Item::Row { name: "Point", values: vec![point] }
    } else {
        let camber = -wheel.spin_axis.z.clamp(-1.0, 1.0).asin();
        let left = wheel.spin_axis * at.side.sign();
        let toe = -at.side.sign() * (-left.x).atan2(left.y);
        let fields = vec![("camber_deg", Item::degrees(camber)), ("toe_deg", Item::degrees(toe))];
        Item::Fields { name: "Angles", fields }
    };
    Item::fields(vec![
        ("centre", Item::point(&wheel.centre, units, axes)),
        ("spin_axis", axis),
        ("tyre_radius", Item::length(wheel.tyre_radius, units)),
        ("tyre_width", Item::length(wheel.tyre_width, units)),
        ("rim_radius", Item::length(wheel.rim_radius, units)),
    ])
}
