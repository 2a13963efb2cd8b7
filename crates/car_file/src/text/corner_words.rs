//! The words for a corner in files: `front_left` and so on, or as crews say it: LF RF LR RR, FL FR RL RR, in
//! any case of letters.

use wheelpath_geometry::WheelPosition;

/// Whether a word that was found says what another says: it is that word, or names the same corner.
pub(crate) fn says(found: &str, word: &str) -> bool {
    found == word
        || WheelPosition::from_word(word).is_some_and(|at| WheelPosition::from_word(found) == Some(at))
}

/// The keys of a block with a value for each corner: those that are told of.
pub(crate) fn corner_keys() -> Vec<&'static str> {
    WheelPosition::ALL.map(WheelPosition::key).to_vec()
}
