//! Weighing what is changed: limits, whether it fits, before and after, sheets.

pub(in crate::panels) mod compare_table;
pub(in crate::panels) mod decide_state;
pub(in crate::panels) mod fit;
pub(in crate::panels) mod fit_choice;
pub(in crate::panels) mod fit_draft;
pub(in crate::panels) mod fit_limit;
pub(in crate::panels) mod limit_draft;
pub(in crate::panels) mod limit_rows;
pub(in crate::panels) mod other_files;
pub(in crate::panels) mod outcome;
pub(in crate::panels) mod sheets;
pub(in crate::panels) mod verdict_list;
