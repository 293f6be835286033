//! Words of the commands beside the season: edges, tilt, sheet, care.

use super::page::PageArguments;
use clap::Args;
use evenfall_figures::LONGEST_ALARM_MIN;
use std::path::PathBuf;

#[derive(Debug, Args)]
pub(crate) struct EdgesArguments {
    #[command(flatten)]
    pub(crate) page: PageArguments,
    /// Name of the alternative [default: the first that shifts across the field]
    #[arg(long, value_name = "NAME")]
    pub(crate) alternative: Option<String>,
    /// Seasons of weather, where the wind is drawn
    #[arg(long, value_name = "N", default_value_t = 5, value_parser = clap::value_parser!(u16).range(1..=200))]
    pub(crate) seasons: u16,
    /// Try the first outlet at this place too, such as "20 ft"; may be given again
    #[arg(long, value_name = "LENGTH")]
    pub(crate) first: Vec<String>,
}

#[derive(Debug, Args)]
pub(crate) struct TiltArguments {
    #[command(flatten)]
    pub(crate) page: PageArguments,
    /// Name of the alternative [default: the first that shifts across the field]
    #[arg(long, value_name = "NAME")]
    pub(crate) alternative: Option<String>,
    /// Outside diameter of the pipe (default: common practice, no source)
    #[arg(long, value_name = "LENGTH", default_value = "4 in")]
    pub(crate) pipe: String,
    /// Nozzle above the top of the pipe when upright (default: common practice, no source)
    #[arg(long, value_name = "LENGTH", default_value = "8 in")]
    pub(crate) riser: String,
}

#[derive(Debug, Args)]
pub(crate) struct SheetArguments {
    #[command(flatten)]
    pub(crate) page: PageArguments,
    /// Name of the alternative that is run; not needed where there is only one
    #[arg(long, value_name = "NAME")]
    pub(crate) alternative: Option<String>,
    /// What really happened so far (JSON); a `log.json` to begin with lies beside every sheet
    #[arg(long, value_name = "FILE")]
    pub(crate) log: Option<PathBuf>,
    /// A reminder so many minutes before each set in the calendar
    #[arg(long, value_name = "MINUTES", value_parser = clap::value_parser!(u32).range(0..=i64::from(LONGEST_ALARM_MIN)))]
    pub(crate) alarm: Option<u32>,
}

#[derive(Debug, Args)]
pub(crate) struct MaintenanceArguments {
    /// Scenario file (JSON); without it, the embedded demo
    pub(crate) scenario: Option<PathBuf>,
    /// Name of the alternative whose machine is meant [default: the first]
    #[arg(long, value_name = "NAME")]
    pub(crate) alternative: Option<String>,
}
