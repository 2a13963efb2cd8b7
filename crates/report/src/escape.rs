//! Words inside XML.

/// Text within an element or attribute.
pub(crate) fn escaped(text: &str) -> String {
    let mut safe = String::new();
    for c in text.chars() {
        match c {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            // XML 1.0 has no other control characters.
            c if c.is_control() && !matches!(c, '\n' | '\t') => {}
            c => safe.push(c),
        }
    }
    safe
}
