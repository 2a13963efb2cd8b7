//! What the names and texts of the files beside a car mean, and names for new ones.

use crate::read::fields::Diagnostics;
use crate::read::syntax::tree_of;
use crate::text::file_kind::FileKind;
use crate::text::tree::Kind;
use std::path::Path;

/// Names of files that are no proposals, without their ending.
const KINDS: [(&str, FileKind); 2] = [("limits", FileKind::LIMITS), ("brackets", FileKind::BRACKETS)];

/// Names that some systems give devices, without any ending (Microsoft's "Naming Files, Paths, and
/// Namespaces", from memory).
const DEVICES: [&str; 4] = ["con", "prn", "aux", "nul"];

/// A name made from a user's is no longer than this, in bytes: the usual systems allow 255.
const LONGEST: usize = 120;

/// What a file of this name in a car's folder is taken for, unless for a proposal. Letters may be large or
/// small: some systems make no difference.
#[must_use]
pub fn kind_of_name(file: &Path) -> Option<FileKind> {
    if !file.extension().is_some_and(|end| end.eq_ignore_ascii_case("ron")) {
        return None;
    }
    let stem = file.file_stem()?.to_string_lossy().to_lowercase();
    KINDS.iter().find(|(name, _)| *name == stem).map(|(_, kind)| *kind)
}

/// What the text of a file says it is; `None` where it says nothing that is known.
#[must_use]
pub fn kind_of_text(text: &str) -> Option<FileKind> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let tree = tree_of(text, &mut Diagnostics::new("", text))?;
    let Kind::Text(format) = &tree.at(&["format"])?.kind else { return None };
    FileKind::ALL.into_iter().find(|kind| kind.format == format)
}

/// The name of a file for a thing of this name, without an ending: letters and digits, joined by hyphens;
/// empty where there are none. It is none that means something else, and not too long.
pub(crate) fn file_name(name: &str) -> String {
    let plain: String =
        name.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { '-' }).collect();
    let mut joined = String::new();
    for word in plain.split('-').filter(|word| !word.is_empty()) {
        if !joined.is_empty() {
            joined.push('-');
        }
        joined.push_str(word);
        if joined.len() > LONGEST {
            let end = (0..=LONGEST).rev().find(|end| joined.is_char_boundary(*end)).unwrap_or(0);
            joined.truncate(end);
            break;
        }
    }
    let numbered = |word: &str| {
        let number = joined.strip_prefix(word)?;
        (number.len() == 1 && number.bytes().all(|byte| byte.is_ascii_digit())).then_some(())
    };
    let is_taken = KINDS.iter().any(|(taken, _)| *taken == joined)
        || DEVICES.contains(&joined.as_str())
        || ["com", "lpt"].into_iter().find_map(numbered).is_some();
    if is_taken { format!("{joined}-proposal") } else { joined }
}

#[cfg(test)]
mod tests {
    use super::{file_name, kind_of_name, kind_of_text};
    use crate::text::file_kind::FileKind;
    use std::path::Path;

    #[test]
    fn no_file_name_made_from_a_name_means_something_else() {
        let check = |name: &str, expected: &str| assert_eq!(file_name(name), expected, "{name}");
        check("Tie rod down", "tie-rod-down");
        check("  Träger: 2½ \u{1b}[31m", "träger-2½-31m");
        check("…", "");
        for name in ["limits", "Limits", "LIMITS!", " limits.", "Brackets", "bRACKETS"] {
            let made = file_name(name);
            assert!(made.ends_with("s-proposal"), "{name}: {made}");
            assert_eq!(kind_of_name(Path::new(&format!("{made}.ron"))), None);
        }
        check("Limits 2", "limits-2");
        check("Nul", "nul-proposal");
        check("COM1", "com1-proposal");
        check("Con rod", "con-rod");
        assert_eq!(file_name(&"é".repeat(500)).len(), 120);
        assert!(file_name(&"word ".repeat(500)).len() <= 120);
    }

    #[test]
    fn a_file_is_of_the_kind_that_its_name_or_its_text_says() {
        let name = |name: &str| kind_of_name(Path::new(name));
        assert_eq!(name("alder/limits.ron"), Some(FileKind::LIMITS));
        assert_eq!(name("Brackets.RON"), Some(FileKind::BRACKETS));
        assert_eq!((name("limits.txt"), name("limits-2.ron"), name("limits")), (None, None, None));
        for (text, kind) in [
            ("(format: \"wheelpath limits\", version: 1)", Some(FileKind::LIMITS)),
            ("\u{feff}(format: \"wheelpath car\")", Some(FileKind::CAR)),
            ("(format: \"another\")", None),
            ("not at all", None),
            ("(", None),
        ] {
            assert_eq!(kind_of_text(text), kind, "{text}");
        }
    }
}
