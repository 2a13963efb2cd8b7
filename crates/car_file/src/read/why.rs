//! Why a point is needed or not used, in words, and what to do about it.

use crate::fault::problem::list;
use nalgebra::Vector3;
use wheelpath_geometry::Assembly;
use wheelpath_geometry::{
    Axle, BarKind, Component, Corner, Hardpoint, Hardpoints, LinkageKind, Need, Side, Spring, Springing,
    Steering, Wheel,
};

const DELETE: &str = "delete the point";

/// What the keys of a corner beside its points say about those.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Choices {
    pub springing: Option<Springing>,
    pub spring: Option<Spring>,
    pub drop_link_on: Option<Component>,
}

/// An axle of two such corners: good for asking it which points it needs, and for nothing else.
pub(crate) fn axle_to_ask(linkage: LinkageKind, steering: Steering, choices: Choices) -> Axle {
    let wheel = Wheel {
        centre: Vector3::zeros(),
        spin_axis: Vector3::zeros(),
        tyre_radius: 0.0,
        tyre_width: 0.0,
        tyre_shoulder_radius: 0.0,
        rim_radius: 0.0,
        rim_width: None,
        rim_inner_radius: None,
    };
    let Choices { springing, spring, drop_link_on } = choices;
    let corner =
        Corner { springing, spring, drop_link_on, ..Corner::new(linkage, wheel, Hardpoints::default()) };
    Axle::new(steering, corner.clone(), corner)
}

fn steered_by(steering: &Steering) -> &'static str {
    match steering {
        Steering::Fixed => "the axle's steering is Fixed",
        Steering::Rack(_) => "the axle is steered by a rack",
        Steering::Box(_) => "the axle is steered by a steering box",
    }
}

/// Why a point that is not there must be.
pub(crate) fn missing(need: &Need, axle: &Axle) -> String {
    use Hardpoint as P;
    match need.hardpoint {
        P::TieRodInner | P::TieRodOuter => steered_by(&axle.steering).into(),
        P::ToeLinkInner | P::ToeLinkOuter => {
            "the axle's steering is Fixed, so a toe link holds the wheel".into()
        }
        P::DropLinkOuter | P::DropLinkBar | P::BarPivot | P::BarAxis => match axle.bar_kind() {
            Some(BarKind::T) => "the corner has a drop link to a T-bar".into(),
            _ => "the corner has a drop link to an anti-roll bar".into(),
        },
        _ => format!("{} needs it", need.user),
    }
}

/// Why a point that is there is not used, and what to do.
pub(crate) fn unused(hardpoint: Hardpoint, assembly: Assembly, axle: &Axle) -> (String, String) {
    use Hardpoint as P;
    let corner = axle.corner(assembly.side().unwrap_or(Side::Left));
    let both = |because: &str, remedy: &str| (because.to_owned(), remedy.to_owned());
    let toe_link = corner.linkage.has_toe_link();
    match hardpoint {
        P::TieRodInner | P::TieRodOuter if toe_link => both(
            steered_by(&axle.steering),
            "call it toe_link_inner or toe_link_outer, or give the axle `steering: Rack(...)` or Box(...)",
        ),
        P::ToeLinkInner | P::ToeLinkOuter if toe_link => both(
            steered_by(&axle.steering),
            "call it tie_rod_inner or tie_rod_outer, or give the axle `steering: Fixed`",
        ),
        P::PushrodOuter | P::PushrodInner | P::RockerPivot | P::RockerAxis => both(
            "the springing is not by rocker",
            "add `springing: Rocker(pushrod_on: PART)`, or delete the point",
        ),
        P::DamperRocker | P::DamperBody => match corner.springing {
            Some(Springing::Strut) => both("the strut itself is the damper", DELETE),
            _ => both(
                "no springing is given",
                "add `springing: Direct(on: PART)` or Rocker(...), or delete the point",
            ),
        },
        P::SpringMoving | P::SpringBody => both(
            "the corner has no separate spring",
            "add `spring: Separate(on: PART, rate_n_per_mm: ...)`, or delete the point",
        ),
        P::ThirdSpringEnd => both(
            "the axle has no third spring",
            "add `third_spring: (on: PART)` to the axle, or delete the point",
        ),
        P::BarPivot | P::BarAxis if corner.drop_link_on.is_some() => {
            both("the axle's bar is a T", "delete the point, or give the axle `anti_roll_bar: U`")
        }
        P::DropLinkOuter | P::DropLinkBar | P::BarPivot | P::BarAxis => both(
            "no `drop_link_on` is given",
            "add `drop_link_on: PART`, naming the part that carries it, or delete the point",
        ),
        P::TBarPivot | P::TBarAxis | P::TBarHead => {
            both("the axle has no T-bar", "give the axle `anti_roll_bar: T`, or delete the point")
        }
        P::WattPivot
        | P::WattAxis
        | P::WattLeverLeft
        | P::WattLeverRight
        | P::WattRodLeft
        | P::WattRodRight
            if corner.linkage.spec().is_beam() =>
        {
            both("no `watt_lever_on` is given", "add `watt_lever_on: Body` or Axle, or delete the point")
        }
        _ => of_another_linkage(hardpoint, assembly, axle, corner.linkage),
    }
}

fn of_another_linkage(
    hardpoint: Hardpoint,
    assembly: Assembly,
    axle: &Axle,
    own: LinkageKind,
) -> (String, String) {
    let uses = |kind: LinkageKind| {
        let mut asked = axle_to_ask(kind, axle.steering, Choices::default());
        asked.watt_lever_on = Some(Component::Body);
        assembly.needs(&asked).iter().any(|need| need.hardpoint == hardpoint)
    };
    let kinds: Vec<_> = LinkageKind::specs().filter(|spec| uses(spec.kind)).map(|spec| spec.word).collect();
    let because = format!("{} has no such point", own.with_article());
    if kinds.is_empty() {
        return (because, DELETE.into());
    }
    (because, format!("delete the point, or give the axle the linkage that has it: {}", list(&kinds)))
}
