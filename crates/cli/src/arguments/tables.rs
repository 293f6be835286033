//! Words of the commands that print a table.

use clap::{Args, ValueEnum};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(crate) struct PressureArguments {
    /// Scenario file (JSON); without it, the embedded demo
    pub(crate) scenario: Option<PathBuf>,
    /// Draw them into this new file as well: .svg or .png
    #[arg(long, value_name = "FILE")]
    pub(crate) picture: Option<PathBuf>,
}

#[derive(Debug, Args)]
pub(crate) struct ClockArguments {
    /// Scenario file (JSON); without it, the embedded demo
    pub(crate) scenario: Option<PathBuf>,
    /// List every set, not only every pass
    #[arg(long)]
    pub(crate) sets: bool,
}

#[derive(Debug, Args)]
pub(crate) struct StopsArguments {
    /// Scenario file (JSON); without it and without --travel, the embedded demo
    #[arg(conflicts_with_all = ["travel", "diameter"])]
    pub(crate) scenario: Option<PathBuf>,
    /// Distance the wheel rolls in one turn, measured, such as "20 ft"
    #[arg(long, conflicts_with = "diameter", requires = "spacing", requires = "reach")]
    pub(crate) travel: Option<String>,
    /// Or its outside diameter, such as "76 in"
    #[arg(long, requires = "spacing", requires = "reach")]
    pub(crate) diameter: Option<String>,
    /// Part of a turn lost to sinking in, with --diameter
    #[arg(long, default_value = "0 %", requires = "diameter")]
    pub(crate) sinkage: String,
    /// Distance between outlets, such as "60 ft"
    #[arg(long)]
    pub(crate) spacing: Option<String>,
    /// Reach of the hose or swing joint from the outlet, such as "25 ft"
    #[arg(long)]
    pub(crate) reach: Option<String>,
    /// Number of outlets of a pass
    #[arg(long, default_value_t = 22, value_parser = clap::value_parser!(u16).range(1..=2000))]
    pub(crate) outlets: u16,
    /// Tilt that the levelers still take up
    #[arg(long, default_value = "15 deg")]
    pub(crate) levelers: String,
}

#[derive(Debug, Args)]
pub(crate) struct OverlapArguments {
    /// Shape of the pattern along its radius
    #[arg(long, value_enum)]
    pub(crate) shape: ShapeName,
    /// Wetted diameter, such as "90 ft"
    #[arg(long)]
    pub(crate) diameter: String,
    /// Distance between sprinklers along the pipe
    #[arg(long, default_value = "40 ft")]
    pub(crate) along: String,
    /// Distance between outlets across the field
    #[arg(long, default_value = "60 ft")]
    pub(crate) across: String,
    /// Cells between two sprinklers along the pipe: the finer, the closer
    #[arg(long, default_value_t = 90, value_parser = clap::value_parser!(u16).range(4..=400))]
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
