//! What stands on the sheet of a bracket: named by words, or as the car's brackets say.

use crate::arguments::subcommands::BracketArguments;
use crate::beside_car::bracket;
use crate::console::failure::Failure;
use crate::console::pose::metres;
use crate::console::vocabulary::says;
use wheelpath_geometry::{Assembly, Bracket, Car, Hardpoint};
use wheelpath_project::LoadedCar;
use wheelpath_report::{NoSheet, Plate, PlateFault, PointOf, ReferenceHole, SheetHoles};

/// What stands on the sheet. `after` is the car with the proposal made; `moved` what that moves, `None` where
/// there is none.
pub(crate) fn asked(
    arguments: &BracketArguments,
    at_hand: &LoadedCar,
    after: &Car,
    moved: Option<&[PointOf]>,
) -> Result<SheetHoles, Failure> {
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
    Ok(SheetHoles { assembly, points, plate, references, part, diameter })
}

/// The plate is as the car has it, whatever moves on it.
fn of_bracket(
    arguments: &BracketArguments,
    bracket: &Bracket,
    car: &Car,
    moved: Option<&[PointOf]>,
) -> Result<SheetHoles, Failure> {
    let asked = SheetHoles::on_bracket(bracket, car, moved).map_err(|no| no_sheet(&no))?;
    let own: Vec<PointOf> = asked.points.iter().map(|hardpoint| (asked.assembly, *hardpoint)).collect();
    Ok(SheetHoles {
        points: holes_asked(arguments, &own, asked.assembly)?,
        part: arguments.part.clone().unwrap_or(asked.part),
        diameter: arguments.hole_mm.map(metres).or(asked.diameter),
        ..asked
    })
}

/// Why there is no sheet.
pub(crate) fn no_sheet(no: &NoSheet) -> Failure {
    Failure::wrong_use(no.to_string(), no.hint())
}

fn no_plate(fault: PlateFault) -> Failure {
    Failure::wrong_use(fault.to_string(), "")
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
