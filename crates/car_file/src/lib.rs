//! Car files and point tables: read without half-loading, written without losing anything.
//!
//! A car file is RON text in declared units and axes. [`load`] gives a whole car or every fault with
//! its line and column; [`save`] changes only the numbers that changed, keeps comments, and replaces
//! the old file in one step or not at all. A proposal ([`load_proposal`], [`ProposalFile::save_new`]) stands beside
//! its car and is a list of changes; so do limits ([`LimitsFile`]) and brackets ([`BracketsFile`]). [`put`]
//! writes any of them, and only over what was [`FileSnapshot`] there, [`put_new`] only where nothing is; [`put_all`]
//! writes several at once.
//! [`import_points`] takes a point table as CAD exports it, [`propose_points`] makes a proposal of one.
//!
//! ```text
//! (format: "wheelpath car", version: 1, name: "...", units: Millimetre,
//!  axes: (x: Forward, y: Left, z: Up), design_pose: "...", wheelbase: 2650.0,
//!  front: (linkage: DoubleWishbone, steering: Rack(...), brakes: Outboard, drive: None,
//!          left: (wheel: (...), hardpoints: (...), ...), right: Mirrored), rear: (...))
//! ```

mod companion;
mod disk;
mod fault;
mod read;
mod schema;
mod table;
mod text;
mod write;

pub use companion::brackets::{BracketsFile, load_brackets, parse_brackets};

pub use companion::limits_file::{LimitsFile, load_limits, parse_limits, same_limits};
pub use companion::names::{kind_of_name, kind_of_text};
pub use companion::proposal::{ProposalFile, load_proposal, parse_proposal, proposal_file_name};
pub use disk::replace::{put, put_all, put_new};
pub use disk::save_target::target_of;
pub use fault::causes::causes;
pub use fault::failure::{LoadError, SaveError};
pub use fault::pose_fault::PoseFault;
pub use fault::problem::{Fault, Problem};
pub use fault::system_words::system_words;
pub use fault::table_fault::TableFault;
pub use read::document::{Document, Loaded, load, parse, unusual_beside_faults};
pub use read::words::linkage_words;
pub use schema::schema;
pub use table::points::{Imported, SetPoint, TableOptions, UnknownName, import_points, points_table};
pub use table::points_proposal::{PointsProposal, propose_points};
pub use table::poses::{PoseColumn, PoseQuantity, PoseTable, parse_poses};
pub use text::file_kind::FileKind;
pub use text::file_snapshot::FileSnapshot;
pub use text::fill_in::FILL_IN;
pub use text::nearest::nearest;
pub use text::open_elsewhere::{move_file, take_file_away};
pub use text::place::Place;
pub use text::point_names::TablePoint;
pub use text::units_and_axes::{Axes, AxesFault, Direction};
pub use wheelpath_geometry::Assembly;
pub use write::new_car::{NewCar, NewSpringing, NewSteering};
pub use write::save::{save, save_new};

/// What `format` says in every car file.
pub const FORMAT: &str = "wheelpath car";
/// The version of the file format that is read and written.
pub const VERSION: u32 = 1;
