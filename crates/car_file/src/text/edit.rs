//! Changing a text so that it says something else, and leaving the rest of it alone.

use crate::text::corner_words::says;
use crate::text::ron_value::RonValue;
use crate::text::tree::{Field, Kind, Node};
use std::ops::Range;

/// The text with the least of it replaced so that its tree says `item`.
pub(crate) fn edited(text: &str, tree: &Node, item: &RonValue) -> String {
    let line_end = if text.contains("\r\n") { "\r\n" } else { "\n" };
    let mut editor = Editor { text, line_end, changes: Vec::new() };
    editor.bring(tree, item);
    // Stable: pieces put in at one place stay in order.
    editor.changes.sort_by_key(|(span, _)| span.start);
    let mut edited = String::with_capacity(text.len() + 256);
    let mut done = 0;
    for (span, replacement) in &editor.changes {
        edited.push_str(text.get(done..span.start).unwrap_or_default());
        edited.push_str(replacement);
        done = done.max(span.end);
    }
    edited.push_str(text.get(done..).unwrap_or_default());
    edited
}

struct Editor<'t> {
    text: &'t str,
    line_end: &'t str,
    changes: Vec<(Range<usize>, String)>,
}

impl Editor<'_> {
    fn bring(&mut self, node: &Node, item: &RonValue) {
        match (&node.kind, item) {
            (_, RonValue::Keep) => {}
            (Kind::Word, RonValue::Word(word)) if node.says_word(word) => {}
            (Kind::Word, RonValue::AnyOf(words)) if words.iter().any(|word| node.says_word(word)) => {}
            (Kind::Text(old), RonValue::Text(new)) if old == new => {}
            (Kind::Number(written), RonValue::Number(quantity)) if quantity.is(*written) => {}
            (Kind::Row(nodes), RonValue::Row { name, values })
                if nodes.len() == values.len() && same_name(node, name) =>
            {
                for (node, item) in nodes.iter().zip(values) {
                    self.bring(node, item);
                }
            }
            (Kind::List(nodes), RonValue::List(values)) if nodes.len() == values.len() => {
                for (node, item) in nodes.iter().zip(values) {
                    self.bring(node, item);
                }
            }
            (Kind::List(nodes), RonValue::Kept(values)) => self.bring_list(node, nodes, values),
            (Kind::Fields(old), RonValue::Fields { name, fields })
                if same_name(node, name) && old.is_empty() && fields.is_empty() => {}
            // With no key in common it is another thing altogether.
            (Kind::Fields(old), RonValue::Fields { name, fields })
                if same_name(node, name)
                    && fields.iter().any(|(key, _)| node.field_saying(key).is_some()) =>
            {
                self.bring_fields(node, old, fields);
            }
            _ => {
                let indent = self.indent_at(node.span.start);
                self.changes.push((node.span.clone(), item.printed(indent, self.line_end)));
            }
        }
    }

    fn bring_fields(&mut self, node: &Node, old: &[Field], fields: &[(&'static str, RonValue)]) {
        for field in old {
            if !fields.iter().any(|(key, _)| says(&field.key, key)) {
                self.remove(field.key_span.start..field.value.span.end);
            }
        }
        let own_line = old.first().filter(|field| self.begins_line(field.key_span.start));
        let indent = match own_line {
            Some(field) => self.indent_at(field.key_span.start),
            None => self.indent_at(node.span.start) + 4,
        };
        let lines = (own_line.is_some(), indent);
        let mut anchor: Option<&Range<usize>> = None;
        for (key, item) in fields {
            match node.field_saying(key) {
                Some(field) => {
                    self.bring(&field.value, item);
                    anchor = Some(&field.value.span);
                }
                None if *item == RonValue::Keep => {}
                None => {
                    let piece = format!("{key}: {}", item.printed(indent, self.line_end));
                    self.insert(node, lines, anchor, &piece);
                }
            }
        }
    }

    fn bring_list(&mut self, list: &Node, nodes: &[Node], values: &[(Option<usize>, RonValue)]) {
        let taken = |n: usize| values.iter().any(|(from, _)| *from == Some(n));
        for (n, node) in nodes.iter().enumerate() {
            if !taken(n) {
                self.remove(node.span.clone());
            }
        }
        let own_line = nodes.first().is_none_or(|node| self.begins_line(node.span.start));
        let indent = match nodes.first().filter(|_| own_line) {
            Some(node) => self.indent_at(node.span.start),
            None => self.indent_at(list.span.start) + 4,
        };
        let mut anchor: Option<&Range<usize>> = None;
        for (from, item) in values {
            match from.and_then(|n| nodes.get(n)) {
                Some(node) => {
                    self.bring(node, item);
                    anchor = Some(&node.span);
                }
                None => {
                    let piece = item.printed(indent, self.line_end);
                    self.insert(list, (own_line, indent), anchor, &piece);
                }
            }
        }
        let inside = self.text.get(list.span.clone()).unwrap_or_default();
        if nodes.is_empty() && !values.is_empty() && !inside.contains('\n') {
            let close = format!("{}{}", self.line_end, " ".repeat(self.indent_at(list.span.start)));
            self.changes.push((list.span.end - 1..list.span.end - 1, close));
        }
    }

    /// Takes something away with its comma, and its lines where nothing else stands on them.
    fn remove(&mut self, span: Range<usize>) {
        let Range { mut start, mut end } = span;
        let after = self.text.get(end..).unwrap_or_default();
        if let Some(rest) = after.trim_start().strip_prefix(',') {
            end = self.text.len() - rest.len();
        }
        let line_start = self.line_start(start);
        let before = self.text.get(line_start..start).unwrap_or_default();
        let rest = self.text.get(end..).unwrap_or_default();
        let to_line_end = rest.find('\n').unwrap_or(rest.len());
        if before.trim().is_empty() && rest.get(..to_line_end).unwrap_or_default().trim().is_empty() {
            start = line_start;
            end = (end + to_line_end + 1).min(self.text.len());
        } else {
            end += rest.len() - rest.trim_start_matches(' ').len();
        }
        self.changes.push((start..end, String::new()));
    }

    /// Puts a piece and a comma behind what ends at the anchor, or first in the bracket: on a line of its
    /// own, so deep, or on the same line.
    fn insert(
        &mut self,
        bracket: &Node,
        (own_line, indent): (bool, usize),
        anchor: Option<&Range<usize>>,
        piece: &str,
    ) {
        let new_line = format!("{}{}{piece}", self.line_end, " ".repeat(indent));
        let Some(anchor) = anchor else {
            // Straight after the opening bracket.
            let text = self.text.get(bracket.span.clone()).unwrap_or_default();
            let at = bracket.span.start + text.find(['(', '[']).map_or(0, |opening| opening + 1);
            let piece = if own_line { format!("{new_line},") } else { format!("{piece}, ") };
            return self.changes.push((at..at, piece));
        };
        let after = self.text.get(anchor.end..).unwrap_or_default();
        let Some(rest) = after.trim_start_matches(' ').strip_prefix(',') else {
            let piece = if own_line { format!(",{new_line}") } else { format!(", {piece}") };
            return self.changes.push((anchor.end..anchor.end, piece));
        };
        let after_comma = self.text.len() - rest.len();
        let line = rest.lines().next().unwrap_or_default();
        // A comment at the end of the line belongs to what stands before it.
        let (at, piece) = if line.trim().is_empty() || line.trim_start().starts_with("//") {
            (after_comma + line.len(), format!("{new_line},"))
        } else {
            (after_comma, format!(" {piece},"))
        };
        self.changes.push((at..at, piece));
    }

    /// Whether nothing stands before it on its line.
    fn begins_line(&self, byte: usize) -> bool {
        self.text.get(self.line_start(byte)..byte).is_some_and(|before| before.trim().is_empty())
    }

    fn line_start(&self, byte: usize) -> usize {
        self.text.get(..byte).and_then(|before| before.rfind('\n')).map_or(0, |newline| newline + 1)
    }

    /// How deep the line of this byte is indented.
    fn indent_at(&self, byte: usize) -> usize {
        let line = self.text.get(self.line_start(byte)..).unwrap_or_default();
        line.chars().take_while(|c| *c == ' ' || *c == '\t').count()
    }
}

fn same_name(node: &Node, name: &str) -> bool {
    node.name.as_deref().unwrap_or_default() == name
}

#[cfg(test)]
mod tests {
    use super::edited;
    use crate::text::ron_value::RonValue;
    use crate::text::tree::scan;
    use wheelpath_geometry::LengthUnit;

    fn number(written: f64) -> RonValue {
        RonValue::length(written / 1000.0, LengthUnit::Millimetre)
    }

    #[track_caller]
    fn check(text: &str, item: &RonValue, expected: &str) {
        let tree = scan(text).unwrap();
        assert_eq!(edited(text, &tree, item), expected);
    }

    #[test]
    fn only_what_differs_is_replaced() {
        let item =
            RonValue::fields(vec![("a", number(1.0)), ("b", number(2.5)), ("c", RonValue::Word("Yes"))]);
        check(
            "( a:1.00 /* one */, b: 2., c: Yes ) // end",
            &item,
            "( a:1.00 /* one */, b: 2.5, c: Yes ) // end",
        );
        check("(c: No, a: 1e0, b: 2.50)", &item, "(c: Yes, a: 1e0, b: 2.50)");
    }

    #[test]
    fn fields_come_and_go_with_their_lines() {
        let item = RonValue::fields(vec![("a", number(1.0)), ("b", number(2.0)), ("c", number(3.0))]);
        check("(\n  a: 1, // one\n  c: 3\n)", &item, "(\n  a: 1, // one\n  b: 2.0,\n  c: 3\n)");
        check("(\n  a: 1,\n  b: 2\n)", &item, "(\n  a: 1,\n  b: 2,\n  c: 3.0\n)");
        check("(c: 3)", &item, "(a: 1.0, b: 2.0, c: 3)");
        check("(a: 1, c: 3)", &item, "(a: 1, b: 2.0, c: 3)");
        check("()", &item, "(a: 1.0, b: 2.0, c: 3.0)");
        check(
            "(\r\n  a: 1,\r\n  z: (1, 2),\r\n  b: 2,\r\n)",
            &item,
            "(\r\n  a: 1,\r\n  b: 2,\r\n  c: 3.0,\r\n)",
        );
        check("(a: 1, z: 9, b: 2, c: 3)", &item, "(a: 1, b: 2, c: 3)");
        check("(a: 1, b: 2, c: 3, z: 9)", &item, "(a: 1, b: 2, c: 3, )");
    }

    fn block(value: f64) -> RonValue {
        RonValue::Fields { name: "B", fields: vec![("a", number(value))] }
    }

    #[test]
    fn what_stands_in_a_list_is_kept_changed_put_in_and_taken_out() {
        let text = "[\n  // one\n  B(a: 1), // first\n  B(\n    a: 2,\n  ),\n  B(a: 3),\n]";
        let kept = |values| RonValue::Kept(values);
        check(text, &kept((0..3).map(|n| (Some(n), RonValue::Keep)).collect()), text);
        check(
            text,
            &kept(vec![(Some(0), RonValue::Keep), (None, block(9.0)), (Some(2), block(4.0))]),
            "[\n  // one\n  B(a: 1), // first\n  B(a: 9.0),\n  B(a: 4.0),\n]",
        );
        check(
            text,
            &kept(vec![(None, block(7.0)), (None, block(8.0)), (Some(1), RonValue::Keep)]),
            "[\n  B(a: 7.0),\n  B(a: 8.0),\n  // one\n  // first\n  B(\n    a: 2,\n  ),\n]",
        );
        check(
            "[B(a: 1)]",
            &kept(vec![(Some(0), RonValue::Keep), (None, block(2.0))]),
            "[B(a: 1), B(a: 2.0)]",
        );
        check(
            "[]",
            &kept(vec![(None, block(1.0)), (None, block(2.0))]),
            "[\n    B(a: 1.0),\n    B(a: 2.0),\n]",
        );
        check("[B(a: 1), B(a: 2)]", &kept(vec![(Some(1), RonValue::Keep)]), "[B(a: 2)]");
    }
}
