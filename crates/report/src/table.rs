//! Tables in a terminal.

use std::borrow::Cow;
use std::collections::{HashMap, VecDeque};
use wheelpath_geometry::shown_name;

/// To which side the cells of a column are put.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Align {
    /// Words.
    Left,
    /// Numbers.
    Right,
}

#[derive(Clone, Debug, PartialEq)]
enum Row {
    Heading(String),
    Cells(Vec<String>),
}

/// A table: columns with headings, rows of cells, and headings between the rows.
#[derive(Clone, Debug, PartialEq)]
pub struct Table {
    columns: Vec<(String, Align)>,
    rows: Vec<Row>,
}

impl Table {
    /// A table with these columns and no rows.
    #[must_use]
    pub fn new(columns: &[(&str, Align)]) -> Self {
        Table::with_columns(columns.iter().map(|&(name, align)| (name.to_owned(), align)).collect())
    }

    /// A table with these columns and no rows.
    #[must_use]
    pub fn with_columns(columns: Vec<(String, Align)>) -> Self {
        Table { columns, rows: Vec::new() }
    }

    /// Adds a row; cells that are not given are empty, cells beyond the columns are left out.
    pub fn row(&mut self, cells: Vec<String>) {
        let shown = |cell: String| match shown_name(&cell) {
            Cow::Owned(shown) => shown,
            Cow::Borrowed(_) => cell,
        };
        self.rows.push(Row::Cells(cells.into_iter().map(shown).collect()));
    }

    /// How many rows it has, headings not counted.
    #[must_use]
    pub fn len(&self) -> usize {
        self.rows.iter().filter(|row| matches!(row, Row::Cells(_))).count()
    }

    /// Whether it has no row but headings.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// Adds a heading over the rows that follow.
    pub fn heading(&mut self, words: &str) {
        self.rows.push(Row::Heading(shown_name(words).into_owned()));
    }

    /// This table and one with the same columns of a changed car, as one. Rows are paired by the heading
    /// over them and by their first `keys` cells. A column after those cells says `before` and `after` where
    /// the two rows differ; the second row leaves the cells that name it empty. Rows that are alike stand
    /// once, and so do rows that only one of the tables has.
    #[must_use]
    pub fn beside(&self, after: &Table, keys: usize) -> Table {
        let marked = |cells: &[String], mark: &str, named: bool| {
            let (name, rest) = cells.split_at(keys.min(cells.len()));
            let name: Vec<String> = if named { name.to_vec() } else { vec![String::new(); name.len()] };
            name.into_iter().chain(std::iter::once(mark.to_owned())).chain(rest.iter().cloned()).collect()
        };
        let mut waiting: HashMap<(&str, &[String]), VecDeque<&[String]>> = HashMap::new();
        for (heading, cells) in after.named_rows() {
            waiting.entry((heading, named(cells, keys))).or_default().push_back(cells);
        }
        let mut columns = self.columns.clone();
        columns.insert(keys.min(columns.len()), (String::new(), Align::Left));
        let mut table = Table::with_columns(columns);
        let mut under = "";
        for (heading, cells) in self.named_rows() {
            if heading != under {
                under = heading;
                table.heading(heading);
            }
            let pair = waiting.get_mut(&(heading, named(cells, keys))).and_then(VecDeque::pop_front);
            match pair {
                Some(pair) if pair == cells => table.row(marked(cells, "", true)),
                Some(pair) => {
                    table.row(marked(cells, "before", true));
                    table.row(marked(pair, "after", false));
                }
                None => table.row(marked(cells, "before", true)),
            }
        }
        for (heading, cells) in after.named_rows() {
            let left = waiting.get_mut(&(heading, named(cells, keys)));
            if left.is_some_and(|left| left.pop_front().is_some()) {
                if heading != under {
                    under = heading;
                    table.heading(heading);
                }
                table.row(marked(cells, "after", true));
            }
        }
        table
    }

