//! What can be wrong with a file, where, and what to do about it.

pub(crate) mod causes;
pub(crate) mod failure;
pub(crate) mod pose_fault;
pub(crate) mod problem;
pub(crate) mod system_words;
pub(crate) mod table_fault;
