//! Runs a command line and keeps what it says.

use serde_json::Value;
use std::cell::RefCell;
use std::path::PathBuf;
use wheelpath_command_line::{Frontend, NoPicture, NoWindow, PictureRequest, run};
use wheelpath_project::LoadedCar;

/// A front that notes what it was asked for.
#[derive(Default)]
pub struct Noting {
    pub opened: RefCell<Vec<LoadedCar>>,
    pub pictures: RefCell<Vec<PictureRequest>>,
}

impl Frontend for Noting {
    fn open(&self, car: LoadedCar) -> Result<(), NoWindow> {
        self.opened.borrow_mut().push(car);
        Ok(())
    }

    fn picture(&self, request: &PictureRequest) -> Result<(), NoPicture> {
        self.pictures.borrow_mut().push(request.clone());
        Ok(())
    }
}

/// What a run said.
#[derive(Debug)]
pub struct Said {
    pub code: u8,
    pub out: String,
    /// Lines that were broken at the margin put together again.
    pub err: String,
    /// As it was written.
    pub err_as_written: String,
}

/// Broken lines go on two columns further in.
fn mended(text: &str) -> String {
    let mut mended = String::new();
    let mut open = false;
    for line in text.split_inclusive('\n') {
        let goes_on = line
            .strip_prefix("  ")
            .filter(|line| open && !line.starts_with("may follow") && !line.starts_with(' '));
        match goes_on {
            Some(rest) => {
                mended.truncate(mended.trim_end_matches('\n').len());
                mended.extend([" ", rest]);
            }
            None => mended.push_str(line),
        }
        // A line is broken where the next word would go beyond the margin: far from the margin none is.
        open = line.chars().count() > 50;
    }
    mended
}

/// Runs these words (after the program's name) with this front.
pub fn wheelpath_with(words: &[&str], front: &dyn Frontend) -> Said {
    let (mut out, mut err) = (Vec::new(), Vec::new());
    let code = run(std::iter::once(&"wheelpath").chain(words), &mut out, &mut err, front);
    let text = |bytes| String::from_utf8(bytes).expect("UTF-8");
    let err_as_written = text(err);
    Said { code, out: text(out), err: mended(&err_as_written), err_as_written }
}

/// Runs these words, parted at blanks.
pub fn wheelpath(words: &str) -> Said {
    wheelpath_with(&words.split_whitespace().collect::<Vec<_>>(), &Noting::default())
}

/// Runs words that must succeed without complaint, and returns the results.
pub fn fine(words: &str) -> String {
    let said = wheelpath(words);
    assert_eq!((said.code, said.err.as_str()), (0, ""), "{words}: {said:?}");
    said.out
}

/// Runs words that must succeed, and reads the results as JSON.
pub fn json(words: &str) -> Value {
    serde_json::from_str(&fine(words)).expect("JSON")
}

/// Runs words that find something, and so end with 1, and returns the results.
pub fn found(words: &str) -> String {
    let said = wheelpath(words);
    assert_eq!(said.code, 1, "{words}: {said:?}");
    assert!(said.err.starts_with("error: "), "{words}: {}", said.err);
    said.out
}

/// Runs words that must succeed, and reads the results as CSV: headings, then rows.
pub fn csv(words: &str) -> (Vec<String>, Vec<Vec<String>>) {
    csv_of(&fine(words))
}

/// Reads results as CSV.
pub fn csv_of(text: &str) -> (Vec<String>, Vec<Vec<String>>) {
    let mut reader = csv::Reader::from_reader(text.as_bytes());
    let cells = |record: &csv::StringRecord| record.iter().map(str::to_owned).collect::<Vec<_>>();
    let headings = cells(reader.headers().expect("headings"));
    let rows = reader.records().map(|record| cells(&record.expect("as many cells as headings"))).collect();
    (headings, rows)
}

/// A text with one blank in place of line breaks and blanks: sentences are broken over lines.
pub fn unbroken(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A demo car's file.
pub fn demo_cars() -> Vec<PathBuf> {
    let folder = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../demo-cars");
    let mut all: Vec<PathBuf> =
        std::fs::read_dir(folder).expect("demo cars").map(|entry| entry.expect("entry").path()).collect();
    all.retain(|path| path.extension().is_some_and(|ext| ext == "ron"));
    assert!(!all.is_empty());
    all
}

/// The text of the demo car with one passage replaced.
pub fn alder_with(passage: &str, other: &str) -> String {
    let text = wheelpath_project::ALDER;
    assert!(text.contains(passage), "{passage} is not in the demo car");
    text.replacen(passage, other, 1)
}