    /// Every row with the heading over it.
    fn named_rows(&self) -> impl Iterator<Item = (&str, &[String])> {
        self.rows
            .iter()
            .scan("", |heading, row| {
                Some(match row {
                    Row::Heading(words) => {
                        *heading = words;
                        None
                    }
                    Row::Cells(cells) => Some((*heading, cells.as_slice())),
                })
            })
            .flatten()
    }

    /// The table as lines, each ended, no spaces at their ends.
    #[must_use]
    pub fn text(&self) -> String {
        let width_of = |text: &str| text.chars().count();
        // A heading of several lines stands at the bottom of the head.
        let heads: Vec<Vec<&str>> =
            self.columns.iter().map(|(name, _)| name.lines().rev().collect()).collect();
        let widest = |head: &Vec<&str>| head.iter().map(|line| width_of(line)).max().unwrap_or(0);
        let mut widths: Vec<usize> = heads.iter().map(widest).collect();
        for row in &self.rows {
            if let Row::Cells(cells) = row {
                for (width, cell) in widths.iter_mut().zip(cells) {
                    *width = (*width).max(width_of(cell));
                }
            }
        }
        let line = |cells: &mut dyn Iterator<Item = &str>| {
            let mut line = String::new();
            for (index, ((cell, &width), (_, align))) in cells.zip(&widths).zip(&self.columns).enumerate() {
                if index > 0 {
                    line.push_str("  ");
                }
                let space = " ".repeat(width - width_of(cell).min(width));
                match align {
                    Align::Left => line.extend([cell, &space]),
                    Align::Right => line.extend([&space, cell]),
                }
            }
            line.trim_end().to_owned() + "\n"
        };
        let mut text = String::new();
        for height in (0..heads.iter().map(Vec::len).max().unwrap_or(0)).rev() {
            text += &line(&mut heads.iter().map(|head| head.get(height).copied().unwrap_or("")));
        }
        for row in &self.rows {
            match row {
                Row::Heading(words) => text.extend([words, "\n"]),
                Row::Cells(cells) => text.push_str(&line(&mut cells.iter().map(String::as_str))),
            }
        }
        text
    }
}

/// The cells that name a row.
fn named(cells: &[String], keys: usize) -> &[String] {
    cells.get(..keys).unwrap_or(cells)
}

#[cfg(test)]
mod tests {
    use super::{Align, Table};

    #[test]
    fn two_tables_stand_as_one_before_and_after() {
        let table = |toe: &str, extra: &str| {
            let mut table =
                Table::new(&[("Reading", Align::Left), ("left", Align::Right), ("", Align::Left)]);
            table.heading("Angles");
            table.row(vec!["  Toe".into(), toe.into(), "°".into()]);
            table.row(vec!["  Caster".into(), "5.00".into(), "°".into()]);
            table.heading("Other");
            table.row(vec![extra.into(), "1".into()]);
            table
        };
        let expected = "\
Reading           left
Angles
  Toe     before  0.10  °
          after   0.20  °
  Caster          5.00  °
Other
  Bar     before     1
  Spring  after      1
";
        assert_eq!(table("0.10", "  Bar").beside(&table("0.20", "  Spring"), 1).text(), expected);
        let same = table("0.10", "  Bar");
        assert!(!same.beside(&same, 1).text().contains("before"));
    }

    #[test]
    fn long_headings_take_several_lines() {
        let mut table = Table::new(&[("rack\nmm", Align::Right), ("Roll-centre\nheight\nmm", Align::Right)]);
        table.row(vec!["−40.0".into(), "22.1".into()]);
        let expected = "       Roll-centre
 rack       height
   mm           mm
−40.0         22.1
";
        assert_eq!(table.text(), expected);
    }

    #[test]
    fn columns_stand_in_line() {
        let mut table = Table::new(&[("Reading", Align::Left), ("left", Align::Right), ("", Align::Left)]);
        table.heading("Angles");
        table.row(vec!["  Toe".into(), "−0.10".into(), "°".into()]);
        table.row(vec!["  Half track".into(), "713.0".into(), "mm".into()]);
        table.row(vec!["  None".into()]);
        let expected = "\
Reading        left
Angles
  Toe         −0.10  °
  Half track  713.0  mm
  None
";
        assert_eq!(table.text(), expected);
    }
}
