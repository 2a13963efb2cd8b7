//! A point table as text: columns, separators, decimal commas, units and axes that it declares.

use crate::fault::problem::Fault;
use crate::fault::table_fault::TableFault;
use crate::read::fields::Diagnostics;
use crate::text::units_and_axes::{Axes, Direction, FileUnits};
use wheelpath_geometry::{LengthUnit, excerpt, shown_name};

/// A row as it stands: names are not looked up yet.
pub(crate) struct Row<'r> {
    /// First byte of the row in the text.
    pub byte: usize,
    pub line: usize,
    pub name: &'r str,
    pub corner: &'r str,
    /// In the table's units and axes.
    pub at: [f64; 3],
}

/// What a table says before its first row, and its rows, which are read one by one.
#[derive(Default)]
pub(crate) struct Sheet<'t> {
    pub units: Option<LengthUnit>,
    pub axes: Option<Axes>,
    rows: Option<Rows<'t>>,
}

struct Rows<'t> {
    text: &'t str,
    /// Where in the text the reader begins.
    start: usize,
    reader: csv::Reader<&'t [u8]>,
    columns: Columns,
    separator: u8,
    /// Cells of the header row.
    width: usize,
}

const COORDINATES: [&str; 3] = ["x", "y", "z"];

/// More columns than these are not named in a message.
const MOST_HEADINGS: usize = 20;

struct Columns {
    name: usize,
    corner: Option<usize>,
    at: [usize; 3],
}

/// Reads a table up to its first row; every fault is noted.
pub(crate) fn sheet<'t>(text: &'t str, notes: &mut Diagnostics<'_>) -> Sheet<'t> {
    let mut sheet = Sheet::default();
    comments(text, &mut sheet, notes);
    // Spreadsheets may say in a line of its own, before all others, what stands between the cells.
    let start = text.split_inclusive('\n').next().filter(|line| is_separator_line(line)).map_or(0, str::len);
    let body = text.get(start..).unwrap_or_default();
    let mut lines = body.split_inclusive('\n').map(str::trim);
    let Some(header) = lines.find(|line| !line.is_empty() && !line.starts_with('#')) else {
        notes.add(0, Fault::Table(TableFault::Empty));
        return sheet;
    };
    let separators = [b'\t', b';', b','];
    let count = |separator: &u8| header.bytes().filter(|byte| byte == separator).count();
    // The first of equals, so that a decimal comma in a heading does no harm.
    let separator = separators.iter().rev().copied().max_by_key(count).unwrap_or(b',');
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(separator)
        .flexible(true)
        .comment(Some(b'#'))
        .trim(csv::Trim::All)
        .from_reader(body.as_bytes());
    let Ok(headers) = reader.headers().cloned() else {
        notes.add(0, Fault::Table(TableFault::Empty));
        return sheet;
    };
    let header_byte = text.find(header).unwrap_or(0);
    let columns = columns(&headers, header_byte, &mut sheet, notes);
    let width = headers.len();
    sheet.rows = columns.map(|columns| Rows { text, start, reader, columns, separator, width });
    sheet
}

impl Sheet<'_> {
    /// Hands over the rows, each as soon as it is read; every fault is noted, and rows with one are left out.
    pub fn each_row(self, notes: &mut Diagnostics<'_>, mut take: impl FnMut(&Row<'_>, &mut Diagnostics<'_>)) {
        let Some(Rows { text, start, mut reader, columns, separator, width }) = self.rows else { return };
        let byte_of = |position: Option<&csv::Position>| {
            start + position.map_or(0, |p| usize::try_from(p.byte()).unwrap_or(0))
        };
        let mut record = csv::StringRecord::new();
        // The byte up to which lines are counted, and the line it stands in.
        let (mut counted, mut line) = (0, 1);
        loop {
            match reader.read_record(&mut record) {
                Ok(true) => {}
                Ok(false) => return,
                Err(error) => {
                    return notes.add(byte_of(error.position()), Fault::Table(TableFault::Row));
                }
            }
            let byte = first_of_row(text, byte_of(record.position()));
            line += text.get(counted..byte).map_or(0, |between| between.matches('\n').count());
            counted = counted.max(byte);
            if !fits(&record, width, &columns, byte, notes) {
                continue;
            }
            if let Some(row) = row(&record, &columns, separator, byte, line, notes) {
                take(&row, notes);
            }
        }
    }
}

