//! An axle that carries both wheels: four freedoms held by rods, or by three rods and a Watt's linkage.

use super::spec::{AxisBy, Carrier, HubOn, LinkageSpec};
use super::steered_beam_axle::{knuckles, on_knuckle, steering_links};
use crate::car::hardpoint::{Hardpoint as P, Link};
use crate::car::point_set::PointSet;
use crate::car::{Component, LinkageKind};
use crate::linkage::design::Design;
use crate::mechanism::hinged::Swing;
use crate::mechanism::{
    Anchor, Constraint, FixedLength, Frame, Height, Mechanism, Pose, Swinging, WrongFreedoms,
};
use crate::number::real::Real;
use nalgebra::Vector3;

pub(super) const SPEC: LinkageSpec = LinkageSpec {
    kind: LinkageKind::BeamAxle,
    word: "BeamAxle",
    label: "beam axle",
    with_article: "the beam axle",
    required: &[],
    optional: &[
        (P::LowerLinkInner, Component::Body),
        (P::LowerLinkOuter, Component::Upright),
        (P::UpperLinkInner, Component::Body),
        (P::UpperLinkOuter, Component::Upright),
    ],
    axle_required: &[],
    axle_optional: &OWN_POINTS,
    in_a_new_file: &IN_A_NEW_FILE,
    links: &SIDE_LINKS,
    has_toe_link: false,
    has_track_rod: false,
    has_strut: false,
    hub_on: HubOn::Axle,
    beam: Some(Component::Upright),
    axis: AxisBy::None,
    camber: None,
    // The axle carries the wheels: it is what an upright is elsewhere.
    carriers: &[AXLE, Carrier { word: "Upright", part: Component::Upright }],
    usual_carrier: AXLE,
    suspects: &SUSPECTS,
    frame: &FRAME,
};

const AXLE: Carrier = Carrier { word: "Axle", part: Component::Upright };

/// Points that an axle as a whole may have: ends of its own links and of a Watt's linkage.
pub(super) const OWN_POINTS: [P; 12] = [
    P::TopLinkInner,
    P::TopLinkOuter,
    P::PanhardRodBody,
    P::PanhardRodAxle,
    P::TorqueArmLinkBody,
    P::TorqueArmLinkAxle,
    WATT[0],
    WATT[1],
    WATT[2],
    WATT[3],
    WATT[4],
    WATT[5],
];
/// Ends of two lower links, a top link and a Panhard rod.
pub(super) const IN_A_NEW_FILE: [P; 6] = [
    P::LowerLinkInner,
    P::LowerLinkOuter,
    P::TopLinkInner,
    P::TopLinkOuter,
    P::PanhardRodBody,
    P::PanhardRodAxle,
];
/// What locates an axle, those first that a reading is most likely spoilt by.
pub(super) const SUSPECTS: [P; 13] = [
    P::LowerLinkInner,
    P::LowerLinkOuter,
    P::UpperLinkInner,
    P::UpperLinkOuter,
    P::TopLinkInner,
    P::TopLinkOuter,
    P::PanhardRodBody,
    P::PanhardRodAxle,
    P::WattPivot,
    P::WattLeverLeft,
    P::WattLeverRight,
    P::WattRodLeft,
    P::WattRodRight,
];
/// The frame of the body over an axle.
pub(super) const FRAME: [[P; 2]; 1] = [[P::LowerLinkInner, P::UpperLinkInner]];
/// Links that each side may have.
pub(super) const SIDE_LINKS: [Link; 2] = [Link::LowerLink, Link::UpperLink];
/// Links that the axle as a whole may have.
const OWN_LINKS: [Link; 3] = [Link::TopLink, Link::PanhardRod, Link::TorqueArmLink];
/// Points of a Watt's linkage.
pub(crate) const WATT: [P; 6] =
    [P::WattPivot, P::WattAxis, P::WattLeverLeft, P::WattLeverRight, P::WattRodLeft, P::WattRodRight];

