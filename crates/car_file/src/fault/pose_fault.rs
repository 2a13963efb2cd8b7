//! What can be wrong with a table of poses.

/// What is wrong with a table of poses.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum PoseFault {
    /// There is no line but comments.
    #[error("the table of poses is empty")]
    Empty,
    /// There is no row under the headings.
    #[error("the table has headings but no poses")]
    NoRows,
    /// A heading is none of those known.
    #[error("there is no column {found:?} in a table of poses{}", nearest.map_or_else(String::new, |near| format!("; did you mean {near}?")))]
    UnknownColumn {
        /// The heading.
        found: String,
        /// The nearest that is known, if one is near.
        nearest: Option<&'static str>,
    },
    /// Two columns give the same travel, or the same steering.
    #[error("the columns {first} and {second} give the same thing")]
    SameTwice {
        /// The one.
        first: String,
        /// The other.
        second: String,
    },
    /// A row has more cells than there are headings.
    #[error("the row has {cells} cells, but there are {columns} columns")]
    RowTooLong {
        /// How many cells the row has.
        cells: usize,
        /// How many headings there are.
        columns: usize,
    },
    /// A row has no number for a column.
    #[error("the row has no {column}")]
    NoCell {
        /// The heading.
        column: String,
    },
    /// A cell is written with a decimal comma.
    #[error("{column} is {found:?}, with a decimal comma")]
    DecimalComma {
        /// The heading.
        column: String,
        /// The cell.
        found: String,
    },
    /// A cell is not a finite number.
    #[error("{column} is {found:?}, not a number")]
    NotANumber {
        /// The heading.
        column: String,
        /// The cell.
        found: String,
    },
}

impl PoseFault {
    /// What to do about it, in a sentence.
    #[must_use]
    pub fn hint(&self) -> &'static str {
        match self {
            PoseFault::Empty => {
                "the first line names the columns, such as left_travel_mm,right_travel_mm,rack_mm"
            }
            PoseFault::NoRows => "write a pose a line under the headings",
            PoseFault::UnknownColumn { .. } => {
                "the columns are travel_mm, left_travel_mm, right_travel_mm, front_travel_mm, rear_travel_mm, \
                 front_left_travel_mm and so on, rack_mm (or _in for inches), pitman_deg, steering_wheel_deg"
            }
            PoseFault::SameTwice { .. } => "take one of the two out",
            PoseFault::RowTooLong { .. } => {
                "look for a decimal comma: numbers are written with a point, and columns stand between commas, \
                 semicolons or tabs"
            }
            PoseFault::NoCell { .. } => "give every pose a number in every column",
            PoseFault::DecimalComma { .. } => "write numbers with a decimal point",
            PoseFault::NotANumber { .. } => "write a plain number",
        }
    }
}
