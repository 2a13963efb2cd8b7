//! Words inside XML.

use wheelpath_geometry::shown_name;

/// Text within an element or attribute; what XML 1.0 does not allow is written out.
pub(crate) fn escaped(text: &str) -> String {
    let mut safe = String::new();
    for c in shown_name(text).chars() {
        match c {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            c => safe.push(c),
        }
    }
    safe
}
