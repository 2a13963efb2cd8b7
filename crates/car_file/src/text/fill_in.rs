//! What stands in a new file where a number is still to be measured.

/// The word that stands for a number nobody has filled in yet; a file with it is not read as a car.
pub const FILL_IN: &str = "FILL_IN";
