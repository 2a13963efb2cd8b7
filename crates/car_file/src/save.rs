//! Saving a car without ever losing the file that was there.

use crate::Axes;
use crate::difference::difference;
use crate::document::{Document, convert};
use crate::edit::edited;
use crate::failure::SaveError;
use crate::read::Heading;
use crate::write::item;
use std::fs::{self, File};
use std::io::{self, Write};
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
        let heading = Heading { about: None, design_pose: design_pose.to_owned(), units, axes };
        checked(written_afresh(car, &heading), file, car)
    }

    /// The file of the car as it is now: only the numbers and words that changed are changed, comments
    /// and units stay, a side that was mirrored and no longer matches is written out.
    ///
    /// # Errors
    /// The car has a fault, so that the file would not open again.
    pub fn with_car(&self, car: &Car) -> Result<Document, SaveError> {
        let item = item(car, &self.heading, Some(&self.tree));
        match checked(edited(&self.text, &self.tree, &item), &self.file, car) {
            // Not expected; but a file without its comments is better than none.
            Err(SaveError::ReadsBackDifferent { .. }) => {
                checked(written_afresh(car, &self.heading), &self.file, car)
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
    if let Some(what) = difference(&document.car, car) {
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
    let mut written = document.with_car(car)?;
    written.file = path.display().to_string();
    replace(path, written.text.as_bytes())
        .map_err(|source| SaveError::Unwritable { file: path.to_owned(), source })?;
    Ok(written)
}

/// Puts a file in the place of another in one step.
pub(crate) fn replace(path: &Path, content: &[u8]) -> io::Result<()> {
    // Through a link, the file it leads to is replaced, not the link.
    let target = fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
    let folder = match target.parent() {
        Some(folder) if !folder.as_os_str().is_empty() => folder,
        _ => Path::new("."),
    };
    let mut file = tempfile::Builder::new().prefix(".saving-").suffix(".ron").tempfile_in(folder)?;
    file.write_all(content)?;
    match fs::metadata(&target) {
        Ok(old) if old.permissions().readonly() => {
            return Err(io::Error::new(io::ErrorKind::PermissionDenied, "the file is read-only"));
        }
        Ok(old) => file.as_file().set_permissions(old.permissions())?,
        Err(_) => fresh_permissions(file.as_file())?,
    }
    file.as_file().sync_all()?;
    file.persist(&target).map_err(|error| error.error)?;
    // The rename too is to outlive a loss of power, where the system can promise that.
    if let Ok(folder) = File::open(folder) {
        let _ = folder.sync_all();
    }
    Ok(())
}

/// A temporary file is its owner's alone; a car file may be read by all, as any new file.
#[cfg(unix)]
fn fresh_permissions(file: &File) -> io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn fresh_permissions(_: &File) -> io::Result<()> {
    Ok(())
}