/// Whether a line says what stands between cells, and is no row: `sep=;`.
fn is_separator_line(line: &str) -> bool {
    let said = line.trim_end().get(..4).filter(|word| word.eq_ignore_ascii_case("sep=")).is_some();
    said && line.trim_end().chars().count() <= 5
}

/// Whether a row has no more cells than there are columns, empty ones at its end aside. A decimal comma between
/// commas makes two cells of one number, and puts all that follow one column further.
fn fits(
    record: &csv::StringRecord,
    columns: usize,
    named: &Columns,
    byte: usize,
    notes: &mut Diagnostics<'_>,
) -> bool {
    if record.iter().skip(columns).all(str::is_empty) {
        return true;
    }
    let name = record.get(named.name).unwrap_or_default().to_owned();
    notes.add(byte, Fault::Table(TableFault::TooManyCells { name, cells: record.len(), columns }));
    false
}

/// The reader counts the blank and comment lines before a row as its beginning.
fn first_of_row(text: &str, mut byte: usize) -> usize {
    while let Some(rest) = text.get(byte..) {
        let line = rest.split_inclusive('\n').next().unwrap_or_default();
        if line.is_empty() || !(line.trim().is_empty() || line.starts_with('#')) {
            return byte;
        }
        byte += line.len();
    }
    byte.min(text.len())
}

/// `# units: mm` and `# axes: x forward, y left, z up`.
fn comments(text: &str, sheet: &mut Sheet<'_>, notes: &mut Diagnostics<'_>) {
    let mut byte = 0;
    for line in text.split_inclusive('\n') {
        if let Some((what, said)) = line.strip_prefix('#').and_then(|comment| comment.split_once(':')) {
            let unclear = |what| {
                Fault::Table(TableFault::UnclearComment { what, found: excerpt(said.trim()).into_owned() })
            };
            match what.trim().to_lowercase().as_str() {
                "units" => match LengthUnit::from_name(said) {
                    Some(units) => declare(sheet, units, byte, notes),
                    None => notes.add(byte, unclear("units")),
                },
                "axes" => match axes_of(said) {
                    Some(axes) => sheet.axes = Some(axes),
                    None => notes.add(byte, unclear("axes")),
                },
                _ => {}
            }
        }
        byte += line.len();
    }
}

fn axes_of(said: &str) -> Option<Axes> {
    let mut directions = [None; 3];
    for part in said.split(',') {
        let (axis, word) = part.trim().split_once(|c: char| c.is_whitespace() || c == ':' || c == '=')?;
        let at = COORDINATES.iter().position(|name| axis.trim().eq_ignore_ascii_case(name))?;
        let direction = Direction::ALL.into_iter().find(|d| d.word().eq_ignore_ascii_case(word.trim()))?;
        *directions.get_mut(at)? = Some(direction);
    }
    let [x, y, z] = directions;
    Axes::new([x?, y?, z?]).ok()
}

fn declare(sheet: &mut Sheet<'_>, units: LengthUnit, byte: usize, notes: &mut Diagnostics<'_>) {
    match sheet.units {
        Some(before) if before != units => {
            let fault = TableFault::UnitsDiffer { first: before.symbol(), second: units.symbol() };
            notes.add(byte, Fault::Table(fault));
        }
        _ => sheet.units = Some(units),
    }
}

