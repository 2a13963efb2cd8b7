//! What a panel works with: what it owns, and what all share.

use crate::panels::state::shared::Shared;
use std::ops::{Deref, DerefMut};

/// The state that a panel owns, with what all panels share, which is read and written as its own fields.
pub(in crate::panels) struct Panel<'a, Own> {
    /// What no other panel touches.
    pub(in crate::panels) own: &'a mut Own,
    shared: &'a mut Shared,
}

impl<'a, Own> Panel<'a, Own> {
    pub(in crate::panels) fn new(own: &'a mut Own, shared: &'a mut Shared) -> Self {
        Panel { own, shared }
    }
}

impl<Own> Deref for Panel<'_, Own> {
    type Target = Shared;

    fn deref(&self) -> &Shared {
        self.shared
    }
}

impl<Own> DerefMut for Panel<'_, Own> {
    fn deref_mut(&mut self) -> &mut Shared {
        self.shared
    }
}