/// An axle over any number.
#[derive(Clone, Debug)]
pub(crate) struct Beam<T: Real> {
    /// Left and right: wheel, links and springing.
    pub sides: [Design<T>; 2],
    /// The axle's own points.
    pub own: PointSet<T>,
    /// The part that carries the Watt lever, if there is one.
    pub watt_lever_on: Option<Component>,
}

impl<T: Real> Beam<T> {
    /// The axle body's origin: midway between the wheel centres.
    pub fn origin(&self) -> Vector3<T> {
        let [left, right] = &self.sides;
        (left.centre + right.centre) * T::constant(0.5)
    }

    pub fn lifted<U: Real>(&self) -> Beam<U> {
        let [left, right] = &self.sides;
        Beam {
            sides: [left.lifted(), right.lifted()],
            own: self.own.lifted(),
            watt_lever_on: self.watt_lever_on,
        }
    }

    pub fn fits(&self) -> bool {
        self.own.fits() && self.sides.iter().all(Design::fits)
    }

    pub fn partly(&self, share: f64) -> Self {
        let [left, right] = &self.sides;
        Beam {
            sides: [left.partly(share), right.partly(share)],
            own: self.own.partly(T::constant(share)),
            watt_lever_on: self.watt_lever_on,
        }
    }

    /// Whether the wheels stand on knuckles.
    pub fn has_knuckles(&self) -> bool {
        self.sides[0].linkage.spec().has_track_rod
    }

    /// The part that carries a point of the axle as a whole.
    pub fn carrier(&self, hardpoint: P) -> Component {
        let [left, _] = &self.sides;
        carrier_on_axle(left.linkage, left.steered, hardpoint, self.watt_lever_on)
    }

    /// Whether all points of the Watt's linkage are there.
    pub fn has_watt(&self) -> bool {
        self.watt_lever_on.is_some() && WATT.iter().all(|&hardpoint| self.own.has(hardpoint))
    }
}

/// The part that carries a point of the axle as a whole, and of a knuckle's points the upright.
pub(crate) fn carrier_on_axle(
    kind: LinkageKind,
    steered: bool,
    hardpoint: P,
    watt_lever_on: Option<Component>,
) -> Component {
    let axle = kind.spec().beam.unwrap_or(Component::Upright);
    let lever_on_axle = watt_lever_on == Some(Component::Upright);
    match hardpoint {
        P::TopLinkOuter | P::PanhardRodAxle | P::TorqueArmLinkAxle => axle,
        P::WattLeverLeft | P::WattLeverRight => Component::WattLever,
        P::TBarHead => Component::BarArm,
        P::WattPivot | P::WattAxis if lever_on_axle => axle,
        P::WattRodLeft | P::WattRodRight if !lever_on_axle => axle,
        P::DragLinkInner if steered => Component::Steering,
        _ if on_knuckle(hardpoint).is_some() => Component::Upright,
        _ => Component::Body,
    }
}

/// The links that hold and steer the axle: of the left side, of the right side, of the axle itself.
pub(crate) fn beam_links<T: Real>(beam: &Beam<T>) -> [Vec<Link>; 3] {
    let of = |set: &PointSet<T>, links: &[Link]| -> Vec<Link> {
        links.iter().copied().filter(|&link| set.has_link(link)).collect()
    };
    let mut own = of(&beam.own, &OWN_LINKS);
    if beam.has_watt() {
        own.extend([Link::WattRodToLeft, Link::WattRodToRight]);
    }
    own.extend(steering_links(beam));
    let [left, right] = &beam.sides;
    [of(&left.set, &SIDE_LINKS), of(&right.set, &SIDE_LINKS), own]
}

/// How many of the axle's freedoms its links hold: four of them make a mechanism.
pub(crate) fn locating_rods<T: Real>(beam: &Beam<T>) -> usize {
    let all: usize = beam_links(beam).iter().map(Vec::len).sum();
    let all = all - steering_links(beam).len();
    // Both rods of a Watt's linkage and its lever hold one freedom between them.
    if beam.has_watt() { all - 1 } else { all }
}

