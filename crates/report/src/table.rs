//! Tables in a terminal.

use crate::wrap::{WIDEST, wrap};
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
    keys: usize,
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
        Table { columns, rows: Vec::new(), keys: 1 }
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
        let mut table = Table::with_columns(columns).named_by(keys + 1);
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

    /// Says that this many columns at the left name a row: where a table is too wide for one block, each block
    /// has them.
    #[must_use]
    pub fn named_by(mut self, columns: usize) -> Self {
        self.keys = columns;
        self
    }

    /// The table as lines, each ended, no spaces at their ends, none wider than [`WIDEST`] as far as its words
    /// are not. Where the columns do not fit, words in cells are broken over lines, the widest column first;
    /// where that is not enough, the columns that are left stand in further blocks below, each with those that
    /// name the rows.
    #[must_use]
    pub fn text(&self) -> String {
        let most: Vec<usize> = (0..self.columns.len()).map(|column| self.width(column)).collect();
        let least: Vec<usize> = (0..self.columns.len()).map(|column| self.least_width(column)).collect();
        let is_words: Vec<bool> = self.columns.iter().map(|(_, align)| *align == Align::Left).collect();
        let keys = self.keys.min(self.columns.len());
        let room = |widths: &[usize], columns: &[usize]| -> usize {
            columns.iter().filter_map(|&column| widths.get(column)).sum::<usize>()
                + GAP.len() * columns.len().saturating_sub(1)
        };
        // An unnamed column goes with the one before it: the unit of a number, the verdict on it.
        let mut groups: Vec<Vec<usize>> = Vec::new();
        for (column, (name, _)) in self.columns.iter().enumerate().skip(keys) {
            match groups.last_mut() {
                Some(group) if name.is_empty() => group.push(column),
                _ => groups.push(vec![column]),
            }
        }
        let mut blocks: Vec<Vec<usize>> = vec![(0..keys).collect()];
        for group in groups {
            let Some(block) = blocks.last_mut() else { break };
            let both: Vec<usize> = block.iter().chain(&group).copied().collect();
            if block.len() > keys && room(&least, &both) > WIDEST {
                blocks.push((0..keys).chain(group).collect());
            } else {
                *block = both;
            }
        }
        let block = |columns: &Vec<usize>| self.block(columns, &fitted(&most, &least, &is_words, columns));
        blocks.iter().map(block).collect::<Vec<_>>().join("\n")
    }

    /// The widest line of a column.
    fn width(&self, column: usize) -> usize {
        self.words_of(column).flat_map(str::lines).map(width_of).max().unwrap_or(0)
    }

    /// The width of a column whose words are broken as far as they read well.
    fn least_width(&self, column: usize) -> usize {
        let longest = self.words_of(column).flat_map(str::split_whitespace).map(width_of).max().unwrap_or(0);
        let indent = self.words_of(column).map(indent_of).max().unwrap_or(0);
        let narrowest = match self.columns.get(column) {
            Some((_, Align::Right)) => NARROWEST_NUMBERS,
            _ => NARROWEST_WORDS,
        };
        self.width(column).min((longest + indent + HANGING).max(narrowest))
    }

    /// Head and cells of a column.
    fn words_of(&self, column: usize) -> impl Iterator<Item = &str> {
        let cells = self.rows.iter().filter_map(move |row| match row {
            Row::Cells(cells) => cells.get(column).map(String::as_str),
            Row::Heading(_) => None,
        });
        self.columns.get(column).map(|(name, _)| name.as_str()).into_iter().chain(cells)
    }

    /// Some of the columns, as wide as said.
    fn block(&self, columns: &[usize], widths: &[usize]) -> String {
        let lines_of = |cells: &dyn Fn(usize) -> String| -> Vec<Vec<String>> {
            let lines = |(&column, &width): (&usize, &usize)| -> Vec<String> {
                cells(column).lines().flat_map(|line| broken(line, width)).collect()
            };
            columns.iter().zip(widths).map(lines).collect()
        };
        let line = |cells: &mut dyn Iterator<Item = &str>| {
            let mut line = String::new();
            for (index, (cell, (&column, &width))) in cells.zip(columns.iter().zip(widths)).enumerate() {
                if index > 0 {
                    line.push_str(GAP);
                }
                let space = " ".repeat(width - width_of(cell).min(width));
                match self.columns.get(column).map_or(Align::Left, |(_, align)| *align) {
                    Align::Left => line.extend([cell, &space]),
                    Align::Right => line.extend([&space, cell]),
                }
            }
            line.trim_end().to_owned() + "\n"
        };
        let mut text = String::new();
        let heads =
            lines_of(&|column| self.columns.get(column).map_or_else(String::new, |(name, _)| name.clone()));
        let high = heads.iter().map(Vec::len).max().unwrap_or(0);
        // A heading of several lines stands at the bottom of the head.
        for height in (0..high).rev() {
            text += &line(&mut heads.iter().map(|head| {
                head.len().checked_sub(height + 1).and_then(|at| head.get(at)).map_or("", String::as_str)
            }));
        }
        for row in &self.rows {
            match row {
                Row::Heading(words) => text += &(wrap(words, WIDEST, HANG) + "\n"),
                Row::Cells(cells) => {
                    let cells = lines_of(&|column| cells.get(column).cloned().unwrap_or_default());
                    for at in 0..cells.iter().map(Vec::len).max().unwrap_or(0).max(1) {
                        text += &line(&mut cells.iter().map(|cell| cell.get(at).map_or("", String::as_str)));
                    }
                }
            }
        }
        text
    }
}

