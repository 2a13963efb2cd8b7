//! Saving a car without ever losing the file that was there.

use crate::Axes;
use crate::disk::replace::{put, put_new};
use crate::fault::failure::SaveError;
use crate::read::car::Heading;
use crate::read::document::{Document, convert};
use crate::read::stand_in::{STAND_IN, is_stand_in};
use crate::text::edit::edited;
use crate::write::car::item;
use crate::write::difference::difference;
use std::path::Path;
use wheelpath_geometry::{Car, LengthUnit};

impl Document {
    /// A new file for a car, in these units and axes.
    ///
    /// # Errors
    /// The car has a fault.
    pub fn new(
        car: &Car,
        file: &str,
        design_pose: &str,
        units: LengthUnit,
        axes: Axes,
    ) -> Result<Document, SaveError> {
        let heading =
            Heading { about: None, design_pose: design_pose.to_owned(), units, axes, left_over: Vec::new() };
        checked(written_afresh(car, &heading), file, car)
    }

    /// The file of the car as it is now: only the numbers and words that changed are changed, comments
    /// and units stay, a side that was mirrored and no longer matches is written out.
    ///
    /// # Errors
    /// The car has a fault, so that the file would not open again.
    pub fn with_car(&self, car: &Car) -> Result<Document, SaveError> {
        let heading = Heading { left_over: self.still_left_over(car), ..self.heading.clone() };
        let item = item(car, &heading, Some(&self.tree));
        match checked(edited(&self.text, &self.tree, &item), &self.file, car) {
            // Not expected; but a file without its comments is better than none.
            Err(SaveError::ReadsBackDifferent { .. }) => {
                checked(written_afresh(car, &heading), &self.file, car)
            }
            result => result,
        }
    }
}

fn written_afresh(car: &Car, heading: &Heading) -> String {
    let units = match heading.units {
        LengthUnit::Millimetre => "millimetres",
        LengthUnit::Inch => "inches",
    };
    let text = item(car, heading, None).printed(0, "\n");
    format!(
        "// Lengths in {units}, angles in degrees. Camber - = top toward the car; toe + = toe-in.\n{text}\n"
    )
}

/// The text as a document, if it opens again as this car.
fn checked(text: String, file: &str, car: &Car) -> Result<Document, SaveError> {
    let document = convert(text, file).map_err(SaveError::Faulty)?;
    // Where the file says so the rear axle stands in for one: it moves with the front axle, also as it is read.
    let stands_in = document.tree.at(&["rear"]).is_some_and(|node| node.is_word(STAND_IN));
    let mut expected = car.clone();
    if stands_in && is_stand_in(&car.rear) {
        expected.rear = document.car.rear.clone();
    }
    if let Some(what) = difference(&document.car, &expected) {
        return Err(SaveError::ReadsBackDifferent { what });
    }
    document.check().map_err(SaveError::Faulty)?;
    Ok(document)
}

/// Writes the car to a file, new or old, in one step: the new content is complete and on the disk
/// before it takes the old one's place. Gives the document of what was written.
///
/// # Errors
/// The car has a fault, or the file cannot be written; the file that was there is then untouched.
pub fn save(document: &Document, car: &Car, path: &Path) -> Result<Document, SaveError> {
    let written = to_save(document, car, path)?;
    put(path, &written.text, None)?;
    Ok(written)
}

/// Writes the car to a new file in one step. Of any number who do that at once with one name, one succeeds.
/// Gives the document of what was written.
///
/// # Errors
/// The car has a fault, the name is taken, or the file cannot be written; what was there is then untouched.
pub fn save_new(document: &Document, car: &Car, path: &Path) -> Result<Document, SaveError> {
    let written = to_save(document, car, path)?;
    put_new(path, &written.text)?;
    Ok(written)
}

fn to_save(document: &Document, car: &Car, path: &Path) -> Result<Document, SaveError> {
    let mut written = document.with_car(car)?;
    written.file = path.display().to_string();
    Ok(written)
}