/// A rod from the body to the axle.
fn rod<T: Real>(set: &PointSet<T>, link: Link, origin: &Vector3<T>) -> (&'static str, Constraint<T>) {
    let (inner, outer) = link.ends();
    let rod = FixedLength::new(
        Anchor { frame: Frame::Car, at: set.point(inner) },
        Anchor { frame: Frame::Body(0), at: set.point(outer) - origin },
        set.length(link),
    );
    (link.label(), Constraint::FixedLength(rod))
}

/// The Watt's linkage: its lever, turned by the left rod, and what the right rod still holds.
fn watt<T: Real>(beam: &Beam<T>, origin: &Vector3<T>) -> (Swinging<T>, (&'static str, Constraint<T>)) {
    let set = &beam.own;
    let lever_on_axle = beam.watt_lever_on == Some(Component::Upright);
    // Coordinates in what carries the lever.
    let near = |hardpoint| if lever_on_axle { set.point(hardpoint) - origin } else { set.point(hardpoint) };
    let left = set.point(P::WattRodLeft);
    let lever = Swing::new(
        near(P::WattPivot),
        near(P::WattAxis),
        near(P::WattLeverLeft),
        near(P::WattRodLeft),
        set.length(Link::WattRodToLeft),
    );
    let right = set.point(P::WattRodRight);
    let (swinging, far) = if lever_on_axle {
        (Swinging::LeverOnBody { lever, rod: left }, Anchor { frame: Frame::Car, at: right })
    } else {
        let rod = left - origin;
        (Swinging::LeverOnCar { lever, rod }, Anchor { frame: Frame::Body(0), at: right - origin })
    };
    let end = Anchor { frame: Frame::Swing, at: lever.local(&near(P::WattLeverRight)) };
    let rod = FixedLength::new(end, far, set.length(Link::WattRodToRight));
    (swinging, ("Watt linkage", Constraint::FixedLength(rod)))
}

/// The mechanism of an axle, driven by the heights of both wheel centres: the axle alone is one body; with knuckles
/// it is the first of three, the left and the right knuckle follow. The links come first, hinges last.
pub(crate) fn beam_mechanism<T: Real, const B: usize, const N: usize>(
    beam: &Beam<T>,
) -> Result<Mechanism<T, B, N>, WrongFreedoms> {
    let origin = beam.origin();
    let [left, right, own] = beam_links(beam);
    let mut constraints = Vec::with_capacity(8);
    constraints.extend(left.into_iter().map(|link| rod(&beam.sides[0].set, link, &origin)));
    constraints.extend(right.into_iter().map(|link| rod(&beam.sides[1].set, link, &origin)));
    let is_locating = |link: &Link| OWN_LINKS.contains(link);
    constraints.extend(own.into_iter().filter(is_locating).map(|link| rod(&beam.own, link, &origin)));
    let swinging = beam.has_watt().then(|| watt(beam, &origin));
    if let Some((_, constraint)) = &swinging {
        constraints.push(*constraint);
    }
    if beam.has_knuckles() {
        constraints.extend(knuckles(beam, &origin));
    }
    let height = |i: usize| {
        let centre = beam.sides[i].centre;
        let point = match beam.has_knuckles() {
            true => Anchor { frame: Frame::Body(1 + i), at: Vector3::zeros() },
            false => Anchor { frame: Frame::Body(0), at: centre - origin },
        };
        Height { point, design: centre.z }
    };
    // Where the count of bodies is wrong, so is that of the constraints: `new` says so.
    let bodies = std::array::from_fn(|body| match body {
        1 | 2 => Pose::design(beam.sides[body - 1].centre),
        _ => Pose::design(origin),
    });
    let steering = beam.sides[0].steering;
    let mechanism = Mechanism::new(bodies, constraints, vec![height(0), height(1)], steering)?;
    Ok(match swinging {
        Some((part, _)) => mechanism.with_swinging(part),
        None => mechanism,
    })
}
