//! Options of `evenfall catch`.

use super::page::FolderArguments;
use clap::{Args, ValueEnum};
use evenfall_scenario::options::{self as keys, start};
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(crate) struct CatchArguments {
    /// Catch-can files (CSV, layout below), or folders of them
    #[arg(required = true)]
    pub(crate) files: Vec<PathBuf>,
    /// Overlap the tests at this outlet spacing across the field, such as "60 ft"
    #[arg(long, value_name = "LENGTH")]
    pub(crate) outlet_spacing: Option<String>,
    /// Sprinkler spacing along the pipe, such as "40 ft" (not needed for a test of a whole lateral)
    #[arg(long, value_name = "LENGTH", requires = "outlet_spacing")]
    pub(crate) sprinkler_spacing: Option<String>,
    /// Numbers of equally spaced stops to try, separated by commas [default: 1,2,3,4]
    #[arg(long, value_name = "N", requires = "outlet_spacing", conflicts_with = "shift", value_delimiter = ',',
          value_parser = keys::equal_stops)]
    pub(crate) stops: Vec<u16>,
    /// A stop of your own rotation, "ACROSS" or "ACROSS, ALONG"; repeat it for each stop
    #[arg(long, requires = "outlet_spacing", allow_hyphen_values = true)]
    pub(crate) shift: Vec<String>,
    /// Fit the leg, and in wind K1, to tests of one sprinkler
    #[arg(long)]
    pub(crate) fit: bool,
    /// Still-air radius of the leg, with --fit [default: the file's, or out to the farthest wet can]
    #[arg(long, value_name = "LENGTH", requires = "fit")]
    pub(crate) radius: Option<String>,
    /// K2 of the drag correction, held fixed in the fit
    #[arg(long, value_name = "SHARE", default_value = start::K2, requires = "fit")]
    pub(crate) k2: String,
    /// Spread by turbulence, held fixed in the fit
    #[arg(long, value_name = "SHARE", default_value = start::TURBULENCE, requires = "fit")]
    pub(crate) turbulence: String,
    /// Distance over which the jet holds together, held fixed in the fit
    #[arg(long, value_name = "LENGTH", default_value = start::JET_LENGTH, requires = "fit")]
    pub(crate) jet_length: String,
    /// Scenario (JSON) to compare with: its pass in the wind you noted, and its rotations
    #[arg(long, value_name = "FILE")]
    pub(crate) scenario: Option<PathBuf>,
    /// Number of the alternative to simulate, from 1
    #[arg(long, value_name = "N", default_value_t = 1, requires = "scenario", value_parser = keys::alternative)]
    pub(crate) alternative: u16,
    /// Narrow the doubts about the scenario's sprinkler by the tests, all of them together
    #[arg(long, requires = "scenario", conflicts_with = "fit")]
    pub(crate) calibrate: bool,
    /// Write the scenario with what the tests leave as a new file, beside the scenario
    #[arg(long, value_name = "FILE", requires = "calibrate")]
    pub(crate) calibrated: Option<PathBuf>,
    /// Coefficient of variation of a can's reading [default: 5 %, or what the cans show if that is more]
    #[arg(long, value_name = "SHARE", requires = "calibrate")]
    pub(crate) can_error: Option<String>,
    /// Confidence level of the intervals
    #[arg(long, value_name = "SHARE", default_value = start::CONFIDENCE_LEVEL)]
    pub(crate) confidence_level: String,
    /// Units of the results [default: those of the first file]
    #[arg(long, value_enum)]
    pub(crate) units: Option<UnitsName>,
    #[command(flatten)]
    pub(crate) folder: FolderArguments,
}

/// Units of the results.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(crate) enum UnitsName {
    /// ft, in, mph
    Us,
    /// m, mm, m/s
    Si,
}

impl From<UnitsName> for evenfall_view::UnitSystem {
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
        "A catch-can file is a plain table with one can in each row and the units in the column names:

    # test: lateral
    # duration: 90 min
    # laterals at: 0 ft, 60 ft
    # wind: 15 min, 4 mph, 270 deg
    x_ft,y_ft,depth_in
    5,5,0.42
    15,5,0.38

x runs along the pipe, y across it. Readings: depth_in, depth_mm, depth_cm, volume_ml, volume_cm3,
volume_l, volume_floz. A leg has distance_ft (or _m) instead of x and y, and azimuth_deg if there are
several radii. A matrix has y_ft/x_ft (or _m) in its first cell, x along the top, y down the side.

Notes go above the table, one to a line, as `# key: value`. test and duration are required:
{}",
        keys.join("\n")
    )
}
