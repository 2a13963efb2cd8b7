//! Brackets beside the car: their planes for pulls, and plates described here kept among them.

use super::Session;
use super::notice::About;
use nalgebra::Vector3;
use std::collections::BTreeMap;
use std::path::PathBuf;
use wheelpath_car_file::{BracketsFile, FileSnapshot, SaveError, parse_brackets, put, system_words};
use wheelpath_geometry::{Assembly, Bracket, BracketPlane, Car, Hardpoint};
use wheelpath_project::{WithSnapshot, read_with_snapshot};
use wheelpath_report::Plate;

/// Unit normals of the planes, for every point that stands on a bracket.
fn plates_of(brackets: &[Bracket], car: &Car) -> BTreeMap<(Assembly, Hardpoint), Vector3<f64>> {
    let mut plates = BTreeMap::new();
    for bracket in brackets {
        let Ok(plate) = Plate::of_bracket(bracket, car) else { continue };
        let [_, _, normal] = plate.axes();
        plates.extend(bracket.points.iter().map(|hardpoint| ((bracket.of, *hardpoint), normal)));
    }
    plates
}

impl Session {
    /// Every point that stands on a bracket lies in its plane, no longer in that of the brackets before;
    /// a plate that was described here stays.
    pub(super) fn take_plates_of_brackets(&mut self, before: &[Bracket]) {
        let before = plates_of(before, &self.original);
        self.plates.retain(|of, plate| before.get(of) != Some(plate));
        for (of, plate) in plates_of(&self.beside.brackets, &self.original) {
            self.plates.entry(of).or_insert(plate);
        }
    }

    /// Whether a point's plate was described here and stands in no bracket beside the car.
    #[must_use]
    pub fn plate_is_new(&self, assembly: Assembly, hardpoint: Hardpoint) -> bool {
        let on = |bracket: &Bracket| bracket.of == assembly && bracket.points.contains(&hardpoint);
        self.plates.contains_key(&(assembly, hardpoint)) && !self.beside.brackets.iter().any(on)
    }

    /// Where brackets are kept: beside the car.
    #[must_use]
    pub fn brackets_path(&self) -> PathBuf {
        self.folder().join(wheelpath_project::BRACKETS)
    }

    /// Reads the brackets beside the car anew.
    pub(super) fn read_brackets(&mut self) {
        let path = self.brackets_path();
        let WithSnapshot { read, snapshot } = read_with_snapshot(&path, parse_brackets);
        let read = read.map(|read| read.map_err(|error| error.to_string()));
        if let Some(seen) = snapshot {
            self.file.known.note(&path, seen);
        }
        let before = std::mem::take(&mut self.beside.brackets);
        match read {
            Some(Err(_)) => self.beside.brackets.clone_from(&before),
            _ => (self.beside.brackets_file, self.beside.brackets_fault) = (None, None),
        }
        if let Some(read) = read {
            self.beside.take_brackets(read);
        }
        self.take_plates_of_brackets(&before);
    }

    /// Writes the plate of a point, and its mirror image, to the brackets beside the car, unless another
    /// has written them since they were read here.
    #[inline(never)]
    pub(super) fn keep_plate(&mut self, assembly: Assembly, hardpoint: Hardpoint, mirrored: bool) {
        if self.beside.brackets_fault.is_some() {
            // It may have been put right.
            self.read_brackets();
        }
        let path = self.brackets_path();
        let kept = self.with_plates(assembly, hardpoint, mirrored).and_then(|file| {
            let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
            folder.map_or(Ok(()), std::fs::create_dir_all).map_err(|error| system_words(&error))?;
            Ok(file)
        });
        let file = match kept {
            Ok(file) => file,
            Err(why) => return self.not_kept((assembly, hardpoint), &why, UNTOUCHED),
        };
        let over = self.file.known.seen(&path).cloned().unwrap_or(FileSnapshot::NOTHING);
        match put(&path, file.text(), Some(&over)) {
            Ok(seen) => {
                self.file.known.note(&path, seen);
                self.beside.take_brackets(Ok(file));
            }
            Err(SaveError::ChangedByAnother { now, .. }) => {
                let what = if now.is_there() { "written" } else { "taken away" };
                let name = wheelpath_project::BRACKETS;
                let why = format!("another window or program has {what} {name} since it was read here");
                self.read_brackets();
                self.not_kept((assembly, hardpoint), &why, READ_ANEW);
            }
            Err(error) => self.not_kept((assembly, hardpoint), &error.to_string(), UNTOUCHED),
        }
    }

    fn not_kept(&mut self, (assembly, hardpoint): (Assembly, Hardpoint), why: &str, remedy: &str) {
        self.refuse(About::Hardpoint(assembly, hardpoint), format!("not kept: {why}"), remedy.into());
    }

    /// The file of brackets with the plate of a point: comments of the one that was read stay.
    fn with_plates(
        &self,
        assembly: Assembly,
        hardpoint: Hardpoint,
        mirrored: bool,
    ) -> Result<BracketsFile, String> {
        if let Some(fault) = &self.beside.brackets_fault {
            return Err(format!("the file has faults: {fault}"));
        }
        let file = match &self.beside.brackets_file {
            Some(file) => file.clone(),
            None => BracketsFile::new(self.units(), self.axes()).map_err(|error| error.to_string())?,
        };
        let mut to = self.beside.brackets.clone();
        for of in assembly.with_mirrored(mirrored) {
            let Some(normal) = self.plates.get(&(of, hardpoint)) else { continue };
            if !self.plate_is_new(of, hardpoint) {
                continue;
            }
            let name = format!("Plate of {hardpoint}, {of}");
            if to.iter().any(|one| one.name == name) {
                return Err(format!("{} has a bracket {name:?} already", self.brackets_path().display()));
            }
            to.push(Bracket {
                name,
                about: None,
                of,
                plane: BracketPlane::Normal(*normal),
                points: vec![hardpoint],
                hole_diameter: None,
                references: Vec::new(),
            });
        }
        file.with_brackets(&to).map_err(|error| error.to_string())
    }
}

const UNTOUCHED: &str = "what was there is untouched; put the file right, then keep the plate again";
const READ_ANEW: &str = "theirs is untouched and read anew; keep the plate again to add it to theirs";
