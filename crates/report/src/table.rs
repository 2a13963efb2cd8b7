//! Tables in a terminal.

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
        self.rows.push(Row::Cells(cells));
    }

    /// Adds a heading over the rows that follow.
    pub fn heading(&mut self, words: &str) {
        self.rows.push(Row::Heading(words.to_owned()));
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

#[cfg(test)]
mod tests {
    use super::{Align, Table};

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
