//! Brackets beside the car: their planes for pulls, and sheets to drill moved holes by.

use super::notice::About;
use super::{Owner, Session};
use std::path::{Path, PathBuf};
use wheelpath_car_file::{Axes, BracketsFile, load_brackets};
use wheelpath_command_line::{bracket_sheet, write_bracket_sheet};
use wheelpath_geometry::{Bracket, BracketPlane, LengthUnit, Pickup, Proposal};
use wheelpath_report::Plate;

impl From<wheelpath_geometry::Owner> for Owner {
    fn from(owner: wheelpath_geometry::Owner) -> Self {
        owner.wheel().map_or(Owner::Axle(owner.end), Owner::Corner)
    }
}

impl Session {
    /// Every point that stands on a bracket lies in its plane.
    pub(super) fn take_plates_of_brackets(&mut self) {
        for bracket in &self.beside.brackets {
            let Ok(plate) = Plate::of_bracket(bracket, &self.original) else { continue };
            let [_, _, normal] = plate.axes();
            for pickup in &bracket.points {
                self.plates.insert((bracket.of.into(), *pickup), normal);
            }
        }
    }

    /// Whether a point's plate was described here and stands in no bracket beside the car.
    #[must_use]
    pub fn plate_is_new(&self, owner: Owner, pickup: Pickup) -> bool {
        let on = |bracket: &Bracket| Owner::from(bracket.of) == owner && bracket.points.contains(&pickup);
        self.plates.contains_key(&(owner, pickup)) && !self.beside.brackets.iter().any(on)
    }

    /// Where brackets are kept: beside the car.
    #[must_use]
    pub fn brackets_path(&self) -> PathBuf {
        self.proposal_path("brackets")
    }

    /// Writes the plate of a point, and its mirror image, to the brackets beside the car.
    #[inline(never)]
    pub(super) fn keep_plate(&mut self, owner: Owner, pickup: Pickup, mirrored: bool) {
        let path = self.brackets_path();
        let kept = self.with_plates(&path, owner, pickup, mirrored).and_then(|file| {
            let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
            folder.map_or(Ok(()), std::fs::create_dir_all).map_err(|error| error.to_string())?;
            file.save(&path).map_err(|error| error.to_string())?;
            Ok(file.brackets)
        });
        match kept {
            Ok(brackets) => self.beside.brackets = brackets,
            Err(why) => {
                let remedy = "what was there is untouched; put the file right, or choose another car";
                self.refuse(About::Pickup(owner, pickup), format!("not kept: {why}"), remedy.into());
            }
        }
    }

    fn with_plates(
        &self,
        path: &Path,
        owner: Owner,
        pickup: Pickup,
        mirrored: bool,
    ) -> Result<BracketsFile, String> {
        let mut file = if path.exists() {
            load_brackets(path).map_err(|error| error.to_string())?
        } else {
            let known = self.document().map(|document| (document.units(), document.axes()));
            let (units, axes) = known.unwrap_or((LengthUnit::Millimetre, Axes::VEHICLE));
            BracketsFile::new(self.beside.brackets.clone(), units, axes)
        };
        for of in owner.with_mirrored(mirrored) {
            let Some(normal) = self.plates.get(&(of, pickup)) else { continue };
            if !self.plate_is_new(of, pickup) {
                continue;
            }
            let name = format!("Plate of {pickup}, {of}");
            if file.named(&name).is_some() {
                return Err(format!("{} has a bracket {name:?} already", path.display()));
            }
            file.brackets.push(Bracket {
                name,
                about: None,
                of: wheelpath_geometry::Owner { end: of.end(), side: of.wheel().map(|at| at.side) },
                plane: BracketPlane::Normal(*normal),
                points: vec![pickup],
                hole_diameter: None,
                references: Vec::new(),
            });
        }
        Ok(file)
    }

    /// The brackets on which a point stands that is moved against the original.
    #[must_use]
    pub fn brackets_moved(&self) -> Vec<&Bracket> {
        let moved = |bracket: &&Bracket| {
            let owner: Owner = bracket.of.into();
            let place = |car, pickup: &Pickup| owner.pickups(car).get(*pickup);
            bracket.points.iter().any(|pickup| place(&self.original, pickup) != place(&self.car, pickup))
        };
        self.beside.brackets.iter().filter(moved).collect()
    }

    /// Where a sheet of a bracket would be written: beside the proposals.
    #[must_use]
    pub fn sheet_path(&self, bracket: &str) -> PathBuf {
        self.proposal_path(bracket).with_extension("pdf")
    }

    #[inline(never)]
    pub(super) fn write_sheet(&mut self, bracket: &str, path: &Path, replace: bool) {
        let refuse = |session: &mut Session, [text, remedy]: [String; 2]| {
            session.refuse(About::File, text, remedy);
        };
        if self.is_stale() {
            let remedy = "undo, or put right what is marked; then write the sheet";
            return refuse(self, ["the car as typed cannot be solved".into(), remedy.into()]);
        }
        let Some(bracket) = self.beside.brackets.iter().find(|one| one.name == bracket) else {
            return refuse(self, [format!("there is no bracket {bracket}"), "look into brackets.ron".into()]);
        };
        let name = self.history.next_undo().unwrap_or("as it stands").to_owned();
        let proposal = Proposal::between(&name, &self.original, &self.car);
        let after = (&self.solver_car, &self.solver);
        let sheet = bracket_sheet(&self.original, after, &proposal, bracket, &self.beside.limits);
        let folder = path.parent().filter(|folder| !folder.as_os_str().is_empty());
        let made = folder
            .map_or(Ok(()), std::fs::create_dir_all)
            .map_err(|error| [format!("not written: {error}"), "choose another folder".to_owned()]);
        match sheet.and_then(|sheet| made.and_then(|()| write_bracket_sheet(&sheet, path, replace))) {
            Ok(files) => {
                self.history.settle();
                self.file.sheets = files;
            }
            Err(why) => refuse(self, why),
        }
    }

    /// The files of the sheet that was written last.
    #[must_use]
    pub fn sheets_written(&self) -> &[PathBuf] {
        &self.file.sheets
    }
}
