//! Which number of an axle is changed, for derivatives to it.

use crate::car::hardpoint::Link;
use crate::car::parameter::{Parameter, ScalarParameter};
use crate::car::position::Side;
use crate::linkage::links::Links;

/// Whose number is changed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Whose {
    Side(Side),
    Axle,
}

/// A number that is changed, and what becomes of the links at a point that is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Changed {
    pub whose: Whose,
    pub parameter: ScalarParameter,
    pub links: Links,
}

impl Changed {
    /// The length of a link of the axle as a whole.
    pub fn length_of_axle(link: Link) -> Self {
        Changed {
            whose: Whose::Axle,
            parameter: ScalarParameter::Number(Parameter::Length(link)),
            links: Links::Remade,
        }
    }

    /// The number of that side's corner, if it is one of it.
    pub fn on(&self, side: Side) -> Option<(ScalarParameter, Links)> {
        (self.whose == Whose::Side(side)).then_some((self.parameter, self.links))
    }
}
