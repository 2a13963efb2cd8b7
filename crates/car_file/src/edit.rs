//! Changing a text so that it says something else, and leaving the rest of it alone.

use crate::item::Item;
use crate::tree::{Field, Kind, Node};
use std::ops::Range;

/// The text with the least of it replaced so that its tree says `item`.
pub(crate) fn edited(text: &str, tree: &Node, item: &Item) -> String {
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
    fn bring(&mut self, node: &Node, item: &Item) {
        match (&node.kind, item) {
            (_, Item::Keep) => {}
            (Kind::Word, Item::Word(word)) if node.is_word(word) => {}
            (Kind::Word, Item::AnyOf(words)) if words.iter().any(|word| node.is_word(word)) => {}
            (Kind::Text(old), Item::Text(new)) if old == new => {}
            (Kind::Number(written), Item::Number(quantity)) if quantity.is(*written) => {}
            (Kind::Row(nodes), Item::Row { name, values })
                if nodes.len() == values.len() && same_name(node, name) =>
            {
                for (node, item) in nodes.iter().zip(values) {
                    self.bring(node, item);
                }
            }
            (Kind::List(nodes), Item::List(values)) if nodes.len() == values.len() => {
                for (node, item) in nodes.iter().zip(values) {
                    self.bring(node, item);
                }
            }
            (Kind::Fields(old), Item::Fields { name, fields })
                if same_name(node, name) && old.is_empty() && fields.is_empty() => {}
            // With no key in common it is another thing altogether.
            (Kind::Fields(old), Item::Fields { name, fields })
                if same_name(node, name) && fields.iter().any(|(key, _)| node.field(key).is_some()) =>
            {
                self.bring_fields(node, old, fields);
            }
            _ => {
                let indent = self.indent_at(node.span.start);
                self.changes.push((node.span.clone(), item.printed(indent, self.line_end)));
            }
        }
    }

    fn bring_fields(&mut self, node: &Node, old: &[Field], fields: &[(&'static str, Item)]) {
        for field in old {
            if !fields.iter().any(|(key, _)| *key == field.key) {
                self.remove(field);
            }
        }
        let mut anchor: Option<&Field> = None;
        for (key, item) in fields {
            match node.field(key) {
                Some(field) => {
                    self.bring(&field.value, item);
                    anchor = Some(field);
                }
                None if *item == Item::Keep => {}
                None => self.insert(node, old.first(), anchor, key, item),
            }
        }
    }

    /// Takes a field away, and its line where nothing else stands on it.
    fn remove(&mut self, field: &Field) {
        let mut start = field.key_span.start;
        let mut end = field.value.span.end;
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

    fn insert(&mut self, node: &Node, first: Option<&Field>, anchor: Option<&Field>, key: &str, item: &Item) {
        let own_line = first.filter(|field| {
            let start = field.key_span.start;
            self.text.get(self.line_start(start)..start).is_some_and(|before| before.trim().is_empty())
        });
        let indent = match own_line {
            Some(field) => self.indent_at(field.key_span.start),
            None => self.indent_at(node.span.start) + 4,
        };
        let field = format!("{key}: {}", item.printed(indent, self.line_end));
        let new_line = format!("{}{}{field}", self.line_end, " ".repeat(indent));
        let Some(anchor) = anchor else {
            // Straight after the opening bracket.
            let name = self.text.get(node.span.clone()).unwrap_or_default();
            let at = node.span.start + name.find('(').map_or(0, |bracket| bracket + 1);
            let piece = if own_line.is_some() { format!("{new_line},") } else { format!("{field}, ") };
            return self.changes.push((at..at, piece));
        };
        let value_end = anchor.value.span.end;
        let after = self.text.get(value_end..).unwrap_or_default();
        let Some(rest) = after.trim_start_matches(' ').strip_prefix(',') else {
            let piece = if own_line.is_some() { format!(",{new_line}") } else { format!(", {field}") };
            return self.changes.push((value_end..value_end, piece));
        };
        let after_comma = self.text.len() - rest.len();
        let line = rest.lines().next().unwrap_or_default();
        // A comment at the end of the line belongs to what stands before it.
        let (at, piece) = if line.trim().is_empty() || line.trim_start().starts_with("//") {
            (after_comma + line.len(), format!("{new_line},"))
        } else {
            (after_comma, format!(" {field},"))
        };
        self.changes.push((at..at, piece));
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
    use crate::item::Item;
    use crate::tree::scan;
    use wheelpath_geometry::LengthUnit;

    fn number(written: f64) -> Item {
        Item::length(written / 1000.0, LengthUnit::Millimetre)
    }

    #[track_caller]
    fn check(text: &str, item: &Item, expected: &str) {
        let tree = scan(text).unwrap();
        assert_eq!(edited(text, &tree, item), expected);
    }

    #[test]
    fn only_what_differs_is_replaced() {
        let item = Item::fields(vec![("a", number(1.0)), ("b", number(2.5)), ("c", Item::Word("Yes"))]);
        check(
            "( a:1.00 /* one */, b: 2., c: Yes ) // end",
            &item,
            "( a:1.00 /* one */, b: 2.5, c: Yes ) // end",
        );
        check("(c: No, a: 1e0, b: 2.50)", &item, "(c: Yes, a: 1e0, b: 2.50)");
    }

    #[test]
    fn fields_come_and_go_with_their_lines() {
        let item = Item::fields(vec![("a", number(1.0)), ("b", number(2.0)), ("c", number(3.0))]);
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
}
