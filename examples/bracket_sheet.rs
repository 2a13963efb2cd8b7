//! Draws the sheet by which two holes of an invented bracket are moved: tables and a template at full
//! size as PDF, each page as SVG, the template as DXF. Into the folder named, or the temporary one:
//! `cargo run -p wheelpath-examples --bin bracket_sheet`

use nalgebra::Vector3;
use std::error::Error;
use std::io::{Write, stdout};
use std::path::{Path, PathBuf};
use std::{env, fs};
use wheelpath_geometry::LengthUnit;
use wheelpath_report::{
    BracketSheet, MovedHole, Paper, Placing, Plate, PlateFault, ReferenceHole, Tolerance,
};

/// Car axes (X forward, Y left, Z up), given in millimetres.
fn mm(x: f64, y: f64, z: f64) -> Vector3<f64> {
    Vector3::new(x, y, z) / 1e3
}

/// A plate on the left of the chassis. Both front pickups go up for anti-dive; one comes out by 3 mm.
fn bracket() -> Result<BracketSheet, PlateFault> {
    let dowels = [mm(1500.0, 252.0, 210.0), mm(1440.0, 252.0, 210.0)];
    let edge = mm(1470.0, 249.0, 250.0);
    // The order of the points would choose the face; what is drawn is the one toward the left.
    let plate = Plate::through([dowels[0], dowels[1], edge])?.facing(Vector3::y());
    let holes = vec![
        MovedHole {
            name: "Lower wishbone, front inner".into(),
            old: mm(1490.0, 253.5, 190.0),
            new: mm(1490.0, 252.6, 202.0),
            diameter: Some(0.010),
            tolerance: Some(Tolerance {
                realigned: Placing { within: 0.001_1, decided_by: Some("anti-dive of 20 ± 2 %".into()) },
                as_built: Placing { within: 0.000_3, decided_by: Some("bump steer of 0.05°".into()) },
                toe_to_take_out: Some(0.12_f64.to_radians()),
                broken: Vec::new(),
                open: Vec::new(),
            }),
        },
        MovedHole {
            name: "Lower wishbone, rear inner".into(),
            old: mm(1430.0, 253.5, 190.0),
            new: mm(1428.0, 256.7, 187.5),
            diameter: Some(0.010),
            tolerance: None,
        },
    ];
    let references = ["Dowel A", "Dowel B"]
        .into_iter()
        .zip(dowels)
        .map(|(name, at)| ReferenceHole { name: name.into(), at, diameter: Some(0.006) })
        .collect();
    Ok(BracketSheet {
        part: "Lower wishbone plate, left front".into(),
        car: "Alder".into(),
        proposal: "More anti-dive".into(),
        date: "3 May".into(),
        plate,
        holes,
        references,
        paper: Paper::A4,
        lengths: LengthUnit::Millimetre,
    })
}

/// Writes the files and returns their paths.
fn write(sheet: &BracketSheet, folder: &Path) -> Result<Vec<PathBuf>, Box<dyn Error>> {
    let drawing = sheet.drawing()?;
    let mut files = vec![("bracket.pdf".to_owned(), drawing.pdf())];
    for (number, page) in (1..).zip(drawing.svgs()) {
        files.push((format!("bracket-{number}.svg"), page.into_bytes()));
    }
    files.push(("bracket.dxf".to_owned(), sheet.dxf()?.into_bytes()));
    let mut paths = Vec::new();
    for (name, bytes) in files {
        let path = folder.join(name);
        fs::write(&path, bytes)?;
        paths.push(path);
    }
    Ok(paths)
}

fn main() -> Result<(), Box<dyn Error>> {
    let folder = env::args_os().nth(1).map_or_else(env::temp_dir, PathBuf::from);
    for path in write(&bracket()?, &folder)? {
        writeln!(stdout(), "{}", path.display())?;
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn tables_and_template_lie_in_the_folder() {
        let folder = tempfile::tempdir().unwrap();
        let paths = write(&bracket().unwrap(), folder.path()).unwrap();
        let names: Vec<_> = paths.iter().map(|path| path.file_name().unwrap().to_str().unwrap()).collect();
        assert_eq!(names, ["bracket.pdf", "bracket-1.svg", "bracket-2.svg", "bracket.dxf"]);
        assert!(fs::read(&paths[0]).unwrap().starts_with(b"%PDF-"));
        let template = fs::read_to_string(&paths[2]).unwrap();
        assert!(template.contains("Seen from the left of the car"), "{template}");
        assert!(template.contains("mm toward you"), "{template}");
        assert!(fs::read_to_string(&paths[3]).unwrap().ends_with("EOF\n"));
    }

    /// The rear hole goes 3 mm out: by the plate's lean, (−2, 3.2, −2.5) on its normal (0, 40, 3)/√1609.
    #[test]
    fn the_move_out_of_the_plane_is_what_the_lean_makes_it() {
        let sheet = bracket().unwrap();
        let rear = &sheet.holes[1];
        let step = sheet.plate.along(&(rear.new - rear.old));
        assert!((step.z * 1e3 - (40.0 * 3.2 - 3.0 * 2.5) / 1609.0_f64.sqrt()).abs() < 1e-9, "{step}");
    }
}
