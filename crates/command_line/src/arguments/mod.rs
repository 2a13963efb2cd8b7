//! The words of the command line, as they are parsed.

pub(crate) mod new;
pub(crate) mod on_road;
pub(crate) mod points;
pub(crate) mod proposal;
pub(crate) mod subcommands;
pub(crate) mod sweep;
