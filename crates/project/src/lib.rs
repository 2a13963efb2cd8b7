//! A car on disk and what stands beside it: the demo cars inside the executable, limits, brackets and proposals
//! in the car's folder, what each file held when it was read, unsaved changes that outlive a killed program,
//! which windows work on a car, and files opened lately.
//!
//! Formats are `wheelpath-car-file`'s; whoever wants a car from a path, a window or a command line, takes it here.

mod companion_folder;
mod companions;
mod conflict;
mod demo;
mod file_versions;
mod loaded_car;
mod recents;
mod state_folder;
mod unsaved;
mod window_lock;

pub use companion_folder::CompanionFolder;
pub use companions::{
    BRACKETS, Companions, LIMITS, ListedProposal, WithSnapshot, brackets, limits, proposal, proposal_names,
    proposals_in, read_with_snapshot,
};
pub use conflict::{Answer, Conflict, FileRole, PutRefusal, ago, put_seen};
pub use demo::{ALDER, demo_car_words, demo_cars};
pub use file_versions::{ChangedFile, FileVersions, real_place};
pub use loaded_car::{LoadedCar, OtherMeaning, demo_car, what_was_meant};
pub use recents::{Recent, Recents};
pub use state_folder::state_folder;
pub use unsaved::{UnsavedChanges, free_path};
pub use window_lock::{OtherWindow, WindowLock, other_windows};