/// Between two columns.
const GAP: &str = "  ";
/// Before the second and further lines of a cell or heading.
const HANG: &str = "  ";
const HANGING: usize = HANG.len();
/// No column of words is broken to less than this.
const NARROWEST_WORDS: usize = 22;
/// No column of numbers is.
const NARROWEST_NUMBERS: usize = 12;

fn width_of(text: &str) -> usize {
    text.chars().count()
}

fn indent_of(text: &str) -> usize {
    text.chars().take_while(|c| *c == ' ').count()
}

/// A line of a cell over several where it is wider than its column, the blanks before it kept.
fn broken(line: &str, width: usize) -> Vec<String> {
    if width_of(line) <= width {
        return vec![line.to_owned()];
    }
    let indent = " ".repeat(indent_of(line));
    let text = wrap(line, width.saturating_sub(indent.len()), HANG);
    text.lines().map(|one| format!("{indent}{one}")).collect()
}

/// Widths of some columns that fit in a line: columns of words give up room first, the widest before others,
/// none more than it can.
fn fitted(most: &[usize], least: &[usize], is_words: &[bool], columns: &[usize]) -> Vec<usize> {
    let of = |widths: &[usize]| -> Vec<usize> {
        columns.iter().map(|&column| widths.get(column).copied().unwrap_or(0)).collect()
    };
    let (mut widths, least) = (of(most), of(least));
    let gaps = GAP.len() * columns.len().saturating_sub(1);
    while widths.iter().sum::<usize>() + gaps > WIDEST {
        let wide = widths
            .iter()
            .zip(&least)
            .zip(columns)
            .enumerate()
            .filter(|(_, ((width, least), _))| width > least);
        let first = |column: usize| is_words.get(column).copied().unwrap_or(false);
        let next = wide.max_by_key(|(_, ((width, _), column))| (first(**column), **width));
        let Some(at) = next.map(|(at, _)| at) else { break };
        if let Some(width) = widths.get_mut(at) {
            *width -= 1;
        }
    }
    widths
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
    fn words_of_a_wide_table_are_broken_and_its_numbers_kept_in_line() {
        let mut table =
            Table::new(&[("Limit", Align::Left), ("worst", Align::Right), ("where", Align::Left)]);
        table.row(vec!["  Toe".into(), "−0.10".into(), "travel 30.0 mm left, −30.0 mm right; ".repeat(3)]);
        table.row(vec!["  Camber".into(), "1.25".into(), "straight".into()]);
        let text = table.text();
        let expected = "\
Limit     worst  where
  Toe     −0.10  travel 30.0 mm left, −30.0 mm right; travel 30.0 mm left, −30.0 mm right; travel
                   30.0 mm left, −30.0 mm right;
  Camber   1.25  straight
";
        assert_eq!(text, expected);
    }

    #[test]
    fn columns_that_do_not_fit_stand_below_with_the_names_of_their_rows() {
        let heads: Vec<(String, Align)> = std::iter::once(("Travel".to_owned(), Align::Left))
            .chain((1..=20).map(|n| (format!("Reading{n:02}"), Align::Right)))
            .collect();
        let mut table = Table::with_columns(heads);
        table.row(std::iter::once("10.0".to_owned()).chain((1..=20).map(|n| n.to_string())).collect());
        let text = table.text();
        assert!(text.lines().all(|line| line.chars().count() <= crate::wrap::WIDEST), "{text}");
        assert_eq!(text.lines().filter(|line| line.starts_with("10.0 ")).count(), 3, "{text}");
        for n in 1..=20 {
            assert_eq!(text.matches(&format!("Reading{n:02}")).count(), 1, "{n} in\n{text}");
        }
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
