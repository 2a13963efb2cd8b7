//! The words of `attitude`, `cornering` and `turn`.

use crate::arguments::proposal::ProposalArguments;
use crate::arguments::subcommands::{Output, ToeArguments};
use crate::console::pose::{finite, travels};
use crate::console::steer::SteerArguments;
use clap::Args;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(crate) struct AttitudeArguments {
    /// Car file
    pub car: PathBuf,
    #[command(flatten)]
    pub proposal: ProposalArguments,
    /// Ride-height change at the front axle, + body higher [default: 0]
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = finite, conflicts_with_all = ["rise_mm", "pitch_deg", "travel_mm"])]
    pub front_mm: Option<f64>,
    /// Ride-height change at the rear axle, + body higher [default: 0]
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = finite, conflicts_with_all = ["rise_mm", "pitch_deg", "travel_mm"])]
    pub rear_mm: Option<f64>,
    /// Ride-height change midway between the axles, with --pitch-deg in place of the two axles' own
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = finite, conflicts_with = "travel_mm")]
    pub rise_mm: Option<f64>,
    /// Pitch of the body, + nose down
    #[arg(long, value_name = "DEG", allow_negative_numbers = true, value_parser = finite, conflicts_with = "travel_mm")]
    pub pitch_deg: Option<f64>,
    /// Roll of the body, + left side up: what a left turn does
    #[arg(long, value_name = "DEG", allow_negative_numbers = true, value_parser = finite, conflicts_with = "travel_mm")]
    pub roll_deg: Option<f64>,
    /// Wheels held at these travels, + bump, and the car laid down on them: one number for all, or such
    /// as front=10,rear_left=-5
    #[arg(long, value_name = "MM", allow_negative_numbers = true, value_parser = travels)]
    pub travel_mm: Option<[f64; 4]>,
    #[command(flatten)]
    pub steer: SteerArguments,
    #[command(flatten)]
    pub output: Output,
    #[command(flatten)]
    pub toe: ToeArguments,
}

/// An angle of a road that a car can stand on.
fn banking(word: &str) -> Result<f64, String> {
    finite(word).and_then(|degrees| {
        if degrees.abs() < 45.0 {
            Ok(degrees)
        } else {
            Err(format!("{word} is not between -45 and 45 degrees"))
        }
    })
}

#[derive(Debug, Args)]
pub(crate) struct CorneringArguments {
    /// Car file
    pub car: PathBuf,
    #[command(flatten)]
    pub proposal: ProposalArguments,
    /// Lateral acceleration in g, + in a left turn: horizontal, speed squared over radius
    #[arg(long, value_name = "G", allow_negative_numbers = true, value_parser = finite)]
    pub lateral_g: f64,
    /// Banking of the road, + lowers the inside of a left turn
    #[arg(long, value_name = "DEG", allow_negative_numbers = true, value_parser = banking, default_value = "0")]
    pub banking_deg: f64,
    /// Longitudinal acceleration in g, + gaining speed
    #[arg(long, value_name = "G", allow_negative_numbers = true, value_parser = finite, default_value = "0")]
    pub longitudinal_g: f64,
    /// Roll per g lateral, + outward; with any of these four nothing is estimated, and one left out is 0
    #[arg(long, value_name = "DEG/G", allow_negative_numbers = true, value_parser = finite)]
    pub roll_gradient_deg_per_g: Option<f64>,
    /// Pitch per g longitudinal about the middle of the wheelbase, + nose down: − on a car that dives
    /// in braking
    #[arg(long, value_name = "DEG/G", allow_negative_numbers = true, value_parser = finite, conflicts_with_all = ["front_gradient_mm_per_g", "rear_gradient_mm_per_g"])]
    pub pitch_gradient_deg_per_g: Option<f64>,
    /// Ride-height change at the front axle per g longitudinal, + body higher
    #[arg(long, value_name = "MM/G", allow_negative_numbers = true, value_parser = finite)]
    pub front_gradient_mm_per_g: Option<f64>,
    /// Ride-height change at the rear axle per g longitudinal, + body higher
    #[arg(long, value_name = "MM/G", allow_negative_numbers = true, value_parser = finite)]
    pub rear_gradient_mm_per_g: Option<f64>,
    #[command(flatten)]
    pub steer: SteerArguments,
    #[command(flatten)]
    pub output: Output,
    #[command(flatten)]
    pub toe: ToeArguments,
}

#[derive(Debug, Args)]
pub(crate) struct TurnArguments {
    /// Car file
    pub car: PathBuf,
    #[command(flatten)]
    pub proposal: ProposalArguments,
    // Without a word on steering: both full locks.
    #[command(flatten)]
    pub steer: SteerArguments,
    #[command(flatten)]
    pub output: Output,
}
