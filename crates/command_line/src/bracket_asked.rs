//! What stands on the sheet of a bracket: named by words, or as the car's brackets say.

use crate::arguments::BracketArguments;
use crate::beside_car::bracket;
use crate::failure::Failure;
use crate::pose::metres;
use crate::vocabulary::says;
use wheelpath_geometry::{Assembly, Bracket, BracketReference, Car, Change, Hardpoint, Parameter, Proposal};
use wheelpath_project::LoadedCar;
use wheelpath_report::{Plate, PlateFault, ReferenceHole};

/// A point and whose it is.
type PointOf = (Assembly, Hardpoint);

/// What the sheet is about.
pub(crate) struct Asked {
    /// Whose pickups.
    pub assembly: Assembly,
    /// Which of them.
    pub points: Vec<Hardpoint>,
    pub plate: Plate,
    pub references: Vec<ReferenceHole>,
    pub part: String,
    /// Of the holes, metres.
    pub diameter: Option<f64>,
}

impl Asked {
    /// `after` is the car with the proposal made; `moved` what that moves, `None` where there is none.
    pub fn of(
        arguments: &BracketArguments,
        at_hand: &LoadedCar,
        after: &Car,
        moved: Option<&[PointOf]>,
    ) -> Result<Asked, Failure> {
        let diameter = arguments.hole_mm.map(metres);
        let part = arguments.part.clone();
        if let Some(name) = &arguments.bracket {
            let bracket = bracket(at_hand, name)?;
            return of_bracket(arguments, &bracket, &at_hand.loaded.car, moved);
        }
        let moved = moved.unwrap_or_default();
        let assembly = assembly_of(arguments, moved)?;
        let points = holes_asked(arguments, moved, assembly)?;
        let plate = plate(arguments, after, assembly, &points)?;
        let references = references(arguments, after, assembly, &points)?;
        let part = part.unwrap_or_else(|| format!("Bracket, {assembly}"));
        Ok(Asked { assembly, points, plate, references, part, diameter })
    }
}

/// The plate is as the car has it, whatever moves on it.
fn of_bracket(
    arguments: &BracketArguments,
    bracket: &Bracket,
    car: &Car,
    moved: Option<&[PointOf]>,
) -> Result<Asked, Failure> {
    let asked = on_bracket(bracket, car, moved)?;
    let own: Vec<PointOf> = asked.points.iter().map(|hardpoint| (asked.assembly, *hardpoint)).collect();
    Ok(Asked {
        points: holes_asked(arguments, &own, asked.assembly)?,
        part: arguments.part.clone().unwrap_or(asked.part),
        diameter: arguments.hole_mm.map(metres).or(asked.diameter),
        ..asked
    })
}

/// What stands on the sheet of a bracket: what is moved of its points, or all of them where nothing is
/// said to be moved.
pub(crate) fn on_bracket(bracket: &Bracket, car: &Car, moved: Option<&[PointOf]>) -> Result<Asked, Failure> {
    let assembly = bracket.of;
    if let Some((of, hardpoint)) = bracket.lacking(car).first() {
        return Err(Failure::wrong_use(
            format!(
                "the bracket {:?} names the {hardpoint} of {of}, which {} does not have",
                bracket.name, car.name
            ),
            "take it out of brackets.ron; `wheelpath points` lists what there is",
        ));
    }
    let is_moved = |point: PointOf| moved.is_some_and(|moved| moved.contains(&point));
    let mut points = bracket.points.clone();
    if moved.is_some() {
        points.retain(|hardpoint| is_moved((assembly, *hardpoint)));
    }
    if points.is_empty() {
        let on = bracket.points.iter().map(|hardpoint| hardpoint.key()).collect::<Vec<_>>().join(", ");
        return Err(Failure::wrong_use(
            format!("the proposal moves nothing that stands on {:?}", bracket.name),
            format!("on it stand {on}, {assembly}; leave the proposal out to see them as they are"),
        ));
    }
    let mut references = Vec::new();
    for one in &bracket.references {
        references.push(match one {
            BracketReference::Hole { name, at, diameter } => {
                ReferenceHole { name: name.clone(), at: *at, diameter: *diameter }
            }
            BracketReference::Point(of, hardpoint) if is_moved((*of, *hardpoint)) => {
                return Err(Failure::wrong_use(
                    format!("{hardpoint}, {of}, from which {:?} is measured, is moved itself", bracket.name),
                    "give the bracket in brackets.ron a hole that stays",
                ));
            }
            BracketReference::Point(of, hardpoint) => ReferenceHole {
                name: hardpoint.to_string(),
                at: of.point(car, *hardpoint).unwrap_or_default(),
                diameter: None,
            },
        });
    }
    Ok(Asked {
        assembly,
        points,
        plate: Plate::of_bracket(bracket, car).map_err(no_plate)?,
        references,
        part: bracket.name.clone(),
        diameter: bracket.hole_diameter,
    })
}

