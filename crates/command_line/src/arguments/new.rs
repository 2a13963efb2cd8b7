//! The words of `new`.

use crate::console::vocabulary::{anti_roll_bar, axes, length_unit, linkage, new_springing, new_steering};
use clap::Args;
use std::path::PathBuf;
use wheelpath_car_file::{Axes, NewSpringing, NewSteering};
use wheelpath_geometry::{BarKind, LengthUnit, LinkageKind};

#[derive(Debug, Args)]
pub(crate) struct NewArguments {
    /// Car file to write; one that is there is never replaced
    pub file: PathBuf,
    /// Front linkage
    #[arg(long, value_name = "LINKAGE", value_parser = linkage())]
    pub front: LinkageKind,
    /// Rear linkage
    #[arg(long, value_name = "LINKAGE", value_parser = linkage())]
    pub rear: Option<LinkageKind>,
    /// A single corner of the front axle, without a rear axle
    #[arg(long, conflicts_with = "rear")]
    pub bench: bool,
    /// Unit of the file's lengths [default: mm]
    #[arg(long, value_parser = length_unit())]
    pub units: Option<LengthUnit>,
    /// Which way the file's axes point [default: x=forward,y=left,z=up]
    #[arg(long, value_name = "x=…,y=…,z=…", value_parser = axes)]
    pub axes: Option<Axes>,
    /// What steers the front axle [default: a rack, or a steering box for a beam axle with king pins; none where its linkage is not steered]
    #[arg(long, value_parser = new_steering())]
    pub steering: Option<NewSteering>,
    /// How the dampers are worked: by pushrod (or pullrod) and rocker, directly, by the strut itself, or
    /// none [default: strut for a strut, else direct]
    #[arg(long, value_parser = new_springing())]
    pub springing: Option<NewSpringing>,
    /// Anti-roll bars, front and rear
    #[arg(long, value_parser = anti_roll_bar())]
    pub anti_roll_bar: Option<BarKind>,
    /// The car's name [default: the file's]
    #[arg(long, value_name = "WORDS")]
    pub name: Option<String>,
}
