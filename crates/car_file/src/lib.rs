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

mod brackets;
mod causes;
mod companions;
mod convert;
mod corner_words;
mod correspond;
mod difference;
mod document;
mod edit;
mod error;
mod failure;
mod fields;
mod item;
mod left_over;
mod limits;
mod limits_file;
mod limits_of_fit;
mod nearest;
mod new_car;
mod new_comments;
mod on_disk;
mod place;
mod pose_fault;
mod poses;
mod proposal;
mod read;
mod read_alignment;
mod read_axis;
mod read_axle;
mod read_brackets;
mod read_corner;
mod read_joints;
mod read_loads;
mod read_points;
mod read_radii;
mod read_springing;
mod read_steering;
mod save;
mod save_target;
mod schema;
mod staging;
mod stand_in;
mod syntax;
mod system_words;
mod table;
mod table_error;
mod table_names;
mod table_proposal;
mod table_text;
mod table_units;
mod text_file;
mod tree;
mod whole;
mod why;
mod words;
mod write;
mod write_corner;
mod write_loads;
mod write_proposal;

pub use brackets::{BracketsFile, load_brackets, parse_brackets};
pub use causes::causes;
pub use companions::{Companions, kind_of_name, kind_of_text};
pub use convert::{Axes, AxesFault, Direction};
pub use document::{Document, Loaded, load, parse, unusual_beside_faults};
pub use error::{Fault, Problem};
pub use failure::{LoadError, SaveError};
pub use limits::{load_limits, parse_limits};
pub use limits_file::{LimitsFile, same_limits};
pub use nearest::nearest;
pub use new_car::{FILL_IN, NewCar, NewSpringing, NewSteering};
pub use on_disk::{FileSnapshot, put, put_all, put_new};
pub use place::Place;
pub use pose_fault::PoseFault;
pub use poses::{PoseColumn, PoseQuantity, PoseTable, parse_poses};
pub use proposal::{ProposalFile, load_proposal, parse_proposal, proposal_file_name};
pub use read::FileKind;
pub use save::{save, save_new};
pub use schema::schema;
pub use system_words::system_words;
pub use table::{Imported, SetPoint, TableOptions, UnknownName, import_points, points_table};
pub use table_error::TableFault;
pub use table_names::TablePoint;
pub use table_proposal::{PointsProposal, propose_points};
pub use wheelpath_geometry::Assembly;
pub use words::linkage_words;

/// What `format` says in every car file.
pub const FORMAT: &str = "wheelpath car";
/// The version of the file format that is read and written.
pub const VERSION: u32 = 1;