/// The columns by their headings: `x`, `X (mm)`, `x_mm`, `Y [in]`.
fn columns(
    headers: &csv::StringRecord,
    byte: usize,
    sheet: &mut Sheet<'_>,
    notes: &mut Diagnostics<'_>,
) -> Option<Columns> {
    let mut found: [Vec<usize>; 5] = Default::default();
    for (at, heading) in headers.iter().enumerate() {
        let heading = heading.to_lowercase();
        let mut words = heading.split(|c: char| !c.is_alphanumeric() && c != '"').filter(|w| !w.is_empty());
        let slot = match words.next() {
            Some("name" | "point" | "label" | "pickup") => 3,
            Some("corner" | "wheel") => 4,
            Some(word) => match COORDINATES.iter().position(|name| *name == word) {
                Some(slot) => slot,
                None => continue,
            },
            None => continue,
        };
        if slot < 3 {
            words.filter_map(LengthUnit::from_name).for_each(|units| declare(sheet, units, byte, notes));
        }
        if let Some(columns) = found.get_mut(slot) {
            columns.push(at);
        }
    }
    let mut one = |slot: usize, column: &'static str, needed: bool| {
        let fault = match found.get(slot).map(Vec::as_slice) {
            Some([at]) => return Some(*at),
            None | Some([]) if needed => TableFault::NoColumn { column, found: some_of(headers) },
            None | Some([]) => return None,
            Some(_) => TableFault::TwoColumns { column },
        };
        notes.add(byte, Fault::Table(fault));
        None
    };
    let at = [one(0, "x", true), one(1, "y", true), one(2, "z", true)];
    let (name, corner) = (one(3, "name", true), one(4, "corner", false));
    let [x, y, z] = at;
    Some(Columns { name: name?, corner, at: [x?, y?, z?] })
}

/// As many headings as a message names.
fn some_of(headers: &csv::StringRecord) -> Vec<String> {
    let some = headers.iter().take(MOST_HEADINGS).map(|name| shown_name(&excerpt(name)).into_owned());
    let more = headers.len().checked_sub(MOST_HEADINGS).filter(|more| *more > 0);
    some.chain(more.map(|more| format!("{more} more"))).collect()
}

fn row<'r>(
    record: &'r csv::StringRecord,
    columns: &Columns,
    separator: u8,
    byte: usize,
    line: usize,
    notes: &mut Diagnostics<'_>,
) -> Option<Row<'r>> {
    let cell = |at: usize| record.get(at).unwrap_or_default();
    let name = cell(columns.name);
    let mut at = [0.0; 3];
    let mut whole = true;
    for ((slot, column), &cell_at) in at.iter_mut().zip(COORDINATES).zip(&columns.at) {
        match number(cell(cell_at), separator) {
            Ok(value) => *slot = value,
            Err(why) => {
                // A row of empty cells is no row.
                if record.iter().all(str::is_empty) {
                    return None;
                }
                let (name, found) = (excerpt(name).into_owned(), excerpt(cell(cell_at)).into_owned());
                let fault = match why {
                    NoNumber::Empty => TableFault::NoCell { name, column },
                    NoNumber::Unclear => TableFault::UnclearComma { name, column, found },
                    NoNumber::Other => TableFault::NotANumber { name, column, found },
                };
                notes.add(byte, Fault::Table(fault));
                whole = false;
            }
        }
    }
    whole.then(|| Row { byte, line, name, corner: columns.corner.map_or("", cell), at })
}

#[derive(Debug, PartialEq, Eq)]
enum NoNumber {
    Empty,
    Unclear,
    Other,
}

/// A number with a decimal point, or with a decimal comma where no comma separates columns.
fn number(cell: &str, separator: u8) -> Result<f64, NoNumber> {
    let cell = cell.replace('\u{2212}', "-");
    let commas = cell.matches(',').count();
    if cell.is_empty() {
        return Err(NoNumber::Empty);
    }
    if commas > 1 || (commas == 1 && (separator == b',' || cell.contains('.'))) {
        return Err(NoNumber::Unclear);
    }
    let value: f64 = cell.replace(',', ".").parse().map_err(|_| NoNumber::Other)?;
    if value.is_finite() { Ok(value) } else { Err(NoNumber::Other) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_of_both_customs() {
        let check = |cell: &str, separator: u8, expected: Result<f64, NoNumber>| {
            assert_eq!(number(cell, separator), expected, "{cell}");
        };
        check("-12.50", b',', Ok(-12.5));
        check("\u{2212}12,5", b';', Ok(-12.5));
        check("1e2", b'\t', Ok(100.0));
        check("12,5", b',', Err(NoNumber::Unclear));
        check("1.234,5", b';', Err(NoNumber::Unclear));
        check("1,234,567", b';', Err(NoNumber::Unclear));
        check("", b';', Err(NoNumber::Empty));
        check("inf", b';', Err(NoNumber::Other));
        check("12 mm", b';', Err(NoNumber::Other));
    }
}
