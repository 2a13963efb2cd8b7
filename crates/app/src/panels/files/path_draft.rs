//! A path being typed, and what it could become.

use std::path::Path;

/// As many files are offered while a path is typed.
const OFFERED: usize = 6;

/// A path being typed.
#[derive(Clone, Debug, Default)]
pub struct PathDraft {
    pub(in crate::panels) text: String,
    /// What it could become, of the folder that was read for this text.
    pub(in crate::panels) offers: Vec<String>,
}

impl PathDraft {
    /// Car files and folders that begin as the text does.
    pub(in crate::panels) fn complete(&mut self) {
        let (folder, start) = match self.text.rsplit_once(['/', '\\']) {
            Some((folder, start)) => (self.text.get(..=folder.len()).unwrap_or_default(), start),
            None => ("", self.text.as_str()),
        };
        let place = if folder.is_empty() { Path::new(".") } else { Path::new(folder) };
        let entries = std::fs::read_dir(place).into_iter().flatten().flatten();
        let mut offers: Vec<String> = entries
            .filter_map(|entry| {
                let name = entry.file_name().into_string().ok()?;
                let is_folder = entry.path().is_dir();
                let fits = name.starts_with(start)
                    && !name.starts_with('.')
                    && (is_folder || Path::new(&name).extension().is_some_and(|end| end == "ron"));
                fits.then(|| format!("{folder}{name}{}", if is_folder { "/" } else { "" }))
            })
            .filter(|offer| *offer != self.text)
            .collect();
        offers.sort();
        offers.truncate(OFFERED);
        self.offers = offers;
    }
}
