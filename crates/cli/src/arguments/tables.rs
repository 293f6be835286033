//! Options of the commands that print a table.

use super::wheels::WheelArguments;
use clap::{Args, ValueEnum};
use evenfall_scenario::options::{self as keys, start};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(crate) struct PressureArguments {
    /// Scenario file (JSON) [default: the built-in demo]
    pub(crate) scenario: Option<PathBuf>,
    /// Also draw them into this new file, .svg or .png
    #[arg(long, value_name = "FILE")]
    pub(crate) picture: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct ClockArguments {
    /// Scenario file (JSON) [default: the built-in demo]
    pub(crate) scenario: Option<PathBuf>,
    /// List every set, not just every pass
    #[arg(long)]
    pub(crate) sets: bool,
    /// Print every set as JSON, in SI units
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
pub(crate) struct StopsArguments {
    /// Scenario file (JSON); with wheels given, these at its outlets [default: the built-in demo]
    pub(crate) scenario: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) wheels: WheelArguments,
    /// Outlet spacing along the mainline, such as "60 ft"
    #[arg(long, value_name = "LENGTH")]
    pub(crate) outlet_spacing: Option<String>,
    /// How far the hose or swing joint reaches from the outlet, such as "25 ft"
    #[arg(long, value_name = "LENGTH")]
    pub(crate) reach: Option<String>,
    /// Number of outlets in a pass
    #[arg(long, value_name = "N", default_value_t = 22, value_parser = keys::outlets)]
    pub(crate) outlets: u16,
    /// Tilt that the levelers can still take up
    #[arg(long, value_name = "ANGLE", default_value = start::LEVELER_RANGE)]
    pub(crate) leveler_range: String,
    /// Print it as JSON, in SI units
    #[arg(long)]
    pub(crate) json: bool,
}

#[derive(Debug, Args)]
pub(crate) struct OverlapArguments {
    /// How the rate falls off along the radius
    #[arg(long, value_enum)]
    pub(crate) shape: ShapeName,
    /// Wetted diameter, such as "90 ft"
    #[arg(long, value_name = "LENGTH")]
    pub(crate) wetted_diameter: String,
    /// Sprinkler spacing along the pipe
    #[arg(long, value_name = "LENGTH", default_value = "40 ft")]
    pub(crate) sprinkler_spacing: String,
    /// Outlet spacing across the field
    #[arg(long, value_name = "LENGTH", default_value = "60 ft")]
    pub(crate) outlet_spacing: String,
    /// Cells between two sprinklers: more cells, closer figures
    #[arg(long, value_name = "N", default_value_t = 90, value_parser = keys::cells)]
    pub(crate) cells: u16,
}

/// Ideal shapes of a pattern.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum ShapeName {
    /// 1 − s, with s = distance / radius
    Triangular,
    /// √(1 − s²)
    Elliptical,
    /// 1 − s²
    Parabolic,
    /// the same everywhere
    Uniform,
}
