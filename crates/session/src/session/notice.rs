//! What is wrong or worth saying just now, with its place, so that it can stand beside what caused it.

use super::Session;
use super::screen_names::in_screen_names;
use wheelpath_geometry::{
    Assembly, End, Exceeded, Finding, Hardpoint, LengthUnit, Link, Severity, Side, SteerInput, Stop,
    StopKind, Subject, WheelPosition,
};

/// What a notice stands beside.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum About {
    /// A point.
    Hardpoint(Assembly, Hardpoint),
    /// A link.
    Link(Assembly, Link),
    /// A wheel's own numbers.
    Wheel(WheelPosition),
    /// Travel of a wheel.
    Travel(WheelPosition),
    /// The steering input.
    Steer,
    /// The body over the road.
    Body,
    /// The car as a whole.
    Car,
    /// The file.
    File,
    /// The limits.
    Limits,
}

impl About {
    /// Which corner or axle it concerns, if one.
    #[must_use]
    pub fn assembly(self) -> Option<Assembly> {
        match self {
            About::Hardpoint(of, _) | About::Link(of, _) => Some(of),
            About::Wheel(at) | About::Travel(at) => Some(at.into()),
            About::Steer | About::Body | About::Car | About::File | About::Limits => None,
        }
    }

    /// Whether it is about the pose and not the car.
    #[must_use]
    pub fn is_pose(self) -> bool {
        matches!(self, About::Travel(_) | About::Steer | About::Body)
    }
}

/// Something to say.
#[derive(Clone, Debug, PartialEq)]
pub struct Notice {
    /// What the notice is about.
    pub about: About,
    /// Whether the numbers on the screen are not those of the car as typed, or the pose not the one asked.
    pub severe: bool,
    /// What is the matter, and by how much.
    pub text: String,
    /// What to do.
    pub remedy: String,
}

fn in_front(text: &str, at: Option<WheelPosition>) -> String {
    at.map_or_else(|| text.to_owned(), |at| format!("{at}: {text}"))
}

/// A finding of the car's check, at its place.
pub(super) fn of_finding(finding: &Finding) -> Notice {
    let end = finding.end.unwrap_or(End::Front);
    let at = WheelPosition { end, side: finding.side.unwrap_or(Side::Left) };
    let about = match finding.subject {
        Subject::Hardpoint(hardpoint) => About::Hardpoint(Assembly::of_point(at, hardpoint), hardpoint),
        Subject::Link(link) => About::Link(Assembly::of_link(at, link), link),
        Subject::Wheel(_) | Subject::Damper | Subject::Spring | Subject::Alignment => About::Wheel(at),
        Subject::Radius(part) if part.is_of_axle() => About::Car,
        Subject::Radius(_) => About::Wheel(at),
        Subject::Steering(_) | Subject::Axle(_) | Subject::Car(_) => About::Car,
    };
    Notice {
        about,
        severe: finding.severity == Severity::Fault,
        text: in_screen_names(&in_front(
            &finding.message,
            finding.side.map(|side| WheelPosition { end, side }),
        )),
        remedy: in_screen_names(&finding.hint),
    }
}

/// Why an edited car cannot be solved; lengths are said in this unit.
pub(super) fn of_unsolvable(stop: &Stop, lengths: LengthUnit) -> Notice {
    let at = stop.wheel.unwrap_or(WheelPosition::ALL[0]);
    let link = stop.links.iter().find_map(|label| link_named(label));
    Notice {
        about: link.map_or(About::Wheel(at), |link| About::Link(Assembly::of_link(at, link), link)),
        severe: true,
        text: stop.in_words(lengths),
        remedy: match stop.kind {
            StopKind::CannotAssemble => "undo, or bring the link's ends nearer to its length",
            StopKind::DeadPoint => "undo, or move a point until these links are out of line",
            StopKind::CannotAlign => "undo, or ask for less toe or camber",
            _ => "undo, or move the point back a little",
        }
        .into(),
    }
}

/// The limit that kept a pose from being reached; lengths are said in this unit.
pub(super) fn of_limit(stop: &Stop, steer_asked: bool, lengths: LengthUnit) -> Notice {
    let about = match stop.wheel {
        Some(at) if !steer_asked => About::Travel(at),
        _ => About::Steer,
    };
    Notice {
        about,
        severe: true,
        text: format!("{}; the last pose that closes is shown", stop.in_words(lengths)),
        remedy: "ask for less travel or steer, or move the points of these links".into(),
    }
}

/// Stops of dampers, steering and joints that this pose goes beyond.
pub(super) fn beyond_stops(session: &Session) -> Vec<Notice> {
    let of = |end| session.solver().axle(end).exceeded(session.shown().axle(end));
    let all = End::BOTH.into_iter().flat_map(of).filter(|exceeded| exceeded.beyond() > 5e-5);
    all.map(|exceeded| {
        let (about, what) = match &exceeded {
            Exceeded::Steering { input: SteerInput::RackTravel, .. } => (About::Steer, "rack"),
            Exceeded::Steering { .. } => (About::Steer, "pitman arm"),
            Exceeded::DamperShort { wheel, .. } | Exceeded::DamperLong { wheel, .. } => {
                (About::Travel(*wheel), "damper")
            }
            Exceeded::Joint { wheel, .. } => (About::Travel(*wheel), "joint"),
        };
        Notice {
            about,
            severe: false,
            text: exceeded.in_words(session.units()),
            remedy: format!("the real {what} stops before this; the linkage itself could go on"),
        }
    })
    .collect()
}

/// The link with this name in words.
#[must_use]
pub fn link_named(label: &str) -> Option<Link> {
    Link::ALL.iter().copied().find(|link| link.label() == label)
}
