//! The proposals that are made on a car before anything is asked of it.

use crate::before_after::BeforeAfter;
use crate::beside_car::{Proposed, combined};
use crate::console::failure::Failure;
use crate::console::streams::Console;
use clap::Args;
use std::path::{Path, PathBuf};
use wheelpath_geometry::CarSolver;
use wheelpath_project::LoadedCar;

#[derive(Debug, Args)]
pub(crate) struct ProposalArguments {
    /// Proposals to make, one after the other as one: names of files in the folder beside the car that has
    /// its name, or paths of files; may be repeated
    #[arg(long, value_name = "PROPOSAL,…")]
    proposal: Vec<PathBuf>,
}

impl ProposalArguments {
    /// The words, each for one proposal.
    pub fn words(&self) -> Vec<PathBuf> {
        self.proposal.iter().flat_map(|word| parted(word)).collect()
    }

    /// The car, and the car with the proposals made, where any are named.
    pub fn cars(
        &self,
        at_hand: &LoadedCar,
        solver: CarSolver,
        io: &mut Console,
    ) -> Result<BeforeAfter<Proposed>, Failure> {
        let after = combined(at_hand, &self.words(), io)?;
        let car = at_hand.loaded.car.clone();
        Ok(BeforeAfter { before: Proposed { name: car.name.clone(), car, solver }, after })
    }
}

/// Words between commas, unless a file has the whole for its name.
fn parted(word: &Path) -> Vec<PathBuf> {
    match word.to_str() {
        Some(text) if text.contains(',') && !word.exists() => {
            text.split(',').map(|name| PathBuf::from(name.trim())).collect()
        }
        _ => vec![word.to_owned()],
    }
}
