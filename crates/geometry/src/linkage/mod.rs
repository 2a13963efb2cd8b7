//! The kinds of linkage: which bodies, which constraints. One file a kind.

pub(crate) mod double_wishbone;