fn no_plate(fault: PlateFault) -> Failure {
    Failure::wrong_use(fault.to_string(), "")
}

/// Every point that the proposal moves, and whose.
pub(crate) fn moved_points(proposal: &Proposal) -> Vec<(Assembly, Hardpoint)> {
    let mut moved = Vec::new();
    for (assembly, parameter) in proposal.changes.iter().flat_map(Change::touched) {
        if let Parameter::Point(hardpoint) = parameter
            && !moved.contains(&(assembly, hardpoint))
        {
            moved.push((assembly, hardpoint));
        }
    }
    moved
}

fn assembly_of(arguments: &BracketArguments, moved: &[(Assembly, Hardpoint)]) -> Result<Assembly, Failure> {
    let Some(&(first, _)) = moved.first() else {
        return Err(Failure::wrong_use(
            "the proposal moves no pickup",
            "a bracket sheet is for moved pickups",
        ));
    };
    let Some(word) = &arguments.of else { return Ok(first) };
    let assembly = Assembly::ALL.into_iter().find(|assembly| says(word, assembly.key()));
    assembly.filter(|assembly| moved.iter().any(|(of, _)| of == assembly)).ok_or_else(|| {
        let mut known: Vec<&str> = moved.iter().map(|(of, _)| of.key()).collect();
        known.dedup();
        Failure::wrong_use(
            format!("the proposal moves no pickup of {word}"),
            format!("it moves some of {}", known.join(", ")),
        )
    })
}

fn holes_asked(
    arguments: &BracketArguments,
    moved: &[(Assembly, Hardpoint)],
    assembly: Assembly,
) -> Result<Vec<Hardpoint>, Failure> {
    let own: Vec<Hardpoint> =
        moved.iter().filter(|(of, _)| *of == assembly).map(|(_, hardpoint)| *hardpoint).collect();
    if arguments.holes.is_empty() {
        return Ok(own);
    }
    match arguments.holes.iter().find(|hardpoint| !own.contains(hardpoint)) {
        Some(hardpoint) => Err(Failure::wrong_use(
            format!("the proposal does not move {hardpoint}, {assembly}"),
            "name holes that it moves, or leave --holes out to have all of them",
        )),
        None => Ok(arguments.holes.clone()),
    }
}

fn plate(
    arguments: &BracketArguments,
    car: &Car,
    assembly: Assembly,
    points: &[Hardpoint],
) -> Result<Plate, Failure> {
    let at = |hardpoint: Hardpoint| {
        assembly.point(car, hardpoint).ok_or_else(|| {
            Failure::wrong_use(
                format!("{assembly} has no {hardpoint}"),
                "`wheelpath points` lists what there is",
            )
        })
    };
    let made = match (&arguments.through[..], arguments.normal) {
        (_, Some(normal)) => {
            let origin = at(points.first().copied().unwrap_or(Hardpoint::ALL[0]))?;
            Plate::with_normal(origin, normal.into())
        }
        ([a, b, c], None) => Plate::through([at(*a)?, at(*b)?, at(*c)?]),
        _ => {
            return Err(Failure::wrong_use(
                "a bracket's plane is not known",
                "give the way its face looks, such as --normal 0,1,0 for a plate that faces left, three points on it with --through, or the name of one in brackets.ron with --bracket",
            ));
        }
    };
    made.map_err(no_plate)
}

fn references(
    arguments: &BracketArguments,
    car: &Car,
    assembly: Assembly,
    points: &[Hardpoint],
) -> Result<Vec<ReferenceHole>, Failure> {
    let mut all = Vec::new();
    for hardpoint in &arguments.references {
        if points.contains(hardpoint) {
            return Err(Failure::wrong_use(
                format!("{hardpoint} is moved itself"),
                "measure from holes that stay",
            ));
        }
        let at = assembly.point(car, *hardpoint).ok_or_else(|| {
            Failure::wrong_use(
                format!("{assembly} has no {hardpoint}"),
                "`wheelpath points` lists what there is",
            )
        })?;
        all.push(ReferenceHole { name: hardpoint.to_string(), at, diameter: None });
    }
    Ok(all)
}
