//! Words of the command on catch tests.

use super::page::FolderArguments;
use clap::{Args, ValueEnum};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(crate) struct CatchArguments {
    /// Catch-can files (CSV, layout below), or folders of them
    #[arg(required = true)]
    pub(crate) files: Vec<PathBuf>,
    /// Lay tests over themselves: distance between outlets across the field, such as "60 ft"
    #[arg(long)]
    pub(crate) across: Option<String>,
    /// Distance between sprinklers along the pipe, such as "40 ft" (not for a test of a lateral)
    #[arg(long, requires = "across")]
    pub(crate) along: Option<String>,
    /// Numbers of equally spaced stops, with commas [default: 1,2,3,4]
    #[arg(long, requires = "across", conflicts_with = "shift", value_delimiter = ',',
          value_parser = clap::value_parser!(u16).range(1..=100))]
    pub(crate) stops: Vec<u16>,
    /// A stop of a rotation of one's own: "ACROSS" or "ACROSS, ALONG"; once for each stop
    #[arg(long, requires = "across", allow_hyphen_values = true)]
    pub(crate) shift: Vec<String>,
    /// Fit the leg, and in wind K1, to tests of one sprinkler
    #[arg(long)]
    pub(crate) fit: bool,
    /// Still-air radius of the leg, with --fit [default: the file's, or from the farthest wet can]
    #[arg(long, requires = "fit")]
    pub(crate) radius: Option<String>,
    /// K2 of the drag correction, told and not fitted
    #[arg(long, default_value = "20 %", requires = "fit")]
    pub(crate) k2: String,
    /// Spread by turbulence, told and not fitted
    #[arg(long, default_value = "10 %", requires = "fit")]
    pub(crate) turbulence: String,
    /// Scenario (JSON): its pass is simulated under the wind noted, its rotations are laid down
    #[arg(long, value_name = "FILE")]
    pub(crate) scenario: Option<PathBuf>,
    /// Which of its alternatives is simulated, from 1
    #[arg(long, default_value_t = 1, requires = "scenario", value_parser = clap::value_parser!(u16).range(1..))]
    pub(crate) alternative: u16,
    /// Rate at which limits are to hold the truth
    #[arg(long, default_value = "90 %")]
    pub(crate) level: String,
    /// Units to show [default: those of the first file]
    #[arg(long, value_enum)]
    pub(crate) units: Option<UnitsName>,
    #[command(flatten)]
    pub(crate) folder: FolderArguments,
}

/// Units in which results are shown.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum UnitsName {
    /// ft, in, mph
    Us,
    /// m, mm, m/s
    Si,
}

impl From<UnitsName> for evenfall_figures::UnitSystem {
    fn from(name: UnitsName) -> Self {
        match name {
            UnitsName::Us => Self::Us,
            UnitsName::Si => Self::Si,
        }
    }
}

/// How a catch-can file is laid out, for the help.
pub(super) fn catch_layout() -> String {
    let keys = evenfall_scenario::catch::keys();
    let keys: Vec<String> = keys.iter().map(|(key, what)| format!("    {key}: {what}")).collect();
    format!(
        "Catch-can files are plain tables whose columns name their units; a can a row:

    # test: lateral
    # duration: 90 min
    # laterals at: 0 ft, 60 ft
    # wind: 15 min, 4 mph, 270 deg
    x_ft,y_ft,depth_in
    5,5,0.42
    15,5,0.38

x runs along the pipe, y across it. Readings: depth_in, depth_mm, depth_cm, volume_ml, volume_cm3,
volume_l, volume_floz. A leg has distance_ft (or _m) in place of x and y, and azimuth_deg where there
are several radii. A matrix has y_ft/x_ft (or _m) in its first cell, x along the top, y down the side.

Notes stand in lines `# key: value` above the table; test and duration are needed:
{}",
        keys.join("\n")
    )
}
