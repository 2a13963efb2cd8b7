//! Poses side by side.
//!
//! A number of every pose stands in a column, a lane for each pose. Loops over the lanes call the same
//! formulas that one pose uses, so every lane branches for itself and gets the same bits; the compiler
//! takes two or four lanes at a time where the formula has no branch.

use fearless_simd::{Level, dispatch};
use nalgebra::Vector3;
use std::sync::LazyLock;

/// How many poses stand side by side.
pub(crate) const LANES: usize = 16;

/// One number of every pose.
pub(crate) type Lanes = [f64; LANES];

/// A vector of every pose.
#[derive(Clone, Copy, Debug)]
#[repr(align(64))]
pub(crate) struct Vectors(pub [Lanes; 3]);

impl Vectors {
    /// Zero in every lane.
    pub const ZERO: Vectors = Vectors([[0.0; LANES]; 3]);

    /// The vector in a lane.
    #[inline(always)]
    pub fn at(&self, lane: usize) -> Vector3<f64> {
        Vector3::new(self.0[0][lane], self.0[1][lane], self.0[2][lane])
    }

    /// Puts a vector in a lane.
    #[inline(always)]
    pub fn set(&mut self, lane: usize, v: &Vector3<f64>) {
        self.0[0][lane] = v.x;
        self.0[1][lane] = v.y;
        self.0[2][lane] = v.z;
    }
}

/// Work that is compiled once for every processor, and once more for those that take four lanes at a
/// time; both give the same bits.
pub(crate) trait Wide {
    /// What comes of it.
    type Result;
    /// Does it. To be inlined, or the second compilation does not reach it.
    fn work(self) -> Self::Result;
}

/// Does the work with the widest lanes this processor has.
pub(crate) fn wide<W: Wide>(work: W) -> W::Result {
    static LEVEL: LazyLock<Level> = LazyLock::new(Level::new);
    dispatch!(*LEVEL, _simd => work.work())
}
