//! What can be wrong with a point table.

use wheelpath_geometry::Assembly;

/// What is wrong with a point table.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
#[non_exhaustive]
pub enum TableFault {
    /// No line but comments.
    #[error("the table is empty")]
    Empty,
    /// A column is not there.
    #[error("the table has no column {column}; it has {}", found.join(", "))]
    NoColumn {
        /// `name`, `x`, `y` or `z`.
        column: &'static str,
        /// The columns there are.
        found: Vec<String>,
    },
    /// A column is there twice.
    #[error("the table has two columns {column}")]
    TwoColumns {
        /// `name`, `corner`, `x`, `y` or `z`.
        column: &'static str,
    },
    /// Nobody says what the numbers are counted in.
    #[error("nothing says whether the table is in millimetres or inches")]
    NoUnits,
    /// Two say it, and differ.
    #[error("the table's units are {first} in one place and {second} in another")]
    UnitsDiffer {
        /// The one.
        first: &'static str,
        /// The other.
        second: &'static str,
    },
    /// The table's axes are not those asked for.
    #[error("the table says its axes are {in_table}, but it was to be read with {asked}")]
    AxesDiffer {
        /// What a comment in the table says.
        in_table: String,
        /// What was asked for.
        asked: String,
    },
    /// A comment about units or axes that cannot be understood.
    #[error("cannot tell the {what} from {found:?}")]
    UnclearComment {
        /// `units` or `axes`.
        what: &'static str,
        /// What it says.
        found: String,
    },
    /// A row ends before its numbers.
    #[error("{name} has no {column}")]
    NoCell {
        /// The point.
        name: String,
        /// `x`, `y` or `z`.
        column: &'static str,
    },
    /// A row has more cells than the first line names: its numbers may stand in the wrong columns.
    #[error(
        "{name}: the row has {cells} cells where the first line names {columns} columns: its numbers may stand in \
         the wrong ones"
    )]
    TooManyCells {
        /// The point.
        name: String,
        /// How many cells the row has.
        cells: usize,
        /// How many columns the first line names.
        columns: usize,
    },
    /// A cell that should be a number.
    #[error("{name}: {column} is {found:?}, not a number")]
    NotANumber {
        /// The point.
        name: String,
        /// `x`, `y` or `z`.
        column: &'static str,
        /// The cell.
        found: String,
    },
    /// A number whose comma may be a decimal comma or one between thousands.
    #[error("{name}: {column} is {found:?}: the comma may be a decimal comma, or stand between thousands")]
    UnclearComma {
        /// The point.
        name: String,
        /// `x`, `y` or `z`.
        column: &'static str,
        /// The cell.
        found: String,
    },
    /// A point of no corner.
    #[error("nothing says to which corner {name} belongs")]
    NoCorner {
        /// The point.
        name: String,
    },
    /// A point of the axle as a whole, but of no axle.
    #[error("nothing says to which axle {name} belongs")]
    NoAxle {
        /// The point.
        name: String,
    },
    /// A corner that is none.
    #[error("{found:?} is no corner")]
    UnknownCorner {
        /// What the cell says.
        found: String,
    },
    /// A point given twice, at two places.
    #[error("{assembly} {name} is given twice, at two places; before in line {line}")]
    GivenTwice {
        /// Whose it is.
        assembly: Assembly,
        /// The point.
        name: &'static str,
        /// Where before.
        line: usize,
    },
    /// A row of a proposal that names no point.
    #[error("{found:?} is no point{}", nearest.map_or_else(String::new, |near| format!("; did you mean {near}?")))]
    NoPoint {
        /// The name.
        found: String,
        /// The key of the nearest point, if one is near.
        nearest: Option<&'static str>,
    },
    /// A row of a proposal for a point that the car does not have.
    #[error("{assembly} has no {name}")]
    NotInCar {
        /// Whose it is.
        assembly: Assembly,
        /// The point.
        name: &'static str,
    },
    /// A table for a proposal that moves nothing.
    #[error("every point of the table stands where the car has it")]
    NothingMoves,
    /// Most points are as many times nearer to the origin or further from it as one unit is of another.
    #[error("{odd} of the {all} points stand {factor} times {way} the origin than in the car: {question}")]
    OtherUnits {
        /// How many do.
        odd: usize,
        /// How many are in the table and in the car.
        all: usize,
        /// 25.4, 1000 or 10, in words.
        factor: &'static str,
        /// `nearer to` or `further from`.
        way: &'static str,
        /// What is probably the matter.
        question: &'static str,
    },
    /// The rows cannot be taken apart.
    #[error("the table cannot be read from here on")]
    Row,
}

impl TableFault {
    /// What to do about it, in a sentence.
    #[must_use]
    pub fn hint(&self) -> &'static str {
        match self {
            TableFault::Empty => "the first line names the columns: name, x, y, z",
            TableFault::NoColumn { .. } => {
                "the first line names the columns name, x, y and z, in any order, between commas, semicolons or \
                 tabs"
            }
            TableFault::TwoColumns { .. } => "rename the one that is not meant",
            TableFault::NoUnits => {
                "name the columns x_mm, y_mm, z_mm (or x_in ...), or say the units when importing"
            }
            TableFault::UnitsDiffer { .. } => "let the columns, the comment and the import agree",
            TableFault::AxesDiffer { .. } => "take the comment out, or import with the axes it says",
            TableFault::UnclearComment { .. } => {
                "write `# units: mm` or `# units: in`, and `# axes: x forward, y left, z up` (right-handed)"
            }
            TableFault::NoCell { .. } => "give the row its three numbers",
            TableFault::TooManyCells { .. } => {
                "write decimal points instead of decimal commas, or separate the columns by semicolons; put \
                 quotation marks around a name with a comma in it"
            }
            TableFault::NotANumber { .. } => "write a plain number",
            TableFault::UnclearComma { .. } => {
                "write a decimal point and nothing between thousands, or separate the columns by semicolons"
            }
            TableFault::NoCorner { .. } => {
                "add a column corner with words like front left, put them before the name, or choose the corner \
                 when importing"
            }
            TableFault::NoAxle { .. } => {
                "put front or rear before the name or in a column corner, or choose the axle when importing"
            }
            TableFault::UnknownCorner { .. } => "write front left, front right, rear left or rear right",
            TableFault::GivenTwice { .. } => "delete the row that is not meant",
            TableFault::NoPoint { .. } => {
                "correct the name or delete the row; `wheelpath points` lists the names"
            }
            TableFault::NotInCar { .. } => {
                "delete the row; a proposal moves points that are there, and adds none"
            }
            TableFault::NothingMoves => {
                "look at the units and axes, and whether this is the table that was changed"
            }
            TableFault::OtherUnits { .. } => {
                "say the units that the numbers are counted in: name the columns x_mm, y_mm, z_mm (or x_in ...), or say \
                 them when importing; centimetres and metres are to be turned into millimetres first"
            }
            TableFault::Row => "look for a quotation mark that is not closed",
        }
    }
}
